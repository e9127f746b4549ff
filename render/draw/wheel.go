package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
)

func init() { pictures["torque-order"] = torqueOrder }

// torqueOrder draws the studs of one wheel. The numbers are those of wheels.sequence,
// clockwise from the top, so that text and picture cannot contradict each other; arrows
// lead from nut to nut.
func torqueOrder(s *Subject, c *canvas) (float64, string, error) {
	sequence, torque := s.need("wheels.sequence"), s.need("wheels.torque")
	s.Values.DependOnValue("wheels.sequence")
	order, err := studs(sequence)
	if err != nil {
		return 0, "", err
	}
	x, y, r := 118.0, 118.0, 106.0 // of the rim
	circle, nut := 72.0, 13.0      // radius of the bolt circle, of a number
	if c.Narrow {
		x, y, r = c.Width/2, 84, 80
		circle, nut = 54, 11
	}
	c.Circle(far, x, y, r)
	c.Circle(white, x, y, r-8)
	c.Circle(doc.Style{Line: doc.Middle, Width: 0.8, Fill: doc.Paper}, x, y, 22)
	at := func(stud int) doc.Point {
		a := 2*math.Pi*float64(stud-1)/float64(len(order)) - math.Pi/2
		return shapes.Pt(x+circle*math.Cos(a), y+circle*math.Sin(a))
	}
	for i := range len(order) - 1 {
		a, b := at(order[i]), at(order[i+1])
		d := math.Hypot(b.X-a.X, b.Y-a.Y)
		gap := (nut + 2) / d
		c.Arrow(thin, a.X+gap*(b.X-a.X), a.Y+gap*(b.Y-a.Y), b.X-gap*(b.X-a.X), b.Y-gap*(b.Y-a.Y))
	}
	for _, stud := range order {
		p := at(stud)
		style := white
		if stud == order[0] {
			style.Width = 3
		}
		c.Circle(style, p.X, p.Y, nut)
		c.BoldText(p.X, p.Y+4.5, nut, doc.Center, strconv.Itoa(stud))
	}
	var rounds []string
	for i := 1; ; i++ {
		stage := s.Figure("wheels.stage." + strconv.Itoa(i))
		if stage == "" {
			break
		}
		rounds = append(rounds, stage)
	}
	list := doc.Join(s.Label("list.comma"), rounds...)
	alt := s.words("torque-order.alt", "studs", strconv.Itoa(len(order)), "sequence", sequence, "torque", torque, "rounds", list)
	if c.Narrow {
		for _, row := range []string{s.words("torque-order.start"), s.words("torque-order.order-is", "sequence", sequence), s.words("torque-order.rounds-are", "rounds", list)} {
			c.Key = append(c.Key, doc.KeyRow{Text: row})
		}
		return 2 * y, alt, nil
	}
	const text = 246
	widest := max(c.Width-shapes.Margin-text, 1)
	down := c.Note(text, 30, c.LabelText, doc.Start, s.words("torque-order.start"), widest) + 6
	down = c.Note(text, down, c.LabelText, doc.Start, s.words("torque-order.order"), widest) + 2
	c.BoldNote(text, down+4, min(18, widest/shapes.TextWidth(sequence, 1)), sequence)
	down += 30
	down = c.Note(text, down, c.LabelText, doc.Start, s.words("torque-order.rounds"), widest) + 2
	for i, stage := range rounds {
		c.BoldNote(text, down+2, 13, s.words("torque-order.round", "n", strconv.Itoa(i+1), "torque", stage))
		down += 18
	}
	return max(2*y, down+4), alt, nil
}

// studs parses an order such as 1-3-5-2-4, in which every stud occurs once.
func studs(sequence string) ([]int, error) {
	words := strings.Split(sequence, "-")
	seen := make([]bool, len(words)+1)
	var order []int
	for _, word := range words {
		n, err := strconv.Atoi(word)
		if err != nil || n < 1 || n > len(words) || seen[n] {
			return nil, fmt.Errorf("the order %q does not name every stud once", sequence)
		}
		seen[n] = true
		order = append(order, n)
	}
	return order, nil
}
