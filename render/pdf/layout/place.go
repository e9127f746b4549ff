package layout

import (
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"math"
	"reflect"
	"slices"

	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paginate"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/parallel"
)

// onPages is what a chapter puts on pages, with what that depends on.
type onPages struct {
	places  []paginate.Place
	numbers []int // of the pages that it leads to
	parts   []*page.Part
}

// measure prepares a chapter to be shared out to pages.
func (c *setBlock) measure() {
	c.digest = paginate.Digest(c.run())
	for _, b := range c.boxes {
		c.to = b.open.Anchors(c.to)
		if b.repeat != nil {
			c.to = b.repeat.open.Anchors(c.to)
		}
	}
}

// run returns the boxes of a chapter as they are shared out.
func (c *setBlock) run() []paginate.Block {
	out := make([]paginate.Block, len(c.boxes))
	for i, b := range c.boxes {
		out[i] = paginate.Block{
			Height: paginate.Points(b.height), Before: paginate.Points(b.before), After: paginate.Points(b.after),
			Snap: !b.free, Span: b.span, NewPage: b.newPage, Break: b.ends,
		}
		if b.repeat != nil {
			out[i].Repeat = paginate.Points(b.repeat.height)
		}
	}
	return out
}

// place returns what a chapter puts on its pages, from the one it begins on. Most guides of a batch break alike, so from the
// second guide on it keeps what it last returned.
func (c *setBlock) place(places []paginate.Place, numbers *typeset.PageNumbers, format paper.Format) []*page.Part {
	to := make([]int, len(c.to))
	for i, id := range c.to {
		to[i] = numbers.Of[id]
	}
	if last := c.last.Load(); last != nil && slices.Equal(last.places, places) && slices.Equal(last.numbers, to) {
		return last.parts
	}
	now := &onPages{places: places, numbers: to}
	groups := make([]page.Group, 0, len(c.boxes)+len(c.boxes)/4+8) // of all pages
	put := func(items []page.Item, open *typeset.Open, x, y float64) {
		if open != nil {
			items = open.Fill(numbers)
		}
		if len(items) > 0 {
			groups = append(groups, page.Group{Items: items, X: x, Y: y})
		}
	}
	var bars []changeBar // of the current column
	begins := 0
	for i, b := range c.boxes {
		p := places[i]
		x, y := format.TextLeft(p.Page)+float64(p.Column)*(format.ColumnWidth+paper.Gutter), format.Top+p.Top.Points()
		if p.Repeated {
			put(b.repeat.items, b.repeat.open, x, y-b.repeat.height)
		}
		for _, id := range b.anchors {
			put([]page.Item{&page.Anchor{Name: id}}, nil, x, y)
		}
		put(b.items, b.open, x, y)
		if b.bar > 0 {
			bars = append(bars, changeBar{y, b.bar})
		}
		ends := i == len(c.boxes)-1 || p.Page != places[i+1].Page
		if ends || p.Column != places[i+1].Column {
			put(changeBars(bars, x), nil, 0, 0)
			bars = bars[:0]
		}
		if ends {
			now.parts = append(now.parts, partOf(groups[begins:]))
			begins = len(groups)
		}
	}
	if c.again.Swap(true) {
		c.last.Store(now)
	}
	return now.parts
}

// parts caches what chapters put on pages: where a chapter differs between guides, most of its pages do not.
var parts = parallel.Cache[*page.Part]{Most: 40}

// partOf returns a part with copies of the groups. Items are told apart by where they are in memory, which nothing else takes while a part has them.
func partOf(groups []page.Group) *page.Part {
	var room [1 << 12]byte // on the stack
	key := room[:0]
	for _, g := range groups {
		for _, v := range [...]float64{g.X, g.Y, float64(len(g.Items))} {
			key = binary.BigEndian.AppendUint64(key, math.Float64bits(v))
		}
		if a, ok := g.Items[0].(*page.Anchor); ok { // made for this guide
			key = append(append(key, a.Name...), 0)
		} else {
			key = binary.BigEndian.AppendUint64(key, uint64(reflect.ValueOf(g.Items).Pointer()))
		}
	}
	return parts.Get(sha256.Sum256(key), func() *page.Part { return page.NewPart(slices.Clone(groups)) })
}

// changeBar is the mark of a change from the earlier revision.
type changeBar struct{ y, height float64 }

const (
	barGap   = 8.0  // from the column to the right edge of the bar
	barReach = 14.0 // bars closer together are joined: more than the space between two blocks, less than a line with its space
)

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
