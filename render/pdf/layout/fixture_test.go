package layout

import "ownerguide/render/doc/doctest"

// Short names keep the tests readable: sec(...) holds blocks, p(...) holds words.
var (
	testGuide  = doctest.Guide
	sec        = doctest.Section
	slug       = doctest.Slug
	words      = doctest.Words
	value      = doctest.Value
	mark       = doctest.Mark
	strong     = doctest.Strong
	linkTo     = doctest.LinkTo
	p          = doctest.P
	inlines    = doctest.Inlines
	bullets    = doctest.Bullets
	steps      = doctest.Steps
	ticks      = doctest.Ticks
	list       = doctest.List
	blocks     = doctest.Blocks
	caution    = doctest.Caution
	table      = doctest.Table
	cells      = doctest.Cells
	sideView   = doctest.SideView
	wholeGuide = doctest.Whole
)
