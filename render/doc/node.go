package doc

import "ownerguide/spec/source"

// Node is any part of a document: a [Block], an [Inline], or a part of a block
// ([Heading], [Item], [Row], [Cell]).
type Node interface{ node() }

// Part is a node that can have a change bar: a block, a heading, a list item or a
// table row.
type Part interface {
	Node
	// Attr returns the common attributes; never nil.
	Attr() *Attributes
}

// Block is a block-level node.
type Block interface {
	Part
	block()
}

// Inline is a node in running text.
type Inline interface {
	Node
	inline()
}

// Attributes are common to blocks and their parts.
type Attributes struct {
	ID      string     // stable across revisions, the target of links; mostly empty
	Origin  source.Pos // position in the source file; may be zero
	History bool       // it describes an earlier revision, and is not covered by the digest of this one
	Changed bool       // it differs from the earlier revision of the guide: readers set a change bar
	Lang    string     // language of a block if not that of the guide, such as a prescribed text: BCP 47

	shared *shared // see [Share]
}

// Attr implements [Part].
func (a *Attributes) Attr() *Attributes { return a }

func (*Attributes) node() {}

// Section is a chapter or a section of one. It always has an ID.
type Section struct {
	Attributes
	Level   int // 1 chapter, 2 section, 3 subsection
	Role    Role
	Part    string // the part of the guide that a chapter is in, such as "Part 1 · The walk round"; empty if there are no parts
	Number  string // chapter number as printed, such as "5"; empty for unnumbered
	Short   string // title for running heads and tabs
	Heading *Heading
	Blocks  []Block // including subsections
}

// Heading is the title of a section.
type Heading struct {
	Attributes
	Inlines []Inline
}

// Role is how a section is set.
type Role string

// The roles.
const (
	RoleCover     Role = "cover"    // first page: title, picture, numbers you reach for
	RoleContents  Role = "contents" // holds one Contents node
	RoleChapter   Role = "chapter"
	RoleStop      Role = "stop"      // one numbered station of the walk-around
	RoleTask      Role = "task"      // one maintenance job
	RoleStatement Role = "statement" // prescribed text: set at 10 point or larger
	RoleForm      Role = "form"      // to be filled in: service log, hand-over record
	RolePlain     Role = "plain"     // any other section of a chapter
)

// Paragraph is running text.
type Paragraph struct {
	Attributes
	Inlines []Inline
}

// List is a list with bullets or, if Ordered, with numbers from Start.
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
	Caption string // for screen readers; may be empty
	Head    *Row   // nil for a table without head
	Rows    []*Row
}

// LabelsValues reports whether a table has the form of fields: rows of label and value, no head.
func (t *Table) LabelsValues() bool {
	for _, r := range t.Rows {
		if len(r.Cells) != 2 {
			return false
		}
	}
	return t.Head == nil && len(t.Rows) > 0
}

// TableRole is how a table is set.
type TableRole string

// The roles of tables.
const (
	TablePlain    TableRole = "plain"
	TableNumbers  TableRole = "numbers" // the numbers you reach for: two columns, label and large value
	TableValues   TableRole = "values"  // label and value
	TableSchedule TableRole = "schedule"
	TableLog      TableRole = "log"  // empty cells are to be filled in
	TableFine     TableRole = "fine" // for reference: may be set small
)

// Row is a row of a table.
type Row struct {
	Attributes
	Cells []*Cell
}

// Blank reports whether all cells of a row are empty.
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

// Align is the alignment of the text of a cell.
type Align int

// The alignments.
const (
	AlignStart Align = iota
	AlignCenter
	AlignEnd
)

// Contents is the place of the table of contents. Readers build it from the sections:
// HTML as links, PDF with page numbers.
type Contents struct {
	Attributes
	Entries []Entry
}

// Entry is one line of the contents.
type Entry struct {
	Level  int
	Number string
	Title  string
	ID     string // empty for a heading that divides an index
	Part   string // the part of the guide, for a chapter
	Listed bool   // a section for reference: included in the contents on paper
}

// Caution is a safety panel. A brief one is a one-line reminder of a panel that is
// given in full elsewhere; it has no consequence. One without Avoid is a line in a list
// of panels.
type Caution struct {
	Attributes
	Name        string // id of its entry, such as unit-rolls
	Word        Word
	Signal      string // the signal word in the guide's language
	Brief       bool
	Full        string // for a brief one, the ID of the full panel; empty if that is in another document
	Hazard      []Inline
	Consequence []Inline
	Avoid       [][]Inline // what to do, one line each; the last is what never to do
}

// JobLine is who may do a maintenance job, when it is due and with which tools.
type JobLine struct {
	Attributes
	Who   []Inline // empty if anybody may
	When  []Inline
	Tools []Inline // may be empty
}

// Limit is the point at which to stop, and what to do then.
type Limit struct {
	Attributes
	Inlines []Inline
}

// Trouble is one thing that can go wrong, as the owner sees it.
type Trouble struct {
	Attributes
	Symptom  []Inline
	Causes   [][]Inline // the most likely first
	Remedies [][]Inline // in this order
	Limits   []*Limit
}

// Cause returns the causes as one line, the same for every reader.
func (t *Trouble) Cause() (out []Inline) {
	for i, c := range t.Causes {
		if i > 0 {
			out = append(out, &Text{Content: " · "})
		}
		out = append(out, c...)
	}
	return out
}

// Word is a signal word as defined by ANSI Z535.6.
type Word string

// The signal words. Notice is for property damage only and has no alert symbol.
const (
	Danger  Word = "danger"
	Warning Word = "warning"
	Care    Word = "caution"
	Notice  Word = "notice"
)

// Blocks returns the content of a panel below its signal word, the same for every reader: the
// hazard, then the consequence and a list of how to avoid it. In a brief panel how to
// avoid it is one paragraph.
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

// CutMark returns the blocks of an item without the box or point mark at their beginning,
// and that mark; nil if there is none.
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
	Name    string // name of the drawing, such as side-view
	Caption string
	Alt     string // text alternative
	Drawing *Drawing
	Column  []*View // the same laid out for a column; if empty, the drawing is legible there
	Wide    bool    // needs the full text width
}

// Logo is the maker's logo on the cover, or a maker's picture in a section: either shapes or an opaque PNG of
// Width by Height pixels.
type Logo struct {
	Attributes
	Alt           string // the maker's name, or what a picture in a section shows
	InText        bool   // a picture in a section, as wide as the text allows
	Drawing       *Drawing
	PNG           []byte
	Width, Height int
}

// Form is a field to fill in: ruled lines with a label below or before them.
type Form struct {
	Attributes
	Label string
	Rules int // number of ruled lines; 1 for a signature
}

// Text is literal text.
type Text struct {
	Content string
	Origin  source.Pos // position of text from a build sheet or product line; else zero
}

// Value is a figure in running text or a table cell. Printed has no-break spaces where
// a number and its unit must stay on one line.
type Value struct {
	Name    string // name of the value, such as tires.cold_pressure
	Printed string
}

// Emphasis is text in italics or, if Strong, in bold.
type Emphasis struct {
	Strong  bool
	Inlines []Inline
}

// Link is a link to "#section-id", "tel:", "mailto:" or "https:".
type Link struct {
	To      string
	Origin  source.Pos
	Listed  bool // an entry of a reference list: on paper its page number follows, as in the contents
	Inlines []Inline
}

// PointMark is the mark of a point of the walk-around in running text: a number in a
// circle.
type PointMark struct{ Number int }

// Box is a checkbox.
type Box struct {
	ID string // stable, for the HTML control
}

// Break is a forced line break inside a paragraph, as in addresses.
type Break struct{}

// Types has one value of every type of node. [Digest] and [Walk] handle exactly these, and
// tests of readers iterate over them.
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
