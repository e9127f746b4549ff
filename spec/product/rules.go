package product

import (
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// objects returns the options of a demand.
func (d Demand) objects() []word {
	if d.Option.Set {
		return append([]word{d.Option}, d.AnyOf...)
	}
	return d.AnyOf
}

// Problem returns the option rules of a model, each with its reason in English.
func (l *Line) Problem(m *Model) logic.Problem {
	p := logic.Problem{Options: m.Options.Names()}
	add := func(kind logic.RuleKind, subject string, objects []word, because word) {
		reason, _ := l.because(source.BaseLanguage, because.Value)
		r := logic.Rule{Kind: kind, Subject: subject, Objects: source.Values(objects), Because: reason, Pos: because.At}
		if len(objects) > 0 {
			r.Pos = objects[0].At
		}
		p.Rules = append(p.Rules, r)
	}
	for _, o := range m.Options {
		for _, d := range o.Value.Requires {
			add(logic.Requires, o.Key, d.objects(), d.Because)
		}
		for _, d := range o.Value.Excludes {
			add(logic.Excludes, o.Key, d.objects(), d.Because)
		}
	}
	for _, r := range m.Rules {
		if len(r.ExactlyOne) > 0 {
			add(logic.ExactlyOne, "", r.ExactlyOne, r.Because)
		} else {
			add(logic.AtMostOne, "", r.AtMostOne, r.Because)
		}
	}
	return p
}
