package finish

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/pdftest"
)

// one paints a page through f and returns the finished file and the content of its only page.
func one(t *testing.T, f func(p *painter) []*Element) (*pdftest.File, string) {
	t.Helper()
	p := newPainter(t)
	p.Page()
	p.y = 72
	root := &Element{Role: RoleDocument, Children: f(p)}
	r := pdftest.Read(t, p.finished(Document{Lang: "en", Title: "t", Root: root}))
	r.CheckReferences()
	r.CheckTags()
	page := r.Dict(r.List(r.Dict(r.Dict(r.Trailer["Root"])["Pages"])["Kids"])[0])
	return r, string(r.Streams[int(page["Contents"].(pdftest.Ref))])
}

func TestFontsAreComplete(t *testing.T) {
	p, doc := sample(t, 1)
	r := pdftest.Read(t, p.finished(doc))
	slanted := 0
	for n, o := range r.Objects {
		d, _ := o.(pdftest.Dict)
		switch {
		case d["Subtype"] == pdftest.Name("CIDFontType2"):
			// PDF/A and PDF/UA require the map from codes to glyphs.
			if ref, ok := d["CIDToGIDMap"].(pdftest.Ref); !ok || len(r.Streams[int(ref)]) < 2*' ' {
				t.Errorf("object %d: mapping %v", n, d["CIDToGIDMap"])
			}
		case d["Type"] == pdftest.Name("FontDescriptor"):
			name := string(d["FontName"].(pdftest.Name))
			// Six capitals and a plus sign: ISO 32000-1, 9.6.4.
			if !regexp.MustCompile(`^[A-Z]{6}\+OwnerguideText-(Regular|Bold|Italic)$`).MatchString(name) {
				t.Errorf("font name %q", name)
			}
			// Bit 6 nonsymbolic, bit 7 italic: ISO 32000-1, table 123.
			want := 32.0
			if strings.HasSuffix(name, "Italic") {
				want, slanted = 32+64, slanted+1
			}
			if d["Flags"] != want {
				t.Errorf("%s: flags %v, want %v", name, d["Flags"], want)
			}
		}
	}
	if slanted != 1 {
		t.Errorf("%d slanted fonts", slanted)
	}
}

// Every code leads to the glyph that the font has for its character, and to the width of that glyph: text that is read right might look wrong.
func TestCodesLeadToTheirGlyphs(t *testing.T) {
	p, doc := sample(t, 1)
	r := pdftest.Read(t, p.finished(doc))
	seen := 0
	for _, o := range r.Objects {
		top, _ := o.(pdftest.Dict)
		if top["Subtype"] != pdftest.Name("Type0") {
			continue
		}
		cid := r.Dict(r.List(top["DescendantFonts"])[0])
		_, name, _ := strings.Cut(string(top["BaseFont"].(pdftest.Name)), "-")
		style := map[string]fonts.Style{"Regular": fonts.Regular, "Bold": fonts.Bold, "Italic": fonts.Italic}[name]
		glyphs, widths := r.Streams[int(cid["CIDToGIDMap"].(pdftest.Ref))], map[int]float64{}
		for list := r.List(cid["W"]); len(list) > 0; list = list[2:] {
			for i, w := range list[1].([]any) {
				widths[int(list[0].(float64))+i] = w.(float64)
			}
		}
		_, table, _ := strings.Cut(string(r.Streams[int(top["ToUnicode"].(pdftest.Ref))]), "endcodespacerange")
		for _, m := range regexp.MustCompile(`(?m)^<(..|....)><(....)>$`).FindAllStringSubmatch(table, -1) {
			code, _ := strconv.ParseUint(m[1], 16, 16)
			char, _ := strconv.ParseUint(m[2], 16, 16)
			glyph, width := fonts.Glyph(style, rune(char))
			if got := int(glyphs[2*code])<<8 | int(glyphs[2*code+1]); got != int(glyph) || widths[int(code)] != float64(width) {
				t.Errorf("%v: code %s is glyph %d, %v wide, and the font has for %q glyph %d, %d wide", top["BaseFont"], m[1], got, widths[int(code)], rune(char), glyph, width)
			}
			if seen++; char < 0x7F && code != char || char >= 0x7F && code < 0x8000 {
				t.Errorf("%q has the code %s", rune(char), m[1])
			}
		}
		encoding := string(r.Streams[int(top["Encoding"].(pdftest.Ref))])
		if !strings.Contains(encoding, "\n<00><7F>0\n<8000><80FF>32768\n<8100><81FF>33024\nendcidrange\n") {
			t.Errorf("encoding %s", encoding)
		}
	}
	if seen < 50 {
		t.Errorf("only %d codes compared", seen)
	}
}

// A block of a character table may hold 100 entries (Adobe technical note 5014), each code once, characters beyond 16 bits in two halves.
func TestCharacterTable(t *testing.T) {
	in := []byte("250 beginbfrange\n")
	for g := 250; g > 0; g-- {
		in = fmt.Appendf(in, "<%04X><%04X><%04X>\n", g, g, g+0x40)
	}
	in = append(in, "<0001><0001><0020>\n<0100><0100><1F6E2>\nendbfrange\n"...)
	list, err := readUnicode(append([]byte("x "), in...))
	if err != nil {
		t.Fatal(err)
	}
	out := string(writeUnicode(list))
	total := 0
	for _, m := range regexp.MustCompile(`(?s)(\d+) beginbfchar\n(.*?)endbfchar`).FindAllStringSubmatch(out, -1) {
		n, _ := strconv.Atoi(m[1])
		if n > 100 || strings.Count(m[2], "\n") != n {
			t.Errorf("a block says %d entries and has %d", n, strings.Count(m[2], "\n"))
		}
		total += n
	}
	if total != 252 || !strings.Contains(out, "\n<41><0041>\n") || !strings.Contains(out, "\n<20><0020>\n") || !strings.Contains(out, "\n<8100><D83DDEE2>\n") {
		t.Errorf("%d entries in:\n%s", total, out)
	}
	for _, bad := range []string{"", "1 beginbfrange\n<01><02><03>\nendbfrange\n", "1 beginbfrange\n<0001><0001><D800>\nendbfrange\n", "1 beginbfrange\nx\nendbfrange\n"} {
		if _, err := readUnicode([]byte("x " + bad)); err == nil {
			t.Errorf("%q was accepted", bad)
		}
	}
}

func TestDrawingIsTurnedOver(t *testing.T) {
	_, content := one(t, func(p *painter) []*Element {
		p.Artifact(Layout)
		p.Save()
		p.Round(true)
		var path Path
		path.MoveTo(10, 92)
		path.LineTo(20.00004, 792)
		path.CurveTo(1, 2, 3, 4, 5, 6)
		path.Close()
		p.Draw(path, 0, 0, FillStroke)
		p.Restore()
		p.End()
		return []*Element{p.block(RoleP, "Regular", 9, "x")}
	})
	want := "/Artifact<</Type/Layout>>BDC\nq\n1 J\n1 j\n10 700 m\n20 0 l\n1 790 3 788 5 786 c\nh\nB\nQ\nEMC\nBT\n/P<</MCID 0>>BDC\n"
	if !strings.HasPrefix(content, want) {
		t.Errorf("content\n%s\nwant first\n%s", content, want)
	}
}

func TestArtifactsSayWhatTheyAre(t *testing.T) {
	_, content := one(t, func(p *painter) []*Element {
		for _, kind := range []ArtifactKind{Header, Footer, Layout} {
			p.Artifact(kind)
			p.words("Regular", 9, 72, "x")
			p.End()
		}
		return []*Element{p.block(RoleP, "Regular", 9, "x")}
	})
	header, footer := strings.Index(content, "/Pagination/Subtype/Header>>"), strings.Index(content, "/Pagination/Subtype/Footer>>")
	if layout := strings.Index(content, "/Artifact<</Type/Layout>>"); header < 0 || footer < header || layout < footer {
		t.Errorf("places %d, %d, %d in:\n%s", header, footer, layout, content)
	}
}

// The name of the unit stands on every page and in none of them: pages of two units are the same bytes, and readers find it.
func TestPagesOfTwoUnitsDifferInTheirFormsAlone(t *testing.T) {
	const pages = 3
	contents := func(unit string) (list []string) {
		p := newPainter(t)
		root := &Element{Role: RoleDocument}
		for range pages {
			p.Page()
			p.y = 72
			root.Children = append(root.Children, p.block(RoleP, "Regular", 9, "The same words."))
			for _, endFixed := range []bool{false, true} {
				form := p.set(fonts.Regular, 8, 72, unit)
				if endFixed {
					form.X = 500 - float64(fonts.Width(fonts.Regular, unit))*8/1000
				}
				p.Artifact(Footer)
				p.Form(form, endFixed)
				p.End()
			}
		}
		r := pdftest.Read(t, p.finished(Document{Lang: "en", Title: "t", Root: root}))
		r.CheckReferences()
		r.CheckTags()
		forms := 0
		for _, o := range r.Objects {
			if d, ok := o.(pdftest.Dict); ok && d["Subtype"] == pdftest.Name("Form") {
				forms++
			}
		}
		if forms != 2 {
			t.Errorf("%s: %d forms are held; expected one of each kind", unit, forms)
		}
		for i, read := range r.Pages() {
			if n := strings.Count(read.Text(nil), unit); n != 2 {
				t.Errorf("%s, page %d: it is read %d times in %q", unit, i+1, n, read.Text(nil))
			}
			page := r.Dict(r.List(r.Dict(r.Dict(r.Trailer["Root"])["Pages"])["Kids"])[i])
			list = append(list, string(r.Streams[int(page["Contents"].(pdftest.Ref))]))
		}
		return list
	}
	one, other := contents("Tilt 20 · BW-27-0111"), contents("Gooseneck 28 · BW-27-0999")
	if !slices.Equal(one, other) {
		t.Errorf("pages differ:\n%q\n%q", one[0], other[0])
	}
}

func TestAttributesReachTheTree(t *testing.T) {
	r, _ := one(t, func(p *painter) []*Element {
		th, td := p.block(RoleTH, "Regular", 9, "a"), p.block(RoleTD, "Regular", 9, "b")
		th.Scope = ScopeColumn
		row := &Element{Role: RoleTR, Children: []*Element{th, td}}
		box := p.block(RoleSpan, "Regular", 9, "x")
		box.ActualText, box.Lang, box.Title = "☐", "fr", "Boîte"
		figure := p.block(RoleFigure, "Regular", 9, "f")
		figure.Alt = "A figure"
		p.Frame(figure, Box{10, 92, 30, 40})
		return []*Element{{Role: RoleTable, Children: []*Element{row}}, {Role: RoleP, Children: []*Element{box}}, figure}
	})
	found := map[pdftest.Name]pdftest.Dict{}
	for _, o := range r.Objects {
		if d, ok := o.(pdftest.Dict); ok && d["S"] != nil && d["P"] != nil {
			found[d["S"].(pdftest.Name)] = d
		}
	}
	th := found["TH"]["A"].(pdftest.Dict)
	if th["O"] != pdftest.Name("Table") || th["Scope"] != pdftest.Name("Column") {
		t.Errorf("header cell %v", found["TH"])
	}
	if td := found["TD"]["A"]; td != nil {
		t.Errorf("cell %v", td)
	}
	if s := found["Span"]; s["ActualText"] != "\xfe\xff\x26\x10" || s["Lang"] != "fr" || s["T"] != "\xfe\xff\x00B\x00o\x00\xee\x00t\x00e" {
		t.Errorf("span %q", s)
	}
	if a := found["Figure"]["A"].(pdftest.Dict); fmt.Sprint(a["BBox"]) != "[10 660 40 700]" || found["Figure"]["Alt"] != "A figure" {
		t.Errorf("figure %v", found["Figure"])
	}
}

func TestStringsAreReadBack(t *testing.T) {
	for _, s := range []string{"", "plain", `a (b) \ c`, "((", "\n", "\x00\x7f\xff"} {
		if got := pdftest.Value(string(appendBytes(nil, s)) + " "); got != s {
			t.Errorf("%q comes back as %q", s, got)
		}
		// A reader may turn line ends in a string into others, so none may stand there as it is.
		for _, c := range []byte(string(appendBytes(nil, s))) {
			if c < ' ' || c > '~' {
				t.Errorf("%q is written with the byte %#x", s, c)
			}
		}
	}
	if got := string(appendText(nil, "é")); got != "<FEFF00E9>" {
		t.Errorf("text %s", got)
	}
}

func TestNumbersAreShort(t *testing.T) {
	for v, want := range map[float64]string{0: "0", -0.00001: "0", 1.5: "1.5", 1e5: "100000", -2.34567: "-2.3457"} {
		if got := string(appendNumber(nil, v)); got != want {
			t.Errorf("%v is written %s, want %s", v, got, want)
		}
	}
}

// Two documents with other words have other identities; the same document keeps its own.
func TestIdentityFollowsContent(t *testing.T) {
	id := func(text string) any {
		r, _ := one(t, func(p *painter) []*Element { return []*Element{p.block(RoleP, "Regular", 9, text)} })
		ids := r.List(r.Trailer["ID"])
		if len(ids) != 2 || len(ids[0].(string)) != 16 {
			t.Errorf("ID %q", ids)
		}
		return ids[0]
	}
	a, again, b := id("one"), id("one"), id("two")
	if a != again || a == b {
		t.Errorf("%x, %x, %x", a, again, b)
	}
}

// A font that no text used must not be left in the file as an empty one.
func TestUnusedFontsAreDropped(t *testing.T) {
	r, _ := one(t, func(p *painter) []*Element { return []*Element{p.block(RoleP, "Bold", 9, "x")} })
	var names []string
	for _, o := range r.Objects {
		if d, _ := o.(pdftest.Dict); d["Subtype"] == pdftest.Name("Type0") {
			names = append(names, string(d["BaseFont"].(pdftest.Name)[7:]))
		}
	}
	if !slices.Equal(names, []string{"OwnerguideText-Bold"}) {
		t.Errorf("fonts %q", names)
	}
}
