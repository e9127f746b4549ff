package render

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Calculations makes the document that stands beside a unit's guide for the
// maker's engineer: every figure with its chain, every limit with its margin,
// and which prescribed texts nobody has confirmed yet. It is never given to the
// owner. Places in files are told without the folder they were in, so that the
// same inputs give the same document everywhere.
func (t *Templates) Calculations(b *spec.Build, vs *derive.Values, plan derive.Plan) (*doc.Guide, source.Findings) {
	a, g, ok := t.begin(b, vs, plan)
	if !ok {
		return nil, a.findings
	}
	s := &calculations{assembly: a}
	g.Title = s.words("calc.title", "model", g.Model, "serial", g.Serial)
	s.cover(g)
	s.identity(g)
	s.limits(g)
	s.values(g)
	s.statements(g)
	s.tasks(g)
	a.fillContents(g.Root)
	a.checkLinks(g.Root)
	return g, a.findings
}

// calculations is the making of one such document. It shares the words and
// tables of a guide.
type calculations struct {
	*assembly
	numbered int
}

// words fills a label's braces; pairs are names and what they stand for.
func (s *calculations) words(key string, pairs ...string) string {
	with := map[string]string{}
	for i := 0; i+1 < len(pairs); i += 2 {
		with[pairs[i]] = pairs[i+1]
	}
	return fill(s.label(key), with)
}

func (s *calculations) chapter(parent ast.Node, id, title string, role doc.Role) *doc.Section {
	n := &doc.Section{ID: id, Level: 1, Role: role, Short: title}
	if role == doc.RoleChapter {
		s.numbered++
		n.Number = strconv.Itoa(s.numbered)
	}
	return s.headed(parent, n, title)
}

// part opens a section inside a chapter.
func (s *calculations) part(parent ast.Node, id, title string) *doc.Section {
	return s.headed(parent, &doc.Section{ID: id, Level: 2, Role: doc.RolePlain, Short: title}, title)
}

func (s *calculations) headed(parent ast.Node, n *doc.Section, title string) *doc.Section {
	h := ast.NewHeading(n.Level)
	h.AppendChild(h, text(title))
	n.AppendChild(n, h)
	parent.AppendChild(parent, n)
	return n
}

func (s *calculations) say(parent ast.Node, nodes ...ast.Node) {
	p := ast.NewParagraph()
	for _, n := range nodes {
		p.AppendChild(p, n)
	}
	parent.AppendChild(parent, p)
}

func (s *calculations) cover(g *doc.Guide) {
	cover := s.chapter(g.Root, "cover", g.Title, doc.RoleCover)
	s.say(cover, text(s.label("calc.intro")))
	if g.Notice != "" {
		s.say(cover, text(g.Notice))
	}
	contents := s.chapter(g.Root, "contents", s.label("contents"), doc.RoleContents)
	list := &doc.Contents{}
	contents.AppendChild(contents, list)
	s.contents = append(s.contents, list)
}

// identity says which unit this is, of which line, and what is on it.
func (s *calculations) identity(g *doc.Guide) {
	c := s.chapter(g.Root, "unit", s.label("calc.unit"), doc.RoleChapter)
	sheet, maker := s.build.Sheet, s.build.Line.Maker
	facts := s.newTable(doc.TableValues, s.label("calc.unit"))
	for _, f := range []struct{ key, text string }{
		{"serial", sheet.Serial.Value}, {"calc.vin", sheet.VIN.Value}, {"calc.model", s.build.Model.ID + ", " + g.Model}, {"calc.model-year", sheet.ModelYear.Text},
		{"calc.built", sheet.Built.Text}, {"calc.issued", sheet.Issued.Text}, {"calc.delivered", sheet.Delivered.Text}, {"revision", sheet.Revision.Value},
		{"calc.line", maker.ID.Value + " " + maker.Version.Value}, {"calc.sheet", s.place(source.Pos{File: sheet.File})},
	} {
		if f.text != "" {
			s.row(facts, cellOf(text(s.label(f.key))), cellOf(text(f.text)))
		}
	}
	s.tableInto(c, facts, source.Pos{})
	options := s.newTable(doc.TablePlain, s.label("table.options"), "table.option", "calc.stands")
	for _, o := range s.build.Options {
		s.row(options, cellOf(text(o.ID)), cellOf(text(s.place(o.At))))
	}
	s.tableInto(c, options, source.Pos{})
	parts := s.newTable(doc.TablePlain, s.label("calc.parts"), "table.place", "calc.component")
	for _, p := range s.build.Parts {
		s.row(parts, cellOf(text(p.Place)), cellOf(text(p.Component+", "+s.componentName(p.Component)), &doc.Break{}, text(s.place(p.From))))
	}
	s.tableInto(c, parts, source.Pos{})
}

// place writes a place in a file, the same on every machine.
func (s *calculations) place(at source.Pos) string { return s.build.Cite(at).String() }

// limits gives the least margin of each limit at a glance, then every
// comparison that was made.
func (s *calculations) limits(g *doc.Guide) {
	c := s.chapter(g.Root, "limits", s.label("calc.limits"), doc.RoleChapter)
	s.say(c, text(s.label("calc.limits.intro")))
	least := s.part(c, "limits-least", s.label("calc.limits.least"))
	all := s.part(c, "limits-all", s.label("calc.limits.all"))
	t := s.newTable(doc.TableValues, s.label("calc.limits.least"), "calc.limit", "calc.margin")
	margins := s.assembly.values.Margins()
	for len(margins) > 0 {
		code, n := margins[0].Code, 1
		for n < len(margins) && margins[n].Code.ID == code.ID {
			n++
		}
		s.row(t, cellOf(s.internalLink("limit-"+code.ID, code.ID)), cellOf(text(s.margin(tightest(margins[:n])))))
		s.comparisons(all, code, margins[:n])
		margins = margins[n:]
	}
	s.tableInto(least, t, source.Pos{})
}

// tightest finds a broken comparison, else the one with the least to spare.
func tightest(list []derive.Margin) derive.Margin {
	best := list[0]
	for _, m := range list[1:] {
		if best.Kept && (!m.Kept || m.Spare < best.Spare || math.IsNaN(best.Spare)) {
			best = m
		}
	}
	return best
}

// comparisons writes what one limit compared, and what it protects.
func (s *calculations) comparisons(parent ast.Node, code source.Code, list []derive.Margin) {
	n := s.headed(parent, &doc.Section{ID: "limit-" + code.ID, Level: 3, Role: doc.RolePlain, Short: code.ID}, code.ID)
	s.say(n, text(s.words("calc.protects", "what", code.Protects)))
	lines := ast.NewList('-')
	lines.IsTight = true
	for _, m := range list {
		line := ast.NewParagraph()
		s.sideInto(line, m.Have)
		line.AppendChild(line, text(s.label("calc."+strings.ReplaceAll(m.Order.String(), " ", "-"))))
		s.sideInto(line, m.Need)
		line.AppendChild(line, text(s.words("calc.so", "margin", s.margin(m))))
		item := ast.NewListItem(0)
		item.AppendChild(item, line)
		lines.AppendChild(lines, item)
	}
	n.AppendChild(n, lines)
}

// sideInto writes one side of a comparison: the figure, then what it is.
func (s *calculations) sideInto(line ast.Node, in derive.Input) {
	figure := in.Text
	if v, ok := s.assembly.values.Lookup(in.Name); ok {
		figure = v.Print(s.print)
	}
	line.AppendChild(line, &doc.Value{Name: in.Name, Printed: figure})
	switch {
	case in.Name != "":
		line.AppendChild(line, text(", "))
		line.AppendChild(line, s.name(in.Name))
	case in.Path != "":
		line.AppendChild(line, text(", "+s.entry(in)))
	}
}

// entry names an entry and its place; of what a rule states there is no place.
func (s *calculations) entry(in derive.Input) string {
	if in.At.File == "" {
		return in.Path
	}
	return in.Path + " (" + s.place(in.At) + ")"
}

func (s *calculations) margin(m derive.Margin) string {
	kept := s.label("calc.kept")
	if !m.Kept {
		kept = s.label("calc.broken")
	}
	if math.IsNaN(m.Spare) {
		return kept
	}
	return s.print.Text(quantity.Percent(m.Spare), quantity.Rounding{Side: quantity.Down, Step: 0.1, MetricStep: 0.1}) + ", " + kept
}

// name links a value's name to where it is worked out.
func (s *calculations) name(name string) ast.Node {
	if _, ok := s.assembly.values.Lookup(name); ok {
		return s.internalLink(name, name)
	}
	return text(name)
}

// values gives every value a section of its own, by system.
func (s *calculations) values(g *doc.Guide) {
	c := s.chapter(g.Root, "values", s.label("calc.values"), doc.RoleChapter)
	s.say(c, text(s.label("calc.values.intro")))
	var system *doc.Section
	for _, v := range s.assembly.values.All() {
		prefix, _, _ := strings.Cut(v.Name, ".")
		if id := "values-" + prefix; system == nil || system.ID != id {
			system = s.part(c, id, strings.ReplaceAll(prefix, "_", " "))
		}
		s.value(system, v)
	}
}

func (s *calculations) value(parent ast.Node, v *derive.Value) {
	n := s.headed(parent, &doc.Section{ID: v.Name, Level: 3, Role: doc.RolePlain, Short: v.Name}, v.Name)
	facts := []ast.Node{&doc.Value{Name: v.Name, Printed: v.Print(s.print)}}
	add := func(words string) { facts = append(facts, text(words)) }
	if q, ok := v.Exact.(quantity.Quantity); ok {
		_, unit, _ := v.Number(s.print)
		figure := strings.TrimSpace(strconv.FormatFloat(quantity.In(q, unit), 'g', 9, 64) + " " + unit)
		add(s.words("calc.exact", "figure", figure, "side", s.label("calc.rounded."+strings.ReplaceAll(v.Round.Side.String(), " ", "-"))))
	}
	if v.Engineer {
		add(s.label("calc.engineer"))
	}
	s.say(n, facts...)
	s.say(n, append([]ast.Node{text(s.label("calc.formula"))}, s.linked(v.Formula)...)...)
	s.say(n, text(s.words("calc.source", "source", v.Source.String())))
	list := ast.NewList('-')
	list.IsTight = true
	for _, in := range v.Inputs {
		item, line := ast.NewListItem(0), ast.NewParagraph()
		if used, ok := s.assembly.values.Lookup(in.Name); ok {
			line.AppendChild(line, s.name(in.Name))
			line.AppendChild(line, text(": "+used.Print(s.print)))
		} else {
			line.AppendChild(line, text(s.entry(in)+": "+in.Text))
		}
		item.AppendChild(item, line)
		list.AppendChild(list, item)
	}
	if list.HasChildren() {
		n.AppendChild(n, list)
	}
}

// inFormula finds what may be a value's name in a formula.
var inFormula = regexp.MustCompile(`[a-z][a-z0-9_]*(\.[a-z0-9_]+)+`)

// linked turns the names in a formula into links.
func (s *calculations) linked(formula string) (out []ast.Node) {
	done := 0
	for _, at := range inFormula.FindAllStringIndex(formula, -1) {
		if _, ok := s.assembly.values.Lookup(formula[at[0]:at[1]]); !ok {
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

// statements says of each prescribed text in this unit's guide who held it
// against the law in force.
func (s *calculations) statements(g *doc.Guide) {
	used := s.prescribed()
	if len(used) == 0 {
		return
	}
	c := s.chapter(g.Root, "statements", s.label("calc.statements"), doc.RoleChapter)
	t := s.newTable(doc.TablePlain, s.label("calc.statements"), "calc.statement", "calc.citation", "calc.known", "calc.confirmed")
	for _, id := range used {
		words := s.lang.statements[id]
		confirmed := s.label("calc.unconfirmed")
		if by := s.build.Line.Maker.Statements.Get(id); by != nil {
			confirmed = by.Confirmed.Text + " " + by.Initials.Value
		}
		s.row(t, cellOf(text(id), &doc.Break{}, text(words.title)), cellOf(text(words.citation)), cellOf(text(s.label("calc.basis."+words.basis))), cellOf(text(confirmed)))
	}
	s.tableInto(c, t, source.Pos{})
}

// tasks lists every task with an interval, and the entry each count comes from.
func (s *calculations) tasks(g *doc.Guide) {
	if len(s.plan.Intervals) == 0 {
		return
	}
	c := s.chapter(g.Root, "tasks", s.label("calc.tasks"), doc.RoleChapter)
	t := s.newTable(doc.TablePlain, s.label("calc.tasks"), "table.task", "table.how-often")
	for _, iv := range s.plan.Intervals {
		often := extast.NewTableCell()
		for _, v := range s.assembly.values.Family("service." + iv.Task) {
			for _, in := range v.Inputs {
				if often.HasChildren() {
					often.AppendChild(often, &doc.Break{})
				}
				_, count, _ := strings.Cut(v.Name, iv.Task+".")
				often.AppendChild(often, s.internalLink(v.Name, strings.ReplaceAll(count, "_", " ")))
				often.AppendChild(often, text(" "+v.Print(s.print)+", "+s.place(in.At)))
			}
		}
		s.row(t, cellOf(text(iv.Task)), often)
	}
	s.tableInto(c, t, source.Pos{})
}

// codeStatement asks for a lawyer's or engineer's eye, once for each text.
var codeStatement = source.Code{ID: "statement-unconfirmed", Severity: source.Note,
	Protects: "a prescribed text that differs from the law in force, by a letter, does not fulfil it"}

// Unconfirmed notes each prescribed text in a unit's guide that the line does
// not say anybody has held against the law in force. The note stands at the
// text, so that a run over many sheets gives it once.
func (t *Templates) Unconfirmed(b *spec.Build) (notes source.Findings) {
	a, _, ok := t.begin(b, &derive.Values{}, derive.Plan{})
	if !ok {
		return nil // Assemble says so
	}
	for _, id := range a.prescribed() {
		if b.Line.Maker.Statements.Get(id) == nil {
			s := a.lang.statements[id]
			notes.Add(codeStatement.At(s.at, "nobody has confirmed that the prescribed text %s is that of %s in force", id, s.citation).
				WithHint("hold it against the regulation, then put under statements in the product line: %s: { confirmed: DATE, initials: … }", id))
		}
	}
	return notes
}

// prescribed lists the prescribed texts in this unit's guide, in its order.
func (a *assembly) prescribed() (ids []string) {
	var pieces func(list []piece)
	pieces = func(list []piece) {
		for i := range list {
			p := &list[i]
			if !p.when.Holds(a.build.Has) {
				continue
			}
			if p.kind == pieceFence && p.fence.kind == "statement" && len(p.fence.args) > 0 && a.lang.statements[p.fence.args[0]] != nil {
				ids = append(ids, p.fence.args[0])
			}
			pieces(p.children)
		}
	}
	var sections func(list []*chosen)
	sections = func(list []*chosen) {
		for _, c := range list {
			pieces(c.words.body)
			sections(c.children)
		}
	}
	sections(a.chosen)
	return ids
}
