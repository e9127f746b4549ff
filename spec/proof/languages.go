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

// base is the language every other one is compared with.
const base = source.BaseLanguage

// Language returns what a translation of line and texts lacks, each with its position.
func Language(l *product.Line, t *Texts, lang string) []Failure {
	_, failures := join([][]outcome{language(l, t, lang)})
	return failures
}

// translations returns the languages that are compared with the base.
func translations(l *product.Line, t *Texts) (list []string) {
	for _, w := range slices.Concat(t.Words, lineWords(l)) {
		if w.Lang != base && !slices.Contains(list, w.Lang) {
			list = append(list, w.Lang)
		}
	}
	return list
}

// finished removes the languages that do not have all texts that the base has, and returns a note
// on each: they are in progress, and no guide is made in them.
func (s Subject) finished() (Subject, []outcome) {
	var notes []outcome
	texts := *s.Texts
	for _, lang := range translations(s.Line, s.Texts) {
		lacking := slices.DeleteFunc(wordsFor(s.Line, s.Texts, base, lang), func(o outcome) bool { return o.held })
		if len(lacking) == 0 {
			continue
		}
		notes = append(notes, outcome{code: codeUnfinished, at: lacking[0].at, what: fmt.Sprintf("no guide is made in %s yet: %d things have no words in it, this one first", lang, len(lacking))})
		texts.Words = slices.DeleteFunc(slices.Clone(texts.Words), func(w Words) bool { return w.Lang == lang })
		texts.Passages = slices.DeleteFunc(slices.Clone(texts.Passages), func(p Passage) bool { return p.Lang == lang })
		texts.References = slices.DeleteFunc(slices.Clone(texts.References), func(r Reference) bool { return r.Lang == lang })
		texts.Gates = slices.DeleteFunc(slices.Clone(texts.Gates), func(g Gate) bool { return g.Lang == lang })
	}
	s.Texts = &texts
	return s, notes
}

// language checks that a language has the same texts as the base, with the same content: the
// same blocks under the same conditions, which name the same figures and contain the same
// prohibitions.
func language(l *product.Line, t *Texts, lang string) []outcome {
	out := append(wordsFor(l, t, base, lang), wordsFor(l, t, lang, base)...)
	texts := map[string]map[string][]*Passage{base: {}, lang: {}} // by language and text
	for i := range t.Passages {
		if p := &t.Passages[i]; texts[p.Lang] != nil {
			texts[p.Lang][p.In] = append(texts[p.Lang][p.In], p)
		}
	}
	for _, in := range slices.Sorted(maps.Keys(texts[base])) {
		if ours := texts[lang][in]; len(ours) > 0 { // missing texts are reported above
			out = append(out, sameText(t, texts[base][in], ours)...)
		}
	}
	return out
}

// sameText checks that a translation has the same content as the base.
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
		if what, apart := b.difference(p); apart {
			o.held, o.what = false, fmt.Sprintf("%s: %s", b.In, what)
			return append(out, o) // the remaining passages cannot be matched
		}
		for _, what := range b.missingTerms(p, t.Never) {
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

// difference reports whether two passages are not the same part of a text.
func (b *Passage) difference(p *Passage) (what string, differs bool) {
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

// missingTerms returns what a translation of a passage omits or adds.
func (b *Passage) missingTerms(p *Passage, never map[string][]string) (list []string) {
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	compare := func(what string, in, translated []string) {
		for _, one := range without(in, translated) {
			say("%s%s stands in %s and not in %s", what, one, b.Lang, p.Lang)
		}
		for _, one := range without(translated, in) {
			say("%s%s stands in %s and not in %s", what, one, p.Lang, b.Lang)
		}
	}
	compare("", b.Names, p.Names)
	compare("the figure ", typedFigure().FindAllString(b.Words, -1), typedFigure().FindAllString(p.Words, -1))
	words, translated := wordsOf(b.Words), wordsOf(p.Words)
	if has(words, never[b.Lang]) && !has(translated, never[p.Lang]) {
		say("%s says %q, and %s has none of: %s", b.Lang, strings.Join(never[b.Lang], ", "), p.Lang, strings.Join(never[p.Lang], ", "))
	}
	if len(words) >= copied && slices.Equal(words, translated) {
		say("%q is not translated", p.Words)
	}
	return list
}

// copied is the number of words from which on an identical text in two languages counts as not
// translated: shorter ones can be names, or the same by chance.
const copied = 3

func has(words, any []string) bool {
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(any, w) })
}

// wordsOf returns the words of a text in lower case, without single letters.
func wordsOf(text string) []string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '’' })
	return slices.DeleteFunc(words, func(w string) bool { return len([]rune(w)) < 2 })
}

// without returns the elements that occur more often in a list than in another.
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

// wordsFor checks that one language has texts for everything that another one has texts for. A
// line without any texts in a language is not checked.
func wordsFor(l *product.Line, t *Texts, from, to string) (out []outcome) {
	for _, words := range [][]Words{t.Words, lineWords(l)} {
		ids := map[string]map[string]source.Pos{from: {}, to: {}}
		for _, w := range words {
			if ids[w.Lang] != nil {
				ids[w.Lang][w.Kind+" "+w.ID] = w.At
			}
		}
		if len(ids[from]) == 0 || len(ids[to]) == 0 {
			continue
		}
		for _, id := range slices.Sorted(maps.Keys(ids[from])) {
			_, there := ids[to][id]
			out = append(out, outcome{code: codeLanguage, at: ids[from][id], held: there, what: id + " has words in " + from + " and none in " + to})
		}
	}
	return out
}

// lineWords returns the ids of the texts of a line.
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
