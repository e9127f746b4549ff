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
	in        *Section
	part      string // of its chapter
	place     int    // order of its section in the guide
}

// Index returns the index entries of all headings and of the figures in tables of label and
// value, sorted by the alphabet. Each title occurs once for each place.
func Index(sections []*Section, alphabet Alphabet) []Indexed {
	out := make([]Indexed, 0, 512)
	places, part := 0, ""
	var visit func(s *Section)
	visit = func(s *Section) {
		first, place := len(out), places
		places++
		add := func(e Indexed) {
			if e.Title != "" && !slices.ContainsFunc(out[first:], func(o Indexed) bool { return o.Title == e.Title && o.ID == s.ID }) {
				e.ID, e.in, e.part, e.place = s.ID, s, part, place
				out = append(out, e)
			}
		}
		if s.Heading != nil && s.Role != RoleCover && s.Role != RoleContents {
			add(Indexed{Title: PlainText(s.Heading), Below: s.Level > 2 && s.Role == RolePlain})
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
						add(Indexed{Title: PlainText(row.Cells[0]), Answer: PlainText(row.Cells[1]), Table: b, Row: row})
					}
				}
			}
		}
	}
	for _, s := range sections {
		part = s.Part
		visit(s)
	}
	return Sorted(alphabet, out, func(e Indexed) string { return e.Title })
}

// Letters returns, of all entries, those of the index at the end of a guide: headings, and the figures of the cover and of the
// second part, each once, under their letters.
func Letters(sections []*Section, index []Indexed, alphabet Alphabet) (entries []Entry) {
	first := firstPart(sections)
	type entry struct {
		title, id string
		place     int
	}
	found := make([]entry, 0, len(index))
	told := map[string]bool{} // figures in the index, and titles with their places
	for _, e := range index {
		if name := figureOf(e.Row); name != "" {
			if told[name] || e.part != "" && e.part == first { // where it is used, its section is listed
				continue
			}
			told[name] = true
			e.Title = beforeMark(e.Title)
			here := e.ID + " " + e.Title
			if told[here] {
				continue
			}
			told[here] = true
		} else if e.Below || e.in.Level == 1 || e.in.Role == RoleTask {
			continue
		} else {
			e.Title = cmp.Or(e.in.Short, e.Title)
		}
		found = append(found, entry{e.Title, e.ID, e.place})
	}
	slices.SortStableFunc(found, func(x, y entry) int { return cmp.Compare(x.place, y.place) })
	letter := ""
	for _, e := range Sorted(alphabet, found, func(e entry) string { return e.title }) {
		if first := alphabet.Letter(e.title); first != letter {
			letter = first
			entries = append(entries, Entry{Level: 1, Title: letter})
		}
		entries = append(entries, Entry{Level: 2, Title: e.title, ID: e.id, Listed: true})
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
	for s := range Sections(sections) {
		for _, b := range s.Blocks {
			if n, ok := b.(*Trouble); ok {
				visit(s, n)
			}
		}
	}
}
