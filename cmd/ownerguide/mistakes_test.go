package main

import (
	"bytes"
	"os"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// Slips a person makes in a line and templates of their own are told like those
// of a sheet: at file, line and column, with the name that was most likely meant.
func TestMistakesInALineOfOnesOwn(t *testing.T) {
	t.Chdir(t.TempDir())
	ownFiles(t, "own")
	const model, words, stop = "own/line/models/tilt-20.yaml", "own/line/text/en.yaml", "own/templates/en/sections/stop-breakaway.md"
	slips := []struct {
		name, file, old, new string
		want, hint           string // what is printed of it, and for what to do
	}{
		{"key", "own/line/line.yaml", "\nphone:", "\nphnoe:", `unknown key "phnoe"`, `did you mean "phone"?`},
		{"model without a file", "own/line/line.yaml", "- car-20", "- car-21", `model "car-21" has no file models/car-21.yaml`, `did you mean "car-20"?`},
		{"unit", model, "gvwr: 15400 lb", "gvwr: 15400", `gvwr is "15400": the unit is missing`, ""},
		{"component", model, "use: axle-70,", "use: axle-7,", `component "axle-7" is not known here`, `did you mean "axle-70"?`},
		{"option in a rule", "own/line/options/common.yaml", "option: front-box", "option: frontbox", `option "frontbox" is not known here`, `did you mean "front-box"?`},
		{"reason", "own/line/options/common.yaml", "because: plate-on-box", "because: plate-onbox", `because "plate-onbox" has no words in text/en.yaml`, `did you mean "plate-on-box"?`},
		{"place", model, "without: [latch, cushion]", "without: [latch, cushon]", `place "cushon" is not known here`, `did you mean "cushion"?`},
		{"feature of the trade, misspelt", "own/line/components/lift.yaml", "latch-tilt: { part_number", "latch-tilt: { features: [powertilt], part_number", `nothing asks for the feature "powertilt"`, `delete it if you mean "power-tilt": a unit has that when its deck tilts and it has a lift cylinder`},
		{"feature of the trade", "own/line/components/lift.yaml", "latch-tilt: { part_number", "latch-tilt: { features: [power-tilt], part_number", `feature "power-tilt" is not written: a unit has it when its deck tilts and it has a lift cylinder`, "delete it"},
		{"what a model hauls", model, "hauls: equipment", "hauls: equipmnt", `hauls is "equipmnt": expected one of cargo, equipment, vehicles, bulk`, `did you mean "equipment"?`},
		{"indent", model, "\n  deck-lock:\n", "\n   deck-lock:\n", "this is not valid YAML here or just above", ""},
		{"task", "own/line/components/running.yaml", "repack-bearings:", "repack-bearing:", `task "repack-bearing" is not known here`, `did you mean "repack-bearings"?`},
		{"word of a closed list", "own/line/components/running.yaml", "suspension: leaf", "suspension: laef", `suspension is "laef": expected one of leaf, torsion`, `did you mean "leaf"?`},
		{"words for nothing", words, "  winch-plate: {", "  winch-plat: {", `these are words for option "winch-plat", which the line does not have`, `did you mean "winch-plate"?`},
		{"value in a text", stop, "{breakaway.battery}", "{breakaway.batery}", "nothing is called {breakaway.batery}", "did you mean {breakaway.battery}?"},
		{"feature of a section", "own/templates/outline.yaml", "when: braked", "when: brakd", `no model, option or component brings the feature "brakd"`, `did you mean "braked"?`},
		{"link", stop, "(#replace-breakaway-battery)", "(#replace-breakway-battery)", `no guide has a section "replace-breakway-battery"`, `did you mean "replace-breakaway-battery"?`},
		{"front matter", stop, "short:", "shrot:", `unknown key "shrot"`, `did you mean "short"?`},
		{"caution in a text", "own/templates/en/sections/sway.md", "```caution sway", "```caution swya", `there is no caution "swya"`, `did you mean "sway"?`},
		{"kind of block", "own/templates/en/sections/sway.md", "```caution", "```cauton", `there is no block of kind "cauton"`, `did you mean "caution"?`},
		{"signal word", "own/templates/cautions.yaml", "word: warning", "word: warnign", `expected one of danger, warning, caution, notice`, `did you mean "warning"?`},
		{"words of no caution", "own/templates/en/cautions.yaml", "\nsway:", "\nswya:", `caution "swya" is not in cautions.yaml`, `did you mean "sway"?`},
	}
	for _, c := range testenv.Sample(t, slips, 8) {
		t.Run(c.name, func(t *testing.T) {
			sound, err := os.ReadFile(c.file)
			if err != nil {
				t.Fatal(err)
			}
			before, _, found := bytes.Cut(sound, []byte(c.old))
			if !found {
				t.Fatalf("%s has no %q", c.file, c.old)
			}
			if err := os.WriteFile(c.file, bytes.Replace(sound, []byte(c.old), []byte(c.new), 1), 0o666); err != nil {
				t.Fatal(err)
			}
			defer os.WriteFile(c.file, sound, 0o666)
			_, _, stderr := program(t, "--line", "own/line", "--templates", "own/templates", "options")
			// The line of the slip: line breaks at the front of the change are only
			// there to find it.
			head := c.old[:len(c.old)-len(strings.TrimLeft(c.old, "\n"))]
			line := 1 + bytes.Count(append(before, head...), []byte("\n"))
			if !toldAt(stderr, c.file, line, c.want, c.hint) {
				t.Errorf("%s:%d with %q and %q is not in\n%s", c.file, line, c.want, c.hint, stderr)
			}
		})
	}
}

// toldAt looks for a finding at a line of a file, with a column and a hint.
func toldAt(stderr, file string, line int, message, hint string) bool {
	at := false
	for text := range strings.Lines(stderr) {
		if !strings.HasPrefix(text, " ") {
			at = standsAt(text, file, line) && strings.Contains(text, message)
			if at && hint == "" {
				return true
			}
		} else if at && strings.Contains(text, "hint: "+hint) {
			return true
		}
	}
	return false
}

// standsAt reports whether a finding stands at a line of a file and at a column.
func standsAt(text, file string, line int) bool {
	parts := strings.SplitN(text, ":", 4)
	return len(parts) == 4 && parts[0] == file && parts[1] == strconv.Itoa(line) && strings.Trim(parts[2], "0123456789") == "" && parts[2] != ""
}
