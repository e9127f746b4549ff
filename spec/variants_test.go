package spec_test

import (
	"slices"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// What the formulas say of an order is what building it says: for every unit of
// the embedded line that can be ordered, every feature and every part.
func TestVariantsAgainstBuilds(t *testing.T) {
	l, findings := spec.LoadLine(line.Files, "line")
	if l == nil {
		t.Fatal(findings)
	}
	vocabulary, units := spec.Vocabulary(l), 0
	for _, m := range l.Models {
		v := spec.NewVariants(l, m)
		var orders [][]string
		l.Problem(m).Each(-1, func(options []string) bool { orders = append(orders, slices.Clone(options)); return true })
		for _, options := range testenv.Sample(t, orders, 60) {
			s := &sheet.Sheet{Model: given(m.ID)}
			for _, id := range options {
				s.Options = append(s.Options, given(id))
			}
			b, findings := spec.Resolve(l, s)
			if b == nil {
				t.Fatal(findings)
			}
			units++
			is := func(fact string) bool { return slices.Contains(options, fact) }
			for _, feature := range vocabulary {
				if v.Feature(feature).Holds(is) != b.Has(feature) {
					t.Errorf("%s with %v: %s is %t in the build", m.ID, options, feature, b.Has(feature))
				}
			}
			possible := map[string]string{}
			for _, p := range v.Parts() {
				if p.When.Holds(is) {
					possible[p.Place] += p.Component
				}
			}
			for _, p := range b.Parts() {
				if possible[p.Place] != p.Component {
					t.Errorf("%s with %v: %q in place %s, %s in the build", m.ID, options, possible[p.Place], p.Place, p.Component)
				}
				delete(possible, p.Place)
			}
			if len(possible) > 0 {
				t.Errorf("%s with %v: %v not in the build", m.ID, options, possible)
			}
			if t.Failed() {
				return
			}
		}
	}
	if units < 200 || testenv.IsHeavy() && units < 1000 {
		t.Errorf("only %d units", units)
	}
	for _, feature := range spec.SheetFeatures() {
		f := spec.NewVariants(l, l.Models[0]).Feature(feature)
		if f.Holds(func(string) bool { return false }) || !f.Holds(func(fact string) bool { return fact == spec.SheetFact(feature) }) {
			t.Errorf("%s is not as the sheet says", feature)
		}
	}
}

func given(text string) source.Given[string] { return source.Given[string]{Value: text, Set: true} }
