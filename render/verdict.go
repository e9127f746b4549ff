package render

import (
	"math"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Made is the program and the inputs of calculations, so that a signature under them covers it.
type Made struct {
	Program                string // name and version
	Sheet, Line, Templates string // SHA-256, in hexadecimal
}

// fewest is the number of margins on the first page.
const fewest = 12

// verdict writes the first page: whether all limits are kept, the smallest margins, what was
// and was not checked, what it was made from, and where to sign.
func (s *calculations) verdict(g *doc.Guide, list []derive.Comparison, made Made) {
	c := s.chapter(g, "verdict", s.label("calc.verdict"), doc.RoleChapter)
	broken := 0
	for _, m := range list {
		if !m.Kept {
			broken++
		}
	}
	words := s.words("calc.all-hold", "n", strconv.Itoa(len(list)))
	if broken > 0 {
		words = s.words("calc.some-broken", "n", strconv.Itoa(broken), "all", strconv.Itoa(len(list)))
	}
	say(c, &doc.Emphasis{Strong: true, Inlines: []doc.Inline{text(words)}}, text(" "+s.label("calc.used-is")))

	least := s.newTable(doc.TablePlain, s.label("calc.limits.least"), "calc.limit", "calc.comparison", "calc.needs", "calc.has", "calc.used")
	for _, m := range list {
		if len(least.Rows) == fewest || math.IsNaN(m.Utilization) && m.Kept {
			break
		}
		if !m.Kept || !m.Exactly() && m.Strength() {
			s.row(least, m)
		}
	}
	endColumns(least)
	add(c, rowsOf(least, source.Pos{})...)

	checked := s.newTable(doc.TablePlain, s.label("calc.checked"), "calc.group", "calc.comparisons", "calc.exactly", "calc.tightest")
	for _, group := range derive.Groups {
		n, exact, tightest := 0, 0, ""
		for _, m := range list {
			if m.Group() != group {
				continue
			}
			n++
			if m.Exactly() {
				exact++
			} else if tightest == "" && !math.IsNaN(m.Utilization) {
				tightest = m.Code.ID + ", " + s.fraction(m.Utilization)
			}
		}
		if n > 0 {
			row(checked, cellOf(text(s.label("calc.group."+group))), endCell(text(strconv.Itoa(n))), endCell(text(strconv.Itoa(exact))), cellOf(text(tightest)))
		}
	}
	endColumns(checked)
	add(c, rowsOf(checked, source.Pos{})...)
	say(c, text(s.label("calc.exactly-is")))
	say(c, text(s.label("calc.not-checked")))

	inputs := s.newTable(doc.TableValues, s.label("calc.made-from"))
	for _, in := range [][2]string{{"calc.program", made.Program}, {"calc.digest.sheet", made.Sheet}, {"calc.digest.line", made.Line}, {"calc.digest.templates", made.Templates}} {
		if in[1] != "" {
			row(inputs, cellOf(text(s.label(in[0]))), cellOf(text(in[1])))
		}
	}
	add(c, rowsOf(inputs, source.Pos{})...)
	signed := s.newTable(doc.TableLog, s.label("calc.sign"), "calc.sign.who", "calc.sign.name", "calc.sign.signature", "calc.sign.date")
	for _, who := range []string{"calc.sign.calculated", "calc.sign.checked", "calc.sign.approved"} {
		row(signed, cellOf(text(s.label(who))), cellOf(), cellOf(), cellOf())
	}
	add(c, rowsOf(signed, source.Pos{})...)
	say(c, text(s.label("calc.sign.covers")))
}

// row adds a comparison to a table: its two sides, and the figures in one system of units,
// so that they can be compared.
func (s *calculations) row(t *doc.Table, m derive.Comparison) {
	needs, has := m.Sides()
	used := []doc.Inline{&doc.Value{Printed: s.fraction(m.Utilization)}}
	if !m.Kept {
		used = append(used, text(" "+s.label("calc.broken")))
	}
	sign := " ≤ "
	if m.Order == derive.Above || m.Order == derive.Below {
		sign = " < "
	}
	row(t, cellOf(s.internalLink("limit-"+m.Code.ID, m.Code.ID)), cellOf(s.called(needs), text(sign), s.called(has)),
		endCell(s.figure(needs, false)), endCell(s.figure(has, false)), endCell(used...))
}

// fraction formats the fraction used; a dash if it is not meaningful.
func (s *calculations) fraction(used float64) string {
	if math.IsNaN(used) || math.IsInf(used, 0) {
		return "—"
	}
	return s.print.Text(quantity.Percent(100*used), quantity.Rounding{Side: quantity.Up, Step: 0.1, MetricStep: 0.1})
}

// limits writes every comparison that was made, by limit, with the smallest margin first.
func (s *calculations) limits(g *doc.Guide, list []derive.Comparison) {
	c := s.chapter(g, "limits", s.label("calc.limits"), doc.RoleChapter)
	say(c, text(s.label("calc.limits.intro")))
	var ids []string
	s.compared = map[string][]derive.Comparison{}
	for _, m := range list {
		id := m.Code.ID
		if s.compared[id] = append(s.compared[id], m); len(s.compared[id]) == 1 {
			ids = append(ids, id)
		}
	}
	for _, id := range ids {
		add(c, s.share(keptKey{about: "limit-" + id}, func() []doc.Block { return []doc.Block{s.limit(id)} })...)
	}
}

// limit returns the section of one limit.
func (s *calculations) limit(id string) *doc.Section {
	s.note(aboutLimit, id)
	list := s.compared[id]
	n := headed(2, doc.RolePlain, "limit-"+id, id)
	say(n, text(s.words("calc.protects", "what", list[0].Code.Protects)))
	lines := &doc.List{Tight: true}
	for _, m := range list {
		kept := s.label("calc.kept")
		if !m.Kept {
			kept = s.label("calc.broken")
		}
		line := append(s.side(m.Have), text(s.label("calc."+strings.ReplaceAll(m.Order.String(), " ", "-"))))
		line = append(line, s.side(m.Need)...)
		lines.Items = append(lines.Items, itemOf(append(line, text(s.words("calc.so", "used", s.fraction(m.Utilization), "kept", kept)))...))
	}
	add(n, lines)
	return n
}
