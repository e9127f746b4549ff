package main

import (
	"os"
	"regexp"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf"
	"ownerguide/spec/testenv"
)

// longWord is a word that gets longer, as most do in another language.
var longWord = regexp.MustCompile(`\p{L}{3,}`)

// lengthened gives a text whose words are a third longer.
func lengthened(text string) string {
	return longWord.ReplaceAllStringFunc(text, func(w string) string {
		letters := []rune(w)
		return w + string(letters[len(letters)-(len(letters)+2)/3:])
	})
}

// lengthen makes the words of a document a third longer.
func lengthen(g *doc.Guide) {
	for n := range doc.Walk(g.Sections) {
		switch n := n.(type) {
		case *doc.Text:
			n.Content = lengthened(n.Content)
		case *doc.Section:
			n.Short = lengthened(n.Short)
		case *doc.Table:
			n.Caption = lengthened(n.Caption)
		case *doc.Caution:
			n.Signal = lengthened(n.Signal)
		case *doc.Figure:
			n.Caption = lengthened(n.Caption)
		}
	}
	for key, word := range g.Words {
		g.Words[key] = lengthened(word)
	}
}

// Words a third longer, as those of another language may be, stop no guide.
func TestLongerWordsStopNoGuide(t *testing.T) {
	m := loaded(t)
	for _, name := range testenv.Sample(t, goodSheets(t), 4) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		u := m.read(newSheetFile(name, data))
		if m.fill(u, nil); u.guide == nil {
			t.Fatalf("%s: %v", name, u.findings)
		}
		short, err := pdf.Measure(u.guide, pdf.Options{})
		if err != nil {
			t.Fatal(err)
		}
		lengthen(u.guide)
		long, err := pdf.Measure(u.guide, pdf.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if long.Pages <= short.Pages {
			t.Errorf("%s: %d pages, with longer words %d; the test lengthens nothing", name, short.Pages, long.Pages)
		}
		for _, d := range besides {
			g := d.of(u.guide)
			lengthen(g)
			if r, err := pdf.Measure(g, pdf.Options{Paper: d.paper(pdf.Letter)}); err != nil || r.Pages > sides {
				t.Errorf("%s: %s of %d pages, %v", name, d.name, r.Pages, err)
			}
		}
	}
}
