package finish

import "time"

// Document says about the whole file what is not on any page.
type Document struct {
	Lang     string // BCP 47, as "en-US"; required
	Title    string // required; shown in the window's title bar
	Author   string
	Subject  string
	Keywords string
	Creator  string // the program that wrote the guide
	Producer string // the program that wrote the PDF

	// Date stands in the metadata as date of creation and of change; the zero time leaves both out. It must come from
	// the input, never from the clock, or two runs would differ.
	Date time.Time

	// Root is the structure tree; its role is Document. Without one the file is untagged, as sheets imposed for printing are, whose
	// order is that of folding and not of reading: then all content must be artifacts, and there are no links.
	Root    *Element
	Outline []*Outline // the bookmarks; may be empty
}

// Outline is one bookmark with those below it.
type Outline struct {
	Title    string
	Anchor   string // name given to Marks.Anchor
	Open     bool   // whether the children show at first
	Children []*Outline
}

// Element is one node of the structure tree. Its children stand in reading order. An element may own pieces of content (see
// Marks.Begin) as well as children; the two are merged by the order in which they were painted.
//
// An element without any content below it is an error, because it was laid out and never painted; only a table cell may be empty.
type Element struct {
	Role       Role
	Title      string // a name for people who inspect the tree; not read aloud
	Alt        string // words in place of a picture; required for Figure
	ActualText string // the characters a drawn sign stands for, as "☐"
	Lang       string // where it differs from the element above

	Scope     Scope  // table header cells: required for TH
	Numbering string // lists: None, Disc, Circle, Square, Decimal, UpperRoman, LowerRoman, UpperAlpha, LowerAlpha
	Box       *Box   // figures: where the picture lies on its page

	Children []*Element
}

// Box is a rectangle in points; X and Y are its top left corner counted from the top left of the page.
type Box struct{ X, Y, W, H float64 }

// Scope says which cells a table header explains.
type Scope string

// The scopes of a header cell.
const (
	ScopeColumn Scope = "Column"
	ScopeRow    Scope = "Row"
)

// Role is a standard structure type (PDF 1.7, ISO 32000-1, 14.8.4).
type Role string

// The roles a guide needs. A role that is not in this list is an error.
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
