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
	if c.recent == nil || len(c.recent) >= c.Most { // drop the results not used recently
		c.recent, c.earlier = make(map[Digest]func() R), c.recent
	}
	c.recent[of] = kept
	return kept
}
