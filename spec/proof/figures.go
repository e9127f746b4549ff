package proof

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Inspect looks at what can only be seen with figures at hand: it tries the
// drawings a unit is shown.
type Inspect func(*spec.Build, *derive.Values) source.Findings

// figures works out the figures of every distinct choice, with the barest sheet
// and the fullest. It reports what limits and drawings find, with the smallest
// build it is found on, and learns which values exist where.
func (v *view) figures(limit int, inspect Inspect) (out []outcome, worked int) {
	c := v.distinct(limit)
	type place struct {
		code string
		at   source.Pos
	}
	met := map[place]bool{}
	names := v.valueNames()
	absent := map[string]*learner{}
	rooms := map[source.Pos]derive.Room{}
	for _, full := range []bool{false, true} {
		s, findings := blank(v.line, v.model, full)
		if s == nil || findings.HasErrors() {
			return []outcome{{code: codeUnchecked, at: v.model.At, what: fmt.Sprintf("no sheet for %s can be made up: %s", v.model.ID, findings[0].Message)}}, 0
		}
		for _, order := range c.orders {
			b := v.build(s, order)
			if b == nil {
				continue // refused by rules that the solver knows as well
			}
			vs, findings := derive.Evaluate(b)
			if !full {
				tighter(rooms, vs.Rooms())
			}
			if inspect != nil && !full {
				findings.Add(inspect(b, vs)...)
			}
			for _, f := range findings {
				if f.Pos.File == sheetFile {
					f.Pos = v.model.At
				}
				if k := (place{f.Code, f.Pos}); !met[k] && f.Severity != source.Note {
					met[k] = true
					out = append(out, v.figure(f, order))
				}
			}
			for _, name := range names {
				if v.declared(name).When.Holds(b.Has) {
					if absent[name] == nil {
						absent[name] = &learner{options: v.problem.Options}
					}
					absent[name].see(order, exists(vs, name))
				}
			}
		}
		worked = len(c.orders)
	}
	for name, l := range absent {
		v.exists[name] = l.formula(name)
	}
	out = append(out, roomy(rooms)...)
	if !c.whole {
		out = append(out, outcome{code: codeUnchecked, at: v.model.At, what: fmt.Sprintf(
			"%s has more than %d distinct choices of the %d options that bear on figures; checked are the %d with at most %d of them, and no other", v.model.ID, limit, len(c.bear), len(c.orders), max(c.most, 0))})
	}
	return out, worked
}

// tighter keeps for each entry the least room.
func tighter(least, rooms map[source.Pos]derive.Room) {
	for at, r := range rooms {
		if old, met := least[at]; !met || r.Times/r.Usual < old.Times/old.Usual {
			least[at] = r
		}
	}
}

// roomy settles that some build asks for a good part of each rating of a
// component: of one that none comes near, figure or unit is mostly mistyped.
func roomy(rooms map[source.Pos]derive.Room) (out []outcome) {
	for at, r := range rooms {
		if strings.Contains(at.File, "components/") {
			out = append(out, outcome{code: codeRoomy, at: at, some: true, held: r.Times < r.Usual,
				what: fmt.Sprintf("%s is %s, far more than any build asks of it", r.Path, r.Text)})
		}
	}
	return out
}

func (v *view) build(s *sheet.Sheet, order []string) *spec.Build {
	own := *s
	own.Options = nil
	for _, id := range order {
		own.Options = append(own.Options, source.Given[string]{Value: id, Text: id, Set: true, At: source.Pos{File: sheetFile}})
	}
	own.VIN.Value = vinOf(v.line, v.model, order, 1)
	b, _ := spec.Resolve(v.line, &own)
	return b
}

// figure makes an outcome of a finding on a build.
func (v *view) figure(f source.Finding, order []string) outcome {
	var related []source.Related
	for _, r := range f.Related {
		if r.Pos.File != sheetFile {
			related = append(related, r)
		}
	}
	return outcome{code: source.Code{ID: f.Code, Severity: f.Severity}, at: f.Pos, what: f.Message,
		witness: &Witness{Model: v.model.ID, Options: append([]string{}, order...), Sheet: []string{}}, related: related}
}

// valueNames lists the values that texts, guards and jobs name.
func (v *view) valueNames() (names []string) {
	add := func(name string) {
		if derive.IsDeclared(name) {
			names = append(names, name)
		}
	}
	for i := range v.texts.References {
		u := &v.texts.References[i]
		if u.Kind == Value {
			add(u.Name)
		}
		for _, atom := range u.When.Facts() {
			if name, is := strings.CutPrefix(atom, string(Value)+":"); is {
				add(name)
			}
		}
	}
	for _, t := range v.line.Tasks {
		for _, w := range t.Values {
			add(w.Value)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

func exists(vs *derive.Values, name string) bool {
	_, ok := vs.Lookup(name)
	return ok
}

// learner gathers of which orders something is so, to say it as a formula.
type learner struct {
	options []string
	orders  [][]string
	is      []bool
}

func (l *learner) see(order []string, is bool) {
	l.orders, l.is = append(l.orders, order), append(l.is, is)
}

// formula says of which orders it is so: exactly, for the orders seen. Where the
// options do not decide, the formula leaves it open.
func (l *learner) formula(name string) logic.Formula {
	all := make([]int, len(l.orders))
	for i := range all {
		all[i] = i
	}
	return l.split(all, name)
}

func (l *learner) split(among []int, name string) logic.Formula {
	yes := 0
	for _, i := range among {
		if l.is[i] {
			yes++
		}
	}
	switch yes {
	case len(among):
		return logic.All()
	case 0:
		return logic.Any()
	}
	// The option that leaves the fewest undecided on its two sides.
	best, least := "", len(among)
	for _, option := range l.options {
		with, without, yesWith := 0, 0, 0
		for _, i := range among {
			if !slices.Contains(l.orders[i], option) {
				without++
				continue
			}
			with++
			if l.is[i] {
				yesWith++
			}
		}
		if with == 0 || without == 0 {
			continue
		}
		if mixed := min(yesWith, with-yesWith) + min(yes-yesWith, without-yes+yesWith); best == "" || mixed < least {
			best, least = option, mixed
		}
	}
	if best == "" {
		return logic.Fact("value " + name) // it depends on the sheet
	}
	var with, without []int
	for _, i := range among {
		if slices.Contains(l.orders[i], best) {
			with = append(with, i)
		} else {
			without = append(without, i)
		}
	}
	return logic.Any(logic.All(logic.Fact(best), l.split(with, name)), logic.All(logic.Not(logic.Fact(best)), l.split(without, name)))
}

// byPlace orders failures as findings are ordered, and keeps witnesses.
func byPlace(failures []Failure) {
	slices.SortStableFunc(failures, func(a, b Failure) int {
		p, q := a.Pos, b.Pos
		return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column),
			cmp.Compare(a.Severity, b.Severity), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
}
