package product

import "ownerguide/spec/source"

// entryOfKind is an entry that only parts of certain kinds may have.
type entryOfKind struct {
	key      string
	at       source.Pos
	set      bool
	belongs  bool
	optional bool
}

// ofKind reports entries that are missing for this kind of part, or not allowed.
func (c *lineCheck) ofKind(kind word, what string, entries ...entryOfKind) {
	for _, e := range entries {
		switch {
		case e.belongs && !e.set && !e.optional:
			c.add(codeLineKind.At(kind.At, "%s: %s is missing", what, e.key))
		case e.set && !e.belongs:
			c.add(codeLineKind.At(e.at, "%s: there is no %s here", what, e.key).WithHint("delete it, or correct the kind").WithRelated(kind.At, "the kind"))
		}
	}
}

// brake checks the entries of a brake against its kind: a magnet in a hydraulic brake
// would count as a load on the breakaway battery, and a rotor without a minimum
// thickness would be worn until it breaks.
func (c *lineCheck) brake(b *Brake) {
	electric, what := b.Kind.Value == "electric", b.Kind.Value+" brakes"
	if electric && b.Disc() {
		c.add(codeLineKind.At(b.Form.At, "electric brakes have drums; fluid works brakes with rotors").WithHint("write kind: hydraulic, and fit an actuator"))
		return
	}
	if b.Form.Set {
		what = b.Kind.Value + " " + b.Form.Value + " brakes"
	}
	c.ofKind(b.Kind, what,
		entryOfKind{key: "form", at: b.Form.At, set: b.Form.Set, belongs: true, optional: electric},
		entryOfKind{key: "magnets", at: b.Magnets.At, set: b.Magnets.Set, belongs: electric},
		entryOfKind{key: "resistance", at: b.Resistance.At, set: b.Resistance.Set, belongs: electric},
		entryOfKind{key: "drum_limit", at: b.DrumLimit.At, set: b.DrumLimit.Set, belongs: !b.Disc(), optional: true},
		entryOfKind{key: "rotor_limit", at: b.RotorLimit.At, set: b.RotorLimit.Set, belongs: b.Disc()},
		entryOfKind{key: "free_backing", at: b.FreeBacking.At, set: b.FreeBacking.Set, belongs: !electric && !b.Disc(), optional: true})
}

func (c *lineCheck) actuator(a *Actuator) {
	surge := a.Kind.Value == "surge"
	what := "an actuator of the kind " + a.Kind.Value
	c.ofKind(a.Kind, what,
		entryOfKind{key: "gross", at: a.Gross.At, set: a.Gross.Set, belongs: surge},
		entryOfKind{key: "vertical", at: a.Vertical.At, set: a.Vertical.Set, belongs: surge},
		entryOfKind{key: "coupler_share_low", at: a.LeastShare.At, set: a.LeastShare.Set, belongs: surge},
		entryOfKind{key: "travel", at: a.Travel.At, set: a.Travel.Set, belongs: surge},
		entryOfKind{key: "reverse", at: a.Reverse.At, set: a.Reverse.Set, belongs: surge},
		entryOfKind{key: "current", at: a.Current.At, set: a.Current.Set, belongs: !surge},
		entryOfKind{key: "holding_current", at: a.Holding.At, set: a.Holding.Set, belongs: !surge})
}

// coupler checks the entries of a coupler against its kind: a pintle ring has no ball and no
// latch of its own, and a socket has no ring that a hook wears through.
func (c *lineCheck) coupler(p *Coupler) {
	ring, ball, pin := p.Pintle(), p.TakesBall(), p.Kingpin()
	c.ofKind(p.Kind, "a coupler of the kind "+p.Kind.Value,
		entryOfKind{key: "ball", at: p.Ball.At, set: p.Ball.Set, belongs: ball},
		entryOfKind{key: "ball_height_low", at: p.BallHeightLow.At, set: p.BallHeightLow.Set, belongs: ball},
		entryOfKind{key: "ball_height_high", at: p.BallHeightHigh.At, set: p.BallHeightHigh.Set, belongs: ball},
		entryOfKind{key: "latch", at: p.Latch.At, set: p.Latch.Set, belongs: ball},
		entryOfKind{key: "ring", at: p.Ring.At, set: p.Ring.Set, belongs: ring},
		entryOfKind{key: "ring_section", at: p.RingSection.At, set: p.RingSection.Set, belongs: ring},
		entryOfKind{key: "ring_height_low", at: p.RingHeightLow.At, set: p.RingHeightLow.Set, belongs: ring},
		entryOfKind{key: "ring_height_high", at: p.RingHeightHigh.At, set: p.RingHeightHigh.Set, belongs: ring},
		entryOfKind{key: "kingpin", at: p.Pin.At, set: p.Pin.Set, belongs: pin},
		entryOfKind{key: "plate_height_low", at: p.PlateLow.At, set: p.PlateLow.Set, belongs: pin},
		entryOfKind{key: "plate_height_high", at: p.PlateHigh.At, set: p.PlateHigh.Set, belongs: pin})
}
