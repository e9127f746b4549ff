package doc

import "ownerguide/spec/source"

// Node is any part of a document: a [Block], an [Inline], or a part of a block
// that stands nowhere else ([Heading], [Item], [Row], [Cell]).
type Node interface{ node() }

// Part is a node that a mark of change can stand beside: a block, a heading, a
// list item or a table row.
type Part interface {
	Node
	// Attr gives what all parts have; never nil.
	Attr() *Attributes
}

// Block stands on lines of its own.
type Block interface {
	Part
	block()
}

// Inline stands in running text.
type Inline interface {
	Node
	inline()
}

// Attributes are what blocks and their parts have in common.
type Attributes struct {
	ID      string     // stable across revisions: the anchor that links name; empty for most
	Origin  source.Pos // where in the author's file it comes from; may be the zero place
	History bool       // it tells what an earlier revision said, and is no part of what this one promises
	Changed bool       // it differs from the earlier revision of the guide: readers set a bar beside it
	Lang    string     // of a block in another language than the guide, such as a prescribed text: BCP 47
}

// Attr implements [Part].
func (a *Attributes) Attr() *Attributes { return a }

func (*Attributes) node() {}

// Section is a chapter or a part of one. It always has an ID.
type Section struct {
	Attributes
	Level   int // 1 chapter, 2 section, 3 subsection
	Role    Role
	Part    string // of the guide that a chapter is in, such as "Part 1 · The walk round"; empty where there are none
	Number  string // chapter number as printed, such as "5"; empty for unnumbered
	Short   string // title for running heads and tabs
	Heading *Heading
	Blocks  []Block // further Sections among them
}

// Heading is the title of a section.
type Heading struct {
	Attributes
	Inlines []Inline
}

// Role tells readers how a section is set.
type Role string

// The roles.
const (
	RoleCover     Role = "cover"    // first page: title, picture, numbers you reach for
	RoleContents  Role = "contents" // holds one Contents node
	RoleChapter   Role = "chapter"
	RoleStop      Role = "stop"      // one numbered station of the walk-around
	RoleTask      Role = "task"      // one maintenance job
	RoleStatement Role = "statement" // prescribed text: set at 10 point or larger
	RoleForm      Role = "form"      // to be written on: service log, hand-over record
	RolePlain     Role = "plain"     // any other part of a chapter
)

// Paragraph is running text.
type Paragraph struct {
	Attributes
	Inlines []Inline
}

// List is a list with bullets or, if it is ordered, numbers from Start.
type List struct {
	Attributes
	Ordered bool
	Start   int
	Tight   bool // its items are short: no space between them
	Items   []*Item
}

// Item is one item of a list.
type Item struct {
	Attributes
	Blocks []Block
}

// Table is a table.
type Table struct {
	Attributes
	Role    TableRole
	Caption string // for who hears the page; may be empty
	Head    *Row   // nil for a table without head
	Rows    []*Row
}

// LabelsValues reports whether a table has the shape that fields need: label and value, no head.
func (t *Table) LabelsValues() bool {
	for _, r := range t.Rows {
		if len(r.Cells) != 2 {
			return false
		}
	}
	return t.Head == nil && len(t.Rows) > 0
}

// TableRole tells readers how a table is set.
type TableRole string

// The roles of tables.
const (
	TablePlain    TableRole = "plain"
	TableNumbers  TableRole = "numbers" // the numbers you reach for: two columns, label and large value
	TableValues   TableRole = "values"  // label and value
	TableSchedule TableRole = "schedule"
	TableLog      TableRole = "log"  // empty cells are to be written in
	TableFine     TableRole = "fine" // looked up rather than read: may be set small
)

// Row is a row of a table.
type Row struct {
	Attributes
	Cells []*Cell
}

// Blank reports whether no cell of a row holds anything.
func (r *Row) Blank() bool {
	for _, c := range r.Cells {
		if len(c.Inlines) > 1 || len(c.Inlines) == 1 && PlainText(c.Inlines...) != "" {
			return false
		}
		if len(c.Inlines) == 1 {
			if _, ok := c.Inlines[0].(*Text); !ok {
				return false
			}
		}
	}
	return true
}

// Cell is one cell of a row.
type Cell struct {
	Align   Align
	Inlines []Inline
}

// Align is where the text of a cell stands.
type Align int

// The alignments.
const (
	AlignStart Align = iota
	AlignCenter
	AlignEnd
)

// Contents stands where the table of contents goes. The readers build it from
// the Sections: HTML as links, PDF with page numbers.
type Contents struct {
	Attributes
	Entries []Entry
}

// Entry is one line of the contents.
type Entry struct {
	Level  int
	Number string
	Title  string
	ID     string // empty for a head that only parts an index
	Part   string // of the guide, for a chapter
	Listed bool   // a section that is looked up: on paper the contents name it
}

// Caution is a safety panel. A brief one is a line that reminds of a panel
// which stands in full elsewhere: it has no consequence. One that does not say how to
// avoid the hazard is a line in a list of panels.
type Caution struct {
	Attributes
	Name        string // of its entry, such as unit-rolls
	Word        Word
	Signal      string // the signal word in the guide's language
	Brief       bool
	Full        string // of a brief one the ID of the panel in full; empty where that is in another document
	Hazard      []Inline
	Consequence []Inline
	Avoid       [][]Inline // what to do, a line each; the last is what never to do
}

// JobLine says of a maintenance job who may do it, when it is due and with what.
type JobLine struct {
	Attributes
	Who   []Inline // empty when anybody may
	When  []Inline
	Tools []Inline // may be empty
}

// Limit says where to go no further, and what to do then.
type Limit struct {
	Attributes
	Inlines []Inline
}

// Trouble is one thing that can go wrong, as the owner sees it.
type Trouble struct {
	Attributes
	Symptom  []Inline
	Causes   [][]Inline // the likeliest first
	Remedies [][]Inline // in this order
	Limits   []*Limit
}

// Cause returns the causes as one line, as every reader sets it.
func (t *Trouble) Cause() (out []Inline) {
	for i, c := range t.Causes {
		if i > 0 {
			out = append(out, &Text{Content: " · "})
		}
		out = append(out, c...)
	}
	return out
}

// Word is a signal word after ANSI Z535.6.
type Word string

// The signal words. Notice is for property damage only and has no alert symbol.
const (
	Danger  Word = "danger"
	Warning Word = "warning"
	Care    Word = "caution"
	Notice  Word = "notice"
)

// Blocks are what a panel says below its signal word, as every reader sets it:
// the hazard, then the consequence and a list of how to avoid it; in a brief one
// how to avoid it is one paragraph.
func (c *Caution) Blocks() []Block {
	hazard := &Paragraph{Inlines: c.Hazard}
	if c.Brief {
		avoid := &Paragraph{}
		for i, line := range c.Avoid {
			if i > 0 {
				avoid.Inlines = append(avoid.Inlines, &Text{Content: " "})
			}
			avoid.Inlines = append(avoid.Inlines, line...)
		}
		return []Block{hazard, avoid}
	}
	avoid := &List{Tight: true}
	for _, line := range c.Avoid {
		avoid.Items = append(avoid.Items, &Item{Blocks: []Block{&Paragraph{Inlines: line}}})
	}
	return []Block{hazard, &Paragraph{Inlines: c.Consequence}, avoid}
}

// CutMark takes the box to tick, or the point's mark, that begins an item out of its
// blocks; nil if it begins with neither.
func (n *Item) CutMark() (rest []Block, mark Inline) {
	if len(n.Blocks) == 0 {
		return nil, nil
	}
	p, ok := n.Blocks[0].(*Paragraph)
	if !ok || len(p.Inlines) == 0 {
		return n.Blocks, nil
	}
	switch p.Inlines[0].(type) {
	case *Box, *PointMark:
		without := *p
		without.Inlines = p.Inlines[1:]
		return append([]Block{&without}, n.Blocks[1:]...), p.Inlines[0]
	}
	return n.Blocks, nil
}

// Figure is a drawing with its caption.
type Figure struct {
	Attributes
	Name    string // of the drawing, such as side-view
	Caption string
	Alt     string // what it shows, for who cannot see it
	Drawing *Drawing
	Column  []*View // the same for a column; without one the drawing can be read there
	Wide    bool    // wants the full text width
}

// Logo is the maker's, on the cover, or a picture of the maker's in a section: either shapes or a PNG of Width by Height
// dots without any see-through one.
type Logo struct {
	Attributes
	Alt           string // the maker's name, or what a picture in a section shows
	InText        bool   // it is a picture in a section, as wide as the text lets it
	Drawing       *Drawing
	PNG           []byte
	Width, Height int
}

// Form is a place to write on: a ruled line with its label below or before it.
type Form struct {
	Attributes
	Label string
	Rules int // ruled lines; 1 for a signature
}

// Text is resolved text, to be printed as it stands.
type Text struct {
	Content string
	Origin  source.Pos // of what a build sheet or product line says; else the zero place
}

// Value is a figure in running text or a table cell. The reader keeps a number
// and its unit on one line: Printed already holds no-break spaces where needed.
type Value struct {
	Name    string // of the value, such as tires.cold_pressure
	Printed string
}

// Emphasis is text in italics or, if it is strong, in bold.
type Emphasis struct {
	Strong  bool
	Inlines []Inline
}

// Link leads to "#section-id", "tel:", "mailto:" or "https:".
type Link struct {
	To      string
	Origin  source.Pos
	Listed  bool // an entry of a list that is looked up: on paper the bare number of its page follows, as in the contents
	Inlines []Inline
}

// PointMark is the mark of a point of the walk-around in running text: its
// number in a circle.
type PointMark struct{ Number int }

// Box is a box to tick.
type Box struct {
	ID string // stable, for the HTML control
}

// Break is a forced line break inside a paragraph, for addresses and the like.
type Break struct{}

// Types has one of every type of node. [Digest] and [Walk] know no others, and
// tests of readers go over them.
var Types = []Node{
	&Section{}, &Heading{}, &Paragraph{}, &List{}, &Item{}, &Table{}, &Row{}, &Cell{}, &Contents{}, &Caution{}, &JobLine{}, &Limit{}, &Trouble{}, &Figure{}, &Logo{}, &Form{},
	&Text{}, &Value{}, &Emphasis{}, &Link{}, &PointMark{}, &Box{}, &Break{},
}

func (*Cell) node()      {}
func (*Text) node()      {}
func (*Value) node()     {}
func (*Emphasis) node()  {}
func (*Link) node()      {}
func (*PointMark) node() {}
func (*Box) node()       {}
func (*Break) node()     {}

func (*Section) block()   {}
func (*Paragraph) block() {}
func (*List) block()      {}
func (*Table) block()     {}
func (*Contents) block()  {}
func (*Caution) block()   {}
func (*JobLine) block()   {}
func (*Limit) block()     {}
func (*Trouble) block()   {}
func (*Figure) block()    {}
func (*Logo) block()      {}
func (*Form) block()      {}

func (*Text) inline()      {}
func (*Value) inline()     {}
func (*Emphasis) inline()  {}
func (*Link) inline()      {}
func (*PointMark) inline() {}
func (*Box) inline()       {}
func (*Break) inline()     {}
