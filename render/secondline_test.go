package render

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

// secondMaker is a line and words of another invented maker, who thinks metric.
const secondMaker = "../testdata/quillmere"

// secondFiles loads them, with the embedded templates behind their own.
var secondFiles = sync.OnceValue(func() (e struct {
	line      *product.Line
	templates *Templates
	findings  source.Findings
}) {
	e.line, e.findings = spec.LoadLine(os.DirFS(secondMaker+"/line"), "line")
	var more source.Findings
	e.templates, more = LoadTemplates(
		source.Layer{Name: "own", Files: os.DirFS(secondMaker + "/templates")},
		source.Layer{Name: "templates", Files: templates.Files})
	e.findings.Add(more...)
	if !e.findings.HasErrors() {
		e.findings.Add(e.templates.CheckAgainst(e.line)...)
	}
	return e
})

// Every unit that a second maker can build, of another size, shape and system of
// units, gets a guide without a finding and without a word of the first maker, with
// the sections, jobs and cautions that conditions alone ask for.
func TestAnotherMakersGuides(t *testing.T) {
	t.Parallel()
	e := secondFiles()
	if len(e.findings) > 0 {
		t.Fatal(written(e.findings))
	}
	first := embeddedFiles().line.Maker
	foreign := regexp.MustCompile(`(?i)` + strings.Join([]string{first.ID.Value, regexp.QuoteMeta(first.Phone.Value), regexp.QuoteMeta(first.Email.Value), regexp.QuoteMeta(first.Address[0].Value)}, "|"))
	failures, units := newTally(), 0
	type slip struct{ word, us string }
	slips := map[string]slip{} // by text: units share most of theirs
	for _, m := range e.line.Models {
		var orders []order
		e.line.Problem(m).Each(-1, func(options []string) bool {
			orders = append(orders, order{m, slices.Clone(options)})
			return true
		})
		for _, o := range testenv.Sample(t, orders, 10) {
			// Every unit with the fullest sheet; now and then the barest, and the engineer's document.
			now := units%8 == 0
			units++
			sheets := []bool{true}
			if now {
				sheets = append(sheets, false)
			}
			for _, full := range sheets {
				b, vs := unit(t, e.line, sheetOf(t, e.line, o, full))
				g, findings := e.templates.Assemble(b, vs, nil)
				if len(findings) > 0 {
					failures.add(o, "%s", written(findings))
					continue
				}
				readBack(t, g, read(e.templates, e.line, b.Has))
				said := slices.Concat(sayings(g), sayings(g.Card), sayings(g.Leaf))
				if now {
					sums, findings := e.templates.Calculations(b, vs, Made{})
					if len(findings) > 0 {
						failures.add(o, "%s", written(findings))
					}
					said = append(said, sayings(sums)...)
				}
				for _, s := range said {
					found, known := slips[s.text]
					if !known {
						found = slip{foreign.FindString(s.text), usFirst(s.text)}
						slips[s.text] = found
					}
					if found.word != "" {
						failures.add(o, "%s has %q in %q", s.where, found.word, s.text)
					}
					if found.us != "" && !s.quoted {
						failures.add(o, "%s gives %q first in %q", s.where, found.us, s.text)
					}
				}
			}
		}
	}
	failures.report(t)
	if units < 20 || testenv.IsHeavy() && units < 100 {
		t.Errorf("only %d units were looked at", units)
	}
}

// saying is a text that somebody reads, with the section it stands in. What is
// quoted is the wording of a law, of a data file, or the name of a standard part.
type saying struct {
	where, text string
	quoted      bool
}

// sayings lists the texts of a document: paragraphs, cells, drawings and what
// is heard in their place.
func sayings(g *doc.Guide) (all []saying) {
	quotes := map[string]bool{}
	for _, d := range derive.Declared() {
		quotes[d.Formula], quotes[d.Source.String()] = true, true
	}
	where, statement := "", false
	for n := range doc.Walk(g.Sections) {
		add := func(text string) {
			// The calculations tell formulas, sources and entries as they were written.
			asWritten := quotes[text] || slices.ContainsFunc([]string{"Formula: ", "With the numbers: ", "Source ("}, func(head string) bool { return strings.HasPrefix(text, head) }) || inFile.MatchString(text)
			all = append(all, saying{where, text, statement || asWritten})
		}
		for _, run := range runs(n) {
			add(doc.PlainText(run...))
		}
		switch n := n.(type) {
		case *doc.Section:
			where, statement = n.ID, n.Role == doc.RoleStatement || n.ID == "statements"
		case *doc.Figure:
			add(n.Alt)
			add(n.Caption)
			for _, s := range n.Drawing.Shapes {
				if l, ok := s.(*doc.Label); ok {
					add(l.Text)
				}
			}
		}
	}
	return all
}

var (
	// usFigure is a figure in a unit that only the US system has, and what stands before it.
	usFigure = regexp.MustCompile(`(.?)[−-]?\b[\d,./-]*\d[\s\x{a0}](lb-ft|lb/ft³|lbs?|in³|in²|in|ft|mi|miles?|psi|gal|qt|gpm|mph|°F)\b`)
	// inFile is an entry of sheet or line, told with its place.
	inFile = regexp.MustCompile(`\.yaml:\d+:\d+\)`)
)

// usFirst finds a figure in US units that does not stand in parentheses behind
// the metric one.
func usFirst(text string) string {
	for _, m := range usFigure.FindAllStringSubmatchIndex(text, -1) {
		if text[m[2]:m[3]] != "(" && !strings.HasPrefix(text[m[1]:], " all") { // "10 in all" is no length
			return text[m[0]:m[1]]
		}
	}
	return ""
}

// The search itself finds what it is for.
func TestUSFirst(t *testing.T) {
	for text, want := range map[string]string{
		"450\u00a0kPa (65\u00a0psi)":        "",
		"carry 2,471 kg (5,447 lb) at most": "",
		"20 in":                             "20 in", "a 2-5/16 in ball": " 2-5/16 in", "every 3,000 mi (4,828 km)": " 3,000 mi",
		"10 in all": "", "58.7 mm (2-5/16 in)": "",
	} {
		if got := usFirst(text); got != want {
			t.Errorf("%q: found %q, expected %q", text, got, want)
		}
	}
}
