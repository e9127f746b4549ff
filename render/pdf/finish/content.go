package finish

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strconv"
)

// piece is a stretch of a page that belongs to an element.
type piece struct {
	page  int // index
	id    int // marked-content identifier, counted from 0 on each page
	order int // place among all pieces and links of the document, in painting order
}

// link is a link annotation.
type link struct {
	record
	page, order int
	object      int // its object number, given out later
}

// painted is what reading the pages gives: what each element owns, and where anchors lie.
type painted struct {
	pieces  map[*Element][]piece
	links   map[*Element][]*link
	all     []*link      // in painting order
	owners  [][]*Element // by page index and marked-content identifier
	anchors map[string]place
	heights []float64 // of the pages, in points
	order   int
}

// place is a position on a page, in PDF coordinates (counted upwards).
type place struct {
	page int
	y    float64
}

// pageState is what must balance on each page.
type pageState struct {
	index  int
	height float64
	open   bool // inside a piece or an artifact
	saved  int
	out    []byte
}

// readPages replaces the marks in each page's content and collects what they stand for.
func readPages(src *source, marks *Marks) (*painted, [][]byte, error) {
	p := &painted{
		pieces:  map[*Element][]piece{},
		links:   map[*Element][]*link{},
		owners:  make([][]*Element, len(src.pages)),
		anchors: map[string]place{},
	}
	used := make([]bool, len(marks.records))
	contents := make([][]byte, len(src.pages))
	for i, n := range src.pages {
		height, err := src.pageHeight(n)
		if err != nil {
			return nil, nil, fmt.Errorf("page %d: %w", i+1, err)
		}
		content := src.objects[src.objects[n].dict.ref("Contents")].stream
		state := &pageState{index: i, height: height, out: make([]byte, 0, len(content)+len(content)/8)}
		if err := p.readPage(state, content, marks.records, used); err != nil {
			return nil, nil, fmt.Errorf("page %d: %w", i+1, err)
		}
		contents[i] = state.out
		p.heights = append(p.heights, height)
	}
	for i, u := range used {
		if !u {
			return nil, nil, fmt.Errorf("mark %d of %d is on no page", i+1, len(used))
		}
	}
	return p, contents, nil
}

// pageHeight returns the height of a page in points; its lower left corner must be the origin.
func (src *source) pageHeight(n int) (float64, error) {
	value := src.objects[n].dict.get("MediaBox")
	if value == nil {
		value = src.objects[pagesObject].dict.get("MediaBox")
	}
	box := numbers(value, 4)
	if box == nil || box[0] != 0 || box[1] != 0 || box[2] <= 0 || box[3] <= 0 {
		return 0, errors.New("page size is not as expected")
	}
	return box[3], nil
}

func (p *painted) readPage(s *pageState, content []byte, records []record, used []bool) error {
	for len(content) > 0 {
		at, length, n := nextMark(content)
		before := content[:at]
		if !s.open {
			if op := paints(before); op != "" {
				return fmt.Errorf("content outside every mark (operator %s)", op)
			}
		}
		s.out = append(s.out, before...)
		content = content[at+length:]
		if length == 0 {
			break
		}
		if n < 0 || n >= len(records) || used[n] {
			return fmt.Errorf("mark %d was not recorded or is there twice; does the document count in points?", n+1)
		}
		used[n] = true
		if err := p.apply(s, records[n]); err != nil {
			return err
		}
	}
	if s.open {
		return errors.New("a piece is not closed at the end of the page")
	}
	if s.saved != 0 {
		return errors.New("the graphics state is not restored at the end of the page")
	}
	return nil
}

// nextMark returns the place, length and number of the first mark, -1 for one that is not whole; without a mark, the end of the content
// and length 0.
func nextMark(content []byte) (at, length, n int) {
	const head, tail = "[] ", ".00 d\n"
	for from := 0; ; {
		i := bytes.Index(content[from:], []byte(head))
		if i < 0 {
			return len(content), 0, 0
		}
		at = from + i
		from = at + len(head)
		if at > 0 && content[at-1] != '\n' {
			continue
		}
		digits := 0
		for from+digits < len(content) && content[from+digits] >= '0' && content[from+digits] <= '9' {
			digits++
		}
		number, err := strconv.Atoi(string(content[from : from+digits]))
		if err != nil || number < firstMark {
			continue
		}
		if !bytes.HasPrefix(content[from+digits:], []byte(tail)) {
			return at, len(head) + digits, -1 // scaled by a document that does not count in points
		}
		return at, len(head) + digits + len(tail), number - firstMark
	}
}

// paints returns the first operator in the content that puts something on the page, or "". gopdf ends each line with an operator.
func paints(content []byte) string {
	for line := range bytes.Lines(content) {
		fields := bytes.Fields(line)
		if len(fields) == 0 {
			continue
		}
		switch op := string(fields[len(fields)-1]); op {
		case "TJ", "Tj", "S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Do", "sh":
			return op
		}
	}
	return ""
}

// apply writes what a mark stands for.
func (p *painted) apply(s *pageState, r record) error {
	switch r.op {
	case opBegin, opArtifact:
		return p.begin(s, r)
	case opEnd:
		if !s.open {
			return errors.New("a piece is closed that was not opened")
		}
		s.open = false
		s.out = append(s.out, "EMC\n"...)
	case opAnchor:
		if _, ok := p.anchors[r.name]; ok || r.name == "" {
			return fmt.Errorf("anchor %q is empty or there twice", r.name)
		}
		p.anchors[r.name] = place{s.index, s.height - r.box.Y}
	case opLinkTo, opLinkOut:
		if r.element == nil || r.element.Role != RoleLink || r.words == "" {
			return fmt.Errorf("link to %q needs an element in the role of Link, and words", r.name)
		}
		l := &link{record: r, page: s.index, order: p.order}
		p.order++
		p.links[r.element] = append(p.links[r.element], l)
		p.all = append(p.all, l)
	case opDraw:
		return s.draw(r)
	default:
		return s.state(r)
	}
	return nil
}

func (p *painted) begin(s *pageState, r record) error {
	if s.open {
		return errors.New("a piece is opened inside another")
	}
	s.open = true
	if r.op == opArtifact {
		s.out = append(s.out, artifacts[r.kind]...)
		return nil
	}
	if r.element == nil {
		return errors.New("a piece belongs to no element")
	}
	id := len(p.owners[s.index])
	p.owners[s.index] = append(p.owners[s.index], r.element)
	p.pieces[r.element] = append(p.pieces[r.element], piece{s.index, id, p.order})
	p.order++
	s.out = fmt.Appendf(s.out, "/%s<</MCID %d>>BDC\n", r.element.Role, id)
	return nil
}

// artifacts opens the pieces that are not read, by kind.
var artifacts = [...]string{
	Layout: "/Artifact<</Type/Layout>>BDC\n",
	Header: "/Artifact<</Type/Pagination/Subtype/Header>>BDC\n",
	Footer: "/Artifact<</Type/Pagination/Subtype/Footer>>BDC\n",
}

// state writes the operators that change how things are drawn.
func (s *pageState) state(r record) error {
	switch r.op {
	case opSave:
		s.saved++
		s.out = append(s.out, "q\n"...)
	case opRestore:
		if s.saved--; s.saved < 0 {
			return errors.New("the graphics state is restored without having been saved")
		}
		s.out = append(s.out, "Q\n"...)
	case opTransform:
		// The caller counts y downwards, PDF upwards: turn over, transform, turn back.
		m, h := r.matrix, s.height
		return s.operator("cm", m[0], -m[1], -m[2], m[3], m[4]+m[2]*h, h-m[3]*h-m[5])
	case opCap:
		return s.operator("J", r.number)
	case opJoin:
		return s.operator("j", r.number)
	}
	return nil
}

// paintOperators ends a path, by Paint.
var paintOperators = [...]string{Stroke: "S", Fill: "f", FillEvenOdd: "f*", FillStroke: "B", Clip: "W n", ClipEvenOdd: "W* n"}

func (s *pageState) draw(r record) error {
	clips := r.paint == Clip || r.paint == ClipEvenOdd
	if !s.open && !clips {
		return errors.New("a path is drawn outside every mark")
	}
	if clips && s.saved == 0 {
		return errors.New("clipping without a saved graphics state could not be undone")
	}
	if len(r.path.segments) == 0 || r.path.segments[0].verb != 'm' || int(r.paint) >= len(paintOperators) {
		return errors.New("a path is empty or does not begin with a move")
	}
	for _, seg := range r.path.segments {
		n := map[byte]int{'m': 2, 'l': 2, 'c': 6, 'h': 0}[seg.verb]
		at := seg.at
		for i := 1; i < n; i += 2 {
			at[i] = s.height - at[i]
		}
		if err := s.operator(string(rune(seg.verb)), at[:n]...); err != nil {
			return err
		}
	}
	s.out = append(s.out, paintOperators[r.paint]+"\n"...)
	return nil
}

// operator writes numbers and an operator.
func (s *pageState) operator(op string, operands ...float64) error {
	for _, v := range operands {
		if math.IsNaN(v) || math.Abs(v) > 1e6 {
			return fmt.Errorf("number %v in the drawing is out of range", v)
		}
		s.out = append(appendNumber(s.out, v), ' ')
	}
	s.out = append(append(s.out, op...), '\n')
	return nil
}

// appendNumber writes a number with at most four decimals, as PDF wants it: no exponent, no minus zero.
func appendNumber(b []byte, v float64) []byte {
	v = math.Round(v*1e4) / 1e4
	if v == 0 {
		v = 0 // drops the sign
	}
	return strconv.AppendFloat(b, v, 'f', -1, 64)
}
