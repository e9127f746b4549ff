package guide_test

import (
	"regexp"
	"testing"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/render/doc"
	"ownerguide/render/pdf"
	"ownerguide/spec/testenv"
)

// longWord is a word that gets longer, as most do in another language, or a hole of
// a pattern, which does not.
var longWord = regexp.MustCompile(`\{[^}]*\}|\p{L}{3,}`)

// lengthened returns a text whose words are a third longer.
func lengthened(text string) string {
	return longWord.ReplaceAllStringFunc(text, func(w string) string {
		if w[0] == '{' {
			return w
		}
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
	m := embeddedMaker()
	for _, f := range testenv.Sample(t, samples(t), 4) {
		name, u := f.Name, m.Read(f)
		// Beside an earlier record no block is shared with other units, which are not to get longer.
		if m.Fill(u, assembled(t, f).Record); u.Guide == nil {
			t.Fatalf("%s: %v", name, u.Findings)
		}
		short, err := pdf.Measure(u.Guide, pdf.Options{})
		if err != nil {
			t.Fatal(err)
		}
		lengthen(u.Guide)
		long, err := pdf.Measure(u.Guide, pdf.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if long.Pages <= short.Pages {
			t.Errorf("%s: %d pages, with longer words %d; the test lengthens nothing", name, short.Pages, long.Pages)
		}
		for _, d := range guide.Companions {
			g := d.Of(u.Guide)
			lengthen(g)
			if r, err := pdf.Measure(g, pdf.Options{Paper: d.Paper(pdf.Letter)}); err != nil || r.Pages > guide.Sides {
				t.Errorf("%s: %s of %d pages, %v", name, d.Name, r.Pages, err)
			}
		}
	}
}
