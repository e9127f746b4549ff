package render

import (
	"maps"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// placeholder fills one {name}: a value, a word of sheet or line, the name of a component or
// option, or the interval of the current task.
func (a *assembly) placeholder(in *template.Inline) []doc.Inline {
	name, noun := template.CutNoun(in.Text)
	switch {
	case name == "task.interval":
		a.note(aboutTask, "")
		return []doc.Inline{&doc.Emphasis{Inlines: a.fullInterval(a.task)}}
	case noun != "":
		return a.countOf(name, noun, in.At)
	case derive.IsDeclared(name):
		return a.value(name, in.At)
	}
	a.note(aboutWord, name)
	w, there := a.word(name)
	if !there {
		a.findings.Add(template.CodePlaceholder.At(in.At, "{%s} has nothing to print for this unit", name).
			WithHint("put the condition under which it is there in front of this text"))
		return nil
	}
	return []doc.Inline{wordNode(w)}
}

// value prints one value; a missing one is reported at its position in the template.
func (a *assembly) value(name string, at source.Pos) []doc.Inline {
	v, ok := a.values.Lookup(name)
	if !ok {
		why := a.values.WhyAbsent(name)
		if why == "" {
			why = "it does not exist for this unit"
		}
		a.findings.Add(template.CodeValue.At(at, "{%s} has no figure: %s", name, why))
		return nil
	}
	if v.Engineer {
		a.findings.Add(template.CodeValue.At(at, "{%s} is for the engineer only: it is too fragile for an owner to rely on", name))
		return nil
	}
	a.note(aboutFigure, name)
	return []doc.Inline{&doc.Value{Name: name, Printed: a.printed(v, at)}}
}

// lookup returns a value.
func (a *assembly) lookup(name string) (*derive.Value, bool) {
	a.note(aboutValue, name)
	return a.values.Lookup(name)
}

// writing returns a figure as every document of the unit prints it.
func (a *assembly) writing(name string) (text string, ok bool) {
	if name != "" {
		a.note(aboutFigure, name)
	}
	if v, ok := a.values.Lookup(name); ok {
		return a.written(v), true
	}
	return "", false
}

// countOf prints a count with its noun, in the plural form for that number.
func (a *assembly) countOf(name, noun string, at source.Pos) []doc.Inline {
	value := a.value(name, at)
	if value == nil {
		return nil
	}
	v, _ := a.lookup(name)
	n, unit, isNumber := v.Number(a.print)
	if !isNumber || unit != "" {
		a.findings.Add(template.CodePlaceholder.At(at, "{%s} counts nothing, and cannot stand with a noun", name))
		return nil
	}
	return a.sentence(a.counted(template.CountLabel+noun, n), map[string][]doc.Inline{"n": value})
}

var (
	numberUnit = source.Pattern(`(\d) (\S)`)
	// measure matches a number with a unit, such as the nominal size of a chain.
	measure = source.Pattern(`^([0-9][0-9./-]*) ([^ ]+)$`)
	// enumerated matches ids that must be printed by a label.
	enumerated = source.Pattern(`^[a-z][a-z0-9-]*$`)
)

// written returns a value as every document of the unit prints it.
func (a *assembly) written(v *derive.Value) string { return v.Print(a.print) }

// printed returns a value as the guide's language writes it, number and unit
// joined by a no-break space.
func (a *assembly) printed(v *derive.Value, at source.Pos) string {
	if text, ok := a.texts[v.Name]; ok {
		return text
	}
	if day, ok := v.Exact.(quantity.Date); ok {
		return a.date(day)
	}
	text := a.written(v)
	if id, ok := v.Exact.(derive.Text); ok {
		if l, found := a.lang.Labels["enum."+string(id)]; found {
			a.texts[v.Name] = l.Value
			return l.Value
		}
		if enumerated().MatchString(string(id)) {
			a.findings.Add(template.CodeLabel.At(source.Pos{File: a.lang.LabelsFile}, "label %q is missing", "enum."+string(id)).WithRelated(at, "it is printed here"))
		}
		m := measure().FindStringSubmatch(text)
		if m == nil {
			return text
		}
		pattern, there := a.lang.Units[m[2]]
		if !there {
			return text
		}
		text = doc.Fill(pattern, "n", m[1])
	}
	text = numberUnit().ReplaceAllString(text, "$1\u00a0$2")
	a.texts[v.Name] = text
	return text
}

type word = source.Given[string]

// words are the texts of sheet and line that a placeholder can name.
var words = map[string]func(*assembly) word{
	"sheet.serial":        func(a *assembly) word { return a.build.Sheet.Serial },
	"sheet.vin":           func(a *assembly) word { return a.build.Sheet.VIN },
	"sheet.revision":      func(a *assembly) word { return a.build.Sheet.Revision },
	"sheet.issued":        func(a *assembly) word { return a.dateWord(a.build.Sheet.Issued) },
	"sheet.built":         func(a *assembly) word { return a.dateWord(a.build.Sheet.Built) },
	"sheet.delivered":     func(a *assembly) word { return a.dateWord(a.build.Sheet.Delivered) },
	"sheet.model_year":    func(a *assembly) word { return word{Value: a.build.Sheet.ModelYear.Text} },
	"sheet.notes":         func(a *assembly) word { return a.build.Sheet.Notes },
	"sheet.buyer.name":    func(a *assembly) word { return person(a.build.Sheet.Buyer).Name },
	"sheet.buyer.town":    func(a *assembly) word { return person(a.build.Sheet.Buyer).Town },
	"sheet.buyer.region":  func(a *assembly) word { return person(a.build.Sheet.Buyer).Region },
	"sheet.buyer.phone":   func(a *assembly) word { return person(a.build.Sheet.Buyer).Phone },
	"sheet.buyer.email":   func(a *assembly) word { return person(a.build.Sheet.Buyer).Email },
	"sheet.dealer.name":   func(a *assembly) word { return person(a.build.Sheet.Dealer).Name },
	"sheet.dealer.town":   func(a *assembly) word { return person(a.build.Sheet.Dealer).Town },
	"sheet.dealer.region": func(a *assembly) word { return person(a.build.Sheet.Dealer).Region },
	"sheet.dealer.phone":  func(a *assembly) word { return person(a.build.Sheet.Dealer).Phone },
	"sheet.dealer.email":  func(a *assembly) word { return person(a.build.Sheet.Dealer).Email },
	"model.name":          func(a *assembly) word { return a.modelText().Name },
	"model.summary":       func(a *assembly) word { return a.modelText().Summary },
	"maker.name":          func(a *assembly) word { return a.build.Line.Maker.Name },
	"maker.phone":         func(a *assembly) word { return a.build.Line.Maker.Phone },
	"maker.email":         func(a *assembly) word { return a.build.Line.Maker.Email },
	"maker.web":           func(a *assembly) word { return a.build.Line.Maker.Web },
	"maker.address": func(a *assembly) word {
		return word{Value: doc.Join(a.label("list.comma"), source.Values(a.build.Line.Maker.Address)...)}
	},
	"maker.notice": func(a *assembly) word { return word{Value: a.notice()} },
}

// word returns the text that a placeholder names; there is false if this unit has nothing to
// print for it. That some unit can have it was checked when the templates were
// loaded.
func (a *assembly) word(name string) (w word, there bool) {
	if get, ok := words[name]; ok {
		w = get(a)
		return w, w.Value != ""
	}
	kind, rest, _ := strings.Cut(name, ".")
	switch kind {
	case "part":
		for _, p := range a.build.Parts() {
			if p.Kind == rest || p.Place == rest {
				return word{Value: a.componentName(p.Component)}, true
			}
		}
	case "option":
		for _, m := range a.build.Line.Models {
			if m.Options.Get(rest) != nil {
				return a.optionText(rest).Name, true
			}
		}
	case "label":
		return a.lang.Labels[rest], true
	}
	return w, false
}

// wordNode returns a text node for a word, with its position, so that a character the
// typeface lacks is reported there.
func wordNode(w word) *doc.Text {
	return &doc.Text{Content: w.Value, Origin: w.At}
}

// person returns an empty person for a buyer or dealer that the sheet does not name.
func person(p *sheet.Person) *sheet.Person {
	if p == nil {
		return &sheet.Person{}
	}
	return p
}

// modelText, optionText and componentName return texts of the line in the guide's language
// and add its findings about missing translations.
func (a *assembly) modelText() product.ModelText {
	t, findings := a.build.Line.ModelText(a.lang.Name, a.build.Model.ID)
	a.findings.Add(findings...)
	return t
}

func (a *assembly) optionText(id string) product.OptionText {
	t, findings := a.build.Line.OptionText(a.lang.Name, id)
	a.findings.Add(findings...)
	return t
}

func (a *assembly) componentName(id string) string {
	name, findings := a.build.Line.ComponentName(a.lang.Name, id)
	a.findings.Add(findings...)
	return name
}

// notice returns the maker's notice in the guide's language, or as in the line.
func (a *assembly) notice() string {
	if t := a.build.Line.Texts[a.lang.Name]; t != nil && t.Notice.Set {
		return t.Notice.Value
	}
	return a.build.Line.Maker.Notice.Value
}
