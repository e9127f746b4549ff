package derive

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/testenv"
)

// Margins by hand, on the small line of ratings: of the figure the limit sets,
// how many percent the unit has to spare.
func TestMargins(t *testing.T) {
	tests := []struct {
		code, have, order, need string
		spare                   float64
		swap                    [][2]string
		kept                    bool
	}{
		{"rating-coupler", "ratings.coupler", "at least", "hitch.rating_needed", 100 * 600 / 15400.0, nil, true}, // 16,000 for 15,400
		{"rating-coupler", "ratings.coupler", "at least", "hitch.rating_needed", 100 * -400 / 15400.0, [][2]string{{"gross: 16000 lb", "gross: 15000 lb"}}, false},
		{"width-limit", "width.overall", "at most", "width.limit", 0, nil, true}, // 102 in is allowed to the inch
	}
	for _, test := range tests {
		vs, findings := unit{model: "hand-20", swap: test.swap}.evaluated(t)
		i := slices.IndexFunc(vs.Margins(), func(m *Margin) bool { return m.Code.ID == test.code })
		if i < 0 {
			t.Errorf("no margin of %s", test.code)
			continue
		}
		m := vs.Margins()[i]
		if m.Have.Name != test.have || m.Order.String() != test.order || m.Need.Name != test.need || math.Abs(m.Spare-test.spare) > 1e-9 || m.Kept != test.kept {
			t.Errorf("%s: %s %s %s, %.4f %% to spare, kept %t; by hand %.4f %%", test.code, m.Have.Name, m.Order, m.Need.Name, m.Spare, m.Kept, test.spare)
		}
		reported := slices.ContainsFunc(findings, func(f finding) bool { return f.Code == test.code })
		if reported == m.Kept {
			t.Errorf("%s: kept is %t, and reported is %t", test.code, m.Kept, reported)
		}
	}
}

// A margin is told as broken if, and only if, the same limit reports it: the
// calculation sheet and the findings come from one comparison.
func TestMarginsAgreeWithFindings(t *testing.T) {
	for _, s := range testenv.Sample(t, slips, 25) {
		vs, findings := slippedValues(t, s.unit, s.sheet, s.line)
		if vs == nil {
			continue
		}
		broken := map[string]bool{}
		var order []string
		for _, m := range vs.Margins() {
			order = append(order, m.Code.ID)
			if !m.Kept {
				broken[m.Code.ID] = true
			}
			if cmp.Or(m.Have.Name, m.Have.Text) == "" || cmp.Or(m.Need.Name, m.Need.Text) == "" {
				t.Errorf("%s: %s says %q against %q", s.what, m.Code.ID, m.Have.Text, m.Need.Text)
			}
		}
		if !slices.IsSorted(order) {
			t.Errorf("%s: margins are not sorted by code", s.what)
		}
		for _, c := range Codes() {
			reported := slices.ContainsFunc(findings, func(f finding) bool { return f.Code == c.ID })
			if broken[c.ID] && !reported {
				t.Errorf("%s: a margin of %s is broken, and nothing reports it", s.what, c.ID)
			}
			if reported && !broken[c.ID] && slices.Contains(order, c.ID) && c.ID != "fluid-cold" {
				t.Errorf("%s: %s is reported, and its margins are kept", s.what, c.ID)
			}
		}
	}
}

// What a member of a family lists is its own: the entry it stands for, or the
// reasons of its visit, each with a place or a value's name.
func TestMembersListTheirOwnInputs(t *testing.T) {
	l, _ := embedded(t)
	for _, m := range l.Models {
		sheet := orderable(t, l, m, anOrder(l.Problem(m).Each))
		b, _ := spec.Resolve(l, sheet)
		vs, _ := Evaluate(b)
		for _, v := range vs.All() {
			family := FamilyOf(v.Name)
			if family == "" {
				continue
			}
			for _, in := range v.Inputs {
				if _, known := vs.Lookup(in.Name); !known && (in.Text == "" || in.At.Line == 0) {
					t.Errorf("%s: %s has an input without name or place: %+v", m.ID, v.Name, in)
				}
			}
			if family == "service" || family == "first" || family == "connector.pin" || family == "wheels.stage" {
				if len(v.Inputs) != 1 {
					t.Errorf("%s: %s rests on %d entries", m.ID, v.Name, len(v.Inputs))
				}
			}
			if family == "visit" && strings.HasSuffix(v.Name, ".date") && !slices.ContainsFunc(v.Inputs, func(in Input) bool { return strings.Contains(in.Path, ".service.") }) {
				t.Errorf("%s: %s does not say what is due", m.ID, v.Name)
			}
		}
	}
}

// anOrder returns the first valid choice of options.
func anOrder(each func(int, func([]string) bool)) (options []string) {
	each(1, func(chosen []string) bool { options = chosen; return false })
	return options
}
