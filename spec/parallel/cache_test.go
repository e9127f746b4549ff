package parallel

import (
	"crypto/sha256"
	"sync/atomic"
	"testing"
)

func of(n int) Digest { return sha256.Sum256([]byte{byte(n)}) }

func TestCacheMakesAResultOnce(t *testing.T) {
	c := Cache[int]{Most: 10}
	var made atomic.Int64
	Each(200, func(i int) {
		n := i % 10
		if got := c.Get(of(n), func() int { made.Add(1); return n * n }); got != n*n {
			t.Errorf("%d: %d", n, got)
		}
	})
	if made.Load() != 10 {
		t.Errorf("made %d results; expected 10", made.Load())
	}
}

// What was asked for lately stays, however many others come; of those no more than twice Most are held.
func TestCacheIsBounded(t *testing.T) {
	c := Cache[int]{Most: 3}
	made := map[int]int{}
	get := func(n int) { c.Get(of(n), func() int { made[n]++; return n }) }
	for n := range 100 {
		get(n)
		get(200)
		if held := len(c.recent) + len(c.earlier); held > 2*c.Most {
			t.Fatalf("%d results are held", held)
		}
	}
	if made[200] != 1 {
		t.Errorf("a result that is asked for all the time was made %d times", made[200])
	}
	if get(0); made[0] != 2 {
		t.Error("the first of a hundred results is still held")
	}
}
