package render

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"ownerguide/templates"
)

// safeOrder says of a step what has to stand in the same text before it: in an
// earlier line, or earlier in the same one. A panel counts by its block.
var safeOrder = []struct {
	step, before *regexp.Regexp
	why          string
}{
	{regexp.MustCompile(`\bLift (the|one) wheel\b`), regexp.MustCompile(`\b[Cc]hock`), "a trailer without chocks rolls off its jack"},
	{regexp.MustCompile(`\bTake the stand away\b`), regexp.MustCompile(`(Lift the trailer off the stand|until the stand is free)`), "a stand under load cannot be taken away, only knocked out"},
	{regexp.MustCompile(`\bPull the pin (straight )?out\b|\bPull the pin\. Start`), regexp.MustCompile(`\bUnplug\b`), "with the plug in, the test ruins the brake controller"},
	{regexp.MustCompile(`\bEase (the tow vehicle )?forward\b`), regexp.MustCompile(`hand's width free ahead`), "chocks that touch hold the trailer, and the test shows nothing"},
	{regexp.MustCompile(`\bUncouple\b`), regexp.MustCompile(`(caution unit-rolls-away|\bChock the wheels\b)`), "a trailer without chocks rolls"},
	{regexp.MustCompile(`\bPull the chocks\b`), regexp.MustCompile(`(?i)(\bparking brake|lower the box all the way)`), "nothing else then holds the trailer"},
	{regexp.MustCompile(`\[Set the body prop\]`), regexp.MustCompile(`caution crush-under-(deck|box)`), "who sets the prop has to know what it holds up"},
	{regexp.MustCompile(`^Take the ground cable off first`), regexp.MustCompile(`(?i)(unplug|master disconnect)`), "a charger or a load draws a spark at the post"},
	{regexp.MustCompile(`(^|\. |\band )[Oo]pen the latch\b`), regexp.MustCompile(`(caution (gravity-deck-falls|crush-under-deck|pinch-points|hand-under-coupler)|\bfoot presses\b)`), "what the latch holds moves"},
	{regexp.MustCompile(`\bTake the wheel off\b`), regexp.MustCompile(`caution heavy-spare`), "a wheel falls on the feet"},
	{regexp.MustCompile(`\bSlacken the rope and unhook\b`), regexp.MustCompile(`\[Tie it down\]`), "the load rolls back"},
	{regexp.MustCompile(`^\[Tie it down\]\(#tie-down\)\. The winch`), regexp.MustCompile(`\[Bring the deck down\]`), "a winched load is tied to a deck that is down"},
	{regexp.MustCompile(`^Stow the ramp`), regexp.MustCompile(`\[Tie it down\]`), "who lifts a ramp stands behind a load that nothing holds"},
	{regexp.MustCompile(`\bRelease the gate latches\b`), regexp.MustCompile(`raise the stabilizers`), "the legs stand where the gate swings"},
	{regexp.MustCompile(`\bchock again\b`), regexp.MustCompile(`Set the parking brake`), "nobody bends down to a wheel that no brake holds"},
	{regexp.MustCompile(`\bTighten with binders\b`), regexp.MustCompile(`Stand to the side of a lever binder`), "the handle of a binder flies back"},
	{regexp.MustCompile(`\bDrive the machine up\b`), regexp.MustCompile(`(master disconnect off|[Oo]pen the latch)`), "a control that is pressed by chance moves the deck under the machine"},
	{regexp.MustCompile(`^(Put|Take) the hand control .*\. Drive off`), regexp.MustCompile(`(?s)raise the stabilizers.*Pull the chocks`), "legs that are down bend and tear off"},
	{regexp.MustCompile(`\bTake the spare off its mount\b`), regexp.MustCompile(`caution heavy-spare`), "the spare falls on the feet"},
	{regexp.MustCompile(`^Climb up\b`), regexp.MustCompile(`caution fall-from-deck`), "who climbs up can fall"},
	{regexp.MustCompile(`\b[Pp]ull the chock\b`), regexp.MustCompile(`With nobody on the tongue`), "who stands on the tongue falls between the vehicles"},
	{regexp.MustCompile(`\b[Pp]ull forward gently\b`), regexp.MustCompile(`With everyone clear`), "a coupling that lets go drops on whoever looks on"},
	{regexp.MustCompile(`\bOpen the lowering valve\b`), regexp.MustCompile(`Keep everyone out of the marked zone`), "what comes down crushes"},
	{regexp.MustCompile(`\bPress the button that tilts\b|\bPress up\b`), regexp.MustCompile(`caution deck-drops-hose`), "the raised part can fall"},
}

// heldByPeople is a step in which people hold up what would fall. A line, a ramp or a coupling
// in the hands is not meant.
var heldByPeople = regexp.MustCompile(`(?i)\b(person|helper|somebody|someone)\b[^.]*\bholds? (it|the (tail|deck|box|bed|gate|prop|jack))\b`)

var numbered = regexp.MustCompile(`^\d+\. (\{\?[^}]*\} )*`)

// TestStepsStandInSafeOrder reads the texts as they are written, so that a step
// that is moved or a panel that is lost is told with its line.
func TestStepsStandInSafeOrder(t *testing.T) {
	used := make([]int, len(safeOrder))
	for _, folder := range []string{"en/sections", "en/tasks"} {
		files, err := fs.Glob(templates.Files, folder+"/*.md")
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", folder, len(files), err)
		}
		for _, name := range files {
			data, err := fs.ReadFile(templates.Files, name)
			if err != nil {
				t.Fatal(err)
			}
			lines := strings.Split(string(data), "\n")
			for i, line := range lines {
				head := numbered.FindString(line)
				if head == "" {
					continue
				}
				step := line[len(head):]
				if heldByPeople.MatchString(step) {
					t.Errorf("%s:%d: %q: people let go, a device does not", name, i+1, step)
				}
				for k, rule := range safeOrder {
					at := rule.step.FindStringIndex(step)
					if at == nil {
						continue
					}
					used[k]++
					if !rule.before.MatchString(strings.Join(lines[:i], "\n") + "\n" + step[:at[0]]) {
						t.Errorf("%s:%d: nothing before %q says %s: %s", name, i+1, step, rule.before, rule.why)
					}
				}
			}
		}
	}
	for k, n := range used {
		if n == 0 {
			t.Errorf("no step is like %s: take the rule away or mend it", safeOrder[k].step)
		}
	}
}
