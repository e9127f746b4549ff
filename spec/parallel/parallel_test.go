package parallel

import (
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
)

var errOrdinary = errors.New("ordinary")

func TestInOrder(t *testing.T) {
	items := []int{3, 1, 4, 1, 5, 9, 2, 6}
	for _, workers := range []int{0, 1, 3, 20} {
		var used []int
		InOrder(items, workers, func(n int) (int, error) {
			switch n {
			case 4:
				panic("four")
			case 5:
				return n, errOrdinary
			case 9: // in a goroutine below
				return n, Do(func() error { return nil }, func() error { panic("nine") })
			}
			return n * n, nil
		}, func(n, square int, err error) bool {
			var fell *Panic
			switch {
			case n == 4 || n == 9:
				if !errors.As(err, &fell) || fell.What != map[int]string{4: "four", 9: "nine"}[n] || !strings.Contains(string(fell.Stack), "parallel_test.go") {
					t.Errorf("%d: %v", n, err)
				}
			case n == 5:
				if !errors.Is(err, errOrdinary) {
					t.Errorf("%d: %v", n, err)
				}
			case err != nil || square != n*n:
				t.Errorf("%d: %d, %v", n, square, err)
			}
			used = append(used, n)
			return n != 2
		})
		if !slices.Equal(used, items[:7]) {
			t.Errorf("with %d workers: %v", workers, used)
		}
	}
}

func TestEachDoesTheOthers(t *testing.T) {
	var done atomic.Int64
	err := Guard(func() error {
		Each(50, func(i int) {
			if i == 7 {
				panic("seven")
			}
			done.Add(1)
		})
		return nil
	})
	var fell *Panic
	if !errors.As(err, &fell) || fell.What != "seven" || done.Load() != 49 {
		t.Errorf("%v, %d done", err, done.Load())
	}
}

func TestDo(t *testing.T) {
	if err := Do(func() error { return nil }, func() error { return errOrdinary }); !errors.Is(err, errOrdinary) {
		t.Error(err)
	}
	if err := Do(); err != nil {
		t.Error(err)
	}
}
