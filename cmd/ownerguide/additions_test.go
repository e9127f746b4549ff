package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/doc"
	"ownerguide/spec/line"
	"ownerguide/templates"
)

// additions are examples of what DEVELOPERS.md says how to add: the row of its
// table, what is added to the end of each file or, where the text is over two
// lines of it, before a line, and what the guide and the proof's list of what the
// texts say then hold.
var additions = []struct {
	row, guide, proof string
	files             map[string][2]string // name → the line it stands before, if any, and the text
	sheet             string               // lines added to it
}{
	{row: "a hazard and its caution", guide: "A dog on the deck jumps off.", proof: "section backing says, ```caution dog-on-deck", files: map[string][2]string{
		"templates/cautions.yaml":    {"", "- { id: dog-on-deck, word: warning, in: [backing] }\n"},
		"templates/en/cautions.yaml": {"", "\ndog-on-deck:\n  hazard: A dog on the deck jumps off.\n  consequence: It can be hurt, and drivers behind you who swerve can be killed.\n  avoid: [Carry the dog in the cab., Never carry it on the deck.]\n"},
	}},
	{row: "a task", guide: "Look at the dog rail", proof: "job dog-rail says, paragraph: Pull at the rail.", files: map[string][2]string{
		"line/components/dog-rail.yaml":  {"", "tasks:\n  - { id: dog-rail, system: frame, trigger: before-trip }\n"},
		"templates/en/tasks/dog-rail.md": {"", "---\ntitle: Look at the dog rail\ntools: none\n---\n1. Pull at the rail. It must not move.\n"},
	}},
	{row: "a section, a stop", guide: "Where the dog goes", proof: "section dog: section dog", files: map[string][2]string{
		"templates/outline.yaml":       {"  - { id: backing }\n", "  - { id: dog }\n"},
		"templates/en/sections/dog.md": {"", "---\ntitle: Where the dog goes\n---\nThe dog rides in the cab.\n"},
	}},
	{row: "an option with a new part", guide: "Dog box", files: map[string][2]string{
		"line/models/utility-12.yaml":  {"rules:\n", "  dog-box:\n    weighs: 20 lb\n    center: 100 in\n    parts: { dog-box: { use: dog-box-small } }\n    source: invented\n"},
		"line/components/dog-box.yaml": {"", "others:\n  dog-box-small: { part_number: BW-OT-0900, source: invented, count: 1, no_stop: a box with straw, no_care: a box with straw }\n"},
		"line/text/en.yaml":            {"because:\n", ""},
	}, sheet: "options: [dog-box]\n"},
}

// addedText are the words of the option above, whose file holds several maps.
var addedText = strings.NewReplacer("\noptions:\n", "\noptions:\n  dog-box: { name: Dog box, describe: \"A box for the dog.\" }\n", "\ncomponents:\n", "\ncomponents:\n  dog-box-small: Dog box\n")

// Each kind of thing is added by editing as many files as DEVELOPERS.md says, and
// then stands in the guide and in what the proof looks at.
func TestAdditionsTakeAsManyFilesAsSaid(t *testing.T) {
	developers := readText(t, "../../DEVELOPERS.md")
	sheet := readText(t, "../../testdata/sheets/BW-27-0118.yaml")
	for _, a := range additions {
		t.Run(a.row, func(t *testing.T) {
			said := regexp.MustCompile(`(?m)^\| ` + a.row + ` \|.*\| (\d+)[^|]* \|$`).FindStringSubmatch(developers)
			if said == nil {
				t.Fatalf("DEVELOPERS.md does not say how to add %s", a.row)
			}
			if n, _ := strconv.Atoi(said[1]); n != len(a.files) {
				t.Errorf("DEVELOPERS.md says %d files; it takes %d", n, len(a.files))
			}
			t.Chdir(t.TempDir())
			if err := os.CopyFS("line", line.Files); err != nil {
				t.Fatal(err)
			}
			if err := os.CopyFS("templates", templates.Files); err != nil {
				t.Fatal(err)
			}
			for name, add := range a.files {
				addTo(t, name, add[0], add[1])
			}
			var told bytes.Buffer
			m, err := (&commands{Line: "line", Templates: "templates"}).load(terminal.New(&told, &told))
			if err != nil {
				t.Fatal(told.String())
			}
			u := m.Read(input.SheetFile{Name: "sheet.yaml", Data: []byte(sheet + a.sheet)})
			if m.Fill(u, nil); u.Guide == nil {
				t.Fatal(u.Findings)
			}
			if !strings.Contains(doc.PlainText(u.Guide.Sections...), a.guide) {
				t.Errorf("the guide does not have %q", a.guide)
			}
			if !strings.Contains(strings.Join(m.Templates.Texts().Snapshot(), "\n"), a.proof) {
				t.Errorf("the proof does not know %q", a.proof)
			}
		})
	}
}

// A system that the program knows nothing of takes as many files as is said here and
// told to makers, whose steps TestHowTo follows and counts; it may only get less.
func TestSystemTakesAsManyFilesAsSaid(t *testing.T) {
	row := regexp.MustCompile(`(?m)^\| a system the program knows nothing of \|.*\| (\d+) \|$`).FindStringSubmatch(readText(t, "../../DEVELOPERS.md"))
	step := regexp.MustCompile(`A system that the program knows nothing of takes (\d+) edits in (\d+) files`).FindStringSubmatch(readText(t, "../../spec/line/README.md"))
	if row == nil || step == nil || row[1] != step[2] {
		t.Fatalf("DEVELOPERS.md says %v, the how-to %v", row, step)
	}
	if n, _ := strconv.Atoi(step[1]); n > 5 {
		t.Errorf("it takes %d edits, and has taken 5", n)
	}
}

// addTo writes text before a line of a file, or at its end.
func addTo(t *testing.T, name, before, text string) {
	t.Helper()
	if _, err := os.Stat(filepath.FromSlash(name)); err != nil {
		writeText(t, name, text)
		return
	}
	old := readText(t, name)
	switch {
	case name == "line/text/en.yaml":
		text = addedText.Replace(old)
	case before == "":
		text = old + text
	case strings.Count(old, before) != 1:
		t.Fatalf("%s has no line %q, or several", name, before)
	default:
		text = strings.Replace(old, before, text+before, 1)
	}
	writeText(t, name, text)
}
