package render

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"ownerguide/render/doc"
)

// longestAverage is the average length of a sentence, in words, that a guide
// stays under. Common advice for plain language is 15 to 20 words; steps and
// warnings are shorter.
const longestAverage = 16

// How easily the guides of all example sheets are read: steps and panels, which
// somebody follows with a wrench in the hand, apart from the rest. Only the
// length of sentences is a gate; the grade and the hardest sentences are for who
// edits the words.
func TestReadingEase(t *testing.T) {
	t.Parallel()
	l, ts := embedded(t)
	byKind := map[string][]sentence{}
	seen := map[string]bool{}
	for _, given := range samples(t) {
		b, vs := unit(t, l, readSheet(t, given.name, given.data))
		g, findings := ts.Assemble(b, vs, nil)
		if g == nil {
			t.Fatal(written(findings))
		}
		for _, s := range sentencesOf(g.Sections) {
			if !seen[s.kind+s.text] { // guides share most of their sentences
				seen[s.kind+s.text] = true
				byKind[s.kind] = append(byKind[s.kind], s)
			}
		}
	}
	for _, kind := range []string{"steps", "cautions", "other text"} {
		all := byKind[kind]
		if len(all) < 100 {
			t.Fatalf("%s: only %d sentences were read", kind, len(all))
		}
		words, syllables := 0, 0
		for _, s := range all {
			words += s.words
			syllables += s.syllables
		}
		average := float64(words) / float64(len(all))
		t.Logf("%s: %d sentences, %.1f words each, Flesch-Kincaid grade %.1f", kind, len(all), average, grade(words, len(all), syllables))
		slices.SortStableFunc(all, func(a, b sentence) int { return cmp.Compare(b.grade(), a.grade()) })
		all = slices.DeleteFunc(all, func(s sentence) bool { return s.words < 8 }) // a short one is easy, whatever the formula says
		for _, s := range all[:10] {
			t.Logf("  grade %.0f, %d words: %s", s.grade(), s.words, s.text)
		}
		if average >= longestAverage {
			t.Errorf("%s: a sentence has %.1f words on average; expected fewer than %d", kind, average, longestAverage)
		}
	}
}

type sentence struct {
	kind             string // steps, cautions, other text
	text             string
	words, syllables int
}

func (s sentence) grade() float64 { return grade(s.words, 1, s.syllables) }

// grade is the Flesch-Kincaid grade level: Kincaid, Fishburne, Rogers and
// Chissom, Navy Research Branch Report 8-75 (from memory).
func grade(words, sentences, syllables int) float64 {
	return 0.39*float64(words)/float64(sentences) + 11.8*float64(syllables)/float64(words) - 15.59
}

// sentencesOf reads the paragraphs of a guide, those of lists and panels
// included. Tables and prescribed texts are left out: the first are no
// sentences, the second are not ours to change.
func sentencesOf(sections []*doc.Section) (all []sentence) {
	read := func(kind string, run []doc.Inline) {
		for _, text := range split(doc.PlainText(run...)) {
			s := sentence{kind: kind, text: text}
			for word := range strings.FieldsSeq(text) {
				if strings.ContainsFunc(word, unicode.IsLetter) || strings.ContainsFunc(word, unicode.IsDigit) {
					s.words++
					s.syllables += syllables(word)
				}
			}
			if s.words > 0 {
				all = append(all, s)
			}
		}
	}
	step := map[doc.Node]bool{} // paragraphs inside steps
	eachNode(sections, func(in *doc.Section, n doc.Node) {
		if in.Role == doc.RoleStatement {
			return
		}
		switch n := n.(type) {
		case *doc.List:
			if n.Ordered {
				for inner := range doc.Walk([]doc.Node{n}) {
					step[inner] = true
				}
			}
		case *doc.Paragraph:
			if step[n] {
				read("steps", n.Inlines)
			} else {
				read("other text", n.Inlines)
			}
		case *doc.Caution:
			for _, run := range runs(n) {
				read("cautions", run)
			}
		}
	})
	return all
}

var sentenceEnd = regexp.MustCompile(`[.!?]["')]*(\s+|$)`)

// split cuts a text at ends of sentences. What is behind the last end, such as
// the name of a part in a list, is no sentence and left out.
func split(text string) (out []string) {
	for {
		end := sentenceEnd.FindStringIndex(text)
		if end == nil {
			return out
		}
		out, text = append(out, text[:end[1]]), text[end[1]:]
	}
}

var (
	vowels = regexp.MustCompile(`[aeiouy]+`)
	mute   = regexp.MustCompile(`([^aeiouyl]e|[^aeiouytd]ed|[^aeiouyscxgz]es)$`)
)

// syllables counts groups of vowels, without a mute e at the end: good for an
// average, not for every word. A figure counts as one.
func syllables(word string) int {
	word = strings.ToLower(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }))
	n := len(vowels.FindAllString(word, -1))
	if n > 1 && mute.MatchString(word) {
		n--
	}
	return max(n, 1)
}

// The count of syllables of these words is that of any dictionary; the worked
// example of the grade is ours, by hand.
func TestReadingMeasures(t *testing.T) {
	for want, words := range map[int]string{
		1: "chock wheels brake tire the bumped makes two weight 65",
		2: "trailer coupler ratchet lower tested axle pressure lever",
		3: "battery hydraulic general adjusted",
		5: "certification",
	} {
		for word := range strings.FieldsSeq(words) {
			if got := syllables(word); got != want {
				t.Errorf("%s: %d syllables, expected %d", word, got, want)
			}
		}
	}
	if got := split(`Chock it. "Stop!" Then: go; look. Ball`); len(got) != 3 {
		t.Errorf("%q", got)
	}
	// 10 words, 2 sentences, 14 syllables: 0.39*5 + 11.8*1.4 - 15.59 = 2.88
	if got := grade(10, 2, 14); got < 2.879 || got > 2.881 {
		t.Errorf("grade %v", got)
	}
}
