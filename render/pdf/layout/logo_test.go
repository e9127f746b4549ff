package layout

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
)

// dotted makes a PNG of one color.
func dotted(t *testing.T, w, h int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range w * h {
		img.Set(i%w, i/w, color.RGBA{200, 30, 30, 255})
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A logo stands above the cover's title, inside the text area; it is a figure with the maker's name.
func TestALogoAboveTheTitle(t *testing.T) {
	for name, n := range map[string]*doc.Logo{
		"shapes": {Alt: "Works", Drawing: &doc.Drawing{Width: 300, Height: 100, Shapes: []doc.Shape{&doc.Path{Style: doc.Style{Fill: doc.RGB(1, 2, 3)}, Closed: true,
			Segments: []doc.Segment{{To: doc.Point{X: 300}}, {To: doc.Point{X: 300, Y: 100}}, {To: doc.Point{Y: 100}}}}}}},
		"dots": {Alt: "Works", PNG: dotted(t, 60, 20), Width: 60, Height: 20},
	} {
		b := laid(t, testGuide(sec(1, doc.RoleCover, "", "The owner guide of a trailer with a very long name", n, p("Text."))))
		var fig *page.Frame
		top := letter.Height
		for it := range b.Pages[0].All() {
			switch it := it.(type) {
			case *page.Frame:
				fig = it
			case *page.Text:
				if it.Element != nil && it.Element.Role == finish.RoleH1 {
					top = min(top, it.Y-it.Look.Size)
				}
			}
		}
		if fig == nil || fig.Element.Alt != "Works" || fig.Element.Role != finish.RoleFigure {
			t.Fatalf("%s: no figure with the maker's name: %+v", name, fig)
		}
		if fig.Box.H > logoHigh+0.01 || fig.Box.W > logoWide+0.01 || fig.Box.Y < letter.Top || fig.Box.X < letter.TextLeft(1) || fig.Box.Y+fig.Box.H > top {
			t.Errorf("%s: the logo is %.1f by %.1f at %.1f, the title begins at %.1f", name, fig.Box.W, fig.Box.H, fig.Box.Y, top)
		}
	}
}

// Anywhere else it stands by itself.
func TestALogoInAChapter(t *testing.T) {
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", p("Before."), &doc.Logo{Alt: "Works", PNG: dotted(t, 10, 10), Width: 10, Height: 10}, p("After."))))
	for it := range b.Pages[0].All() {
		if d, ok := it.(*page.Image); ok {
			if d.Box.W != logoHigh || d.Box.H != logoHigh {
				t.Errorf("the logo is %.1f by %.1f", d.Box.W, d.Box.H)
			}
			return
		}
	}
	t.Error("the logo is not there")
}

// Paper is black and white but for signal words and logos: the colors of a maker are for the screen.
func TestColoursOfAMakerStayOnTheScreen(t *testing.T) {
	g := wholeGuide()
	plain := dump(laid(t, g))
	g.Field, g.OnField = doc.RGB(0xe8, 0xd9, 0xb0), doc.RGB(0x3a, 0x1a, 0x0c)
	own := laid(t, g)
	if dump(own) != plain {
		t.Error("the pages differ")
	}
	allowed := map[page.Color]bool{page.Black: true, page.White: true, {R: 30, G: 60, B: 40}: true} // the last is the logo's
	for _, w := range []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice} {
		s, _ := signalOf(w)
		allowed[s.bar] = true
	}
	for _, i := range []doc.Ink{doc.Faint, doc.Pale, doc.Middle, doc.Signal} {
		c, _ := typeset.ColorOf(i)
		allowed[c] = true
	}
	for _, pg := range own.Pages {
		for it := range pg.All() {
			switch it := it.(type) {
			case *page.Text:
				if !allowed[it.Look.Ink] {
					t.Errorf("page %d: %q is set in %v", pg.Number, it.Words, it.Look.Ink)
				}
			case *page.Shape:
				for _, c := range []*page.Color{it.Fill, it.Line} {
					if c != nil && !allowed[*c] {
						t.Errorf("page %d: something is drawn in %v", pg.Number, *c)
					}
				}
			}
		}
	}
}

// A picture in a section is as wide as the text and no higher than it may be.
func TestAPictureInASection(t *testing.T) {
	for name, n := range map[string]*doc.Logo{
		"wide": {InText: true, Alt: "A crane", PNG: dotted(t, 400, 60), Width: 400, Height: 60},
		"high": {InText: true, Alt: "A crane", PNG: dotted(t, 60, 400), Width: 60, Height: 400},
	} {
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", p("Before."), n, p("After."))))
		found := false
		for it := range b.Pages[0].All() {
			if d, ok := it.(*page.Image); ok {
				found = true
				wide := d.Box.W > logoWide && d.Box.H < pictureHigh
				if d.Box.H > pictureHigh+0.01 || d.Box.X+d.Box.W > letter.Width || (name == "wide") != wide {
					t.Errorf("%s: the picture is %.1f by %.1f", name, d.Box.W, d.Box.H)
				}
			}
		}
		if !found {
			t.Errorf("%s: the picture is not there", name)
		}
	}
}
