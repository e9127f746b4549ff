package pdf

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// dotted makes a PNG of one colour.
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

// A logo stands beside the cover's title, inside the text area, and the title
// leaves it room; it is a figure with the maker's name.
func TestALogoBesideTheTitle(t *testing.T) {
	long := "The owner guide of a trailer with a very long name"
	for name, n := range map[string]*doc.Logo{
		"shapes": {Alt: "Works", Drawing: &doc.Drawing{Width: 300, Height: 100, Shapes: []doc.Shape{&doc.Path{Style: doc.Style{Fill: doc.RGB(1, 2, 3)}, Closed: true,
			Segments: []doc.Segment{{To: doc.Point{X: 300}}, {To: doc.Point{X: 300, Y: 100}}, {To: doc.Point{Y: 100}}}}}}},
		"dots": {Alt: "Works", PNG: dotted(t, 60, 20), Width: 60, Height: 20},
	} {
		g := testGuide(sec(1, doc.RoleCover, "", long, n, p("Text.")))
		b := laid(t, g)
		sh, _ := Letter.sheet()
		var fig *frame
		right := 0.0
		r := &ruler{known: map[measured]float64{}}
		for _, it := range b.pages[0].items {
			switch it := it.(type) {
			case *frame:
				fig = it
			case *run:
				if it.element != nil && it.element.Role == finish.RoleH1 {
					right = max(right, it.x+r.width(it.look, strings.TrimRight(it.text, " ")))
				}
			}
		}
		if fig == nil || fig.element.Alt != "Works" || fig.element.Role != finish.RoleFigure {
			t.Fatalf("%s: no figure with the maker's name: %+v", name, fig)
		}
		edge := sh.left(1) + sh.text()
		if got := fig.box.X + fig.box.W; got < edge-0.01 || got > edge+0.01 {
			t.Errorf("%s: the logo ends at %.1f, the text area at %.1f", name, got, edge)
		}
		if fig.box.H > logoHigh+0.01 || fig.box.W > logoWide+0.01 || fig.box.Y < bandHeight {
			t.Errorf("%s: the logo is %.1f by %.1f at %.1f", name, fig.box.W, fig.box.H, fig.box.Y)
		}
		if right == 0 || right > fig.box.X {
			t.Errorf("%s: the title ends at %.1f, over the logo at %.1f", name, right, fig.box.X)
		}
		data, _, err := Render(g, Options{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if again, _, _ := Render(g, Options{}); !bytes.Equal(data, again) {
			t.Errorf("%s: printed twice, the bytes differ", name)
		}
		if got := bytes.Contains(data, []byte("/Subtype /Image")); got != (n.PNG != nil) {
			t.Errorf("%s: the file has a picture of dots: %t", name, got)
		}
	}
}

// Anywhere else it stands by itself.
func TestALogoInAChapter(t *testing.T) {
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter", p("Before."), &doc.Logo{Alt: "Works", PNG: dotted(t, 10, 10), Width: 10, Height: 10}, p("After."))))
	for _, it := range b.pages[0].items {
		if d, ok := it.(*dots); ok {
			if d.box.W != logoHigh || d.box.H != logoHigh {
				t.Errorf("the logo is %.1f by %.1f", d.box.W, d.box.H)
			}
			return
		}
	}
	t.Error("the logo is not there")
}

// The field of the cover takes the maker's colours; nothing else does.
func TestTheCoversField(t *testing.T) {
	g := testGuide(sec(1, doc.RoleCover, "", "Owner guide", p("Text.")), sec(1, doc.RoleChapter, "1", "Chapter", caution(doc.Danger, "hot", "It is hot.", "It burns.", "Wait.")))
	plain := laid(t, g)
	g.Field, g.OnField = doc.RGB(0xe8, 0xd9, 0xb0), doc.RGB(0x3a, 0x1a, 0x0c)
	own := laid(t, g)
	changed := 0
	for i, page := range own.pages {
		for k, it := range page.items {
			was := plain.pages[i].items[k]
			switch it := it.(type) {
			case *shape:
				if it.fill != nil && *it.fill != *was.(*shape).fill {
					changed++
					if i != 0 || *it.fill != (colour{0xe8, 0xd9, 0xb0}) {
						t.Errorf("page %d: a fill became %v", i+1, *it.fill)
					}
				}
			case *run:
				if it.look.ink != was.(*run).look.ink {
					changed++
					if i != 0 || it.look.ink != (colour{0x3a, 0x1a, 0x0c}) || it.artifact != finish.Header {
						t.Errorf("page %d: %q became %v", i+1, it.text, it.look.ink)
					}
				}
			}
		}
	}
	if changed != 3 {
		t.Errorf("%d things changed their colour, expected the field and its two texts", changed)
	}
}
