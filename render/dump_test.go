package render

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/render/doc"
)

// dump writes a document as indented text, a block a line: what a reader of it
// has to set, without how it looks.
func dump(n ast.Node) string {
	var b strings.Builder
	dumpBlock(&b, n, 0)
	return b.String()
}

func dumpBlock(b *strings.Builder, n ast.Node, depth int) {
	line := func(format string, args ...any) {
		fmt.Fprintf(b, "%s%s\n", strings.Repeat("  ", depth), fmt.Sprintf(format, args...))
	}
	depth = max(depth, 0)
	switch n := n.(type) {
	case *ast.Document:
		depth-- // its sections stand at the left
	case *doc.Section:
		line("section %s, level %d, %s, number %q, short %q", n.ID, n.Level, n.Role, n.Number, n.Short)
	case *ast.Heading:
		line("heading: %s", dumpInlines(n))
		return
	case *ast.Paragraph:
		line("%s", dumpInlines(n))
		return
	case *ast.List:
		line("list %c, start %d, tight %t", n.Marker, n.Start, n.IsTight)
	case *ast.ListItem:
		if n.ChildCount() == 1 && n.FirstChild().Kind() == ast.KindParagraph {
			line("item: %s", dumpInlines(n.FirstChild()))
			return
		}
		line("item")
	case *extast.Table:
		role, caption := doc.Table(n)
		line("table, %s, caption %q", role, caption)
	case *extast.TableHeader, *extast.TableRow:
		var cells []string
		for c := n.FirstChild(); c != nil; c = c.NextSibling() {
			cells = append(cells, dumpInlines(c))
		}
		kind := "row"
		if n.Kind() == extast.KindTableHeader {
			kind = "head"
		}
		line("%s: %s", kind, strings.Join(cells, " | "))
		return
	case *doc.Contents:
		line("contents")
		for _, e := range n.Entries {
			depth++
			line("level %d, number %q: %s (#%s)", e.Level, e.Number, e.Title, e.ID)
			depth--
		}
	case *doc.Caution:
		line("caution %s, %s, signal %s, brief %t", n.ID, n.Word, n.Signal, n.Brief)
	case *doc.Picture:
		line("picture %s, id %s, caption %q, alt %q, shapes %t", n.ID, doc.ID(n), n.Caption, n.Alt, n.Drawing != nil && len(n.Drawing.Shapes) > 0)
	case *doc.Logo:
		line("logo, alt %q, shapes %t, dots %d by %d", n.Alt, n.Drawing != nil && len(n.Drawing.Shapes) > 0, n.Width, n.Height)
	case *doc.Form:
		line("form, label %q, rules %d", n.Label, n.Rules)
	default:
		line("UNKNOWN %s", n.Kind())
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		dumpBlock(b, c, depth+1)
	}
}

// dumpInlines marks figures with ‹name=printed›, no-break spaces with ␣ and
// forced line breaks with ⏎.
func dumpInlines(parent ast.Node) string {
	var b strings.Builder
	for c := parent.FirstChild(); c != nil; c = c.NextSibling() {
		switch n := c.(type) {
		case *doc.Text:
			b.WriteString(n.Content)
		case *doc.Value:
			fmt.Fprintf(&b, "‹%s=%s›", n.Name, n.Printed)
		case *doc.Stop:
			fmt.Fprintf(&b, "(%d)", n.Number)
		case *doc.Box:
			fmt.Fprintf(&b, "[ ]%s", n.ID)
		case *doc.Break:
			b.WriteString("⏎")
		case *ast.Emphasis:
			mark := strings.Repeat("*", n.Level)
			b.WriteString(mark + dumpInlines(n) + mark)
		case *ast.Link:
			fmt.Fprintf(&b, "[%s](%s)", dumpInlines(n), n.Destination)
		default:
			fmt.Fprintf(&b, "UNKNOWN %s", n.Kind())
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
			b, vs, plan := unit(t, l, sheetFrom(t, serial))
			g, findings := templates.Assemble(b, vs, plan)
			if findings.HasErrors() {
				t.Fatal(written(findings))
			}
			got := dump(g.Root)
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
