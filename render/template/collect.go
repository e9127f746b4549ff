package template

import (
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// collect lists everything that the texts name, and the conditions in them, in a single
// walk. It reports what is not allowed in a text; whether the names exist is checked
// later on the list.
func (t *Templates) collect() (findings source.Findings) {
	for i := range t.Cautions {
		c := &t.Cautions[i]
		own := proof.Caution{ID: c.ID.Value, Word: c.Word.Value, Grave: c.Grave.Value, When: c.When, At: c.ID.At}
		t.texts.Cautions = append(t.texts.Cautions, own)
		t.texts.Gates = append(t.texts.Gates, proof.Gate{What: "caution " + own.ID, Own: own.When, Front: true, At: own.At})
	}
	for i := range t.Troubles {
		e := &t.Troubles[i]
		t.texts.Gates = append(t.texts.Gates, proof.Gate{What: "trouble entry " + e.ID.Value, Own: e.When, Front: true, At: e.ID.At})
	}
	for _, s := range t.Sections() {
		above := logic.Condition{}
		if s.Parent != nil {
			above = s.Parent.fullCondition()
		}
		t.texts.Gates = append(t.texts.Gates, proof.Gate{What: "section " + s.ID, Own: s.When, Where: above, Front: true, At: s.At})
	}
	for _, name := range t.Languages() {
		c := &collector{templates: t, lang: t.languages[name], findings: &findings}
		c.language()
		c.labels()
		c.ids()
	}
	return findings
}

// findPrescribed lists the references to prescribed texts from the few sections and jobs that
// may have one: each unit asks for them, and for nothing else that all texts together say.
func (t *Templates) findPrescribed() []proof.Reference {
	some := *t
	some.texts = &proof.Texts{}
	for _, name := range t.Languages() {
		c := &collector{templates: &some, lang: t.languages[name], findings: &source.Findings{}}
		for _, s := range t.Sections() {
			if words := c.lang.Sections[s.ID]; words != nil && c.lang.statements[s.ID] {
				c.section(s, words())
			}
		}
		c.beside, c.documents = false, nil
		for _, id := range keys(c.lang.Jobs) {
			if c.lang.statements[id] {
				c.job(id)
			}
		}
	}
	return slices.DeleteFunc(some.texts.References, func(r proof.Reference) bool { return r.Kind != proof.Statement })
}

// fullCondition returns the conjunction of the conditions of a section and its ancestors.
func (s *Section) fullCondition() logic.Condition {
	when := s.When
	for up := s.Parent; up != nil; up = up.Parent {
		when = up.When.And(when)
	}
	when.Pos = s.At
	return when
}

// besideGuide reports whether a section, or an ancestor, is only in a document beside the guide.
func (s *Section) besideGuide() bool {
	return !s.InGuide() || s.Parent != nil && s.Parent.besideGuide()
}

// collector walks over the texts of one language.
type collector struct {
	templates *Templates
	lang      *Language
	findings  *source.Findings
	in        string // the current text, such as "section brakes"
	beside    bool
	documents []string // documents beside the guide that contain the text: [Card], [Leaf], [Mail]
}

func (c *collector) report(f source.Finding) { c.findings.Add(f) }

// refer records a reference.
func (c *collector) refer(r proof.Reference) {
	r.Lang, r.In, r.Beside = c.lang.Name, c.in, c.beside
	c.templates.texts.References = append(c.templates.texts.References, r)
}

// atom returns a condition on something other than a feature: see [proof.Reference].
func atom(kind proof.Kind, name string) logic.Condition {
	return logic.Condition{Formula: logic.Fact(string(kind) + ":" + name)}
}

func (c *collector) language() {
	for _, caution := range c.templates.Cautions {
		if caution.Word.Set { // an invalid word has been reported already
			c.in = "caution " + caution.ID.Value
			c.refer(proof.Reference{Kind: proof.Label, Name: "signal." + caution.Word.Value, At: caution.Word.At})
		}
	}
	for _, s := range c.templates.Sections() {
		if words := c.lang.Sections[s.ID]; words != nil {
			c.section(s, words())
		}
	}
	c.beside, c.documents = false, nil
	for _, id := range keys(c.lang.Jobs) {
		c.job(id)
	}
	for _, id := range keys(c.lang.Cautions) {
		w, when := c.lang.Cautions[id], atom(proof.Panel, id)
		c.in = "caution " + id
		c.text("hazard", w.At, w.Hazard, when)
		if w.Short != nil {
			c.text("short hazard", w.At, w.Short, when)
		}
		c.text("consequence", w.At, w.Consequence, when)
		for _, line := range w.Avoid {
			c.text("avoid line", w.At, line, when)
		}
	}
	for _, id := range keys(c.lang.Troubles) {
		w, when := c.lang.Troubles[id], atom(proof.Trouble, id)
		c.in = "trouble entry " + id
		c.text("symptom", w.At, w.Symptom, when)
		if w.Short != nil {
			c.text("short symptom", w.At, w.Short, when)
		}
		c.body(slices.Concat(w.Cause, w.Do, w.Stop), when, true)
	}
	c.terms()
	for _, id := range keys(c.lang.Statements) {
		w, when := c.lang.Statements[id], atom(proof.Statement, id)
		c.in = "statement " + id
		for _, line := range slices.Concat(w.Paragraphs, w.Steps) {
			if c.lang.Name == Base { // it is the same in each
				c.passage("line", "", w.At, line)
			}
			c.inlines(line, when)
		}
	}
}

func (c *collector) job(id string) {
	job, when := c.lang.Jobs[id](), atom(proof.Job, id)
	c.in = "job " + id
	first := len(c.templates.texts.Gates)
	c.text("title", job.At, job.Title, when)
	c.text("line of tools", job.At, job.Tools, when)
	c.homes(job)
	c.body(job.Body, when, true)
	c.refer(proof.Reference{Kind: proof.Job, Name: id, When: when, At: job.At, Speaks: c.featuresSpokenOf(first, logic.Condition{})})
}

func (c *collector) section(s *Section, words *SectionWords) {
	when := s.fullCondition()
	c.in, c.beside, c.documents = "section "+s.ID, s.besideGuide(), nil
	first := len(c.templates.texts.Gates)
	c.refer(proof.Reference{Kind: proof.Section, Name: s.ID, When: when, At: words.At})
	for _, d := range []struct{ shown, document string }{{s.Card, Card}, {s.Leaf, Leaf}, {s.Mail, Mail}} {
		if d.shown != "" {
			c.documents = append(c.documents, d.document)
			c.passage("home "+d.document+", "+d.shown, "", words.At, nil)
		}
	}
	c.text("title", words.At, words.Title, when)
	c.body(words.Body, when, true)
	if s.Part.Set {
		c.refer(proof.Reference{Kind: proof.Label, Name: "part." + s.Part.Value, When: logic.Condition{}, At: s.Part.At})
	}
	if s.Point.Set {
		c.refer(proof.Reference{Kind: proof.Stop, Name: s.Point.Value, When: when, At: s.Point.At,
			Speaks: c.featuresSpokenOf(first, s.When), Landmark: slices.Contains(c.templates.program.Landmarks, s.Point.Value)})
	}
}

// featuresSpokenOf returns the features that occur in own and in the conditions
// recorded from index first on.
func (c *collector) featuresSpokenOf(first int, own logic.Condition) (features []string) {
	note := func(when logic.Condition) {
		for _, name := range when.Facts() {
			if !strings.Contains(name, ":") {
				features = append(features, name)
			}
		}
	}
	note(own)
	for _, g := range c.templates.texts.Gates[first:] {
		note(g.Own)
	}
	return features
}

// text collects from a phrase that is a whole text.
func (c *collector) text(kind string, at source.Pos, list []Inline, when logic.Condition) {
	c.passage(kind, "", at, list)
	c.inlines(list, when)
}

// body collects from blocks; the blocks under a heading have its condition too.
func (c *collector) body(body []Block, where logic.Condition, top bool) {
	for i := 0; i < len(body); i++ {
		b := &body[i]
		own := c.gate(b.When, where)
		c.passage(b.String(), b.When.String(), b.At, b.Inlines)
		c.inlines(b.Inlines, own)
		switch {
		case b.Kind == Heading:
			end := HeadingEnd(body, i)
			c.body(body[i+1:end], own, top)
			i = end - 1
		case b.Call != nil:
			c.call(b, own, top)
		default:
			c.body(b.Blocks, own, false)
		}
	}
}

// gate records a condition in the text and returns its conjunction with the surrounding condition.
func (c *collector) gate(when, where logic.Condition) logic.Condition {
	if !when.Always() {
		c.templates.texts.Gates = append(c.templates.texts.Gates, proof.Gate{What: "{?" + when.String() + "}", In: c.in, Own: when, Where: where, Lang: c.lang.Name, At: when.Pos})
		for _, name := range when.Facts() {
			if value, is := strings.CutPrefix(name, Exists+":"); is {
				c.refer(proof.Reference{Kind: proof.Asked, Name: value, When: where, At: when.At(name)})
			}
		}
	}
	return where.And(when)
}

func (c *collector) inlines(list []Inline, when logic.Condition) {
	for i := range list {
		in := &list[i]
		switch {
		case in.Kind == Placeholder && in.Text == "task.interval":
			if !strings.HasPrefix(c.in, "job ") {
				c.report(CodePlaceholder.At(in.At, "{task.interval} can only stand in a job of tasks/"))
			}
		case in.Kind == Placeholder && !isCondition(*in): // a misplaced condition has been reported already
			c.named(in.Text, when, in.At)
		case in.Kind == Link && strings.HasPrefix(in.Text, "#"):
			c.refer(proof.Reference{Kind: proof.Link, Name: c.target(in.Text[1:]), When: when, At: in.At})
		}
		c.inlines(in.Inlines, when)
	}
}

// passage records a part of a text, for comparison with other languages and for the snapshot.
func (c *collector) passage(kind, when string, at source.Pos, list []Inline) {
	p := proof.Passage{Lang: c.lang.Name, In: c.in, Kind: kind, When: when, At: at}
	var words, said strings.Builder
	var add func([]Inline)
	add = func(list []Inline) {
		for i := range list {
			in := &list[i]
			switch {
			case in.Kind == Text:
				words.WriteString(in.Text)
				said.WriteString(in.Text)
			case in.Kind == Placeholder && !isCondition(*in):
				name, _ := CutNoun(in.Text) // another language may need another form of the noun
				p.Names = append(p.Names, "{"+name+"}")
				said.WriteString("{" + in.Text + "}")
			case in.Kind == Link:
				p.Names = append(p.Names, "the link to "+in.Text)
				said.WriteString("(" + in.Text + ") ")
			case in.Kind == Box:
				p.Names = append(p.Names, "the box to tick")
				said.WriteString("[ ] ")
			case in.Kind == Break:
				said.WriteString(" ")
			}
			add(in.Inlines)
		}
	}
	add(list)
	slices.Sort(p.Names)
	p.Said = strings.Join(strings.Fields(said.String()), " ")
	if p.Words = p.Said; len(p.Names) > 0 { // most name nothing: one string serves both
		p.Words = strings.TrimSpace(words.String())
	}
	c.templates.texts.Passages = append(c.templates.texts.Passages, p)
}

// homes records the sections that contain a job.
func (c *collector) homes(job *JobWords) {
	for _, home := range job.Home {
		c.passage("home "+home.Value, "", home.At, nil)
	}
}

var labelBrace = source.Pattern(`\{[^}]*\}`)

// labels records every label. The date format is specific to each language.
func (c *collector) labels() {
	for _, id := range keys(c.lang.Labels) {
		l := c.lang.Labels[id]
		if id == "date" || c.ownForm(id) {
			continue
		}
		names := labelBrace().FindAllString(l.Value, -1)
		slices.Sort(names)
		c.templates.texts.Passages = append(c.templates.texts.Passages, proof.Passage{Lang: c.lang.Name, In: "label " + id, Kind: "label",
			Names: names, Words: strings.TrimSpace(labelBrace().ReplaceAllString(l.Value, " ")), Said: l.Value, At: l.At})
	}
}

// ownForm reports whether a label is specific to a language: a plural rule, a plural
// form, the name of a month.
func (c *collector) ownForm(id string) bool {
	if id == AlphabetLabel || strings.HasPrefix(id, pluralLabel) || strings.HasPrefix(id, monthLabel) {
		return true
	}
	of, class, found := cutLast(id)
	return found && slices.Contains(doc.PluralClasses, class) && c.lang.Labels[of].Set
}

// CutNoun splits a placeholder into the name of a value and the noun it counts:
// {wheels.studs nuts} is printed by the label count.nuts, in the plural form for that count.
func CutNoun(placeholder string) (name, noun string) {
	name, noun, _ = strings.Cut(placeholder, " ")
	return name, noun
}

// named records a value or word, and the label of the noun it counts.
func (c *collector) named(placeholder string, when logic.Condition, at source.Pos) {
	name, noun := CutNoun(placeholder)
	if noun != "" {
		c.refer(proof.Reference{Kind: proof.Label, Name: CountLabel + noun, When: when, At: at})
	}
	kind := proof.Word
	if derive.IsDeclared(name) {
		kind = proof.Value
	}
	c.refer(proof.Reference{Kind: kind, Name: name, When: when, At: at})
}

// innerHeading matches the address of a heading inside a section's text.
var innerHeading = source.Pattern(`^(.+)-[0-9]+$`)

// target returns the section or job of an address; for a heading inside a section, that
// section.
func (c *collector) target(address string) string {
	base := c.templates.languages[Base]
	if m := innerHeading().FindStringSubmatch(address); m != nil && base.Jobs[address] == nil && base.Sections[address] == nil {
		return m[1]
	}
	return address
}

// ids records the ids of all texts of a language.
func (c *collector) ids() {
	add := func(kind, id string, at source.Pos) {
		c.templates.texts.Words = append(c.templates.texts.Words, proof.Words{Lang: c.lang.Name, Kind: kind, ID: id, At: at})
	}
	for _, s := range c.templates.Sections() {
		if words := c.lang.Sections[s.ID]; words != nil {
			add("section", s.ID, words().At)
		}
	}
	for _, id := range keys(c.lang.Jobs) {
		add("job", id, c.lang.Jobs[id]().At)
	}
	for _, id := range keys(c.lang.Cautions) {
		add("caution", id, c.lang.Cautions[id].At)
	}
	for _, id := range keys(c.lang.Troubles) {
		add("trouble entry", id, c.lang.Troubles[id].At)
	}
	for _, id := range keys(c.lang.Labels) {
		if !c.ownForm(id) {
			add("label", id, c.lang.Labels[id].At)
		}
	}
}
