package html

import (
	"crypto/sha256"
	"encoding/base64"
	"reflect"
	"strings"
	"testing"

	"ownerguide/render/doc"
)

// guide wraps blocks in a chapter.
func guide(blocks ...doc.Block) *doc.Guide {
	s := &doc.Section{Attributes: doc.Attributes{ID: "one"}, Level: 1, Role: doc.RoleChapter, Heading: &doc.Heading{Inlines: []doc.Inline{text("One")}}, Blocks: blocks}
	return &doc.Guide{Lang: "en", Title: "T", Words: map[string]string{}, Sections: []*doc.Section{s}}
}

func text(s string) *doc.Text { return &doc.Text{Content: s} }

func paragraph(words ...doc.Inline) *doc.Paragraph { return &doc.Paragraph{Inlines: words} }

func written(t *testing.T, g *doc.Guide) string {
	t.Helper()
	page, err := Write(g, "p{}")
	if err != nil {
		t.Fatal(err)
	}
	return string(page)
}

// samples has one block of every type that a guide can hold.
func samples() []doc.Block {
	row := func(words string) *doc.Row {
		return &doc.Row{Cells: []*doc.Cell{{Inlines: []doc.Inline{text(words)}}}}
	}
	return []doc.Block{
		&doc.Section{Attributes: doc.Attributes{ID: "two"}, Level: 2, Heading: &doc.Heading{}},
		&doc.List{Items: []*doc.Item{{Blocks: []doc.Block{paragraph(text("i"))}}}},
		&doc.Table{Head: row("H"), Rows: []*doc.Row{row("C")}},
		&doc.Contents{Entries: []doc.Entry{{Level: 1, Number: "1", Title: "One", ID: "one"}, {Level: 2, Title: "Two", ID: "one"}}},
		&doc.Caution{Name: "c", Word: doc.Warning, Signal: "WARNING", Hazard: []doc.Inline{text("hazard")}},
		&doc.Caution{Attributes: doc.Attributes{ID: "p"}, Name: "c", Word: doc.Warning, Signal: "WARNING", Hazard: []doc.Inline{text("hazard")}},
		&doc.Caution{Name: "c", Word: doc.Warning, Signal: "WARNING", Brief: true, Full: "p", Hazard: []doc.Inline{text("hazard")}},
		&doc.JobLine{Who: []doc.Inline{text("who")}, When: []doc.Inline{text("when")}, Tools: []doc.Inline{text("tools")}},
		&doc.Limit{Inlines: []doc.Inline{text("limit")}},
		&doc.Trouble{Symptom: []doc.Inline{text("s")}, Causes: [][]doc.Inline{{text("c")}, {text("d")}}, Remedies: [][]doc.Inline{{text("r")}}, Limits: []*doc.Limit{{Inlines: []doc.Inline{text("l")}}}},
		&doc.Figure{Name: "x", Alt: "a", Drawing: &doc.Drawing{Width: 10, Height: 10, Shapes: []doc.Shape{
			&doc.Path{From: doc.Point{}, Segments: []doc.Segment{{To: doc.Point{X: 1}}, {Curve: true}}}, &doc.Circle{Radius: 1}, &doc.Label{Text: "l", Turn: 90}}}},
		&doc.Logo{Alt: "m", PNG: []byte("dots"), Width: 2, Height: 1},
		&doc.Form{Label: "f", Rules: 2},
		paragraph(text("t"), &doc.Value{Name: "v", Printed: "1"}, &doc.PointMark{Number: 3}, &doc.Box{ID: "b"}, &doc.Break{}, &doc.Emphasis{}, &doc.Link{To: "#one"}),
	}
}

// A type that this reader forgot would leave a caution out of the page.
func TestEveryTypeIsWritten(t *testing.T) {
	g := guide(samples()...)
	if page := written(t, g); !strings.Contains(page, "</html>") {
		t.Error("the page is not whole")
	}
	met := map[reflect.Type]bool{}
	for n := range doc.Walk(g.Sections) {
		met[reflect.TypeOf(n)] = true
	}
	for _, n := range doc.Types {
		if !met[reflect.TypeOf(n)] {
			t.Errorf("no sample has a %T", n)
		}
	}
}

func TestUnknownTypeIsAnError(t *testing.T) {
	type foreignBlock struct{ *doc.Paragraph }
	type foreignInline struct{ *doc.Text }
	inCell := &doc.Table{Rows: []*doc.Row{{Cells: []*doc.Cell{{Inlines: []doc.Inline{foreignInline{text("x")}}}}}}}
	for _, n := range []doc.Block{
		foreignBlock{paragraph()}, &doc.List{Items: []*doc.Item{{Blocks: []doc.Block{foreignBlock{paragraph()}}}}},
		paragraph(foreignInline{text("x")}), inCell, &doc.Caution{Hazard: []doc.Inline{foreignInline{text("x")}}},
	} {
		p := &page{guide: guide(), keyed: map[string]bool{}}
		func() {
			defer func() {
				if said := recover(); said != nil {
					p.err = said.(error)
				}
			}()
			p.block(n)
		}()
		if p.err == nil || !strings.Contains(p.err.Error(), "of type html.foreign") {
			t.Errorf("%T: %v", n, p.err)
		}
	}
}

// Text is data: a buyer called <script> stays a name.
func TestTextIsEscaped(t *testing.T) {
	nasty := `<script>alert(1)</script> "q" & {x} *b*`
	page := written(t, guide(
		paragraph(&doc.Text{Content: nasty}, &doc.Value{Printed: nasty}),
		&doc.Form{Label: nasty},
		&doc.Figure{Name: nasty, Alt: nasty, Caption: nasty, Drawing: &doc.Drawing{Shapes: []doc.Shape{&doc.Label{Text: nasty}}}},
	))
	if strings.Contains(page, "<script") {
		t.Error("markup of a text became markup of the page")
	}
	if n := strings.Count(page, "&lt;script&gt;"); n != 7 {
		t.Errorf("the text stands %d times, want 7", n)
	}
}

// A telephone or serial number that a line end parts is copied wrong. Words with hyphens, and what is too long for a phone, may be parted.
func TestNumbersWithHyphensAreNotParted(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Call 555-0142.", `Call <span class="n">555-0142</span>.`},
		{"Serial BW-27-0163, part AX-1001-26-0410", `Serial <span class="n">BW-27-0163</span>, part <span class="n">AX-1001-26-0410</span>`},
		{"a seven-way plug", "a seven-way plug"},
		{"1-2-3-4-5-6-7-8-9-10-11-12-13", "1-2-3-4-5-6-7-8-9-10-11-12-13"},
		{"<b>-1 & 2-", "&lt;b&gt;-1 &amp; 2-"},
	} {
		if got := written(t, guide(paragraph(&doc.Text{Content: c.text}))); !strings.Contains(got, "<p>"+c.want+"</p>") {
			t.Errorf("%q: %q is missing in %q", c.text, c.want, got)
		}
	}
}

// The page may run nothing and fetch nothing, and its policy names the one
// style sheet it has.
func TestPolicy(t *testing.T) {
	page := written(t, guide())
	sum := sha256.Sum256([]byte(faces() + "p{}"))
	want := "default-src &#39;none&#39;"
	if !strings.Contains(page, "default-src 'none'") && !strings.Contains(page, want) {
		t.Error("the policy does not forbid everything first")
	}
	if !strings.Contains(page, "sha256-"+base64.StdEncoding.EncodeToString(sum[:])) {
		t.Error("the policy does not name the style sheet")
	}
	for _, forbidden := range []string{"<script", "style=", "onclick", "src=", "@import"} {
		if strings.Contains(page, forbidden) {
			t.Errorf("the page holds %q", forbidden)
		}
	}
	if all, own := strings.Count(page, "url("), strings.Count(page, "url(data:font/woff2;base64,"); own != 2 || all != own {
		t.Errorf("the page fetches %d things; its two faces are %d of them", all, own)
	}
}

func TestNumbersOfDrawings(t *testing.T) {
	for x, want := range map[float64]string{0: "0", -0.001: "0", 1.005: "1", 2.346: "2.35", -3.5: "-3.5"} {
		if got := decimal(x); got != want {
			t.Errorf("decimal(%v) = %q, want %q", x, got, want)
		}
	}
}

// What changed since the earlier revision has a bar, and a word for who hears the page, wherever the mark stands.
func TestChangesAreMarked(t *testing.T) {
	new := doc.Attributes{Changed: true}
	words := func(s string) []doc.Inline { return []doc.Inline{text(s)} }
	section := &doc.Section{Attributes: doc.Attributes{ID: "s", Changed: true}, Level: 1, Role: doc.RoleChapter, Heading: &doc.Heading{Attributes: new, Inlines: words("New title")}, Blocks: []doc.Block{
		&doc.Paragraph{Attributes: new, Inlines: words("New words.")},
		&doc.List{Items: []*doc.Item{{Attributes: new, Blocks: []doc.Block{paragraph(text("New item."))}}}},
		&doc.Table{Rows: []*doc.Row{{Attributes: new, Cells: []*doc.Cell{{Inlines: words("New row.")}}}}},
	}}
	g := &doc.Guide{Lang: "en", Title: "Guide", Words: map[string]string{"changed": "Changed:"}, Sections: []*doc.Section{section}}
	out, err := Write(g, "")
	if err != nil {
		t.Fatal(err)
	}
	word := `<span class="unseen">Changed: </span>`
	for _, want := range []string{
		`class="chapter l1 changed"`, `<h2 id="h-s" class="changed"><a href="#s">` + word + word + "New title", `<div class="changed">` + word + "\n<p>New words.</p>\n</div>",
		`<li class="changed">` + word + "New item.", `<tr class="changed"><th scope="row">` + word + "New row.",
	} {
		if !strings.Contains(string(out), want) {
			t.Errorf("no %s in\n%s", want, string(out))
		}
	}
}

// A logo keeps its colors and its holes, is heard as the maker's name, and is
// part of the file.
func TestALogo(t *testing.T) {
	hole := &doc.Path{Style: doc.Style{Fill: doc.RGB(1, 2, 255)}, Closed: true, EvenOdd: true,
		Segments: []doc.Segment{{To: doc.Point{X: 8}}, {To: doc.Point{X: 8, Y: 8}}, {Move: true, To: doc.Point{X: 2, Y: 2}}, {To: doc.Point{X: 4, Y: 2}}}}
	line := &doc.Path{Style: doc.Style{Line: doc.RGB(170, 187, 204), Width: 1.5}, Segments: []doc.Segment{{To: doc.Point{X: 8}}}}
	page := written(t, guide(&doc.Logo{Alt: "A & B Works", Drawing: &doc.Drawing{Width: 8, Height: 8, Shapes: []doc.Shape{hole, line}}}))
	for _, want := range []string{
		`<svg viewBox="0 0 8 8" role="img" aria-label="A &amp; B Works">`,
		`<path d="M0 0H8V8ZM2 2H4Z" fill-rule="evenodd" fill="#0102ff"/>`,
		`<path d="M0 0H8" stroke="#aabbcc" stroke-width="1.5"/>`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page has no %s", want)
		}
	}
	page = written(t, guide(&doc.Logo{Alt: "A", PNG: []byte("dots"), Width: 40, Height: 10}))
	if want := `<img src="data:image/png;base64,ZG90cw==" width="40" height="10" alt="A">`; !strings.Contains(page, want) {
		t.Errorf("the page has no %s", want)
	}
}

// The maker's colors are in the style sheet, where the page's policy allows
// them, and only on a screen.
func TestTheFieldInTheMakersColours(t *testing.T) {
	g := guide()
	if strings.Contains(written(t, g), "@media screen { .top") {
		t.Error("a guide without colours of its own has some")
	}
	g.Field, g.OnField = doc.RGB(0x1f, 0x3d, 0x2b), doc.RGB(255, 255, 255)
	page := written(t, g)
	if !strings.Contains(page, "@media screen { .top { background: #1f3d2b; color: #ffffff; } }") {
		t.Error("the maker's colours are not in the style sheet")
	}
	if strings.Contains(page, " style=") {
		t.Error("an element has a style of its own, which the page's policy forbids")
	}
}

// A value in words may be longer than a phone is wide.
func TestLongValuesMayBreak(t *testing.T) {
	for printed, want := range map[string]string{
		"12,360 lb (5,605 kg)":                      `<span class="v">`,
		"up by the pump and down by its own weight": `<span class="v long">`,
	} {
		if got := written(t, guide(paragraph(&doc.Value{Name: "a.b", Printed: printed}))); !strings.Contains(got, want+printed) {
			t.Errorf("%s stands in\n%s", printed, got)
		}
	}
}
