package paginate

import (
	"cmp"
	"slices"
)

// Limits of the search.
const (
	exact    = 400        // blocks up to which all states are followed
	beam     = 32         // maximum number of states inside a page followed at one block
	maxSteps = 10_000_000 // a second or so; after that one such state is followed at each block

	// The quick search, which is tried first for more blocks, follows no break that violates a rule if there is another, and
	// no column with more white space than this if there are some others.
	quickBeam  = 32
	quickWhite = Length(24 * 1200)
	quickLeast = 3
)

// state is a state of the search: the blocks before at are placed, and block at begins a column.
type state struct {
	at     int32
	page   int32
	column int32
	top    Length // where the last spanning block or balanced band above ends; 0 at the head of a page
	head   Length // top of the columns after the first; the first column begins at begin
	cost   Penalty
	from   int32 // index of the previous state; -1 for the first
	move   move
	index  int32 // number of blocks put into the column, or index of the band
}

// move is how a state was reached from the previous one.
type move uint8

const (
	begins  move = iota
	spanned      // a spanning block was set
	filled       // a column was filled; the next one of the page follows
	balance      // all columns were filled and balanced
	turned       // the last column was filled; a page follows
	ended        // nothing was added; a page follows
)

// waitingState is a state to be followed, with what distinguishes it from others at the same block: finding an equal one takes most of
// the time of a search, and the states themselves lie far apart in memory.
type waitingState struct {
	heights uint64 // top and head
	column  int32  // twice its number, plus the parity of the page
	state   int32  // index of the state
}

// search is one run.
type search struct {
	blocks   []Block
	grid     Grid
	stop     []int32    // for each block the next one that spans or must begin a page; the number of blocks if there is none
	columns  [][]Length // see [search.column]
	balanced [][]band
	states   []state
	waiting  [][]waitingState // states by the block they are at
	last     int32            // the best state with all blocks placed; -1 if there is none
	steps    int
	limit    int // number of steps after which one state is followed at each block
	quick    bool

	scratch, room []Length // of column
	options       []band   // of bands
	inside        []int32
}

func newSearch(blocks []Block, grid Grid, quick bool) *search {
	n := int32(len(blocks))
	s := &search{
		blocks: blocks, grid: grid, last: -1, quick: quick, limit: maxSteps,
		stop: make([]int32, n+1), columns: make([][]Length, n+1), balanced: make([][]band, n+1), waiting: make([][]waitingState, n+1),
		states: make([]state, 0, 8*n), // a guide has some six for each block
	}
	next := n
	for i := n - 1; i >= 0; i-- {
		s.stop[i] = next
		if blocks[i].Span || blocks[i].NewPage {
			next = i
		}
	}
	s.stop[n] = n
	return s
}

// run returns the best layout.
func (s *search) run() Layout {
	s.add(state{page: 1, from: -1, move: begins, cost: CostOfPage})
	for at := range s.waiting {
		s.followInside(int32(at))
		// States at the head of a page come last, because those inside a page lead to them.
		for k := 0; k < len(s.waiting[at]); k++ {
			if w := s.waiting[at][k]; w.fresh() {
				s.follow(w.state)
			}
		}
	}
	return s.layout()
}

// fresh reports whether nothing is on the page.
func (st *state) fresh() bool { return st.column == 0 && st.top == 0 }

func (w *waitingState) fresh() bool { return w.column < 2 && w.heights>>32 == 0 }

// followInside follows the states inside a page, or the cheapest if there are many. Dominated states are not
// followed.
func (s *search) followInside(at int32) {
	inside := s.inside[:0]
	for _, w := range s.waiting[at] {
		if !w.fresh() {
			inside = append(inside, w.state)
		}
	}
	width := beam
	switch {
	case s.steps > s.limit:
		width = 1
	case s.quick:
		width = quickBeam
	}
	slices.SortStableFunc(inside, func(a, b int32) int { return cmp.Compare(s.states[a].cost, s.states[b].cost) })
	kept := inside[:0]
	for _, i := range inside {
		if len(kept) < width && !s.dominated(i, kept) {
			kept = append(kept, i)
		}
	}
	s.inside = inside
	for _, i := range kept {
		s.follow(i)
	}
}

// dominated reports whether a state has less room and higher cost than one of others, even if that one leaves the difference unused.
func (s *search) dominated(i int32, others []int32) bool {
	a := &s.states[i]
	for _, k := range others {
		b := &s.states[k]
		if b.column != a.column || (b.page-a.page)%2 != 0 || b.top > a.top || s.begin(b) > s.begin(a) {
			continue
		}
		room := max(a.top-b.top, s.begin(a)-s.begin(b))
		if b.cost+s.costOfUnused(room)*Penalty(s.grid.Columns-int(b.column)) <= a.cost {
			return true
		}
	}
	return false
}

// costOfUnused returns what it costs at most to leave room unused in a column.
func (s *search) costOfUnused(room Length) Penalty {
	cost := white(s.grid.Height) - white(s.grid.Height-room) // at worst: in columns that are empty next to it
	if s.quick {
		cost = white(room)
	}
	// White space is counted in whole tenths of a line: two spaces may come to one more tenth than their difference, at worst the dearest.
	return cost + white(s.grid.Height) - white(s.grid.Height-tenth) + 2
}

// follow makes all moves from a state.
func (s *search) follow(i int32) {
	st := s.states[i]
	if int(st.at) == len(s.blocks) {
		if s.last < 0 || st.cost < s.states[s.last].cost {
			s.last = i
		}
		return
	}
	b := &s.blocks[st.at]
	if !st.fresh() && b.NewPage {
		s.nextPage(i, st.at, ended, 0, 0)
		return
	}
	moved := false
	switch {
	case st.column == 0 && b.Span:
		moved = s.span(i)
	case st.column == 0:
		moved = s.balance(i)
		moved = s.fillColumn(i) || moved
	default:
		s.fillColumn(i)
	}
	if st.column == 0 && !st.fresh() && !(s.quick && moved && b.Break.between(st.page) >= Never) {
		s.breakPage(i)
	}
}

// begin returns the height at which the column of a state begins.
func (s *search) begin(st *state) Length {
	if st.column > 0 || st.top == 0 {
		return st.head
	}
	return s.grid.snapped(st.top + s.blocks[st.at-1].After)
}

// spanTop returns the height at which a spanning block is set.
func (s *search) spanTop(st *state) Length {
	b := &s.blocks[st.at]
	switch {
	case st.top > 0:
		y := st.top + gap(&s.blocks[st.at-1], b)
		if b.Snap {
			y = s.grid.snapped(y)
		}
		return y
	case s.repeats(b):
		return b.Repeat
	}
	return 0
}

// span sets a spanning block, if it fits on the page.
func (s *search) span(i int32) (moved bool) {
	st := s.states[i]
	bottom := s.spanTop(&st) + s.blocks[st.at].Height
	if bottom > s.grid.Height {
		return false
	}
	// A top of 0 marks the head of a page, so it is at least 1 even after a block without height.
	s.add(state{at: st.at + 1, page: st.page, top: max(bottom, 1), cost: st.cost, from: i, move: spanned})
	return true
}

// balance sets all blocks up to the next spanning one in balanced columns, if they fit on the page.
func (s *search) balance(i int32) (moved bool) {
	st := s.states[i]
	begin := s.begin(&st)
	bands := s.bands(st.at)
	legal := slices.ContainsFunc(bands, func(b band) bool { return b.cost < Never && begin+b.height <= s.grid.Height })
	for k, b := range bands {
		if begin+b.height <= s.grid.Height && !(s.quick && legal && b.cost >= Never) {
			s.add(state{at: s.stop[st.at], page: st.page, top: max(begin+b.height, 1), cost: st.cost + b.cost, from: i, move: balance, index: int32(k)})
			moved = true
		}
	}
	return moved
}

// fillColumn fills one column in all ways, the fullest first. The last column of a page may stay empty.
func (s *search) fillColumn(i int32) (moved bool) {
	st := s.states[i]
	head, stop := s.begin(&st), s.stop[st.at]
	room := s.grid.Height - head
	lastColumn := int(st.column) == s.grid.Columns-1
	legal := 0
	for n, height := range slices.Backward(s.column(st.at)) {
		if s.quick && legal >= quickLeast && room-height > quickWhite {
			break // shorter columns leave more
		}
		if height > room || n == 0 && (st.column == 0 || s.quick && legal > 0) {
			continue
		}
		end := st.at + int32(n)
		next := Penalty(0)
		ends := end == stop && s.ends(stop)
		switch {
		case ends: // a forced page end follows, or nothing
		case lastColumn:
			next = s.blocks[end].Break.between(st.page)
		case end < stop:
			next = s.blocks[end].Break.Column
		}
		if s.quick && legal > 0 && next >= Never {
			continue
		}
		if next < Never {
			legal++
		}
		moved = true
		cost := Penalty(0)
		if st.column > 0 && n > 0 {
			cost = s.blocks[st.at].Break.Column
		}
		switch {
		case !lastColumn, ends:
			if !lastColumn {
				cost += white(room - height)
			}
			s.add(state{at: end, page: st.page, column: st.column + 1, top: st.top, head: head, cost: st.cost + cost, from: i, move: filled, index: int32(n)})
		default:
			s.nextPage(i, end, turned, int32(n), cost+white(room-height)+next)
		}
	}
	return moved
}

// breakPage ends a page below a spanning block or a band.
func (s *search) breakPage(i int32) {
	st := s.states[i]
	room := s.grid.Height - st.top
	s.nextPage(i, st.at, ended, 0, white(room)*Penalty(s.grid.Columns)+s.blocks[st.at].Break.between(st.page))
}

// nextPage begins a page with a block, at a cost in addition to that of the page.
func (s *search) nextPage(i, at int32, m move, index int32, cost Penalty) {
	s.add(state{at: at, page: s.states[i].page + 1, cost: s.states[i].cost + cost + CostOfPage, from: i, move: m, index: index})
}

// add adds a state to those waiting, unless a state at the same place costs no more. Of the page number only the
// parity matters.
func (s *search) add(st state) {
	s.steps++
	own := waitingState{uint64(st.top)<<32 | uint64(st.head), st.column<<1 | st.page%2, int32(len(s.states))}
	for _, w := range s.waiting[st.at] {
		if w.heights == own.heights && w.column == own.column {
			if o := &s.states[w.state]; st.cost < o.cost {
				*o = st
			}
			return
		}
	}
	s.states = append(s.states, st)
	s.waiting[st.at] = append(s.waiting[st.at], own)
}
