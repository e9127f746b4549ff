package render

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/derive"
)

// provenanceTable leaves the place of the table of figures: it is filled when
// the whole guide is, and all its figures are known.
func (a *assembly) provenanceTable(_ *doc.Section, p *template.Block) []doc.Block {
	t := a.newTable(doc.TableFine, a.label("table.provenance"), "table.value", "table.figure", "table.how", "table.source")
	t.Origin = p.At
	a.provenance = append(a.provenance, t)
	return []doc.Block{t}
}

// fillProvenance lists every figure this guide prints, with where it comes
// from. Figures worked out alike share a row, or nobody would read it.
func (a *assembly) fillProvenance() {
	if len(a.provenance) == 0 {
		return
	}
	origins := a.origins()
	for _, t := range a.provenance {
		for _, o := range origins {
			row(t, cellOf(text(o.names())), a.originFigures(o, t), cellOf(text(o.how())), cellOf(text(o.source)))
		}
	}
}

// origin is where figures that are worked out alike come from.
type origin struct {
	figures [][]string // the names, cut at their dots, in the order of the figures
	ways    [][]string // how each was worked out, cut at its spaces; as many words each
	source  string
	family  bool // its members are in the text, under the family's name
}

// origins puts what the guide prints in order and the like of it together.
func (a *assembly) origins() (out []*origin) {
	names := keys(a.used)
	slices.SortStableFunc(names, byParts)
	families := map[string]bool{}
	for _, name := range names {
		v, ok := a.values.Lookup(name)
		family := derive.FamilyOf(name)
		if !ok || families[family] {
			continue
		}
		if family != "" {
			families[family] = true
			name = family
		}
		next := &origin{[][]string{strings.Split(name, ".")}, [][]string{strings.Fields(v.Formula)}, v.Source.String(), family != ""}
		if i := slices.IndexFunc(out, func(o *origin) bool { return o.like(next) }); i >= 0 {
			out[i].figures, out[i].ways = append(out[i].figures, next.figures...), append(out[i].ways, next.ways...)
		} else {
			out = append(out, next)
		}
	}
	return out
}

// byParts orders names part by part, numbers in them by size.
func byParts(x, y string) int {
	return slices.CompareFunc(strings.Split(x, "."), strings.Split(y, "."), func(x, y string) int {
		m, mErr := strconv.Atoi(x)
		n, nErr := strconv.Atoi(y)
		if mErr == nil && nErr == nil {
			return cmp.Compare(m, n)
		}
		return cmp.Compare(x, y)
	})
}

// alike is how many words of a way to work out a figure there must be for each
// one in which it may differ from another, if the two share a row.
const alike = 5

// like tells whether two figures can share a row: of one system, from one
// source, and worked out in the same words but for a few. A stroke in one of
// those, as in 5/16, would not be told from the one between them.
func (o *origin) like(p *origin) bool {
	n := len(p.ways[0])
	if o.family || p.family || o.figures[0][0] != p.figures[0][0] || o.source != p.source || len(o.ways[0]) != n {
		return false
	}
	differ := 0
	for i, word := range p.ways[0] {
		if !slices.ContainsFunc(o.ways, func(way []string) bool { return way[i] == word }) {
			if differ++; strings.Contains(word+o.ways[0][i], "/") {
				return false
			}
		}
	}
	return differ*alike <= n
}

// names writes the names of the figures in one: loading.cg_band.25/50.front/rear
// if they are all there is of that pattern, else one below the other.
func (o *origin) names() string {
	parts, all := pattern(o.figures)
	if all != len(o.figures) {
		names := make([]string, len(o.figures))
		for i, f := range o.figures {
			names[i] = strings.Join(f, ".")
		}
		return strings.Join(names, ", ")
	}
	return strings.Join(parts, ".")
}

// how writes how the figures were worked out, the words that differ side by side.
func (o *origin) how() string {
	words, _ := pattern(o.ways)
	return strings.Join(words, " ")
}

// pattern puts lists into one: at each place what the lists have there, once
// each, with a stroke between. all is how many lists fit the pattern; 0 if the
// lists are of different lengths.
func pattern(lists [][]string) (parts []string, all int) {
	all = 1
	for i := range lists[0] {
		var seen []string
		for _, list := range lists {
			if len(list) != len(lists[0]) {
				return nil, 0
			}
			if !slices.Contains(seen, list[i]) {
				seen = append(seen, list[i])
			}
		}
		parts, all = append(parts, strings.Join(seen, "/")), all*len(seen)
	}
	return parts, all
}

// fewFigures is how many figures a row gives; more are found in the text.
const fewFigures = 4

func (a *assembly) originFigures(o *origin, t *doc.Table) *doc.Cell {
	if o.family || len(o.figures) > fewFigures {
		return cellOf(text(a.label("table.in-the-text")))
	}
	cell := cellOf()
	for i, parts := range o.figures {
		if i > 0 {
			cell.Inlines = append(cell.Inlines, text(a.label("list.semicolon")))
		}
		name := strings.Join(parts, ".")
		v, _ := a.values.Lookup(name)
		cell.Inlines = append(cell.Inlines, &doc.Value{Name: name, Printed: a.printed(v, t.Origin)})
	}
	return cell
}
