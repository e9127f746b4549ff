package render

import (
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/record"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
)

// recorded assembles a unit with the changes since an earlier revision of it, if any.
func recorded(t *testing.T, l *product.Line, ts *Templates, text string, earlier *record.Record) (*doc.Guide, *record.Record) {
	t.Helper()
	s, findings := sheet.Read("sheet.yaml", []byte(text))
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	b, vs := unit(t, l, s)
	g, findings := ts.Assemble(b, vs, earlier)
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	return g, record.Make(b, vs, g, quantity.English, ts.Style)
}

const plainUnit = `serial: BW-27-0118
vin: 1B9UT1215VM000118
model: utility-12
model_year: 2027
built: 2026-10-06
issued: 2026-10-08
delivered: 2026-10-20
revision: A
`

// changedText returns the words of every block that bears a mark of change.
func changedText(g *doc.Guide) (out []string) {
	for n := range doc.Walk(g.Sections) {
		if p, ok := n.(doc.Part); ok && p.Attr().Changed {
			out = append(out, doc.PlainText(n))
		}
	}
	return out
}

func TestChangesAreToldAndMarked(t *testing.T) {
	l, ts := embedded(t)
	_, was := recorded(t, l, ts, plainUnit, nil)
	later := strings.Replace(strings.Replace(plainUnit, "revision: A", "revision: B", 1), "issued: 2026-10-08", "issued: 2027-03-02", 1)
	later += "added: [ { option: spare, date: 2027-03-02 } ]\n"
	g, now := recorded(t, l, ts, later, was)
	if _, alone := recorded(t, l, ts, later, nil); alone.Content != now.Content {
		t.Error("the digest of what a guide promises hangs on the revision that stood in the folder before")
	}
	text := doc.PlainText(g.Sections...)
	for _, want := range []string{"since revision A of Oct\u00a08,\u00a02026", "Check the spare wheel", "Empty weight"} {
		if !strings.Contains(text, want) {
			t.Errorf("the guide does not tell %q", want)
		}
	}
	marked := changedText(g)
	if !slices.ContainsFunc(marked, func(s string) bool { return strings.Contains(s, "spare wheel") }) {
		t.Error("no mark stands beside the spare wheel")
	}
	all := len(blocksOf(g))
	if len(marked) == 0 || len(marked) > all/3 {
		t.Errorf("%d of %d blocks are marked; expected some and fewer than a third", len(marked), all)
	}
}

// Another letter and day on the same unit: nothing but what prints them is marked.
func TestNothingChangedIsSaid(t *testing.T) {
	l, ts := embedded(t)
	_, was := recorded(t, l, ts, plainUnit, nil)
	g, now := recorded(t, l, ts, strings.Replace(plainUnit, "revision: A", "revision: B", 1), was)
	if text := doc.PlainText(g.Sections...); !strings.Contains(text, "Nothing that you do or look up changed") {
		t.Error("the guide does not say that nothing changed")
	}
	if was.Content == now.Content {
		t.Error("the digest does not see the revision")
	}
}

// The digest of the content follows what is said and not where it was written.
func TestContentDigest(t *testing.T) {
	l, ts := embedded(t)
	_, first := recorded(t, l, ts, plainUnit, nil)
	_, commented := recorded(t, l, ts, "# a comment moves every line\n"+plainUnit, nil)
	if first.Content != commented.Content {
		t.Error("a comment changed the content")
	}
	for _, change := range []string{"notes: Keep the key dry.", "buyer: { name: Pat Example }", "options: [spare]"} {
		if _, r := recorded(t, l, ts, plainUnit+change+"\n", nil); r.Content == first.Content {
			t.Errorf("%s: the content is the same", change)
		}
	}
}

func blocksOf(g *doc.Guide) (out []doc.Part) {
	for s := range doc.Sections(g.Sections) {
		out = append(out, record.Blocks(s)...)
	}
	return out
}
