package finish

import (
	"fmt"
	"strings"
	"testing"

	"ownerguide/render/pdf/fonts"
)

// Text goes on in one text object from piece to piece, without a place where it begins at the end of the text before. A drawing ends the object, and
// text behind it in the same piece begins another. CheckTags finds marks and text objects that overlap.
func TestTextGoesOn(t *testing.T) {
	r, content := one(t, func(p *painter) []*Element {
		var long float64
		for _, c := range "ab" {
			_, advance := fonts.Glyph(fonts.Regular, c)
			long += float64(advance+fonts.Kern(fonts.Regular, 'a', 'b')/2) / 100
		}
		first, second := &Element{Role: RoleP}, &Element{Role: RoleP}
		p.y = 92
		p.Begin(first)
		p.words("Regular", 10, 72, "ab")
		p.words("Regular", 10, 72+long, "(\\)")
		p.End()
		p.y = 104
		p.Begin(second)
		p.words("Regular", 10, 90, "x")
		var line Path
		line.MoveTo(1, 2)
		line.LineTo(3, 2)
		p.Draw(line, 0, 0, Stroke)
		p.words("Regular", 10, 90, "y")
		p.End()
		return []*Element{first, second}
	})
	r.CheckTags()
	if got := r.Pages()[0].Text(nil); got != "ab(\\)\nx\ny" {
		t.Errorf("the page says %q", got)
	}
	if n := strings.Count(content, " Td\n"); n != 3 || !strings.Contains(content, "\n18 -12 Td\n") {
		t.Errorf("%d places in\n%s", n, content)
	}
	if n := strings.Count(content, "BT\n"); n != 2 || strings.Count(content, "BDC\n") != 3 {
		t.Errorf("%d text objects in\n%s", n, content)
	}
}

// A shape with curves or many corners is written the same wherever it stands.
func TestShapesRecur(t *testing.T) {
	_, content := one(t, func(p *painter) []*Element {
		e := &Element{Role: RoleP}
		p.Begin(e)
		for _, at := range []float64{10.333, 200} {
			var path Path
			path.MoveTo(at, at)
			for i := 0.0; i < 6; i++ {
				path.LineTo(at+i*i, at+3*i)
			}
			p.Draw(path, 0, 0, Fill)
		}
		p.End()
		return []*Element{e}
	})
	if n := strings.Count(content, "0 0 m\n0 0 l\n1 -3 l\n4 -6 l\n9 -9 l\n16 -12 l\n25 -15 l\nf\nQ\n"); n != 2 {
		t.Errorf("%d shapes in\n%s", n, content)
	}
}

// A link that is broken over two lines of a page is one link with two places.
func TestLinkOverTwoLines(t *testing.T) {
	r, _ := one(t, func(p *painter) []*Element {
		e := &Element{Role: RoleLink}
		p.Anchor("a", 10)
		p.Begin(e)
		p.words("Regular", 10, 72, "x")
		p.End()
		p.LinkTo(e, Box{X: 100.5, Y: 20, W: 30, H: 10}, "a", "x, page 1")
		p.LinkTo(e, Box{X: 10, Y: 32, W: 20, H: 10}, "a", "x, page 1")
		return []*Element{{Role: RoleP, Children: []*Element{e}}}
	})
	r.CheckTags()
	page := r.Dict(r.List(r.Dict(r.Dict(r.Trailer["Root"])["Pages"])["Kids"])[0])
	links := r.List(page["Annots"])
	link := r.Dict(links[0])
	if got := fmt.Sprint(len(links), link["Rect"], link["QuadPoints"]); got != "1 [10 750 131 772] [100 772 131 772 100 762 131 762 10 760 30 760 10 750 30 750]" {
		t.Errorf("%s", got)
	}
}
