package layout

import (
	"math"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
)

// within walks the structure tree and notes for each element the roles above it.
func within(b *Book) map[*finish.Element][]finish.Role {
	out := map[*finish.Element][]finish.Role{}
	var walk func(e *finish.Element, above []finish.Role)
	walk = func(e *finish.Element, above []finish.Role) {
		above = append(slices.Clone(above), e.Role)
		out[e] = above
		for _, c := range e.Children {
			walk(c, above)
		}
	}
	walk(b.Root, nil)
	return out
}

// The left edges of text in a column are that of its marks, that of its words, and that of the dots between them.
func TestTextStandsInLanes(t *testing.T) {
	for _, size := range []paper.Size{paper.Letter, paper.A4} {
		f, _ := size.Format()
		b := laidOn(t, wholeGuide(), size)
		roles := within(b)
		edges := map[float64]int{}
		for _, pg := range b.Pages[1:] {
			last := -1.0
			for _, r := range texts(pg) {
				begins := math.Abs(r.Y-last) > 3 // or the line goes on
				last = r.Y
				in := roles[r.Element]
				if !begins || slices.Contains(in, finish.RoleTable) || slices.Contains(in, finish.RoleFigure) || slices.Contains(in, finish.RoleTOC) || r.Look.Ink != page.Black {
					continue
				}
				x := r.X - f.TextLeft(pg.Number)
				if x >= f.ColumnWidth {
					x -= f.ColumnWidth + paper.Gutter
				}
				x = math.Round(100*x) / 100
				if deep := slices.Index(in, finish.RoleL); deep >= 0 && slices.Contains(in[deep+1:], finish.RoleL) {
					continue // a list inside a list goes on one lane further in
				}
				if edges[x]++; x != 0 && x != bulletAt && x != laneWidth && !inMark(r) {
					t.Errorf("%s, page %d: %q begins at %.2f in its column", size, pg.Number, r.Words, x)
				}
			}
		}
		if edges[0] < 10 || edges[laneWidth] < 10 || edges[bulletAt] < 5 {
			t.Errorf("%s: text was met at %v", size, edges)
		}
	}
}

// inMark reports whether words stand in a frame or on a disc, which have the edge of the lane themselves.
func inMark(r *page.Text) bool { return r.Look.Size == chip.Size && r.Look.Style != fonts.Regular }

// Few sizes keep a page calm; none is smaller than a caption.
func TestSizesOfType(t *testing.T) {
	allowed := []float64{8.5, 9.5, 10, 11, 13, 15, 20, 34, tabNumber.Size}
	for _, size := range []paper.Size{paper.Letter, paper.A4} {
		b := laidOn(t, wholeGuide(), size)
		roles := within(b)
		for _, pg := range b.Pages {
			for it := range pg.All() {
				r, ok := it.(*page.Text)
				if !ok || r.Look.Ink == page.White || slices.Contains(roles[r.Element], finish.RoleFigure) { // numbers on discs, labels of drawings
					continue
				}
				if !slices.Contains(allowed, r.Look.Size) {
					t.Errorf("%s, page %d: %q is set in %g points", size, pg.Number, r.Words, r.Look.Size)
				}
			}
		}
	}
}

// Prescribed text is 10 points at least, in tables too (49 CFR 575.6).
func TestPrescribedTextIsLarge(t *testing.T) {
	b := laid(t, testGuide(sec(1, doc.RoleStatement, "1", "Statements", p("Text."), table(doc.TablePlain, cells("Value", "From"), cells("Cold pressure", "the sidewall")),
		&doc.Figure{Name: "side", Caption: "The trailer", Alt: "It.", Drawing: &doc.Drawing{Width: 200, Height: 20}})))
	seen := 0
	for _, r := range texts(b.Pages[0]) {
		if seen++; r.Look.Size < statement {
			t.Errorf("%q is set in %g points", r.Words, r.Look.Size)
		}
	}
	if seen < 6 {
		t.Errorf("only %d texts", seen)
	}
}

// Lines have the weights that part what they part, and no others.
func TestWeightsOfLines(t *testing.T) {
	allowed := []float64{heavyLine, headLine, lightLine, thinLine, typeset.ChipOutline, 0.9, 3} // the last three: a chip's edge, a box to tick, a danger's frame
	b := laid(t, wholeGuide())
	met := map[float64]int{}
	for _, pg := range b.Pages {
		for it := range pg.All() {
			s, ok := it.(*page.Shape)
			if !ok || s.Line == nil || s.Element != nil && s.Element.Role == finish.RoleFigure || s.Round {
				continue
			}
			if met[s.Width]++; !slices.Contains(allowed, s.Width) {
				t.Errorf("page %d: a line of %g points", pg.Number, s.Width)
			}
		}
	}
	for _, w := range allowed {
		if met[w] == 0 {
			t.Errorf("no line of %g points was met: %v", w, met)
		}
	}
}

// Blocks begin on the grid, so that their tops do not drift by fractions of a point.
func TestBlocksBeginOnTheGrid(t *testing.T) {
	b := laid(t, wholeGuide())
	roles := within(b)
	level, all := 0, 0
	for _, pg := range b.Pages {
		for _, r := range texts(pg) {
			in := roles[r.Element]
			if r.Look != body || len(in) == 0 || in[len(in)-1] != finish.RoleP || len(in) > 4 { // paragraphs outside lists, tables and panels
				continue
			}
			top := r.Y - body.Baseline(leading) - letter.Top
			all++
			if off := math.Mod(top+0.01, snap); off < 0.02 {
				level++
			}
		}
	}
	if all < 40 || level != all {
		t.Errorf("of %d lines of paragraphs %d are on the grid", all, level)
	}
}

// A hazard is told in full where it is met and called to mind in a line or two elsewhere, which leads there.
func TestAReminderLeadsToItsPanel(t *testing.T) {
	b := laid(t, wholeGuide())
	panel := 0
	for _, pg := range b.Pages {
		for it := range pg.All() {
			if a, ok := it.(*page.Anchor); ok && a.Name == "caution-unit-rolls" {
				panel = pg.Number
			}
		}
	}
	if panel == 0 {
		t.Fatal("the panel has no anchor")
	}
	for _, pg := range b.Pages {
		for it := range pg.All() {
			if l, ok := it.(*page.Link); ok && l.To == "#caution-unit-rolls" {
				said := strings.TrimSpace(heardOn(pg)[l.Element])
				if want := "An unchocked trailer can roll., page "; !strings.HasPrefix(l.Words, want) || said == "" || !strings.Contains(l.Words+")", strings.TrimPrefix(said, "(page\u00a0")) {
					t.Errorf("page %d: the reminder reads %q and is heard as %q; the panel is on page %d", pg.Number, said, l.Words, panel)
				}
				return
			}
		}
	}
	t.Error("no reminder leads to the panel")
}

// Four of these stand in a column of 246 points: a reminder takes three lines at most.
func TestARemindersLength(t *testing.T) {
	for _, w := range []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice} {
		c := caution(w, "c", "A hazard that is told in forty-five letters.", "", "Never do what would let it fall on you or anybody.")
		c.Brief = true
		b := laid(t, testGuide(sec(1, doc.RoleChapter, "", "Chapter", c)))
		ys := map[float64]bool{}
		for _, r := range texts(b.Pages[0]) {
			if r.Y > letter.Top+40 && r.Look.Size == body.Size {
				ys[r.Y] = true
			}
		}
		if len(ys) > 3 {
			t.Errorf("%s: %d lines", w, len(ys))
		}
	}
}

// The page of a place is told once below each numbered heading: the next part of a chapter may be all that is read.
func TestAPageIsToldOnceInEachPart(t *testing.T) {
	b := laid(t, testGuide(sec(1, doc.RoleChapter, "1", "Chapter",
		sec(2, doc.RolePlain, "1.1", "First", p("See ", linkTo("#third", "it"), "."), p("See ", linkTo("#third", "it"), ".")),
		sec(2, doc.RolePlain, "1.2", "Second", p("See ", linkTo("#third", "it"), ".")),
		sec(2, doc.RolePlain, "1.3", "Third", p("This.")))))
	said := ""
	for _, r := range texts(b.Pages[0]) {
		said += r.Words
	}
	if n := strings.Count(said, "(page"); n != 2 {
		t.Errorf("the page is told %d times in two parts that name it three times: %s", n, said)
	}
}
