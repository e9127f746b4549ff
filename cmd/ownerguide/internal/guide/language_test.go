package guide_test

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/render"
	"ownerguide/render/template"
	"ownerguide/spec/source"
)

// A folder that a translator has begun stops no unit but those whose sheet asks for it.
func TestAnUnfinishedLanguageStopsNoOther(t *testing.T) {
	line := embeddedMaker().Line
	words, findings := render.LoadTemplates(source.Layer{Name: "own", Files: fstest.MapFS{
		"es-US/labels.yaml":          {Data: []byte("serial: Serie\n")},
		"es-US/sections/contents.md": {Data: []byte("---\ntitle: Contenido\n---\n")},
	}}, embedded.Layer)
	findings.Add(words.CheckAgainst(line)...)
	if findings.HasErrors() {
		t.Fatal(findings)
	}
	m := guide.NewMaker(line, words, embedded.Line)
	english := samples(t)[0]
	if found, _, err := m.Check([]input.SheetFile{english}); err != nil || found.HasErrors() {
		t.Errorf("an English sheet: %v %v", err, found)
	}
	spanish := input.SheetFile{Name: "spanish.yaml", Data: append(bytes.TrimSpace(english.Data), "\nlanguage: es-US\n"...)}
	u := m.Read(spanish)
	m.Assemble(u, nil)
	if u.Guide != nil || len(u.Findings) == 0 || u.Findings.Sorted()[0].Code != template.CodeLanguage.ID || u.Findings[0].Pos.File != "spanish.yaml" {
		t.Errorf("a Spanish sheet: %v", u.Findings)
	}
	found, _, _ := m.Check([]input.SheetFile{spanish, spanish, english})
	told := 0
	for _, f := range found {
		if strings.Contains(f.Message, "has words in en and none in es-US") {
			told++
		}
	}
	if told < 100 {
		t.Errorf("check tells %d things that es-US lacks", told)
	}
}
