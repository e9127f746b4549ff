package html

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"ownerguide/render/doc"
)

// troubleSections writes links to the sections of the trouble chapter, which list symptoms
// row by row.
func (p *page) troubleSections() {
	p.printf("<nav id=\"signs\" class=\"signs aid\" aria-label=\"%s\">\n<ul class=\"chips\">\n", p.count("screen.signs", p.aids.troubleCount()))
	for _, s := range p.aids.places {
		p.printf("<li><a href=\"#%s\">%s</a></li>\n", esc(s.ID), esc(s.Short))
	}
	p.text("</ul>\n</nav>\n")
}

// relatedSymptoms lists, at the end of a section of the trouble chapter, the symptoms of
// other sections that share a term with its title: if a deck hangs, the owner looks under
// deck, though the cause is hydraulic.
func (p *page) relatedSymptoms(s *doc.Section) {
	title, open := p.aids.terms(doc.PlainText(s.Heading)), false
	for _, other := range p.aids.places {
		if other == s {
			continue
		}
		for _, sign := range p.aids.signs[other] {
			if !slices.ContainsFunc(title, func(term string) bool { return slices.Contains(sign.terms, term) }) {
				continue
			}
			if !open {
				open = true
				p.text("<ul class=\"rows aid\">\n")
			}
			p.printf("<li><a href=\"#%s\">%s</a></li>\n", esc(sign.id), esc(sign.words))
		}
	}
	if open {
		p.text("</ul>\n")
	}
}

// leastTerm is the minimum length of a term.
const leastTerm = 4

// terms returns the words of a text that may be terms, in lower case and without inflectional
// endings.
func (a *aids) terms(text string) (out []string) {
	for _, word := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		for _, end := range a.endings {
			if stem, ends := strings.CutSuffix(word, end); ends {
				word = stem
				break
			}
		}
		if utf8.RuneCountInString(word) >= leastTerm {
			out = append(out, word)
		}
	}
	return out
}

// index writes the alphabetical index. The search covers it and the symptoms of
// trouble.
func (p *page) index() {
	p.printf("<nav id=\"a-z\" class=\"az aid\" aria-label=\"%s\">\n<p class=\"head\">%s</p>\n", p.word("screen.index"), p.word("screen.index"))
	letter := ""
	index := p.guide.Index
	if index == nil {
		index = doc.Index(p.guide.Sections, p.guide.Alphabet)
	}
	for _, e := range index {
		if id := p.aids.rows[e.Row]; id != "" { // a long table may be far below its heading
			e.ID = id
		}
		if first := p.guide.Alphabet.Letter(e.Title); first != letter {
			if letter != "" {
				p.text("</ul></details>\n")
			}
			letter = first
			p.printf("<details><summary>%s</summary><ul class=\"rows\">\n", esc(first))
		}
		p.text("<li><a href=\"#", esc(e.ID), "\">", esc(e.Title), "</a>")
		if e.Answer != "" {
			p.text(" <b>", esc(p.short(e.Answer)), "</b>")
		}
		p.text("\n")
	}
	if letter != "" {
		p.text("</ul></details>\n")
	}
	p.text("</nav>\n")
}
