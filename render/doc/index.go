package doc

import (
	"cmp"
	"slices"
	"strings"
)

// Indexed is an entry of the alphabetical index.
type Indexed struct {
	Title, ID string
	Answer    string // a figure; empty for a heading
	Table     *Table // the table that contains the figure
	Row       *Row
	Below     bool // the heading of a subsection
}

// Index returns the index entries of all headings and of the figures in tables of label and
// value, sorted by the alphabet. Each title occurs once for each place.
func Index(sections []*Section, alphabet Alphabet) []Indexed {
	var out []Indexed
	type place struct{ title, id string }
	seen := map[place]bool{}
	add := func(e Indexed) {
		if at := (place{e.Title, e.ID}); e.Title != "" && !seen[at] {
			seen[at] = true
			out = append(out, e)
		}
	}
	var visit func(s *Section)
	visit = func(s *Section) {
		if s.Heading != nil && s.Role != RoleCover && s.Role != RoleContents {
			add(Indexed{Title: PlainText(s.Heading), ID: s.ID, Below: s.Level > 2 && s.Role == RolePlain})
		}
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case *Section:
				visit(b)
			case *Table:
				if b.Role != TableNumbers && b.Role != TableValues {
					continue
				}
				for _, row := range b.Rows {
					if len(row.Cells) == 2 {
						add(Indexed{Title: PlainText(row.Cells[0]), ID: s.ID, Answer: PlainText(row.Cells[1]), Table: b, Row: row})
					}
				}
			}
		}
	}
	for _, s := range sections {
		visit(s)
	}
	return Sorted(alphabet, out, func(e Indexed) string { return e.Title })
}

// Letters returns the entries of the index at the end of a guide: headings, and the figures of the cover and of the
// second part, each once, under their letters.
func Letters(sections []*Section, alphabet Alphabet) (entries []Entry) {
	in := map[string]*Section{}
	lookedUp := map[string]bool{}
	place := map[string]int{} // order of each section in the guide
	for _, chapter := range sections {
		for s := range Sections([]*Section{chapter}) {
			in[s.ID], place[s.ID] = s, len(place)
			lookedUp[s.ID] = chapter.Part == "" || chapter.Part != firstPart(sections)
		}
	}
	var found []Entry
	told := map[string]bool{} // figures in the index, and titles with their places
	for _, e := range Index(sections, alphabet) {
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
		} else if e.Below || s.Level == 1 || s.Role == RoleTask {
			continue
		} else {
			e.Title = cmp.Or(s.Short, e.Title)
		}
		found = append(found, Entry{Level: 2, Title: e.Title, ID: e.ID, Listed: true})
	}
	slices.SortStableFunc(found, func(x, y Entry) int { return cmp.Compare(place[x.ID], place[y.ID]) })
	letter := ""
	for _, e := range Sorted(alphabet, found, func(e Entry) string { return e.Title }) {
		if first := alphabet.Letter(e.Title); first != letter {
			letter = first
			entries = append(entries, Entry{Level: 1, Title: letter})
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
func firstPart(sections []*Section) string {
	for _, s := range sections {
		if s.Part != "" {
			return s.Part
		}
	}
	return ""
}

// figureOf returns the name of the figure in a row of two cells.
func figureOf(row *Row) string {
	if row == nil {
		return ""
	}
	for v := range All[*Value](row.Cells[1:]) {
		return v.Name
	}
	return ""
}

// EachTrouble visits the trouble entries with the section of each.
func EachTrouble(sections []*Section, visit func(in *Section, n *Trouble)) {
	for _, s := range sections {
		for _, b := range s.Blocks {
			switch b := b.(type) {
			case *Section:
				EachTrouble([]*Section{b}, visit)
			case *Trouble:
				visit(s, b)
			}
		}
	}
}
