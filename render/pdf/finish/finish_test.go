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

	"ownerguide/render/pdf/pdftest"
)

// Same input, same bytes, whatever else goes on at the same time: the compressors are shared.
func TestSameInputSameBytes(t *testing.T) {
	pdf, marks, doc := sample(t, 4)
	in := raw(t, pdf)
	want, err := Finish(in, marks, doc)
	if err != nil {
		t.Fatal(err)
	}
	var group sync.WaitGroup
	for range 8 {
		group.Add(1)
		go func() {
			defer group.Done()
			for range 4 {
				if got, err := Finish(in, marks, doc); err != nil || !bytes.Equal(got, want) {
					t.Errorf("differs: %v", err)
				}
			}
		}()
	}
	group.Wait()
	again, marks2, doc2 := sample(t, 4)
	if !bytes.Equal(finished(t, again, marks2, doc2), want) {
		t.Error("a second painting gives other bytes")
	}
}

// A file that somebody put notes into must not pass for one this package made.
func TestUnchanged(t *testing.T) {
	pdf, marks, doc := sample(t, 2)
	out := finished(t, pdf, marks, doc)
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
	pdf, marks := newSample(t)
	pdf.AddPage()
	e := &Element{Role: RoleFigure, Alt: "A photograph", Box: &Box{72, 72, 100, 100}}
	marks.Begin(e)
	if err := pdf.ImageFrom(picture(), 72, 72, &gopdf.Rect{W: 100, H: 100}); err != nil {
		t.Fatal(err)
	}
	marks.End()
	doc := Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{e}}}
	r := pdftest.Read(t, finished(t, pdf, marks, doc))
	r.CheckReferences()
	r.CheckTags()
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
		{"unmarked text", func(p *painter) Document { p.words("Regular", 9, 72, "x"); return doc() }, "outside every mark (operator TJ)"},
		{"unmarked line", func(p *painter) Document { p.Line(1, 1, 9, 9); return doc() }, "outside every mark (operator S)"},
		{"unmarked box", func(p *painter) Document { p.RectFromUpperLeftWithStyle(1, 1, 9, 9, "F"); return doc() }, "outside every mark (operator f)"},
		{"unmarked polygon", func(p *painter) Document {
			p.Polygon([]gopdf.Point{{X: 1, Y: 1}, {X: 9, Y: 1}, {X: 5, Y: 9}}, "FD")
			return doc()
		}, "outside every mark (operator b)"},
		{"unmarked picture", func(p *painter) Document {
			if err := p.ImageFrom(picture(), 1, 1, &gopdf.Rect{W: 9, H: 9}); err != nil {
				p.Fatal(err)
			}
			return doc()
		}, "outside every mark (operator Do)"},
		{"unmarked path", func(p *painter) Document {
			var path Path
			path.MoveTo(1, 1)
			path.LineTo(2, 2)
			p.marks.Draw(path, Stroke)
			return doc()
		}, "path is drawn outside every mark"},
		{"empty path", func(p *painter) Document {
			p.marks.Artifact(Layout)
			p.marks.Draw(Path{}, Stroke)
			p.marks.End()
			return doc()
		}, "path is empty"},
		{"clip for ever", func(p *painter) Document {
			var path Path
			path.Rectangle(Box{1, 1, 9, 9})
			p.marks.Draw(path, Clip)
			return doc()
		}, "could not be undone"},
		{"piece left open", func(p *painter) Document { p.marks.Begin(p.block(RoleP, "Regular", 9, "x")); return doc() }, "not closed at the end of the page"},
		{"nested pieces", func(p *painter) Document { p.marks.Artifact(Layout); p.marks.Artifact(Layout); return doc() }, "opened inside another"},
		{"end alone", func(p *painter) Document { p.marks.End(); return doc() }, "closed that was not opened"},
		{"saved for ever", func(p *painter) Document { p.marks.Save(); return doc() }, "not restored at the end"},
		{"restored too often", func(p *painter) Document { p.marks.Restore(); return doc() }, "without having been saved"},
		{"orphan content", func(p *painter) Document {
			p.block(RoleP, "Regular", 9, "x")
			return doc(p.block(RoleP, "Regular", 9, "y"))
		}, "not in the structure tree"},
		{"unpainted paragraph", func(p *painter) Document {
			return doc(p.block(RoleP, "Regular", 9, "x"), &Element{Role: RoleP})
		}, "Document/P: nothing was painted"},
		{"element twice", func(p *painter) Document { e := p.block(RoleP, "Regular", 9, "x"); return doc(e, e) }, "twice"},
		{"circle", func(p *painter) Document {
			e := p.block(RoleP, "Regular", 9, "x")
			e.Children = []*Element{e}
			return doc(e)
		}, "twice"},
		{"nil child", func(p *painter) Document { p.block(RoleP, "Regular", 9, "x"); return doc(nil) }, "child is missing"},
		{"item without list", func(p *painter) Document {
			return doc(&Element{Role: RoleLI, Children: []*Element{p.block(RoleP, "Regular", 9, "x")}})
		}, "LI may not stand under Document"},
		{"row without table", func(p *painter) Document {
			return doc(&Element{Role: RoleTR, Children: []*Element{p.block(RoleP, "Regular", 9, "x")}})
		}, "TR may not stand under Document"},
		{"paragraph in table", func(p *painter) Document {
			return doc(&Element{Role: RoleTable, Children: []*Element{p.block(RoleP, "Regular", 9, "x")}})
		}, "P may not stand under Table"},
		{"content in a section", func(p *painter) Document { return doc(p.block(RoleSect, "Regular", 9, "x")) }, "may not own content"},
		{"unknown role", func(p *painter) Document { return doc(p.block("Aside", "Regular", 9, "x")) }, "not a standard structure type"},
		{"figure without words", func(p *painter) Document { return doc(p.block(RoleFigure, "Regular", 9, "x")) }, "needs alternative text"},
		{"note without ID", func(p *painter) Document { return doc(p.block(RoleNote, "Regular", 9, "x")) }, "needs an ID"},
		{"ID twice", func(p *painter) Document {
			a, b := p.block(RoleP, "Regular", 9, "x"), p.block(RoleP, "Regular", 9, "y")
			a.ID, b.ID = "i", "i"
			return doc(a, b)
		}, "there twice"},
		{"header without scope", func(p *painter) Document {
			return doc(&Element{Role: RoleTable, Children: []*Element{{Role: RoleTR, Children: []*Element{p.block(RoleTH, "Regular", 9, "x")}}}})
		}, "needs a scope"},
		{"headers to nowhere", func(p *painter) Document {
			td := p.block(RoleTD, "Regular", 9, "x")
			td.Headers = []string{"h"}
			return doc(&Element{Role: RoleTable, Children: []*Element{{Role: RoleTR, Children: []*Element{td}}}})
		}, "not the ID of a header cell"},
		{"link without target", func(p *painter) Document { return doc(p.block(RoleLink, "Regular", 9, "x")) }, "no link annotation"},
		{"link without words", func(p *painter) Document {
			e := p.block(RoleLink, "Regular", 9, "x")
			p.marks.LinkOut(e, Box{1, 1, 1, 1}, "https://example.com", "")
			return doc(e)
		}, "and words"},
		{"link to nowhere", func(p *painter) Document {
			e := p.block(RoleLink, "Regular", 9, "x")
			p.marks.LinkTo(e, Box{1, 1, 1, 1}, "nowhere", "Nowhere")
			return doc(e)
		}, `anchor "nowhere", which is on no page`},
		{"odd address", func(p *painter) Document {
			e := p.block(RoleLink, "Regular", 9, "x")
			p.marks.LinkOut(e, Box{1, 1, 1, 1}, "https://example.com/é", "Page")
			return doc(e)
		}, "not plain ASCII"},
		{"anchor twice", func(p *painter) Document { p.marks.Anchor("a", 1); p.marks.Anchor("a", 2); return doc() }, "there twice"},
		{"bookmark to nowhere", func(p *painter) Document {
			d := doc(p.block(RoleP, "Regular", 9, "x"))
			d.Outline = []*Outline{{Title: "B", Anchor: "b"}}
			return d
		}, `bookmark "B" leads to anchor "b"`},
		{"link of gopdf", func(p *painter) Document {
			p.AddExternalLink("https://example.com", 1, 1, 1, 1)
			return doc(p.block(RoleP, "Regular", 9, "x"))
		}, "made through Marks"},
		{"outline of gopdf", func(p *painter) Document { p.AddOutline("x"); return doc(p.block(RoleP, "Regular", 9, "x")) }, "must come from the document"},
		{"info of gopdf", func(p *painter) Document {
			p.SetInfo(gopdf.PdfInfo{Title: "x"})
			return doc(p.block(RoleP, "Regular", 9, "x"))
		}, "must not be set through gopdf"},
		{"compressed", func(p *painter) Document {
			p.SetCompressLevel(6)
			return doc(p.block(RoleP, "Regular", 9, "x"))
		}, "uncompressed content stream"},
		{"empty page", func(p *painter) Document { p.AddPage(); p.AddPage(); return doc() }, `entry "Contents"`},
		{"box without page", func(p *painter) Document {
			return doc(&Element{Role: RoleFigure, Alt: "a", Box: &Box{}, Children: []*Element{p.block(RoleP, "Regular", 9, "x")}})
		}, "on which page"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			pdf, marks := newSample(t)
			pdf.AddPage()
			pt := &painter{TB: t, GoPdf: pdf, marks: marks, y: 72}
			d := c.paint(pt)
			out, err := Finish(raw(t, pdf), marks, d)
			if err == nil || !strings.Contains(err.Error(), c.want) || out != nil {
				t.Errorf("error %v, want one with %q", err, c.want)
			}
		})
	}
}

// A transformation given with y downwards must do the same to a point as the operator written for y upwards.
func TestTransformIsTurnedOver(t *testing.T) {
	const h = 792.0
	m := [6]float64{0.9, 0.3, -0.2, 1.1, 15, -40}
	s := &pageState{height: h}
	if err := s.state(record{op: opTransform, matrix: m}); err != nil {
		t.Fatal(err)
	}
	var w [6]float64
	if _, err := fmt.Sscanf(string(s.out), "%f %f %f %f %f %f cm", &w[0], &w[1], &w[2], &w[3], &w[4], &w[5]); err != nil {
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
	pdf, marks := newSample(t)
	p := &painter{TB: t, GoPdf: pdf, marks: marks}
	e := &Element{Role: RoleP}
	for n := range 2 {
		p.page(n + 1)
		marks.Begin(e)
		p.words("Regular", 10, 72, "half a paragraph ")
		marks.End()
	}
	r := pdftest.Read(t, finished(t, pdf, marks, Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{e}}}))
	r.CheckReferences()
	r.CheckTags()
}

// A document that counts in millimetres would scale the marks.
func TestOtherUnitsAreRefused(t *testing.T) {
	pdf := &gopdf.GoPdf{}
	pdf.Start(gopdf.Config{Unit: gopdf.UnitMM, PageSize: gopdf.Rect{W: 200, H: 200}})
	pdf.SetNoCompression()
	marks := NewMarks(pdf.SetCustomLineType)
	pdf.AddPage()
	marks.Artifact(Layout)
	pdf.Line(1, 1, 9, 9)
	marks.End()
	_, err := Finish(raw(t, pdf), marks, Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument}})
	if err == nil || !strings.Contains(err.Error(), "points") {
		t.Errorf("error %v", err)
	}
}

func TestCompilingTwiceIsRefused(t *testing.T) {
	pdf, marks, doc := sample(t, 1)
	raw(t, pdf)
	if _, err := Finish(raw(t, pdf), marks, doc); err == nil {
		t.Error("pages listed twice were accepted")
	}
}

// Nothing may hide between the last object and the cross-reference.
func TestGapIsRefused(t *testing.T) {
	pdf, marks, doc := sample(t, 1)
	in := raw(t, pdf)
	at := bytes.LastIndex(in, []byte("xref\n0 "))
	const gap = "99 0 obj\nendobj\n\n"
	in = append(in[:at:at], append([]byte(gap), in[at:]...)...)
	in = bytes.Replace(in, fmt.Appendf(nil, "startxref\n%d\n", at), fmt.Appendf(nil, "startxref\n%d\n", at+len(gap)), 1)
	if _, err := Finish(in, marks, doc); err == nil || !strings.Contains(err.Error(), "objects end at byte") {
		t.Errorf("error %v", err)
	}
}

// Whatever happens to the bytes, Finish returns; and what it accepts is a file that can be read. Edits overwrite or cut, at places
// outside the font programs, which are passed on unread.
func FuzzFinish(f *testing.F) {
	pdf, marks, doc := sample(f, 1)
	good := raw(f, pdf)
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
	for _, text := range []string{"/Kids", "/Contents", "beginbfrange", "/DescendantFonts", "xref\n", "startxref", "1000003.00", "/Length ", "trailer", "/Font"} {
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
		if out, err := Finish(data, marks, doc); err == nil {
			pdftest.Read(t, out)
		}
	})
}

// Bytes that never were a document.
func FuzzFinishAnything(f *testing.F) {
	f.Add([]byte("%PDF-1.7\nxref\n0 5\n0000000000 65535 f \nstartxref\n9\n%%EOF\n"))
	f.Add([]byte{})
	marks := NewMarks(func([]float64, float64) {})
	doc := Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument}}
	f.Fuzz(func(t *testing.T, data []byte) {
		if out, err := Finish(data, marks, doc); err == nil {
			pdftest.Read(t, out)
		}
	})
}

// BenchmarkFinish runs over a document of the size of a guide: 27 pages.
func BenchmarkFinish(b *testing.B) {
	pdf, marks, doc := sample(b, 26)
	in := raw(b, pdf)
	var out []byte
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if out, err = Finish(in, marks, doc); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(in)), "bytes-in")
	b.ReportMetric(float64(len(out)), "bytes-out")
	b.ReportMetric(float64(len(marks.records)), "marks")
}
