package render

import (
	"slices"

	"ownerguide/spec"
	"ownerguide/spec/logic"
)

// reading is what a unit with certain features gets to read: conditions are
// followed and nothing is filled in, so that every orderable unit can be looked
// at. A block that also asks for a figure counts as left out: no caution may
// hang on one. TestCoveringUnits holds it against real guides.
type reading struct {
	templates *Templates
	line      *spec.Line
	has       func(string) bool
	sections  map[string]bool
	beside    map[string]bool // sections of the card or the mail alone
	tasks     map[string]bool
	troubles  map[string]bool
	stops     []*section
	work      map[string]bool // cautions shown where the work is described
	safety    map[string]bool // cautions of the safety chapter
}

func read(t *Templates, l *spec.Line, has func(string) bool) *reading {
	r := &reading{templates: t, line: l, has: has, sections: map[string]bool{}, beside: map[string]bool{}, tasks: map[string]bool{},
		troubles: map[string]bool{}, work: map[string]bool{}, safety: map[string]bool{}}
	r.children("")
	return r
}

func (r *reading) children(parent string) {
	for _, s := range r.templates.languages[Base].sections {
		if s.parent != parent || !s.when.Holds(r.has) {
			continue
		}
		if !s.inGuide() {
			r.beside[s.id] = true
			continue
		}
		r.sections[s.id] = true
		if s.stop.Set {
			r.stops = append(r.stops, s)
		}
		r.body(s.body)
		r.children(s.id)
	}
}

// body reads blocks; what stands under a heading goes with it.
func (r *reading) body(body []piece) {
	for i := 0; i < len(body); i++ {
		p := &body[i]
		if p.when.Holds(r.has) && len(p.figures) == 0 {
			if p.fence != nil {
				r.fence(p.fence)
			}
			r.body(p.children)
			continue
		}
		for p.kind == pieceHeading && i+1 < len(body) && !(body[i+1].kind == pieceHeading && body[i+1].level <= p.level) {
			i++
		}
	}
}

func (r *reading) fence(f *fence) {
	switch f.kind {
	case "caution":
		if c := r.templates.caution(f.args[0]); c.when().Holds(r.has) {
			r.work[f.args[0]] = true
		}
	case "safety":
		for i := range r.templates.cautions {
			if c := &r.templates.cautions[i]; c.Grave.Value && c.when().Holds(r.has) {
				r.safety[c.ID.Value] = true
			}
		}
	case "tasks":
		for _, task := range r.line.Tasks {
			if task.System.Value == f.args[0] && task.When().Holds(r.has) {
				r.tasks[task.ID.Value] = true
				r.body(r.templates.languages[Base].tasks[task.ID.Value].body)
			}
		}
	case "trouble":
		for _, e := range r.templates.troubles {
			if e.System.Value == f.args[0] && e.when().Holds(r.has) {
				r.troubles[e.ID.Value] = true
			}
		}
	}
}

// sheetWords are the features that a build sheet brings, whatever was ordered.
var sheetWords = []string{"buyer", "carrier-miles", "dated", "dealer", "fitted-axles", "fitted-tires", "measured",
	"measured-tongue", "notes", "retrofitted", "revised"}

// featuresOf gives the features of an order twice: with a sheet that says the
// least, and with one that says everything.
func featuresOf(b *spec.Build) [2]map[string]bool {
	bare, full := map[string]bool{}, map[string]bool{}
	for _, f := range b.Features {
		bare[f.Name], full[f.Name] = true, true
	}
	for _, word := range sheetWords {
		full[word] = true
	}
	return [2]map[string]bool{bare, full}
}

// speaksOf tells whether one of the conditions is about a feature.
func speaksOf(list []condition, feature string) bool {
	return slices.ContainsFunc(list, func(c condition) bool { return slices.Contains(c.when.Features(), feature) })
}

func asksFor(c logic.Condition, feature string) bool { return slices.Contains(c.Features(), feature) }
