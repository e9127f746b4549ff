package draw

import (
	"errors"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

func init() { pictures["power-block"] = powerBlock }

// diagram is a drawing of blocks in three columns.
type diagram struct {
	*canvas
	*Subject
	blockWidth, blockStep float64 // width of a block; distance of columns
	blockHeight, blockGap float64 // of a block; between rows
	busX                  float64 // x of the vertical cable below the battery
}

var (
	cable  = doc.Style{Line: doc.Full, Width: 1.6}
	remote = doc.Style{Line: doc.Full, Width: 0.9, Dash: []float64{4, 2.5}}
)

func (d diagram) blockX(column int) float64 { return shapes.Margin + float64(column)*d.blockStep }

// block draws one block with its text in the middle, or with a letter.
func (d diagram) block(column int, y float64, s doc.Style, key string, pairs ...string) {
	d.RoundedRect(s, d.blockX(column), y, d.blockWidth, d.blockHeight, 4)
	words, x := d.words(key, pairs...), d.blockX(column)+d.blockWidth/2
	if d.Narrow {
		d.Lettered(x, y+d.blockHeight/2, words)
		return
	}
	lines := shapes.Wrap(words, d.SmallText, d.blockWidth-8)
	d.canvas.TextBlock(x, y+d.blockHeight/2+4-float64(len(lines)-1)*shapes.LineSpacing*d.SmallText/2, d.SmallText, doc.Center, words, d.blockWidth-8)
}

// join connects a block with the next one to its right; left reverses the
// arrow.
func (d diagram) join(s doc.Style, column int, y float64, left bool) {
	a, b := d.blockX(column)+d.blockWidth, d.blockX(column+1)
	if left {
		a, b = b, a
	}
	d.Arrow(s, a, y+d.blockHeight/2, b, y+d.blockHeight/2)
}

// powerBlock draws what charges the deep-cycle battery and what it feeds.
func powerBlock(s *Subject, c *canvas) (float64, string, error) {
	switch {
	case !spec.Fitted[*product.Battery](s.Build):
		return 0, "", errors.New("no deep-cycle battery is fitted")
	case !spec.Fitted[*product.PowerUnit](s.Build) && !spec.Fitted[*product.Winch](s.Build) && !s.Build.Has("jack-powered"):
		return 0, "", errors.New("the battery feeds no pump, no winch and no jack")
	}
	var y float64
	var alt string
	s.Build.TraceDetached(func() { y, alt = powerRows(s, c) }) // whatever they are, there is a picture
	return y, alt, nil
}

// powerRows draws what charges the battery, and a row for each thing it feeds.
func powerRows(s *Subject, c *canvas) (float64, string) {
	pump, hasPump := spec.First[*product.PowerUnit](s.Build)
	winch, hasWinch := spec.First[*product.Winch](s.Build)
	hasJack := s.Build.Has("jack-powered")
	d := diagram{canvas: c, Subject: s, blockStep: 0.35 * c.Width, busX: c.Width - 6}
	d.blockWidth, d.blockHeight, d.blockGap = 0.75*d.blockStep, 42, 20
	if d.Narrow { // a letter in place of words
		d.blockHeight, d.blockGap = 30, 14
	}
	y := 6.0
	heavy := part
	heavy.Width = 2
	d.block(2, y, heavy, "battery")
	if _, ok := spec.First[*product.Charger](s.Build); ok {
		d.block(0, y, white, "mains")
		d.join(cable, 0, y, false)
		d.block(1, y, white, "charger", "output", s.brief(s.Figure("charger.output")))
		d.join(cable, 1, y, false)
	}
	bus := y + d.blockHeight/2
	d.Line(cable, d.blockX(2)+d.blockWidth, bus, d.busX, bus)
	y += d.blockHeight + d.blockGap

	// A row for each other source: it joins the arrow of the charger.
	var alt []string
	for _, c := range []struct{ feature, from, through, output string }{
		{"solar-charger", "panel", "controller", "solar.output"},
		{"charge-converter", "through-plug", "converter", "charge_line.output"},
		{"charge-relay", "through-plug", "relay", "charge_line.output"},
	} {
		if s.Build.Has(c.feature) {
			d.block(0, y, white, c.from)
			d.join(cable, 0, y, false)
			d.block(1, y, white, c.through, "output", s.brief(s.Figure(c.output)))
			edge := d.blockX(1) + d.blockWidth
			x := edge + 0.35*(d.blockStep-d.blockWidth)
			d.Line(cable, edge, y+d.blockHeight/2, x, y+d.blockHeight/2)
			d.Line(cable, x, y+d.blockHeight/2, x, bus)
			alt = append(alt, s.words("power-block."+c.through+".alt"))
			y += d.blockHeight + d.blockGap
		}
	}

	// A row for each consumer: its feed leaves the bus and runs left.
	controls := map[bool]string{false: "control-corded", true: "control-radio"}
	row := func(feed, consumer, control string, disconnect bool) {
		fuse := "feed-fuse"
		rating := s.brief(s.Figure("electrical.fuse." + feed))
		switch {
		case rating == "":
			fuse = "feed"
		case disconnect:
			fuse = "feed-disconnect"
		}
		middle := y + d.blockHeight/2
		d.Line(cable, d.busX, bus, d.busX, middle)
		d.Arrow(cable, d.busX, middle, d.blockX(2)+d.blockWidth, middle)
		d.block(2, y, white, fuse, "fuse", rating)
		d.join(cable, 1, y, true)
		d.block(1, y, part, consumer)
		d.block(0, y, white, control)
		d.join(remote, 0, y, false)
		y += d.blockHeight + d.blockGap
	}
	key := "power-block"
	if hasPump {
		key += ".pump"
		row("pump", "pump", controls[pump.Data.Control.Value == "radio"], pump.Data.Disconnect.Value)
		x := d.blockX(1) + d.blockWidth/2
		d.Arrow(cable, x, y-d.blockGap, x, y)
		d.block(1, y, white, "cylinders")
		y += d.blockHeight + d.blockGap
	}
	if hasWinch {
		key += ".winch"
		row("winch", "winch", controls[winch.Data.Remote.Value == "radio"], false)
	}
	if hasPump || hasWinch {
		alt = append([]string{s.words(key+".alt", "pump", s.Figure("electrical.fuse.pump"), "winch", s.Figure("electrical.fuse.winch"))}, alt...)
	}
	if hasJack {
		row("jack", "jack-block", "control-switch", false)
		alt = append(alt, s.words("power-block.jack.alt", "jack", s.Figure("electrical.fuse.jack")))
	}
	return y - d.blockGap + 6, doc.Join(s.Label("list.sentences"), alt...)
}
