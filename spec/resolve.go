package spec

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/vin"
)

// mendsShown is how many ways out of an option conflict a person is given.
const mendsShown = 3

// Resolve reads a sheet against a line. The build is nil when the model or an
// option is unknown or the options do not go together; otherwise it is there,
// with or without findings. Entries of the sheet that could not be read are
// passed over: [sheet.Read] has reported them.
func Resolve(l *product.Line, s *sheet.Sheet) (*Build, source.Findings) {
	var findings source.Findings
	m := modelOf(l, s, &findings)
	findings.Add(checkVIN(l, m, s)...)
	if s.Built.Set && s.ModelYear.Set {
		findings.Add(checkModelYear(s)...)
	}
	if m == nil {
		return nil, findings.Sorted()
	}
	options, ok := chooseOptions(m, s, &findings)
	if !ok {
		return nil, findings.Sorted()
	}
	if broken := brokenRules(l, m, s, options); len(broken) > 0 {
		findings.Add(broken...)
		return nil, findings.Sorted()
	}
	b := &Build{Sheet: s, Line: l, Model: m, options: options}
	b.parts = fit(l, m, options)
	b.features = b.gatherFeatures()
	findings.Add(b.checkFitted()...)
	b.Faulty = s.Faulty || findings.HasErrors()
	return b, findings.Sorted()
}

func modelOf(l *product.Line, s *sheet.Sheet, findings *source.Findings) *product.Model {
	if !s.Model.Set {
		return nil
	}
	if m := l.Model(s.Model.Value); m != nil {
		return m
	}
	ids := source.Values(l.Maker.Models)
	findings.Add(codeModelUnknown.At(s.Model.At, "model %q is not in the line of %s", s.Model.Value, l.Maker.Name.Value).WithPath(s.Model.Path).
		DidYouMean(s.Model.Value, ids, "").WithHint("models: %s", strings.Join(ids, ", ")))
	return nil
}

// chooseOptions gives the options the unit has now: as built, with those fitted
// after delivery, without those taken off. It reports false when one is unknown.
func chooseOptions(m *product.Model, s *sheet.Sheet, findings *source.Findings) ([]ChosenOption, bool) {
	ok := true
	chosen := map[string]ChosenOption{}
	take := func(id word, change *sheet.Change) {
		if !id.Set {
			return
		}
		o := m.Options.Get(id.Value)
		if o == nil {
			findings.Add(unknownOption(m, id))
			ok = false
			return
		}
		if _, twice := chosen[id.Value]; !twice {
			chosen[id.Value] = ChosenOption{ID: id.Value, Option: o, At: id.At, Change: change}
		}
	}
	for _, id := range s.Options {
		take(id, nil)
	}
	for i := range s.Added {
		take(s.Added[i].Option, &s.Added[i])
	}
	for _, r := range s.Removed {
		if r.Option.Set && m.Options.Get(r.Option.Value) == nil {
			findings.Add(unknownOption(m, r.Option))
			ok = false
		}
		delete(chosen, r.Option.Value)
	}
	var options []ChosenOption
	for _, o := range m.Options {
		if c, has := chosen[o.Key]; has {
			options = append(options, c)
		}
	}
	return options, ok
}

func unknownOption(m *product.Model, id word) source.Finding {
	return codeOptionUnknown.At(id.At, "option %q is not offered on %s", id.Value, m.ID).WithPath(id.Path).
		DidYouMean(id.Value, m.Options.Names(), fmt.Sprintf("options on %s: %s", m.ID, cmp.Or(strings.Join(m.Options.Names(), ", "), "none")))
}

// brokenRules reports each rule the options break, at the option that breaks
// it, with the rule's own place and the smallest ways out.
func brokenRules(l *product.Line, m *product.Model, s *sheet.Sheet, options []ChosenOption) (findings source.Findings) {
	at := map[string]source.Pos{}
	var chosen []string
	for _, o := range options {
		at[o.ID] = o.At
		chosen = append(chosen, o.ID)
	}
	p := l.Problem(m)
	violations := p.Violations(chosen)
	if len(violations) == 0 {
		return nil
	}
	mends, all := p.Mends(chosen, mendsShown)
	for _, v := range violations {
		f := violation(v, s, at)
		f.Mends = mends
		if !all {
			f = f.WithHint("not every way out was tried: the rules leave too many; shorter ones than those shown may exist")
		}
		findings.Add(f.WithRelated(v.Rule.Pos, "the rule: %s", v.Rule.Because))
	}
	return findings
}

func violation(v logic.Violation, s *sheet.Sheet, at map[string]source.Pos) source.Finding {
	r := v.Rule
	switch others := without(v.Chosen, r.Subject); r.Kind {
	case logic.Requires:
		return codeOptionRequires.At(at[r.Subject], "%s needs %s: %s", r.Subject, strings.Join(r.Objects, " or "), r.Because)
	case logic.Excludes:
		return codeOptionExcludes.At(at[r.Subject], "%s does not go with %s: %s", r.Subject, strings.Join(others, " and "), r.Because)
	default:
		list := strings.Join(r.Objects, ", ")
		if len(v.Chosen) == 0 {
			return codeOptionGroup.At(s.Model.At, "%s needs one of %s and has none: %s", s.Model.Value, list, r.Because)
		}
		last := v.Chosen[len(v.Chosen)-1]
		for _, id := range v.Chosen { // the one the sheet names last is the one too many
			if p, q := at[id], at[last]; p.Line > q.Line || p.Line == q.Line && p.Column > q.Column {
				last = id
			}
		}
		return codeOptionGroup.At(at[last], "only one of %s can be fitted, and the sheet has %s: %s", list, strings.Join(v.Chosen, " and "), r.Because)
	}
}

func without(names []string, name string) []string {
	return slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == name })
}

// fit puts every part in its place: the model's, then each option's in the
// order of the model's list. A part put in the place of another stands where
// that one stood unless it says otherwise.
func fit(l *product.Line, m *product.Model, options []ChosenOption) (parts []Fitting) {
	put := func(item source.Item[product.Part]) {
		p := item.Value
		c, _ := l.Component(p.Use.Value)
		f := Fitting{Place: item.Key, Kind: c.Kind, Component: c.ID, At: p.At, Size: p.Size, On: p.On.Value,
			From: item.KeyAt, Common: c.Common, Data: c.Data}
		i := slices.IndexFunc(parts, func(old Fitting) bool { return old.Place == item.Key })
		if i < 0 {
			f.On = cmp.Or(f.On, "both")
			parts = append(parts, f)
			return
		}
		f.At, f.Size, f.On = cmp.Or(f.At, parts[i].At), cmp.Or(f.Size, parts[i].Size), cmp.Or(f.On, parts[i].On)
		parts[i] = f
	}
	for _, item := range m.Parts {
		put(item)
	}
	for _, o := range options {
		for _, place := range o.Option.Without {
			parts = slices.DeleteFunc(parts, func(f Fitting) bool { return f.Place == place.Value })
		}
		for _, item := range o.Option.Parts {
			put(item)
		}
	}
	return parts
}

// GVWR gives the gross vehicle weight rating on the unit's label: the model's,
// or that of the option that changes it. Of several such options the lowest
// rating counts, so that none of them is overloaded.
func (b *Build) GVWR() mass {
	rating, changed := b.Model.GVWR, false
	for _, o := range b.options {
		if own := o.Option.GVWR; own.Set && (!changed || own.Value < rating.Value) {
			rating, changed = own, true
		}
	}
	b.dependOn(func(t *Dependencies) OptionSet { // higher ones change nothing then
		return t.chosen(func(o *product.Option) bool {
			return o.GVWR.Set && (!changed || o.GVWR.Value <= rating.Value)
		})
	})
	return rating
}

// GAWR gives the gross axle weight ratings on the label, front axle first; each
// is found as GVWR is.
func (b *Build) GAWR() []mass {
	b.dependOn(func(t *Dependencies) OptionSet {
		return t.chosen(func(o *product.Option) bool { return len(o.GAWR) > 0 })
	})
	ratings, changed := slices.Clone(b.Model.GAWR), false
	for _, o := range b.options {
		if len(o.Option.GAWR) == 0 {
			continue
		}
		for i, own := range o.Option.GAWR {
			if !changed || own.Value < ratings[i].Value {
				ratings[i] = own
			}
		}
		changed = true
	}
	return ratings
}

// Overall gives the unit's outer size: the model's, or that of the option that
// changes it. Of several such options the largest extent counts each way, so
// that no bridge or gate is too low or narrow for what the guide says.
func (b *Build) Overall() product.Size {
	return product.Size{Long: b.OverallLong(), Wide: b.OverallWide(), High: b.OverallHigh()}
}

// OverallLong is the length of Overall.
func (b *Build) OverallLong() length {
	return b.overall(func(s *product.Size) length { return s.Long })
}

// OverallWide is the width of Overall.
func (b *Build) OverallWide() length {
	return b.overall(func(s *product.Size) length { return s.Wide })
}

// OverallHigh is the height of Overall.
func (b *Build) OverallHigh() length {
	return b.overall(func(s *product.Size) length { return s.High })
}

func (b *Build) overall(way func(*product.Size) length) length {
	largest, changed := way(&b.Model.Overall), false
	for _, o := range b.options {
		if size := o.Option.Overall; size != nil && (!changed || way(size).Value > largest.Value) {
			largest, changed = way(size), true
		}
	}
	b.dependOn(func(t *Dependencies) OptionSet { // smaller ones change nothing then
		return t.chosen(func(o *product.Option) bool {
			return o.Overall != nil && (!changed || way(o.Overall).Value >= largest.Value)
		})
	})
	return largest
}

// checkVIN reports the first thing wrong with the number itself, or else each
// part of it that does not agree with the sheet, the line or the model.
func checkVIN(l *product.Line, m *product.Model, s *sheet.Sheet) (findings source.Findings) {
	if !s.VIN.Set {
		return nil
	}
	add := func(f source.Finding) { findings.Add(f.WithPath(s.VIN.Path)) }
	v, err := vin.Parse(s.VIN.Value)
	var wrong *vin.Error
	if errors.As(err, &wrong) {
		add(malformedVIN(s, wrong))
		return findings
	}
	if s.ModelYear.Set {
		code, err := vin.YearCode(s.ModelYear.Value)
		switch {
		case err != nil:
			findings.Add(codeModelYear.At(s.ModelYear.At, "%s", err).WithPath(s.ModelYear.Path))
		case code != v.YearCode():
			add(codeVINYear.At(s.VIN.At, "position 10 of the vin is %q; model year %d has %q", string(v.YearCode()), s.ModelYear.Value, string(code)).
				WithRelated(s.ModelYear.At, "the model year"))
		}
	}
	if wmi := l.Maker.WMI; v.WMI() != wmi.Value {
		add(codeVINMaker.At(s.VIN.At, "positions 1 to 3 of the vin are %q; numbers of %s begin with %q", v.WMI(), l.Maker.Name.Value, wmi.Value).
			WithRelated(wmi.At, "the maker's code"))
	} else if id, small := v.SmallMaker(); small && id != l.Maker.Small.Value {
		add(codeVINMaker.At(s.VIN.At, "positions 12 to 14 of the vin are %q; those of %s are %q", id, l.Maker.Name.Value, l.Maker.Small.Value).
			WithRelated(l.Maker.Small.At, "the maker's code"))
	}
	if m != nil {
		findings.Add(checkVINCode(l, m, s, v.Descriptor())...)
	}
	return findings
}

// checkVINCode holds positions 4 to 8 against the model and the options the unit
// was built with: what is fitted later changes no number.
func checkVINCode(l *product.Line, m *product.Model, s *sheet.Sheet, own string) source.Findings {
	expected := m.VINCodeWith(source.Values(s.Options))
	if own == expected {
		return nil
	}
	f := codeVINModel.At(s.VIN.At, "positions 4 to 8 of the vin are %q; those of %s are %q", own, m.ID, expected).
		WithPath(s.VIN.Path).WithRelated(m.VINCode.At, "the model's code")
	for _, id := range s.Options {
		if o := m.Options.Get(id.Value); o != nil && o.VINCode.Set {
			f = f.WithRelated(o.VINCode.At, "what %s changes in it", id.Value)
		}
	}
	for _, other := range l.Models {
		with, is := other.VINCodes()[own]
		switch {
		case is && len(with) > 0:
			f = f.WithHint("the vin is that of a %s built with %s: correct what is wrong", other.ID, strings.Join(with, " and "))
		case is && other == m:
			f = f.WithHint("the vin is that of a %s built without such options: correct what is wrong", m.ID)
		case is:
			f = f.WithHint("the vin is that of a %s: correct the one that is wrong", other.ID)
		}
	}
	return source.Findings{f}
}

func malformedVIN(s *sheet.Sheet, wrong *vin.Error) source.Finding {
	switch wrong.Reason {
	case vin.WrongLength:
		return codeVINLength.At(s.VIN.At, "%s", wrong)
	case vin.WrongCheckDigit:
		return codeVINCheck.At(s.VIN.At, "%s", wrong).
			WithHint("compare all seventeen characters with the label on the frame; if the others are right, position %d is %q", wrong.Position, wrong.Expected)
	default:
		return codeVINCharacter.At(s.VIN.At, "%s", wrong)
	}
}

// checkModelYear: a model year may differ from the calendar year of production,
// whose period does not exceed two years (49 CFR 565.12, from memory); so it is
// the year before, of or after the day the unit was built.
func checkModelYear(s *sheet.Sheet) source.Findings {
	year, built := s.ModelYear.Value, s.Built.Value.Year
	if built-1 <= year && year <= built+1 {
		return nil
	}
	return source.Findings{codeModelYear.At(s.ModelYear.At, "model year %d does not fit a unit built on %s; expected %d to %d", year, s.Built.Value, built-1, built+1).
		WithPath(s.ModelYear.Path).WithRelated(s.Built.At, "the day it was built")}
}
