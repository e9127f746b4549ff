package template

import (
	"slices"
	"strings"
	"sync"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// ForLine returns the templates for a maker's line: what it switches off applies to fewer
// units.
func (t *Templates) ForLine(l *product.Line) *Templates {
	if len(l.Maker.SwitchedOff) == 0 {
		return t
	}
	own := *t
	own.Cautions, own.Troubles = slices.Clone(t.Cautions), slices.Clone(t.Troubles)
	own.Outline = cloneSections(t.Outline, nil)
	own.sections = flatten(own.Outline)
	for i := range l.Maker.SwitchedOff {
		off := &l.Maker.SwitchedOff[i]
		_, id := off.Of()
		lost := l.Lost(id.Value)
		if when := own.condition(off); when != nil {
			lost = *when
			*when = off.Left(lost)
		}
		own.Off = append(own.Off, proof.SwitchedOff{What: off.String(), Reason: off.Reason.Value, By: off.By.Value,
			When: logic.Condition{Formula: logic.All(lost.Formula, off.When.Formula)}, At: id.At})
	}
	own.Prescribed = sync.OnceValue(own.findPrescribed)
	own.complete = sync.OnceFunc(func() {
		t.complete()
		own.texts = &proof.Texts{Never: t.texts.Never, SwitchedOff: own.Off}
		own.collect() // its findings were reported when the templates were loaded
	})
	return &own
}

// cloneSections copies sections with their descendants.
func cloneSections(list []*Section, parent *Section) []*Section {
	out := make([]*Section, len(list))
	for i, s := range list {
		own := *s
		own.Parent = parent
		own.Parts = cloneSections(s.Parts, &own)
		out[i] = &own
	}
	return out
}

// condition returns the condition of what is switched off; nil if it does not exist, and
// for a task, whose condition is in the line.
func (t *Templates) condition(off *product.SwitchOff) *logic.Condition {
	switch kind, id := off.Of(); kind {
	case "hazard":
		if c := t.Caution(id.Value); c != nil {
			return &c.When
		}
	case "trouble entry":
		if e := t.trouble(id.Value); e != nil {
			return &e.When
		}
	case "section":
		if s := t.section(id.Value); s != nil {
			return &s.When
		}
	}
	return nil
}

// switchedOff checks what a line switches off against the templates: it must exist and
// not be prescribed by law.
func (c *lineChecker) switchedOff() {
	t := c.templates
	for _, n := range t.weakened {
		if !slices.ContainsFunc(n.when.Facts(), func(f string) bool { return !strings.Contains(f, ":") && !slices.Contains(c.vocabulary, f) }) {
			c.findings.Add(n.Finding)
		}
	}
	for i := range c.line.Maker.SwitchedOff {
		off := &c.line.Maker.SwitchedOff[i]
		for _, f := range off.When.Facts() {
			c.asked[f] = true
		}
		kind, id := off.Of()
		if kind == "task" {
			continue
		}
		if t.condition(off) == nil {
			known := mapped(t.sections, func(s *Section) string { return s.ID })
			switch kind {
			case "hazard":
				known = mapped(t.Cautions, func(c Caution) string { return c.ID.Value })
			case "trouble entry":
				known = mapped(t.Troubles, func(e Trouble) string { return e.ID.Value })
			}
			c.findings.Add(codeSwitchedOff.At(id.At, "there is no %s %q", kind, id.Value).DidYouMean(id.Value, known, ""))
			continue
		}
		if text := t.prescribed(kind, id.Value); text != "" {
			c.findings.Add(codeSwitchedOff.At(id.At, "section %s cannot be switched off: %s", id.Value, text))
		}
	}
}

// prescribed returns why a section must be in every guide; empty if it need not.
func (t *Templates) prescribed(kind, id string) string {
	off := t.section(id)
	if kind != "section" || off == nil {
		return ""
	}
	for _, s := range flatten([]*Section{off}) {
		if s.Role == doc.RoleCover || s.Role == doc.RoleContents || s.Role == doc.RoleStatement {
			return "every guide has it, by law or to be found in"
		}
		for _, r := range t.Texts().References {
			if r.In == "section "+s.ID && (r.Kind == proof.Statement || r.Kind == proof.Safety) {
				return map[proof.Kind]string{proof.Statement: "it holds a text that the law prescribes", proof.Safety: "it holds the gravest dangers"}[r.Kind]
			}
		}
	}
	return ""
}

// notWeaker compares redefined hazards and trouble entries of a layer with the program's
// own. They may apply to more units and be more severe, but not to fewer or less
// severe. That requires an entry under switched_off in the line.
func (l *loader) notWeaker(program source.Layer) {
	lower := &loader{folder: source.NewFolder("the program's own files", source.FolderCodes{Unreadable: CodeFile, Stray: CodeFile}, program)}
	words := []string{"notice", "caution", "warning", "danger"}
	for _, was := range lower.cautions(nil) {
		is := l.templates.Caution(was.ID.Value)
		switch {
		case is == nil:
		case slices.Index(words, is.Word.Value) < slices.Index(words, was.Word.Value):
			l.weaker(is.Word.At, "hazard "+was.ID.Value, "has the signal word "+is.Word.Value+" in place of "+was.Word.Value, logic.Condition{})
		case was.Grave.Value && !is.Grave.Value:
			l.weaker(is.ID.At, "hazard "+was.ID.Value, "no longer stands in the safety chapter", logic.Condition{})
		case !is.When.ImpliedBy(was.When):
			l.fewer(is.ID.At, "hazard "+was.ID.Value, is.When)
		}
	}
	for _, was := range lower.troubles(nil) {
		if is := l.templates.trouble(was.ID.Value); !is.When.ImpliedBy(was.When) {
			l.fewer(is.ID.At, "trouble entry "+was.ID.Value, is.When)
		}
	}
	o := outliner{findings: &source.Findings{}, byID: map[string]*Section{}}
	for _, list := range readOutlines(lower.folder, nil) {
		visitEntries(list, func(e *entry, parent string) { o.add(e, parent, true) })
	}
	for _, was := range flatten(o.chapters) {
		is := l.templates.section(was.ID)
		switch {
		case is == nil:
			l.weaker(source.Pos{File: l.folder.Shown("outline.yaml")}, "section "+was.ID, "is left out", logic.Condition{})
		case !is.fullCondition().ImpliedBy(was.fullCondition()):
			l.fewer(is.At, "section "+was.ID, is.fullCondition())
		}
	}
}

// weakened is a finding that something is redefined and asks for less; when is the
// condition of the units it still applies to, if these are fewer.
type weakened struct {
	source.Finding
	when logic.Condition
}

func (l *loader) fewer(at source.Pos, what string, when logic.Condition) {
	l.weaker(at, what, "is for fewer units", when)
}

// weaker keeps such a finding until the line is known: a condition on a feature that no
// unit can have is reported as a typing error instead.
func (l *loader) weaker(at source.Pos, what, how string, when logic.Condition) {
	l.templates.weakened = append(l.templates.weakened, weakened{codeSwitchedOff.At(at, "%s of the program is said anew and %s", what, how).
		WithHint("leave it as it was, and say under switched_off in line.yaml for which units, and why, it does not hold"), when})
}
