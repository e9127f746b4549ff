package render

import (
	"slices"
	"strings"

	"ownerguide/render/draw"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// Texts lists everything the templates say of a unit, with the conditions under
// which it is said: for proofs over all units, which never open templates. It
// follows what assembling a guide does, and fills nothing in.
func (t *Templates) Texts() *proof.Texts {
	out := &proof.Texts{}
	base := t.languages[Base]
	for i := range t.cautions {
		c := &t.cautions[i]
		own := proof.Caution{ID: c.ID.Value, Hazards: values(c.Hazards), Grave: c.Grave.Value, When: c.When, At: c.ID.At}
		out.Cautions = append(out.Cautions, own)
		out.Gates = append(out.Gates, proof.Gate{What: "caution " + own.ID, Own: own.When, Front: true, At: own.At})
	}
	for i := range t.troubles {
		e := &t.troubles[i]
		out.Gates = append(out.Gates, proof.Gate{What: "trouble entry " + e.ID.Value, Own: e.When, Front: true, At: e.ID.At})
	}
	for _, group := range t.work.groups() {
		for _, item := range *group.texts {
			if e := item.Value.Everyone; e.Value {
				out.Duties = append(out.Duties, proof.Duty{In: group.of + " " + item.Key, At: e.At})
			}
			var only []string
			for _, w := range item.Value.For {
				out.Duties = append(out.Duties, proof.Duty{In: group.of + " " + item.Key, Feature: w.Value, At: w.At})
				only = append(only, w.Value)
			}
			if only != nil {
				out.Duties = append(out.Duties, proof.Duty{In: group.of + " " + item.Key, Only: only, At: item.Value.For[0].At})
			}
			for _, w := range item.Value.Hazards {
				out.Duties = append(out.Duties, proof.Duty{In: group.of + " " + item.Key, Hazard: w.Value, At: w.At})
			}
			for _, w := range item.Value.Figures {
				out.Duties = append(out.Duties, proof.Duty{In: group.of + " " + item.Key, Figure: w.Value, At: w.At})
			}
		}
	}
	paths := pathsOf(base)
	for _, s := range base.sections {
		above := logic.Condition{}
		if p, ok := paths[s.parent]; ok {
			above = p.when
		}
		out.Gates = append(out.Gates, proof.Gate{What: "section " + s.id, Own: s.when, Where: above, Front: true, At: s.at})
	}
	for _, name := range t.Languages() {
		u := &user{templates: t, lang: t.languages[name], out: out}
		u.language(base, paths)
		u.ids()
	}
	return out
}

// standing is where a section stands: the condition of it and all above it, and
// whether that is beside the guide alone, on the card or in the mail.
type standing struct {
	when   logic.Condition
	beside bool
}

func pathsOf(base *language) map[string]standing {
	byID := map[string]*section{}
	for _, s := range base.sections {
		byID[s.id] = s
	}
	paths := map[string]standing{}
	for _, s := range base.sections {
		p := standing{when: s.when, beside: !s.inGuide()}
		for up := byID[s.parent]; up != nil; up = byID[up.parent] {
			p.when = up.when.And(p.when)
			p.beside = p.beside || !up.inGuide()
		}
		p.when.Pos = s.at
		paths[s.id] = p
	}
	return paths
}

// user walks over the texts of one language.
type user struct {
	templates *Templates
	lang      *language
	out       *proof.Texts
	in        string
	beside    bool
}

func (u *user) add(use proof.Use) {
	use.Lang, use.In, use.Beside = u.lang.name, u.in, u.beside
	u.out.Uses = append(u.out.Uses, use)
}

// atom is the condition that something is so which is no feature: see [proof.Use].
func atom(kind proof.Kind, name string) logic.Condition {
	return logic.Condition{Formula: logic.Fact(string(kind) + ":" + name)}
}

func (u *user) language(base *language, paths map[string]standing) {
	words := map[string]*section{}
	for _, s := range u.lang.sections {
		words[s.id] = s
	}
	for _, s := range base.sections {
		own := words[s.id]
		if own == nil {
			continue // the ids of the languages differ, which is said elsewhere
		}
		p := paths[s.id]
		u.in, u.beside = "section "+s.id, p.beside
		u.add(proof.Use{Kind: proof.Section, Name: s.id, When: p.when, At: own.at})
		if s.stop.Set {
			u.add(proof.Use{Kind: proof.Stop, Name: s.stop.Value, When: p.when, At: s.stop.At,
				Speaks: spoken(append([]logic.Condition{s.when}, s.conditions...)), Landmark: slices.Contains(draw.Landmarks(), s.stop.Value)})
		}
		u.inlines(own.title, p.when)
		u.body(own.body, p.when)
	}
	u.beside = false
	for _, id := range keys(u.lang.tasks) {
		task, when := u.lang.tasks[id], atom(proof.Job, id)
		u.in = "job " + id
		u.add(proof.Use{Kind: proof.Job, Name: id, When: when, At: task.at, Speaks: spoken(task.conditions)})
		u.inlines(task.title, when)
		u.inlines(task.tools, when)
		u.body(task.body, when)
	}
	for _, id := range keys(u.lang.cautions) {
		c := u.lang.cautions[id]
		u.in = "caution " + id
		u.lines(atom(proof.Panel, id), append([][]inline{c.hazard, c.consequence}, c.avoid...)...)
	}
	for _, id := range keys(u.lang.troubles) {
		e := u.lang.troubles[id]
		u.in = "trouble entry " + id
		when := atom(proof.Trouble, id)
		u.lines(when, e.symptom)
		u.body(slices.Concat(e.cause, e.do, e.stop), when)
	}
	for _, id := range keys(u.lang.statements) {
		s := u.lang.statements[id]
		u.in = "statement " + id
		u.lines(atom(proof.Statement, id), slices.Concat(s.paragraphs, s.steps)...)
	}
}

// spoken lists the features that conditions are about.
func spoken(list []logic.Condition) (features []string) {
	for _, c := range list {
		for _, name := range c.Facts() {
			if !strings.Contains(name, ":") {
				features = append(features, name)
			}
		}
	}
	return features
}

func (u *user) lines(when logic.Condition, lines ...[]inline) {
	for _, line := range lines {
		u.inlines(line, when)
	}
}

// body goes through blocks; what stands under a heading goes with it.
func (u *user) body(body []piece, where logic.Condition) {
	for i := 0; i < len(body); {
		p := &body[i]
		i++
		own := u.gate(p.when, where)
		if p.kind == pieceHeading {
			end := i
			for end < len(body) && !(body[end].kind == pieceHeading && body[end].level <= p.level) {
				end++
			}
			u.inlines(p.inlines, own)
			u.body(body[i:end], own)
			i = end
			continue
		}
		u.inlines(p.inlines, own)
		u.body(p.children, own)
		if p.fence != nil {
			u.fence(p, own)
		}
	}
}

// gate notes a condition in the text and gives what it and all around it ask.
func (u *user) gate(when, where logic.Condition) logic.Condition {
	if !when.Always() {
		u.out.Gates = append(u.out.Gates, proof.Gate{What: "{?" + when.String() + "}", Own: when, Where: where, Lang: u.lang.name, At: when.Pos})
	}
	return where.And(when)
}

func (u *user) inlines(list []inline, when logic.Condition) {
	eachInline(list, func(in *inline) {
		switch {
		case in.kind == inlinePlaceholder && in.text == "task.interval":
		case in.kind == inlinePlaceholder && derive.IsDeclared(in.text):
			u.add(proof.Use{Kind: proof.Value, Name: in.text, When: when, At: in.at})
		case in.kind == inlinePlaceholder:
			u.add(proof.Use{Kind: proof.Word, Name: in.text, When: when, At: in.at})
		case in.kind == inlineLink && strings.HasPrefix(in.text, "#"):
			u.add(proof.Use{Kind: proof.Link, Name: u.target(in.text[1:]), When: when, At: in.at})
		}
	})
}

// target gives the section or job that an address is in: a heading inside a
// section is taken for the section.
func (u *user) target(address string) string {
	base := u.templates.languages[Base]
	known := base.tasks[address] != nil || slices.ContainsFunc(base.sections, func(s *section) bool { return s.id == address })
	if m := innerHeading.FindStringSubmatch(address); !known && m != nil {
		return m[1]
	}
	return address
}

func (u *user) fence(p *piece, when logic.Condition) {
	f := p.fence
	argument := ""
	if len(f.args) > 0 {
		argument = f.args[0]
	}
	switch f.kind {
	case "caution":
		c := u.templates.caution(argument)
		u.add(proof.Use{Kind: proof.Panel, Name: argument, When: when.And(c.When), At: p.at})
	case "safety":
		for i := range u.templates.cautions {
			if c := &u.templates.cautions[i]; c.Grave.Value {
				u.add(proof.Use{Kind: proof.Safety, Name: c.ID.Value, When: when.And(c.When), At: p.at})
			}
		}
	case "trouble":
		for i := range u.templates.troubles {
			if e := &u.templates.troubles[i]; e.System.Value == argument {
				u.add(proof.Use{Kind: proof.Trouble, Name: e.ID.Value, When: when.And(e.When), At: p.at})
			}
		}
	case "drawing":
		u.add(proof.Use{Kind: proof.Drawing, Name: argument, When: when, At: p.at})
	case "statement":
		u.add(proof.Use{Kind: proof.Statement, Name: argument, When: when, At: p.at})
	case "tasks":
		u.add(proof.Use{Kind: proof.Jobs, Name: argument, When: when, At: p.at})
	case "schedule":
		u.add(proof.Use{Kind: proof.Schedule, Name: argument, When: when, At: p.at})
	}
	for i := range f.body {
		line := &f.body[i]
		own := u.gate(line.when, when)
		switch task, interval := strings.CutPrefix(line.name, "interval."); {
		case interval: // left out where the unit has no such job
			own = own.And(atom(proof.Task, task))
			u.add(proof.Use{Kind: proof.Task, Name: task, When: own, At: line.at})
		case line.name != "": // left out where there is no such figure or word
			own = own.And(atom(proof.Value, line.name))
			kind := proof.Word
			if derive.IsDeclared(line.name) {
				kind = proof.Value
			}
			u.add(proof.Use{Kind: kind, Name: line.name, When: own, At: line.at})
		}
		u.inlines(line.label, own)
	}
}

// ids lists what a language has words for.
func (u *user) ids() {
	add := func(kind, id string, at source.Pos) {
		u.out.Words = append(u.out.Words, proof.Words{Lang: u.lang.name, Kind: kind, ID: id, At: at})
	}
	for _, s := range u.lang.sections {
		add("section", s.id, s.at)
	}
	for _, id := range keys(u.lang.tasks) {
		add("job", id, u.lang.tasks[id].at)
	}
	for _, id := range keys(u.lang.cautions) {
		add("caution", id, u.lang.cautions[id].at)
	}
	for _, id := range keys(u.lang.troubles) {
		add("trouble entry", id, u.lang.troubles[id].at)
	}
	for _, id := range keys(u.lang.labels) {
		add("label", id, u.lang.labels[id].At)
	}
}

// Pictures tries the pictures a unit is shown, and reports those that cannot be
// drawn. What it returns may be called for many units at once.
func (t *Templates) Pictures() proof.Inspect {
	var shown []proof.Use
	for _, u := range t.Texts().Uses {
		if u.Kind == proof.Drawing && u.Lang == Base {
			shown = append(shown, u)
		}
	}
	return func(b *spec.Build, vs *derive.Values, plan derive.Plan) source.Findings {
		a, _, ok := t.begin(b, vs, plan)
		if !ok {
			return a.findings
		}
		a.findings = nil // what begin finds, the claims say better
		has := func(name string) bool {
			switch kind, id, _ := strings.Cut(name, ":"); proof.Kind(kind) {
			case proof.Value:
				return a.exists(id)
			case proof.Job, proof.Task:
				return a.taskOf(id) != nil
			}
			return b.Has(name)
		}
		tried := map[string]bool{}
		for _, u := range shown {
			if tried[u.Name] || !u.When.Holds(has) {
				continue
			}
			tried[u.Name] = true
			subject := draw.Subject{Build: b, Values: vs, Plan: plan, Stops: a.stops, Label: a.label, Figure: a.figure}
			if _, _, err := draw.Draw(u.Name, subject); err != nil {
				a.findings.Add(codeDrawing.At(u.At, "drawing %q: %v", u.Name, err))
			}
		}
		return a.findings
	}
}
