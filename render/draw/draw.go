package draw

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ownerguide/render/doc"
)

// form is what a drawing is laid out for; lengths are points on the sheet.
type form struct {
	width  float64
	least  float64 // size of type: nothing is smaller
	label  float64
	sign   float64 // radius of a numbered circle
	column bool    // what parts are called stands below the picture
}

// A page is as wide as the text of a letter page. A column is as wide as the text
// of a phone's page of 320 pixels, a point to the pixel, and fits a column of paper.
var (
	page   = form{width: 480, least: 11, label: 12, sign: 10}
	column = form{width: 288, least: 12, label: 13, sign: 12, column: true}
)

// picture makes one drawing on a canvas and gives its height, and what it shows
// in words.
type picture func(*Subject, *canvas) (height float64, alt string, err error)

// pictures is every drawing there is, by the id templates use.
var pictures = map[string]picture{}

func lay(id string, s *Subject, f form) (c *canvas, height float64, alt string, err error) {
	make, known := pictures[id]
	if !known {
		return nil, 0, "", fmt.Errorf("there is no such drawing; there are: %s", strings.Join(IDs(), ", "))
	}
	c = &canvas{form: f}
	height, alt, err = make(s, c)
	return c, height, alt, err
}

// Draw makes a drawing for a page and the text for who cannot see it. The error says
// that there is no such drawing, or what the unit lacks for it.
func Draw(id string, s Subject) (*doc.Drawing, string, error) {
	c, height, alt, err := lay(id, &s, page)
	if err != nil {
		return nil, "", err
	}
	return &doc.Drawing{Width: c.width, Height: height, Shapes: c.shapes}, alt, nil
}

// Column makes the same drawing for a column: in one view or, where there is more
// to point at than a column can show, in several.
func Column(id string, s Subject) ([]*doc.View, error) {
	c, _, alt, err := lay(id, &s, column)
	if err != nil {
		return nil, err
	}
	c.cut(alt)
	return c.views, nil
}

// IDs lists the drawings, sorted.
func IDs() []string { return slices.Sorted(maps.Keys(pictures)) }
