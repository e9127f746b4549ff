package render

import (
	"cmp"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
)

func (a *assembly) contentsBlock(_ *doc.Section, p *template.Block) []doc.Block {
	n := &doc.Contents{Attributes: doc.Attributes{Origin: p.At}}
	a.contents = append(a.contents, n)
	return []doc.Block{n}
}

func (a *assembly) indexBlock(_ *doc.Section, p *template.Block) []doc.Block {
	n := &doc.Contents{Attributes: doc.Attributes{Origin: p.At}}
	a.index = append(a.index, n)
	return []doc.Block{n}
}

// fillContents lists chapters and sections when all are there.
func (a *assembly) fillContents(sections []*doc.Section) {
	listed := map[string]bool{}
	for _, s := range a.templates.Sections() {
		listed[s.ID] = s.Listed
	}
	var entries []doc.Entry
	part := ""
	for s := range doc.Sections(sections) {
		if s.Level > 2 || s.Role == doc.RoleCover || slices.ContainsFunc(s.Blocks, a.isContents) {
			continue
		}
		if s.Level == 1 {
			part = s.Part
		}
		entries = append(entries, doc.Entry{Level: s.Level, Number: s.Number, Title: doc.PlainText(s.Heading), ID: s.ID, Part: part, Listed: listed[s.ID]})
	}
	for _, c := range a.contents {
		c.Entries = entries
	}
}

// leads returns the line at the end of a section with links to the sections that ask for one.
func (a *assembly) leads(c *chosen) []doc.Block {
	var links [][]doc.Inline
	for _, s := range a.templates.Sections() {
		asks := slices.ContainsFunc(s.From, func(id word) bool { return id.Value == c.ID })
		if asks && !a.beside && a.anchors[s.ID] {
			words := a.lang.Sections[s.ID]()
			links = append(links, []doc.Inline{entry(a.internalLink(s.ID, cmp.Or(words.Short, a.plain(words.Title))))})
		}
	}
	if len(links) == 0 {
		return nil
	}
	line := a.sentence("trouble-at", map[string][]doc.Inline{"sections": a.list("list.comma", "list.comma", links...)})
	return []doc.Block{&doc.Paragraph{Attributes: doc.Attributes{Origin: c.words.At}, Inlines: line}}
}

// isContents reports whether a block is the table of contents.
func (a *assembly) isContents(b doc.Block) bool {
	n, ok := b.(*doc.Contents)
	return ok && slices.Contains(a.contents, n)
}

// fillIndex lists the symptoms of trouble by the list they are in, and by letter the
// headings and the figures of the cover and of the second part, each once. Chapters are in
// the contents, and jobs in the schedule.
func (a *assembly) fillIndex(g *doc.Guide) {
	if len(a.index) == 0 {
		return
	}
	g.Index = doc.Index(g.Sections, g.Alphabet)
	entries := append(a.signEntries(g.Sections), doc.Letters(g.Sections, g.Index, g.Alphabet)...)
	for _, c := range a.index {
		c.Entries = entries
	}
}

// signEntries returns the symptoms of trouble, by the lists they are in.
func (a *assembly) signEntries(sections []*doc.Section) (entries []doc.Entry) {
	under := ""
	doc.EachTrouble(sections, func(in *doc.Section, n *doc.Trouble) {
		if in.ID != under {
			under = in.ID
			entries = append(entries, doc.Entry{Level: 1, Title: in.Short})
		}
		title := n.Symptom
		if words := a.lang.Troubles[strings.TrimPrefix(n.ID, signOf)]; words != nil && words.Short != nil {
			title = a.inlines(words.Short)
		}
		entries = append(entries, doc.Entry{Level: 2, Title: strings.TrimSuffix(doc.PlainText(title...), "."), ID: n.ID, Listed: true})
	})
	return entries
}
