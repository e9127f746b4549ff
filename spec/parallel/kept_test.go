package parallel

import (
	"strconv"
	"testing"
)

func TestKeptIsFoundByItsAnswers(t *testing.T) {
	k := Kept[string, string, int, string]{Most: 2}
	now := map[string]int{"a": 1, "b": 1}
	ask := func(q string) int { return now[q] }
	find := func() string { got, _ := k.Find("key", ask); return got }
	k.Keep("key", []Asked[string, int]{{"a", 1}}, "first")
	if now["b"] = 2; find() != "first" {
		t.Error("what was not asked made a difference")
	}
	if now["a"] = 2; find() != "" {
		t.Error("another answer made no difference")
	}
	k.Keep("key", []Asked[string, int]{{"a", 2}, {"b", 2}}, "second")
	if find() != "second" {
		t.Error("the second result is not found")
	}
	if now["b"] = 3; find() != "" {
		t.Error("the last of several answers made no difference")
	}
	if _, found := k.Find("other", ask); found {
		t.Error("a result is found by another key")
	}
}

// However many results a key has, the latest are kept, and no more than Most.
func TestKeptIsBounded(t *testing.T) {
	k := Kept[string, string, int, string]{Most: 3}
	for n := range 100 {
		k.Keep("key", []Asked[string, int]{{"n", n}}, strconv.Itoa(n))
	}
	for n := range 100 {
		got, found := k.Find("key", func(string) int { return n })
		if found != (n >= 97) || found && got != strconv.Itoa(n) {
			t.Errorf("%d: %q, %v", n, got, found)
		}
	}
}
