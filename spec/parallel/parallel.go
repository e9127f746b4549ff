// Package parallel runs work on several goroutines. A panic in one of them does not end
// the process: it is raised again on the goroutine that waits, which knows what was
// being worked on.
package parallel

import (
	"errors"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"
	"sync/atomic"
)

// Panic is a recovered panic: a bug of this program.
type Panic struct {
	What  any
	Stack []byte // stack of the goroutine that panicked
}

// Error implements error.
func (p *Panic) Error() string { return fmt.Sprintf("internal error: %v", p.What) }

// Guard calls work. If it panics, the error is a [*Panic].
func Guard(work func() error) (err error) {
	defer func() {
		switch what := recover().(type) {
		case nil:
		case *Panic: // raised again by Do or Each
			err = what
		default:
			err = &Panic{what, debug.Stack()}
		}
	}()
	return work()
}

// Do calls each function on its own goroutine and returns their joined errors when all
// are done. It panics with a [*Panic] if one of them panicked.
func Do(work ...func() error) error {
	errs := make([]error, len(work))
	var running sync.WaitGroup
	for i, f := range work {
		running.Go(func() { errs[i] = Guard(f) })
	}
	running.Wait()
	for _, err := range errs {
		if p, ok := err.(*Panic); ok {
			panic(p)
		}
	}
	return errors.Join(errs...)
}

// Each calls work for 0 to n-1 on all processors. It panics with a [*Panic] if a call
// panicked; the other calls are made all the same.
func Each(n int, work func(i int)) {
	var next atomic.Int64
	var failed atomic.Pointer[Panic]
	var running sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		running.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				if p, ok := Guard(func() error { work(i); return nil }).(*Panic); ok {
					failed.CompareAndSwap(nil, p)
				}
			}
		})
	}
	running.Wait()
	if p := failed.Load(); p != nil {
		panic(p)
	}
}

// InOrder calls work on every item with several workers, one for each processor if
// workers is 0, and calls use with the results in the order of the items. Use runs on
// the caller's goroutine; when it returns false no further work is started. Work that
// panics gives a [*Panic] as its error.
func InOrder[T, R any](items []T, workers int, work func(T) (R, error), use func(T, R, error) bool) {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	type outcome struct {
		result R
		err    error
	}
	outcomes := make([]chan outcome, len(items))
	for i := range outcomes {
		outcomes[i] = make(chan outcome, 1)
	}
	stop := make(chan struct{})
	next := make(chan int)
	go func() {
		defer close(next)
		for i := range items {
			select {
			case next <- i:
			case <-stop:
				return
			}
		}
	}()
	var running sync.WaitGroup
	for range min(workers, len(items)) {
		running.Go(func() {
			for i := range next {
				var o outcome
				o.err = Guard(func() (err error) {
					o.result, err = work(items[i])
					return err
				})
				outcomes[i] <- o
			}
		})
	}
	for i, item := range items {
		o := <-outcomes[i]
		if !use(item, o.result, o.err) {
			break
		}
	}
	close(stop)
	running.Wait()
}
