package guide_test

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/render"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/proof"
)

// embeddedMaker has the embedded line and words, which no test changes.
var embeddedMaker = sync.OnceValue(func() *guide.Maker {
	l, wrong := spec.LoadLine(line.Files, embedded.Line)
	words, also := render.LoadTemplates(embedded.Layer)
	if wrong.HasErrors() || also.HasErrors() {
		panic("line or words have errors")
	}
	return guide.NewMaker(l, words, embedded.Line)
})

// samples are the project's own sheets.
func samples(t *testing.T) (files []input.SheetFile) {
	t.Helper()
	names, err := filepath.Glob("../../../../testdata/sheets/*.yaml")
	if err != nil || len(names) < 10 {
		t.Fatalf("only %d sheets: %v", len(names), err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, input.SheetFile{Name: filepath.Base(name), Data: data})
	}
	return files
}

// covering are sheets that between them have every pair of options.
func covering(t *testing.T) (files []input.SheetFile) {
	t.Helper()
	sheets, _ := proof.Covering(embeddedMaker().Line)
	if len(sheets) < 20 {
		t.Fatalf("only %d covering sheets", len(sheets))
	}
	for _, s := range sheets {
		files = append(files, input.SheetFile{Name: s.Name, Data: s.Data})
	}
	return files
}

// assembledOnce are units with their guides, which no test changes.
var assembledOnce sync.Map

// assembled makes the guide of a sheet, once for all tests.
func assembled(t *testing.T, f input.SheetFile) *guide.Unit {
	t.Helper()
	if u, known := assembledOnce.Load(f.Name); known {
		return u.(*guide.Unit)
	}
	m := embeddedMaker()
	u := m.Read(f)
	if m.Assemble(u, nil); u.Guide == nil {
		t.Fatalf("%s has no guide: %v", f.Name, u.Findings)
	}
	assembledOnce.Store(f.Name, u)
	return u
}
