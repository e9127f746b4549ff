package doc

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Walk iterates over nodes and their descendants in reading order. It panics on a node of
// an unknown type: no part of a guide is ever skipped silently.
func Walk[N Node](nodes []N) iter.Seq[Node] {
	return func(yield func(Node) bool) {
		for _, n := range nodes {
			if !walk(n, yield) {
				return
			}
		}
	}
}

// Sections iterates over sections and those in them in reading order.
func Sections(list []*Section) iter.Seq[*Section] {
	return func(yield func(*Section) bool) {
		for _, s := range list {
			if !eachSection(s, yield) {
				return
			}
		}
	}
}

func eachSection(s *Section, yield func(*Section) bool) bool {
	if !yield(s) {
		return false
	}
	for _, b := range s.Blocks {
		if part, ok := b.(*Section); ok && !eachSection(part, yield) {
			return false
		}
	}
	return true
}

// All iterates over the nodes of one type among nodes and their descendants; see [Walk].
func All[T, N Node](nodes []N) iter.Seq[T] {
	return func(yield func(T) bool) {
		for _, n := range nodes {
			if !all(n, yield) {
				return
			}
		}
	}
}

// found is the nodes of one type in a shared block.
type found[T any] []T

// all returns false once yield has. It walks through a shared block only once.
func all[T Node](n Node, yield func(T) bool) bool {
	of := func(n Node) bool { t, ok := n.(T); return !ok || yield(t) }
	if b, ok := n.(Block); ok && IsShared(b) {
		for _, t := range Once(b, func() (list found[T]) {
			walk(n, func(n Node) bool {
				if t, ok := n.(T); ok {
					list = append(list, t)
				}
				return true
			})
			return list
		}) {
			if !yield(t) {
				return false
			}
		}
		return true
	}
	s, ok := n.(*Section)
	if !ok {
		return walk(n, of)
	}
	if !of(s) || s.Heading != nil && !walk(s.Heading, of) {
		return false
	}
	for _, b := range s.Blocks {
		if !all(b, yield) {
			return false
		}
	}
	return true
}

// walk returns false once yield has.
func walk(n Node, yield func(Node) bool) bool {
	if !yield(n) {
		return false
	}
	switch n := n.(type) {
	case *Section:
		return (n.Heading == nil || walk(n.Heading, yield)) && walkAll(n.Blocks, yield)
	case *Heading:
		return walkAll(n.Inlines, yield)
	case *Paragraph:
		return walkAll(n.Inlines, yield)
	case *List:
		return walkAll(n.Items, yield)
	case *Item:
		return walkAll(n.Blocks, yield)
	case *Table:
		return (n.Head == nil || walk(n.Head, yield)) && walkAll(n.Rows, yield)
	case *Row:
		return walkAll(n.Cells, yield)
	case *Cell:
		return walkAll(n.Inlines, yield)
	case *Caution:
		return walkAll(n.Hazard, yield) && walkAll(n.Consequence, yield) && walkLines(n.Avoid, yield)
	case *JobLine:
		return walkAll(n.Who, yield) && walkAll(n.When, yield) && walkAll(n.Tools, yield)
	case *Limit:
		return walkAll(n.Inlines, yield)
	case *Trouble:
		return walkAll(n.Symptom, yield) && walkLines(n.Causes, yield) && walkLines(n.Remedies, yield) && walkAll(n.Limits, yield)
	case *Emphasis:
		return walkAll(n.Inlines, yield)
	case *Link:
		return walkAll(n.Inlines, yield)
	case *Contents, *Figure, *Logo, *Form, *Text, *Value, *PointMark, *Box, *Break:
		return true
	}
	panic(Unknown(n, source.Pos{}))
}

// counted is the number of nodes in a shared block.
type counted int

// Count returns the number of nodes in sections.
func Count(sections []*Section) (n int) {
	count := func(n Node) (all counted) {
		walk(n, func(Node) bool { all++; return true })
		return all
	}
	for s := range Sections(sections) {
		if n++; s.Heading != nil {
			n += int(count(s.Heading))
		}
		for _, b := range s.Blocks {
			if _, section := b.(*Section); !section {
				n += int(Once(b, func() counted { return count(b) }))
			}
		}
	}
	return n
}

func walkAll[N Node](nodes []N, yield func(Node) bool) bool {
	for _, n := range nodes {
		if !walk(n, yield) {
			return false
		}
	}
	return true
}

func walkLines(lines [][]Inline, yield func(Node) bool) bool {
	for _, line := range lines {
		if !walkAll(line, yield) {
			return false
		}
	}
	return true
}

// named is what [Names] returns of a shared block.
type named []string

// Names returns the ids that a block or a heading names: its own and those of its parts, and behind a # those that it leads to.
func Names(n Node) []string {
	if b, ok := n.(Block); ok && IsShared(b) {
		return Once(b, func() named { return namesIn(n) })
	}
	return namesIn(n)
}

func namesIn(n Node) (names []string) {
	walk(n, func(n Node) bool {
		switch n := n.(type) {
		case *Contents:
			for _, e := range n.Entries {
				names = append(names, "#"+e.ID)
			}
		case *Caution:
			names = append(names, n.ID, "#"+n.Full)
		case *Link:
			names = append(names, n.To)
		case Block:
			names = append(names, n.Attr().ID)
		}
		return true
	})
	return slices.DeleteFunc(names, func(id string) bool { return id == "" || id == "#" })
}

// Unknown returns the error for a node that a reader cannot set in its place: a panel
// skipped silently could be the one that matters. At is the position of the parent, for a
// node without one.
func Unknown(n Node, at source.Pos) error {
	if p, ok := n.(Part); ok && p.Attr().Origin.File != "" {
		at = p.Attr().Origin
	}
	return fmt.Errorf("no way to set a node of type %T here (%s)", n, at)
}

// PlainText returns the text of nodes in reading order, without markup.
func PlainText[N Node](nodes ...N) string {
	texts := make([]string, 0, 8)
	for n := range Walk(nodes) {
		switch n := n.(type) {
		case *Text:
			texts = append(texts, n.Content)
		case *Value:
			texts = append(texts, n.Printed)
		case *Break:
			texts = append(texts, " ")
		}
	}
	return strings.TrimSpace(strings.Join(texts, ""))
}
