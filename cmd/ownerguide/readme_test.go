package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/spec/project"
	"ownerguide/spec/sheet"
	"ownerguide/spec/testenv"
)

var fenced = regexp.MustCompile("(?s)```(console|yaml)\n(.*?)```")

// What the README shows works as typed: each command runs where the project's
// sheets are, prints what is printed there, and the build sheet makes a guide.
func TestReadmeTellsTheTruth(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	from, err := filepath.Abs("../../testdata/sheets")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir()) // what commands write does not end up in the project
	if err := os.CopyFS(filepath.Join("testdata", "sheets"), os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	commands, sheets := 0, 0
	var whole string // the README's sheet
	for _, block := range fenced.FindAllStringSubmatch(string(text), -1) {
		if strings.HasPrefix(block[2], "# "+project.File) {
			if p, found := project.Read(project.File, []byte(block[2])); p == nil {
				t.Errorf("the project file has slips: %v", found)
			}
			continue
		}
		if block[1] == "yaml" {
			sheets++
			if whole == "" {
				whole = block[2]
				wantOwnNumbers(t, whole)
			}
			name := filepath.Join(t.TempDir(), "sheet.yaml")
			if err := os.WriteFile(name, []byte(replaced(whole, block[2])), 0o644); err != nil {
				t.Fatal(err)
			}
			writeAll(t, name)
			continue
		}
		line, want, _ := strings.Cut(block[2], "\n")
		args, ours := strings.CutPrefix(line, "$ go run ./cmd/ownerguide ")
		if !ours {
			if line != "$ go test ./..." {
				t.Errorf("nobody runs %q", line)
			}
			continue
		}
		commands++
		fields := strings.Fields(args)
		if long := args == "write testdata/sheets/*.yaml" || args == "prove"; long && !testenv.IsHeavy() {
			continue // both take many seconds; the first made guides of some of these sheets for all tests
		}
		if fields[0] == "write" { // the shell opens the pattern; here the program does
			fields = append([]string{"write", "--out", t.TempDir()}, fields[1:]...)
		}
		if fields[0] == "unpack" {
			fields[1] = filepath.Join(t.TempDir(), fields[1])
		}
		code, stdout, stderr := program(t, fields...)
		if want != "" && stdout != want {
			t.Errorf("%s prints\n%s%sthe README says\n%s", line, stdout, stderr, want)
		}
		if strings.Contains(want, "error:") != (code == exitErrors) {
			t.Errorf("%s: exit %d\n%s", line, code, stderr)
		}
	}
	if commands < 3 || sheets != 2 {
		t.Errorf("the README has %d commands and %d sheets", commands, sheets)
	}
}

// wantOwnNumbers holds that a sheet shares serial number and vin with none of the samples.
func wantOwnNumbers(t *testing.T, text string) {
	t.Helper()
	shown, _ := sheet.Read("README.md", []byte(text))
	samples, found := input.ReadSheets([]string{"testdata/sheets"}, nil)
	if shown == nil || len(samples) == 0 || len(found) > 0 {
		t.Fatal("there are no sheets to compare", found)
	}
	for _, f := range samples {
		s, _ := sheet.Read(f.Name, f.Data)
		if shared := sheet.CheckRun([]*sheet.Identity{s.Identity(), shown.Identity()}); len(shared) > 0 {
			t.Error(shared)
		}
	}
}

// replaced is a sheet with some of its lines written anew, or new.
func replaced(sheet, lines string) string {
	if strings.HasPrefix(lines, "serial:") {
		return lines
	}
	kept := strings.SplitAfter(sheet, "\n")
	for line := range strings.Lines(lines) {
		key, _, _ := strings.Cut(line, ":")
		kept = slices.DeleteFunc(kept, func(l string) bool { return strings.HasPrefix(l, key+":") })
	}
	return strings.Join(kept, "") + lines
}
