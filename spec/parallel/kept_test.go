package parallel

import (
	"strconv"
	"testing"
)

// unitOf answers from a map; how often each question was answered is counted.
func unitOf(answers map[string]int, passing string) (of *Answers[string, int], count map[string]int) {
	count = map[string]int{}
	return &Answers[string, int]{Answer: func(q string) (int, bool) { count[q]++; return answers[q], q != passing }}, count
}

func TestKeptIsFoundByItsAnswers(t *testing.T) {
	k := Kept[string, string, int, string]{Most: 2}
	keep := func(of *Answers[string, int], result string, questions ...string) {
		of.Begin()
		for _, q := range questions {
			k.Note(q, of)
		}
		k.Keep("key", of, result)
	}
	find := func(a, b int) string {
		of, _ := unitOf(map[string]int{"a": a, "b": b}, "")
		got, _ := k.Find("key", of)
		return got
	}
	first, _ := unitOf(map[string]int{"a": 1, "b": 1}, "")
	keep(first, "first", "a", "a")
	if find(1, 2) != "first" {
		t.Error("what was not asked made a difference")
	}
	if find(2, 2) != "" {
		t.Error("another answer made no difference")
	}
	second, _ := unitOf(map[string]int{"a": 2, "b": 2}, "")
	keep(second, "second", "a", "b")
	if find(2, 2) != "second" {
		t.Error("the second result is not found")
	}
	if find(2, 3) != "" {
		t.Error("the last of several answers made no difference")
	}
	if _, found := k.Find("other", first); found {
		t.Error("a result is found by another key")
	}
}

// A lasting answer is asked for once; one that passes each time.
func TestQuestionsAreAnsweredOnce(t *testing.T) {
	k := Kept[string, string, int, string]{Most: 2}
	now := map[string]int{"a": 1, "passing": 1}
	of, count := unitOf(now, "passing")
	for _, key := range []string{"one", "two"} {
		of.Begin()
		k.Note("a", of)
		k.Note("passing", of)
		k.Keep(key, of, key)
	}
	if got, _ := k.Find("two", of); got != "two" || count["a"] != 1 {
		t.Errorf("found %q; asked %d times", got, count["a"])
	}
	if now["passing"] = 2; count["passing"] < 3 {
		t.Errorf("what passes was asked %d times", count["passing"])
	}
	if _, found := k.Find("one", of); found {
		t.Error("found by an answer that has passed")
	}
}

// However many results a key has, the latest are kept, and no more than Most.
func TestKeptIsBounded(t *testing.T) {
	k := Kept[string, string, int, string]{Most: 3}
	for n := range 100 {
		of, _ := unitOf(map[string]int{"n": n}, "")
		of.Begin()
		k.Note("n", of)
		k.Keep("key", of, strconv.Itoa(n))
	}
	for n := range 100 {
		of, _ := unitOf(map[string]int{"n": n}, "")
		got, found := k.Find("key", of)
		if found != (n >= 97) || found && got != strconv.Itoa(n) {
			t.Errorf("%d: %q, %v", n, got, found)
		}
	}
}
