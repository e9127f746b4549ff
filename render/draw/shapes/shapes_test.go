package shapes

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"ownerguide/render/doc"
)

// TestSpread holds the places of circles to what was asked: in order, apart by
// the pitch, inside, and no other choice of places is nearer to what was wanted.
func TestSpread(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for round := range 300 {
		n := 1 + r.IntN(12)
		const pitch, low, high = 22.0, 10.0, 470.0
		var want []float64
		for range n {
			want = append(want, low+r.Float64()*(high-low)*[]float64{1, 0.2}[round%2])
		}
		slices.Sort(want)
		got := Spread(want, pitch, low, high)
		cost := func(xs []float64) (sum float64) {
			for i := range xs {
				sum += (xs[i] - want[i]) * (xs[i] - want[i])
			}
			return sum
		}
		fits := func(xs []float64) bool {
			for i, x := range xs {
				if x < low-1e-6 || x > high+1e-6 || i > 0 && x-xs[i-1] < pitch-1e-6 {
					return false
				}
			}
			return true
		}
		if !fits(got) {
			t.Fatalf("%v wanted: %v collide or leave %g to %g", want, got, low, high)
		}
		// A better place near by would show: the problem is convex.
		for range 60 {
			other := slices.Clone(got)
			from := r.IntN(n)
			to := from + 1 + r.IntN(n-from)
			step := (r.Float64() - 0.5) * 4
			for i := from; i < to; i++ {
				other[i] += step
			}
			if fits(other) && cost(other) < cost(got)-1e-6 {
				t.Fatalf("%v wanted: %v costs %g, %v only %g", want, got, cost(got), other, cost(other))
			}
		}
	}
}

func TestSpreadWithoutRoom(t *testing.T) {
	got := Spread([]float64{5, 5, 5}, 22, 0, 20)
	if !slices.Equal(got, []float64{0, 10, 20}) {
		t.Errorf("three circles in 20 points stand at %v; expected even steps", got)
	}
}

// crossing reports whether two straight lines cut each other between their ends.
func crossing(a1, a2, b1, b2 doc.Point) bool {
	side := func(p, q, r doc.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	const touch = 1e-6
	return side(a1, a2, b1)*side(a1, a2, b2) < -touch && side(b1, b2, a1)*side(b1, b2, a2) < -touch
}

// TestArrangeUntangles: no two lines of a row cross, wherever what they point
// at may be.
func TestArrangeUntangles(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		var marks []Mark
		for i := range 2 + r.IntN(18) {
			marks = append(marks, Mark{Sign: strconv.Itoa(i + 1), At: Pt(r.Float64()*460+10, 30+r.Float64()*120)})
		}
		row := Arrange(marks, 10, 0, 480, 0)
		if len(row.Marks) != len(marks) {
			t.Fatalf("%d of %d marks are left", len(row.Marks), len(marks))
		}
		for i, a := range row.Marks {
			for _, b := range row.Marks[:i] {
				if crossing(Pt(a.x, 0), a.At, Pt(b.x, 0), b.At) {
					t.Errorf("lines of %s and %s cross", a.Sign, b.Sign)
				}
			}
		}
	}
}

func TestWrap(t *testing.T) {
	tests := []struct {
		text   string
		widest float64
		want   []string
	}{
		{"", 100, nil},
		{"one", 1, []string{"one"}}, // a word is never broken
		{"one two three", 12*7*0.56 + 0.01, []string{"one two", "three"}},
		{"one two three", 1000, []string{"one two three"}},
		{"rated 900\u00a0lb (408\u202fkg) each", 1, []string{"rated", "900\u00a0lb", "(408\u202fkg)", "each"}},
	}
	for _, test := range tests {
		if got := Wrap(test.text, 12, test.widest); !slices.Equal(got, test.want) {
			t.Errorf("%q in %g: %q; expected %q", test.text, test.widest, got, test.want)
		}
	}
}

// TestHatchStaysInside: the middle and the ends of every line lie in the
// polygon, and the lines cover it evenly.
func TestHatchStaysInside(t *testing.T) {
	notched := []doc.Point{Pt(0, 0), Pt(100, 0), Pt(100, 80), Pt(60, 80), Pt(60, 30), Pt(40, 30), Pt(40, 80), Pt(0, 80)}
	inside := func(p doc.Point, slack float64) bool {
		in := func(l, r, top, bottom float64) bool {
			return p.X >= l-slack && p.X <= r+slack && p.Y >= top-slack && p.Y <= bottom+slack
		}
		return in(0, 100, 0, 30) || in(0, 40, 0, 80) || in(60, 100, 0, 80)
	}
	c := &Canvas{}
	c.Hatch(doc.Style{Line: doc.Signal, Width: 0.9}, 5, notched...)
	total := 0.0
	for _, shape := range c.Shapes {
		p := shape.(*doc.Path)
		a, b := p.From, p.Segments[0].To
		for _, q := range []doc.Point{a, b, Pt((a.X+b.X)/2, (a.Y+b.Y)/2)} {
			if !inside(q, 1e-6) {
				t.Errorf("line from %v to %v leaves the polygon", a, b)
			}
		}
		total += math.Hypot(b.X-a.X, b.Y-a.Y)
	}
	// Lines 5 apart along x are 5/√2 apart across: length times that is the area.
	if area := total * 5 / math.Sqrt2; math.Abs(area-7000) > 200 {
		t.Errorf("the lines cover %.0f square points; the polygon has 7000", area)
	}
}
