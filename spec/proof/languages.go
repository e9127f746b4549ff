package proof

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// base is the language every other one is held against.
const base = "en"

// Languages gives what a translation of line or templates lacks, each at its place.
func Languages(l *product.Line, t *Texts) []Failure {
	_, failures := join([][]outcome{languages(l, t)})
	return failures
}

// languages settles that every language has words for the same things, and says
// the same with them: the same blocks under the same conditions, that name the
// same figures and forbid the same.
func languages(l *product.Line, t *Texts) (out []outcome) {
	out = append(sameIDs(t.Words), sameIDs(lineWords(l))...)
	texts := map[string]map[string][]*Passage{} // by language and text
	for i := range t.Passages {
		p := &t.Passages[i]
		if texts[p.Lang] == nil {
			texts[p.Lang] = map[string][]*Passage{}
		}
		texts[p.Lang][p.In] = append(texts[p.Lang][p.In], p)
	}
	for _, lang := range slices.Sorted(maps.Keys(texts)) {
		if lang == base {
			continue
		}
		for _, in := range slices.Sorted(maps.Keys(texts[base])) {
			if ours := texts[lang][in]; len(ours) > 0 { // that there are words is settled above
				out = append(out, sameText(t, texts[base][in], ours)...)
			}
		}
	}
	return out
}

// sameText settles that a translation says what the base does.
func sameText(t *Texts, base, ours []*Passage) (out []outcome) {
	for i, b := range base {
		o := outcome{code: codeLanguage, held: true, what: "what " + b.In + " says in " + ours[0].Lang, related: []source.Related{{Pos: b.At, Message: "what is translated"}}}
		if i >= len(ours) {
			last := ours[len(ours)-1]
			o.at, o.held, o.what = last.At, false, fmt.Sprintf("%s ends before its last %s in %s: %d of %d parts are there", b.In, b.Kind, last.Lang, len(ours), len(base))
			return append(out, o)
		}
		p := ours[i]
		o.at = p.At
		if what, apart := b.apart(p); apart {
			o.held, o.what = false, fmt.Sprintf("%s: %s", b.In, what)
			return append(out, o) // what follows has lost its partner
		}
		for _, what := range b.lost(p, t.Never) {
			o.held, o.what = false, fmt.Sprintf("%s: %s", b.In, what)
			out = append(out, o)
		}
		if o.held {
			out = append(out, o)
		}
	}
	if len(ours) > len(base) {
		p := ours[len(base)]
		out = append(out, outcome{code: codeLanguage, at: p.At, what: fmt.Sprintf("%s: this %s stands in %s and not in %s", p.In, p.Kind, p.Lang, base[0].Lang)})
	}
	return out
}

// apart tells whether two passages are not the same part of a text.
func (b *Passage) apart(p *Passage) (what string, apart bool) {
	switch {
	case b.Kind != p.Kind:
		return fmt.Sprintf("a %s stands in %s where %s has a %s", p.Kind, p.Lang, b.Lang, b.Kind), true
	case b.When == p.When:
		return "", false
	case p.When == "":
		return fmt.Sprintf("the condition {?%s} of this %s is lost in %s", b.When, b.Kind, p.Lang), true
	case b.When == "":
		return fmt.Sprintf("the condition {?%s} of this %s stands in %s alone", p.When, p.Kind, p.Lang), true
	}
	return fmt.Sprintf("the condition of this %s is {?%s} in %s and {?%s} in %s", b.Kind, b.When, b.Lang, p.When, p.Lang), true
}

var typedFigure = source.Pattern(`[0-9]+`)

// lost tells what a translation of a passage leaves out or adds.
func (b *Passage) lost(p *Passage, never map[string][]string) (list []string) {
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	for _, name := range without(b.Names, p.Names) {
		say("%s stands in %s and not in %s", name, b.Lang, p.Lang)
	}
	for _, name := range without(p.Names, b.Names) {
		say("%s stands in %s and not in %s", name, p.Lang, b.Lang)
	}
	figures, ours := typedFigure().FindAllString(b.Words, -1), typedFigure().FindAllString(p.Words, -1)
	for _, figure := range without(figures, ours) {
		say("the figure %s stands in %s and not in %s", figure, b.Lang, p.Lang)
	}
	for _, figure := range without(ours, figures) {
		say("the figure %s stands in %s and not in %s", figure, p.Lang, b.Lang)
	}
	words, translated := wordsOf(b.Words), wordsOf(p.Words)
	if has(words, never[b.Lang]) && !has(translated, never[p.Lang]) {
		say("%s says %q, and %s has none of: %s", b.Lang, strings.Join(never[b.Lang], ", "), p.Lang, strings.Join(never[p.Lang], ", "))
	}
	if len(words) >= copied && slices.Equal(words, translated) {
		say("%q is not translated", p.Words)
	}
	return list
}

// copied is the number of words from which on a text that is the same in two
// languages was not translated: shorter ones can be names, or the same by chance.
const copied = 3

func has(words, any []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(any, w) })
}

// wordsOf gives the words of a text in small letters, single letters left out.
func wordsOf(text string) []string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '’' })
	return slices.DeleteFunc(words, func(w string) bool { return len([]rune(w)) < 2 })
}

// without gives what stands in a list more often than in another.
func without(list, other []string) (more []string) {
	left := slices.Clone(other)
	for _, x := range list {
		if i := slices.Index(left, x); i >= 0 {
			left = slices.Delete(left, i, i+1)
		} else {
			more = append(more, x)
		}
	}
	return more
}

// sameIDs settles that every language has words for what the base language has,
// and for nothing else.
func sameIDs(words []Words) (out []outcome) {
	kinds, first := sets(words)
	for _, lang := range slices.Sorted(maps.Keys(kinds)) {
		if lang == base {
			continue
		}
		for _, pair := range [][2]string{{base, lang}, {lang, base}} {
			for _, id := range slices.Sorted(maps.Keys(kinds[pair[0]])) {
				out = append(out, outcome{code: codeLanguage, at: first[pair[0]+" "+id], held: kinds[pair[1]][id],
					what: id + " has words in " + pair[0] + " and none in " + pair[1]})
			}
		}
	}
	return out
}

// sets gives the ids of each language, and where each stands.
func sets(words []Words) (kinds map[string]map[string]bool, first map[string]source.Pos) {
	kinds, first = map[string]map[string]bool{}, map[string]source.Pos{}
	for _, w := range words {
		if kinds[w.Lang] == nil {
			kinds[w.Lang] = map[string]bool{}
		}
		id := w.Kind + " " + w.ID
		kinds[w.Lang][id] = true
		first[w.Lang+" "+id] = w.At
	}
	return kinds, first
}

// lineWords lists the words of a line.
func lineWords(l *product.Line) (list []Words) {
	for _, lang := range slices.Sorted(maps.Keys(l.Texts)) {
		t := l.Texts[lang]
		list = append(list, ids(lang, "model", t.Models)...)
		list = append(list, ids(lang, "option", t.Options)...)
		list = append(list, ids(lang, "component", t.Components)...)
		list = append(list, ids(lang, "reason", t.Because)...)
		list = append(list, ids(lang, "material", t.Materials)...)
	}
	return list
}

func ids[T any](lang, kind string, entries source.Map[T]) (list []Words) {
	for _, e := range entries {
		list = append(list, Words{lang, kind, e.Key, e.KeyAt})
	}
	return list
}
