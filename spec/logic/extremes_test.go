package logic

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// The corners are those of the hull of all valid choices, listed, and each is the
// sums of the choice it names.
func TestExtremes(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 1))
		p, adds := drawn(r, 1+r.IntN(7), r.IntN(8)), map[string][2]float64{}
		for _, o := range p.Options {
			if r.IntN(8) > 0 { // often alike, in a row, or against one another
				adds[o] = [2]float64{float64(r.IntN(7) - 2), float64(r.IntN(9) - 4)}
			}
		}
		fixed := map[string]bool{}
		for _, o := range p.Options {
			if r.IntN(5) == 0 {
				fixed[o] = r.IntN(2) == 0
			}
		}
		sums := func(chosen []string) (s [2]float64) {
			for _, o := range chosen {
				s[0], s[1] = s[0]+adds[o][0], s[1]+adds[o][1]
			}
			return s
		}
		var all [][2]float64
		for bits := range 1 << len(p.Options) {
			chosen, agrees := []string{}, true
			for i, o := range p.Options {
				if bits>>i&1 == 1 {
					chosen = append(chosen, o)
				}
				if is, met := fixed[o]; met && is != (bits>>i&1 == 1) {
					agrees = false
				}
			}
			if agrees && p.Violations(chosen) == nil {
				all = append(all, sums(chosen))
			}
		}
		corners, whole := p.Extremes(adds, fixed, CountSteps)
		if !whole {
			t.Fatalf("seed %d: not whole", seed)
		}
		var got [][2]float64
		for _, c := range corners {
			got = append(got, c.Sums)
			if s := sums(c.Chosen); s != c.Sums || p.Violations(c.Chosen) != nil {
				t.Errorf("seed %d: %v has sums %v, said to be %v; rules broken: %v", seed, c.Chosen, s, c.Sums, p.Violations(c.Chosen))
			}
			for o, is := range fixed {
				if is != slices.Contains(c.Chosen, o) {
					t.Errorf("seed %d: %v does not agree with %v", seed, c.Chosen, fixed)
				}
			}
		}
		want := cornersOf(all)
		slices.SortFunc(got, order)
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("seed %d: corners %v, listing gives %v", seed, got, want)
		}
	}
}

func order(a, b [2]float64) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }

// cornersOf keeps the points that lie in no triangle and on no stretch of others.
func cornersOf(all [][2]float64) (corners [][2]float64) {
	slices.SortFunc(all, order)
	all = slices.Compact(all)
	cross := func(a, b, p [2]float64) float64 { return (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]) }
	for _, p := range all {
		inside := false
		for _, a := range all {
			for _, b := range all {
				if a == p || b == p || a == b {
					continue
				}
				if cross(a, b, p) == 0 && (order(a, p) < 0) != (order(b, p) < 0) {
					inside = true
				}
				for _, c := range all {
					if c != p && cross(a, b, p) > 0 && cross(b, c, p) > 0 && cross(c, a, p) > 0 {
						inside = true
					}
				}
			}
		}
		if !inside {
			corners = append(corners, p)
		}
	}
	return corners
}

// drawn is a problem with rules of all kinds drawn at random.
func drawn(r *rand.Rand, options, rules int) (p Problem) {
	for i := range options {
		p.Options = append(p.Options, fmt.Sprintf("o%d", i))
	}
	for range rules {
		some := []string{}
		for range 1 + r.IntN(3) {
			some = append(some, p.Options[r.IntN(options)])
		}
		some = distinct(some)
		kind := []RuleKind{Requires, Excludes, AtMostOne, ExactlyOne}[min(3, r.IntN(10)/3)]
		rule := Rule{Kind: kind, Objects: some}
		if kind == Requires || kind == Excludes {
			rule.Subject = p.Options[r.IntN(options)]
		}
		p.Rules = append(p.Rules, rule)
	}
	return p
}

func BenchmarkExtremes(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	p, adds := drawn(r, 60, 0), map[string][2]float64{}
	for len(p.Rules) < 200 {
		q := drawn(r, 60, 1)
		if q.Rules[0].Kind != ExactlyOne && len(q.Rules[0].Objects) > 1 {
			p.Rules = append(p.Rules, q.Rules...)
		}
	}
	for _, o := range p.Options {
		w := float64(5 + r.IntN(200))
		adds[o] = [2]float64{w, w * float64(20+r.IntN(250))}
	}
	for b.Loop() {
		corners, whole := p.Extremes(adds, nil, CountSteps)
		b.Log(p.Count(CountSteps), len(corners), whole)
	}
}
