package render

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/render/doc"
)

// stepRules say what has to stand around a step in the guide of a unit that has
// these features ("a+b" means both), whatever conditions brought it there.
// order_test.go asks the same of the texts as they are written, for every unit.
var stepRules = []struct {
	when   string
	step   *regexp.Regexp
	before *regexp.Regexp // in the section, above the step or earlier in it
	after  *regexp.Regexp // in the section, below the step or later in it
	off    bool           // the master disconnect was last turned off
	why    string
}{
	{when: "body-prop+double-acting", step: regexp.MustCompile(`\bSwing (the|each) prop .*up\b`), after: regexp.MustCompile(`(hand pump.*Stop as soon as|Let go the instant)`), why: "the pump folds a prop that it presses on"},
	{when: "body-prop+master-disconnect", step: regexp.MustCompile(`\bSwing (the|each) prop\b`), off: true, why: "who presses the button lowers the deck onto an arm"},
	{when: "body-prop", step: regexp.MustCompile(`\bSwing (the|each) prop\b`), after: regexp.MustCompile(`^[^\n]*\bNo part of you goes in\b`), why: "until the prop is in its seat only fluid or a hoist holds what is above"},
	{when: "body-prop+gravity-tilt", step: regexp.MustCompile(`\bSwing (the|each) prop\b`), before: regexp.MustCompile(`\bwith the hoist\b`), why: "a person lets go"},
	{when: "body-prop+gravity-tilt", step: regexp.MustCompile(`\bsling both front corners\b`), before: regexp.MustCompile(`\bWith the latch shut\b`), after: regexp.MustCompile(`\bopen the latch\b`), why: "a deck that hangs free swings onto whoever slings it"},
	{when: "body-prop+master-disconnect+hydraulics", step: regexp.MustCompile(`\bSwing (the|each) prop\b`), after: regexp.MustCompile(`\bStep back, out of the marked zone`), why: "what moves next crushes who stands there"},
	{when: "manual-lowering+master-disconnect", step: regexp.MustCompile(`\b(Open the lowering valve|Set the valve of the)\b`), off: true, why: "a radio that sticks starts the pump"},
	{when: "winch", step: regexp.MustCompile(`\b(Take the tie-downs off|pull its chocks|Release the load's brake)\b`), before: regexp.MustCompile(`\b(Take up the slack until the winch has the weight|with the winch instead)\b`), why: "nothing else holds a load on a slope"},
	{when: "winch", step: regexp.MustCompile(`\bpull its chocks\b`), before: regexp.MustCompile(`\bStand at the side\b`), after: regexp.MustCompile(`\bPay the rope out under power\b`), why: "a load without chocks rolls as far as the rope lets it"},
	{when: "winch", step: regexp.MustCompile(`\blet the motor rest\b`), after: regexp.MustCompile(`\bchock the load from the side\b`), why: "a winch that rests carries no load"},
	{when: "winch+tilting", step: regexp.MustCompile(`^(Tilt the deck as in\b|With the rope slack, bring the tail)`), before: regexp.MustCompile(`\b(Let out slack|Lead the rope over the roller)\b`), why: "the path of the rope grows as the deck moves, and its edge is out of reach"},
	{when: "winch+tilting", step: regexp.MustCompile(`\bBring the deck down\.$`), before: regexp.MustCompile(`(?s)(Let out slack|Unhook|unhook it)`), why: "the path of the rope grows as the deck comes down"},
	{when: "winch+tilting", step: regexp.MustCompile(`(^Hook to a pull point|\bhook it to the load's pull point)`), before: regexp.MustCompile(`\bLead the rope (over the roller|as above)\b`), why: "a bare edge of the tilted deck cuts the rope"},
	{when: "gooseneck+coupler-adjustable", step: regexp.MustCompile(`\bTighten the set screws\b`), after: regexp.MustCompile(`(lb-ft|N·m|torque of the coupler's maker)`), why: "a tube whose set screws are loose knocks until its bolt breaks"},
	{when: "electric-brakes", step: regexp.MustCompile(`\bMeasure each magnet cold\b`), after: regexp.MustCompile(`\bAbove \d.*Ω`), why: "a magnet on a corroded joint passes a test that has no upper bound"},
	{when: "deep-cycle-battery+breakaway-battery+!charge-line", step: regexp.MustCompile(`\bClip it on with its power off\b`), before: regexp.MustCompile(`\bThe tow vehicle does not charge the main battery\b`), why: "who counts on the drive to charge it has no lift"},
	{when: "carrier-miles", step: regexp.MustCompile(`\bthat a delivery driver was to drive\b`), after: regexp.MustCompile(`\bdo the check before you drive off\b`), why: "checks that fell due on the way are overdue when it is handed over"},
	{step: regexp.MustCompile(`\bOne hub that is\b`), after: regexp.MustCompile(`\d.?°[FC].*hotter`), why: "much hotter says nothing to who holds a thermometer"},
	{when: "hydraulics+master-disconnect", step: regexp.MustCompile(`\bThis switch cuts all battery power\b`), after: regexp.MustCompile(`\bat the power unit, (on the (left|right)|in the middle)\b`), why: "an emergency stop that must be looked for is none"},
	{when: "over-10000-lb", step: regexp.MustCompile(`\bA class A license may be needed\b`), after: regexp.MustCompile(`\bGCWR\b.*\bthat one counts\b`), why: "the greater of the two sums makes the combination"},
	{when: "stabilizers", step: regexp.MustCompile(`(?i)chocks(\.| and) pull forward`), before: regexp.MustCompile(`(?i)\braise the stabilizers and put their pins in\b.*\n?.*$`), why: "legs that are down bend and tear off: a step elsewhere in the section is not read here"},
	{when: "stabilizers", step: regexp.MustCompile(`\bDrive off slowly and straight\. Stay below`), before: regexp.MustCompile(`\braise the stabilizers and put their pins in\b`), why: "legs that are down bend and tear off"},
	{when: "stabilizers", step: regexp.MustCompile(`(?i)chocks(\.| and) pull forward`), after: regexp.MustCompile(`(?i)\bset the stabilizers down again\b`), why: "a box is raised over legs that stand"},
	{when: "gooseneck+coupler-adjustable", step: regexp.MustCompile(`\bTake the bolt out\b`), before: regexp.MustCompile(`\bSet a floor jack under the inner tube\b`), why: "the tube drops when its bolt comes out"},
	{step: regexp.MustCompile(`\b(Set|with) (a stand|two stands|four stands|stands)\b`), after: regexp.MustCompile(`\brated (for at least|for \d+|for the weight|as said there)\b`), why: "a stand for a lighter trailer folds under it"},
	{when: "enclosed+ramp-gate", step: regexp.MustCompile(`\bGo in, let it be shut\b`), before: regexp.MustCompile(`\bnobody behind\b`), after: regexp.MustCompile(`\bit falls outward\b`), why: "a gate opened from within falls on who waits behind it"},
	{when: "gooseneck", step: regexp.MustCompile(`(^Pull the locking pin\. Open the latch|\bLook at the latch: it must be closed below)`), after: regexp.MustCompile(`\bnobody is in the bed\b.*\n.*\b(jack|Raise)\b`), why: "the neck moves next"},
	{when: "jack-hydraulic", step: regexp.MustCompile(`\bLook at each hose, fitting and leg\b`), before: regexp.MustCompile(`\bpinhole\b`), why: "who feels for a leak is pierced"},
	{when: "center-gate", step: regexp.MustCompile(`\bShut the center gate\b`), after: regexp.MustCompile(`\bfrom outside, through the openings\b`), why: "who goes in stands before the animals"},
	{when: "clamping-ring", step: regexp.MustCompile(`\bPut the outer wheel on\b`), after: regexp.MustCompile(`\bPut the clamping ring back\b`), why: "nuts without their ring do not hold two wheels"},
	{when: "d-rings", step: regexp.MustCompile(`\b[Cc]hain (each|an|every) .*attachment\b`), after: regexp.MustCompile(`(Rings left for this: \d|with a chain of its own: (it counts for \d|both together count for no more than the ring, \d))`), why: "four corners take four rings, and a fifth ring is not always there"},
	{when: "clamping-ring", step: regexp.MustCompile(`\bPull each (lug )?nut until the wrench clicks, in the order\b`), after: regexp.MustCompile(`\b[Cc]lamping ring\b`), why: "a ring that sits askew lets the nuts work loose at the right torque"},
}

var disconnectTurned = regexp.MustCompile(`master disconnect (on|off)\b`)

// stepsSought is where in a line each of stepRules finds its step. Units share most of
// their lines, so each is looked through once.
func stepsSought(line string) map[int][]int {
	if known, ok := soughtIn.Load(line); ok {
		return known.(map[int][]int)
	}
	found := map[int][]int{}
	for i, rule := range stepRules {
		if at := rule.step.FindStringIndex(line); at != nil {
			found[i] = at
		}
	}
	soughtIn.Store(line, found)
	return found
}

var soughtIn sync.Map

// stepsInOrder checks every line of a guide against the rules for its unit, and
// notes which rules it meets.
func stepsInOrder(t *testing.T, g *doc.Guide, has func(string) bool, used map[int]bool) {
	t.Helper()
	for n := range doc.Walk(g.Sections) {
		s, ok := n.(*doc.Section)
		if !ok {
			continue
		}
		var lines []string
		eachNode([]*doc.Section{s}, func(in *doc.Section, n doc.Node) {
			for _, run := range runs(n) {
				if in == s {
					lines = append(lines, doc.PlainText(run...))
				}
			}
		})
		for k, line := range lines {
			for i, at := range stepsSought(line) {
				rule := stepRules[i]
				if rule.when != "" && !holdsAll(rule.when, has) {
					continue
				}
				used[i] = true
				above := strings.Join(append(slices.Clone(lines[:k]), line[:at[0]]), "\n")
				below := strings.Join(append([]string{line[at[1]:]}, lines[k+1:]...), "\n")
				turned := disconnectTurned.FindAllStringSubmatch(above, -1)
				switch {
				case rule.before != nil && !rule.before.MatchString(above):
					t.Errorf("%s: nothing before %q says %s: %s", s.Origin, line, rule.before, rule.why)
				case rule.after != nil && !rule.after.MatchString(below):
					t.Errorf("%s: nothing after %q says %s: %s", s.Origin, line, rule.after, rule.why)
				case rule.off && (len(turned) == 0 || turned[len(turned)-1][1] != "off"):
					t.Errorf("%s: the master disconnect is on at %q: %s", s.Origin, line, rule.why)
				}
			}
		}
	}
}
