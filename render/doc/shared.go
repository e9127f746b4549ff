package doc

import "sync"

// shared is what readers have worked out of a block that the documents of several units share.
type shared struct {
	of      Block // a copy of the block is not shared
	mu      sync.Mutex
	results []any // each of its own type
}

// Share declares that a block will never be modified, because the documents of several units contain it.
func Share(n Block) { n.Attr().shared = &shared{of: n} }

// IsShared reports whether a block is shared.
func IsShared(n Block) bool { s := n.Attr().shared; return s != nil && s.of == n }

// Once returns the result of work on a block. For a shared one the work is hardly ever done twice: its result may
// depend on nothing but the block and the type of the result, and must not be modified.
func Once[R any](n Block, work func() R) R {
	if !IsShared(n) {
		return work()
	}
	s := n.Attr().shared
	if result, done := find[R](s); done {
		return result
	}
	result := work() // which may ask for other results of the block
	s.mu.Lock()
	defer s.mu.Unlock()
	s.results = append(s.results, result)
	return result
}

func find[R any](s *shared) (result R, done bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, one := range s.results {
		if result, done = one.(R); done {
			return result, true
		}
	}
	return result, false
}
