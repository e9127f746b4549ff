package template

import (
	"maps"
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// CheckAgainst checks the templates against a line: the features in conditions must be
// possible, and every job must have a text. A feature of the maker's own that no condition
// uses is an error, since it was meant to have an effect.
func (t *Templates) CheckAgainst(l *product.Line) source.Findings {
	c := &lineChecker{templates: t, line: l, asked: map[string]bool{}, vocabulary: spec.Vocabulary(l), options: options(l)}
	for _, model := range l.Models {
		c.places = append(c.places, model.EveryPart().Names()...)
	}
	c.jobs()
	troubles := t.shown(proof.Troubles)
	for _, e := range t.Troubles {
		c.filed(codeTrouble, "trouble entries", "trouble", e.System, troubles)
	}
	for _, g := range t.Texts().Gates {
		c.condition(g.Own)
	}
	for _, r := range t.Texts().References {
		switch r.Kind {
		case proof.Word, proof.Asked:
			c.option(r.Name, r.At)
		case proof.Stop:
			c.point(r)
		}
	}
	c.labels()
	c.switchedOff()
	c.checkUnusedFeatures()
	return c.findings
}

// lineChecker checks templates against a line.
type lineChecker struct {
	templates  *Templates
	line       *product.Line
	vocabulary []string
	options    []string
	places     []string        // of parts
	asked      map[string]bool // features of the vocabulary that the templates use
	findings   source.Findings
}

func options(l *product.Line) []string {
	ids := map[string]bool{}
	for _, model := range l.Models {
		for _, id := range model.Options.Names() {
			ids[id] = true
		}
	}
	return slices.Sorted(maps.Keys(ids))
}

func (c *lineChecker) condition(when logic.Condition) {
	for _, name := range when.Facts() {
		if strings.Contains(name, ":") {
			continue // a value, which is checked as a reference
		}
		if _, found := slices.BinarySearch(c.vocabulary, name); found {
			c.asked[name] = true
		} else {
			c.findings.Add(codeFeature.At(when.At(name), "no model, option or component brings the feature %q", name).DidYouMean(name, c.vocabulary, ""))
		}
	}
}

// option checks names of options, which depend on the line.
func (c *lineChecker) option(name string, at source.Pos) {
	if id, ok := strings.CutPrefix(name, "option."); ok && !slices.Contains(c.options, id) {
		c.findings.Add(suggestNearest(CodeValue.At(at, "no model has an option %q", id), id, c.options, "did you mean {option.%s}?"))
	}
}

// point checks that a point of the walk-around is a kind of part, a place of the
// line or a usual one, or a landmark of the drawings.
func (c *lineChecker) point(r proof.Reference) {
	labels := c.templates.languages[Base].Labels
	for _, kind := range []string{"kind.", "place."} {
		if _, there := labels[kind+r.Name]; there {
			return
		}
	}
	known := slices.Concat(c.templates.program.Landmarks, c.places)
	if slices.Contains(known, r.Name) {
		return
	}
	for _, key := range keys(labels) {
		if kind, rest, _ := strings.Cut(key, "."); kind == "kind" || kind == "place" {
			known = append(known, rest)
		}
	}
	c.findings.Add(codeOutline.At(r.At, "the point is at %q, which is no part of any unit", r.Name).DidYouMean(r.Name, known, ""))
}

// labels reports labels that neither the program nor a text uses and that do not belong to
// a word of the line: its places and the words for its parts have labels too.
func (c *lineChecker) labels() {
	known := keys(c.templates.languages[Base].Labels)
	for _, l := range c.templates.unusedLabels {
		kind, word, _ := strings.Cut(l.Name, ".")
		if (kind == "place" || kind == "enum") && c.line.HasWord(word) {
			continue
		}
		f := CodeLabel.At(l.At, "nothing asks for a label %q", l.Name)
		others := slices.DeleteFunc(slices.Clone(known), func(k string) bool { return k == l.Name })
		c.findings.Add(f.DidYouMean(l.Name, others, ""))
	}
}

// checkUnusedFeatures reports features of the line that no condition of a text, a caution
// or a job uses.
func (c *lineChecker) checkUnusedFeatures() {
	asked := keys(c.asked)
	for _, t := range c.line.Tasks {
		asked = append(asked, t.When.Facts()...)
	}
	for _, w := range c.line.Provided() {
		if slices.Contains(asked, w.Value) {
			continue
		}
		f := codeIdle.At(w.At, "nothing asks for the feature %q", w.Value)
		if nearest, ok := source.Nearest(w.Value, slices.DeleteFunc(slices.Clone(c.vocabulary), func(known string) bool { return known == w.Value })); !ok {
			f = f.WithHint("delete it, or give it a caution, a job or a text")
		} else if when, derived := spec.DerivedFeatures()[nearest]; derived {
			f = f.WithHint("delete it if you mean %q: a unit has that when %s", nearest, when)
		} else {
			f = f.WithHint("did you mean %q?", nearest)
		}
		c.findings.Add(f)
	}
}

// filed checks that something is filed under a system of the program or one that some
// section shows: of each unit, the proof checks that it is shown.
func (c *lineChecker) filed(code source.Code, what, block string, system word, shown []string) {
	shown = append(slices.Clone(c.line.Systems), shown...)
	if !slices.Contains(shown, system.Value) {
		c.findings.Add(code.At(system.At, "no section shows the %s of the system %q", what, system.Value).
			DidYouMean(system.Value, shown, "put a block ```"+block+" "+system.Value+" into a section"))
	}
}

// jobs checks that each job of the line has a text, and each text a job.
func (c *lineChecker) jobs() {
	var ids, filed []string
	shown := c.templates.shown(proof.Jobs)
	for _, task := range c.line.Tasks {
		ids, filed = append(ids, task.ID.Value), append(filed, task.System.Value)
		c.filed(CodeTask, "jobs", "tasks", task.System, shown)
		for _, value := range task.Values {
			if !derive.IsDeclared(value.Value) {
				c.findings.Add(CodeTask.At(value.At, "job %q names the value %q, which does not exist", task.ID.Value, value.Value))
			}
		}
	}
	for _, r := range c.templates.Texts().References {
		if r.Kind == proof.Jobs && !slices.Contains(filed, r.Name) {
			c.findings.Add(CodeTask.At(r.At, "no job is filed under the system %q", r.Name).DidYouMean(r.Name, filed, ""))
		}
	}
	sections := map[string]bool{}
	for _, s := range c.templates.Sections() {
		sections[s.ID] = s.InGuide()
	}
	for _, name := range c.templates.Languages() {
		lang := c.templates.languages[name]
		for _, id := range keys(lang.Jobs) {
			for _, home := range lang.Jobs[id]().Home {
				if !sections[home.Value] {
					c.findings.Add(CodeTask.At(home.At, "there is no section %q in the guide to tell the job at", home.Value).DidYouMean(home.Value, keys(sections), ""))
				}
			}
		}
		for _, task := range c.line.Tasks {
			if name == Base && lang.Jobs[task.ID.Value] == nil {
				c.findings.Add(CodeTask.At(task.ID.At, "job %q has no words in %s/tasks", task.ID.Value, name))
			}
		}
		for _, id := range keys(lang.Jobs) {
			if !slices.Contains(ids, id) {
				c.findings.Add(CodeTask.At(lang.Jobs[id]().At, "there is no job %q", id).DidYouMean(id, ids, ""))
			}
		}
	}
}
