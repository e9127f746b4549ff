package quantity

import "cmp"

// Conversions settles how the figures of one document are converted, so that
// one figure has one conversion: on facing pages two conversions of one rating
// look like two ratings. A second figure is worked out from the first as that is
// printed. Where every figure that prints a first one may only be passed on one
// side, the second keeps to it. A first figure that is at most here and at least
// there goes to the nearest, since no other figure is safe for both.
type Conversions struct {
	system  System                 // the first
	figures map[string]*conversion // by the first figure as printed
}

// conversion is how one first figure is converted.
type conversion struct {
	rounding Rounding
	down, up bool
	stated   Quantity // a figure that was stated in the second system
}

// NewConversions begins with no figure; figures go out in system first.
func NewConversions(system System) *Conversions {
	return &Conversions{system, map[string]*conversion{}}
}

// Clone returns one that further figures can be added to.
func (c *Conversions) Clone() *Conversions {
	own := &Conversions{c.system, make(map[string]*conversion, len(c.figures))}
	for first, known := range c.figures {
		copied := *known
		own.figures[first] = &copied
	}
	return own
}

// Add tells of a figure that the document prints. The finest step counts.
func (c *Conversions) Add(q Quantity, r Rounding) {
	p := Print{System: c.system}
	if !p.converts(q, r) {
		return
	}
	first := c.first(q, r)
	known := c.figures[first]
	if known == nil {
		known = &conversion{rounding: r}
		c.figures[first] = known
	}
	if p.stated(q, r, p.other()) && known.stated == nil {
		known.stated, known.rounding = q, r
	}
	known.down, known.up = known.down || r.Side == Down, known.up || r.Side == Up
	for _, step := range []struct{ to, of *float64 }{{&known.rounding.Step, &r.Step}, {&known.rounding.MetricStep, &r.MetricStep}} {
		*step.to = min(cmp.Or(*step.to, 1), cmp.Or(*step.of, 1))
	}
}

// first spells the first figure of a conversion. With a decimal sign: without one 1.2
// and 12 would be one figure.
func (c *Conversions) first(q Quantity, r Rounding) string {
	p := English
	p.System = c.system
	return p.First(q, r)
}

// Text returns a figure as [Print.Text] does, converted as the document converts it.
func (c *Conversions) Text(p Print, q Quantity, r Rounding) string {
	if c == nil || !p.converts(q, r) {
		return p.Text(q, r)
	}
	known := c.figures[c.first(q, r)]
	if known == nil || p.System != c.system {
		return p.Text(q, r)
	}
	second := known.rounding
	switch {
	case known.down && known.up:
		second.Side = Nearest
	case known.down:
		second.Side = Down
	case known.up:
		second.Side = Up
	}
	return p.text(q, r, second, known.stated)
}
