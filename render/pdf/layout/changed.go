package layout

import (
	"cmp"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/page"
)

// changeBar is the mark of a change from the earlier revision.
type changeBar struct{ y, height float64 }

const (
	barGap   = 8.0  // from the column to the right edge of the bar
	barReach = 14.0 // bars closer together are joined: more than the space between two blocks, less than a line with its space
)

// marked adds bars to the boxes of a changed part.
func marked(n doc.Part, boxes []*box) []*box {
	if !n.Attr().Changed {
		return boxes
	}
	for i := range boxes {
		b := change(boxes, i)
		b.bar = max(b.bar, b.height)
	}
	return boxes
}

// changeBars returns the bars of a column as lines at its left, joined if they touch. They are artifacts: the changes are
// described in words on a page of their own.
func changeBars(bars []changeBar, left float64) (lines []page.Item) {
	slices.SortStableFunc(bars, func(a, b changeBar) int { return cmp.Compare(a.y, b.y) })
	for i := 0; i < len(bars); {
		top, end := bars[i].y, bars[i].y+bars[i].height
		for i++; i < len(bars) && bars[i].y-end <= barReach; i++ {
			end = max(end, bars[i].y+bars[i].height)
		}
		lines = append(lines, page.Rectangle(left-barGap-heavyLine, top, heavyLine, end-top, page.Black))
	}
	return lines
}
