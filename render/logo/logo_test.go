package logo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"ownerguide/render/doc"
)

// svg is a sheet of 100 by 50 with something on it, on its second line.
func svg(body string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 50">` + "\n" + body + "</svg>")
}

// told writes a drawing as one line a shape: fill, line, and the path.
func told(d *doc.Drawing) string {
	var b strings.Builder
	ink := func(i doc.Ink) string {
		r, g, bl, ok := i.RGB()
		if !ok {
			return "-"
		}
		return fmt.Sprintf("%02x%02x%02x", r, g, bl)
	}
	for _, s := range d.Shapes {
		p := s.(*doc.Path)
		fmt.Fprintf(&b, "%s %s %.4g:", ink(p.Fill), ink(p.Line), p.Width)
		fmt.Fprintf(&b, " M%.4g,%.4g", p.From.X, p.From.Y)
		for _, g := range p.Segments {
			switch {
			case g.Move:
				fmt.Fprintf(&b, " M%.4g,%.4g", g.To.X, g.To.Y)
			case g.Curve:
				fmt.Fprintf(&b, " C%.4g,%.4g,%.4g,%.4g,%.4g,%.4g", g.C1.X, g.C1.Y, g.C2.X, g.C2.Y, g.To.X, g.To.Y)
			default:
				fmt.Fprintf(&b, " L%.4g,%.4g", g.To.X, g.To.Y)
			}
		}
		if p.Closed {
			b.WriteString(" Z")
		}
		if p.EvenOdd {
			b.WriteString(" evenodd")
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// What drawing programs write, and the shapes it means. Source: SVG 1.1,
// sections 7 to 11.
func TestShapes(t *testing.T) {
	for _, c := range []struct{ name, body, want string }{
		{"rectangle", `<rect x="1" y="2" width="3" height="4"/>`, "000000 - 0: M1,2 L4,2 L4,6 L1,6 L1,2 Z\n"},
		{"polygon", `<polygon points="0,0 10,0 10-5e-1" fill="#f00"/>`, ""},
		{"polygon with signs", `<polygon points="1,1 10,1 10.5.5" fill="#f00"/>`, "ff0000 - 0: M1,1 L10,1 L10.5,0.5 Z\n"},
		{"polyline", `<polyline points="1 1 2 2" fill="none" stroke="navy"/>`, "- 000080 1: M1,1 L2,2\n"},
		{"line", `<line x1="1" y1="1" x2="9" y2="1" stroke="rgb(1, 2, 3)" stroke-width="2px"/>`, "000000 - 0: M1,1 L9,1 Z\n- 010203 2: M1,1 L9,1\n"},
		{"absolute", `<path d="M1 2L3 4H5V6Z"/>`, "000000 - 0: M1,2 L3,4 L5,4 L5,6 Z\n"},
		{"relative", `<path d="m1 2 2 2h2v2z"/>`, "000000 - 0: M1,2 L3,4 L5,4 L5,6 Z\n"},
		{"curves", `<path d="M0 10C1 1 2 1 3 10S5 19 6 10"/>`, "000000 - 0: M0,10 C1,1,2,1,3,10 C4,19,5,19,6,10 Z\n"},
		{"quadratic", `<path d="M0 10Q3 4 6 10T12 10"/>`, "000000 - 0: M0,10 C2,6,4,6,6,10 C8,14,10,14,12,10 Z\n"},
		{"hole", `<path fill-rule="evenodd" d="M0 0H9V9H0ZM2 2H4V4H2Z"/>`, "000000 - 0: M0,0 L9,0 L9,9 L0,9 M2,2 L4,2 L4,4 L2,4 Z evenodd\n"},
		{"on after closing", `<path fill="none" stroke="#000" d="M5 5H9V9ZL2 2"/>`, "- 000000 1: M5,5 L9,5 L9,9 Z\n- 000000 1: M5,5 L2,2\n"},
		{"handed down", `<g fill="#123456" stroke="none"><g><path d="M1 1H2V2Z"/></g><path fill="none" d="M1 1H2"/></g>`, "123456 - 0: M1,1 L2,1 L2,2 Z\n"},
		{"style", `<path style="fill:#0000ff;stroke:none;fill-opacity:1" d="M1 1H2V2Z"/>`, "0000ff - 0: M1,1 L2,1 L2,2 Z\n"},
		{"moves", `<g transform="translate(10 5) scale(2)"><path stroke="#000" fill="none" transform="translate(1,1)" d="M0 0H4"/></g>`, "- 000000 2: M12,7 L20,7\n"},
		{"turn", `<path transform="rotate(90 10 10)" stroke="#000" fill="none" d="M10 10H14"/>`, "- 000000 1: M10,10 L10,14\n"},
		{"notes", `<title>A logo</title><desc>x</desc><metadata><a xmlns="urn:x"/></metadata><defs/><n:view xmlns:n="urn:n" n:zoom="3"/><path id="p" d="M1 1H2V2Z"/>`, "000000 - 0: M1,1 L2,1 L2,2 Z\n"},
	} {
		d, findings := readSVG("logo.svg", svg(c.body))
		if c.want == "" {
			if len(findings) == 0 {
				t.Errorf("%s: drawn as %s", c.name, told(d))
			}
			continue
		}
		if len(findings) > 0 {
			t.Errorf("%s: %v", c.name, findings)
		} else if got := told(d); got != c.want {
			t.Errorf("%s:\n got %s\nwant %s", c.name, got, c.want)
		}
	}
}

// The sheet's corner is where the drawing begins, wherever the author counts from.
func TestTheSheet(t *testing.T) {
	d, findings := readSVG("logo.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="-10 20 40 30"><path d="M-10 20H30V50Z"/></svg>`))
	if len(findings) > 0 || d.Width != 40 || d.Height != 30 || told(d) != "000000 - 0: M0,0 L40,0 L40,30 Z\n" {
		t.Errorf("%v %+v", findings, d)
	}
	d, findings = readSVG("logo.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="40px" height="30"><path d="M0 0H1V1Z"/></svg>`))
	if len(findings) > 0 || d.Width != 40 || d.Height != 30 {
		t.Errorf("%v %+v", findings, d)
	}
}

// Circles and arcs keep their radius: every point of theirs, at the same
// distance from the middle within a thousandth.
func TestRoundThings(t *testing.T) {
	for name, c := range map[string]struct {
		body      string
		x, y      float64
		rx, ry    float64
		from, to  doc.Point
		whole     bool
		clockwise bool
	}{
		"circle":       {body: `<circle cx="50" cy="25" r="20"/>`, x: 50, y: 25, rx: 20, ry: 20, whole: true},
		"ellipse":      {body: `<ellipse cx="50" cy="25" rx="40" ry="20"/>`, x: 50, y: 25, rx: 40, ry: 20, whole: true},
		"half":         {body: `<path d="M30 25A20 20 0 0 1 70 25"/>`, x: 50, y: 25, rx: 20, ry: 20, from: doc.Point{X: 30, Y: 25}, to: doc.Point{X: 70, Y: 25}},
		"quarter":      {body: `<path d="M50 5a20 20 0 0 1 20 20"/>`, x: 50, y: 25, rx: 20, ry: 20, from: doc.Point{X: 50, Y: 5}, to: doc.Point{X: 70, Y: 25}},
		"long way":     {body: `<path d="M50 5A20 20 0 1 0 70 25"/>`, x: 50, y: 25, rx: 20, ry: 20, from: doc.Point{X: 50, Y: 5}, to: doc.Point{X: 70, Y: 25}},
		"packed flags": {body: `<path d="M50 5a20 20 0 0120 20"/>`, x: 50, y: 25, rx: 20, ry: 20, from: doc.Point{X: 50, Y: 5}, to: doc.Point{X: 70, Y: 25}},
		"too small":    {body: `<path d="M30 25A2 2 0 0 1 70 25"/>`, x: 50, y: 25, rx: 20, ry: 20, from: doc.Point{X: 30, Y: 25}, to: doc.Point{X: 70, Y: 25}},
		"turned":       {body: `<path d="M50 5A10 20 90 0 1 50 25"/>`, x: 50, y: 15, rx: 20, ry: 10, from: doc.Point{X: 50, Y: 5}, to: doc.Point{X: 50, Y: 25}},
	} {
		d, findings := readSVG("logo.svg", svg(c.body))
		if len(findings) > 0 {
			t.Errorf("%s: %v", name, findings)
			continue
		}
		p := d.Shapes[0].(*doc.Path)
		at := p.From
		if !c.whole && (at != c.from || p.Segments[len(p.Segments)-1].To != c.to) {
			t.Errorf("%s: from %v to %v", name, at, p.Segments[len(p.Segments)-1].To)
		}
		for _, g := range p.Segments {
			for i := range 11 {
				q := g.Along(at, float64(i)/10)
				if r := math.Hypot((q.X-c.x)/c.rx, (q.Y-c.y)/c.ry); math.Abs(r-1) > 1e-3 {
					t.Errorf("%s: %v lies at %.4f of the radius", name, q, r)
				}
			}
			at = g.To
		}
	}
	// The short way round turns with the clock when the sweep flag is set: over the top, y being down.
	d, _ := readSVG("logo.svg", svg(`<path d="M30 25A20 20 0 0 1 70 25"/>`))
	if q := d.Shapes[0].(*doc.Path).Segments[0].Along(d.Shapes[0].(*doc.Path).From, 0.5); q.Y > 25 {
		t.Errorf("the arc goes below: %v", q)
	}
}

// What is more than plain shapes is refused where it stands.
func TestWhatIsRefused(t *testing.T) {
	for _, c := range []struct{ name, body, at, says string }{
		{"script", `<script>alert(1)</script>`, "2:1", "<script> is not read in a logo"},
		{"script in a group", `<g><path d="M1 1H2V2Z"/><script/></g>`, "2:25", "<script> is not read"},
		{"event", `<path onclick="x()" d="M1 1H2V2Z"/>`, "2:1", "onclick is not read"},
		{"link", `<a href="https://example.com"><path d="M1 1H2V2Z"/></a>`, "2:1", "<a> is not read"},
		{"use", `<use href="#x"/>`, "2:1", "<use> is not read"},
		{"picture in it", `<image href="https://example.com/x.png"/>`, "2:1", "<image> is not read"},
		{"old link", `<path xmlns:xlink="http://www.w3.org/1999/xlink" xlink:href="x" d="M1 1H2V2Z"/>`, "2:1", "href is not read"},
		{"words", `<text>Works</text>`, "2:1", "<text> is not read"},
		{"style sheet", `<style>path{fill:url(x)}</style>`, "2:1", "<style> is not read"},
		{"class", `<path class="a" d="M1 1H2V2Z"/>`, "2:1", "class is not read"},
		{"html", `<foreignObject><p xmlns="http://www.w3.org/1999/xhtml">x</p></foreignObject>`, "2:1", "<foreignObject> is not read"},
		{"filter", `<path filter="url(#f)" d="M1 1H2V2Z"/>`, "2:1", "filter is not read"},
		{"see-through", `<path opacity=".5" d="M1 1H2V2Z"/>`, "2:1", "opacity is not read"},
		{"gradient", `<path fill="url(#g)" d="M1 1H2V2Z"/>`, "2:1", `colour "url(#g)" is not read`},
		{"animation", `<path d="M1 1H2V2Z"><animate attributeName="d"/></path>`, "2:21", "<animate> is not read"},
		{"outside", `<rect x="90" y="0" width="20" height="10"/>`, "2:1", "outside the sheet"},
		{"line over the edge", `<path stroke="#000" fill="none" d="M0 0H9"/>`, "2:1", "outside the sheet"},
		{"bulge over the edge", `<path d="M1 1C50 99 60 99 90 1"/>`, "2:1", "outside the sheet"},
		{"not a number", `<path d="M1 1L1e999 2"/>`, "2:1", "is not a number"},
		{"huge", `<path d="M1 1L9e9 2"/>`, "2:1", "path command L"},
		{"no beginning", `<path d="L1 1"/>`, "2:1", "a path begins with M"},
		{"odd number", `<path d="M1 1L2"/>`, "2:1", "path command L has 1 numbers"},
		{"unknown command", `<path d="M1 1X2 2"/>`, "2:1", "path command 'X' is not known"},
		{"sheet in a sheet", `<svg viewBox="0 0 1 1"/>`, "2:1", "<svg> is not read"},
		{"nothing", ``, "2:7", "the logo draws nothing"},
		{"broken", `<path d="M1 1H2V2Z">`, "2:27", "this is no SVG picture"},
		{"entity", `<path d="&x;"/>`, "2:13", "this is no SVG picture"},
		{"too deep", strings.Repeat("<g>", 40) + strings.Repeat("</g>", 40), "2:97", "deep in each other"},
	} {
		n, findings := Read("line/logo.svg", svg(c.body), "Works")
		if n != nil || len(findings) == 0 {
			t.Errorf("%s: nothing is found", c.name)
			continue
		}
		if got := findings[0].Pos.String(); got != "line/logo.svg:"+c.at || !strings.Contains(findings[0].Message, c.says) {
			t.Errorf("%s: %s: %s; expected %s: … %s", c.name, got, findings[0].Message, c.at, c.says)
		}
	}
	for name, text := range map[string]string{
		"page":     `<html xmlns="http://www.w3.org/1999/xhtml"/>`,
		"no space": `<svg viewBox="0 0 1 1"/>`,
		"entities": `<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1H2V2Z"/></svg>`,
		"no sheet": `<svg xmlns="http://www.w3.org/2000/svg"><path d="M1 1H2V2Z"/></svg>`,
		"long":     `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 9"><path d="M1 1H2V2Z"/></svg>`,
		"flat":     `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 0"><path d="M1 1H2V2Z"/></svg>`,
		"words":    `just text`,
	} {
		if n, findings := Read("logo.svg", []byte(text), "Works"); n != nil || len(findings) == 0 {
			t.Errorf("%s: nothing is found", name)
		}
	}
}

// A plain document type, as older programs write one, does no harm.
func TestDocumentType(t *testing.T) {
	text := `<?xml version="1.0" encoding="UTF-8"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x.dtd"><svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M1 1H2V2Z"/></svg>`
	if n, findings := Read("logo.svg", []byte(text), "Works"); n == nil || len(findings) > 0 {
		t.Error(findings)
	}
}

func dotted(t testing.TB, w, h int, c color.Color) []byte {
	t.Helper()
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for i := range w * h {
		img.Set(i%w, i/w, c)
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func TestDots(t *testing.T) {
	n, findings := Read("line/logo.PNG", append(dotted(t, 30, 10, color.NRGBA{255, 0, 0, 128}), "<script>"...), "Works")
	if len(findings) > 0 || n.Width != 30 || n.Height != 10 || n.Alt != "Works" {
		t.Fatalf("%v %+v", findings, n)
	}
	if bytes.Contains(n.PNG, []byte("<script>")) {
		t.Error("what stood behind the picture is passed on")
	}
	img, err := png.Decode(bytes.NewReader(n.PNG))
	if err != nil {
		t.Fatal(err)
	}
	// Half red on white: 255, 127, 127.
	if r, g, b, a := img.At(3, 3).RGBA(); r>>8 != 255 || g>>8 < 126 || g>>8 > 128 || b != g || a>>8 != 255 {
		t.Errorf("a dot is %d %d %d %d", r>>8, g>>8, b>>8, a>>8)
	}
	for name, data := range map[string][]byte{
		"empty": nil, "not a picture": []byte("GIF89a"), "cut short": dotted(t, 30, 10, color.Black)[:50],
		"too large": dotted(t, 1601, 1600, color.Black), "too long": dotted(t, 90, 10, color.Black), "too many bytes": make([]byte, mostBytes+1),
	} {
		if n, findings := Read("line/logo.png", data, "Works"); n != nil || len(findings) != 1 || findings[0].Pos.String() != "line/logo.png:1:1" {
			t.Errorf("%s: %v", name, findings)
		}
	}
	if n, findings := Read("line/logo.gif", nil, "Works"); n != nil || len(findings) != 1 {
		t.Errorf("another ending: %v", findings)
	}
}

// Logos of the lines in this project are read.
func TestOurOwn(t *testing.T) {
	for _, name := range []string{"../../spec/line/logo.svg", "../../testdata/quillmere/line/logo.png"} {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if n, findings := Read(name, data, "Works"); n == nil || len(findings) > 0 {
			t.Errorf("%s: %v", name, findings)
		}
	}
}

// Whatever the file holds, reading ends, findings lie in the file, and what is
// drawn stays on its sheet.
func FuzzSVG(f *testing.F) {
	for _, body := range []string{
		`<path d="M1 1a20 20 0 0120 20Q3 4 6 10T12 10S1 2 3 4z" transform="rotate(3 4 5)"/>`, `<g style="fill:#123"><rect width="3" height="4" rx="1"/></g>`,
		`<script/>`, `<polygon points="1,1 10,1 10.5.5"/>`, `<circle r="3" cx="9" cy="9" stroke="red"/>`,
	} {
		f.Add(string(svg(body)))
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, findings := Read("logo.svg", []byte(text), "Works")
		if (n == nil) != (len(findings) > 0) {
			t.Fatalf("a logo: %t, findings: %v", n != nil, findings)
		}
		lines := strings.Count(text, "\n") + 1
		for _, f := range findings {
			if f.Pos.Line < 1 || f.Pos.Line > lines || f.Pos.Column < 1 {
				t.Fatalf("%s is outside the file", f.Pos)
			}
		}
		if n == nil {
			return
		}
		for _, s := range n.Drawing.Shapes {
			p := s.(*doc.Path)
			at := p.From
			for _, g := range p.Segments {
				for i := range 5 {
					q := g.Along(at, float64(i)/4)
					if g.Move {
						q = g.To
					}
					const slack = 0.02
					if !(q.X >= -slack*n.Drawing.Width && q.X <= (1+slack)*n.Drawing.Width && q.Y >= -slack*max(n.Drawing.Width, n.Drawing.Height) && q.Y <= n.Drawing.Height+slack*max(n.Drawing.Width, n.Drawing.Height)) {
						t.Fatalf("%v is outside the sheet of %g by %g", q, n.Drawing.Width, n.Drawing.Height)
					}
				}
				at = g.To
			}
		}
	})
}
