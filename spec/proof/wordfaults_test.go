package proof_test

import (
	"strings"
	"testing"

	"ownerguide/render"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

// wordFaults are one of each kind of slip that whoever rewrites a text makes. The writer
// is told of each by the proof.
var wordFaults = []struct{ what, file, from, to string }{
	{"minutes for hours", "en/tasks/breakaway-charge.md", "for an hour", "for a minute"},
	{"a not dropped from a hazard", "en/cautions.yaml", "A load that is not tied down moves when", "A load that is tied down moves when"},
	{"a no dropped from a sentence", "en/sections/set-body-prop.md", "is no prop", "is a prop"},
	{"a never dropped in the middle", "en/tasks/harness.md", "never to a part that moves", "to a part that moves"},
	{"a step before its caution", "en/sections/manual-lowering.md", "```caution fluid-injection\n```\n\n### The pump will not stop\n\n1. {?master-disconnect} Turn the master disconnect off.\n", "### The pump will not stop\n\n1. {?master-disconnect} Turn the master disconnect off.\n\n```caution fluid-injection\n```\n\n"},
	{"the pressure of the tires for the spare", "en/tasks/spare-check.md", "{spare.cold_pressure}", "{tires.cold_pressure}"},
	{"the two ends of a range swapped", "en/sections/weigh-coupler.md", "{hitch.tongue_range.full.low} and {hitch.tongue_range.full.high}", "{hitch.tongue_range.full.high} and {hitch.tongue_range.full.low}"},
	{"a condition of plain words turned round", "en/sections/set-body-prop.md", "{?hydraulics} A jack, a block", "{?not hydraulics} A jack, a block"},
	{"a caution taken off a job", "en/tasks/spare-check.md", "```caution heavy-spare\n```\n\n", ""},
	{"heavy for light", "en/sections/weigh-coupler.md", "Too light, the trailer sways: move the load", "Too heavy, the trailer sways: move the load"},
	{"plugged for unplugged", "en/sections/test-breakaway.md", "Unplug", "Plug in"},
	{"the other clamp of the battery", "en/tasks/battery-terminals.md", "ground", "positive"},
	{"work for a trained person given to anybody", "en/tasks/harness.md", " is for a trained person", " is for you"},
	{"a leave put into what must never be done", "en/cautions.yaml", "Never go under a deck that only fluid", "Never go far under a deck that only fluid"},
	{"an unless", "en/cautions.yaml", "Never speed up to stop a swing.", "Never speed up to stop a swing, unless the road is straight."},
	{"a may for a must", "en/sections/change-wheel.md", "Ring and nuts must sit", "Ring and nuts may sit"},
	{"an about", "en/sections/change-wheel.md", "then to {wheels.torque}", "then to about {wheels.torque}"},
	{"under for beside", "en/sections/change-wheel.md", "Set the stand under the frame beside the jack", "Set the stand beside the frame under the jack"},
	{"most of the nuts", "en/sections/change-wheel.md", "Turn every nut on by hand", "Turn most nuts on by hand"},
	{"a step that lets off", "en/sections/change-wheel.md", "5. Loosen each lug nut", "5. In a hurry, leave out the stand.\n5. Loosen each lug nut"},
	{"a sentence behind a point", "en/sections/stop-winch.md", "Slips: do not pull.", "Slips: do not pull. A light load is all right."},
	{"two steps in the wrong order", "en/sections/change-wheel.md", "Take the nuts off and keep them clean.\n", "Take the wheel off first.\n"},
	{"what helps for what harms", "en/sections/emergency.md", "shuffle away and touch nothing", "step away and touch nothing"},
	{"a trouble that may wait", "en/trouble.yaml", "Do not drive on until all are cool", "Drive on slowly until all are cool"},
	{"the walk-around on the card alone", "outline.yaml", "card: also", "card: only"},
	{"another unit behind each pressure", "en/labels.yaml", "unit.psi: \"{n} psi\"", "unit.psi: \"{n} bar\""},
	{"a law that asks for less", "statements/load-limit-trailer.yaml", "should never exceed", "should not often exceed"},
}

// told returns what the snapshot says of the embedded words with one file changed.
func told(t *testing.T, file, from, to string) source.Findings {
	t.Helper()
	files := testenv.Files(templates.Files)
	text := string(files[file].Data)
	if !strings.Contains(text, from) {
		t.Fatalf("%s does not hold %q", file, from)
	}
	ts, findings := render.LoadTemplates(source.Layer{Name: "templates", Files: changed(files, map[string]string{file: strings.Replace(text, from, to, 1)})})
	if findings.HasErrors() {
		return findings
	}
	return proof.Changes(ts.Texts(), ts.Snapshot())
}

func TestFaultsInWordsAreTold(t *testing.T) {
	for _, w := range testenv.Sample(t, wordFaults, 8) {
		if len(told(t, w.file, w.from, w.to)) == 0 {
			t.Errorf("%s passes", w.what)
		}
	}
}

// A change is told where it stands, with the words that differ and how to accept it. Signs and
// capitals are the writer's own.
func TestChangedWordsAreToldWhereTheyStand(t *testing.T) {
	got := written(told(t, "en/sections/change-wheel.md", "Turn every nut on by hand", "Turn most nuts on by hand"))
	for _, want := range []string{"templates/en/sections/change-wheel.md:", `says "paragraph: Turn most nuts on by hand …" where it said "paragraph: Turn every nut on by hand …"`, "prove --snapshot > templates/snapshot.txt accepts it"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in:\n%s", want, got)
		}
	}
	if got := told(t, "en/sections/change-wheel.md", "Take the wheel off. Roll it, do not carry it.", "Take the wheel off: roll it; do **not** carry it."); len(got) > 0 {
		t.Error(written(got))
	}
}
