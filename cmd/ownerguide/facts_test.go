package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A delivered unit keeps to the line that it was built from: a change of the line
// comes into its guide only with a word from the person who writes.
func TestFactsOfDelivery(t *testing.T) {
	ownProject(t)
	const unit = "out/QM-0001"
	sheet := strings.Replace(readText(t, ownSheet), "revision: A\n", "delivered: 2026-09-20\nrevision: A\n", 1)
	later := strings.Replace(strings.Replace(sheet, "revision: A", "revision: B", 1), "issued: 2026-09-18", "issued: 2026-11-02", 1)
	run := func(want int, says string, args ...string) (stdout string) {
		t.Helper()
		code, stdout, stderr := program(t, args...)
		if code != want || !strings.Contains(stdout+stderr, says) {
			t.Fatalf("%v: exit code %d, expected %d and %q in\n%s%s", args, code, want, says, stdout, stderr)
		}
		return stdout
	}
	edit := func(name, old, new string) {
		t.Helper()
		text := readText(t, name)
		if !strings.Contains(text, old) {
			t.Fatalf("%s has no %q", name, old)
		}
		writeText(t, name, strings.Replace(text, old, new, 1))
		must(t, takeAsProved("."))
	}
	has := func(name, text string, there bool) {
		t.Helper()
		if strings.Contains(readText(t, name), text) != there {
			t.Errorf("%s has %q: %t", name, text, !there)
		}
	}
	must(t, takeAsProved("."))
	writeText(t, "u.yaml", sheet)
	run(exitClean, "written out/QM-0001", "write", "u.yaml")
	was := readText(t, unit+"/guide.html")

	// The axles move and the box gets lighter for new production; the spare is another one.
	edit("line/models/box-24.yaml", "empty_weight: 520 kg", "empty_weight: 500 kg")
	edit("line/models/box-24.yaml", "weighs: 26 kg", "weighs: 29 kg")
	edit("line/line.yaml", `version: "1"`, `version: "2"`)
	run(exitClean, "the line has changed since the unit was delivered, from version 1 to 2; the guide keeps to the line of the delivery [line-since]", "write", "u.yaml")
	run(exitClean, "0 written, 1 unchanged", "write", "u.yaml")
	run(exitClean, "written", "write", "--force", "u.yaml")
	if readText(t, unit+"/guide.html") != was {
		t.Error("the same sheet gives another guide after the line has changed")
	}
	run(exitClean, "1 whole, 0 not made again", "verify")
	run(exitErrors, "would now read differently", "write", "--with-line-changes", "u.yaml")

	// The later revision has the spare of the delivery, and nothing else is new.
	writeText(t, "b.yaml", later+"added: [ { option: spare, date: 2026-11-01 } ]\n")
	if told := run(exitClean, "line-since", "compare", unit, "b.yaml"); !strings.Contains(told, "options.spare.weighs is now counted: 26 kg") {
		t.Errorf("compare does not go by the line of the delivery:\n%s", told)
	}
	if told := run(exitClean, "", "compare", "--with-line-changes", unit, "b.yaml"); !strings.Contains(told, "29 kg") {
		t.Errorf("compare does not go by the line in use:\n%s", told)
	}
	run(exitClean, "written", "write", "b.yaml")
	run(exitClean, "options.spare.weighs is now counted: 26 kg", "compare", unit+"/revisions/A", unit)
	has(unit+"/guide.html", "the maker gives differently", false)
	has(unit+"/record.json", `"line": "quillmere 1"`, true)
	run(exitClean, "1 whole, 0 not made again", "verify")

	// With a word it is made from the line as it is now, and says what is of the line.
	writeText(t, "c.yaml", strings.Replace(strings.Replace(readText(t, "b.yaml"), "revision: B", "revision: C", 1), "issued: 2026-11-02", "issued: 2026-11-05", 1))
	run(exitClean, "line-since", "write", "--dry-run", "c.yaml")
	run(exitClean, "written", "write", "--with-line-changes", "c.yaml")
	run(exitClean, "26 kg → 29 kg", "compare", unit+"/revisions/B", unit)
	has(unit+"/guide.html", "the maker gives differently", true)
	run(exitClean, "1 whole, 0 not made again", "verify")
	run(exitClean, "0 written, 1 unchanged", "write", "c.yaml") // that line is its own now

	// An option that came into the line later is not in that of the delivery.
	words := readText(t, "line/text/en.yaml")
	writeText(t, "line/text/en.yaml", strings.Replace(words, "options:\n", "options:\n  bumper: { name: Bumper, describe: A bumper for tests. }\n", 1))
	edit("line/models/box-24.yaml", "  mats:\n", "  bumper: { weighs: 3 kg, center: 100 mm, source: invented }\n  mats:\n")
	writeText(t, "d.yaml", strings.Replace(strings.Replace(readText(t, "c.yaml"), "revision: C", "revision: D", 1), "added: [ ", "added: [ { option: bumper, date: 2026-11-06 }, ", 1))
	run(exitErrors, "this is said of the line of the delivery; --with-line-changes takes the line as it is now", "write", "d.yaml")

	// What the unit was built from is damaged, then gone.
	facts, kept := unit+"/line.zip", ""
	kept = readText(t, facts)
	for _, c := range []struct{ text, says string }{{kept[:len(kept)/2], "line.zip differs from what was delivered"}, {"", "line.zip: no such file"}} {
		must(t, os.RemoveAll(facts))
		if c.text != "" {
			writeText(t, facts, c.text)
		}
		run(exitErrors, c.says, "write", "d.yaml")
		run(exitErrors, "put it back from a copy, or make the guide from the line as it is now with --with-line-changes", "write", "c.yaml")
		run(exitErrors, "line.zip: error: the file ", "verify")
	}
	writeText(t, facts, kept)
	run(exitClean, "1 whole, 0 not made again", "verify")

	// A folder that is gone takes what the unit was built from with it.
	must(t, os.Rename(unit, filepath.Join(t.TempDir(), "gone")))
	run(exitErrors, "its folder with what the unit was built from is gone", "write", "d.yaml")
}
