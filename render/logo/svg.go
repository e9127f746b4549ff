package logo

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

const svgSpace = "http://www.w3.org/2000/svg"

// shapes are the elements that draw, with functions that add their outline.
var shapes = map[string]func(a attributes, p *pen) error{
	"path":     func(a attributes, p *pen) error { return p.path(a["d"]) },
	"rect":     func(a attributes, p *pen) error { return p.rectangle(a) },
	"circle":   func(a attributes, p *pen) error { return p.ellipse(a, "r", "r") },
	"ellipse":  func(a attributes, p *pen) error { return p.ellipse(a, "rx", "ry") },
	"line":     func(a attributes, p *pen) error { return p.line(a) },
	"polyline": func(a attributes, p *pen) error { return p.polygon(a["points"], false) },
	"polygon":  func(a attributes, p *pen) error { return p.polygon(a["points"], true) },
}

// Elements that are not shapes: the sheet and groups, and those that describe the
// picture and draw nothing.
var (
	groups = []string{"svg", "g"}
	silent = []string{"title", "desc", "metadata", "defs"}
)

// attributesRead are the attributes that are interpreted.
var attributesRead = []string{
	"viewBox", "width", "height", "d", "points", "x", "y", "rx", "ry", "cx", "cy", "r", "x1", "y1", "x2", "y2",
	"transform", "style", "fill", "fill-rule", "stroke", "stroke-width",
}

// attributesPlain are ignored: they do not change how the picture looks here, because
// line joins and caps are always round.
var attributesPlain = []string{
	"id", "version", "baseProfile", "role", "preserveAspectRatio", "clip-rule", "stroke-linecap", "stroke-linejoin", "stroke-miterlimit", "focusable",
}

// attributesWhole are accepted with the values that have no effect.
var attributesWhole = map[string][]string{
	"opacity": {"1"}, "fill-opacity": {"1"}, "stroke-opacity": {"1"}, "display": {"inline", "block"}, "visibility": {"visible"},
	"stroke-dasharray": {"none"}, "overflow": {"visible", "hidden"},
}

// attributes are those of one element, including the declarations of its style attribute.
type attributes map[string]string

// svgReader parses one file.
type svgReader struct {
	file     string
	data     []byte
	decoder  *xml.Decoder
	findings source.Findings
	sheet    box
	drawn    []doc.Shape
	steps    int
}

// readSVG reads the plain shapes of an SVG. It returns nil if there are findings.
func readSVG(file string, data []byte) (*doc.Drawing, source.Findings) {
	r := &svgReader{file: file, data: data, decoder: xml.NewDecoder(bytes.NewReader(data))}
	r.document()
	if len(r.findings) == 0 && len(r.drawn) == 0 {
		r.refuse(codeFile, "the logo draws nothing")
	}
	if len(r.findings) > 0 {
		return nil, r.findings
	}
	return &doc.Drawing{Width: r.sheet.right - r.sheet.left, Height: r.sheet.low - r.sheet.top, Shapes: r.drawn}, nil
}

// at returns the position of a byte offset.
func (r *svgReader) at(offset int64) source.Pos {
	before := r.data[:min(int(offset), len(r.data))]
	line := bytes.Count(before, []byte("\n"))
	column := len([]rune(string(before[bytes.LastIndexByte(before, '\n')+1:])))
	return source.Pos{File: r.file, Line: line + 1, Column: column + 1}
}

func (r *svgReader) refuse(code source.Code, format string, args ...any) {
	r.findings.Add(code.At(r.at(r.decoder.InputOffset()), format, args...))
}

// enough reports whether there are so many findings that no more are needed.
func (r *svgReader) enough() bool { return len(r.findings) > 50 }

// document reads the file to its end, or to the first syntax error.
func (r *svgReader) document() {
	for {
		start := r.decoder.InputOffset()
		token, err := r.decoder.Token()
		switch {
		case errors.Is(err, io.EOF):
			return
		case err != nil:
			r.refuse(codeFile, "this is no SVG picture: %s", plainly(err))
			return
		}
		switch t := token.(type) {
		case xml.Directive:
			if bytes.Contains(t, []byte("[")) {
				r.findings.Add(codeShape.At(r.at(start), "a logo may not declare entities"))
				return
			}
		case xml.StartElement:
			if t.Name.Local != "svg" || t.Name.Space != svgSpace {
				r.findings.Add(codeFile.At(r.at(start), "the file begins with <%s>; expected <svg xmlns=%q>", t.Name.Local, svgSpace))
				return
			}
			if r.root(t, start) {
				r.element(t, start, initial, 0)
			}
			return
		}
	}
}

// plainly returns the message of an XML error without the line, which the position has.
func plainly(err error) string {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return syntax.Msg
	}
	return err.Error()
}

// root reads the sheet: viewBox, or width and height.
func (r *svgReader) root(t xml.StartElement, start int64) bool {
	a := attributes{}
	for _, x := range t.Attr {
		a[x.Name.Local] = x.Value
	}
	view := a["viewBox"]
	if view == "" {
		view = "0 0 " + strings.TrimSuffix(a["width"], "px") + " " + strings.TrimSuffix(a["height"], "px")
	}
	n, err := numbers(view)
	if err != nil || len(n) != 4 || tooLong(n[2], n[3]) || !sane(n...) {
		r.findings.Add(codeSheet.At(r.at(start), "the sheet is %q; expected a viewBox of four numbers, at most eight times as long as wide", view))
		return false
	}
	r.sheet = box{n[0], n[1], n[0] + n[2], n[1] + n[3]}
	return true
}

// element reads an element and its children, with the paint of its parent.
func (r *svgReader) element(t xml.StartElement, start int64, p paint, depth int) {
	name := t.Name.Local
	draw, isShape := shapes[name]
	switch {
	case t.Name.Space != svgSpace, slices.Contains(silent, name):
		// Drawing programs store data of their own; it is dropped.
		r.skip()
		return
	case depth > deepest:
		r.findings.Add(codeShape.At(r.at(start), "groups stand more than %d deep in each other", deepest))
		r.skip()
		return
	case !isShape && (!slices.Contains(groups, name) || name == "svg" && depth > 0):
		f := codeShape.At(r.at(start), "<%s> is not read in a logo", name)
		r.findings.Add(f.WithHint("%s", wayOut(name)))
		r.skip()
		return
	}
	a := r.attributes(t, start)
	var err error
	if p, err = p.under(a); err != nil {
		r.findings.Add(codeShape.At(r.at(start), "<%s>: %s", name, err))
		r.skip()
		return
	}
	if isShape {
		r.shape(name, draw, a, p, start)
	}
	r.children(p, depth)
}

// wayOut returns how to replace an unsupported element.
func wayOut(name string) string {
	switch name {
	case "text", "tspan", "textPath":
		return "turn the text into outlines in your drawing program"
	case "use", "symbol":
		return "unlink the copy in your drawing program"
	case "image":
		return "save the whole logo as a PNG picture"
	}
	return "a logo has groups and plain shapes: path, rect, circle, ellipse, line, polyline, polygon"
}

func (r *svgReader) children(p paint, depth int) {
	for {
		start := r.decoder.InputOffset()
		token, err := r.decoder.Token()
		if err != nil {
			r.refuse(codeFile, "this is no SVG picture: %s", plainly(err))
			return
		}
		switch t := token.(type) {
		case xml.EndElement:
			return
		case xml.StartElement:
			if r.enough() {
				r.skip()
				continue
			}
			r.element(t, start, p, depth+1)
		}
	}
}

func (r *svgReader) skip() {
	if err := r.decoder.Skip(); err != nil && !errors.Is(err, io.EOF) {
		r.refuse(codeFile, "this is no SVG picture: %s", plainly(err))
	}
}

// attributes returns the attributes of an element, with its style split into
// declarations, and refuses those a logo must not have.
func (r *svgReader) attributes(t xml.StartElement, start int64) attributes {
	a := attributes{}
	add := func(name, value string) {
		switch whole, partial := attributesWhole[name]; {
		case slices.Contains(attributesRead, name):
			a[name] = strings.TrimSpace(value)
		case slices.Contains(attributesPlain, name), strings.HasPrefix(name, "aria-"), partial && slices.Contains(whole, value):
		default:
			f := codeShape.At(r.at(start), "%s is not read in a logo", name)
			if name == "class" {
				f = f.WithHint("write fill and stroke on the shape itself")
			}
			r.findings.Add(f)
		}
	}
	for _, x := range t.Attr {
		switch {
		case r.enough():
			return a
		case x.Name.Local == "xmlns", x.Name.Space == "xmlns", x.Name.Space == "http://www.w3.org/XML/1998/namespace" && x.Name.Local == "space":
		case x.Name.Space != "" && x.Name.Local != "href": // data of drawing programs
		case x.Name.Local == "style":
			for declaration := range strings.SplitSeq(x.Value, ";") {
				if r.enough() {
					break
				}
				if name, value, ok := strings.Cut(declaration, ":"); ok {
					add(strings.TrimSpace(name), strings.TrimSpace(value))
				}
			}
		default:
			add(x.Name.Local, x.Value)
		}
	}
	return a
}

// shape draws one shape: the fill as one path, so that holes remain, then the line of
// each subpath.
func (r *svgReader) shape(name string, outline func(attributes, *pen) error, a attributes, p paint, start int64) {
	pen := &pen{matrix: p.matrix}
	if err := outline(a, pen); err != nil {
		r.findings.Add(codeShape.At(r.at(start), "<%s>: %s", name, err))
		return
	}
	if r.steps += pen.steps; r.steps > mostSteps || len(r.drawn) > mostShapes {
		r.findings.Add(codeShape.At(r.at(start), "the logo has too many shapes; expected at most %d with %d lines and curves", mostShapes, mostSteps))
		return
	}
	width := 0.0
	if p.line != doc.None {
		width = p.width * p.matrix.scale()
	}
	if at, out := pen.leaves(r.sheet, width/2); out {
		r.findings.Add(codeSheet.At(r.at(start), "<%s> reaches %.4g %.4g, outside the sheet from %.4g %.4g to %.4g %.4g", name, at.X, at.Y, r.sheet.left, r.sheet.top, r.sheet.right, r.sheet.low))
		return
	}
	if p.fill != doc.None {
		if filled := r.placed(pen.strokes, doc.Style{Fill: p.fill}); filled != nil {
			filled.Closed, filled.EvenOdd = true, p.evenOdd
			r.drawn = append(r.drawn, filled)
		}
	}
	for i := range pen.strokes {
		if width > 0 {
			if s := r.placed(pen.strokes[i:i+1], doc.Style{Line: p.line, Width: width}); s != nil {
				s.Closed = pen.strokes[i].closed
				r.drawn = append(r.drawn, s)
			}
		}
	}
}

// placed returns one path of subpaths, relative to the sheet's corner.
func (r *svgReader) placed(strokes []stroke, style doc.Style) (out *doc.Path) {
	move := func(q doc.Point) doc.Point { return doc.Point{X: q.X - r.sheet.left, Y: q.Y - r.sheet.top} }
	for _, s := range strokes {
		if len(s.segments) == 0 {
			continue // the subpath has no segment
		}
		if out == nil {
			out = &doc.Path{Style: style, From: move(s.from)}
		} else {
			out.Segments = append(out.Segments, doc.Segment{To: move(s.from), Move: true})
		}
		for _, g := range s.segments {
			g.To, g.C1, g.C2 = move(g.To), move(g.C1), move(g.C2)
			out.Segments = append(out.Segments, g)
		}
	}
	return out
}
