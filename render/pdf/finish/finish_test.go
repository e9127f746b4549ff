package finish

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/signintech/gopdf"

	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/pdftest"
	"ownerguide/spec/parallel"
)

// Same input, same bytes, whatever else goes on at the same time: kits and compressors are shared.
func TestSameInputSameBytes(t *testing.T) {
	p, doc := sample(t, 4)
	kit := p.kit()
	want, err := p.Finish(kit, doc)
	if err != nil {
		t.Fatal(err)
	}
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			for range 4 {
				p, doc := sample(t, 4)
				if got, err := p.Finish(kit, doc); err != nil || !bytes.Equal(got, want) {
					t.Errorf("differs: %v", err)
				}
			}
		})
	}
	group.Wait()
}

// Packed in between or not, the file is the same.
func TestPackChangesNothing(t *testing.T) {
	p, doc := sample(t, 2)
	want := p.finished(doc)
	p, doc = sample(t, 2)
	for range 2 {
		if err := p.Pack(); err != nil {
			t.Fatal(err)
		}
	}
	if got := p.finished(doc); !bytes.Equal(got, want) {
		t.Error("the bytes differ")
	}
}

// A part painted for one document is the same in another as if it were painted there, and does not fit where another piece or state comes before.
func TestPaintedOnce(t *testing.T) {
	e, to := &Element{Role: RoleP}, &Element{Role: RoleLink}
	d := Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{e, to}}}
	var part *Painted
	document := func(use bool) []byte {
		p := newPainter(t)
		text := p.set(fonts.Regular, 10, 72, "Torque – again ")
		paint := func(own *Pages) {
			own.Anchor("here", 72)
			own.Begin(e)
			own.Text(text)
			own.End()
			own.Begin(to)
			own.FillColor(Color{1, 2, 3})
			own.Text(text)
			own.End()
			own.LinkTo(to, Box{72, 60, 50, 12}, "here", "Go there")
		}
		p.Page()
		if part.Fits(p.Pages) != use {
			t.Errorf("fits: %v", !use)
		}
		if !use {
			part = p.Painted(paint)
		}
		p.Place(part, "in/", paint)
		if part.Fits(p.Pages) {
			t.Error("fits behind itself")
		}
		p.Artifact(Footer)
		p.Text(text)
		p.End()
		return p.finished(d)
	}
	first := document(false)
	pdftest.Read(t, first).CheckTags()
	if again := document(true); !bytes.Equal(first, again) {
		t.Error("the second document differs")
	}
	deflated = parallel.Cache[[]byte]{Most: 500} // so that it must be painted again
	if again := document(true); !bytes.Equal(first, again) {
		t.Error("painted again, the document differs")
	}
}

// A file that somebody put notes into must not pass for one this package made.
func TestUnchanged(t *testing.T) {
	p, doc := sample(t, 2)
	out := p.finished(doc)
	if !Unchanged(out) {
		t.Fatal("a file as it was made is taken for a changed one")
	}
	for name, changed := range map[string][]byte{
		"empty": nil, "cut off": out[:len(out)-20], "a byte behind it": append(slices.Clip(out), '\n'),
		"notes behind it": slices.Concat(out, []byte("9 0 obj\n<<>>\nendobj\nxref\n0 0\ntrailer\n<</Prev 9>>\nstartxref\n"+strconv.Itoa(len(out))+"\n%%EOF\n")),
		"no number":       bytes.Replace(out, []byte("startxref\n"), []byte("startxref\n-"), 1),
		"a large number":  bytes.Replace(out, []byte("startxref\n"), []byte("startxref\n9"), 1),
		"another file":    []byte("%PDF-1.7\nstartxref\n0\n%%EOF\n"),
	} {
		if Unchanged(changed) {
			t.Errorf("%s: taken for a file as it was made", name)
		}
	}
	for i := 0; i < len(out); i += len(out)/50 + 1 {
		changed := bytes.Clone(out)
		changed[i] ^= 1
		if Unchanged(changed) && i < bytes.LastIndex(out, []byte("/Type/XRef")) {
			t.Errorf("a change of byte %d is not seen", i)
		}
	}
}

func TestPicturesPassThrough(t *testing.T) {
	p := newPainter(t)
	p.Page()
	e, box := &Element{Role: RoleFigure, Alt: "A photograph"}, Box{72, 72, 100, 50}
	p.Begin(e)
	p.Picture(0, box)
	p.Frame(e, box)
	p.End()
	p.photo = true
	r := pdftest.Read(t, p.finished(Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{e}}}))
	r.CheckReferences()
	r.CheckTags()
	pages := r.Dict(r.Dict(r.Trailer["Root"])["Pages"])
	picture := r.Dict(r.Dict(r.Dict(pages["Resources"])["XObject"])["P0"])
	if picture["Subtype"] != pdftest.Name("Image") || picture["Width"] != 8.0 {
		t.Errorf("picture %v", picture)
	}
	content := string(r.Streams[int(r.Dict(r.List(pages["Kids"])[0])["Contents"].(pdftest.Ref))])
	if want := "q\n100 0 0 50 72 670 cm\n/P0 Do\nQ\n"; !strings.Contains(content, want) {
		t.Errorf("content %s", content)
	}
}

// Each case breaks one rule; the message must say which.
func TestWhatIsRefused(t *testing.T) {
	doc := func(children ...*Element) Document {
		return Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: children}}
	}
	cases := []struct {
		name  string
		paint func(p *painter) Document
		want  string
	}{
		{"no title", func(p *painter) Document { p.block(RoleP, "Regular", 9, "x"); return Document{Lang: "en"} }, "language and a title"},
		{"no language", func(p *painter) Document { p.block(RoleP, "Regular", 9, "x"); return Document{Title: "t"} }, "language and a title"},
		{"no root", func(p *painter) Document { p.block(RoleP, "Regular", 9, "x"); return Document{Lang: "en", Title: "t"} }, "root of the structure tree"},
		{"unmarked text", func(p *painter) Document { p.words("Regular", 9, 72, "x"); return doc() }, "text is painted outside every piece"},
		{"unmarked picture", func(p *painter) Document { p.Picture(0, Box{1, 1, 9, 9}); return doc() }, "picture is painted outside every piece"},
		{"unmarked path", func(p *painter) Document {
			var path Path
			path.MoveTo(1, 1)
			path.LineTo(2, 2)
			p.Draw(path, 0, 0, Stroke)
			return doc()
		}, "path is painted outside every piece"},
		{"empty path", func(p *painter) Document {
			p.Artifact(Layout)
			p.Draw(Path{}, 0, 0, Stroke)
			p.End()
			return doc()
		}, "path is empty"},
		{"piece left open", func(p *painter) Document { p.Begin(p.block(RoleP, "Regular", 9, "x")); return doc() }, "not closed at the end of the page"},
		{"nested pieces", func(p *painter) Document { p.Artifact(Layout); p.Artifact(Layout); return doc() }, "opened inside another"},
		{"end alone", func(p *painter) Document { p.End(); return doc() }, "closed that was not opened"},
		{"saved for ever", func(p *painter) Document { p.Save(); return doc() }, "not restored at the end"},
		{"restored too often", func(p *painter) Document { p.Restore(); return doc() }, "without having been saved"},
		{"orphan content", func(p *painter) Document {
			p.block(RoleP, "Regular", 9, "x")
			return doc(p.block(RoleP, "Regular", 9, "y"))
		}, "not in the structure tree"},
		{"unpainted paragraph", func(p *painter) Document {
			p.Artifact(Layout)
			p.End()
			return doc(&Element{Role: RoleP})
		}, "nothing was painted"},
		{"element twice", func(p *painter) Document { e := p.block(RoleP, "Regular", 9, "x"); return doc(e, e) }, "twice"},
		{"circle", func(p *painter) Document {
			e := p.block(RoleP, "Regular", 9, "x")
			e.Children = []*Element{e}
			return doc(e)
		}, "twice"},
		{"nil child", func(p *painter) Document { p.block(RoleP, "Regular", 9, "x"); return doc(nil) }, "child is missing"},
		{"item without list", func(p *painter) Document {
			return doc(&Element{Role: RoleLI, Children: []*Element{p.block(RoleLBody, "Regular", 9, "x")}})
		}, "LI may not stand under Document"},
		{"row without table", func(p *painter) Document {
			return doc(&Element{Role: RoleTR, Children: []*Element{p.block(RoleTD, "Regular", 9, "x")}})
		}, "TR may not stand under Document"},
		{"paragraph in table", func(p *painter) Document {
			return doc(&Element{Role: RoleTable, Children: []*Element{p.block(RoleP, "Regular", 9, "x")}})
		}, "P may not stand under Table"},
		{"content in a section", func(p *painter) Document { return doc(p.block(RoleSect, "Regular", 9, "x")) }, "may not own content"},
		{"unknown role", func(p *painter) Document { return doc(p.block("Aside", "Regular", 9, "x")) }, "not a standard structure type"},
		{"figure without words", func(p *painter) Document { return doc(p.block(RoleFigure, "Regular", 9, "x")) }, "needs alternative text"},
		{"header without scope", func(p *painter) Document {
			return doc(&Element{Role: RoleTable, Children: []*Element{{Role: RoleTR, Children: []*Element{p.block(RoleTH, "Regular", 9, "x")}}}})
		}, "needs a scope"},
		{"link without target", func(p *painter) Document { return doc(p.block(RoleLink, "Regular", 9, "x")) }, "no link annotation"},
		{"link without words", func(p *painter) Document {
			e := p.block(RoleLink, "Regular", 9, "x")
			p.LinkOut(e, Box{1, 1, 1, 1}, "https://example.com", "")
			return doc(e)
		}, "and words"},
		{"link to nowhere", func(p *painter) Document {
			e := p.block(RoleLink, "Regular", 9, "x")
			p.LinkTo(e, Box{1, 1, 1, 1}, "nowhere", "Nowhere")
			return doc(e)
		}, `anchor "nowhere", which is on no page`},
		{"odd address", func(p *painter) Document {
			e := p.block(RoleLink, "Regular", 9, "x")
			p.LinkOut(e, Box{1, 1, 1, 1}, "https://example.com/é", "Page")
			return doc(e)
		}, "not plain ASCII"},
		{"anchor twice", func(p *painter) Document { p.Anchor("a", 1); p.Anchor("a", 2); return doc() }, "there twice"},
		{"bookmark to nowhere", func(p *painter) Document {
			d := doc(p.block(RoleP, "Regular", 9, "x"))
			d.Outline = []*Outline{{Title: "B", Anchor: "b"}}
			return d
		}, `bookmark "B" leads to anchor "b"`},
		{"missing glyph", func(p *painter) Document {
			e := p.block(RoleP, "Regular", 9, "x≤")
			p.used[0] = "x"
			return doc(e)
		}, "page has a glyph of font 1 that its file lacks"},
		{"missing font", func(p *painter) Document {
			e := p.block(RoleP, "Bold", 9, "x")
			p.used[1] = ""
			return doc(e)
		}, "page has a glyph of font 2 that its file lacks"},
		{"missing picture", func(p *painter) Document {
			p.Artifact(Layout)
			p.Picture(0, Box{1, 1, 9, 9})
			p.End()
			return doc()
		}, "picture 1 of 0"},
		{"far away", func(p *painter) Document {
			e := &Element{Role: RoleP}
			p.Begin(e)
			p.y = math.NaN()
			p.words("Regular", 9, 72, "x")
			p.End()
			return doc(e)
		}, "out of range"},
		{"box without page", func(p *painter) Document {
			e := &Element{Role: RoleFigure, Alt: "a", Children: []*Element{p.block(RoleP, "Regular", 9, "x")}}
			p.Frame(e, Box{})
			return doc(e)
		}, "on which page"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			p := newPainter(t)
			p.Page()
			p.y = 72
			d := c.paint(p)
			out, err := p.Finish(p.kit(), d)
			if err == nil || !strings.Contains(err.Error(), c.want) || out != nil {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
		})
	}
	if _, err := NewPages(9, 9).Finish(newPainter(t).kit(), doc()); err == nil {
		t.Error("a document without a page was accepted")
	}
	before := newPainter(t)
	before.Artifact(Layout)
	if _, err := before.Finish(before.kit(), doc()); err == nil || !strings.Contains(err.Error(), "before the first page") {
		t.Errorf("error %v", err)
	}
}

// What the library must not have done.
func TestKitsRefused(t *testing.T) {
	for want, do := range map[string]func(*gopdf.GoPdf){
		"made through Pages":            func(pdf *gopdf.GoPdf) { pdf.AddExternalLink("https://example.com", 1, 1, 1, 1) },
		"must come from the document":   func(pdf *gopdf.GoPdf) { pdf.AddOutline("x") },
		"must not be set through gopdf": func(pdf *gopdf.GoPdf) { pdf.SetInfo(gopdf.PdfInfo{Title: "x"}) },
		"uncompressed content stream":   func(pdf *gopdf.GoPdf) { pdf.SetCompressLevel(6) },
		"exactly one page":              func(pdf *gopdf.GoPdf) { pdf.AddPage(); pdf.SetLineWidth(1) },
		`entry "Contents"`:              func(pdf *gopdf.GoPdf) { pdf.AddPage(); pdf.AddPage() },
	} {
		if _, err := NewKit(newPainter(t).raw(do), allFonts); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

// A transformation given with y downwards must do the same to a point as the operator written for y upwards.
func TestTransformIsTurnedOver(t *testing.T) {
	const h = 792.0
	m := [6]float64{0.9, 0.3, -0.2, 1.1, 15, -40}
	p := NewPages(612, h)
	p.Transform(m[0], m[1], m[2], m[3], m[4], m[5])
	var w [6]float64
	if _, err := fmt.Sscanf(string(p.out), "%f %f %f %f %f %f cm", &w[0], &w[1], &w[2], &w[3], &w[4], &w[5]); err != nil {
		t.Fatal(err)
	}
	apply := func(m [6]float64, x, y float64) (float64, float64) {
		return m[0]*x + m[2]*y + m[4], m[1]*x + m[3]*y + m[5]
	}
	for _, at := range [][2]float64{{0, 0}, {100, 50}, {300, 700}} {
		x, y := apply(m, at[0], at[1])
		gotX, gotY := apply(w, at[0], h-at[1])
		if math.Abs(gotX-x) > 0.01 || math.Abs(h-gotY-y) > 0.01 {
			t.Errorf("%v goes to %v, %v; expected %v, %v", at, gotX, h-gotY, x, y)
		}
	}
}

// A paragraph that goes over a page names the page of each piece.
func TestElementOverTwoPages(t *testing.T) {
	p := newPainter(t)
	e := &Element{Role: RoleP}
	for n := range 2 {
		p.page(n + 1)
		p.Begin(e)
		p.words("Regular", 10, 72, "half a paragraph ")
		p.End()
	}
	r := pdftest.Read(t, p.finished(Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{e}}}))
	r.CheckReferences()
	r.CheckTags()
}

// Nothing may hide between the last object and the cross-reference.
func TestGapIsRefused(t *testing.T) {
	in := newPainter(t).raw()
	at := bytes.LastIndex(in, []byte("xref\n0 "))
	const gap = "99 0 obj\nendobj\n\n"
	in = append(in[:at:at], append([]byte(gap), in[at:]...)...)
	if _, err := NewKit(in, allFonts); err == nil || !strings.Contains(err.Error(), "does not start as expected") {
		t.Errorf("error %v", err)
	}
}

// tiny is a document with a word on it, to be finished with any kit.
func tiny(tb testing.TB) (*painter, Document) {
	p := newPainter(tb)
	p.Page()
	p.y = 72
	e := p.block(RoleP, "Regular", 9, "word")
	return p, Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{e}}}
}

// Whatever happens to the bytes, NewKit returns; and a file made with a kit that it gives can be read. Edits overwrite or cut, at places
// outside the font programs, which are passed on unread.
func FuzzFinish(f *testing.F) {
	p, _ := tiny(f)
	p.photo = true
	good := p.raw()
	var places []int
	for at := 0; at < len(good); at++ {
		if program := bytes.Index(good[at:], []byte("/Length1 ")); program >= 0 {
			end := at + program
			for ; at < end; at++ {
				places = append(places, at)
			}
			at += bytes.Index(good[at:], []byte("\nendstream\n"))
		}
		places = append(places, at)
	}
	place := map[int]int{}
	for i, at := range places {
		place[at] = i
	}
	f.Add(0, 0, []byte{}, 0, []byte{})
	for _, text := range []string{"/Kids", "/Contents", "beginbfrange", "/DescendantFonts", "xref\n", "startxref", "/XObject", "/Length ", "trailer", "/Font"} {
		at := place[bytes.LastIndex(good, []byte(text))]
		f.Add(at, 0, []byte("[<</"), at+8, []byte("9 0 R>>"))
		f.Add(at+len(text), 3, []byte("<"), 0, []byte{})
	}
	f.Fuzz(func(t *testing.T, at, cut int, first []byte, at2 int, second []byte) {
		data := bytes.Clone(good)
		if at2 >= 0 && at2 < len(places) {
			copy(data[places[at2]:], second)
		}
		if at >= 0 && at < len(places) {
			copy(data[places[at]:], first)
			if cut > 0 && cut < len(data)-places[at] {
				data = append(data[:places[at]], data[places[at]+cut:]...)
			}
		}
		finishAnyway(t, data)
	})
}

// finishAnyway reads a file back that is made with what may be a kit.
func finishAnyway(t *testing.T, data []byte) {
	kit, err := NewKit(data, allFonts)
	if err != nil {
		return
	}
	p, doc := tiny(t)
	if out, err := p.Finish(kit, doc); err == nil {
		pdftest.Read(t, out)
	}
}

// Bytes that never were a document.
func FuzzFinishAnything(f *testing.F) {
	f.Add([]byte("%PDF-1.7\nxref\n0 5\n0000000000 65535 f \nstartxref\n9\n%%EOF\n"))
	f.Add([]byte{})
	f.Fuzz(finishAnyway)
}

// BenchmarkPaintAndFinish makes a document of the size of a guide, of 27 pages, with a kit that is there.
func BenchmarkPaintAndFinish(b *testing.B) {
	p, _ := sample(b, 26)
	kit := p.kit()
	var out []byte
	b.ReportAllocs()
	for b.Loop() {
		var err error
		p, doc := sample(b, 26)
		if out, err = p.Finish(kit, doc); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(out)), "bytes-out")
}
