package paginate

import (
	"cmp"
	"slices"
)

// How far the search goes.
const (
	exact    = 400        // blocks up to which every state is followed
	beam     = 32         // states inside a page that are followed at one block
	maxSteps = 10_000_000 // a second or so; then one such state is followed at each block

	// The quick search, which comes first where there are more blocks, follows no break that breaks a rule as long as there is another, and
	// no column that is left emptier than this as long as there are some others.
	quickBeam  = 32
	quickWhite = Length(24 * 1200)
	quickLeast = 3
)

// state is a place where the search has arrived: the blocks before at are placed, and the next begins a column.
type state struct {
	at     int32
	page   int32
	column int32
	top    Length // where the last spanning block or balanced band above ends; 0 at the head of a page
	head   Length // where the columns of a later column than the first begin; those of the first begin at begin
	cost   Penalty
	from   int32 // index of the state before; -1 for the first
	move   move
	index  int32 // how many blocks were put into the column, or which of the bands was taken
}

// move says how a state was reached from the one before.
type move uint8

const (
	begins  move = iota
	spanned      // a spanning block was set
	filled       // a column was filled, the next one of the page follows
	balance      // all columns were filled and balanced
	turned       // the last column was filled, a page follows
	ended        // nothing was added, a page follows
)

// search is one run.
type search struct {
	blocks   []Block
	grid     Grid
	stop     []int32    // for each block the next after it that spans or must begin a page; the number of blocks if there is none
	columns  [][]Length // see [search.column]
	balanced [][]band
	states   []state
	waiting  [][]int32 // states by the block they are at
	last     int32     // the best state with all blocks placed; -1 if there is none
	steps    int
	limit    int // of steps, after which one state is followed at each block
	quick    bool

	scratch, room []Length // of column
	options       []band   // of bands
	inside        []int32
}

func newSearch(blocks []Block, grid Grid, quick bool) *search {
	n := int32(len(blocks))
	s := &search{
		blocks: blocks, grid: grid, last: -1, quick: quick, limit: maxSteps,
		stop: make([]int32, n+1), columns: make([][]Length, n+1), balanced: make([][]band, n+1), waiting: make([][]int32, n+1),
		states: make([]state, 0, 16*n),
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

// run finds the layout.
func (s *search) run() Layout {
	s.add(state{page: 1, from: -1, move: begins, cost: CostOfPage})
	for at := range s.waiting {
		s.followInside(int32(at))
		// States at the head of a page come last: those inside a page lead to them.
		for k := 0; k < len(s.waiting[at]); k++ {
			if i := s.waiting[at][k]; s.states[i].fresh() {
				s.follow(i)
			}
		}
	}
	return s.layout()
}

// fresh tells whether a page has nothing on it.
func (st *state) fresh() bool { return st.column == 0 && st.top == 0 }

// followInside follows the states that are inside a page, of many only those that cost least. One that has less room than another and has
// cost more, even if that other leaves the room unused, is not followed at all.
func (s *search) followInside(at int32) {
	inside := s.inside[:0]
	for _, i := range s.waiting[at] {
		if !s.states[i].fresh() {
			inside = append(inside, i)
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

// dominated tells whether a state is worse than one of others that cost less, wherever both go from here.
func (s *search) dominated(i int32, others []int32) bool {
	a := &s.states[i]
	for _, k := range others {
		b := &s.states[k]
		if b.column != a.column || (b.page-a.page)%2 != 0 || b.top > a.top || s.begin(b) > s.begin(a) {
			continue
		}
		room := max(a.top-b.top, s.begin(a)-s.begin(b))
		unused := white(s.grid.Height) - white(s.grid.Height-room) // at the worst: in columns that are empty beside it
		if s.quick {
			unused = white(room)
		}
		// White is counted in whole tenths of a line: two spaces may come to one more tenth than their difference, at the worst the dearest.
		rounding := white(s.grid.Height) - white(s.grid.Height-tenth) + 2
		if b.cost+(unused+rounding)*Penalty(s.grid.Columns-int(b.column)) <= a.cost {
			return true
		}
	}
	return false
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

// begin is the height at which the column of a state begins.
func (s *search) begin(st *state) Length {
	if st.column > 0 || st.top == 0 {
		return st.head
	}
	return s.grid.snapped(st.top + s.blocks[st.at-1].After)
}

// spanTop is the height at which a spanning block is set.
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

// span sets a spanning block, if the page holds it.
func (s *search) span(i int32) (moved bool) {
	st := s.states[i]
	bottom := s.spanTop(&st) + s.blocks[st.at].Height
	if bottom > s.grid.Height {
		return false
	}
	// The head of a page is told by a top of 0, so that even a block without height leaves a mark.
	s.add(state{at: st.at + 1, page: st.page, top: max(bottom, 1), cost: st.cost, from: i, move: spanned})
	return true
}

// balance sets all blocks up to the next spanning one in balanced columns, if the page holds them.
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

// fillColumn fills one column, the fullest ways first. The last column of a page may stay empty.
func (s *search) fillColumn(i int32) (moved bool) {
	st := s.states[i]
	head, stop := s.begin(&st), s.stop[st.at]
	room := s.grid.Height - head
	lastColumn := int(st.column) == s.grid.Columns-1
	legal := 0
	for n, height := range slices.Backward(s.column(st.at)) {
		if height > room || n == 0 && (st.column == 0 || s.quick && legal > 0) {
			continue
		}
		end := st.at + int32(n)
		space, next := white(room-height), Penalty(0)
		ends := end == stop && s.ends(stop)
		switch {
		case ends: // what ends a page by itself follows, or nothing
		case lastColumn:
			next = s.blocks[end].Break.between(st.page)
		case end < stop:
			next = s.blocks[end].Break.Column
		}
		if s.quick && legal > 0 && (next >= Never || legal >= quickLeast && room-height > quickWhite) {
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
				cost += space
			}
			s.add(state{at: end, page: st.page, column: st.column + 1, top: st.top, head: head, cost: st.cost + cost, from: i, move: filled, index: int32(n)})
		default:
			s.nextPage(i, end, turned, int32(n), cost+space+next)
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

// nextPage begins a page with a block, at a cost beside that of the page.
func (s *search) nextPage(i, at int32, m move, index int32, cost Penalty) {
	s.add(state{at: at, page: s.states[i].page + 1, cost: s.states[i].cost + cost + CostOfPage, from: i, move: m, index: index})
}

// add lets a state wait for its turn, unless one at the same place costs no more. Of the number of the page it matters only whether it is
// odd or even.
func (s *search) add(st state) {
	s.steps++
	for _, i := range s.waiting[st.at] {
		o := &s.states[i]
		if o.column != st.column || o.top != st.top || o.head != st.head || (o.page-st.page)%2 != 0 {
			continue
		}
		if st.cost < o.cost {
			*o = st
		}
		return
	}
	s.states = append(s.states, st)
	s.waiting[st.at] = append(s.waiting[st.at], int32(len(s.states)-1))
}
