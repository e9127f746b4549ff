package proof

import (
	"maps"
	"slices"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// base is the language every other one is held against.
const base = "en"

// languages settles that every language has words for the same things, and that
// a text names the same figures, cautions and pictures in all of them.
func languages(l *product.Line, t *Texts) (out []outcome) {
	out = append(sameIDs(t.Words), sameIDs(lineWords(l))...)
	uses := map[string]map[string]source.Pos{} // by language, what is named and in which text
	for _, u := range t.References {
		if uses[u.Lang] == nil {
			uses[u.Lang] = map[string]source.Pos{}
		}
		if !slices.Contains([]Kind{Section, Job, Stop, Asked}, u.Kind) {
			uses[u.Lang][strings.Join([]string{u.In, "names the", string(u.Kind), u.Name}, " ")] = u.At
		}
	}
	for _, lang := range slices.Sorted(maps.Keys(uses)) {
		if lang == base {
			continue
		}
		for _, pair := range [][2]string{{base, lang}, {lang, base}} {
			for _, what := range slices.Sorted(maps.Keys(uses[pair[0]])) {
				_, held := uses[pair[1]][what]
				out = append(out, outcome{code: codeLanguage, at: uses[pair[0]][what], held: held, what: what + " in " + pair[0] + " and not in " + pair[1]})
			}
		}
	}
	return out
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
