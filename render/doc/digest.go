package doc

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"hash"
	"math"
	"reflect"
	"sync"

	"ownerguide/spec/source"
)

// Digest returns a digest of what a reader of the nodes sees: the same words, figures and drawings in
// the same arrangement have the same digest. It decides whether a delivered guide may be written
// again. It leaves out what describes an earlier revision, marks of change, positions in
// source files, names of values and the look of a logo. Coordinates are rounded to a
// hundredth of a point, so that processors which round the last bit differently agree. It panics on an
// unknown node or shape.
func Digest[N Node](nodes ...N) string {
	d := digesters.Get().(*digester)
	digestAll(d, nodes)
	sum := d.sum()
	digesters.Put(d) // not after a panic
	return sum
}

// Key returns a digest of everything in a node, to know its like in another guide by: what [Digest] leaves out is in it. Of a
// node or shape of an unknown type, which no reader can set, only the type is in it.
func Key(n Node) [sha256.Size]byte {
	if b, ok := n.(Block); ok && IsShared(b) {
		return Once(b, func() key { return keyOf(n) })
	}
	return keyOf(n)
}

func keyOf(n Node) key {
	d := digesters.Get().(*digester)
	d.whole = true
	d.parts(n)
	d.hash.Write(d.waiting)
	var sum key
	d.hash.Sum(sum[:0])
	d.hash.Reset()
	d.waiting, d.whole = d.waiting[:0], false
	digesters.Put(d) // not after a panic
	return sum
}

// digesters are reused: a guide has thousands of parts with a digest of their own.
var digesters = sync.Pool{New: func() any { return &digester{hash: sha256.New()} }}

// DrawingDigest returns the digest of a drawing in the same way; empty for nil.
func DrawingDigest(drawing *Drawing) string {
	if drawing == nil {
		return ""
	}
	d := digester{hash: sha256.New()}
	d.drawing(drawing)
	return d.sum()
}

// digester feeds a hash. Texts are preceded by their length and numbers are self-delimiting,
// so that different input never gives the same bytes.
type digester struct {
	hash    hash.Hash // nil if the bytes are only collected
	waiting []byte    // bytes not yet hashed
	whole   bool      // nothing is left out
}

func (d *digester) sum() string {
	d.hash.Write(d.waiting)
	sum := d.hash.Sum(d.waiting[:0])
	d.hash.Reset()
	d.waiting = sum[:0]
	return hex.EncodeToString(sum)
}

func (d *digester) text(texts ...string) {
	for _, s := range texts {
		d.number(len(s))
		d.waiting = append(d.waiting, s...)
	}
	if len(d.waiting) > 1<<12 && d.hash != nil {
		d.hash.Write(d.waiting)
		d.waiting = d.waiting[:0]
	}
}

func (d *digester) number(numbers ...int) {
	for _, n := range numbers {
		d.waiting = binary.AppendVarint(d.waiting, int64(n))
	}
}

func (d *digester) flag(flags ...bool) {
	for _, set := range flags {
		n := 0
		if set {
			n = 1
		}
		d.number(n)
	}
}

// length adds lengths in points.
func (d *digester) length(lengths ...float64) {
	for _, l := range lengths {
		if d.whole {
			d.waiting = binary.BigEndian.AppendUint64(d.waiting, math.Float64bits(l))
		} else {
			d.number(int(math.Round(l * 100)))
		}
	}
}

func (d *digester) point(points ...Point) {
	for _, p := range points {
		d.length(p.X, p.Y)
	}
}

func digestAll[N Node](d *digester, nodes []N) {
	counted := 0
	for _, n := range nodes {
		if d.whole || !history(n) {
			counted++
		}
	}
	d.number(counted)
	for _, n := range nodes {
		if d.whole || !history(n) {
			d.node(n)
		}
	}
}

// history reports whether a node describes an earlier revision.
func history(n Node) bool {
	p, ok := n.(Part)
	return ok && p.Attr().History
}

// names are the names of [Types] in a digest.
var names = func() map[reflect.Type]string {
	out := map[reflect.Type]string{}
	for _, n := range Types {
		t := reflect.TypeOf(n)
		out[t] = t.Elem().Name()
	}
	return out
}()

// digested is the bytes that a shared block adds to a digest, and key the digest of everything in it.
type (
	digested []byte
	key      [sha256.Size]byte
)

func (d *digester) node(n Node) {
	b, ok := n.(Block)
	switch {
	case !ok || !IsShared(b):
		d.parts(n)
	case d.whole:
		of := Key(b)
		d.waiting = append(d.waiting, of[:]...)
	default:
		d.waiting = append(d.waiting, Once(b, func() digested {
			var own digester
			own.parts(n)
			return own.waiting
		})...)
	}
}

// parts adds a node with what it consists of.
func (d *digester) parts(n Node) {
	name, ok := names[reflect.TypeOf(n)]
	if !ok && d.whole {
		d.text(fmt.Sprintf("%T", n))
		return
	}
	if !ok {
		panic(Unknown(n, source.Pos{}))
	}
	d.text(name)
	if p, ok := n.(Part); ok {
		d.text(p.Attr().ID)
		if lang := p.Attr().Lang; lang != "" {
			d.number(-1)
			d.text(lang)
		}
		if d.whole {
			d.flag(p.Attr().History, p.Attr().Changed)
			d.origin(p.Attr().Origin)
		}
	}
	switch n := n.(type) {
	case *Section:
		d.number(n.Level)
		d.text(string(n.Role), n.Part, n.Number, n.Short)
		if d.flag(n.Heading != nil); n.Heading != nil {
			d.node(n.Heading)
		}
		digestAll(d, n.Blocks)
	case *Heading:
		digestAll(d, n.Inlines)
	case *Paragraph:
		digestAll(d, n.Inlines)
	case *List:
		d.flag(n.Ordered, n.Tight)
		d.number(n.Start)
		digestAll(d, n.Items)
	case *Item:
		digestAll(d, n.Blocks)
	case *Table:
		d.text(string(n.Role), n.Caption)
		if d.flag(n.Head != nil); n.Head != nil {
			d.node(n.Head)
		}
		digestAll(d, n.Rows)
	case *Row:
		digestAll(d, n.Cells)
	case *Cell:
		d.number(int(n.Align))
		digestAll(d, n.Inlines)
	case *Contents:
		d.number(len(n.Entries))
		for _, e := range n.Entries {
			d.number(e.Level)
			d.text(e.Number, e.Title, e.ID, e.Part)
			d.flag(e.Listed)
		}
	case *Caution:
		d.text(n.Name, string(n.Word), n.Signal, n.Full)
		d.flag(n.Brief)
		digestAll(d, n.Hazard)
		digestAll(d, n.Consequence)
		d.lines(n.Avoid)
	case *JobLine:
		digestAll(d, n.Who)
		digestAll(d, n.When)
		digestAll(d, n.Tools)
	case *Limit:
		digestAll(d, n.Inlines)
	case *Trouble:
		digestAll(d, n.Symptom)
		d.lines(n.Causes)
		d.lines(n.Remedies)
		digestAll(d, n.Limits)
	case *Figure:
		d.text(n.Name, n.Caption, n.Alt)
		d.flag(n.Wide)
		if d.flag(n.Drawing != nil); n.Drawing != nil {
			d.drawing(n.Drawing)
		}
		for _, v := range n.Column {
			d.text(v.Alt)
			d.drawing(v.Drawing)
			for _, k := range v.Key {
				d.text(k.Sign, k.Text, k.To)
			}
		}
	case *Logo: // its picture is covered by the digest of the looks
		d.text(n.Alt)
		if d.whole {
			d.text(string(n.PNG))
			d.number(n.Width, n.Height)
			d.flag(n.InText, n.Drawing != nil)
			if n.Drawing != nil {
				d.drawing(n.Drawing)
			}
		}
	case *Form:
		d.text(n.Label)
		d.number(n.Rules)
	case *Text:
		d.text(n.Content)
		d.origin(n.Origin)
	case *Value:
		d.text(n.Printed)
		if d.whole {
			d.text(n.Name)
		}
	case *Emphasis:
		d.flag(n.Strong)
		digestAll(d, n.Inlines)
	case *Link:
		d.text(n.To)
		d.flag(n.Listed)
		d.origin(n.Origin)
		digestAll(d, n.Inlines)
	case *PointMark:
		d.number(n.Number)
	case *Box:
		d.text(n.ID)
	case *Break:
	default:
		panic(Unknown(n, source.Pos{}))
	}
}

func (d *digester) origin(at source.Pos) {
	if d.whole {
		d.text(at.File)
		d.number(at.Line, at.Column)
	}
}

func (d *digester) lines(lines [][]Inline) {
	d.number(len(lines))
	for _, line := range lines {
		digestAll(d, line)
	}
}

func (d *digester) drawing(drawing *Drawing) {
	d.length(drawing.Width, drawing.Height)
	d.number(len(drawing.Shapes))
	for _, shape := range drawing.Shapes {
		switch s := shape.(type) {
		case *Path:
			d.text("path")
			d.style(s.Style)
			d.point(s.From)
			d.flag(s.Closed, s.EvenOdd)
			d.number(len(s.Segments))
			for _, g := range s.Segments {
				d.point(g.To, g.C1, g.C2)
				d.flag(g.Curve, g.Move)
			}
		case *Circle:
			d.text("circle")
			d.style(s.Style)
			d.point(s.Center)
			d.length(s.Radius)
		case *Label:
			d.text("label", s.Text)
			d.point(s.At)
			d.length(s.Size, s.Turn)
			d.flag(s.Bold)
			d.number(int(s.Anchor), int(s.Ink))
		default:
			if !d.whole {
				panic(fmt.Errorf("no digest of a shape of type %T", shape))
			}
			d.text(fmt.Sprintf("%T", shape))
		}
	}
}

func (d *digester) style(s Style) {
	d.number(int(s.Line), int(s.Fill), len(s.Dash))
	d.length(s.Width)
	d.length(s.Dash...)
}
