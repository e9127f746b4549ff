package render

import (
	"ownerguide/render/template"
	"ownerguide/spec/product"
)

// reading is what a unit with certain features gets to read: conditions are
// followed and nothing is filled in, so that it says independently what a guide
// has to hold. A block that also asks for a figure counts as left out: no caution may
// hang on one. TestCoveringUnits compares it with real guides.
type reading struct {
	templates *Templates
	words     *template.Language
	line      *product.Line
	has       func(string) bool
	sections  map[string]bool
	tasks     map[string]bool
	work      map[string]bool // cautions shown where the work is described
	safety    map[string]bool // cautions of the safety chapter
}

func read(t *Templates, l *product.Line, has func(string) bool) *reading {
	r := &reading{templates: t, words: t.Language(template.Base), line: l, has: has, sections: map[string]bool{}, tasks: map[string]bool{},
		work: map[string]bool{}, safety: map[string]bool{}}
	r.sectionsIn(t.Outline)
	return r
}

func (r *reading) sectionsIn(list []*template.Section) {
	for _, s := range list {
		if !s.When.Holds(r.has) || !s.InGuide() {
			continue
		}
		r.sections[s.ID] = true
		r.body(r.words.Sections[s.ID]().Body)
		r.sectionsIn(s.Parts)
	}
}

// body reads blocks; what stands under a heading goes with it.
func (r *reading) body(body []template.Block) {
	for i := 0; i < len(body); i++ {
		b := &body[i]
		if b.When.Holds(r.has) {
			if b.Call != nil {
				r.call(b.Call)
			}
			r.body(b.Blocks)
		} else if b.Kind == template.Heading {
			i = template.HeadingEnd(body, i) - 1
		}
	}
}

func (r *reading) call(c *template.Call) {
	switch c.Name {
	case "caution":
		if caution := r.templates.Caution(c.Arg(0)); caution.When.Holds(r.has) {
			r.work[c.Arg(0)] = true
		}
	case "safety":
		for i := range r.templates.Cautions {
			if c := &r.templates.Cautions[i]; c.Grave.Value && c.When.Holds(r.has) {
				r.safety[c.ID.Value] = true
			}
		}
	case "tasks":
		for _, task := range r.line.Tasks {
			if task.System.Value == c.Arg(0) && task.When.Holds(r.has) {
				r.tasks[task.ID.Value] = true
				r.body(r.words.Jobs[task.ID.Value]().Body)
			}
		}
	}
}
