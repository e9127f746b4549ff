package main

import (
	"maps"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/licences"
)

// sentences are what the licences are known by.
var sentences = map[string]string{
	"MIT": "Permission is hereby granted, free of charge", "Apache-2.0": "Apache License", "BSD-2-Clause": "Redistributions in binary form must reproduce",
	"BSD-3-Clause": "may be used to endorse or promote products", "OFL-1.1": "SIL OPEN FONT LICENSE",
}

// Whatever is linked into the program, on any system, has its licence in it: a
// new library without one fails, and so does one that is gone.
func TestLicences(t *testing.T) {
	linked := map[string]bool{}
	for _, system := range []string{"linux", "windows", "darwin"} {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}}{{end}}{{end}}", ".")
		cmd.Env = append(cmd.Environ(), "GOOS="+system)
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("go list for %s: %v", system, err)
		}
		for module := range strings.FieldsSeq(string(out)) {
			linked[module] = true
		}
	}
	if got, want := slices.Sorted(maps.Keys(licences.Kinds)), slices.Sorted(maps.Keys(linked)); !slices.Equal(got, want) {
		t.Errorf("licences are known of\n%q, linked are\n%q", got, want)
	}
	var files []string
	entries, err := licences.Texts.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		files = append(files, strings.TrimSuffix(strings.ReplaceAll(e.Name(), "~", "/"), ".txt"))
	}
	if want := append(slices.Sorted(maps.Keys(linked)), "go", "ownerguide"); !slices.Equal(files, slices.Sorted(slices.Values(want))) {
		t.Errorf("texts of %q, want those of %q", files, want)
	}

	o := ran(t, ".", "licences", "--text")
	if head, _, _ := strings.Cut(o.stdout, "Go's standard library"); !strings.HasPrefix(head, "ownerguide ") || !strings.Contains(head, sentences["MIT"]) {
		t.Error("the program's own licence does not come first")
	}
	for module, kinds := range licences.Kinds {
		_, rest, found := strings.Cut(o.stdout, module+" v")
		if !found {
			t.Errorf("the program does not name %s", module)
		}
		for kind := range strings.FieldsFuncSeq(kinds, func(r rune) bool { return strings.ContainsRune(" ,", r) }) {
			if kind != "and" && !strings.Contains(strings.Join(strings.Fields(rest), " "), sentences[kind]) {
				t.Errorf("%s: its text is not that of %s", module, kind)
			}
		}
	}
	if !strings.Contains(o.stdout, sentences["OFL-1.1"]) || !strings.Contains(o.stdout, "derived from \"Atkinson Hyperlegible Next\"") {
		t.Error("the licence of the typeface is missing")
	}
}
