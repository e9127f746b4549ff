package render

import (
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

// fillContents lists chapters and sections once all are there.
func (a *assembly) fillContents(sections []*doc.Section) {
	listed := map[string]bool{}
	for _, s := range a.templates.Sections() {
		listed[s.ID] = s.Listed
	}
	var entries []doc.Entry
	part := ""
	for n := range doc.Walk(sections) {
		s, ok := n.(*doc.Section)
		if !ok || s.Level > 2 || s.Role == doc.RoleCover || slices.ContainsFunc(s.Blocks, a.isContents) {
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

// leads makes the line at the end of a section that leads to those that ask for one.
func (a *assembly) leads(c *chosen) []doc.Block {
	n := &doc.Paragraph{Attributes: doc.Attributes{Origin: c.words.At}}
	for _, s := range a.templates.Sections() {
		asks := slices.ContainsFunc(s.From, func(id word) bool { return id.Value == c.ID })
		if !asks || a.beside || !a.anchors[s.ID] {
			continue
		}
		before := a.label("list.comma")
		if len(n.Inlines) == 0 {
			before = a.label("trouble-at")
		}
		n.Inlines = append(n.Inlines, text(before), a.internalLink(s.ID, a.plain(a.lang.Sections[s.ID].Title)))
	}
	if len(n.Inlines) == 0 {
		return nil
	}
	return []doc.Block{n}
}

// isContents tells whether a block is the contents themselves.
func (a *assembly) isContents(b doc.Block) bool {
	n, ok := b.(*doc.Contents)
	return ok && slices.Contains(a.contents, n)
}

// fillIndex lists what one may notice, by the heads it is filed under, and the
// headings and figures by letter. Chapters stand in the contents, and jobs in the
// schedule.
func (a *assembly) fillIndex(sections []*doc.Section) {
	if len(a.index) == 0 {
		return
	}
	var entries []doc.Entry
	head := func(title string) { entries = append(entries, doc.Entry{Level: 1, Title: title}) }
	under := ""
	eachTrouble(sections, func(in *doc.Section, n *doc.Trouble) {
		if in.ID != under {
			under = in.ID
			head(in.Short)
		}
		entries = append(entries, doc.Entry{Level: 2, Title: strings.TrimSuffix(doc.PlainText(n.Symptom...), "."), ID: n.ID, Listed: true})
	})
	elsewhere := map[string]bool{}
	for n := range doc.Walk(sections) {
		if s, ok := n.(*doc.Section); ok && (s.Level == 1 || s.Role == doc.RoleTask) {
			elsewhere[s.ID] = true
		}
	}
	letter := ""
	for _, e := range doc.Index(sections) {
		if e.Below || e.Answer == "" && elsewhere[e.ID] {
			continue
		}
		if first := strings.ToUpper(string([]rune(e.Title)[:1])); first != letter {
			letter = first
			head(letter)
		}
		entries = append(entries, doc.Entry{Level: 2, Title: e.Title, ID: e.ID, Listed: true})
	}
	for _, c := range a.index {
		c.Entries = entries
	}
}

// eachTrouble visits the trouble entries with the section each stands in.
func eachTrouble(sections []*doc.Section, visit func(in *doc.Section, n *doc.Trouble)) {
	for _, s := range sections {
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case *doc.Section:
				eachTrouble([]*doc.Section{b}, visit)
			case *doc.Trouble:
				visit(s, b)
			}
		}
	}
}
