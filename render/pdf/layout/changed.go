package layout

import (
	"cmp"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/page"
)

// changeBar is the mark of a change from the earlier revision. It is an item of a box until the column is known.
type changeBar struct{ y, height float64 }

func (b *changeBar) Moved(_, dy float64) page.Item { return &changeBar{b.y + dy, b.height} }

const (
	barGap   = 8.0  // from the column to the right edge of the bar
	barReach = 14.0 // bars closer together are joined: more than the space between two blocks, less than a line with its space
)

// marked adds bars to the boxes of a changed part.
func marked(n doc.Part, boxes []*box) []*box {
	if !n.Attr().Changed {
		return boxes
	}
	for _, b := range boxes {
		b.items = append(b.items, &changeBar{0, b.height})
	}
	return boxes
}

// changeBars turns the bars among the items of a column into lines at its left, joined if they touch. They are artifacts: the changes are
// described in words on a page of their own.
func changeBars(items []page.Item, left float64) (rest []page.Item) {
	var found []*changeBar
	rest = items[:0]
	for _, it := range items {
		if b, ok := it.(*changeBar); ok {
			found = append(found, b)
		} else {
			rest = append(rest, it)
		}
	}
	slices.SortFunc(found, func(a, b *changeBar) int { return cmp.Compare(a.y, b.y) })
	for i := 0; i < len(found); {
		top, end := found[i].y, found[i].y+found[i].height
		for i++; i < len(found) && found[i].y-end <= barReach; i++ {
			end = max(end, found[i].y+found[i].height)
		}
		rest = append(rest, page.Rectangle(left-barGap-heavyLine, top, heavyLine, end-top, page.Black))
	}
	return rest
}
