package render

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// sums makes the calculations of one of the project's sheets.
func sums(t *testing.T, file string) (*doc.Guide, *derive.Values, *Templates, *spec.Build) {
	t.Helper()
	l, words := embedded(t)
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	b, vs := unit(t, l, readSheet(t, file, data))
	g, findings := words.Calculations(b, vs, Made{Program: "ownerguide test", Sheet: "0a1b"})
	if g == nil || findings.HasErrors() {
		t.Fatal(findings)
	}
	return g, vs, words, b
}

// Every figure and every limit of a unit has its own section, with the printed
// figure, and every link leads somewhere.
func TestCalculationsAreComplete(t *testing.T) {
	for _, s := range samples(t) {
		file := s.name
		g, vs, _, _ := sums(t, file)
		sections, links := map[string]string{}, []string{}
		shared := map[string]string{} // figure → the one whose words it shares
		for n := range doc.Walk(g.Sections) {
			switch n := n.(type) {
			case *doc.Section:
				if _, twice := sections[n.ID]; twice {
					t.Errorf("%s: two sections are called %s", file, n.ID)
				}
				sections[n.ID] = doc.PlainText(n)
				for _, b := range n.Blocks {
					if p, ok := b.(*doc.Paragraph); ok && strings.HasPrefix(doc.PlainText(p), "Formula and source as for ") {
						shared[n.ID] = strings.TrimPrefix(p.Inlines[1].(*doc.Link).To, "#")
					}
				}
			case *doc.Link:
				links = append(links, strings.TrimPrefix(n.To, "#"))
			}
		}
		for _, v := range vs.All() {
			text := sections[v.Name]
			for _, want := range []string{v.Print(quantity.English), v.Formula, v.Source.String()} {
				told := text
				if same := shared[v.Name]; same != "" {
					told += sections[same]
				}
				if !strings.Contains(told, want) {
					t.Errorf("%s: %s does not say %q", file, v.Name, want)
				}
			}
			if strings.Contains(text, "not printed for the owner") != v.Engineer {
				t.Errorf("%s: %s is wrongly marked: %s", file, v.Name, text)
			}
		}
		for _, m := range vs.Margins() {
			text := sections["limit-"+m.Code.ID]
			if !strings.Contains(text, m.Code.Protects) || !strings.Contains(text, "must be "+m.Order.String()) {
				t.Errorf("%s: the limit %s is not told: %q", file, m.Code.ID, text)
			}
		}
		for _, target := range links {
			if _, ok := sections[target]; !ok {
				t.Errorf("%s: a link leads to %s, which is not there", file, target)
			}
		}
		if strings.Contains(doc.PlainText(g.Sections...), "../testdata") {
			t.Errorf("%s: the folder of the sheet is printed", file)
		}
	}
}

// A prescribed text is noted until the line says who confirmed it and when;
// then the note goes and the calculations name date and initials.
func TestStatementsAreConfirmedByTheLine(t *testing.T) {
	const file = "../testdata/sheets/BW-27-0142.yaml"
	_, vs, words, b := sums(t, file)
	own := *b.Line // that of all tests stays as it is
	own.Maker.Statements = slices.Clone(own.Maker.Statements)
	b.Line = &own
	notes := words.Unconfirmed(b)
	if len(notes) == 0 {
		t.Fatal("no prescribed text is noted; the embedded line confirms none")
	}
	for _, f := range notes {
		if f.Severity != source.Note || f.Code != "statement-unconfirmed" || f.Pos.Line == 0 || !strings.Contains(f.Pos.File, "statements/") {
			t.Errorf("%s: %s [%s]", f.Pos, f.Severity, f.Code)
		}
		id := strings.TrimSuffix(filepath.Base(f.Pos.File), ".yaml")
		confirm(t, b.Line, id, "2026-09-01", "AB")
	}
	if again := words.Unconfirmed(b); len(again) > 0 {
		t.Errorf("noted though confirmed: %v", again)
	}
	g, _ := words.Calculations(b, vs, Made{Program: "ownerguide test", Sheet: "0a1b"})
	text := doc.PlainText(g.Sections...)
	if strings.Count(text, "2026-09-01 AB") != len(notes) || strings.Contains(text, "not confirmed") {
		t.Errorf("the calculations do not name who confirmed the texts")
	}
}

// confirm adds an entry under statements, read as a line's file is.
func confirm(t *testing.T, l *product.Line, id, date, initials string) {
	t.Helper()
	node, findings := source.Parse("line.yaml", fmt.Appendf(nil, "%s: { confirmed: %s, initials: %s }\n", id, date, initials), source.LineLimit)
	if node == nil {
		t.Fatal(findings)
	}
	source.Decode(node, &l.Maker.Statements, &findings)
	if len(findings) > 0 {
		t.Fatal(findings)
	}
}

// The first chapter gives the margins, the smallest first, with what is needed
// and what there is on one basis; what is met exactly and what counts stand apart.
func TestVerdictComesFirst(t *testing.T) {
	for _, unit := range []string{"0118", "0142", "0163"} {
		g, vs, _, _ := sums(t, "../testdata/sheets/BW-27-"+unit+".yaml")
		var verdict *doc.Section
		for _, s := range g.Sections {
			if s.Role == doc.RoleChapter {
				verdict = s
				break
			}
		}
		if verdict == nil || verdict.ID != "verdict" {
			t.Fatalf("%s: the first chapter is not the verdict", unit)
		}
		words := doc.PlainText(verdict)
		for _, want := range []string{fmt.Sprintf("All %d comparisons hold", len(vs.Margins())), "ownerguide test", "0a1b", "Not checked by this program"} {
			if !strings.Contains(words, want) {
				t.Errorf("%s: the verdict does not say %q", unit, want)
			}
		}
		last, rows, signatures := 101.0, 0, 0
		for n := range doc.Walk([]*doc.Section{verdict}) {
			table, ok := n.(*doc.Table)
			if ok && table.Role == doc.TableLog {
				signatures += len(table.Rows)
			}
			if !ok || table.Head == nil || doc.PlainText(table.Head.Cells[len(table.Head.Cells)-1]) != "Used" {
				continue
			}
			for _, row := range table.Rows {
				var used float64
				if _, err := fmt.Sscanf(doc.PlainText(row.Cells[len(row.Cells)-1]), "%f", &used); err != nil || used > last || used >= 100 {
					t.Errorf("%s: %q after %v %%", unit, doc.PlainText(row.Cells...), last)
				}
				last = used
				rows++
			}
		}
		if rows < 5 || signatures != 3 {
			t.Errorf("%s: %d margins and %d places to sign on the first page", unit, rows, signatures)
		}
	}
}

// A formula's numbers are those of the unit, and the free bodies come out at the
// limits that the load band is worked out from.
func TestFormulasWithNumbers(t *testing.T) {
	g, _, _, _ := sums(t, "../testdata/sheets/BW-27-0163.yaml")
	words := strings.ReplaceAll(doc.PlainText(g.Sections...), "\u00a0", " ")
	for _, want := range []string{
		"With the numbers: 23,000 lb less 10,640 lb = 12,360 lb",
		"= 5,750 lb; A = ", // 25 % of 23,000 lb on the coupler
		"= 3,450 lb; A = ", // 15 %
		"19,550 lb",        // the rest on the axles
	} {
		if !strings.Contains(words, want) {
			t.Errorf("the calculations do not say %q", want)
		}
	}
}

// The names in a formula are those that a regular expression finds.
func TestNamesInFormula(t *testing.T) {
	pattern := regexp.MustCompile(`[a-z][a-z0-9_]*(\.[a-z0-9_]+)+`)
	formulas := []string{"", "a", "a.b", "a.b..c.d", "9ab_c.d.e7 × (x.y − z)", "Weights.empty + .5 less a.b.", "é.b, ab.é, a.b9.c: text"}
	for _, d := range derive.Declared() {
		formulas = append(formulas, d.Formula)
	}
	for _, formula := range formulas {
		var got []string
		for _, at := range derive.NamesIn(formula) {
			got = append(got, formula[at[0]:at[1]])
		}
		if want := pattern.FindAllString(formula, -1); !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", formula, got, want)
		}
	}
}
