package product

import (
	"reflect"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Forms of the parts of a vehicle identification number that a line contains: digits and
// capital letters without I, O and Q; positions 14 and later are digits (49 CFR 565.13
// and 565.15).
var (
	makerCode  = source.Pattern(`^[0-9A-HJ-NPR-Z]{3}$`)
	smallCode  = source.Pattern(`^[0-9A-HJ-NPR-Z]{2}[0-9]$`)
	optionCode = source.Pattern(`^[.0-9A-HJ-NPR-Z]{5}$`)
	modelCode  = source.Pattern(`^[0-9A-HJ-NPR-Z]{5}$`)
)

// validID reports whether a text can be an id or a feature. Ids become file names and
// anchors, so their length is limited.
func validID(id string) bool { return len(id) <= 60 && logic.ValidName(id) }

// lineCheck checks the consistency of a complete line.
type lineCheck struct {
	*Line
	findings source.Findings
	tasks    []string
	known    []string          // component ids
	derived  map[string]string // derived features, each with the condition for it
}

func (l *Line) check(derived map[string]string) source.Findings {
	c := &lineCheck{Line: l, derived: derived, tasks: l.taskIDs(), known: componentIDs(l)}
	c.maker()
	c.colors()
	c.components()
	for _, m := range l.Models {
		c.model(m)
	}
	c.careTasks()
	c.words()
	c.figures()
	c.checkSharedOptions()
	return c.findings
}

func (c *lineCheck) add(f source.Finding) { c.findings.Add(f) }

func malformedID(what string, id word) source.Finding {
	return codeLineID.At(id.At, "%s is %q; expected small letters and digits joined by single hyphens", what, id.Value)
}

// ids checks that ids are valid and unique.
func (c *lineCheck) ids(what string, ids []word) {
	first := map[string]source.Pos{}
	for _, id := range ids {
		if !validID(id.Value) {
			c.add(malformedID(what, id))
		}
		if at, twice := first[id.Value]; twice {
			c.add(codeLineRepeated.At(id.At, "%s %q stands here a second time", what, id.Value).WithRelated(at, "first here"))
			continue
		}
		first[id.Value] = id.At
	}
}

// features checks the features a maker wrote. Features that follow from the parts must not
// be written, so that they can be neither forgotten nor wrong.
func (c *lineCheck) features(names []word) {
	c.ids("feature", names)
	for _, n := range names {
		if when, derived := c.derived[n.Value]; derived {
			c.add(codeLineFeature.At(n.At, "feature %q is not written: a unit has it when %s", n.Value, when).WithHint("delete it"))
		}
	}
}

// keys returns the keys of a map with their positions.
func keys[T any](m source.Map[T]) []word {
	out := make([]word, len(m))
	for i, item := range m {
		out[i] = word{Value: item.Key, At: item.KeyAt, Text: item.Key, Set: true}
	}
	return out
}

func (c *lineCheck) maker() {
	m := &c.Maker
	c.ids("model id", m.Models)
	c.ids("maker id", []word{m.ID})
	c.ids("material id", keys(m.Materials))
	if gaps := uncovered[m.Sold()]; gaps != "" {
		c.add(codeMarket.At(m.Market.At, "for this market the program does not cover %s", gaps).
			WithHint("let somebody who knows the law there go through a guide; what has to be said goes into sections of your own"))
	}
	if len(m.Models) == 0 {
		c.add(codeLineRead.At(m.Name.At, "the line lists no models"))
	}
	if !makerCode().MatchString(m.WMI.Value) {
		c.add(codeLineVIN.At(m.WMI.At, "wmi is %q; expected three digits or capital letters without I, O and Q", m.WMI.Value))
		return
	}
	switch small := m.WMI.Value[2] == '9'; {
	case small && !m.Small.Set:
		c.add(codeLineVIN.At(m.WMI.At, "wmi %s ends in 9, so small_maker is needed for positions 12 to 14 of the vin", m.WMI.Value))
	case small && !smallCode().MatchString(m.Small.Value):
		c.add(codeLineVIN.At(m.Small.At, "small_maker is %q; expected two digits or capital letters without I, O and Q, then a digit", m.Small.Value))
	case !small && m.Small.Set:
		c.add(codeLineVIN.At(m.Small.At, "small_maker is given, but wmi %s does not end in 9", m.WMI.Value))
	}
}

func (c *lineCheck) components() {
	var ids []word
	numbers := map[string]Component{}
	for _, part := range c.Components.All() {
		ids = append(ids, word{Value: part.ID, At: part.At})
		if n := part.Common.Part; n.Set {
			if same, twice := numbers[n.Value]; twice && same.Common.Part.At != n.At {
				c.add(codeLineRepeated.At(n.At, "%s has the part number of %s: who orders one gets the other", part.ID, same.ID).
					WithRelated(same.Common.Part.At, "it stands here, too"))
			}
			numbers[n.Value] = part
		}
		c.features(part.Common.Features)
		for _, s := range part.Common.Service {
			c.name(codeLineTask, s.KeyAt, "task", s.Key, c.tasks)
			if i := s.Value; !i.Every.Set && !i.Months.Set && !i.Loads.Set && !i.MotorHours.Set {
				c.add(codeLineTask.At(s.KeyAt, "%s of %s has no interval; expected distance, months, loads or motor_hours", s.Key, part.ID))
			}
			c.oftenEnough(s.Key, &s.Value)
		}
		switch data := part.Data.(type) {
		case *Wheel:
			c.stages(data)
		case *Axle:
			if data.Brake != nil {
				c.brake(data.Brake)
			}
		case *Actuator:
			c.actuator(data)
		case *Coupler:
			c.coupler(data)
		case *Plain:
			c.ids("figure id", keys(data.Figures))
			for _, f := range data.Figures {
				if f.Value.Most.Set == f.Value.Least.Set {
					c.add(codeLineFigure.At(f.KeyAt, "figure %s says neither at_most nor at_least, or both; expected one", f.Key))
				}
			}
		}
	}
	c.ids("component id", ids)
}

// stages checks that each tightening stage is above the previous one, and the last one
// is the final torque.
func (c *lineCheck) stages(w *Wheel) {
	for i, stage := range w.Stages {
		if i > 0 && stage.Value <= w.Stages[i-1].Value {
			c.add(codeLineStages.At(stage.At, "stage %s is not above the one before, %s", stage.Text, w.Stages[i-1].Text))
		}
	}
	if n := len(w.Stages); n == 0 || w.Stages[n-1].Value != w.Torque.Value {
		c.add(codeLineStages.At(w.Torque.At, "the stages do not end at the final torque %s", w.Torque.Text))
	}
}

// name checks that an id is known.
func (c *lineCheck) name(code source.Code, at source.Pos, what, id string, known []string) bool {
	if slices.Contains(known, id) {
		return true
	}
	otherwise := ""
	if what == "task" {
		otherwise = "a job of your own stands under tasks in components/*.yaml"
	}
	c.add(code.At(at, "%s %q is not known here", what, id).DidYouMean(id, known, otherwise))
	return false
}

func (c *lineCheck) model(m *Model) {
	c.features(m.Features)
	c.ids("place", keys(m.Parts))
	c.ids("option id", keys(m.Options))
	partsKnown := c.parts(m.Parts)
	if !modelCode().MatchString(m.VINCode.Value) {
		c.add(codeLineVIN.At(m.VINCode.At, "vin_code is %q; expected five digits or capital letters without I, O and Q", m.VINCode.Value))
	}
	c.vinCodes(m)
	if low, high := m.ShareLow.Value, m.ShareHigh.Value; low <= 0 || low >= high || high > 100 {
		c.add(codeLineShare.At(m.ShareLow.At, "coupler shares run from %s to %s; expected the low one above nothing and below the high one", m.ShareLow.Text, m.ShareHigh.Text).
			WithRelated(m.ShareHigh.At, "the high one"))
	}
	if axles := c.axles(m.Parts); partsKnown && len(m.GAWR) != axles {
		c.add(codeLineAxles.At(m.GVWR.At, "gawr lists %d axles; the parts of %s have %d", len(m.GAWR), m.ID, axles))
	}
	if partsKnown {
		c.checkTrailerParts(m)
	}
	for i := range m.Options {
		c.option(m, &m.Options[i])
	}
	for _, r := range m.Rules {
		c.rule(m, r)
	}
}

// trailer is the parts that every trailer has, each as a name and the kinds of components
// that can be it. Texts of all guides use their figures.
var trailer = []struct {
	what  string
	kinds []string
}{
	{"coupler", []string{"coupler"}}, {"jack", []string{"jack"}}, {"axle", []string{"axle"}}, {"tire", []string{"tire"}}, {"wheel", []string{"wheel"}},
	{"connector", []string{"connector"}},
	{"floor for the load (a deck, which may have sides and a roof, a dump box, or a cradle for a boat)", []string{"deck", "dump-box", "cradle"}},
}

// checkTrailerParts checks that the model or an option of it has some part of each kind
// that every trailer has. That each build has them is checked by the proof.
func (c *lineCheck) checkTrailerParts(m *Model) {
	there := map[string]bool{}
	for _, p := range m.EveryPart() {
		there[c.byID[p.Value.Use.Value].Kind] = true
	}
	for _, load := range []struct{ hauls, on, kind string }{{"boats", "a cradle", "cradle"}, {"livestock", "a stock body", "stock-body"}, {"bulk", "a dump box", "dump-box"}} {
		if (m.Hauls.Value == load.hauls) != there[load.kind] {
			c.add(codeLineTrailer.At(m.Hauls.At, "%s hauls %s; expected %s where %s is fitted, and there alone", m.ID, m.Hauls.Value, load.hauls, load.on))
		}
	}
	for _, t := range trailer {
		if slices.ContainsFunc(t.kinds, func(kind string) bool { return there[kind] }) {
			continue
		}
		f := codeLineTrailer.At(m.VINCode.At, "%s has no %s", m.ID, t.what)
		var ids []string
		for _, part := range c.Components.All() {
			if slices.Contains(t.kinds, part.Kind) {
				ids = append(ids, part.ID)
			}
		}
		if len(ids) > 0 {
			f = f.WithHint("put one under parts, as the others stand there; components of this kind: %s", strings.Join(ids, ", "))
		} else {
			f = f.WithHint("describe one in a file of components, then put it under parts")
		}
		c.add(f)
	}
}

// parts checks that every component exists, and returns false if one does not. It also
// checks the sides of parts.
func (c *lineCheck) parts(parts source.Map[Part]) bool {
	known := true
	for _, p := range parts {
		c.side(&p.Value)
		known = c.name(codeLineComponent, p.Value.Use.At, "component", p.Value.Use.Value, c.known) && known
	}
	return known
}

func (c *lineCheck) axles(parts source.Map[Part]) (n int) {
	for _, p := range parts {
		if c.byID[p.Value.Use.Value].Kind == "axle" {
			n++
		}
	}
	return n
}

func (c *lineCheck) option(m *Model, o *source.Item[Option]) {
	v := &o.Value
	c.features(v.Features)
	c.ids("place", keys(v.Parts))
	c.parts(v.Parts)
	for _, place := range v.Without {
		c.name(codeLinePlace, place.At, "place", place.Value, m.EveryPart().Names())
	}
	for _, f := range v.Drops {
		c.name(codeLineFeature, f.At, "feature of the model", f.Value, source.Values(m.Features))
	}
	if len(v.GAWR) > 0 && len(v.GAWR) != len(m.GAWR) {
		c.add(codeLineAxles.At(v.GAWR[0].At, "option %s gives %d axle ratings; %s has %d", o.Key, len(v.GAWR), m.ID, len(m.GAWR)))
	}
	c.optionWeight(m, o)
	c.optionSize(m, o.Key, v)
	if v.Weighs.Set && v.Weighs.Value != 0 && !v.Center.Set {
		c.add(codeLineFigure.At(v.Weighs.At, "option %s weighs %s but has no center, so the coupler weight cannot be worked out", o.Key, v.Weighs.Text))
	}
	for _, d := range slices.Concat(v.Requires, v.Excludes) {
		if d.Option.Set == (len(d.AnyOf) > 0) {
			c.add(codeLineRule.At(d.Because.At, "expected either option or any_of beside because"))
			continue
		}
		for _, id := range d.objects() {
			if id.Value == o.Key {
				c.add(codeLineRule.At(id.At, "option %s names itself", o.Key))
				continue
			}
			c.name(codeLineOption, id.At, "option", id.Value, m.Options.Names())
		}
	}
}

// EveryPart returns the parts of a model and of all its options, by place.
func (m *Model) EveryPart() source.Map[Part] {
	parts := slices.Clone(m.Parts)
	for _, o := range m.Options {
		parts = append(parts, o.Value.Parts...)
	}
	return parts
}

func (c *lineCheck) rule(m *Model, r Rule) {
	if (len(r.ExactlyOne) > 0) == (len(r.AtMostOne) > 0) {
		c.add(codeLineRule.At(r.Because.At, "expected either exactly_one or at_most_one beside because"))
		return
	}
	group := slices.Concat(r.ExactlyOne, r.AtMostOne)
	c.ids("option", group)
	if len(group) < 2 {
		c.add(codeLineRule.At(r.Because.At, "a group of one option decides nothing"))
	}
	for _, id := range group {
		c.name(codeLineOption, id.At, "option", id.Value, m.Options.Names())
	}
}

// Provided returns the features of components, models and options, each as often as it
// is written.
func (l *Line) Provided() []source.Given[string] {
	var words []word
	for _, c := range l.Components.All() {
		words = append(words, c.Common.Features...)
	}
	for _, m := range l.Models {
		words = append(words, m.Features...)
		for _, o := range m.Options {
			words = append(words, o.Value.Features...)
		}
	}
	return words
}

// checkSharedOptions checks that every shared option is offered by a model.
func (c *lineCheck) checkSharedOptions() {
	used := map[string]bool{}
	for _, o := range c.Shared {
		used[o.Value.Extends.Value] = true
	}
	for _, m := range c.Models {
		for _, o := range m.Options {
			used[o.Value.Extends.Value] = true
		}
	}
	for _, o := range c.Shared {
		if !used[o.Key] {
			c.add(codeLineOption.At(o.KeyAt, "no model offers the shared option %q", o.Key).
				WithHint("write %s: { extends: %s } under options of a model, or delete it", o.Key, o.Key))
		}
	}
}

// words compares texts and ids: every id has a text in English, and no language has a
// text for an unknown id.
func (c *lineCheck) words() {
	var options, because []word
	for _, m := range c.Models {
		options = append(options, keys(m.Options)...)
		for _, o := range m.Options {
			for _, d := range slices.Concat(o.Value.Requires, o.Value.Excludes) {
				because = append(because, d.Because)
			}
		}
		for _, r := range m.Rules {
			because = append(because, r.Because)
		}
	}
	english := c.Texts[source.BaseLanguage]
	if english == nil {
		c.add(codeLineText.At(c.Maker.Name.At, "the line has no text/%s.yaml", source.BaseLanguage))
		return
	}
	var components []word
	var named []word // texts may use the names of those they extend, or of the option with the same id
	for _, part := range c.Components.All() {
		if id := (word{Value: part.ID, At: part.At}); part.Common.Extends.Set || english.Options.Get(part.ID) != nil {
			named = append(named, id)
		} else {
			components = append(components, id)
		}
	}
	for _, lang := range c.languages() {
		t := c.Texts[lang]
		for _, group := range []struct {
			what      string
			has       []word
			needed    []word
			inEnglish []string
		}{
			{"model", keys(t.Models), c.Maker.Models, english.Models.Names()},
			{"option", keys(t.Options), options, english.Options.Names()},
			{"component", keys(t.Components), components, english.Components.Names()},
			{"because", keys(t.Because), because, english.Because.Names()},
			{"material", keys(t.Materials), keys(c.Maker.Materials), english.Materials.Names()},
		} {
			needed := source.Values(group.needed)
			if group.what == "component" {
				needed = append(needed, source.Values(named)...)
			}
			for _, id := range group.has {
				if !slices.Contains(needed, id.Value) {
					c.add(wordsForNothing(group.what, id, needed))
				}
			}
			if lang != source.BaseLanguage {
				continue
			}
			for _, id := range group.needed {
				if !slices.Contains(group.inEnglish, id.Value) {
					c.add(codeLineText.At(id.At, "%s %q has no words in text/%s.yaml", group.what, id.Value, source.BaseLanguage).
						DidYouMean(id.Value, group.inEnglish, ""))
				}
			}
		}
	}
}

// wordsForNothing returns the finding for texts of an unknown id.
func wordsForNothing(what string, id word, known []string) source.Finding {
	return codeLineText.At(id.At, "these are words for %s %q, which the line does not have", what, id.Value).
		DidYouMean(id.Value, known, "delete them")
}

// figures refuses ratings, weights and counts that are not positive, or that are
// impossible for a road trailer.
func (c *lineCheck) figures() {
	for _, part := range c.Components.All() {
		c.positive(part.Data)
		c.plausible(part.Data)
	}
	for i := range c.Maker.Materials {
		c.positive(&c.Maker.Materials[i].Value)
		c.plausible(&c.Maker.Materials[i].Value)
		c.bulk(c.Maker.Materials[i].Key, c.Maker.Materials[i].Value.Density)
	}
	for _, m := range c.Models {
		c.positive(m)
		c.plausible(m)
	}
}

func (c *lineCheck) positive(data any) {
	source.Walk(data, func(value any, tag reflect.StructTag, at source.Pos, path, text string) {
		if q, ok := value.(quantity.Quantity); ok {
			c.within(tag.Get("within"), q, at, path, text)
		}
		low, expected := false, "more than nothing"
		switch q := value.(type) {
		case quantity.Length, quantity.Angle, quantity.Count:
			// A coordinate may be on either side of the origin, and a distance may be
			// zero.
			low, expected = q.(quantity.Quantity).Base() < 0 && !inGeometry(path), "nothing or more"
		case quantity.Mass:
			low = q <= 0 && !strings.HasSuffix(path, ".weighs")
		case quantity.Quantity:
			low = q.Base() <= 0
		case int:
			low = q <= 0
		}
		if low {
			c.add(codeLineFigure.At(at, "%s is %s; expected %s", path, text, expected))
		}
	})
}

// inGeometry reports whether a path is that of a coordinate; sizes are not coordinates.
func inGeometry(path string) bool {
	last := path[strings.LastIndex(path, ".")+1:]
	return slices.Contains([]string{"x", "y", "z", "center", "tilting_center"}, last)
}
