package parallel

import (
	"slices"
	"sync"
)

// Kept keeps, for each key, results with all that was asked of a unit while they were made: a result is found again for a
// unit where every question has the same answer. Results are shared and must not be modified. A Kept is safe for concurrent use.
type Kept[K, Q, A comparable, R any] struct {
	Most int // results kept for a key, the latest

	mu        sync.Mutex
	byKey     map[K][]kept[A, R]
	numbers   map[Q]int
	questions []Q // by number
	rooms     Spare[[]answered[A]]
}

type kept[A comparable, R any] struct {
	asked  []asked[A]
	result R
}

// asked is the number of a question with an answer.
type asked[A comparable] struct {
	question int
	answer   A
}

// Answers answers questions about one unit. It is not safe for concurrent use.
type Answers[Q, A comparable] struct {
	Answer func(Q) (answer A, lasting bool) // a lasting answer is asked for once

	questions []Q           // that have numbers
	known     []answered[A] // by number
	asked     []asked[A]    // since Note began
	rounds    int32
}

type answered[A comparable] struct {
	answer  A
	lasting bool
	round   int32 // in which the question was noted last
}

func (a *Answers[Q, A]) ask(n int) A {
	known := &a.known[n]
	if known.lasting {
		return known.answer
	}
	answer, lasting := a.Answer(a.questions[n])
	known.answer, known.lasting = answer, lasting
	return answer
}

// Find returns a result whose questions have the answers of a unit.
func (k *Kept[K, Q, A, R]) Find(key K, of *Answers[Q, A]) (result R, found bool) {
	k.mu.Lock()
	list := k.byKey[key] // never modified
	k.catchUp(of)
	k.mu.Unlock()
	for _, one := range list {
		if !slices.ContainsFunc(one.asked, func(a asked[A]) bool { return of.ask(a.question) != a.answer }) {
			return one.result, true
		}
	}
	return result, false
}

// catchUp makes room for the answers to questions that others have asked.
func (k *Kept[K, Q, A, R]) catchUp(of *Answers[Q, A]) {
	if of.questions = k.questions; of.known == nil {
		of.known = k.rooms.Get()
	}
	of.known = append(of.known, make([]answered[A], len(k.questions)-len(of.known))...)
}

// Release ends the answers about a unit: the next one takes the room they had.
func (k *Kept[K, Q, A, R]) Release(of *Answers[Q, A]) {
	clear(of.known)
	k.rooms.Put(of.known[:0])
	of.known, of.questions = nil, nil
}

// Note notes a question about a unit for the next result that is kept.
func (k *Kept[K, Q, A, R]) Note(q Q, of *Answers[Q, A]) {
	k.mu.Lock()
	n, known := k.numbers[q]
	if !known {
		if n = len(k.questions); n == 0 {
			k.numbers = map[Q]int{}
		}
		k.numbers[q], k.questions = n, append(k.questions, q)
	}
	k.catchUp(of)
	k.mu.Unlock()
	if answer := of.ask(n); of.known[n].round != of.rounds {
		of.known[n].round = of.rounds
		of.asked = append(of.asked, asked[A]{n, answer})
	}
}

// Begin forgets what was noted about a unit.
func (a *Answers[Q, A]) Begin() { a.rounds, a.asked = a.rounds+1, nil }

// Keep adds a result with what was noted about a unit while it was made.
func (k *Kept[K, Q, A, R]) Keep(key K, of *Answers[Q, A], result R) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.byKey == nil {
		k.byKey = map[K][]kept[A, R]{}
	}
	before := k.byKey[key]
	k.byKey[key] = append([]kept[A, R]{{of.asked, result}}, before[:min(len(before), k.Most-1)]...)
}
