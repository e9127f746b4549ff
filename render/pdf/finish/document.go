package finish

import "time"

// Document is what belongs to the whole file and not to a page.
type Document struct {
	Lang     string // BCP 47, as "en-US"; required
	Title    string // required; shown in the window's title bar
	Author   string
	Subject  string
	Keywords string
	Creator  string // the program that made the guide
	Producer string // the program that made the PDF

	// Date is the creation and modification date in the metadata; if zero, both are omitted. It must come from
	// the input, never from the clock, or two runs would differ.
	Date time.Time

	// Root is the structure tree; its role is Document. If nil, the file is untagged, like sheets imposed for printing, whose
	// order is that of folding and not of reading: then all content must be artifacts, and there are no links.
	Root    *Element
	Outline []*Outline // the bookmarks; may be empty
}

// Outline is a bookmark with its children.
type Outline struct {
	Title    string
	Anchor   string // name passed to Pages.Anchor
	Open     bool   // whether the children are shown initially
	Children []*Outline
}

// Element is a node of the structure tree. Its children are in reading order. An element may own pieces of content (see
// Pages.Begin) as well as children; the two are merged in painting order.
//
// An element without content is left out, so that a screen reader does not announce it. Cells of a table that has any content are kept, because
// their position in the row matters. Elements are not modified: those of a text that several documents have may be shared.
type Element struct {
	Role       Role
	Title      string // a name for tools that show the tree; not read aloud
	Alt        string // alternative text; required for Figure
	ActualText string // the characters that a drawn sign stands for, such as "☐"
	Lang       string // if it differs from that of the parent

	Scope     Scope  // table header cells: required for TH
	Numbering string // lists: None, Disc, Circle, Square, Decimal, UpperRoman, LowerRoman, UpperAlpha, LowerAlpha

	Children []*Element
}

// Box is a rectangle in points; X and Y are its top left corner, from the top left of the page.
type Box struct{ X, Y, W, H float64 }

// Moved returns the box moved.
func (b Box) Moved(dx, dy float64) Box { return Box{b.X + dx, b.Y + dy, b.W, b.H} }

// Scope is the cells to which a table header applies.
type Scope string

// The scopes of a header cell.
const (
	ScopeColumn Scope = "Column"
	ScopeRow    Scope = "Row"
)

// Role is a standard structure type (PDF 1.7, ISO 32000-1, 14.8.4).
type Role string

// The roles a guide needs. Any other role is an error.
const (
	RoleDocument  Role = "Document"
	RolePart      Role = "Part"
	RoleSect      Role = "Sect"
	RoleDiv       Role = "Div"
	RoleCaption   Role = "Caption"
	RoleTOC       Role = "TOC"
	RoleTOCI      Role = "TOCI"
	RoleP         Role = "P"
	RoleH1        Role = "H1"
	RoleH2        Role = "H2"
	RoleH3        Role = "H3"
	RoleH4        Role = "H4"
	RoleH5        Role = "H5"
	RoleH6        Role = "H6"
	RoleL         Role = "L"
	RoleLI        Role = "LI"
	RoleLbl       Role = "Lbl"
	RoleLBody     Role = "LBody"
	RoleTable     Role = "Table"
	RoleTHead     Role = "THead"
	RoleTBody     Role = "TBody"
	RoleTR        Role = "TR"
	RoleTH        Role = "TH"
	RoleTD        Role = "TD"
	RoleSpan      Role = "Span"
	RoleReference Role = "Reference"
	RoleLink      Role = "Link"
	RoleFigure    Role = "Figure"
)
