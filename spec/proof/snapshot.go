package proof

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"ownerguide/spec/source"
)

// snapshotKinds are the kinds of reference in a snapshot: what an owner reads about safety.
// Words, labels and links are checked elsewhere.
var snapshotKinds = []Kind{Value, Panel, Safety, Drawing, Section, Stop, Jobs, Job, Task, Trouble, Statement, Schedule}

// Snapshot lists what the texts of the base language say and for whom: a line for each
// caution, figure, picture, section and job in each text, with its condition, and a line
// for each condition on text. It has lines for the number of steps and points of each
// text, the number of ways to avoid each hazard, and the number of passages that forbid
// something; and for each text a line with the watched words, numbers, figures and
// cautions in order. Compared with the texts later, it shows what has been lost: see
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

// inOrder separates the name of a text from its ordered items.
const inOrder = ": in order "

// outOfOrder returns the first element of list that breaks the order of longer, of which list should
// be a subsequence; "" if there is none.
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

// counted splits a line of a snapshot into its content and its count.
func counted(line string) (what string, times int) {
	what, after, found := strings.Cut(line, " × ")
	if n, err := strconv.Atoi(after); found && err == nil {
		return what, n
	}
	return line, 1
}

// snapshot returns the line of a reference.
func (r *Reference) snapshot() string {
	line := fmt.Sprintf("%s: %s %s", r.In, r.Kind, r.Name)
	if !r.When.Always() {
		line += " when " + r.When.String()
	}
	return line
}

// missingLines checks, for each line of a snapshot, that the texts still say it, at least as often.
func (t *Texts) missingLines(snapshot source.File) (out []outcome) {
	there := map[string]int{}
	for _, line := range t.Snapshot() {
		what, times := counted(line)
		there[what] += times
	}
	places := map[string]source.Pos{} // of texts: the first position in each
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
