package quantity

import (
	"cmp"
	"math"
)

// Conversions makes the conversions of one document consistent: two conversions of
// one rating on facing pages look like two ratings. The second figure is calculated
// from the first as printed, with the finest step any use asks for. A maximum is never
// rounded up and a minimum never down, whatever else prints the same first figure. If there are
// both, one more decimal is printed where that makes the conversion exact, as for inches;
// elsewhere each keeps to its side, and the first figure has two conversions. A use that
// is neither goes with the side of the others, or to the nearest if there are both.
type Conversions struct {
	system  System                 // the first
	figures map[figure]*conversion // by the first figure as printed
}

// conversion is the rounding of the second figure for one first figure.
type conversion struct {
	rounding Rounding
	down, up bool
	stated   Quantity // a figure stated in the second system; nil if none
}

// NewConversions returns an empty Conversions for documents with system first.
func NewConversions(system System) *Conversions {
	return &Conversions{system, map[figure]*conversion{}}
}

// Plain reports whether a notation is English, with the first system of the document.
func (c *Conversions) Plain(p Print) bool {
	return p.System == c.system && p.Group == English.Group && p.Decimal == English.Decimal && p.Mixed == mixed && p.Both == both && len(p.Units) == 0
}

// Clone returns a deep copy.
func (c *Conversions) Clone() *Conversions {
	own := &Conversions{c.system, make(map[figure]*conversion, len(c.figures))}
	for first, known := range c.figures {
		copied := *known
		own.figures[first] = &copied
	}
	return own
}

// Add records a figure that the document prints.
func (c *Conversions) Add(q Quantity, r Rounding) {
	p := Print{System: c.system}
	if !p.converts(q, r) {
		return
	}
	f := p.figure(q, r, c.system)
	first := f.printed()
	known := c.figures[first]
	if known == nil {
		known = &conversion{rounding: r}
		c.figures[first] = known
	}
	if r.Stated && !f.stated && known.stated == nil {
		known.stated, known.rounding = q, r
	}
	known.down, known.up = known.down || r.Side == Down, known.up || r.Side == Up
	for _, step := range []struct{ to, of *float64 }{{&known.rounding.Step, &r.Step}, {&known.rounding.MetricStep, &r.MetricStep}} {
		*step.to = min(cmp.Or(*step.to, 1), cmp.Or(*step.of, 1))
	}
}

// Text formats a figure as [Print.Text] does, with the conversion of the document.
func (c *Conversions) Text(p Print, q Quantity, r Rounding) string {
	first := p.figure(q, r, p.System)
	if c == nil || c.figures[first.printed()] == nil || p.System != c.system {
		return p.text(q, r, first, r, nil)
	}
	known := c.figures[first.printed()]
	second, stated := known.rounding, known.stated
	switch {
	case r.Side != Nearest:
		second.Side = r.Side
	case known.down && known.up:
		second.Side = Nearest
	case known.down:
		second.Side = Down
	case known.up:
		second.Side = Up
	}
	if known.down && known.up {
		symbol, step := second.in(q.Dimension(), p.other())
		if n := first.in(symbol) / step * 10; math.Abs(n-math.Round(n)) < slack*math.Max(1, math.Abs(n)) && math.Mod(math.Round(n), 10) != 0 {
			second.Step, second.MetricStep = second.Step/10, second.MetricStep/10
		}
	}
	if stated != nil {
		off := (stated.Base() - q.Base()) / max(math.Abs(q.Base()), 1)
		if r.Side == Down && off > slack || r.Side == Up && off < -slack {
			stated = nil // of another figure, and past this one
			second.Stated = false
		}
	}
	return p.text(q, r, first, second, stated)
}
