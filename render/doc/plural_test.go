package doc

import (
	"strings"
	"testing"
)

// The rules are those of Unicode CLDR 48 for cardinals, from memory; what each count is was looked up by hand.
func TestPluralRules(t *testing.T) {
	languages := map[string][][2]string{
		"en": {{"one", "n = 1"}},
		"fr": {{"one", "i = 0,1"}},
		"pl": {{"one", "i = 1 and v = 0"}, {"few", "v = 0 and i % 10 = 2..4 and i % 100 != 12..14"}, {"many", "v = 0 and i % 10 = 0..1,5..9 or v = 0 and i % 100 = 12..14"}},
		"ar": {{"zero", "n = 0"}, {"one", "n = 1"}, {"two", "n = 2"}, {"few", "n % 100 = 3..10"}, {"many", "n % 100 = 11..99"}},
	}
	for _, c := range []struct {
		language string
		n        float64
		want     string
	}{
		{"en", 1, "jobs.one"}, {"en", 0, "jobs"}, {"en", 1.5, "jobs"}, {"fr", 0, "jobs.one"}, {"fr", 1.5, "jobs.one"}, {"fr", 2, "jobs"},
		{"pl", 1, "jobs.one"}, {"pl", 22, "jobs.few"}, {"pl", 12, "jobs.many"}, {"pl", 5, "jobs.many"}, {"pl", 1.5, "jobs"}, {"pl", 25, "jobs.many"},
		{"ar", 0, "jobs.zero"}, {"ar", 2, "jobs.two"}, {"ar", 103, "jobs.few"}, {"ar", 12, "jobs.many"}, {"ar", 100, "jobs"},
	} {
		var p Plurals
		for _, rule := range languages[c.language] {
			if err := p.Add(rule[0], rule[1]); err != nil {
				t.Fatal(err)
			}
		}
		if got := p.Key("jobs", c.n, func(string) bool { return true }); got != c.want {
			t.Errorf("%s: %g is %s, expected %s", c.language, c.n, got, c.want)
		}
	}
}

// A rule that says nothing would give one class all counts, or none.
func TestPluralRulesThatAreNone(t *testing.T) {
	for _, c := range [][3]string{
		{"some", "n = 1", "no class"}, {"one", "", "compares nothing"}, {"one", "n = ", "no number"}, {"one", "x = 1", "no operand"},
		{"one", "n % 0 = 1", "no divisor"}, {"one", "n = 4..2", "no number"}, {"few", "n = 1 and", "no number"},
	} {
		var p Plurals
		if err := p.Add(c[0], c[1]); err == nil || !strings.Contains(err.Error(), c[2]) {
			t.Errorf("%s: %q: %v", c[0], c[1], err)
		}
	}
}
