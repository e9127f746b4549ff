package parallel

import "sync"

// Spare keeps what takes much memory, to be used again. Unlike a sync.Pool it is not emptied when the
// collector runs, which in a batch is several times for each unit. A Spare is safe for concurrent use.
type Spare[T any] struct {
	New  func() T // nil where the zero value is a new one
	Each int      // how many are kept for each processor; one if it is not set

	mu   sync.Mutex
	list []T
}

// Get returns one that was put back, or a new one.
func (s *Spare[T]) Get() (t T) {
	s.mu.Lock()
	defer s.mu.Unlock()
	last := len(s.list) - 1
	switch {
	case last >= 0:
		t = s.list[last]
		s.list = s.list[:last]
	case s.New != nil:
		t = s.New()
	}
	return t
}

// Put puts one back.
func (s *Spare[T]) Put(t T) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.list) < max(s.Each, 1)*Processors {
		s.list = append(s.list, t)
	}
}
