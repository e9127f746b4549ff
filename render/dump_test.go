package render

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ownerguide/render/doc"
)

// dump writes sections as indented text, a block a line: what a reader of them
// has to set, without how it looks.
func dump(sections ...*doc.Section) string {
	var b strings.Builder
	for _, s := range sections {
		dumpBlock(&b, s, 0)
	}
	return b.String()
}

func dumpBlock(b *strings.Builder, n doc.Block, depth int) {
	line := func(format string, args ...any) {
		fmt.Fprintf(b, "%s%s\n", strings.Repeat("  ", depth), fmt.Sprintf(format, args...))
	}
	below := func(blocks ...doc.Block) {
		for _, n := range blocks {
			dumpBlock(b, n, depth+1)
		}
	}
	row := func(kind string, r *doc.Row) {
		var cells []string
		for _, c := range r.Cells {
			cells = append(cells, dumpInlines(c.Inlines))
		}
		line("  %s: %s", kind, strings.Join(cells, " | "))
	}
	switch n := n.(type) {
	case *doc.Section:
		line("section %s, level %d, %s, number %q, short %q", n.ID, n.Level, n.Role, n.Number, n.Short)
		line("  heading: %s", dumpInlines(n.Heading.Inlines))
		below(n.Blocks...)
	case *doc.Paragraph:
		line("%s", dumpInlines(n.Inlines))
	case *doc.List:
		marker := '-'
		if n.Ordered {
			marker = '.'
		}
		line("list %c, start %d, tight %t", marker, n.Start, n.Tight)
		for _, item := range n.Items {
			if only, ok := item.Blocks[0].(*doc.Paragraph); ok && len(item.Blocks) == 1 {
				line("  item: %s", dumpInlines(only.Inlines))
				continue
			}
			line("  item")
			depth++
			below(item.Blocks...)
			depth--
		}
	case *doc.Table:
		line("table, %s, caption %q", n.Role, n.Caption)
		if n.Head != nil {
			row("head", n.Head)
		}
		for _, r := range n.Rows {
			row("row", r)
		}
	case *doc.Contents:
		line("contents")
		for _, e := range n.Entries {
			line("  level %d, number %q: %s (#%s)", e.Level, e.Number, e.Title, e.ID)
		}
	case *doc.Caution:
		line("caution %s, %s, signal %s, brief %t", n.Name, n.Word, n.Signal, n.Brief)
		below(n.Blocks()...)
	case *doc.JobLine:
		line("job: who %s, when %s, tools %s", dumpInlines(n.Who), dumpInlines(n.When), dumpInlines(n.Tools))
	case *doc.Limit:
		line("limit: %s", dumpInlines(n.Inlines))
	case *doc.Trouble:
		line("trouble: %s", dumpInlines(n.Symptom))
		line("  cause: %s", dumpInlines(n.Cause()))
		for _, r := range n.Remedies {
			line("  remedy: %s", dumpInlines(r))
		}
		for _, l := range n.Limits {
			below(l)
		}
	case *doc.Figure:
		line("picture %s, id %s, caption %q, alt %q, shapes %t", n.Name, n.ID, n.Caption, n.Alt, n.Drawing != nil && len(n.Drawing.Shapes) > 0)
		for _, v := range n.Column {
			for _, k := range v.Key {
				line("  sign %s: %s, to %s", k.Sign, k.Text, k.To)
			}
		}
	case *doc.Logo:
		line("logo, alt %q, shapes %t, dots %d by %d", n.Alt, n.Drawing != nil && len(n.Drawing.Shapes) > 0, n.Width, n.Height)
	case *doc.Form:
		line("form, label %q, rules %d", n.Label, n.Rules)
	default:
		line("UNKNOWN %T", n)
	}
}

// dumpInlines marks figures with ‹name=printed›, no-break spaces with ␣ and
// forced line breaks with ⏎.
func dumpInlines(list []doc.Inline) string {
	var b strings.Builder
	for _, n := range list {
		switch n := n.(type) {
		case *doc.Text:
			b.WriteString(n.Content)
		case *doc.Value:
			fmt.Fprintf(&b, "‹%s=%s›", n.Name, n.Printed)
		case *doc.PointMark:
			fmt.Fprintf(&b, "(%d)", n.Number)
		case *doc.Box:
			fmt.Fprintf(&b, "[ ]%s", n.ID)
		case *doc.Break:
			b.WriteString("⏎")
		case *doc.Emphasis:
			mark := "*"
			if n.Strong {
				mark = "**"
			}
			b.WriteString(mark + dumpInlines(n.Inlines) + mark)
		case *doc.Link:
			fmt.Fprintf(&b, "[%s](%s)", dumpInlines(n.Inlines), n.To)
		default:
			fmt.Fprintf(&b, "UNKNOWN %T", n)
		}
	}
	return strings.ReplaceAll(b.String(), "\u00a0", "␣")
}

// Two whole guides as text: the plainest unit there is, and one with a buyer,
// dates, weights from the scale and a deck that tilts.
func TestGoldenGuides(t *testing.T) {
	l, templates := embedded(t)
	for _, serial := range []string{"BW-27-0118", "BW-27-0142"} {
		t.Run(serial, func(t *testing.T) {
			b, vs := unit(t, l, sheetFrom(t, serial))
			g, findings := templates.Assemble(b, vs, nil)
			if findings.HasErrors() {
				t.Fatal(written(findings))
			}
			got := dump(g.Sections...)
			compareGolden(t, filepath.Join("testdata", "golden", "doc", serial+".txt"), got)
		})
	}
}

func compareGolden(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; write it with: go test ./render -update", err)
	}
	if bytes.Equal(want, []byte(got)) {
		return
	}
	before, after := strings.Split(string(want), "\n"), strings.Split(got, "\n")
	for i := 0; i < len(before) && i < len(after); i++ {
		if before[i] != after[i] {
			t.Fatalf("%s:%d:\n was %s\n is  %s\nif it is meant: go test ./render -update", file, i+1, before[i], after[i])
		}
	}
	t.Fatalf("%s has %d lines, the guide %d; if it is meant: go test ./render -update", file, len(before), len(after))
}

// A golden file nobody compares with says nothing.
func TestNoOrphanGoldens(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "golden", "doc", "*"))
	if err != nil || len(files) != 2 {
		t.Errorf("%v, %v; expected the files of the two guides above", files, err)
	}
}
