package render

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw"
	"ownerguide/render/record"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Assemble makes the document of one unit. Earlier is the record of the revision whose
// differences the guide describes; nil if there is none. If the findings include errors,
// the guide must not be written, because some of its text could not be filled in.
func (t *Templates) Assemble(b *spec.Build, vs *derive.Values, earlier *record.Record) (*doc.Guide, source.Findings) {
	a, g := t.assemble(b, vs, earlier)
	return g, a.findings
}

// assemble is Assemble that also returns its state; the guide is nil if it could not be
// made.
func (t *Templates) assemble(b *spec.Build, vs *derive.Values, earlier *record.Record) (*assembly, *doc.Guide) {
	a, g, ok := t.begin(b, vs)
	if !ok {
		return a, nil
	}
	defer t.kept.Release(&a.answers)
	a.choose()
	a.alone = earlier != nil || b.IsWatched() // what has changed is marked in the blocks; reads of a watched build are recorded
	for _, c := range a.chosen {
		g.Sections = append(g.Sections, a.section(c))
	}
	for _, off := range t.SwitchedOff(b) {
		a.findings.Add(codeSwitchedOff.At(off.At, "%s", off))
	}
	a.placePanels(g.Sections)
	a.dropTerms(g.Sections)
	if n := doc.Count(g.Sections); n > maxNodes {
		a.findings.Add(template.CodeFile.At(b.Sheet.Model.At, "the guide of this unit has %d nodes; at most %d are printed", n, maxNodes).WithHint("shorten the templates"))
		return a, nil
	}
	g.Card = a.besideOf(g, a.card, "card-title")
	g.Leaf = a.besideOf(g, a.leaf, "leaf-title")
	a.fillContents(g.Sections)
	a.fillIndex(g)
	a.brief = true // a mail must be short; the guide it brings has the panels in full
	g.Mail = a.besideOf(g, a.mail, "mail-title")
	g.Visits = a.visitsOf(g)
	g.Contacts = a.contacts()
	g.Picture = a.picture()
	a.checkLinks(g)
	if earlier != nil {
		a.tellChanges(g, earlier, record.Make(b, vs, g, a.print, t.Style))
	}
	return a, g
}

// begin chooses language and notation, and makes the empty document. If there are no
// templates in the language, it adds a finding and ok is false.
func (t *Templates) begin(b *spec.Build, vs *derive.Values) (a *assembly, g *doc.Guide, ok bool) {
	a = &assembly{templates: t, build: b, values: vs, texts: map[string]string{}, anchors: map[string]bool{}, drawn: map[string]int{}, panels: map[*doc.Caution]*template.Block{}}
	a.answers.Answer = a.answer
	name := cmp.Or(b.Sheet.Language.Value, template.Base)
	a.lang = t.Language(name)
	if a.lang == nil {
		a.findings.Add(template.CodeLanguage.At(b.Sheet.Language.At, "there are no words in %q", name).WithHint("languages: %s", strings.Join(t.Languages(), ", ")))
		return a, nil, false
	}
	a.print = t.Print(b)
	g = &doc.Guide{
		Lang: a.lang.Name, Maker: b.Line.Maker.Name.Value, Model: a.modelText().Name.Value,
		Serial: b.Sheet.Serial.Value, VIN: b.Sheet.VIN.Value, Revision: b.Sheet.Revision.Value, Earlier: sheet.RevisionNumber(b.Sheet.Revision.Value),
		Unit:   b.Sheet.Serial.Value + "@" + b.Line.Maker.ID.Value, // two makers may use the same serial number
		Issued: b.Sheet.Issued.Value.String(), IssuedOn: a.date(b.Sheet.Issued.Value), Notice: a.notice(), Words: map[string]string{},
	}
	g.Plurals, g.Alphabet = a.lang.Plurals, doc.Alphabet(a.label(template.AlphabetLabel))
	g.Title = doc.Fill(a.label("title"), "model", g.Model, "serial", g.Serial)
	for _, key := range doc.ReaderWords {
		g.Words[key] = a.label(key)
		for _, class := range a.lang.Plurals.Classes() {
			if l, ok := a.lang.Labels[key+"."+class]; ok {
				g.Words[key+"."+class] = l.Value
			}
		}
	}
	for month := 1; a.monthNamed() && month <= 12; month++ {
		key := fmt.Sprintf("month.%d", month)
		g.Words[key] = a.label(key)
	}
	if field, words, ok := b.Line.Maker.CoverColors(); ok {
		g.Field, g.OnField = doc.RGB(field[0], field[1], field[2]), doc.RGB(words[0], words[1], words[2])
	}
	return a, g, true
}

// Print returns the notation for figures in the guide of a unit: that of its language, with
// the owner's system of units first.
func (t *Templates) Print(b *spec.Build) quantity.Print {
	print := b.Print()
	if lang := t.Language(cmp.Or(b.Sheet.Language.Value, template.Base)); lang != nil {
		print.Group, print.Decimal, print.Mixed = lang.Labels["number.group"].Value, lang.Labels["number.decimal"].Value, lang.Labels["number.mixed"].Value
		print.Both, print.Units = lang.Labels[doc.BothUnits].Value, lang.Units
	}
	return print.Shortened()
}

// assembly is the state while one document is assembled.
type assembly struct {
	templates *Templates
	lang      *template.Language
	build     *spec.Build
	values    *derive.Values
	print     quantity.Print
	findings  source.Findings

	chosen   []*chosen         // sections of this unit's guide, in order
	card     []*chosen         // sections of its card
	leaf     []*chosen         // sections of its hand-over leaf
	mail     []*chosen         // sections of the mail it is sent with
	beside   bool              // a document beside the guide is being filled
	brief    bool              // cautions are reduced to two lines
	tasks    []*product.Task   // of this unit
	homes    map[string]string // sections that contain jobs, by job
	points   []draw.Stop       // points of the walk-around, in order
	texts    map[string]string // figures as the language writes them, by name
	groups   []*dueGroup       // jobs by when they are due; nil until asked for
	anchors  map[string]bool   // ids that exist
	task     string            // id of the task being filled, for {task.interval}
	first    string            // id of the next block, the first of a job at the end of a section
	filling  *chosen           // section being filled
	boxes    int               // number of checkboxes in the section so far
	alone    bool              // no block is shared with other units
	noting   bool              // questions are noted in answers
	answers  parallel.Answers[question, answer]
	firstBox int                              // number of checkboxes when noting began
	panels   map[*doc.Caution]*template.Block // what asks for each, filled at the end
	drawn    map[string]int                   // number of uses of each drawing
	terms    []terms                          // glossaries, reduced to the terms in use at the end
	contents []*doc.Contents
	index    []*doc.Contents                // with another order: by symptom and by letter
	compared map[string][]derive.Comparison // of the calculations, by limit
}

// chosen is a section that this unit has: its outline entry and its text in the guide's
// language.
type chosen struct {
	*template.Section
	words    *template.SectionWords
	level    int
	point    int // number of the point of the walk-around; 0 if it is none
	number   string
	part     string // part of the guide
	children []*chosen
}

func (a *assembly) label(key string) string {
	if l, ok := a.lang.Labels[key]; ok {
		return l.Value
	}
	a.findings.Add(template.CodeLabel.At(source.Pos{File: a.lang.LabelsFile}, "label %q is missing", key))
	return key
}

// choose selects the sections that apply and numbers chapters and points.
func (a *assembly) choose() {
	byID := map[string]*chosen{}
	for _, s := range a.templates.Sections() {
		if s.Parent != nil && byID[s.Parent.ID] == nil || !s.When.Holds(a.has) {
			continue
		}
		words := a.lang.Sections[s.ID]
		if words == nil {
			a.noWords("section", s.ID, s.At)
			continue
		}
		c := &chosen{Section: s, words: words(), level: 1}
		byID[s.ID] = c
		switch {
		case !s.InGuide():
		case s.Parent == nil:
			a.chosen = append(a.chosen, c)
		default:
			byID[s.Parent.ID].add(c)
		}
	}
	a.card = a.besideTree(byID, func(s *template.Section) string { return s.Card })
	a.leaf = a.besideTree(byID, func(s *template.Section) string { return s.Leaf })
	a.mail = a.besideTree(byID, func(s *template.Section) string { return s.Mail })
	a.part()
	chapter := 0
	for _, c := range a.chosen {
		if c.Role != doc.RoleCover && c.Role != doc.RoleContents {
			chapter++
			c.number = strconv.Itoa(chapter)
		}
		a.number(c)
	}
	a.findHomes()
}

// part sets for each chapter the part of the guide it is in.
func (a *assembly) part() {
	part, at := "", 0
	for _, s := range a.templates.Outline {
		if s.Part.Set {
			part = a.label("part." + s.Part.Value)
		}
		if at < len(a.chosen) && a.chosen[at].Section == s {
			a.chosen[at].part = part
			at++
		}
	}
}

// noWords reports a text that is missing in the guide's language.
func (a *assembly) noWords(what, id string, at source.Pos) {
	a.findings.Add(template.CodeLanguage.At(at, "%s %s has no words in %s", what, id, a.lang.Name))
}

func (a *assembly) number(c *chosen) {
	a.anchors[c.ID] = true
	if c.Point.Set {
		c.point = len(a.points) + 1
		a.points = append(a.points, draw.Stop{Number: c.point, Part: c.Point.Value, Title: a.plain(c.words.Title), ID: c.ID})
	}
	for i, child := range c.children {
		if c.number != "" && child.level == 2 && child.Role != doc.RoleStop { // a point has the number of its mark
			child.number = fmt.Sprintf("%s.%d", c.number, i+1)
		}
		a.number(child)
	}
}

func (a *assembly) section(c *chosen) *doc.Section {
	s := &doc.Section{Attributes: doc.Attributes{ID: c.ID, Origin: c.words.At}, Level: c.level, Role: c.Role, Part: c.part, Number: c.number, Short: c.words.Short}
	s.Heading = a.heading(c.point, c.words.Title, c.words.At)
	if s.Short == "" {
		s.Short = a.plain(c.words.Title)
	}
	a.filling, a.boxes = c, 0
	a.bodyInto(s, c.words.Body)
	s.Blocks = append(s.Blocks, a.jobsAt(c.ID)...)
	s.Blocks = append(s.Blocks, a.leads(c)...)
	for _, child := range c.children {
		s.Blocks = append(s.Blocks, a.section(child))
	}
	return s
}

func (a *assembly) heading(point int, title []template.Inline, at source.Pos) *doc.Heading {
	h := &doc.Heading{Attributes: doc.Attributes{Origin: at}}
	if point > 0 {
		h.Inlines = append(h.Inlines, &doc.PointMark{Number: point}, text(" "))
	}
	h.Inlines = append(h.Inlines, a.inlines(title)...)
	return h
}

// maxNodes limits the size of a guide: in the PDF each node takes some kilobytes of memory.
// The longest guide of the embedded line has 12,000.
const maxNodes = 40000

// has reports whether a name in a condition is true for the unit: that it has a
// feature, or the meaning of the atom of a reference (see [proof.Reference]).
func (a *assembly) has(name string) bool {
	a.note(aboutFact, name)
	return a.holds(name)
}

// holds is has for a question that is noted already.
func (a *assembly) holds(name string) bool {
	kind, id, is := strings.Cut(name, ":")
	if !is {
		return a.build.Has(name)
	}
	switch proof.Kind(kind) {
	case proof.Value:
		return a.exists(id)
	case proof.Job, proof.Task:
		return a.taskOf(id) != nil
	}
	return slices.ContainsFunc(a.templates.Texts().References, func(r proof.Reference) bool {
		return r.Kind == proof.Kind(kind) && r.Name == id && r.Lang == a.lang.Name && r.When.Holds(a.holds)
	})
}
