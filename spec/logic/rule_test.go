package logic

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ownerguide/spec/source"
)

// A trailer's deck in the words of the product line: exactly one deck, a lock
// needs a power tilt, a winch plate needs a front box, a winch needs the plate.
func deck() Problem {
	return Problem{
		Options: []string{"power-tilt", "fixed-deck", "front-box", "winch-plate", "winch", "deck-lock", "headache-rack"},
		Rules: []Rule{
			{Because: "one-deck", Kind: ExactlyOne, Objects: []string{"power-tilt", "fixed-deck"}},
			{Because: "lock-needs-tilt", Kind: Requires, Subject: "deck-lock", Objects: []string{"power-tilt"}},
			{Because: "plate-needs-box", Kind: Requires, Subject: "winch-plate", Objects: []string{"front-box"}},
			{Because: "winch-needs-plate", Kind: Requires, Subject: "winch", Objects: []string{"winch-plate"}},
			{Because: "rack-without-winch", Kind: Excludes, Subject: "headache-rack", Objects: []string{"winch", "winch-plate"}},
		},
	}
}

func TestViolations(t *testing.T) {
	tests := []struct{ chosen, want string }{
		{"power-tilt", ""},
		{"winch winch-plate front-box power-tilt deck-lock", ""},
		{"", "one-deck:"},
		{"power-tilt fixed-deck", "one-deck:power-tilt+fixed-deck"},
		{"fixed-deck fixed-deck", ""},
		{"fixed-deck deck-lock", "lock-needs-tilt:deck-lock"},
		{"winch fixed-deck", "winch-needs-plate:winch"},
		{"winch-plate winch headache-rack",
			"one-deck: plate-needs-box:winch-plate rack-without-winch:headache-rack+winch+winch-plate"},
		{"power-tilt not-offered", ""},
	}
	for _, tt := range tests {
		t.Run(tt.chosen, func(t *testing.T) {
			var got []string
			for _, v := range deck().Violations(strings.Fields(tt.chosen)) {
				got = append(got, v.Rule.Because+":"+strings.Join(v.Chosen, "+"))
			}
			if strings.Join(got, " ") != tt.want {
				t.Errorf("got %v, want %s", got, tt.want)
			}
		})
	}
}

// A rule left without a kind would otherwise let every build through.
func TestRuleWithoutKindIsBroken(t *testing.T) {
	p := Problem{Options: []string{"a"}, Rules: []Rule{{Because: "none", Objects: []string{"a"}}}}
	if len(p.Violations(nil)) != 1 || len(p.Violations([]string{"a"})) != 1 {
		t.Error("a rule without a kind is passed over")
	}
	if p.Count(CountSteps).String() != "0" || mends(p, nil, 3) != nil {
		t.Errorf("count %s, mends %v", p.Count(CountSteps), mends(p, nil, 3))
	}
}

func TestRulesNamingTheirOwnSubject(t *testing.T) {
	p := Problem{Options: []string{"a"}, Rules: []Rule{{Kind: Requires, Subject: "a", Objects: []string{"a"}}}}
	if p.Violations([]string{"a"}) != nil || p.Count(CountSteps).String() != "2" {
		t.Error("an option that requires itself cannot be ordered")
	}
	p.Rules[0].Kind = Excludes
	v := p.Violations([]string{"a"})
	if len(v) != 1 || !slices.Equal(v[0].Chosen, []string{"a"}) || p.Count(CountSteps).String() != "1" {
		t.Errorf("an option that excludes itself: %v, count %s", v, p.Count(CountSteps))
	}
}

func TestMends(t *testing.T) {
	tests := []struct{ chosen, want string }{
		{"power-tilt", ""},
		{"", "+power-tilt; +fixed-deck"},
		{"power-tilt fixed-deck", "-power-tilt; -fixed-deck"},
		{"fixed-deck winch-plate", "+front-box; -winch-plate"},
		// The swap of decks is one step and keeps the lock; dropping the lock is the other.
		{"fixed-deck deck-lock", "-deck-lock; +power-tilt-fixed-deck"},
		{"fixed-deck winch", "-winch"},
		{"power-tilt winch-plate headache-rack", "-winch-plate"},
		{"fixed-deck headache-rack front-box winch-plate winch", "-headache-rack"},
	}
	for _, tt := range tests {
		t.Run(tt.chosen, func(t *testing.T) {
			var got []string
			for _, c := range mends(deck(), strings.Fields(tt.chosen), 3) {
				got = append(got, spell(c))
			}
			if strings.Join(got, "; ") != tt.want {
				t.Errorf("got %s, want %s", strings.Join(got, "; "), tt.want)
			}
		})
	}
}

func spell(c source.Mend) string {
	var b strings.Builder
	for _, name := range c.Add {
		b.WriteString("+" + name)
	}
	for _, name := range c.Remove {
		b.WriteString("-" + name)
	}
	return b.String()
}

func TestMendsStopsAtMost(t *testing.T) {
	p := Problem{Options: names(9), Rules: []Rule{{Kind: ExactlyOne, Objects: names(9)}}}
	for most, want := range map[int]int{-1: 0, 0: 0, 1: 1, 3: 3, 9: 9, 20: 9} {
		if got := len(mends(p, nil, most)); got != want {
			t.Errorf("at most %d: got %d, want %d", most, got, want)
		}
	}
}

// mends are those of a search that need not stop.
func mends(p Problem, chosen []string, most int) []source.Mend {
	found, _ := p.Mends(chosen, most)
	return found
}

// The rule lists its members backwards; the line's order must decide.
func TestMendsFollowTheLine(t *testing.T) {
	p := Problem{Options: []string{"c", "a", "b"}, Rules: []Rule{{Kind: ExactlyOne, Objects: []string{"b", "a", "c"}}}}
	want := []source.Mend{{Add: []string{"c"}}, {Add: []string{"a"}}, {Add: []string{"b"}}}
	if got := mends(p, nil, 3); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	want = []source.Mend{{Remove: []string{"c"}}, {Remove: []string{"b"}}}
	if got := mends(p, []string{"b", "c"}, 3); !reflect.DeepEqual(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

// An option taken off the line can be taken out of a choice, not put into it.
func TestMendsNeverAddWhatIsNotOffered(t *testing.T) {
	p := Problem{Options: []string{"winch"}, Rules: []Rule{{Kind: Requires, Subject: "winch", Objects: []string{"old-plate"}},
		{Kind: Excludes, Subject: "old-plate", Objects: []string{"winch"}}}}
	for _, ordered := range [][]string{{"winch"}, {"old-plate", "winch"}} {
		if got := mends(p, ordered, 3); !reflect.DeepEqual(got, []source.Mend{{Remove: []string{"winch"}}}) {
			t.Errorf("mends of %v: %v, want winch removed", ordered, got)
		}
	}
}

// Each of n options needs a partner of its own: n steps mend, no fewer.
func TestMendsDepth(t *testing.T) {
	for n := 1; n <= 8; n++ {
		p := Problem{Options: names(2 * n)}
		for i := range n {
			p.Rules = append(p.Rules, Rule{Kind: Requires, Subject: p.Options[i], Objects: []string{p.Options[n+i]}})
		}
		got := mends(p, p.Options[:n], 1)
		if n > 6 {
			if got != nil {
				t.Errorf("%d steps: got %v, want none beyond 6", n, got)
			}
			continue
		}
		if len(got) != 1 || !slices.Equal(got[0].Add, p.Options[n:]) || got[0].Remove != nil {
			t.Errorf("%d steps: got %v, want all partners added", n, got)
		}
	}
}

// Six groups of forty, none chosen: every mend takes six steps and there are
// forty to the sixth. The bound on changes tried must end the search.
func TestMendsIsBounded(t *testing.T) {
	p := Problem{Options: names(240)}
	for i := range 6 {
		p.Rules = append(p.Rules, Rule{Kind: ExactlyOne, Objects: p.Options[40*i : 40*i+40]})
	}
	start := time.Now()
	if got := mends(p, nil, 3); got != nil {
		t.Errorf("got %v", got)
	}
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("took %v", took)
	}
}

// problems draws small problems with everything that can go wrong in a rule:
// options that are not offered, an option as its own object, repeats, empty lists.
// Most rules are kept by one hidden choice, so that most problems can
// be mended.
func problems(t *rapid.T, most int) Problem {
	p := Problem{Options: names(rapid.IntRange(0, most).Draw(t, "options"))}
	hidden := map[string]bool{}
	for _, name := range p.Options {
		hidden[name] = rapid.Bool().Draw(t, "hidden")
	}
	named := rapid.SampledFrom(append(slices.Clone(p.Options), "not-offered"))
	for range rapid.IntRange(0, 2*most).Draw(t, "rules") {
		r := Rule{Kind: rapid.SampledFrom([]RuleKind{Requires, Excludes, ExactlyOne, AtMostOne}).Draw(t, "kind")}
		if r.Kind == Requires || r.Kind == Excludes {
			r.Subject = named.Draw(t, "subject")
		}
		r.Objects = rapid.SliceOfN(named, 0, 4).Draw(t, "objects")
		if keeps(r, hidden) || rapid.IntRange(0, 3).Draw(t, "contrary") == 3 && len(p.Rules) > 0 {
			p.Rules = append(p.Rules, r)
		}
	}
	return p
}

func names(n int) []string {
	all := make([]string, n)
	for i := range all {
		all[i] = fmt.Sprintf("o%03d", i)
	}
	return all
}

// keeps says in the words of the rule kinds, and not through clauses or counts
// of objects, whether a choice keeps a rule.
func keeps(r Rule, choice map[string]bool) bool {
	any, two := false, false
	for _, a := range r.Objects {
		any = any || choice[a]
		for _, b := range r.Objects {
			two = two || a != b && choice[a] && choice[b]
		}
	}
	switch r.Kind {
	case Requires:
		return any || !choice[r.Subject]
	case Excludes:
		return !any || !choice[r.Subject]
	case ExactlyOne:
		return any && !two
	default:
		return !two
	}
}

func keepsAll(p Problem, choice map[string]bool) bool {
	return !slices.ContainsFunc(p.Rules, func(r Rule) bool { return !keeps(r, choice) })
}

// choices calls f with every set of names, in the order Each promises.
func choices(names []string, f func(choice map[string]bool)) {
	for bits := range 1 << len(names) {
		choice := map[string]bool{}
		for i, name := range names {
			if bits>>(len(names)-1-i)&1 == 1 {
				choice[name] = true
			}
		}
		f(choice)
	}
}

func TestViolationsAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 6)
		choices(append(slices.Clone(p.Options), "not-offered"), func(choice map[string]bool) {
			broken := map[int]bool{}
			for _, v := range p.Violations(listed(choice)) {
				i := slices.IndexFunc(p.Rules, func(r Rule) bool { return reflect.DeepEqual(r, v.Rule) })
				broken[i] = true
				for _, option := range v.Chosen {
					if !choice[option] {
						t.Fatalf("%v blames %s, which is not chosen", v, option)
					}
				}
			}
			for i, r := range p.Rules {
				first := slices.IndexFunc(p.Rules, func(q Rule) bool { return reflect.DeepEqual(r, q) })
				if keeps(r, choice) == broken[first] {
					t.Fatalf("rule %d with %v: broken %t", i, listed(choice), broken[first])
				}
			}
		})
	})
}

func listed(choice map[string]bool) []string {
	var names []string
	for name := range choice {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

func TestCountAndEachAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 9)
		want := [][]string{}
		choices(p.Options, func(choice map[string]bool) {
			if keepsAll(p, choice) {
				want = append(want, append([]string{}, listed(choice)...))
			}
		})
		if got := p.Count(CountSteps); got.String() != strconv.Itoa(len(want)) {
			t.Fatalf("count %s, want %d", got, len(want))
		}
		got := collect(p, -1)
		if !slices.EqualFunc(got, want, slices.Equal) {
			t.Fatalf("listed %v, want %v", got, want)
		}
		limit := rapid.IntRange(0, len(want)+1).Draw(t, "limit")
		if got := collect(p, limit); !slices.EqualFunc(got, want[:min(limit, len(want))], slices.Equal) {
			t.Fatalf("with limit %d listed %v", limit, got)
		}
	})
}

func collect(p Problem, limit int) [][]string {
	var all [][]string
	p.Each(limit, func(chosen []string) bool {
		all = append(all, chosen)
		return true
	})
	return all
}

func TestEachStopsWhenTold(t *testing.T) {
	calls := 0
	Problem{Options: names(50)}.Each(-1, func([]string) bool { calls++; return calls < 7 })
	if calls != 7 {
		t.Errorf("%d calls, want 7", calls)
	}
}

// The mends are compared with all changes there are: the steps of a change are
// its options less the most swaps that fit into it, found by trying them all.
func TestMendsAgainstBruteForce(t *testing.T) {
	mended := map[int]int{} // by number of options changed
	property := func(t *rapid.T) {
		p := problems(t, 7)
		all := append(slices.Clone(p.Options), "not-offered")
		ordered := map[string]bool{}
		for _, name := range all {
			if rapid.Bool().Draw(t, "ordered") {
				ordered[name] = true
			}
		}
		got := []string{}
		for _, c := range mends(p, listed(ordered), 1000) {
			got = append(got, spell(c))
			mended[len(c.Add)+len(c.Remove)]++
			if v := p.Violations(apply(c, ordered)); v != nil {
				t.Fatalf("%s leaves %v", spell(c), v)
			}
		}
		want := bruteMends(p, ordered, all)
		sorted := slices.Clone(got)
		slices.Sort(sorted)
		if !slices.Equal(sorted, want) {
			t.Fatalf("mends of %v: got %v, want %v", listed(ordered), got, want)
		}
		first := mends(p, listed(ordered), 3)
		if len(first) != min(3, len(got)) {
			t.Fatalf("%d of the first three mends, of %d", len(first), len(got))
		}
		for i, c := range first {
			if spell(c) != got[i] {
				t.Fatalf("the first three are %v, of %v", first, got)
			}
		}
	}
	for range 10 { // one round often draws no mend of three options
		rapid.Check(t, property)
	}
	if mended[1] == 0 || mended[2] == 0 || mended[3] == 0 {
		t.Errorf("too few mends for the test to say anything: %v", mended)
	}
	t.Logf("mends by number of options changed: %v", mended)
}

func apply(c source.Mend, ordered map[string]bool) []string {
	after := map[string]bool{}
	for name := range ordered {
		after[name] = true
	}
	for _, name := range c.Add {
		after[name] = true
	}
	for _, name := range c.Remove {
		delete(after, name)
	}
	return listed(after)
}

func bruteMends(p Problem, ordered map[string]bool, all []string) []string {
	type change struct {
		source.Mend
		steps int
	}
	var valid []change
	fewest := 7 // one more than Mends looks for
	choices(all, func(choice map[string]bool) {
		if !keepsAll(p, choice) || choice["not-offered"] && !ordered["not-offered"] {
			return
		}
		var c change
		for _, name := range all {
			switch {
			case choice[name] && !ordered[name]:
				c.Add = append(c.Add, name)
			case !choice[name] && ordered[name]:
				c.Remove = append(c.Remove, name)
			}
		}
		c.steps = len(c.Add) + len(c.Remove) - mostSwaps(p, c.Add, c.Remove)
		fewest = min(fewest, c.steps)
		valid = append(valid, c)
	})
	found := []string{}
	if fewest == 0 {
		return found
	}
	for _, c := range valid {
		part := slices.ContainsFunc(valid, func(d change) bool {
			return spell(c.Mend) != spell(d.Mend) && within(d.Add, c.Add) && within(d.Remove, c.Remove)
		})
		if c.steps == fewest && !part {
			found = append(found, spell(c.Mend))
		}
	}
	slices.Sort(found)
	return found
}

func within(part, whole []string) bool {
	return !slices.ContainsFunc(part, func(name string) bool { return !slices.Contains(whole, name) })
}

// mostSwaps pairs options to add with options to remove of the same group, each
// once, and returns the most pairs that fit.
func mostSwaps(p Problem, add, remove []string) int {
	if len(add) == 0 {
		return 0
	}
	best := mostSwaps(p, add[1:], remove)
	for i, name := range remove {
		if slices.ContainsFunc(p.Rules, func(r Rule) bool {
			return (r.Kind == ExactlyOne || r.Kind == AtMostOne) &&
				slices.Contains(r.Objects, add[0]) && slices.Contains(r.Objects, name)
		}) {
			best = max(best, 1+mostSwaps(p, add[1:], slices.Concat(remove[:i], remove[i+1:])))
		}
	}
	return best
}

func TestMendsHaveOneOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := problems(t, 8)
		ordered := rapid.SliceOf(rapid.SampledFrom(append(slices.Clone(p.Options), "not-offered"))).Draw(t, "ordered")
		a := mends(p, ordered, 3)
		slices.Reverse(ordered)
		if b := mends(p, ordered, 3); !reflect.DeepEqual(a, b) {
			t.Fatalf("%v, then %v", a, b)
		}
	})
}
