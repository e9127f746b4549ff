package render

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Calculations makes the document for the maker's engineer: every figure with its inputs,
// every limit with its margin, and the prescribed texts that nobody has confirmed yet. It
// is never given to the owner. Positions in files do not include the folder, so that the
// same inputs give the same document everywhere.
func (t *Templates) Calculations(b *spec.Build, vs *derive.Values, made Made) (*doc.Guide, source.Findings) {
	a, g, ok := t.begin(b, vs)
	if !ok {
		return nil, a.findings
	}
	defer t.kept.Release(&a.answers)
	s := &calculations{assembly: a}
	g.Title = s.words("calc.title", "model", g.Model, "serial", g.Serial)
	s.cover(g)
	comparisons := vs.Comparisons()
	s.verdict(g, comparisons, made)
	s.identity(g)
	s.bodies(g)
	s.limits(g, comparisons)
	s.values(g)
	s.statements(g)
	s.switchedOff(g)
	s.tasks(g)
	a.fillContents(g.Sections)
	a.checkLinks(g)
	return g, a.findings
}

// calculations is the state while one such document is made. It uses the labels and
// tables of a guide.
type calculations struct {
	*assembly
	numbered int
}

// words returns a label with its placeholders filled; pairs are names and texts.
func (s *calculations) words(key string, pairs ...string) string {
	return doc.Fill(s.label(key), pairs...)
}

func (s *calculations) chapter(g *doc.Guide, id, title string, role doc.Role) *doc.Section {
	n := headed(1, role, id, title)
	if role == doc.RoleChapter {
		s.numbered++
		n.Number = strconv.Itoa(s.numbered)
	}
	g.Sections = append(g.Sections, n)
	return n
}

// part adds a section to a chapter.
func part(parent *doc.Section, id, title string) *doc.Section {
	n := headed(parent.Level+1, doc.RolePlain, id, title)
	add(parent, n)
	return n
}

func headed(level int, role doc.Role, id, title string) *doc.Section {
	return &doc.Section{Attributes: doc.Attributes{ID: id}, Level: level, Role: role, Short: title, Heading: &doc.Heading{Inlines: []doc.Inline{text(title)}}}
}

func add(parent *doc.Section, blocks ...doc.Block) { parent.Blocks = append(parent.Blocks, blocks...) }

func say(parent *doc.Section, words ...doc.Inline) { add(parent, &doc.Paragraph{Inlines: words}) }

func (s *calculations) cover(g *doc.Guide) {
	cover := s.chapter(g, "cover", g.Title, doc.RoleCover)
	say(cover, text(s.label("calc.intro")))
	if g.Notice != "" {
		say(cover, text(g.Notice))
	}
	list := &doc.Contents{}
	add(s.chapter(g, "contents", s.label("contents"), doc.RoleContents), list)
	s.contents = append(s.contents, list)
}

// identity writes which unit this is, of which line, with which parts.
func (s *calculations) identity(g *doc.Guide) {
	c := s.chapter(g, "unit", s.label("calc.unit"), doc.RoleChapter)
	sheet, maker := s.build.Sheet, s.build.Line.Maker
	facts := s.newTable(doc.TableValues, s.label("calc.unit"))
	for _, f := range []struct{ key, text string }{
		{"serial", sheet.Serial.Value}, {"calc.vin", sheet.VIN.Value}, {"calc.model", s.build.Model.ID + ", " + g.Model}, {"calc.model-year", sheet.ModelYear.Text},
		{"calc.built", sheet.Built.Text}, {"calc.issued", sheet.Issued.Text}, {"calc.delivered", sheet.Delivered.Text}, {"revision", sheet.Revision.Value},
		{"calc.line", maker.ID.Value + " " + maker.Version.Value}, {"calc.sheet", s.place(source.Pos{File: sheet.File})},
	} {
		if f.text != "" {
			row(facts, cellOf(text(s.label(f.key))), cellOf(text(f.text)))
		}
	}
	add(c, rowsOf(facts, source.Pos{})...)
	options := s.newTable(doc.TablePlain, s.label("table.options"), "table.option", "calc.stands")
	for _, o := range s.build.Options() {
		row(options, cellOf(text(o.ID)), cellOf(text(s.place(o.At))))
	}
	add(c, rowsOf(options, source.Pos{})...)
	parts := s.newTable(doc.TablePlain, s.label("calc.parts"), "table.place", "calc.component")
	for _, p := range s.build.Parts() {
		row(parts, cellOf(text(p.Place)), cellOf(text(p.Component+", "+s.componentName(p.Component)), &doc.Break{}, text(s.place(p.From))))
	}
	add(c, rowsOf(parts, source.Pos{})...)
}

// place formats a position in a file, the same on every machine.
func (s *calculations) place(at source.Pos) string { return s.build.Cite(at).String() }

// figure returns a side of a comparison, in one system of units or in both.
func (s *calculations) figure(c derive.Compared, both bool) *doc.Value {
	printed := c.Text
	if v, ok := s.assembly.values.Lookup(c.Name); ok {
		printed = s.written(v)
	} else if q, ok := c.Exact.(quantity.Quantity); ok && c.At.File != "" {
		printed = s.print.Text(q, quantity.Rounding{Stated: true})
	}
	if !both {
		printed, _ = doc.FirstUnit(s.label(doc.BothUnits), printed)
	}
	return &doc.Value{Name: c.Name, Printed: printed}
}

// called returns the name of a side of a comparison: a value as a link, an entry, or words.
func (s *calculations) called(c derive.Compared) doc.Inline {
	if c.Name != "" {
		return s.name(c.Name)
	}
	return text(c.Path)
}

// side returns one side of a comparison: the figure, then its name.
func (s *calculations) side(c derive.Compared) []doc.Inline {
	line := []doc.Inline{s.figure(c, true)}
	switch {
	case c.Name != "":
		line = append(line, text(", "), s.name(c.Name))
	case c.Path != "":
		line = append(line, text(", "+s.entry(c.Input)))
	}
	return line
}

// entry returns an entry with its position, if it has one.
func (s *calculations) entry(in derive.Input) string {
	if in.At.File == "" {
		return in.Path
	}
	return in.Path + " (" + s.place(in.At) + ")"
}

// name returns a value's name as a link to its section.
func (s *calculations) name(name string) doc.Inline {
	if _, ok := s.writing(name); ok {
		return s.internalLink(name, name)
	}
	return text(name)
}

// values adds a section for every value, by system.
func (s *calculations) values(g *doc.Guide) {
	c := s.chapter(g, "values", s.label("calc.values"), doc.RoleChapter)
	say(c, text(s.label("calc.values.intro")))
	var system *doc.Section
	var before *derive.Value
	for _, v := range s.assembly.values.All() {
		prefix, _, _ := strings.Cut(v.Name, ".")
		if id := "values-" + prefix; system == nil || system.ID != id {
			system = part(c, id, strings.ReplaceAll(prefix, "_", " "))
		}
		like := ""
		if before != nil && before.SameWords(v) {
			like = before.Name
		}
		add(system, s.share(keptKey{about: v.Name, like: like}, func() []doc.Block { return []doc.Block{s.value(v, like)} })...)
		if like == "" {
			before = v
		}
	}
}

// value returns the section of one figure; like is the one with the same words, if any.
func (s *calculations) value(v *derive.Value, like string) *doc.Section {
	n := headed(3, doc.RolePlain, v.Name, v.Name)
	s.note(aboutFigure, v.Name)
	s.note(aboutValue, v.Name)
	facts := []doc.Inline{&doc.Value{Name: v.Name, Printed: s.written(v)}}
	fact := func(words string) { facts = append(facts, text(words)) }
	printed, unit, _ := v.Number(s.print)
	if q, ok := v.Exact.(quantity.Quantity); ok && !v.Round.Stated && math.Abs(quantity.In(q, unit)-printed) > 1e-9 {
		figure := strings.TrimSpace(strconv.FormatFloat(quantity.In(q, unit), 'g', 9, 64) + " " + unit)
		fact(s.words("calc.exact", "figure", figure, "side", s.label("calc.rounded."+strings.ReplaceAll(v.Round.How(), " ", "-"))))
	}
	if v.Engineer {
		fact(s.label("calc.engineer"))
	}
	say(n, facts...)
	if like != "" {
		say(n, text(s.label("calc.as-for")), s.name(like))
	} else {
		say(n, append([]doc.Inline{text(s.label("calc.formula"))}, s.linked(v.Formula)...)...)
		say(n, text(s.words("calc.source", "worth", s.basis(v), "source", v.Source.String())))
	}
	if numbers, ok := s.substituted(v); ok {
		say(n, text(s.words("calc.numbers", "formula", numbers, "figure", s.written(v))))
	}
	list := &doc.List{Tight: true}
	s.note(aboutInputs, v.Name)
	for i, in := range v.Inputs {
		if slices.Contains(v.Inputs[:i], in) {
			continue // read again
		}
		if figure, ok := s.writing(in.Name); ok {
			list.Items = append(list.Items, itemOf(s.name(in.Name), text(": "+figure)))
		} else {
			list.Items = append(list.Items, itemOf(text(s.entry(in)+": "+in.Text)))
		}
	}
	if len(list.Items) > 0 {
		add(n, list)
	}
	return n
}

// linked turns the names in a formula into links.
func (s *calculations) linked(formula string) (out []doc.Inline) {
	done := 0
	for _, at := range derive.NamesIn(formula) {
		if _, ok := s.writing(formula[at[0]:at[1]]); !ok {
			continue
		}
		if at[0] > done {
			out = append(out, text(formula[done:at[0]]))
		}
		out = append(out, s.name(formula[at[0]:at[1]]))
		done = at[1]
	}
	if done < len(formula) {
		out = append(out, text(formula[done:]))
	}
	return out
}

// substituted replaces the names in a formula by figures; ok is false if it has none, or
// only describes a choice.
func (s *calculations) substituted(v *derive.Value) (formula string, ok bool) {
	if !derive.Calculates(v.Formula) {
		return "", false
	}
	formula, _, _ = strings.Cut(v.Formula, ": ") // what follows is an explanation
	filled, done := "", 0
	for _, at := range derive.NamesIn(formula) {
		if used, found := s.writing(formula[at[0]:at[1]]); found {
			figure, _ := doc.FirstUnit(s.assembly.label(doc.BothUnits), used)
			filled += formula[done:at[0]] + figure
			done, ok = at[1], true
		}
	}
	return filled + formula[done:], ok
}

// statements lists the prescribed texts in this unit's guide, and who compared each with the
// law in force.
func (s *calculations) statements(g *doc.Guide) {
	used := s.prescribed()
	if len(used) == 0 {
		return
	}
	c := s.chapter(g, "statements", s.label("calc.statements"), doc.RoleChapter)
	t := s.newTable(doc.TablePlain, s.label("calc.statements"), "calc.statement", "calc.citation", "calc.known", "calc.confirmed")
	for _, id := range used {
		words := s.lang.Statements[id]
		confirmed := s.label("calc.unconfirmed")
		if by := s.build.Line.Maker.Statements.Get(id); by != nil {
			confirmed = by.Confirmed.Text + " " + by.Initials.Value
		}
		row(t, cellOf(text(id), &doc.Break{}, text(words.Title)), cellOf(text(words.Citation)), cellOf(text(s.label("calc.basis."+words.Basis))), cellOf(text(confirmed)))
	}
	add(c, rowsOf(t, source.Pos{})...)
}

// switchedOff lists what the maker has switched off for this unit, with the reasons.
func (s *calculations) switchedOff(g *doc.Guide) {
	list := s.templates.SwitchedOff(s.build)
	if len(list) == 0 {
		return
	}
	c := s.chapter(g, "switched-off", s.label("calc.switched-off"), doc.RoleChapter)
	t := s.newTable(doc.TablePlain, s.label("calc.switched-off"), "calc.what", "calc.reason", "calc.by", "calc.stands")
	for _, off := range list {
		row(t, cellOf(text(off.What)), cellOf(text(off.Reason)), cellOf(text(off.By)), cellOf(text(s.place(off.At))))
	}
	add(c, rowsOf(t, source.Pos{})...)
}

// tasks lists every task with an interval, and the entry each count comes from.
func (s *calculations) tasks(g *doc.Guide) {
	if len(s.assembly.values.Plan.Intervals) == 0 {
		return
	}
	c := s.chapter(g, "tasks", s.label("calc.tasks"), doc.RoleChapter)
	t := s.newTable(doc.TablePlain, s.label("calc.tasks"), "table.task", "table.how-often")
	for _, iv := range s.assembly.values.Plan.Intervals {
		often := cellOf()
		for _, v := range s.assembly.values.Family("service." + iv.Task) {
			for _, in := range v.Inputs {
				if len(often.Inlines) > 0 {
					often.Inlines = append(often.Inlines, &doc.Break{})
				}
				_, count, _ := strings.Cut(v.Name, iv.Task+".")
				often.Inlines = append(often.Inlines, s.internalLink(v.Name, strings.ReplaceAll(count, "_", " ")), text(" "+s.written(v)+", "+s.place(in.At)))
			}
		}
		row(t, cellOf(text(iv.Task)), often)
	}
	add(c, rowsOf(t, source.Pos{})...)
}

// codeStatement asks for review by a lawyer or engineer, once for each text.
var codeStatement = source.Code{ID: "statement-unconfirmed", Severity: source.Note,
	Protects: "a prescribed text that differs from the law in force, by a letter, does not fulfil it"}

// Unconfirmed returns a note on each prescribed text in a unit's guide for which the line has
// no confirmation that it was compared with the law in force. The position is that of
// the text, so that a run over many sheets prints it once.
func (t *Templates) Unconfirmed(b *spec.Build) (notes source.Findings) {
	a := &assembly{templates: t, build: b, values: &derive.Values{}, lang: t.Language(cmp.Or(b.Sheet.Language.Value, template.Base))}
	if a.lang == nil {
		return nil // Assemble reports it
	}
	for _, id := range a.prescribed() {
		if b.Line.Maker.Statements.Get(id) == nil {
			s := a.lang.Statements[id]
			notes.Add(codeStatement.At(s.At, "nobody has confirmed that the prescribed text %s is that of %s in force", id, s.Citation).
				WithHint("hold it against the regulation, then put under statements in the product line: %s: { confirmed: DATE, initials: … }", id))
		}
	}
	return notes
}

// prescribed returns the prescribed texts in this unit's guide, in order.
func (a *assembly) prescribed() (ids []string) {
	for _, r := range a.templates.Prescribed() {
		if r.Lang == a.lang.Name && !r.Beside && r.When.Holds(a.has) {
			ids = append(ids, r.Name)
		}
	}
	return ids
}
