package pdf

import (
	"cmp"
	"slices"

	"ownerguide/render/doc"
)

// bar stands for the mark beside what differs from the earlier revision of a guide. It is one of the items of a slab until the page is
// known, and with it the side of the outer margin.
type bar struct{ y, height float64 }

func (b *bar) moved(_, dy float64) item { return &bar{b.y + dy, b.height} }

const (
	barWidth = 2.0
	barGap   = 9.0  // from the text area
	barReach = 16.0 // bars that are no farther apart become one: the space between two blocks
)

// marked adds bars to slabs that a changed part was set as.
func marked(n doc.Part, slabs []*slab) []*slab {
	if !n.Attr().Changed {
		return slabs
	}
	for _, s := range slabs {
		s.items = append(s.items, &bar{0, s.height})
		if s.smaller != nil {
			s.smaller.items = append(s.smaller.items, &bar{0, s.smaller.height})
		}
	}
	return slabs
}

// bars turns the bars among the items of a page into lines in the outer margin, joined where they touch. They are artifacts: what
// changed is told in words on a page of its own.
func (l *layout) bars(number int, items []item) (rest []item) {
	var found []*bar
	for _, it := range items {
		if b, ok := it.(*bar); ok {
			found = append(found, b)
		} else {
			rest = append(rest, it)
		}
	}
	slices.SortFunc(found, func(a, b *bar) int { return cmp.Compare(a.y, b.y) })
	x := l.sheet.left(number) - barGap - barWidth
	if odd(number) {
		x = l.sheet.left(number) + l.sheet.text() + barGap
	}
	for i := 0; i < len(found); {
		top, end := found[i].y, found[i].y+found[i].height
		for i++; i < len(found) && found[i].y-end <= barReach; i++ {
			end = max(end, found[i].y+found[i].height)
		}
		rest = append(rest, rectangle(tag{}, x, top, barWidth, end-top, black))
	}
	return rest
}
