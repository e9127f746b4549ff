package render

import (
	"io/fs"
	"strings"
	"testing"
	"unicode/utf8"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

// FuzzTemplate loads a section of any text and makes a guide of it: nothing
// panics, findings point into the author's file, and the document holds only
// kinds of node that the readers know.
func FuzzTemplate(f *testing.F) {
	names, err := fs.Glob(templates.Files, "en/sections/*.md")
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range testenv.Sample(f, names, 20) {
		data, err := fs.ReadFile(templates.Files, name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(data))
	}
	for _, text := range []string{
		"", "---\n---\n", "---\ntitle: x\n---\n", "---\r\ntitle: x\r\n---\r\nA {?b} c.\r\n",
		"---\ntitle: x\n---\n```\u00a0\n```\n", "---\ntitle: x\n---\n- - - a\n\n  {?a}\n",
		"---\ntitle: \"{tires.size}\"\n---\n| {?braked} a | \\{ |\n| --- | --- |\n| {?not braked and (dump or ramps)} x |\n",
		"---\ntitle: x\n---\n# {?braked} A\n## B\n- [ ] {?value:tires.size} é{part.tire}\n",
		"---\ntitle: x\n---\n```values\n{?braked\n: x\n```\n[a]: b\n[a] <b> &#0; \\{ } {\n",
	} {
		f.Add(text)
	}
	l, _ := embedded(f)
	files := little(f, nil)
	b, vs := unit(f, l, sheetOf(f, l, order{l.Model("utility-12"), nil}, true))
	f.Fuzz(func(t *testing.T, text string) {
		const file = "own/en/sections/only.md"
		files["en/sections/only.md"].Data = []byte(text)
		ts, findings := LoadTemplates(source.Layer{Name: "own", Files: files})
		lines := strings.Split(text, "\n")
		for _, finding := range findings {
			at := finding.Pos
			if at.File != file || at.Line > len(lines) || at.Line > 0 && at.Column > utf8.RuneCountInString(lines[at.Line-1])+1 {
				t.Errorf("%q: %s is not in the file: %s", text, at, finding.Message)
			}
			if finding.Message == "" || finding.Code == "" {
				t.Errorf("%q: a finding says nothing: %v", text, finding)
			}
		}
		if findings.HasErrors() {
			return
		}
		g, findings := ts.Assemble(b, vs, nil)
		for _, finding := range findings {
			if finding.Pos.File == file && finding.Pos.Line > len(lines) {
				t.Errorf("%q: %s is not in the file: %s", text, finding.Pos, finding.Message)
			}
		}
		for range doc.Walk(g.Sections) { // panics on a node that no reader knows
		}
	})
}
