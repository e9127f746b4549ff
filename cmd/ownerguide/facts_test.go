package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// A delivered unit keeps to the line that it was built from: a change of the line
// comes into its guide only with a word from the person who writes.
func TestFactsOfDelivery(t *testing.T) {
	ownProject(t)
	const unit = "out/QM-0001"
	sheet := strings.Replace(readText(t, ownSheet), "revision: A\n", "delivered: 2026-09-20\nrevision: A\n", 1)
	later := strings.Replace(strings.Replace(sheet, "revision: A", "revision: B", 1), "issued: 2026-09-18", "issued: 2026-11-02", 1)
	run := func(want int, says string, args ...string) string { t.Helper(); return runs(t, want, says, args...) }
	edit := func(name, old, new string) {
		t.Helper()
		replaceText(t, name, old, new)
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

// A longer model has its facts in five files: the model it extends, the shared options,
// the deck. A change of any of them stays out of a unit that was delivered.
func TestFactsOfDeliveryOfALength(t *testing.T) {
	testenv.Heavy(t, "proves a line twice")
	ownProject(t)
	for _, model := range []string{"box-24", "field-50"} { // field-50 differs in component and weight
		replaceText(t, "line/models/"+model+".yaml", "  spare:\n", "  spare:\n    extends: spare\n")
	}
	replaceText(t, "line/models/box-24.yaml", "    weighs: 26 kg\n", "")
	replaceText(t, "line/models/box-24.yaml", "spare: { use: spare-front, at", "spare: { at")
	must(t, os.MkdirAll("line/options", 0o777))
	writeText(t, "line/options/common.yaml", "spare:\n  weighs: 26 kg\n  parts:\n    spare: { use: spare-front }\n  source: invented\n")
	writeText(t, "line/models/box-30.yaml", "extends: box-24\nvin_code: BX301\nlonger: { by: 600 mm, behind: 2000 mm, empty_weight: 560 kg, coupler_weight: 66 kg, use: { floor-box: floor-box-30, floor-box-steel: steel-30 } }\n")
	writeText(t, "line/components/long.yaml", "decks:\n  floor-box-30: { extends: floor-box, part_number: QM-D-030, fixed: 3000 mm }\n  steel-30: { extends: floor-box-steel, part_number: QM-D-031, fixed: 3000 mm }\n")
	replaceText(t, "line/line.yaml", "  - box-24\n", "  - box-24\n  - box-30\n")
	replaceText(t, "line/text/en.yaml", "models:\n", "models:\n  box-30: { name: Box 30, summary: The Box with a longer floor. }\n")
	runs(t, exitClean, "box-30: 36 builds, figures of 36\n", "prove")

	const unit = "out/QM-0030"
	sheet := strings.NewReplacer("QM-0001", "QM-0030", "1Y9BX2419VM998001", "1Y9BX3010VM998030", "box-24", "box-30",
		"revision: A", "delivered: 2026-09-20\nrevision: A\noptions: [tall-sides]").Replace(readText(t, ownSheet))
	writeText(t, "a.yaml", sheet)
	runs(t, exitClean, "written "+unit, "write", "a.yaml")
	was := readText(t, unit+"/guide.html")

	replaceText(t, "line/options/common.yaml", "26 kg", "29 kg")
	replaceText(t, "line/models/box-24.yaml", "at: { x: 2730 mm,", "at: { x: 2740 mm,") // the axle
	replaceText(t, "line/models/box-30.yaml", "by: 600 mm", "by: 650 mm")
	replaceText(t, "line/models/box-30.yaml", "empty_weight: 560 kg", "empty_weight: 550 kg")
	replaceText(t, "line/components/long.yaml", "fixed: 3000 mm", "fixed: 3050 mm")
	replaceText(t, "line/line.yaml", `version: "1"`, `version: "2"`)
	runs(t, exitClean, "box-30: 36 builds, figures of 36\n", "prove")
	runs(t, exitClean, "from version 1 to 2; the guide keeps to the line of the delivery [line-since]", "write", "--force", "a.yaml")
	if readText(t, unit+"/guide.html") != was {
		t.Error("the same sheet gives another guide after the line has changed")
	}
	runs(t, exitErrors, "would now read differently", "write", "--with-line-changes", "a.yaml")

	// A later revision has the spare of the delivery, on the length of the delivery.
	writeText(t, "b.yaml", strings.NewReplacer("revision: A", "revision: B", "issued: 2026-09-18", "issued: 2026-11-02").Replace(sheet)+"added: [ { option: spare, date: 2026-11-01 } ]\n")
	changed := []string{"spare.weighs is now counted: 29 kg", "2740 mm + 650 mm", "longer.empty_weight: 560 kg → 550 kg", "decks.floor-box-30.fixed: 3000 mm → 3050 mm"}
	kept, now := runs(t, exitClean, "spare.weighs is now counted: 26 kg", "compare", unit, "b.yaml"), runs(t, exitClean, "", "compare", "--with-line-changes", unit, "b.yaml")
	for _, c := range changed {
		if strings.Contains(kept, c) || !strings.Contains(now, c) {
			t.Errorf("%q: with the line of the delivery\n%s\nwith the line in use\n%s", c, kept, now)
		}
	}
	runs(t, exitClean, "written", "write", "b.yaml")
	runs(t, exitClean, "1 whole, 0 not made again", "verify")
}

// runs runs the program, which must end with a code and say something, and returns its
// standard output.
func runs(t *testing.T, want int, says string, args ...string) string {
	t.Helper()
	code, stdout, stderr := program(t, args...)
	if code != want || !strings.Contains(stdout+stderr, says) {
		t.Fatalf("%v: exit code %d, expected %d and %q in\n%s%s", args, code, want, says, stdout, stderr)
	}
	return stdout
}

// replaceText replaces the first of a text in a file, which must be there.
func replaceText(t *testing.T, name, old, new string) {
	t.Helper()
	text := readText(t, name)
	if !strings.Contains(text, old) {
		t.Fatalf("%s has no %q", name, old)
	}
	writeText(t, name, strings.Replace(text, old, new, 1))
}
