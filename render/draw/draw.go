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

// canvas is a drawing while it is made.
type canvas struct{ shapes.Canvas }

// picture draws on a canvas and returns the height of the drawing and its text
// alternative.
type picture func(*Subject, *canvas) (height float64, alt string, err error)

// pictures are all drawings, by the id used in templates.
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

// Draw returns a drawing for a page and its text alternative. The error says that there is
// no such drawing, or what the unit lacks for it.
func Draw(id string, s Subject) (*doc.Drawing, string, error) {
	c, height, alt, err := drawOn(id, &s, shapes.PageForm)
	if err != nil {
		return nil, "", err
	}
	return &doc.Drawing{Width: c.Width, Height: height, Shapes: c.Shapes}, alt, nil
}

// Column returns the same drawing for a column: in one view or, if a column cannot show
// all its points, in several.
func Column(id string, s Subject) ([]*doc.View, error) {
	c, _, alt, err := drawOn(id, &s, shapes.ColumnForm)
	if err != nil {
		return nil, err
	}
	c.FinishView(alt)
	return c.Views, nil
}

// IDs returns the ids of the drawings, sorted.
func IDs() []string { return slices.Sorted(maps.Keys(pictures)) }
