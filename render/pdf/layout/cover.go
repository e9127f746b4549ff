package layout

import (
	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/source"
)

// leastCoverFigure is the height below which the cover's drawing is not shrunk.
const leastCoverFigure = 100

// cover sets the first page across all columns. Its drawing is shrunk so that it is one page if possible; in a booklet the numbers may
// follow on the next page.
func (s *setter) cover(n *doc.Section, st setting) []*box {
	out, figure := s.coverBlocks(n, st, s.format.TextHeight)
	height := 0.0
	for i, b := range out {
		if i > 0 {
			height += gap(out[i-1], b)
		}
		height += b.height
	}
	// Each block may move down to the next grid line.
	if over := height + snap*float64(len(out)) - s.format.TextHeight; over > 0 && figure-over >= leastCoverFigure {
		st.parent.Children = nil
		clear(s.seen)
		out, _ = s.coverBlocks(n, st, figure-over)
	}
	return out
}

// coverBlocks sets the blocks of the cover, with drawings no taller than limit, and returns the height of the tallest drawing.
func (s *setter) coverBlocks(n *doc.Section, st setting, limit float64) (out []*box, tallest float64) {
	st = st.spanning()
	st.width = st.full
	blocks := n.Blocks
	var logo *doc.Logo
	if len(blocks) > 0 {
		if l, ok := blocks[0].(*doc.Logo); ok {
			logo, blocks = l, blocks[1:]
		}
	}
	if n.Heading != nil {
		out = s.coverHead(n, logo, st)
	}
	for i, block := range blocks {
		in := st.at(block)
		if in.next = nil; i+1 < len(blocks) {
			in.next = blocks[i+1]
		}
		if t, ok := block.(*doc.Table); ok && !(t.Role == doc.TableNumbers && t.LabelsValues()) {
			in.width = s.format.ColumnWidth // a value far from its label is misread
			in.outer = false
		}
		var boxes []*box
		if f, ok := block.(*doc.Figure); ok && f.Drawing != nil && f.Drawing.Height > 0 {
			if boxes = marked(block, s.coverFigure(f, in, limit)); len(boxes) > 0 {
				tallest = max(tallest, boxes[0].height)
			}
		} else {
			boxes = s.anchored(block, in)
		}
		out = append(out, boxes...)
	}
	for i := range out {
		change(out, i).span = true
	}
	keepTogether(out, ruleSingle)
	return out, tallest
}

// coverFigure sets the drawing of the cover, as wide as the page.
func (s *setter) coverFigure(n *doc.Figure, st setting, limit float64) []*box {
	boxes := s.figure(n, st)
	if len(boxes) == 0 || limit >= boxes[0].height {
		return boxes
	}
	st.parent.Children = st.parent.Children[:len(st.parent.Children)-1]
	fig := st.element(finish.RoleFigure)
	fig.Alt = n.Alt
	return []*box{s.figureBox(n, n.Drawing, nil, st, fig, 0, st.full, st.full/n.Drawing.Width*limit/boxes[0].height)}
}

// coverHead sets the title, with the serial number at its right end and the model below it. Both are also in the text of the cover, so they
// are not read twice; the same is true of the maker, whose logo is above the title.
func (s *setter) coverHead(n *doc.Section, logo *doc.Logo, st setting) []*box {
	head := s.headPieces(n, coverTitle, st)
	serial := s.Clean(s.guide.Serial, source.Pos{})
	room := s.Ruler.Width(coverTitle, serial)
	beside := room < 0.55*st.full
	if !beside {
		room = 0
	}
	b := &box{name: &name{"title", st.at(n.Heading).origin}}
	// The maker and the revision, in small type above the title.
	small := body.Bold()
	revision := s.word("cover-revision", "revision", s.Clean(s.guide.Revision, source.Pos{}), "date", s.Clean(s.guide.IssuedOn, source.Pos{}))
	wide := s.Ruler.Width(small, revision)
	b.items = append(b.items, &page.Text{X: st.full - wide, Y: small.Baseline(leading), Words: revision, Look: small})
	if logo == nil {
		maker := s.Shorten(small, s.Clean(s.guide.Maker, source.Pos{}), st.full-wide-paper.Gutter)
		b.items = append(b.items, &page.Text{Y: small.Baseline(leading), Words: maker, Look: small})
		b.height = leading
	} else {
		items, h := s.logoItems(logo, st.at(logo))
		b.items = append(b.items, items...)
		b.height = h + 6
	}
	title, titleHeight := s.headLines(head, 0, b.height, st.full-room-2*paper.Gutter, coverTitleLeading, true)
	if beside {
		b.items = append(b.items, &page.Text{X: st.full - room, Y: b.height + coverTitle.Baseline(coverTitleLeading), Words: serial, Look: coverTitle})
	}
	b.items = append(b.items, title...)
	b.height += max(titleHeight, coverTitleLeading)
	model := s.Lines([]typeset.Piece{{Text: s.Clean(s.guide.Model, source.Pos{}), Look: sectionHead}}, st.full, typeset.Style{Leading: 18})
	for _, l := range model {
		l.Repeated = true
	}
	b.items = append(b.items, typeset.Stacked(model, 0, b.height)...)
	b.height += float64(len(model)) * 18
	return marked(n.Heading, []*box{b})
}
