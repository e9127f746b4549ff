package product

import (
	"slices"

	"ownerguide/spec/source"
)

// languages returns the languages the line has texts in, sorted.
func (l *Line) languages() (languages []string) {
	for lang := range l.Texts {
		languages = append(languages, lang)
	}
	slices.Sort(languages)
	return languages
}

// ModelText returns the name and summary of a model; in English, with an error, if the
// language lacks them.
func (l *Line) ModelText(lang, id string) (ModelText, source.Findings) {
	return lookUp(l, lang, "model", id, func(t *Texts) source.Map[ModelText] { return t.Models })
}

// OptionText returns the name and description of an option; in English, with an error, if
// the language lacks them.
func (l *Line) OptionText(lang, id string) (OptionText, source.Findings) {
	return lookUp(l, lang, "option", id, func(t *Texts) source.Map[OptionText] { return t.Options })
}

// ComponentName returns the name of a component; in English, with an error, if the language
// lacks it. A component without a name has the name of the one it extends, or of the option
// with its id.
func (l *Line) ComponentName(lang, id string) (string, source.Findings) {
	if english := l.Texts[source.BaseLanguage]; english != nil {
		for c, ok := l.Component(id); ok && c.Common.Extends.Set && english.Components.Get(id) == nil; c, ok = l.Component(id) {
			id = c.Common.Extends.Value
		}
		if english.Components.Get(id) == nil {
			option, findings := l.OptionText(lang, id)
			return option.Name.Value, findings
		}
	}
	w, findings := lookUp(l, lang, "component", id, func(t *Texts) source.Map[word] { return t.Components })
	return w.Value, findings
}

// because returns the reason for an option rule; in English, with an error, if the
// language lacks it.
func (l *Line) because(lang, id string) (string, source.Findings) {
	w, findings := lookUp(l, lang, "because", id, func(t *Texts) source.Map[word] { return t.Because })
	return w.Value, findings
}

// lookUp returns the text for an id in a language. A loaded line has all texts in English;
// for an unknown id the result is empty.
func lookUp[T any](l *Line, lang, what, id string, group func(*Texts) source.Map[T]) (T, source.Findings) {
	if t := l.Texts[lang]; t != nil {
		if found := group(t).Get(id); found != nil {
			return *found, nil
		}
	}
	var none T
	english := l.Texts[source.BaseLanguage]
	if english == nil {
		return none, nil
	}
	for _, item := range group(english) {
		if item.Key == id {
			return item.Value, source.Findings{codeTextFallback.At(item.KeyAt, "%s %s has no words in language %q", what, id, lang)}
		}
	}
	return none, nil
}
