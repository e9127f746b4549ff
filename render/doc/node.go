package doc

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"

	"ownerguide/spec/source"
)

// Guide is the assembled guide of one unit.
type Guide struct {
	Lang     string // BCP 47, such as "en"
	Title    string // of the document: model and "owner guide"
	Maker    string
	Model    string
	Serial   string
	VIN      string
	Revision string
	Earlier  int               // revisions before this one
	Issued   string            // ISO 8601 day; dates the PDF
	Notice   string            // the maker's notice, such as "invented for demonstration"; may be empty
	Words    map[string]string // the readers' own words in the guide's language: see [ReaderWords]
	Root     *ast.Document     // children: Sections only
	Field    Ink               // colour of the cover's field and of the bar atop a screen; None leaves it to the reader
	OnField  Ink               // of the words on it
	Card     *Guide            // the half-sheet card, a document of its own without links into this one; may be nil
	Mail     *Guide            // the text of the mail this one is sent with, likewise; its title is the subject; may be nil
	Unit     string            // names the unit among those of all makers
	Visits   []Visit           // the dated schedule, for a calendar; none when the unit has no dates
}

// Visit is one day of the dated schedule, in the words of the guide.
type Visit struct {
	UID   string // unique among all units, and the same in every revision of this one
	Date  string // ISO 8601 day
	Gone  bool   // an earlier revision had it, this one has not
	Title string
	Jobs  []string // what is due, with its figures
	Notes []string // how far the unit has come by then, where the steps stand, whom to call
}

// ReaderWords are the ids a reader may look up in Guide.Words; labels.yaml of
// each language has them all.
var ReaderWords = []string{
	"page", "page-of", // "page {n}", "{n} of {total}": the reader fills in the braces
	"contents", "skip-to-text", "back-to-contents", "serial", "revision", "see-page", // "page {n}" after a link
	"figure", "to-fill-in", "changed",
}

// Section is a chapter or a part of one: an ast.Heading first, then its
// blocks and further Sections.
type Section struct {
	ast.BaseBlock
	ID     string // stable across revisions; the anchor
	Level  int    // 1 chapter, 2 section, 3 subsection
	Role   Role
	Number string // chapter number as printed, such as "5"; empty for unnumbered
	Short  string // title for running heads and tabs
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

// Contents stands where the table of contents goes. The readers build it from
// the Sections: HTML as links, PDF with page numbers.
type Contents struct {
	ast.BaseBlock
	Entries []Entry
}

// Entry is one line of the contents.
type Entry struct {
	Level  int
	Number string
	Title  string
	ID     string
}

// Caution is a safety panel. Children: a Paragraph (the hazard), a Paragraph
// (the consequence), a List (how to avoid it). A brief one, which repeats a
// panel of the same chapter, has two Paragraphs: the hazard and how to avoid it.
type Caution struct {
	ast.BaseBlock
	ID     string
	Word   Word
	Signal string // the signal word in the guide's language
	Brief  bool   // set smaller: the full panel stands earlier in the chapter
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

// Picture is a drawing with its caption. It has no children.
type Picture struct {
	ast.BaseBlock
	ID      string
	Caption string
	Alt     string // what it shows, for who cannot see it
	Drawing *Drawing
	Wide    bool // wants the full text width
}

// Logo is the maker's, on the cover: either shapes or a PNG of Width by Height
// dots without any see-through one. It has no children.
type Logo struct {
	ast.BaseBlock
	Alt           string // the maker's name
	Drawing       *Drawing
	PNG           []byte
	Width, Height int
}

// Form is a place to write on: a ruled line with its label below or before it.
type Form struct {
	ast.BaseBlock
	Label string
	Rules int // ruled lines; 1 for a signature
}

// TableRole is an attribute of goldmark's Table nodes, set by SetTable.
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

// Value is a figure in running text or a table cell. The reader keeps a number
// and its unit on one line: Printed already holds no-break spaces where needed.
type Value struct {
	ast.BaseInline
	Name    string // of the value, such as tires.cold_pressure
	Printed string
}

// Text is resolved text, to be printed as it stands.
type Text struct {
	ast.BaseInline
	Content string
}

// Stop is the mark of a walk-around stop in running text: a number in a circle.
type Stop struct {
	ast.BaseInline
	Number int
}

// Box is a box to tick.
type Box struct {
	ast.BaseInline
	ID string // stable, for the HTML control
}

// Break is a forced line break inside a paragraph, for addresses and the like.
type Break struct{ ast.BaseInline }

// Kinds of our own nodes.
var (
	KindSection  = ast.NewNodeKind("GuideSection")
	KindContents = ast.NewNodeKind("GuideContents")
	KindCaution  = ast.NewNodeKind("GuideCaution")
	KindPicture  = ast.NewNodeKind("GuidePicture")
	KindLogo     = ast.NewNodeKind("GuideLogo")
	KindForm     = ast.NewNodeKind("GuideForm")
	KindValue    = ast.NewNodeKind("GuideValue")
	KindText     = ast.NewNodeKind("GuideText")
	KindStop     = ast.NewNodeKind("GuideStop")
	KindBox      = ast.NewNodeKind("GuideBox")
	KindBreak    = ast.NewNodeKind("GuideBreak")
)

// Kinds lists every node kind a guide can hold; both readers handle each, and
// a test walks this list. Links are ast.Link with a destination "#section-id",
// "tel:", "mailto:" or "https:".
var Kinds = []ast.NodeKind{
	ast.KindDocument, KindSection, ast.KindHeading, ast.KindParagraph, ast.KindTextBlock,
	ast.KindList, ast.KindListItem,
	extast.KindTable, extast.KindTableHeader, extast.KindTableRow, extast.KindTableCell,
	KindContents, KindCaution, KindPicture, KindLogo, KindForm,
	KindText, KindValue, KindStop, KindBox, KindBreak, ast.KindEmphasis, ast.KindLink,
}

// Kind implements ast.Node.
func (*Section) Kind() ast.NodeKind  { return KindSection }
func (*Contents) Kind() ast.NodeKind { return KindContents }
func (*Caution) Kind() ast.NodeKind  { return KindCaution }
func (*Picture) Kind() ast.NodeKind  { return KindPicture }
func (*Logo) Kind() ast.NodeKind     { return KindLogo }
func (*Form) Kind() ast.NodeKind     { return KindForm }
func (*Value) Kind() ast.NodeKind    { return KindValue }
func (*Text) Kind() ast.NodeKind     { return KindText }
func (*Stop) Kind() ast.NodeKind     { return KindStop }
func (*Box) Kind() ast.NodeKind      { return KindBox }
func (*Break) Kind() ast.NodeKind    { return KindBreak }

// Dump implements ast.Node.
func (n *Section) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"ID": n.ID}, nil)
}
func (n *Contents) Dump(src []byte, level int) { ast.DumpHelper(n, src, level, nil, nil) }
func (n *Caution) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"ID": n.ID}, nil)
}
func (n *Picture) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"ID": n.ID}, nil)
}
func (n *Logo) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"Alt": n.Alt}, nil)
}
func (n *Form) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"Label": n.Label}, nil)
}
func (n *Value) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"Name": n.Name, "Printed": n.Printed}, nil)
}
func (n *Text) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"Content": n.Content}, nil)
}
func (n *Stop) Dump(src []byte, level int)  { ast.DumpHelper(n, src, level, nil, nil) }
func (n *Box) Dump(src []byte, level int)   { ast.DumpHelper(n, src, level, nil, nil) }
func (n *Break) Dump(src []byte, level int) { ast.DumpHelper(n, src, level, nil, nil) }

// Names of the attributes that assembled nodes carry.
var (
	attrID      = []byte("id")
	attrOrigin  = []byte("origin")
	attrTable   = []byte("role")
	attrCaption = []byte("caption")
	attrChanged = []byte("changed")
)

// SetID gives a block its stable id; ID reads it, "" without one.
func SetID(n ast.Node, id string) { n.SetAttribute(attrID, id) }

// ID reads a block's stable id.
func ID(n ast.Node) string { return stringAttribute(n, attrID) }

// SetOrigin notes where in the author's file a node comes from.
func SetOrigin(n ast.Node, at source.Pos) { n.SetAttribute(attrOrigin, at) }

// Origin tells where in the author's file a node comes from.
func Origin(n ast.Node) source.Pos {
	if v, ok := n.Attribute(attrOrigin); ok {
		if at, ok := v.(source.Pos); ok {
			return at
		}
	}
	return source.Pos{}
}

// SetTable gives a table its role and caption (for who hears the page; may be empty).
func SetTable(n *extast.Table, role TableRole, caption string) {
	n.SetAttribute(attrTable, string(role))
	n.SetAttribute(attrCaption, caption)
}

// Table reads a table's role and caption.
func Table(n ast.Node) (TableRole, string) {
	role := TableRole(stringAttribute(n, attrTable))
	if role == "" {
		role = TablePlain
	}
	return role, stringAttribute(n, attrCaption)
}

// SetChanged marks a block that differs from the earlier revision of the guide.
func SetChanged(n ast.Node) { n.SetAttribute(attrChanged, "yes") }

// Changed tells whether a block differs from the earlier revision; readers set
// a bar beside it.
func Changed(n ast.Node) bool { return stringAttribute(n, attrChanged) != "" }

func stringAttribute(n ast.Node, name []byte) string {
	if v, ok := n.Attribute(name); ok {
		if s, ok := v.(string); ok {
			return s
		}
	}
	return ""
}

// PlainText gives the words below a node in reading order, without marks.
func PlainText(n ast.Node) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			switch n := n.(type) {
			case *Text:
				b.WriteString(n.Content)
			case *Value:
				b.WriteString(n.Printed)
			case *Break:
				b.WriteByte(' ')
			}
		}
		return ast.WalkContinue, nil
	})
	return strings.TrimSpace(b.String())
}
