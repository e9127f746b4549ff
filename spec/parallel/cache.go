package parallel

import (
	"crypto/sha256"
	"sync"
)

// Digest is the SHA-256 of everything that a result depends on.
type Digest = [sha256.Size]byte

// Cache keeps results by what they are made of, so that what the units of a run have in common is made once. Results belong to
// all who get them: nobody may change one. Goroutines may share a cache; those that ask for the same result make it once.
type Cache[R any] struct {
	Most int // results that are kept at least; twice as many at most

	mu              sync.Mutex
	recent, earlier map[Digest]func() R
}

// Get returns the result for a digest, which is made if it is not kept.
func (c *Cache[R]) Get(of Digest, make func() R) R {
	return c.once(of, make)()
}

func (c *Cache[R]) once(of Digest, result func() R) func() R {
	c.mu.Lock()
	defer c.mu.Unlock()
	if kept := c.recent[of]; kept != nil {
		return kept
	}
	kept := c.earlier[of]
	if kept == nil {
		kept = sync.OnceValue(result)
	}
	if c.recent == nil || len(c.recent) >= c.Most { // those that nobody asked for lately go
		c.recent, c.earlier = make(map[Digest]func() R), c.recent
	}
	c.recent[of] = kept
	return kept
}
