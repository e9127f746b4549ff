package html

import (
	"cmp"
	"encoding/base64"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ownerguide/render/doc"
)

// inks are the style classes of the inks; the style sheet defines their grays for light and
// dark screens.
var inks = map[doc.Ink]string{doc.Paper: "paper", doc.Faint: "faint", doc.Pale: "pale", doc.Middle: "middle", doc.Full: "full", doc.Mark: "mark", doc.Signal: "signal"}

func (p *page) figure(pic *doc.Figure) {
	views := pic.Column
	if len(views) == 0 {
		views = []*doc.View{{Drawing: pic.Drawing, Alt: pic.Alt}}
	}
	class := ""
	if len(views) > 1 {
		class = " class=\"many\""
	}
	p.printf("<figure id=\"%s\"%s>\n", esc(cmp.Or(pic.ID, "drawing-"+pic.Name)), class)
	for _, v := range views {
		p.view(v)
	}
	if pic.Caption != "" {
		p.printf("<figcaption>%s</figcaption>\n", esc(pic.Caption))
	}
	p.text("</figure>\n")
}

// view writes one picture and, below or next to it, its key.
func (p *page) view(v *doc.View) {
	d := v.Drawing
	p.printf("<div class=\"view\"><svg viewBox=\"0 0 %s %s\" role=\"img\" aria-label=\"%s\">\n", decimal(d.Width), decimal(d.Height), esc(v.Alt))
	p.shapes(d.Shapes)
	p.text("</svg>\n")
	if len(v.Key) > 0 {
		p.text("<ul class=\"key\">\n")
		for _, k := range v.Key {
			sign, words := "", esc(k.Text)
			if k.Sign != "" {
				sign = "<b>" + esc(k.Sign) + "</b> "
			}
			if k.To != "" {
				words = "<a href=\"#" + esc(k.To) + "\">" + words + "</a>"
			}
			p.printf("<li>%s<span>%s</span></li>\n", sign, words)
		}
		p.text("</ul>\n")
	}
	p.text("</div>\n")
}

// logo writes the maker's logo; a bitmap is embedded in the file, so that nothing is
// loaded.
func (p *page) logo(n *doc.Logo) {
	class := "logo"
	if n.InText {
		class = "logo picture"
	}
	if d := n.Drawing; d != nil {
		p.printf("<div class=\""+class+"\"><svg viewBox=\"0 0 %s %s\" role=\"img\" aria-label=\"%s\">\n", decimal(d.Width), decimal(d.Height), esc(n.Alt))
		p.shapes(d.Shapes)
		p.text("</svg></div>\n")
		return
	}
	p.printf("<div class=\""+class+"\"><img src=\"data:image/png;base64,%s\" width=\"%d\" height=\"%d\" alt=\"%s\"></div>\n",
		base64.StdEncoding.EncodeToString(n.PNG), n.Width, n.Height, esc(n.Alt))
}

// shapes writes the shapes in order. Consecutive lines with the same style, as in a hatch,
// share an element, which keeps the page small.
func (p *page) shapes(shapes []doc.Shape) {
	open := "" // the style of the current path element
	for _, s := range shapes {
		line, ok := s.(*doc.Path)
		mergeable := ok && line.Fill == doc.None
		if mergeable && open == style(line.Style) {
			p.text(outline(line))
			continue
		}
		if open != "" {
			p.printf("\"%s/>\n", open)
			open = ""
		}
		if mergeable {
			open = style(line.Style)
			p.printf("<path d=\"%s", outline(line))
			continue
		}
		p.shape(s)
	}
	if open != "" {
		p.printf("\"%s/>\n", open)
	}
}

func (p *page) shape(s doc.Shape) {
	switch s := s.(type) {
	case *doc.Path:
		rule := ""
		if s.EvenOdd {
			rule = " fill-rule=\"evenodd\""
		}
		p.printf("<path d=\"%s\"%s%s/>\n", outline(s), rule, style(s.Style))
	case *doc.Circle:
		p.printf("<circle cx=\"%s\" cy=\"%s\" r=\"%s\"%s/>\n", decimal(s.Center.X), decimal(s.Center.Y), decimal(s.Radius), style(s.Style))
	case *doc.Label:
		p.label(s)
	}
}

// outline returns the data of a path; horizontal and vertical lines are written with one
// coordinate, which keeps the page small.
func outline(s *doc.Path) string {
	var b strings.Builder
	x, y := decimal(s.From.X), decimal(s.From.Y)
	b.WriteString("M" + x + " " + y)
	at := func(q doc.Point) { b.WriteString(decimal(q.X) + " " + decimal(q.Y)) }
	for _, seg := range s.Segments {
		toX, toY := decimal(seg.To.X), decimal(seg.To.Y)
		switch {
		case seg.Move:
			if s.Closed {
				b.WriteByte('Z')
			}
			b.WriteString("M" + toX + " " + toY)
		case seg.Curve:
			b.WriteByte('C')
			at(seg.C1)
			b.WriteByte(' ')
			at(seg.C2)
			b.WriteString(" " + toX + " " + toY)
		case toY == y:
			b.WriteString("H" + toX)
		case toX == x:
			b.WriteString("V" + toY)
		default:
			b.WriteString("L" + toX + " " + toY)
		}
		x, y = toX, toY
	}
	if s.Closed {
		b.WriteByte('Z')
	}
	return b.String()
}

// painted returns the attributes of inks: a class, or the color itself.
func painted(s doc.Style) string {
	var classes []string
	colors := ""
	for _, use := range []struct {
		class, attribute string
		ink              doc.Ink
	}{{"s-", "stroke", s.Line}, {"f-", "fill", s.Fill}} {
		if _, _, _, own := use.ink.RGB(); own {
			colors += " " + use.attribute + "=\"" + hex(use.ink) + "\""
		} else if use.ink != doc.None { // without a class a shape has neither line nor fill
			classes = append(classes, use.class+inks[use.ink])
		}
	}
	if len(classes) == 0 {
		return colors
	}
	return " class=\"" + strings.Join(classes, " ") + "\"" + colors
}

// hex formats the ink of a color as #rrggbb.
func hex(i doc.Ink) string {
	r, g, b, _ := i.RGB()
	return fmt.Sprintf("#%02x%02x%02x", r, g, b)
}

func style(s doc.Style) string {
	out := painted(s)
	if s.Line != doc.None {
		out += " stroke-width=\"" + decimal(s.Width) + "\""
	}
	if len(s.Dash) > 0 {
		parts := make([]string, len(s.Dash))
		for i, d := range s.Dash {
			parts[i] = decimal(d)
		}
		out += " stroke-dasharray=\"" + strings.Join(parts, " ") + "\""
	}
	return out
}

// label writes a label; the style sheet's defaults are for a label in full ink that starts at
// its position.
func (p *page) label(l *doc.Label) {
	var classes []string
	if l.Ink != doc.Full {
		classes = append(classes, "f-"+inks[l.Ink])
	}
	if l.Bold {
		classes = append(classes, "bold")
	}
	attributes := ""
	if len(classes) > 0 {
		attributes = " class=\"" + strings.Join(classes, " ") + "\""
	}
	if anchor := map[doc.Anchor]string{doc.Center: "middle", doc.End: "end"}[l.Anchor]; anchor != "" {
		attributes += " text-anchor=\"" + anchor + "\""
	}
	if l.Turn != 0 {
		attributes += " transform=\"rotate(" + decimal(-l.Turn) + " " + decimal(l.At.X) + " " + decimal(l.At.Y) + ")\""
	}
	p.printf("<text x=\"%s\" y=\"%s\" font-size=\"%s\"%s>%s</text>\n", decimal(l.At.X), decimal(l.At.Y), decimal(l.Size), attributes, esc(l.Text))
}

// decimal formats a length with at most two decimals, the same on every machine.
func decimal(x float64) string {
	r := math.Round(x*100) / 100
	if r == 0 {
		r = 0 // no "-0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
