package pdf

import "ownerguide/render/doc/doctest"

// Short names keep the tests readable: sec(...) holds blocks, p(...) holds words.
var (
	testGuide  = doctest.Guide
	sec        = doctest.Section
	p          = doctest.P
	linkTo     = doctest.LinkTo
	wholeGuide = doctest.Whole
	list       = doctest.List
	blocks     = doctest.Blocks
	sideView   = doctest.SideView
	caution    = doctest.Caution
)
