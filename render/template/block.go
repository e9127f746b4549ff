package template

import (
	"fmt"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// Block is a compiled block of a text, or a part of one.
type Block struct {
	Kind    BlockKind
	At      source.Pos
	When    logic.Condition
	Level   int         // of a heading
	Ordered bool        // of a list
	Start   int         // first number of an ordered list
	Tight   bool        // of a list
	Aligns  []doc.Align // of a table's columns
	Inlines []Inline
	Blocks  []Block // a list's items, an item's blocks, a table's rows, or a row's cells
	Call    *Call   // of a CallBlock
}

// Calls reports whether a block or a part of it is filled in by a directive.
func (b *Block) Calls() bool {
	if b.Kind == CallBlock {
		return true
	}
	for i := range b.Blocks {
		if b.Blocks[i].Calls() {
			return true
		}
	}
	return false
}

// BlockKind is the kind of a block.
type BlockKind int

// The kinds of blocks.
const (
	Paragraph BlockKind = iota
	Limit               // a block quotation: the point at which to stop
	Heading
	List
	Item
	Table
	HeadRow
	Row
	Cell
	CallBlock
)

// String returns the kind of a block in words for a user.
func (b *Block) String() string {
	switch b.Kind {
	case Limit:
		return "limit"
	case Heading:
		return fmt.Sprintf("heading of level %d", b.Level)
	case List:
		if b.Ordered {
			return fmt.Sprintf("list of %d steps", len(b.Blocks))
		}
		return fmt.Sprintf("list of %d lines", len(b.Blocks))
	case Item:
		return "line of a list"
	case Table:
		return fmt.Sprintf("table of %d rows", len(b.Blocks))
	case HeadRow:
		return "head of a table"
	case Row:
		return "row"
	case Cell:
		return "cell"
	case CallBlock:
		return b.Call.String()
	}
	return "paragraph"
}

// Call is a block that the program fills in.
type Call struct {
	Name  string // of the directive
	Args  []string
	Lines []Line
}

// String returns the call's first line.
func (c *Call) String() string { return fmt.Sprintf("```%s %s", c.Name, strings.Join(c.Args, " ")) }

// Arg returns an argument by its number, or "".
func (c *Call) Arg(i int) string {
	if i < len(c.Args) {
		return c.Args[i]
	}
	return ""
}

// Line is one line inside a call: an optional condition, an optional name before
// a colon, and text with placeholders.
type Line struct {
	At      source.Pos
	When    logic.Condition
	Name    string // "" if the line does not begin with "name: "
	Inlines []Inline
}

// Inline is a compiled part of running text.
type Inline struct {
	Kind    InlineKind
	At      source.Pos
	Text    string // text, name of a placeholder, destination of a link
	Strong  bool   // of emphasis
	Inlines []Inline
}

// InlineKind is the kind of an inline.
type InlineKind int

// The kinds of inlines.
const (
	Text InlineKind = iota
	Placeholder
	Emphasis
	Link
	Box
	Break
)

// HeadingEnd returns the end of the range of blocks under the heading at index i of a
// body, the heading included.
func HeadingEnd(body []Block, i int) (end int) {
	end = i + 1
	for end < len(body) && !(body[end].Kind == Heading && body[end].Level <= body[i].Level) {
		end++
	}
	return end
}
