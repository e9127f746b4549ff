package proof_test

import (
	"strings"
	"testing"

	"ownerguide/spec/testenv"
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
}

func TestFaultsInWordsAreTold(t *testing.T) {
	testenv.Heavy(t, "settles the claims about words again and again")
	b := newBench(t)
	for _, w := range wordFaults {
		text := string(b.words[w.file].Data)
		if !strings.Contains(text, w.from) {
			t.Errorf("%s: %s does not hold %q", w.what, w.file, w.from)
			continue
		}
		if len(b.caught(fault{words: map[string]string{w.file: strings.Replace(text, w.from, w.to, 1)}})) == 0 {
			t.Errorf("%s passes", w.what)
		}
	}
}
