package parallel

import (
	"slices"
	"sync"
)

// Asked is a question and its answer.
type Asked[Q, A comparable] struct {
	Question Q
	Answer   A
}

// Kept keeps, for each key, results with all that was asked while they were made: a result is found again where every
// question has the same answer. Results are shared and must not be modified. A Kept is safe for concurrent use.
type Kept[K, Q, A comparable, R any] struct {
	Most int // results kept for a key, the latest

	mu    sync.Mutex
	byKey map[K][]kept[Q, A, R]
}

type kept[Q, A comparable, R any] struct {
	asked  []Asked[Q, A]
	result R
}

// Find returns a result whose questions have the answers that ask gives.
func (k *Kept[K, Q, A, R]) Find(key K, ask func(Q) A) (result R, found bool) {
	k.mu.Lock()
	list := k.byKey[key] // never modified
	k.mu.Unlock()
	for _, one := range list {
		if !slices.ContainsFunc(one.asked, func(a Asked[Q, A]) bool { return ask(a.Question) != a.Answer }) {
			return one.result, true
		}
	}
	return result, false
}

// Keep adds a result with what was asked while it was made.
func (k *Kept[K, Q, A, R]) Keep(key K, asked []Asked[Q, A], result R) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.byKey == nil {
		k.byKey = map[K][]kept[Q, A, R]{}
	}
	before := k.byKey[key]
	k.byKey[key] = append([]kept[Q, A, R]{{asked, result}}, before[:min(len(before), k.Most-1)]...)
}
