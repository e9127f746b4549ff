package draw

import (
	"errors"

	"ownerguide/render/doc"
	"ownerguide/spec"
)

func init() { pictures["power-block"] = powerBlock }

// powerBlock shows what the deep-cycle battery feeds and what charges it.
func powerBlock(s *Subject) (*doc.Drawing, string, error) {
	if _, ok := spec.First[*spec.Battery](s.Build); !ok {
		return nil, "", errors.New("no deep-cycle battery is fitted")
	}
	pump, hasPump := spec.First[*spec.PowerUnit](s.Build)
	winch, hasWinch := spec.First[*spec.Winch](s.Build)
	_, hasCharger := spec.First[*spec.Charger](s.Build)
	c := &canvas{}
	const w, h, left, step = 128, 42, 4, 172
	column := func(i int) float64 { return left + float64(i)*step }
	block := func(i int, y float64, style doc.Style, key string, pairs ...string) {
		c.rounded(style, column(i), y, w, h, 4)
		lines := wrap(s.words(key, pairs...), leastSize, w-8)
		first := y + h/2 + 4 - float64(len(lines)-1)*lineStep*leastSize/2
		for n, line := range lines {
			c.text(column(i)+w/2, first+float64(n)*lineStep*leastSize, leastSize, doc.Center, line)
		}
	}
	cable := doc.Style{Line: doc.Full, Width: 1.6}
	across := func(i int, y float64) { c.arrow(cable, column(i)+w, y+h/2, column(i+1), y+h/2) }
	fused := func(y float64, feed string) {
		across(0, y)
		if fuse := s.Figure("electrical.fuse." + feed); fuse != "" {
			// On the cable, its rating above.
			x := column(1) - (step-w)/2 - 2
			c.rect(white, x-9, y+h/2-5, 18, 10)
			c.line(thin, x-9, y+h/2, x+9, y+h/2)
		}
	}
	heavy := white
	heavy.Width = 2

	y := 6.0
	key := "power"
	battery := 0.0 // y of the battery's block
	fuse := func(feed string) string { return s.Figure("electrical.fuse." + feed) }
	if hasCharger {
		block(0, y, white, "mains")
		fused(y, "charger")
		block(1, y, white, "charger", "output", brief(s.Figure("charger.output")))
		c.arrow(cable, column(1)+w, y+h/2, column(2), y+h/2)
		block(2, y, heavy, "battery")
		battery = y
	} else {
		block(2, y, heavy, "battery")
	}
	bottom := battery + h + y
	// Each consumer has a row; its feed comes down from the battery and runs left.
	feed := func(name, first string, pairs []string, second, control string) {
		y := bottom + 22
		c.line(cable, column(2)+w/2, y-22, column(2)+w/2, y+h/2)
		_ = first
		bottom = y + h
		block(2, y, white, first, pairs...)
		c.arrow(cable, column(2), y+h/2, column(1)+w, y+h/2)
		block(1, y, part, second)
		block(0, y, white, control)
		c.arrow(doc.Style{Line: doc.Full, Width: 0.9, Dash: []float64{4, 2.5}}, column(0)+w, y+h/2, column(1), y+h/2)
		_ = name
	}
	if hasPump {
		key += "-pump"
		control := "control-corded"
		if pump.Data.Control.Value == "radio" {
			control = "control-radio"
		}
		first := "fuse"
		if pump.Data.Disconnect.Value {
			first = "fuse-disconnect"
		}
		feed("pump", first, []string{"fuse", brief(fuse("pump"))}, "pump", control)
		y := bottom + 22
		c.arrow(cable, column(1)+w/2, bottom, column(1)+w/2, y)
		block(1, y, part, "cylinders")
		bottom = y + h
	}
	if hasWinch {
		key += "-winch"
		control := "control-corded"
		if winch.Data.Remote.Value == "radio" {
			control = "control-radio"
		}
		feed("winch", "fuse", []string{"fuse", brief(fuse("winch"))}, "winch", control)
	}
	if !hasPump && !hasWinch {
		return nil, "", errors.New("the battery feeds neither pump nor winch")
	}
	return c.sheet(bottom + 8), s.words(key+".alt", "pump", fuse("pump"), "winch", fuse("winch")), nil
}
