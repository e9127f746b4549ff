package doc

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"reflect"

	"ownerguide/spec/source"
)

// Digest tells nodes apart by what a reader of them sees: the same words,
// figures and drawings in the same arrangement have the same digest. It decides
// whether a guide that was delivered may be written again. Marks of change,
// places in the author's files, the names of values and the look of a logo do
// not enter it. Coordinates count to a hundredth of a point, so that processors
// which round the last bit differently agree. It panics on a node or shape that
// it does not know.
func Digest[N Node](nodes ...N) string {
	h := sha256.New()
	digestAll(h, nodes)
	return hex.EncodeToString(h.Sum(nil))
}

func digestAll[N Node](h hash.Hash, nodes []N) {
	for _, n := range nodes {
		digestInto(h, n)
	}
}

// digestLines keeps lines apart.
func digestLines(h hash.Hash, what string, lines [][]Inline) {
	for _, line := range lines {
		fmt.Fprint(h, what)
		digestAll(h, line)
	}
}

// names is what a digest calls the types of [Types].
var names = func() map[reflect.Type]string {
	out := map[reflect.Type]string{}
	for _, n := range Types {
		t := reflect.TypeOf(n)
		out[t] = t.Elem().Name()
	}
	return out
}()

func digestInto(h hash.Hash, n Node) {
	name, ok := names[reflect.TypeOf(n)]
	if !ok {
		panic(Unknown(n, source.Pos{}))
	}
	fmt.Fprintf(h, "(%s", name)
	if p, ok := n.(Part); ok {
		fmt.Fprintf(h, " %q", p.Attr().ID)
	}
	switch n := n.(type) {
	case *Section:
		fmt.Fprintf(h, "%d %q %q %q", n.Level, n.Role, n.Number, n.Short)
		if n.Heading != nil {
			digestInto(h, n.Heading)
		}
		digestAll(h, n.Blocks)
	case *Heading:
		digestAll(h, n.Inlines)
	case *Paragraph:
		digestAll(h, n.Inlines)
	case *List:
		fmt.Fprintf(h, "%t %d %t", n.Ordered, n.Start, n.Tight)
		digestAll(h, n.Items)
	case *Item:
		digestAll(h, n.Blocks)
	case *Table:
		fmt.Fprintf(h, "%q %q", n.Role, n.Caption)
		if n.Head != nil {
			fmt.Fprint(h, "head")
			digestInto(h, n.Head)
		}
		digestAll(h, n.Rows)
	case *Row:
		digestAll(h, n.Cells)
	case *Cell:
		fmt.Fprintf(h, "%d", n.Align)
		digestAll(h, n.Inlines)
	case *Contents:
		for _, e := range n.Entries {
			fmt.Fprintf(h, "%d %q %q %q", e.Level, e.Number, e.Title, e.ID)
		}
	case *Caution:
		fmt.Fprintf(h, "%q %q %q %t %q", n.Name, n.Word, n.Signal, n.Brief, n.Full)
		digestAll(h, n.Hazard)
		fmt.Fprint(h, "consequence")
		digestAll(h, n.Consequence)
		digestLines(h, "avoid", n.Avoid)
	case *JobLine:
		digestLines(h, "part", [][]Inline{n.Who, n.When, n.Tools})
	case *Limit:
		digestAll(h, n.Inlines)
	case *Trouble:
		digestAll(h, n.Symptom)
		digestLines(h, "cause", n.Causes)
		digestLines(h, "remedy", n.Remedies)
		digestAll(h, n.Limits)
	case *Figure:
		fmt.Fprintf(h, "%q %q %q %t", n.Name, n.Caption, n.Alt, n.Wide)
		if n.Drawing != nil {
			n.Drawing.digestInto(h)
		}
	case *Logo: // its picture is look
		fmt.Fprintf(h, "%q", n.Alt)
	case *Form:
		fmt.Fprintf(h, "%q %d", n.Label, n.Rules)
	case *Text:
		fmt.Fprintf(h, "%q", n.Content)
	case *Value:
		fmt.Fprintf(h, "%q", n.Printed)
	case *Emphasis:
		fmt.Fprintf(h, "%t", n.Strong)
		digestAll(h, n.Inlines)
	case *Link:
		fmt.Fprintf(h, "%q", n.To)
		digestAll(h, n.Inlines)
	case *PointMark:
		fmt.Fprintf(h, "%d", n.Number)
	case *Box:
		fmt.Fprintf(h, "%q", n.ID)
	case *Break:
	default:
		panic(Unknown(n, source.Pos{}))
	}
	h.Write([]byte{')'})
}

// DrawingDigest tells drawings apart in the same way; empty for none.
func DrawingDigest(d *Drawing) string {
	if d == nil {
		return ""
	}
	h := sha256.New()
	d.digestInto(h)
	return hex.EncodeToString(h.Sum(nil))
}

func (d *Drawing) digestInto(h hash.Hash) {
	fmt.Fprintf(h, "[%.2f %.2f", d.Width, d.Height)
	for _, shape := range d.Shapes {
		switch s := shape.(type) {
		case *Path:
			s.Style.digestInto(h)
			fmt.Fprintf(h, "path %.2f %t %t", s.From, s.Closed, s.EvenOdd)
			for _, g := range s.Segments {
				fmt.Fprintf(h, "%.2f %.2f %.2f %t %t", g.To, g.C1, g.C2, g.Curve, g.Move)
			}
		case *Circle:
			s.Style.digestInto(h)
			fmt.Fprintf(h, "circle %.2f %.2f", s.Center, s.Radius)
		case *Label:
			fmt.Fprintf(h, "label %.2f %q %.2f %t %d %.2f %d", s.At, s.Text, s.Size, s.Bold, s.Anchor, s.Turn, s.Ink)
		default:
			panic(fmt.Errorf("no digest of a shape of type %T", shape))
		}
	}
	h.Write([]byte{']'})
}

func (s Style) digestInto(h hash.Hash) {
	fmt.Fprintf(h, "%d %.2f %.2f %d", s.Line, s.Width, s.Dash, s.Fill)
}
