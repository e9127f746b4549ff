package main

import (
	"encoding/xml"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/pdf/pdftest"
	"ownerguide/spec/testenv"
)

// Every word and number of a guide stands in both outputs, in the same order:
// an owner who was sent the HTML and one who was handed the paper must read the
// same pressure and the same warning. The PDF is read along its structure, as a
// screen reader goes through it; the HTML by the standard library's reader. Drawings
// are laid out for each: what is written on paper's stands in or below the screen's.
func TestScreenAndPaperSayTheSame(t *testing.T) {
	checkWords(t, 1, func(t *testing.T, pdf string) []chapterWords { return paperChapters(readPDF(t, pdf).Structure()) })
}

func TestScreenAndPaperSayTheSameOutside(t *testing.T) {
	testenv.Outside(t, "pdfinfo")
	checkWords(t, 3, func(t *testing.T, pdf string) []chapterWords { // it takes its time
		return paperChapters(structureListed(testenv.Tool(t, "pdfinfo", "-struct-text", pdf)))
	})
}

// checkWords looks at every so many units.
func checkWords(t *testing.T, every int, read func(*testing.T, string) []chapterWords) {
	var units []string
	for _, dir := range []string{demo.guides(t), other.guides(t)} {
		found, _ := filepath.Glob(filepath.Join(dir, "*", "guide.pdf"))
		if len(found) == 0 {
			t.Fatal("nothing was written")
		}
		units = append(units, found...)
	}
	for i, pdf := range testenv.Sample(t, units, 4) {
		if i%every != 0 {
			continue
		}
		t.Run(filepath.Base(filepath.Dir(pdf)), func(t *testing.T) {
			t.Parallel()
			paper := read(t, pdf)
			screen := screenChapters(t, filepath.Join(filepath.Dir(pdf), "guide.html"))
			if len(paper) != len(screen) {
				t.Fatalf("%d chapters on paper, %d on screen", len(paper), len(screen))
			}
			words := 0
			for i := range paper {
				words += len(paper[i].text)
				compareWords(t, i, paper[i].text, screen[i].text)
				for _, word := range paper[i].drawn {
					if !slices.Contains(screen[i].drawn, word) {
						t.Errorf("chapter %d: %q is in a drawing on paper and in none on the screen", i, word)
					}
				}
			}
			if words < 2000 {
				t.Errorf("only %d words were compared", words)
			}
		})
	}
}

// chapterWords are the words of a chapter, those of its drawings apart.
type chapterWords struct{ text, drawn []string }

// chapterText gathers them.
type chapterText struct{ text, drawn strings.Builder }

func (c *chapterText) of(drawing bool) *strings.Builder {
	if drawing {
		return &c.drawn
	}
	return &c.text
}

// close returns what was gathered, and begins anew; nothing when there was no word.
func (c *chapterText) close() (out []chapterWords) {
	without := func(b *strings.Builder) []string { return normal(pageReference.ReplaceAllString(b.String(), "")) }
	if words := without(&c.text); len(words) > 0 {
		out = append(out, chapterWords{words, without(&c.drawn)})
	}
	c.text.Reset()
	c.drawn.Reset()
	return out
}

func compareWords(t *testing.T, chapter int, paper, screen []string) {
	t.Helper()
	for i := range max(len(paper), len(screen)) {
		if i < len(paper) && i < len(screen) && paper[i] == screen[i] {
			continue
		}
		near := func(words []string) string {
			return strings.Join(words[min(max(i-6, 0), len(words)):min(i+6, len(words))], " ")
		}
		t.Errorf("chapter %d differs at word %d\n paper:  … %s …\n screen: … %s …", chapter, i, near(paper), near(screen))
		return
	}
}

// pageReference is a page behind a link, or behind an entry of a list.
var pageReference = regexp.MustCompile(`[ \x{a0}]?\(page[ \x{a0}][0-9]+\)|\x{a0}{2}[0-9]+`)

// paperChapters reads the text of each chapter. Labels of list items and the table
// of contents are left out: the screen makes the first with style and has no page
// numbers for the second.
func paperChapters(root *pdftest.Element) (chapters []chapterWords) {
	if root == nil {
		return nil
	}
	for _, kid := range root.Kids {
		if section, ok := kid.(*pdftest.Element); ok && section.Role == "Sect" {
			var text chapterText
			readElement(&text, section, false)
			chapters = append(chapters, text.close()...)
		}
	}
	return chapters
}

func readElement(text *chapterText, e *pdftest.Element, drawing bool) {
	drawing = drawing || e.Role == "Figure"
	switch e.Role {
	case "Lbl", "TOC", "TOCI":
		return
	case "Span", "Link", "Reference", "Note": // within a line
	default:
		text.of(drawing).WriteByte(' ')
	}
	figure := false // the kid before
	for _, kid := range e.Kids {
		switch kid := kid.(type) {
		case string:
			text.of(drawing).WriteString(kid)
		case *pdftest.Element:
			// What stands below a drawing on the screen is on paper a list of links.
			readElement(text, kid, drawing || figure && kid.Role == "L" && onlyLinks(kid))
			figure = kid.Role == "Figure" || figure && kid.Role == "Caption"
		}
	}
}

// onlyLinks reports whether nothing but labels and links is in an element.
func onlyLinks(e *pdftest.Element) bool {
	for _, kid := range e.Kids {
		switch kid := kid.(type) {
		case string:
			if strings.TrimSpace(pageReference.ReplaceAllString(kid, "")) != "" {
				return false
			}
		case *pdftest.Element:
			if kid.Role != "Lbl" && kid.Role != "Link" && kid.Role != "Reference" && !onlyLinks(kid) {
				return false
			}
		}
	}
	return true
}

// structureListed reads pdfinfo's picture of the structure: an indented line for each
// element, a quoted one for its text.
func structureListed(tree string) *pdftest.Element {
	type open struct {
		indent  int
		element *pdftest.Element
	}
	all := []open{{-1, &pdftest.Element{}}}
	for line := range strings.Lines(tree) {
		content := strings.TrimLeft(line, " ")
		indent := len(line) - len(content)
		for indent <= all[len(all)-1].indent {
			all = all[:len(all)-1]
		}
		parent := all[len(all)-1].element
		switch {
		case strings.HasPrefix(content, `"`):
			parent.Kids = append(parent.Kids, strings.TrimSuffix(strings.TrimPrefix(strings.TrimRight(content, "\n"), `"`), `"`))
		case !strings.HasPrefix(content, "/") && !strings.HasPrefix(content, "Object "):
			e := &pdftest.Element{Role: strings.TrimRight(strings.Fields(content)[0], ":")}
			parent.Kids = append(parent.Kids, e)
			all = append(all, open{indent, e})
		}
	}
	document, _ := all[0].element.Kids[0].(*pdftest.Element)
	return document
}

// screenChapters reads the text of each chapter of an HTML guide.
func screenChapters(t *testing.T, name string) (chapters []chapterWords) {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	decoder := xml.NewDecoder(file)
	decoder.Strict, decoder.AutoClose, decoder.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var text chapterText
	drawing := false
	main, sections, skip := false, 0, 0
	label := false // nothing but a box may stand before the label of an item
	for {
		token, err := decoder.Token()
		if err != nil {
			break
		}
		switch token := token.(type) {
		case xml.StartElement:
			class := ""
			for _, a := range token.Attr {
				if a.Name.Local == "class" {
					class = a.Value
				}
			}
			switch {
			// A caption is there for who hears a table; on paper the heading
			// above it says the same. Aids are ways about the screen: lists of
			// links, the bar, what becomes of ticks.
			case skip > 0 || token.Name.Local == "caption" || class == "unseen" || slices.Contains(strings.Fields(class), "aid"), label && class == "stop-mark":
				skip++
				continue
			case token.Name.Local == "main":
				main = true
			case token.Name.Local == "figure":
				drawing = true
			case token.Name.Local == "figcaption":
				drawing = false
			case token.Name.Local == "section":
				sections++
			}
			label = token.Name.Local == "li" || label && token.Name.Local == "input"
			if !inlineTags[token.Name.Local] {
				text.of(drawing).WriteByte(' ')
			}
		case xml.EndElement:
			if skip > 0 {
				skip--
				continue
			}
			drawing = drawing && token.Name.Local != "figure"
			if token.Name.Local == "section" {
				if sections--; sections == 0 {
					chapters = append(chapters, text.close()...)
				}
			}
			if !inlineTags[token.Name.Local] {
				text.of(drawing).WriteByte(' ')
			}
		case xml.CharData:
			label = label && len(strings.TrimSpace(string(token))) == 0
			if main && skip == 0 {
				text.of(drawing).Write(token)
			}
		}
	}
	return chapters
}

var inlineTags = map[string]bool{"span": true, "strong": true, "em": true, "a": true, "b": true}

// normal splits text into words, with every kind of space the same and the
// sign of a box to tick left out.
func normal(s string) []string {
	return slices.DeleteFunc(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\u00a0' || r == '\n' || r == '\t' || r == '\r' }),
		func(w string) bool { return w == "☐" })
}
