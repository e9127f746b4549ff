package proof

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"ownerguide/spec/source"
)

// snapshotKinds are the kinds of reference that a snapshot holds: what an owner
// reads about safety. Words, labels and links are told from elsewhere.
var snapshotKinds = []Kind{Value, Panel, Safety, Drawing, Section, Stop, Jobs, Job, Task, Trouble, Statement, Schedule}

// Snapshot lists what the texts of the base language say and for whom, a line for
// each caution, figure, picture, section and job in each text, with its condition,
// and one for each condition that words stand under. How many steps and points a
// text has, how many ways a caution tells to avoid its hazard, and how many passages
// of each forbid something, is one line each; and one line for each text has the words
// that say what to do with a danger, the numbers, figures and cautions in their order.
// Kept beside the words, it tells later what has dropped out of them: see
// [Subject].
func (t *Texts) Snapshot() (lines []string) {
	for _, c := range t.Cautions {
		line := "caution " + c.ID + ", " + c.Word
		if c.Grave {
			line += ", grave"
		}
		if !c.When.Always() {
			line += " when " + c.When.String()
		}
		lines = append(lines, line)
	}
	for i := range t.References {
		if r := &t.References[i]; r.Lang == base && slices.Contains(snapshotKinds, r.Kind) {
			lines = append(lines, r.snapshot())
		}
	}
	for _, g := range t.Gates {
		if g.In != "" && g.Lang == base {
			lines = append(lines, fmt.Sprintf("%s: words when %s", g.In, g.Where.And(g.Own)))
		}
	}
	for _, counts := range []struct {
		what string
		of   map[string]int
	}{{"item", t.Items}, {"forbids", t.Forbids}} {
		for _, in := range slices.Sorted(maps.Keys(counts.of)) {
			lines = append(lines, fmt.Sprintf("%s: %s × %d", in, counts.what, counts.of[in]))
		}
	}
	for _, in := range slices.Sorted(maps.Keys(t.Order)) {
		lines = append(lines, in+inOrder+strings.Join(t.Order[in], " "))
	}
	return lines
}

// inOrder parts the name of a text from what follows each other in it.
const inOrder = ": in order "

// outOfOrder gives the first of a list that does not follow, in its place, in another one that
// may have more between them; "" where all do.
func outOfOrder(list, longer []string) string {
	for _, word := range list {
		i := slices.Index(longer, word)
		if i < 0 {
			return word
		}
		longer = longer[i+1:]
	}
	return ""
}

// counted takes a line of a snapshot apart: what it says, and how often.
func counted(line string) (what string, times int) {
	what, after, found := strings.Cut(line, " × ")
	if n, err := strconv.Atoi(after); found && err == nil {
		return what, n
	}
	return line, 1
}

// snapshot is the line of a reference.
func (r *Reference) snapshot() string {
	line := fmt.Sprintf("%s: %s %s", r.In, r.Kind, r.Name)
	if !r.When.Always() {
		line += " when " + r.When.String()
	}
	return line
}

// lost tells for each line of a snapshot whether the texts still say it, as often as then.
func (t *Texts) lost(snapshot source.File) (out []outcome) {
	there := map[string]int{}
	for _, line := range t.Snapshot() {
		what, times := counted(line)
		there[what] += times
	}
	places := map[string]source.Pos{} // of texts, the first of each
	for _, r := range t.References {
		if _, met := places[r.In]; !met && r.Lang == base {
			places[r.In] = r.At
		}
	}
	for i, line := range strings.Split(string(source.Text(snapshot.Data)), "\n") {
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		o := outcome{code: codeLost, at: source.Pos{File: snapshot.Shown(), Line: i + 1, Column: 1},
			hint: "if the change is meant: ownerguide prove --snapshot > new.txt, read what differs, and put it in the place of snapshot.txt"}
		in, words, ordered := strings.Cut(line, inOrder)
		if ordered {
			word := outOfOrder(strings.Fields(words), t.Order[in])
			o.held, o.what = word == "", fmt.Sprintf("%s no longer says %q where it did, in this order: %s", in, word, words)
		} else {
			what, times := counted(line)
			there[what] -= times
			o.held, o.what = there[what] >= 0, fmt.Sprintf("the texts no longer say %q", line)
			in, _, _ = strings.Cut(line, ": ")
		}
		if at, is := places[in]; is && !o.held {
			o.related = []source.Related{{Pos: at, Message: "the text"}}
		}
		out = append(out, o)
	}
	return out
}
