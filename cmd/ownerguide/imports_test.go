package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path"
	"slices"
	"strings"
	"sync"
	"testing"
)

const modulePath = "ownerguide/"

// row is one line of the table in DEVELOPERS.md: a statement of policy. Do not
// change it to make a build pass.
type row struct {
	packages, libraries []string
	everything          bool
}

func importTable(t *testing.T) map[string]row {
	t.Helper()
	text, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	const most = 12 << 10 // what a newcomer reads before the first change
	if len(text) > most {
		t.Errorf("DEVELOPERS.md has %d bytes; at most %d are read", len(text), most)
	}
	table := map[string]row{}
	inside := false
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "| package | holds |") {
			inside = true
			continue
		}
		if !inside || strings.HasPrefix(line, "| ---") {
			continue
		}
		if !strings.HasPrefix(line, "|") {
			break
		}
		cells := strings.Split(strings.Trim(line, "|"), "|")
		if len(cells) != 4 {
			t.Fatalf("row %q has %d cells", line, len(cells))
		}
		table[strings.TrimSpace(cells[0])] = row{strings.Fields(cells[2]), strings.Fields(cells[3]), strings.Contains(cells[2], "everything")}
	}
	if len(table) == 0 {
		t.Fatal("DEVELOPERS.md has no import table")
	}
	last := map[string]string{} // by the last element of a package's name, which is all that the table names
	for name := range table {
		if other := last[path.Base(name)]; other != "" {
			t.Errorf("%s and %s have one last element", name, other)
		}
		last[path.Base(name)] = name
	}
	return table
}

// importsOf is what each package of the project imports.
var importsOf = sync.OnceValues(func() (map[string][]string, error) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	imports := map[string][]string{}
	decoder := json.NewDecoder(bytes.NewReader(out))
	for decoder.More() {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := decoder.Decode(&p); err != nil {
			return nil, err
		}
		imports[p.ImportPath] = p.Imports
	}
	return imports, nil
})

func TestImportsKeepToTheTable(t *testing.T) {
	packages, err := importsOf()
	must(t, err)
	table := importTable(t)
	seen := map[string]bool{}
	for full, imports := range packages {
		name := strings.TrimPrefix(full, modulePath)
		seen[name] = true
		allowed, known := table[name]
		if all := path.Join(path.Dir(name), "*"); !known { // a row for all packages of a folder
			allowed, known = table[all]
			seen[all] = true
		}
		if !known {
			t.Errorf("package %s is not in the table of DEVELOPERS.md", name)
			continue
		}
		for _, imported := range imports {
			checkImport(t, name, imported, allowed)
		}
	}
	for name := range table {
		if !seen[name] {
			t.Errorf("the table of DEVELOPERS.md has %s, which does not exist", name)
		}
	}
}

// forTests reports whether a package serves tests alone, as its name says.
func forTests(name string) bool {
	base := path.Base(name)
	return base == "testenv" || strings.HasSuffix(base, "test")
}

func checkImport(t *testing.T, name, imported string, allowed row) {
	t.Helper()
	if own, ok := strings.CutPrefix(imported, modulePath); ok {
		if forTests(own) && !forTests(name) {
			t.Errorf("%s imports %s, which serves tests alone", name, own)
		}
		if !allowed.everything && !slices.Contains(allowed.packages, path.Base(own)) {
			t.Errorf("%s imports %s, which the table does not allow", name, own)
		}
		return
	}
	first, _, _ := strings.Cut(imported, "/")
	if !strings.Contains(first, ".") {
		return // standard library
	}
	if !slices.ContainsFunc(allowed.libraries, func(l string) bool { return slices.Contains(strings.Split(imported, "/"), l) }) {
		t.Errorf("%s imports the library %s, whose door is elsewhere", name, imported)
	}
}

// Readers decide nothing about content, so not even through another package
// may they reach the build or the words.
func TestReadersCannotReachTheBuild(t *testing.T) {
	packages, err := importsOf()
	must(t, err)
	reached := map[string]bool{}
	var reach func(name string)
	reach = func(name string) {
		if reached[name] {
			return
		}
		reached[name] = true
		for _, imported := range packages[name] {
			reach(imported)
		}
	}
	for _, reader := range []string{"render/html", "render/pdf", "render/calendar", "render/mail"} {
		if len(packages[modulePath+reader]) == 0 {
			t.Errorf("there is no %s", reader)
		}
		reach(modulePath + reader)
	}
	for _, dep := range []string{"spec", "spec/derive", "templates", "render"} {
		if _, is := packages[modulePath+dep]; reached[modulePath+dep] || !is {
			t.Errorf("a reader reaches %s, or it is gone", dep)
		}
	}
}

// Nothing stands at the top but what the project agreed on.
func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir("../..")
	if err != nil {
		t.Fatal(err)
	}
	agreed := []string{"cmd", "spec", "templates", "render", "testdata", "out", "go.mod", "go.sum", "README.md", "DEVELOPERS.md"}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(agreed, e.Name()) {
			t.Errorf("%s does not belong at the top level", e.Name())
		}
	}
}
