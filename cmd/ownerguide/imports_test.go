package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path"
	"slices"
	"strings"
	"testing"
)

const modulePath = "ownerguide/"

// listed is what go list says of one package.
type listed struct {
	ImportPath string
	Standard   bool
	Imports    []string
}

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

func TestImportsKeepToTheTable(t *testing.T) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Standard,Imports", "./...")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	table := importTable(t)
	seen := map[string]bool{}
	decoder := json.NewDecoder(strings.NewReader(string(out)))
	for decoder.More() {
		var p listed
		if err := decoder.Decode(&p); err != nil {
			t.Fatal(err)
		}
		name := strings.TrimPrefix(p.ImportPath, modulePath)
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
		for _, imported := range p.Imports {
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
	for _, reader := range []string{"render/html", "render/pdf", "render/calendar", "render/mail"} {
		cmd := exec.Command("go", "list", "-deps", modulePath+reader)
		cmd.Dir = "../.."
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("go list -deps %s: %v", reader, err)
		}
		for dep := range strings.FieldsSeq(string(out)) {
			if slices.Contains([]string{"ownerguide/spec", "ownerguide/spec/derive", "ownerguide/templates", "ownerguide/render"}, dep) {
				t.Errorf("%s reaches %s", reader, dep)
			}
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
