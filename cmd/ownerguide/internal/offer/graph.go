package offer

import (
	"cmp"
	"fmt"
	"html"
	"slices"
	"strings"
)

// Sizes of the graph, in pixels.
const (
	boxWide, boxHigh  = 190, 44
	columnGap, rowGap = 130, 18
	graphMargin       = 52
	legendLine        = 20
)

// Draw draws what needs and excludes what, as SVG. An option stands right
// of those it needs; arrows run from an option to what it needs, dashed lines
// join what does not go together. Each line carries a number, and the rules stand
// below in words under the same numbers, so that the picture needs no color.
func Draw(o Offering) []byte {
	g := &graph{Offering: o, place: map[string]box{}}
	g.arrange()
	var lines, legend strings.Builder
	n := 0
	rule := func(text string, draw func(number int)) {
		n++
		draw(n)
		fmt.Fprintf(&legend, "<text x=\"%d\" y=\"%d\">%d  %s</text>\n", graphMargin, g.bottom+legendLine*(n+1), n, html.EscapeString(text))
	}
	for _, each := range o.Options {
		for _, r := range each.Needs {
			rule(each.ID+" "+r.sentence(), func(n int) {
				for _, other := range r.Options {
					lines.WriteString(g.line(each.ID, other, "need", n))
				}
			})
		}
		for _, r := range each.Excludes {
			rule(each.ID+" "+r.sentence(), func(n int) {
				for _, other := range r.Options {
					lines.WriteString(g.line(each.ID, other, "against", n))
				}
			})
		}
	}
	for _, r := range o.Groups {
		rule(r.sentence(), func(n int) {
			for i := 1; i < len(r.Options); i++ {
				lines.WriteString(g.line(r.Options[i-1], r.Options[i], "against", n))
			}
		})
	}
	wide, high := max(g.right, 900), g.bottom+legendLine*(n+2)
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-labelledby="title">
<title id="title">Options of %s: what needs what and what does not go together</title>
<style>
text { font: 14px sans-serif; fill: #111 }
.id { font-weight: bold }
rect { fill: #fff; stroke: #111; stroke-width: 1.5 }
path { fill: none; stroke: #111; stroke-width: 1.5 }
.against { stroke-dasharray: 6 4 }
circle { fill: #fff; stroke: #111 }
.number { font-size: 11px; text-anchor: middle }
</style>
<defs><marker id="arrow" markerWidth="10" markerHeight="8" refX="10" refY="4" orient="auto"><path d="M0 0 10 4 0 8z" style="fill:#111"/></marker></defs>
<rect width="%d" height="%d" style="stroke:none"/>
`, wide, high, wide, high, html.EscapeString(o.Model), wide, high)
	b.WriteString(lines.String())
	for _, each := range o.Options {
		p := g.place[each.ID]
		fmt.Fprintf(&b, "<rect x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\" rx=\"6\"/>\n<text class=\"id\" x=\"%d\" y=\"%d\">%s</text>\n<text x=\"%d\" y=\"%d\">%s</text>\n",
			p.x, p.y, boxWide, boxHigh, p.x+10, p.y+18, html.EscapeString(each.ID), p.x+10, p.y+36, html.EscapeString(shorten(each.Name.Text)))
	}
	b.WriteString(legend.String())
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

// shorten keeps a name inside its box.
func shorten(s string) string {
	if r := []rune(s); len(r) > 24 {
		return string(r[:23]) + "…"
	}
	return s
}

type graph struct {
	Offering
	place         map[string]box
	right, bottom int // of the boxes
}

// box is the place of an option: its corner in pixels and its column.
type box struct{ x, y, column int }

// arrange puts every option in a column right of all it needs, and orders a
// column so that lines cross little. Options that no rule speaks of fill rows
// of their own below.
func (g *graph) arrange() {
	needs, ruled := map[string][]string{}, map[string]bool{}
	for _, o := range g.Options {
		for _, r := range append(o.Needs, o.Excludes...) {
			ruled[o.ID] = true
			for _, other := range r.Options {
				ruled[other] = true
			}
		}
		for _, r := range o.Needs {
			needs[o.ID] = append(needs[o.ID], r.Options...)
		}
	}
	for _, r := range g.Groups {
		for _, id := range r.Options {
			ruled[id] = true
		}
	}
	var columns [][]string
	depths := map[string]int{}
	for _, o := range g.Options {
		if ruled[o.ID] {
			c := depth(o.ID, needs, depths)
			for len(columns) <= c {
				columns = append(columns, nil)
			}
			columns[c] = append(columns[c], o.ID)
		}
	}
	y := graphMargin
	for c, ids := range columns {
		// Next to what it needs: the boxes left of it are placed already.
		slices.SortStableFunc(ids, func(a, b string) int { return cmp.Compare(g.level(needs[a]), g.level(needs[b])) })
		for row, id := range ids {
			g.put(id, box{graphMargin + c*(boxWide+columnGap), graphMargin + row*(boxHigh+rowGap), c})
		}
	}
	y = max(y, g.bottom+rowGap)
	free := 0
	for _, o := range g.Options {
		if !ruled[o.ID] {
			g.put(o.ID, box{graphMargin + free%4*(boxWide+rowGap), y + free/4*(boxHigh+rowGap), 0})
			free++
		}
	}
}

func (g *graph) put(id string, b box) {
	g.place[id] = b
	g.right, g.bottom = max(g.right, b.x+boxWide+columnGap), max(g.bottom, b.y+boxHigh)
}

// level is the mean height of some boxes.
func (g *graph) level(ids []string) int {
	sum := 0
	for _, id := range ids {
		sum += g.place[id].y
	}
	return sum / max(1, len(ids))
}

// depth is the length of the longest chain of needs below an option. Options
// that need each other in a ring end the chain where it closes. Known are depths
// worked out before.
func depth(id string, needs map[string][]string, known map[string]int) int {
	if d, met := known[id]; met {
		return d
	}
	known[id] = -1 // a ring ends here
	deepest := 0
	for _, other := range needs[id] {
		deepest = max(deepest, 1+depth(other, needs, known))
	}
	known[id] = deepest
	return deepest
}

// line joins two boxes, with the rule's number in a circle on it.
func (g *graph) line(from, to, class string, number int) string {
	a, b := g.place[from], g.place[to]
	marker := ""
	if class == "need" {
		marker = ` marker-end="url(#arrow)"`
	}
	if a.column == b.column {
		// Round the left side of the column, where no other line comes.
		x, y1, y2 := a.x, a.y+boxHigh/2, b.y+boxHigh/2
		bend := x - graphMargin + 8
		return fmt.Sprintf("<path class=\"%s\" d=\"M%d %dC%d %d %d %d %d %d\"%s/>\n", class, x, y1, bend, y1, bend, y2, x, y2, marker) +
			numbered((x+3*bend)/4, (y1+y2)/2, number)
	}
	x1, y1, x2, y2 := a.x, a.y+boxHigh/2, b.x+boxWide, b.y+boxHigh/2
	if a.column < b.column {
		x1, x2 = a.x+boxWide, b.x
	}
	middle := (x1 + x2) / 2
	return fmt.Sprintf("<path class=\"%s\" d=\"M%d %dC%d %d %d %d %d %d\"%s/>\n", class, x1, y1, middle, y1, middle, y2, x2, y2, marker) +
		numbered(middle, (y1+y2)/2, number)
}

func numbered(x, y, number int) string {
	return fmt.Sprintf("<circle cx=\"%d\" cy=\"%d\" r=\"9\"/><text class=\"number\" x=\"%d\" y=\"%d\">%d</text>\n", x, y, x, y+4, number)
}
