package render

import (
	"fmt"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/draw"
	"ownerguide/render/template"
	"ownerguide/spec/source"
)

func (a *assembly) bullets(lines [][]template.Inline) *doc.List {
	list := &doc.List{Tight: true}
	for _, line := range lines {
		list.Items = append(list.Items, itemOf(a.inlines(line)...))
	}
	return list
}

func itemOf(line ...doc.Inline) *doc.Item {
	return &doc.Item{Blocks: []doc.Block{&doc.Paragraph{Inlines: line}}}
}

// logo returns the maker's logo for the cover; nothing if there is none.
func (a *assembly) logo(_ *doc.Section, p *template.Block) []doc.Block {
	n, findings := logoOf(a.build.Line)
	a.findings.Add(findings...)
	if n == nil {
		return nil
	}
	n.Origin = p.At
	return []doc.Block{n}
}

// ownPicture returns a picture of the maker's own; the lines are its text alternative.
func (a *assembly) ownPicture(_ *doc.Section, p *template.Block) []doc.Block {
	picture := a.templates.pictures[p.Call.Args[0]]
	if picture == nil {
		return nil // reported when the templates are loaded
	}
	n := *picture
	n.Origin, n.InText = p.At, true
	n.Alt = a.sentences(p.Call.Lines)
	if n.Alt == "" {
		a.findings.Add(template.CodePicture.At(p.At, "nothing is said of this picture to an owner of this unit who cannot see it"))
		return nil
	}
	return []doc.Block{&n}
}

func (a *assembly) drawing(_ *doc.Section, p *template.Block) []doc.Block {
	id := p.Call.Args[0]
	a.note(aboutBuild, "")
	a.note(aboutPoints, "")
	a.note(aboutDrawn, id)
	drawing, alt, err := draw.Draw(id, a.subject())
	if err != nil {
		a.findings.Add(template.CodeDrawing.At(p.At, "drawing %q: %v", id, err))
		return nil
	}
	views, err := draw.Column(id, a.subject())
	if err != nil {
		a.findings.Add(template.CodeDrawing.At(p.At, "drawing %q: %v", id, err))
		return nil
	}
	n := &doc.Figure{Attributes: doc.Attributes{ID: "drawing-" + id, Origin: p.At}, Name: id, Alt: alt, Caption: a.sentences(p.Call.Lines), Drawing: drawing, Column: views, Wide: true}
	if a.drawn[id]++; a.drawn[id] > 1 { // the same drawing may occur twice
		n.ID = fmt.Sprintf("%s-%d", n.ID, a.drawn[id])
	}
	return []doc.Block{n}
}

// picture returns the picture of the unit for the top of a screen.
func (a *assembly) picture() *doc.Drawing {
	d, err := draw.Small(a.subject())
	if err != nil {
		a.findings.Add(template.CodeDrawing.At(a.build.Sheet.Model.At, "the picture of the unit: %v", err))
	}
	return d
}

// subject returns the input of drawings.
func (a *assembly) subject() draw.Subject {
	figure := func(name string) (text string) {
		a.build.TraceDetached(func() { text = a.figure(name) }) // a picture that can do without is none for want of it
		a.note(aboutFigure, name)
		return text
	}
	exact := func(name string) any {
		if v, ok := a.lookup(name); ok {
			return v.Exact
		}
		return nil
	}
	return draw.Subject{Build: a.build, Values: a.values, Stops: a.points, Label: a.label, Figure: figure, Exact: exact}
}

// sentences returns the lines of a block that apply to this unit as running text.
func (a *assembly) sentences(lines []template.Line) string {
	var said []string
	for i := range lines {
		if lines[i].When.Holds(a.has) {
			said = append(said, a.plain(lines[i].Inlines))
		}
	}
	return doc.Join(a.label("list.sentences"), said...)
}

// figure returns a value as printed, for labels in drawings.
func (a *assembly) figure(name string) string {
	v, ok := a.values.Lookup(name)
	if !ok {
		return ""
	}
	return a.printed(v, source.Pos{})
}

func (a *assembly) statement(_ *doc.Section, p *template.Block) (out []doc.Block) {
	s := a.lang.Statements[p.Call.Args[0]]
	from := doc.Attributes{Origin: s.At}
	if s.Lang != a.lang.Name {
		from.Lang = s.Lang
	}
	for _, para := range s.Paragraphs {
		out = append(out, &doc.Paragraph{Attributes: from, Inlines: a.inlines(para)})
	}
	if len(s.Steps) > 0 {
		list := a.bullets(s.Steps)
		list.Attributes, list.Ordered, list.Start = from, true, 1
		out = append(out, list)
	}
	return out
}

// maxRules is the number of ruled lines that fill a page.
const maxRules = 40

func (a *assembly) form(_ *doc.Section, p *template.Block) []doc.Block {
	rules, err := strconv.Atoi(p.Call.Arg(1))
	if err != nil {
		rules = 1
	}
	return []doc.Block{&doc.Form{Attributes: doc.Attributes{Origin: p.At}, Label: a.label("form." + p.Call.Args[0]), Rules: rules}}
}

// signOf is the prefix of ids of trouble entries in a guide.
const signOf = "sign-"

// trouble returns the trouble entries of one system: symptom, causes, remedies, and when to stop.
func (a *assembly) trouble(_ *doc.Section, p *template.Block) (out []doc.Block) {
	system := p.Call.Args[0]
	for i := range a.templates.Troubles {
		e := &a.templates.Troubles[i]
		words := a.lang.Troubles[e.ID.Value]
		if e.System.Value != system || !e.When.Holds(a.has) {
			continue
		}
		if words == nil {
			a.noWords("trouble entry", e.ID.Value, e.ID.At)
			continue
		}
		n := &doc.Trouble{Attributes: doc.Attributes{ID: signOf + e.ID.Value, Origin: p.At}, Symptom: a.inlines(words.Symptom), Causes: a.lines(words.Cause), Remedies: a.lines(words.Do)}
		for _, line := range a.lines(words.Stop) {
			n.Limits = append(n.Limits, &doc.Limit{Attributes: doc.Attributes{Origin: p.At}, Inlines: line})
		}
		out = append(out, n)
	}
	return out
}

// lines returns those of several short texts that apply.
func (a *assembly) lines(list []template.Block) (out [][]doc.Inline) {
	for i := range list {
		if list[i].When.Holds(a.has) {
			out = append(out, a.inlines(list[i].Inlines))
		}
	}
	return out
}
