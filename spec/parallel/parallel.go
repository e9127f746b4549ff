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

// Do calls all functions, several at a time while processors are idle, and returns their joined errors when all are
// done. It panics with a [*Panic] if one of them panicked. No function may wait for another one.
func Do(work ...func() error) error {
	errs := make([]error, len(work))
	Each(len(work), func(i int) { errs[i] = work[i]() })
	return errors.Join(errs...)
}

// Processors is how many goroutines are to work at the same time.
var Processors = runtime.GOMAXPROCS(0)

// busy counts the goroutines that work beside the one that began. More of them than processors would only hold more
// memory at once.
var busy atomic.Int64

// claim takes an idle processor, if there is one.
func claim() bool {
	if busy.Add(1) < int64(Processors) {
		return true
	}
	busy.Add(-1)
	return false
}

// Each calls work for 0 to n-1: on the caller's goroutine, and on others while processors are idle. It panics with a
// [*Panic] if a call panicked; the other calls are made all the same. No call may wait for another one.
func Each(n int, work func(i int)) {
	var next atomic.Int64
	var failed atomic.Pointer[Panic]
	var running sync.WaitGroup
	var share func()
	share = func() {
		for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
			if i < n-1 && claim() {
				running.Go(func() {
					share()
					busy.Add(-1)
				})
			}
			if p, ok := Guard(func() error { work(i); return nil }).(*Panic); ok {
				failed.CompareAndSwap(nil, p)
			}
		}
	}
	share()
	busy.Add(-1) // while it waits
	running.Wait()
	busy.Add(1)
	if p := failed.Load(); p != nil {
		panic(p)
	}
}

// InOrder calls work on every item with several workers, one for each processor if
// workers is 0, and calls use with the results in the order of the items. Processors that
// fewer workers leave are left by Do and Each in them too. Use runs on the caller's
// goroutine; when it returns false no further work is started. Work that panics gives a
// [*Panic] as its error.
func InOrder[T, R any](items []T, workers int, work func(T) (R, error), use func(T, R, error) bool) {
	if workers <= 0 {
		workers = Processors
	}
	type outcome struct {
		item   int
		result R
		err    error
	}
	done := make(chan outcome, workers) // so that a worker need not wait while use does
	var next atomic.Int64
	var stop atomic.Bool
	var running sync.WaitGroup
	left := int64(max(0, Processors-workers) - 1) // the caller mostly waits
	busy.Add(left)
	for range min(workers, len(items)) {
		busy.Add(1)
		running.Go(func() {
			defer busy.Add(-1)
			for i := int(next.Add(1)) - 1; i < len(items) && !stop.Load(); i = int(next.Add(1)) - 1 {
				o := outcome{item: i}
				o.err = Guard(func() (err error) {
					o.result, err = work(items[i])
					return err
				})
				done <- o
			}
		})
	}
	go func() {
		running.Wait()
		close(done)
	}()
	early := map[int]outcome{} // before their turn
	turn := 0
	for o := range done {
		early[o.item] = o
		for o, here := early[turn]; here && !stop.Load(); o, here = early[turn] {
			delete(early, turn)
			turn++
			stop.Store(!use(items[o.item], o.result, o.err))
		}
	}
	busy.Add(-left)
}
