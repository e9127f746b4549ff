package render

import (
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Assemble makes the document of one unit. With errors among the findings the
// guide must not be written: some of its text could not be filled.
func (t *Templates) Assemble(b *spec.Build, vs *derive.Values, plan derive.Plan) (*doc.Guide, source.Findings) {
	a, g, ok := t.begin(b, vs, plan)
	if !ok {
		return nil, a.findings
	}
	for _, c := range a.chosen {
		g.Sections = append(g.Sections, a.section(c))
	}
	a.fillGrave(g.Sections)
	n := 0
	for range doc.Walk(g.Sections) {
		n++
	}
	if n > maxNodes {
		a.findings.Add(codeFile.At(b.Sheet.Model.At, "the guide of this unit has %d nodes; at most %d are printed", n, maxNodes).WithHint("shorten the templates"))
		return nil, a.findings
	}
	g.Card = a.besideOf(g, a.card, "card-title")
	a.fillContents(g.Sections)
	a.fillProvenance()
	a.brief = true // a mail is read in a minute; the guide it brings has the panels in full
	g.Mail = a.besideOf(g, a.mail, "mail-title")
	g.Visits = a.visitsOf(g)
	a.checkLinks(g.Sections)
	return g, a.findings
}

// begin chooses language, figures' print and sections, and makes the empty
// document. It is not ok, and says why, when there are no words in the language.
func (t *Templates) begin(b *spec.Build, vs *derive.Values, plan derive.Plan) (a *assembly, g *doc.Guide, ok bool) {
	a = &assembly{templates: t, build: b, values: vs, plan: plan, used: map[string]bool{}, anchors: map[string]bool{}, drawn: map[string]int{}}
	name := cmp.Or(b.Sheet.Language.Value, Base)
	a.base, a.lang = t.languages[Base], t.languages[name]
	if a.lang == nil {
		a.findings.Add(codeLanguage.At(b.Sheet.Language.At, "there are no words in %q", name).WithHint("languages: %s", strings.Join(t.Languages(), ", ")))
		return a, nil, false
	}
	a.print = t.Print(b)
	for _, key := range []string{"number.group", "number.decimal"} {
		_ = a.label(key) // missing ones are reported
	}
	a.choose()
	g = &doc.Guide{
		Lang: name, Maker: b.Line.Maker.Name.Value, Model: a.modelText().Name.Value,
		Serial: b.Sheet.Serial.Value, VIN: b.Sheet.VIN.Value, Revision: b.Sheet.Revision.Value, Earlier: sheet.RevisionNumber(b.Sheet.Revision.Value),
		Unit:   b.Sheet.Serial.Value + "@" + b.Line.Maker.ID.Value, // two makers may use the same serial number
		Issued: b.Sheet.Issued.Value.String(), Notice: a.notice(), Words: map[string]string{},
	}
	g.Title = fill(a.label("title"), map[string]string{"model": g.Model, "serial": g.Serial})
	for _, key := range doc.ReaderWords {
		g.Words[key] = a.label(key)
	}
	if field, words, ok := b.Line.Maker.CoverColors(); ok {
		g.Field, g.OnField = doc.RGB(field[0], field[1], field[2]), doc.RGB(words[0], words[1], words[2])
	}
	return a, g, true
}

// Print says how the guide of a unit writes its figures: by the rules of its
// language, the maker's system of units first.
func (t *Templates) Print(b *spec.Build) quantity.Print {
	print := b.Line.Maker.Print()
	if lang := t.languages[cmp.Or(b.Sheet.Language.Value, Base)]; lang != nil {
		print.Group, print.Decimal = lang.labels["number.group"].Value, lang.labels["number.decimal"].Value
	}
	return print
}

// assembly is the making of one document.
type assembly struct {
	templates *Templates
	lang      *language
	base      *language // carries conditions, places and roles
	build     *spec.Build
	values    *derive.Values
	plan      derive.Plan
	print     quantity.Print
	findings  source.Findings

	chosen     []*chosen       // sections of this unit's guide, in order
	card       []*chosen       // sections of its card
	mail       []*chosen       // sections of the mail it is sent with
	beside     bool            // a document beside the guide is being filled
	brief      bool            // cautions are given in two lines
	terse      bool            // intervals leave out that the first count decides
	either     bool            // one of them did
	stops      []draw.Stop     // in order
	used       map[string]bool // names of values that were printed
	anchors    map[string]bool // ids that exist
	links      []link          // to check at the end
	task       string          // id of the task being filled, for {task.interval}
	fenceIn    *chosen         // section being filled
	boxes      int             // ticks made so far in the section
	shown      map[string]bool // cautions given in full in the chapter being filled
	drawn      map[string]int  // how often each drawing was used
	grave      []*doc.Caution  // panels of the gravest dangers, filled at the end
	contents   []*doc.Contents
	provenance []*doc.Table
}

type link struct {
	target string
	at     source.Pos
}

// chosen is a section this unit has: conditions from the base language, words
// from the guide's.
type chosen struct {
	*section
	words    *section
	level    int
	stop     int // number of the stop, 0 for none
	number   string
	children []*chosen
}

func (a *assembly) label(key string) string {
	if l, ok := a.lang.labels[key]; ok {
		return l.Value
	}
	a.findings.Add(codeLabel.At(source.Pos{File: a.lang.labelsFile}, "label %q is missing", key))
	return key
}

// fill puts words into a label's braces, all at once: braces in a word are its own.
func fill(label string, words map[string]string) string {
	var pairs []string
	for _, name := range keys(words) {
		pairs = append(pairs, "{"+name+"}", words[name])
	}
	return strings.NewReplacer(pairs...).Replace(label)
}

// choose finds the sections that apply and numbers chapters and stops.
func (a *assembly) choose() {
	words := map[string]*section{}
	for _, s := range a.lang.sections {
		words[s.id] = s
	}
	byID := map[string]*chosen{}
	for _, s := range a.base.sections {
		if !s.when.Holds(a.build.Has) {
			continue
		}
		c := &chosen{section: s, words: words[s.id], level: 1}
		if c.words == nil {
			a.findings.Add(codeLanguage.At(s.at, "section %s has no words in %s", s.id, a.lang.name))
			continue
		}
		byID[s.id] = c
	}
	a.card = a.besideTree(byID, func(s *section) string { return s.card })
	a.mail = a.besideTree(byID, func(s *section) string { return s.mail })
	for _, s := range a.base.sections {
		c := byID[s.id]
		switch {
		case c == nil || !s.inGuide():
		case s.parent == "":
			a.chosen = append(a.chosen, c)
		case byID[s.parent] != nil:
			byID[s.parent].children = append(byID[s.parent].children, c)
		}
	}
	chapter := 0
	for _, c := range a.chosen {
		if c.role != doc.RoleCover && c.role != doc.RoleContents {
			chapter++
			c.number = strconv.Itoa(chapter)
		}
		a.number(c)
	}
}

func (a *assembly) number(c *chosen) {
	a.anchors[c.id] = true
	if c.role == doc.RoleStop {
		c.stop = len(a.stops) + 1
		a.stops = append(a.stops, draw.Stop{Number: c.stop, Part: c.section.stop.Value, Title: a.plain(c.words.title)})
	}
	for i, child := range c.children {
		child.level = c.level + 1
		if c.number != "" && child.level == 2 {
			child.number = fmt.Sprintf("%s.%d", c.number, i+1)
		}
		a.number(child)
	}
}

func (a *assembly) section(c *chosen) *doc.Section {
	s := &doc.Section{Attributes: doc.Attributes{ID: c.id, Origin: c.words.at}, Level: c.level, Role: c.role, Number: c.number, Short: c.words.short}
	s.Heading = a.heading(c.stop, c.words.title, c.words.at)
	if s.Short == "" {
		s.Short = a.plain(c.words.title)
	}
	a.fenceIn, a.boxes = c, 0
	if c.level == 1 {
		a.shown = map[string]bool{}
	}
	a.bodyInto(s, c.words.body)
	for _, child := range c.children {
		s.Blocks = append(s.Blocks, a.section(child))
	}
	return s
}

func (a *assembly) heading(stop int, title []inline, at source.Pos) *doc.Heading {
	h := &doc.Heading{Attributes: doc.Attributes{Origin: at}}
	if stop > 0 {
		h.Inlines = append(h.Inlines, &doc.PointMark{Number: stop}, text(" "))
	}
	h.Inlines = append(h.Inlines, a.inlines(title)...)
	return h
}

// bodyInto fills the blocks of a section. A heading opens a section of its own
// that runs to the next heading of the same or a higher level; without content
// it vanishes.
func (a *assembly) bodyInto(s *doc.Section, body []piece) {
	for i, n := 0, 0; i < len(body); {
		if body[i].kind != pieceHeading {
			s.Blocks = append(s.Blocks, a.blocks(s, &body[i])...)
			i++
			continue
		}
		end := i + 1
		for end < len(body) && !(body[end].kind == pieceHeading && body[end].level <= body[i].level) {
			end++
		}
		n++
		if a.holds(&body[i]) {
			sub := &doc.Section{Attributes: doc.Attributes{ID: fmt.Sprintf("%s-%d", s.ID, n)}, Level: min(s.Level+1, 6), Role: doc.RolePlain}
			sub.Heading = a.heading(0, body[i].inlines, body[i].at)
			sub.Short = a.plain(body[i].inlines)
			a.bodyInto(sub, body[i+1:end])
			if len(sub.Blocks) > 0 {
				s.Blocks = append(s.Blocks, sub)
			}
		}
		i = end
	}
}

// holds tells whether a piece belongs to this unit.
func (a *assembly) holds(p *piece) bool { return p.when.Holds(a.has) }

// has tells whether the unit has a feature or, spelt value:name, a value.
func (a *assembly) has(name string) bool {
	if value, is := strings.CutPrefix(name, valueKind+":"); is {
		return a.exists(value)
	}
	return a.build.Has(name)
}

// exists tells whether the unit has a value or a word of sheet or line.
func (a *assembly) exists(name string) bool {
	if derive.IsDeclared(name) {
		_, ok := a.values.Lookup(name)
		return ok
	}
	_, there := a.word(name)
	return there
}

// blocks fills a block; one that is not for this unit, or empty for it, gives
// none. In is the section it stands in directly, nil inside a list.
func (a *assembly) blocks(in *doc.Section, p *piece) []doc.Block {
	if !a.holds(p) {
		return nil
	}
	from := doc.Attributes{Origin: p.at}
	switch p.kind {
	case pieceParagraph:
		if list := a.inlines(p.inlines); len(list) > 0 {
			return []doc.Block{&doc.Paragraph{Attributes: from, Inlines: list}}
		}
	case pieceList:
		list := &doc.List{Attributes: from, Ordered: p.ordered, Tight: p.tight}
		if p.ordered {
			list.Start = p.start
		}
		for i := range p.children {
			if item := a.item(&p.children[i]); item != nil {
				list.Items = append(list.Items, item)
			}
		}
		if len(list.Items) > 0 {
			return []doc.Block{list}
		}
	case pieceTable:
		if t := a.table(p); t != nil {
			return []doc.Block{t}
		}
	case pieceFence:
		return a.fence(in, p)
	}
	return nil
}

// item fills an item of a list; nil when nothing of it is for this unit.
func (a *assembly) item(p *piece) *doc.Item {
	if !a.holds(p) {
		return nil
	}
	item := &doc.Item{Attributes: doc.Attributes{Origin: p.at}}
	for i := range p.children {
		item.Blocks = append(item.Blocks, a.blocks(nil, &p.children[i])...)
	}
	if len(item.Blocks) == 0 {
		return nil
	}
	return item
}

// table copies a Markdown table, leaving out rows that do not apply. Nil when
// no row is left.
func (a *assembly) table(p *piece) *doc.Table {
	t := &doc.Table{Attributes: doc.Attributes{Origin: p.at}, Role: doc.TablePlain}
	for i := range p.children {
		row := &p.children[i]
		if !a.holds(row) {
			continue
		}
		n := &doc.Row{}
		for j := range row.children {
			cell := a.cell(row.children[j].inlines)
			if j < len(p.aligns) {
				cell.Align = p.aligns[j]
			}
			n.Cells = append(n.Cells, cell)
		}
		if row.kind == pieceHeaderRow {
			t.Head = n
		} else {
			t.Rows = append(t.Rows, n)
		}
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return t
}

func (a *assembly) inlines(list []inline) (out []doc.Inline) {
	for i := range list {
		in := &list[i]
		switch in.kind {
		case inlineText:
			out = append(out, text(in.text))
		case inlinePlaceholder:
			out = append(out, a.placeholder(in)...)
		case inlineEmphasis:
			out = append(out, &doc.Emphasis{Strong: in.level == 2, Inlines: a.inlines(in.children)})
		case inlineLink:
			out = append(out, a.link(in)...)
		case inlineBox:
			out = append(out, a.box())
		case inlineBreak:
			out = append(out, &doc.Break{})
		}
	}
	return out
}

func (a *assembly) box() *doc.Box {
	a.boxes++
	id := "card"
	if a.fenceIn != nil {
		id = a.fenceIn.id
	}
	return &doc.Box{ID: fmt.Sprintf("tick-%s-%d", id, a.boxes)}
}

// link gives a link. Beside the guide one into it is only its words: from the
// lid of a box no page can be turned to.
func (a *assembly) link(in *inline) []doc.Inline {
	if target, internal := strings.CutPrefix(in.text, "#"); internal {
		a.links = append(a.links, link{target, in.at})
		if a.beside {
			return a.inlines(in.children)
		}
	}
	return []doc.Inline{&doc.Link{To: in.text, Origin: in.at, Inlines: a.inlines(in.children)}}
}

var outside = regexp.MustCompile(`^(https|tel|mailto):[^\s]+$`)

// internalLink makes a link to a section or task of this guide; beside the
// guide, its words.
func (a *assembly) internalLink(id, words string) doc.Inline {
	if a.beside {
		return text(words)
	}
	return &doc.Link{To: "#" + id, Inlines: []doc.Inline{text(words)}}
}

func (a *assembly) checkLinks(sections []*doc.Section) {
	for n := range doc.Walk(sections) {
		if s, ok := n.(*doc.Section); ok {
			a.anchors[s.ID] = true
		}
	}
	for _, l := range a.links {
		if a.anchors[l.target] {
			continue
		}
		f := codeLink.At(l.at, "this guide has no section %q", l.target)
		known, card, mail := false, false, false
		for _, s := range a.base.sections {
			if s.id == l.target {
				known, card, mail = true, s.card == only, s.mail == only
			}
		}
		if card {
			f = f.WithHint("that section is on the card only")
		} else if mail {
			f = f.WithHint("that section is in the mail only")
		} else if known {
			f = f.WithHint("that section is not for this unit; put the condition under which it is there in front of this paragraph")
		} else if near, ok := source.Nearest(l.target, keys(a.anchors)); ok {
			f = f.WithHint("did you mean %q?", near)
		}
		a.findings.Add(f)
	}
}

// fillContents lists chapters and sections once all are there.
func (a *assembly) fillContents(sections []*doc.Section) {
	var entries []doc.Entry
	for n := range doc.Walk(sections) {
		if s, ok := n.(*doc.Section); ok && s.Level <= 2 && s.Role != doc.RoleCover && s.Role != doc.RoleContents {
			entries = append(entries, doc.Entry{Level: s.Level, Number: s.Number, Title: doc.PlainText(s.Heading), ID: s.ID})
		}
	}
	for _, c := range a.contents {
		c.Entries = entries
	}
}

// maxNodes bounds a guide: on its way to paper each node takes some kilobytes.
// The longest guide of the embedded line has 12,000.
const maxNodes = 40000
