package render

import (
	"fmt"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Language-specific forms (counts, lists, days) come only from patterns in labels.

// languageLabels returns the labels with the forms of figures, days and lists, and the places of axles and tires.
func languageLabels() []string {
	list := []string{"number.group", "number.decimal", "number.mixed", doc.BothUnits, "date", "list.comma", "list.and", "list.or", "list.semicolon", "list.colon", "list.sentences", template.NeverLabel, template.AlphabetLabel}
	axles, tires := spec.AxleAndTirePlaces()
	for _, place := range axles {
		list = append(list, fittedLabel("axle", place))
	}
	for _, place := range tires {
		list = append(list, fittedLabel("tire", place))
	}
	for _, symbol := range quantity.Symbols() {
		list = append(list, template.UnitLabel+symbol)
	}
	return list
}

// date formats a day by the pattern of the language.
func (a *assembly) date(d quantity.Date) string {
	month := ""
	if a.monthNamed() {
		month = a.label(fmt.Sprintf("month.%d", d.Month))
	}
	return doc.Fill(a.label("date"),
		"year", fmt.Sprintf("%04d", d.Year), "month", fmt.Sprintf("%02d", d.Month), "day", fmt.Sprintf("%02d", d.Day),
		"m", strconv.Itoa(int(d.Month)), "d", strconv.Itoa(d.Day), "name", month,
	)
}

// monthNamed reports whether the language writes months by name.
func (a *assembly) monthNamed() bool { return strings.Contains(a.label("date"), "{name}") }

// isoDate formats an ISO 8601 day of a record; anything else is unchanged.
func (a *assembly) isoDate(text string) string {
	var d quantity.Date
	if d.ParseScalar(text) != nil {
		return text
	}
	return a.date(d)
}

// counted returns the key of the label for a count.
func (a *assembly) counted(key string, n float64) string {
	return a.lang.Plurals.Key(key, n, func(id string) bool { _, there := a.lang.Labels[id]; return there })
}

// list joins items by a pattern for two, such as list.comma, and the last two by another.
func (a *assembly) list(pattern, last string, items ...[]doc.Inline) (out []doc.Inline) {
	for i, item := range items {
		switch {
		case i == 0:
			out = item
			continue
		case i == len(items)-1:
			pattern = last
		}
		before := out
		out = a.sentence(pattern, map[string][]doc.Inline{"a": before, "b": item})
	}
	return out
}

// colon joins a name and words.
func (a *assembly) colon(name, words []doc.Inline) []doc.Inline {
	return a.list("list.colon", "list.colon", name, words)
}

// sentence returns a label with its placeholders filled; one without nodes becomes empty.
func (a *assembly) sentence(key string, filling map[string][]doc.Inline) (out []doc.Inline) {
	label := a.label(key)
	for label != "" {
		before, rest, found := strings.Cut(label, "{")
		if before != "" {
			out = append(out, text(before))
		}
		if !found {
			return out
		}
		name, after, _ := strings.Cut(rest, "}")
		out = append(out, filling[name]...)
		label = after
	}
	return out
}

// dateWord returns a day of the sheet, formatted.
func (a *assembly) dateWord(d source.Given[quantity.Date]) word {
	if !d.Set {
		return word{}
	}
	return word{Value: a.date(d.Value), At: d.At, Set: true}
}
