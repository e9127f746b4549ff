package draw

import (
	"errors"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

func init() { pictures["power-block"] = powerBlock }

// diagram is a drawing of blocks in three columns.
type diagram struct {
	*canvas
	*Subject
}

// Measures of the blocks, and how cables look.
const (
	blockWidth  = 126
	blockHeight = 42
	blockStep   = 168 // of columns
	blockGap    = 20  // between rows
	busX        = sheetWidth - 6
)

var (
	cable  = doc.Style{Line: doc.Full, Width: 1.6}
	remote = doc.Style{Line: doc.Full, Width: 0.9, Dash: []float64{4, 2.5}}
)

func blockX(column int) float64 { return margin + float64(column)*blockStep }

// block draws one block with its words in the middle.
func (d diagram) block(column int, y float64, s doc.Style, key string, pairs ...string) {
	d.rounded(s, blockX(column), y, blockWidth, blockHeight, 4)
	lines := wrap(d.words(key, pairs...), leastSize, blockWidth-8)
	first := y + blockHeight/2 + 4 - float64(len(lines)-1)*lineStep*leastSize/2
	d.lines(blockX(column)+blockWidth/2, first, lines)
}

func (d diagram) lines(x, y float64, lines []string) {
	for i, line := range lines {
		d.text(x, y+float64(i)*lineStep*leastSize, leastSize, doc.Center, line)
	}
}

// join joins a block with the next one to its right; left tells that the
// arrow points left.
func (d diagram) join(s doc.Style, column int, y float64, left bool) {
	a, b := blockX(column)+blockWidth, blockX(column+1)
	if left {
		a, b = b, a
	}
	d.arrow(s, a, y+blockHeight/2, b, y+blockHeight/2)
}

// powerBlock shows what charges the deep-cycle battery and what it feeds.
func powerBlock(s *Subject) (*doc.Drawing, string, error) {
	if _, ok := spec.First[*product.Battery](s.Build); !ok {
		return nil, "", errors.New("no deep-cycle battery is fitted")
	}
	pump, hasPump := spec.First[*product.PowerUnit](s.Build)
	winch, hasWinch := spec.First[*product.Winch](s.Build)
	if !hasPump && !hasWinch {
		return nil, "", errors.New("the battery feeds neither pump nor winch")
	}
	d := diagram{&canvas{}, s}
	y := 6.0
	heavy := part
	heavy.Width = 2
	d.block(2, y, heavy, "battery")
	if _, ok := spec.First[*product.Charger](s.Build); ok {
		d.block(0, y, white, "mains")
		d.join(cable, 0, y, false)
		d.block(1, y, white, "charger", "output", brief(s.Figure("charger.output")))
		d.join(cable, 1, y, false)
	}
	bus := y + blockHeight/2
	d.line(cable, blockX(2)+blockWidth, bus, busX, bus)
	y += blockHeight + blockGap

	// A row for each consumer: its feed leaves the bus and runs left.
	row := func(feed, consumer string, disconnect, radio bool) {
		fuse := "feed-fuse"
		rating := brief(s.Figure("electrical.fuse." + feed))
		switch {
		case rating == "":
			fuse = "feed"
		case disconnect:
			fuse = "feed-disconnect"
		}
		middle := y + blockHeight/2
		d.line(cable, busX, bus, busX, middle)
		d.arrow(cable, busX, middle, blockX(2)+blockWidth, middle)
		d.block(2, y, white, fuse, "fuse", rating)
		d.join(cable, 1, y, true)
		d.block(1, y, part, consumer)
		control := "control-corded"
		if radio {
			control = "control-radio"
		}
		d.block(0, y, white, control)
		d.join(remote, 0, y, false)
		y += blockHeight + blockGap
	}
	key := "power-block"
	if hasPump {
		key += ".pump"
		row("pump", "pump", pump.Data.Disconnect.Value, pump.Data.Control.Value == "radio")
		x := blockX(1) + blockWidth/2
		d.arrow(cable, x, y-blockGap, x, y)
		d.block(1, y, white, "cylinders")
		y += blockHeight + blockGap
	}
	if hasWinch {
		key += ".winch"
		row("winch", "winch", false, winch.Data.Remote.Value == "radio")
	}
	alt := s.words(key+".alt", "pump", s.Figure("electrical.fuse.pump"), "winch", s.Figure("electrical.fuse.winch"))
	return d.sheet(y - blockGap + 6), alt, nil
}
