package spec

import (
	"slices"
	"testing"

	"ownerguide/spec/line"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
)

// loadEmbedded loads the product line that comes with the program.
func loadEmbedded(t testing.TB) *product.Line {
	t.Helper()
	l, findings := LoadLine(line.Files, "line")
	for _, f := range findings {
		t.Errorf("%s: %s [%s] %v", f.Pos, f.Message, f.Code, f.Hints)
	}
	if l == nil {
		t.FailNow()
	}
	return l
}

func TestEmbeddedLine(t *testing.T) {
	l := loadEmbedded(t)
	for _, m := range l.Models {
		t.Logf("%s: %s valid choices", m.ID, l.Problem(m).Count(logic.CountSteps))
	}
}

// A condition over a word that nothing provides never holds, and its caution is
// never shown. The program's own conditions are held against the embedded line,
// which has every kind of trailer.
func TestEveryFeatureIsProvided(t *testing.T) {
	l := loadEmbedded(t)
	vocabulary := Vocabulary(l)
	check := func(what string, c logic.Condition) {
		for _, name := range c.Facts() {
			if !slices.Contains(vocabulary, name) {
				t.Errorf("%s: %s is over %q, which nothing provides", c.Pos, what, name)
			}
		}
	}
	for _, task := range l.Tasks {
		check("task "+task.ID.Value, task.When)
	}
}

// A task that is due by interval needs a component that says how often, or
// nobody is ever told to do it.
func TestEveryIntervalIsAskedFor(t *testing.T) {
	l := loadEmbedded(t)
	asked := map[string]bool{}
	for _, c := range l.Components.All() {
		for _, s := range c.Common.Service {
			asked[s.Key] = true
		}
	}
	for _, task := range l.Tasks {
		if task.Trigger.Value == "interval" && !asked[task.ID.Value] {
			t.Errorf("%s: no component asks for task %s", task.ID.At, task.ID.Value)
		}
	}
}

// A sample of the choices of every model becomes a build, whose parts have a
// kind and whose features are in the vocabulary.
func TestEveryChoiceBuilds(t *testing.T) {
	l := loadEmbedded(t)
	vocabulary := Vocabulary(l)
	for _, m := range l.Models {
		l.Problem(m).Each(50, func(chosen []string) bool {
			s := &sheet.Sheet{Model: word{Value: m.ID, Set: true}}
			for _, id := range chosen {
				s.Options = append(s.Options, word{Value: id, Set: true})
			}
			b, findings := Resolve(l, s)
			if b == nil || len(findings) > 0 {
				t.Errorf("%s with %v: %v", m.ID, chosen, findings)
				return true
			}
			for _, p := range b.parts {
				if p.Kind == "" || p.Data == nil || p.Common == nil {
					t.Errorf("%s with %v: part %+v", m.ID, chosen, p)
				}
			}
			for _, f := range b.features {
				if !slices.Contains(vocabulary, f.Name) {
					t.Errorf("%s with %v: feature %s", m.ID, chosen, f.Name)
				}
			}
			if len(b.GAWR()) != len(All[*product.Axle](b)) || len(b.wheelWords()) == 0 {
				t.Errorf("%s with %v: %d ratings for %d axles", m.ID, chosen, len(b.GAWR()), len(All[*product.Axle](b)))
			}
			return true
		})
	}
}

// One of a thing or a pair, and how a part stows: words differ, so units do.
func TestFeaturesOfParts(t *testing.T) {
	l := loadEmbedded(t)
	of := []string{"coupler-adjustable", "jack-swivel", "jack-pair", "prop-pair", "cylinder-pair", "battery-pair", "ramps-slide-in", "ramps-stand-up", "ramps-fold-flat"}
	for _, c := range []struct {
		model   string
		options []string
		want    []string
	}{
		{"utility-12", nil, []string{"jack-swivel"}},
		{"utility-12", []string{"ramp-gate"}, []string{"jack-swivel", "ramps-stand-up"}},
		{"car-20", nil, []string{"ramps-slide-in"}},
		{"tilt-20", []string{"power-tilt"}, []string{"coupler-adjustable"}},
		{"dump-14", []string{"ramps"}, []string{"coupler-adjustable", "cylinder-pair", "battery-pair", "ramps-slide-in"}},
		{"deck-28", []string{"power-tilt"}, []string{"coupler-adjustable", "jack-pair", "prop-pair", "cylinder-pair", "battery-pair"}},
		{"deck-28", []string{"fixed-deck"}, []string{"coupler-adjustable", "jack-pair", "ramps-stand-up"}},
	} {
		s := &sheet.Sheet{Model: word{Value: c.model, Set: true}}
		for _, id := range c.options {
			s.Options = append(s.Options, word{Value: id, Set: true})
		}
		b, findings := Resolve(l, s)
		if b == nil {
			t.Fatalf("%s with %v: %v", c.model, c.options, findings)
		}
		var got []string
		for _, name := range of {
			if b.Has(name) {
				got = append(got, name)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s with %v has %v, expected %v", c.model, c.options, got, c.want)
		}
	}
}
