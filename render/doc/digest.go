package doc

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
)

// Digest tells blocks apart by what a reader of them sees: the same words,
// figures and drawings in the same arrangement have the same digest. Marks of
// change, places in the author's files and the look of a page do not enter it.
// Coordinates count to a hundredth of a point, so that processors which round
// the last bit differently agree.
func Digest(blocks ...ast.Node) string {
	h := sha256.New()
	for _, n := range blocks {
		digestInto(h, n)
	}
	return hex.EncodeToString(h.Sum(nil))
}

func digestInto(h hash.Hash, n ast.Node) {
	fmt.Fprintf(h, "(%s %q", n.Kind(), ID(n))
	switch n := n.(type) {
	case *Section:
		fmt.Fprintf(h, "%q %d %q %q %q", n.ID, n.Level, n.Role, n.Number, n.Short)
	case *Contents:
		fmt.Fprintf(h, "%v", n.Entries)
	case *Caution:
		fmt.Fprintf(h, "%q %q %q %t", n.ID, n.Word, n.Signal, n.Brief)
	case *Picture:
		fmt.Fprintf(h, "%q %q %q %t", n.ID, n.Caption, n.Alt, n.Wide)
		if n.Drawing != nil {
			n.Drawing.digestInto(h)
		}
	case *Logo: // its picture is look
		fmt.Fprintf(h, "%q", n.Alt)
	case *Form:
		fmt.Fprintf(h, "%q %d", n.Label, n.Rules)
	case *Value:
		fmt.Fprintf(h, "%q", n.Printed)
	case *Text:
		fmt.Fprintf(h, "%q", n.Content)
	case *Stop:
		fmt.Fprintf(h, "%d", n.Number)
	case *Box:
		fmt.Fprintf(h, "%q", n.ID)
	case *ast.List:
		fmt.Fprintf(h, "%q %d %t", n.Marker, n.Start, n.IsTight)
	case *ast.Emphasis:
		fmt.Fprintf(h, "%d", n.Level)
	case *ast.Link:
		fmt.Fprintf(h, "%q", n.Destination)
	case *extast.Table:
		role, caption := Table(n)
		fmt.Fprintf(h, "%q %q", role, caption)
	}
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		digestInto(h, c)
	}
	h.Write([]byte{')'})
}

func (d *Drawing) digestInto(h hash.Hash) {
	fmt.Fprintf(h, "[%.2f %.2f", d.Width, d.Height)
	for _, shape := range d.Shapes {
		switch s := shape.(type) {
		case *Path:
			s.Style.digestInto(h)
			fmt.Fprintf(h, "path %.2f %t", s.From, s.Closed)
			for _, g := range s.Segments {
				fmt.Fprintf(h, "%.2f %.2f %.2f %t", g.To, g.C1, g.C2, g.Curve)
				if g.Move {
					fmt.Fprint(h, "move")
				}
			}
		case *Circle:
			s.Style.digestInto(h)
			fmt.Fprintf(h, "circle %.2f %.2f", s.Center, s.Radius)
		case *Label:
			fmt.Fprintf(h, "label %.2f %q %.2f %t %d %.2f %d", s.At, s.Text, s.Size, s.Bold, s.Anchor, s.Turn, s.Ink)
		}
	}
	h.Write([]byte{']'})
}

func (s Style) digestInto(h hash.Hash) {
	fmt.Fprintf(h, "%d %.2f %.2f %d", s.Line, s.Width, s.Dash, s.Fill)
}
