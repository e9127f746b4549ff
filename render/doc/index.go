package doc

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
