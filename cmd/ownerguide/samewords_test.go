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
// screen reader goes through it; the HTML by the standard library's reader.
func TestScreenAndPaperSayTheSame(t *testing.T) {
	checkWords(t, func(t *testing.T, pdf string) [][]string { return paperChapters(readPDF(t, pdf).Structure()) })
}

func TestScreenAndPaperSayTheSameOutside(t *testing.T) {
	testenv.Outside(t, "pdfinfo")
	checkWords(t, func(t *testing.T, pdf string) [][]string {
		return listedChapters(testenv.Tool(t, "pdfinfo", "-struct-text", pdf))
	})
}

func checkWords(t *testing.T, read func(*testing.T, string) [][]string) {
	var units []string
	for _, dir := range []string{demo.guides(t), other.guides(t)} {
		found, _ := filepath.Glob(filepath.Join(dir, "*", "guide.pdf"))
		if len(found) == 0 {
			t.Fatal("nothing was written")
		}
		units = append(units, found...)
	}
	for _, pdf := range units {
		t.Run(filepath.Base(filepath.Dir(pdf)), func(t *testing.T) {
			t.Parallel()
			paper := read(t, pdf)
			screen := screenChapters(t, filepath.Join(filepath.Dir(pdf), "guide.html"))
			if len(paper) != len(screen) {
				t.Fatalf("%d chapters on paper, %d on screen", len(paper), len(screen))
			}
			words := 0
			for i := range paper {
				words += len(paper[i])
				compareWords(t, i, paper[i], screen[i])
			}
			if words < 2000 {
				t.Errorf("only %d words were compared", words)
			}
		})
	}
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

var pageReference = regexp.MustCompile(`[ \x{a0}]?\(page[ \x{a0}][0-9]+\)`)

// paperChapters reads the text of each chapter. Labels of list items and the table
// of contents are left out: the screen makes the first with style and has no page
// numbers for the second.
func paperChapters(root *pdftest.Element) (chapters [][]string) {
	if root == nil {
		return nil
	}
	for _, kid := range root.Kids {
		if section, ok := kid.(*pdftest.Element); ok && section.Role == "Sect" {
			var text strings.Builder
			readElement(&text, section)
			if words := normal(pageReference.ReplaceAllString(text.String(), "")); len(words) > 0 {
				chapters = append(chapters, words)
			}
		}
	}
	return chapters
}

func readElement(text *strings.Builder, e *pdftest.Element) {
	switch e.Role {
	case "Lbl", "TOC", "TOCI":
		return
	case "Span", "Link", "Reference", "Note": // within a line
	default:
		text.WriteByte(' ')
	}
	for _, kid := range e.Kids {
		switch kid := kid.(type) {
		case string:
			text.WriteString(kid)
		case *pdftest.Element:
			readElement(text, kid)
		}
	}
}

// listedChapters reads pdfinfo's picture of the structure tree: an indented
// line for each element, a quoted one for its text.
func listedChapters(tree string) (chapters [][]string) {
	var text strings.Builder
	flush := func() {
		if words := normal(pageReference.ReplaceAllString(text.String(), "")); len(words) > 0 {
			chapters = append(chapters, words)
		}
		text.Reset()
	}
	skip := -1 // indentation of the element whose text is left out
	for line := range strings.Lines(tree) {
		content := strings.TrimLeft(line, " ")
		indent := len(line) - len(content)
		if skip >= 0 && indent > skip {
			continue
		}
		skip = -1
		switch {
		case indent == 2 && strings.HasPrefix(content, "Sect"):
			flush()
		case strings.HasPrefix(content, "Lbl"), strings.HasPrefix(content, "TOC"):
			skip = indent
		case strings.HasPrefix(content, `"`):
			text.WriteString(strings.TrimSuffix(strings.TrimPrefix(strings.TrimRight(content, "\n"), `"`), `"`))
		case !strings.HasPrefix(content, "/") && !strings.HasPrefix(content, "Object ") && !strings.Contains(content, "(inline)"):
			text.WriteByte(' ')
		}
	}
	flush()
	return chapters
}

// screenChapters reads the text of each chapter of an HTML guide.
func screenChapters(t *testing.T, name string) (chapters [][]string) {
	t.Helper()
	file, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	decoder := xml.NewDecoder(file)
	decoder.Strict, decoder.AutoClose, decoder.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	var text strings.Builder
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
			case token.Name.Local == "section":
				sections++
			}
			label = token.Name.Local == "li" || label && token.Name.Local == "input"
			if !inlineTags[token.Name.Local] {
				text.WriteByte(' ')
			}
		case xml.EndElement:
			if skip > 0 {
				skip--
				continue
			}
			if token.Name.Local == "section" {
				if sections--; sections == 0 {
					if words := normal(text.String()); len(words) > 0 {
						chapters = append(chapters, words)
					}
					text.Reset()
				}
			}
			if !inlineTags[token.Name.Local] {
				text.WriteByte(' ')
			}
		case xml.CharData:
			label = label && len(strings.TrimSpace(string(token))) == 0
			if main && skip == 0 {
				text.Write(token)
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
