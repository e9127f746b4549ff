package draw

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
)

var placeholder = regexp.MustCompile(`\{[a-z0-9-]*\}`)

// TestDrawings holds every drawing of every unit to the rules of the sheet: all
// of it inside, lines and texts large enough for a phone, no text upon another,
// no word missing.
func TestDrawings(t *testing.T) {
	for _, id := range IDs() {
		if _, known := drawnFor[id]; !known {
			t.Errorf("drawing %s: the test does not know which units have it", id)
		}
	}
	eachUnit(t, func(t *testing.T, s *Subject) {
		for _, id := range IDs() {
			condition, err := logic.ParseCondition(drawnFor[id])
			if err != nil && drawnFor[id] != "" {
				t.Fatal(err)
			}
			d, alt, err := Draw(id, *s)
			if drawnFor[id] != "" && !condition.Holds(s.Build.Has) {
				if err == nil {
					t.Errorf("%s: drawn for a unit that is not %s", id, drawnFor[id])
				}
				continue
			}
			if err != nil {
				t.Errorf("%s: %v", id, err)
				continue
			}
			checkSheet(t, id, d, 480, 11)
			checkColumn(t, id, s)
			if alt == "" || placeholder.MatchString(alt) {
				t.Errorf("%s: alternative text %q is empty or unfilled", id, alt)
			}
		}
	})
}

// checkSheet holds a drawing to its width and least size of type.
func checkSheet(t *testing.T, id string, d *doc.Drawing, wide, least float64) {
	t.Helper()
	if d.Width != wide {
		t.Errorf("%s: the sheet is %g wide; expected %g", id, d.Width, wide)
	}
	const slack = 0.5
	for _, shape := range d.Shapes {
		a := extentOf(shape)
		if !(a.left >= -slack && a.right <= d.Width+slack && a.top >= -slack && a.bottom <= d.Height+slack) {
			t.Errorf("%s: %T at %+v leaves the sheet of %g by %g", id, shape, a, d.Width, d.Height)
		}
		if style, ok := styleOf(shape); ok && style.Line != doc.None && style.Width < 0.75 {
			t.Errorf("%s: a line is %g wide; expected at least 0.75", id, style.Width)
		}
	}
	labels := labelsOf(d)
	for i, l := range labels {
		switch {
		case strings.TrimSpace(l.Text) == "":
			t.Errorf("%s: a label is empty", id)
		case l.Size < least:
			t.Errorf("%s: %q is set in %g pt; expected at least %g", id, l.Text, l.Size, least)
		case l.Turn != 0:
			t.Errorf("%s: %q is turned", id, l.Text)
		case placeholder.MatchString(l.Text):
			t.Errorf("%s: %q is not filled", id, l.Text)
		}
		for _, other := range labels[:i] {
			if areaOf(l).meets(areaOf(other)) {
				t.Errorf("%s: %q lies upon %q", id, l.Text, other.Text)
			}
		}
	}
}

// checkColumn holds the views of a drawing laid out for a column to the same rules: it is
// as wide as the text of a phone's page and no text in it is under 12 pixels. Every sign of
// a view has its row below, circles stand clear of one another, and the lines to parts
// cross neither one another nor a circle.
func checkColumn(t *testing.T, id string, s *Subject) {
	t.Helper()
	views, err := Column(id, *s)
	if err != nil || len(views) == 0 {
		t.Errorf("%s: views for a column: %d, %v", id, len(views), err)
		return
	}
	for n, v := range views {
		id := id + " in a column, view " + strconv.Itoa(n+1)
		checkSheet(t, id, v.Drawing, 288, 12)
		if v.Alt == "" || placeholder.MatchString(v.Alt) {
			t.Errorf("%s: alternative text %q is empty or unfilled", id, v.Alt)
		}
		circles := signCircles(v.Drawing)
		told := map[string]bool{}
		for _, row := range v.Key {
			if row.Text == "" || placeholder.MatchString(row.Text) || told[row.Sign] && row.Sign != "" {
				t.Errorf("%s: the row of %q says %q, or stands twice", id, row.Sign, row.Text)
			}
			if told[row.Sign] = true; row.Sign != "" && len(circles[row.Sign]) == 0 && !strings.HasPrefix(row.Sign, "contact") {
				t.Errorf("%s: the sign %s of a row is not in the picture", id, row.Sign)
			}
		}
		letters := len(v.Key) == 1 && v.Key[0].Text == s.words("zones") // the views that follow are their rows
		var all []*doc.Circle
		for sign, list := range circles {
			if !told[sign] && !letters {
				t.Errorf("%s: nothing below says what %s is", id, sign)
			}
			all = append(all, list...)
		}
		for i, a := range all {
			for _, b := range all[:i] {
				if math.Hypot(a.Center.X-b.Center.X, a.Center.Y-b.Center.Y) < a.Radius+b.Radius {
					t.Errorf("%s: two circles overlap at %.0f, %.0f", id, a.Center.X, a.Center.Y)
				}
			}
		}
		leaders := leadersOf(v.Drawing)
		for i, l := range leaders {
			for _, k := range leaders[:i] {
				if crosses(l.From, l.Segments[0].To, k.From, k.Segments[0].To) {
					t.Errorf("%s: the lines from %v and %v cross", id, l.From, k.From)
				}
			}
			for _, c := range all {
				if away(c.Center, l.From, l.Segments[0].To) < c.Radius {
					t.Errorf("%s: the line to %v runs through a circle", id, l.Segments[0].To)
				}
			}
			for _, label := range labelsOf(v.Drawing) {
				if a := areaOf(label); label.Ink != doc.Paper && runsThrough(l.From, l.Segments[0].To, a) {
					t.Errorf("%s: the line to %v runs through %q", id, l.Segments[0].To, label.Text)
				}
			}
		}
	}
}

// signCircles returns the circles with a sign, by the sign.
func signCircles(d *doc.Drawing) map[string][]*doc.Circle {
	out := map[string][]*doc.Circle{}
	for _, c := range circlesOf(d, func(c *doc.Circle) bool { return c.Fill == doc.Mark && c.Radius >= 9 }) {
		for _, l := range labelsOf(d) {
			if math.Hypot(l.At.X-c.Center.X, l.At.Y-4-c.Center.Y) < 2 {
				out[l.Text] = append(out[l.Text], c)
			}
		}
	}
	return out
}

// leadersOf returns the lines that end in a dot.
func leadersOf(d *doc.Drawing) []*doc.Path {
	dots := circlesOf(d, func(c *doc.Circle) bool { return c.Radius < 4 })
	return pathsOf(d, func(p *doc.Path) bool {
		_, b, ok := straight(p)
		return ok && p.Line == doc.Mark && p.Width == 0.75 && slices.ContainsFunc(dots, func(c *doc.Circle) bool { return c.Center == b })
	})
}

// runsThrough reports whether a stretch enters an area.
func runsThrough(p, q doc.Point, a area) bool {
	for i := range 41 {
		u := float64(i) / 40
		x, y := p.X+u*(q.X-p.X), p.Y+u*(q.Y-p.Y)
		if x > a.left && x < a.right && y > a.top && y < a.bottom {
			return true
		}
	}
	return false
}
