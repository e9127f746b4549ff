package render

import "ownerguide/spec/product"

// reading is what a unit with certain features gets to read: conditions are
// followed and nothing is filled in, so that it says independently what a guide
// has to hold. A block that also asks for a figure counts as left out: no caution may
// hang on one. TestCoveringUnits holds it against real guides.
type reading struct {
	templates *Templates
	line      *product.Line
	has       func(string) bool
	sections  map[string]bool
	tasks     map[string]bool
	work      map[string]bool // cautions shown where the work is described
	safety    map[string]bool // cautions of the safety chapter
}

func read(t *Templates, l *product.Line, has func(string) bool) *reading {
	r := &reading{templates: t, line: l, has: has, sections: map[string]bool{}, tasks: map[string]bool{},
		work: map[string]bool{}, safety: map[string]bool{}}
	r.children("")
	return r
}

func (r *reading) children(parent string) {
	for _, s := range r.templates.languages[Base].sections {
		if s.parent != parent || !s.when.Holds(r.has) {
			continue
		}
		if !s.inGuide() {
			continue
		}
		r.sections[s.id] = true
		r.body(s.body)
		r.children(s.id)
	}
}

// body reads blocks; what stands under a heading goes with it.
func (r *reading) body(body []piece) {
	for i := 0; i < len(body); i++ {
		p := &body[i]
		if p.when.Holds(r.has) {
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
		if c := r.templates.caution(f.args[0]); c.When.Holds(r.has) {
			r.work[f.args[0]] = true
		}
	case "safety":
		for i := range r.templates.cautions {
			if c := &r.templates.cautions[i]; c.Grave.Value && c.When.Holds(r.has) {
				r.safety[c.ID.Value] = true
			}
		}
	case "tasks":
		for _, task := range r.line.Tasks {
			if task.System.Value == f.args[0] && task.When.Holds(r.has) {
				r.tasks[task.ID.Value] = true
				r.body(r.templates.languages[Base].tasks[task.ID.Value].body)
			}
		}
	}
}
