package proof

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// snapshotKinds are the kinds of reference in a snapshot: texts that are shown for some units.
// What else a text names stands in its passages.
var snapshotKinds = []Kind{Section, Stop, Trouble}

// Snapshot lists what the texts of the base language say and for whom: a line for each
// caution, section, stop and trouble entry with its condition; then, text by
// text and in order, a line for each passage with its own condition.
// Compared with the texts later, it shows what has changed: see [Subject].
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
	for i := range t.Passages {
		if p := &t.Passages[i]; p.inSnapshot() {
			lines = append(lines, p.In+says+p.snapshot())
		}
	}
	return lines
}

// says separates the name of a text from one of its passages.
const says = " says, "

func (p *Passage) inSnapshot() bool {
	return p.Lang == base && (p.When != "" || p.Said != "" || strings.HasPrefix(p.Kind, "```") || strings.HasPrefix(p.Kind, "home"))
}

// snapshot returns the line of a passage, without the name of its text.
func (p *Passage) snapshot() string {
	line := p.Kind
	if p.When != "" {
		line += " when " + p.When
	}
	if p.Said != "" {
		line += ": " + p.Said
	}
	return line
}

// PlainWords returns the words of a text as they are compared: in small letters, without the signs
// around them.
func PlainWords(text string) []string {
	words := strings.Fields(strings.ToLower(text))
	for i, word := range words {
		words[i] = strings.Trim(word, ".,:;*()“”")
	}
	return words
}

// snapshot returns the line of a reference.
func (r *Reference) snapshot() string {
	line := fmt.Sprintf("%s: %s %s", r.In, r.Kind, r.Name)
	if !r.When.Always() {
		line += " when " + r.When.String()
	}
	return line
}

// kept is one passage in a snapshot.
type kept struct {
	words []string // as they are compared
	shown string
	at    source.Pos
}

func keep(line string, at source.Pos) kept { return kept{PlainWords(line), line, at} }

// changes checks that the texts still say all that a snapshot lists, in its words and order, and
// nothing between: a word more or less can turn a step round.
func (t *Texts) changes(snapshot source.File) (out []outcome) {
	there, places, now := map[string]int{}, map[string]source.Pos{}, map[string][]kept{}
	for _, line := range t.Snapshot() {
		there[line]++
	}
	for i := range t.Passages {
		p := &t.Passages[i]
		if _, met := places[p.In]; !met && p.Lang == base {
			places[p.In] = p.At
		}
		if p.inSnapshot() {
			now[p.In] = append(now[p.In], keep(p.snapshot(), p.At))
		}
	}
	said := func(in string, held bool, at source.Pos, format string, args ...any) {
		o := outcome{code: codeLost, at: at, held: held, what: fmt.Sprintf(format, args...),
			hint: "read it as an owner would; ownerguide prove --snapshot > " + snapshot.Shown() + " accepts it"}
		if place, is := places[in]; is && !held && place.File != at.File {
			o.related = []source.Related{{Pos: place, Message: "the text"}}
		}
		out = append(out, o)
	}
	was := map[string][]kept{}
	for i, line := range strings.Split(string(source.Text(snapshot.Data)), "\n") {
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		at := source.Pos{File: snapshot.Shown(), Line: i + 1, Column: 1}
		if in, passage, is := strings.Cut(line, says); is {
			was[in] = append(was[in], keep(passage, at))
			continue
		}
		there[line]--
		in, _, _ := strings.Cut(line, ": ")
		said(in, there[line] >= 0, at, "the texts no longer say %q", line)
	}
	for _, in := range slices.Sorted(maps.Keys(was)) {
		for _, c := range aligned(was[in], now[in]) {
			switch from, to := c[0], c[1]; {
			case to == nil:
				said(in, false, from.at, "%s no longer says %q", in, from.shown)
			case from == nil:
				said(in, false, to.at, "%s says more than it did: %q", in, to.shown)
			default:
				before, after := apart(from.shown, to.shown)
				said(in, slices.Equal(from.words, to.words), to.at, "%s says %q where it said %q", in, after, before)
			}
		}
	}
	return out
}

// aligned pairs the passages of a text with those it had: equal ones along a longest common
// sequence, and what changed between two of them in order. What is nil has no partner.
func aligned(was, now []kept) (pairs [][2]*kept) {
	same := func(i, j int) bool { return slices.Equal(was[i].words, now[j].words) }
	common := make([][]int, len(was)+1) // length of the sequence from i and j on
	for i := len(was); i >= 0; i-- {
		common[i] = make([]int, len(now)+1)
		for j := len(now) - 1; j >= 0 && i < len(was); j-- {
			if common[i][j] = max(common[i+1][j], common[i][j+1]); same(i, j) {
				common[i][j] = 1 + common[i+1][j+1]
			}
		}
	}
	var lost, added []*kept
	flush := func() {
		for k := range max(len(lost), len(added)) {
			var pair [2]*kept
			if k < len(lost) {
				pair[0] = lost[k]
			}
			if k < len(added) {
				pair[1] = added[k]
			}
			pairs = append(pairs, pair)
		}
		lost, added = nil, nil
	}
	i, j := 0, 0
	for i < len(was) || j < len(now) {
		switch {
		case i < len(was) && j < len(now) && same(i, j):
			flush()
			pairs = append(pairs, [2]*kept{&was[i], &now[j]})
			i, j = i+1, j+1
		case j == len(now) || i < len(was) && common[i+1][j] >= common[i][j+1]:
			lost, i = append(lost, &was[i]), i+1
		default:
			added, j = append(added, &now[j]), j+1
		}
	}
	flush()
	return pairs
}

// apart returns two texts from just before the first word in which they differ to just behind the last.
func apart(before, after string) (string, string) {
	const around = 3
	a, b := strings.Fields(before), strings.Fields(after)
	head, tail := 0, 0
	for head < min(len(a), len(b)) && a[head] == b[head] {
		head++
	}
	for tail < min(len(a), len(b))-head && a[len(a)-1-tail] == b[len(b)-1-tail] {
		tail++
	}
	cut := func(words []string) string {
		from, to := max(0, head-around), min(len(words), len(words)-tail+around)
		text := strings.Join(words[from:to], " ")
		if from > 0 {
			text = "… " + text
		}
		if to < len(words) {
			text += " …"
		}
		return text
	}
	return cut(a), cut(b)
}
