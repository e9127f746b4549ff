package draw

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
)

// canvas is one drawing while it is made.
type canvas struct{ shapes.Canvas }

// picture makes one drawing on a canvas and gives its height, and what it shows
// in words.
type picture func(*Subject, *canvas) (height float64, alt string, err error)

// pictures is every drawing there is, by the id templates use.
var pictures = map[string]picture{}

func drawOn(id string, s *Subject, f shapes.Form) (c *canvas, height float64, alt string, err error) {
	make, known := pictures[id]
	if !known {
		return nil, 0, "", fmt.Errorf("there is no such drawing; there are: %s", strings.Join(IDs(), ", "))
	}
	c = &canvas{shapes.Canvas{Form: f}}
	height, alt, err = make(s, c)
	return c, height, alt, cmp.Or(s.lacks, err)
}

// Draw makes a drawing for a page and the text for who cannot see it. The error says
// that there is no such drawing, or what the unit lacks for it.
func Draw(id string, s Subject) (*doc.Drawing, string, error) {
	c, height, alt, err := drawOn(id, &s, shapes.PageForm)
	if err != nil {
		return nil, "", err
	}
	return &doc.Drawing{Width: c.Width, Height: height, Shapes: c.Shapes}, alt, nil
}

// Column makes the same drawing for a column: in one view or, where there is more
// to point at than a column can show, in several.
func Column(id string, s Subject) ([]*doc.View, error) {
	c, _, alt, err := drawOn(id, &s, shapes.ColumnForm)
	if err != nil {
		return nil, err
	}
	c.FinishView(alt)
	return c.Views, nil
}

// IDs lists the drawings, sorted.
func IDs() []string { return slices.Sorted(maps.Keys(pictures)) }
