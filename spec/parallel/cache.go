package parallel

import (
	"crypto/sha256"
	"sync"
)

// Digest is the SHA-256 of everything that a result depends on, used as a cache key.
type Digest = [sha256.Size]byte

// Cache caches results by digest, so that what the units of a run have in common is computed once. Results are shared
// and must not be modified. A Cache is safe for concurrent use; concurrent requests for the same result compute it once.
type Cache[R any] struct {
	Most int // minimum number of results kept; at most twice as many are

	mu              sync.Mutex
	recent, earlier map[Digest]func() R
}

// Get returns the result for a digest. It calls make if the result is not cached.
func (c *Cache[R]) Get(of Digest, make func() R) R {
	return c.once(of, make)()
}

// Find returns the result for a digest, if it is cached.
func (c *Cache[R]) Find(of Digest) (result R, found bool) {
	if kept := c.once(of, nil); kept != nil {
		return kept(), true
	}
	return result, false
}

// once returns what is cached or, if there is a result, caches that.
func (c *Cache[R]) once(of Digest, result func() R) func() R {
	c.mu.Lock()
	defer c.mu.Unlock()
	if kept := c.recent[of]; kept != nil {
		return kept
	}
	kept := c.earlier[of]
	switch {
	case kept != nil:
	case result == nil:
		return nil
	default:
		kept = sync.OnceValue(result)
	}
	if c.recent == nil || len(c.recent) >= c.Most { // drop the results not used recently
		c.recent, c.earlier = make(map[Digest]func() R), c.recent
	}
	c.recent[of] = kept
	return kept
}
