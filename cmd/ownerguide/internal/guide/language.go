package guide

import (
	"slices"
	"sync"

	"ownerguide/render"
	"ownerguide/render/template"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// lossesOf returns a function that returns what each language lacks, calculated on first
// use, when a sheet has another language than the base.
func lossesOf(l *product.Line, words *render.Templates) func() map[string]source.Findings {
	return sync.OnceValue(func() map[string]source.Findings {
		losses := map[string]source.Findings{}
		for _, lang := range words.Languages() {
			if lang == template.Base {
				continue
			}
			for _, lost := range proof.Language(l, words.Texts(), lang) {
				losses[lang] = append(losses[lang], lost.Finding)
			}
		}
		return losses
	})
}

// lost returns what the templates lack in the language of a sheet. A language without
// templates is reported by assembly.
func (m *Maker) lost(s *sheet.Identity) source.Findings {
	lang := m.words.Language(s.Language.Value)
	if lang == nil || lang.Name == template.Base {
		return nil
	}
	return m.losses()[lang.Name]
}

// refuseUnfinished reports a unit whose guide would be only partly in the language of its
// sheet.
func (m *Maker) refuseUnfinished(u *Unit) {
	if lost := m.lost(u.Sheet.Identity()); len(lost) > 0 {
		at := u.Sheet.Language
		u.Add(template.CodeLanguage.At(at.At, "the words in %q are unfinished", at.Value).WithRelated(lost[0].Pos, "%s", lost[0].Message).WithHint("ownerguide check tells all that they lack"))
	}
}

// lostBySheets returns what the languages of sheets lack, each language once.
func (m *Maker) lostBySheets(sheets []*sheet.Identity) (found source.Findings) {
	var told []string
	for _, s := range sheets {
		if tag := s.Language.Value; !slices.Contains(told, tag) {
			told = append(told, tag)
			found.Add(m.lost(s)...)
		}
	}
	return found
}
