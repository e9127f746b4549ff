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
	for s := range doc.All[*doc.Section](sections) {
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
			links = append(links, []doc.Inline{entry(a.internalLink(s.ID, cmp.Or(a.lang.Sections[s.ID].Short, a.plain(a.lang.Sections[s.ID].Title))))})
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
func (a *assembly) fillIndex(sections []*doc.Section) {
	if len(a.index) == 0 {
		return
	}
	entries := append(a.signEntries(sections), a.letterEntries(sections)...)
	for _, c := range a.index {
		c.Entries = entries
	}
}

// signEntries returns the symptoms of trouble, by the lists they are in.
func (a *assembly) signEntries(sections []*doc.Section) (entries []doc.Entry) {
	under := ""
	eachTrouble(sections, func(in *doc.Section, n *doc.Trouble) {
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

// letterEntries returns headings and figures by the alphabet of the language.
func (a *assembly) letterEntries(sections []*doc.Section) (entries []doc.Entry) {
	in := map[string]*doc.Section{}
	lookedUp := map[string]bool{}
	place := map[string]int{} // order of each section in the guide
	for _, chapter := range sections {
		for s := range doc.All[*doc.Section]([]*doc.Section{chapter}) {
			in[s.ID], place[s.ID] = s, len(place)
			lookedUp[s.ID] = chapter.Part == "" || chapter.Part != firstPart(sections)
		}
	}
	var found []doc.Entry
	told := map[string]bool{} // figures in the index, and titles with their places
	for _, e := range doc.Index(sections, a.alphabet()) {
		s := in[e.ID]
		if name := figureOf(e.Row); name != "" {
			if told[name] || !lookedUp[e.ID] { // where it is used, its section is listed
				continue
			}
			told[name] = true
			e.Title = beforeMark(e.Title)
			here := e.ID + " " + e.Title
			if told[here] {
				continue
			}
			told[here] = true
		} else if e.Below || s.Level == 1 || s.Role == doc.RoleTask {
			continue
		} else {
			e.Title = cmp.Or(s.Short, e.Title)
		}
		found = append(found, doc.Entry{Level: 2, Title: e.Title, ID: e.ID, Listed: true})
	}
	slices.SortStableFunc(found, func(x, y doc.Entry) int { return cmp.Compare(place[x.ID], place[y.ID]) })
	letter := ""
	for _, e := range doc.Sorted(a.alphabet(), found, func(e doc.Entry) string { return e.Title }) {
		if first := a.alphabet().Letter(e.Title); first != letter {
			letter = first
			entries = append(entries, doc.Entry{Level: 1, Title: letter})
		}
		entries = append(entries, e)
	}
	return entries
}

// beforeMark returns a label without what follows a comma, a colon or a parenthesis, because
// an index lists names.
func beforeMark(label string) string {
	if i := strings.IndexAny(label, ",:("); i > 0 {
		label = label[:i]
	}
	return strings.TrimSpace(label)
}

// firstPart returns the part of the first chapter that is in one.
func firstPart(sections []*doc.Section) string {
	for _, s := range sections {
		if s.Part != "" {
			return s.Part
		}
	}
	return ""
}

// figureOf returns the name of the figure in a row of two cells.
func figureOf(row *doc.Row) string {
	if row == nil {
		return ""
	}
	for v := range doc.All[*doc.Value](row.Cells[1:]) {
		return v.Name
	}
	return ""
}

// eachTrouble visits the trouble entries with the section of each.
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
