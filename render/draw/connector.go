package draw

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec"
	"ownerguide/spec/product"
)

func init() { pictures["connector-face"] = connectorFace }

// contact is one contact of the plug.
type contact struct {
	sign   string // its letter in picture and list
	place  string // as in the standard
	text   string // its function, and the color of its wire
	ground bool
}

// connectorFace draws the contacts of this unit's plug with their functions.
func connectorFace(s *Subject, c *canvas) (float64, string, error) {
	plug, ok := spec.First[*product.Connector](s.Build)
	if !ok || len(plug.Data.Pins) == 0 {
		return 0, "", errors.New("no plug with contacts is fitted")
	}
	kind := s.need("connector.kind")
	// Our own letters: numbers next to the name of a standard would be read as those
	// of the standard, which differ.
	moulded := strings.HasSuffix(plug.Data.Kind.Value, "-round")
	var contacts []contact
	var list []string
	for i, pin := range plug.Data.Pins {
		base := fmt.Sprintf("connector.pin.%d.", i+1)
		text := s.words("contact", "function", s.Figure(base+"function"), "color", s.Figure(base+"color"))
		k := contact{string(rune('A' + i)), pin.Place.Value, text, pin.Function.Value == "ground"}
		if moulded {
			k.sign = k.place
		}
		contacts, list = append(contacts, k), append(list, k.sign+" "+text)
	}
	y := 0.0
	var err error
	switch plug.Data.Kind.Value {
	case "seven-blade":
		y, err = c.bladeFaces(s, contacts)
	case "four-flat", "five-flat":
		y = c.flatFace(s, contacts)
	default:
		// A round plug has molded numbers, so no picture shows where its contacts are; a
		// list cannot be misread.
		y = c.Note(shapes.Margin, 16, c.LabelText, doc.Start, s.words("contacts-moulded"), c.Width-2*shapes.Margin) + 8
		for i, k := range contacts {
			if pitch := c.Width / float64(len(contacts)); c.Narrow { // above their list, in a row
				c.Balloon((float64(i)+0.5)*pitch, y+c.BalloonRadius, k.sign)
			}
		}
	}
	if err != nil {
		return 0, "", err
	}
	y = c.contactList(contacts, y)
	return y, s.words("connector-face.alt", "kind", kind, "contacts", doc.Join(s.Label("list.semicolon"), list...)), nil
}

// contactList writes the functions of the contacts, in two columns.
func (c *canvas) contactList(contacts []contact, y float64) float64 {
	const columns, numbered = 2, 28
	if c.Narrow {
		for _, k := range contacts {
			c.Key = append(c.Key, doc.KeyRow{Sign: k.sign, Text: k.text})
		}
		return y
	}
	widest := c.Width/columns - numbered - 8
	half := (len(contacts) + 1) / columns
	bottom := y
	for column := range columns {
		x, down := shapes.Margin+float64(column)*c.Width/columns, y
		for i := column * half; i < min(len(contacts), (column+1)*half); i++ {
			c.Balloon(x+c.BalloonRadius+1, down+c.BalloonRadius, contacts[i].sign)
			end := c.TextBlock(x+numbered, down+c.BalloonRadius+4, c.SmallText, doc.Start, contacts[i].text, widest)
			down = max(down+2*c.BalloonRadius+5, end-4)
		}
		bottom = max(bottom, down)
	}
	return bottom + 2
}

// bladeFaces draws the socket of the tow vehicle, as in the standard, and next to it the
// plug, its mirror image.
func (c *canvas) bladeFaces(s *Subject, contacts []contact) (bottom float64, err error) {
	const ring = 40
	r := min(66, 0.22*c.Width)
	y := r + 14 // below key and latch
	for _, face := range []struct {
		x, mirror float64
		key       string
	}{{0.25 * c.Width, -1, "plug-face"}, {0.75 * c.Width, 1, "socket-face"}} {
		c.Rect(part, face.x-14, y-r-10, 28, 14) // key and latch
		c.Circle(part, face.x, y, r)
		c.Circle(white, face.x, y, r-7)
		for _, k := range contacts {
			x, dy, turn, err := clock(k.place)
			if err != nil {
				return 0, err
			}
			cx, cy := face.x+face.mirror*ring*x, y+ring*dy
			if k.place == "center" {
				c.Circle(part, cx, cy, c.BalloonRadius+3)
			} else {
				c.blade(cx, cy, face.mirror*turn)
			}
			c.Balloon(cx, cy, k.sign)
		}
		down := y + r + 18
		for _, line := range shapes.Wrap(s.words(face.key), c.LabelText, c.Width/2-2*shapes.Margin) {
			c.BoldText(face.x, down, c.LabelText, doc.Center, line)
			down += shapes.LineSpacing * c.LabelText
		}
		bottom = max(bottom, c.TextBlock(face.x, down, c.SmallText, doc.Center, s.words(face.key+".look"), c.Width/2-2*shapes.Margin))
	}
	return bottom + 4, nil
}

// blade draws one flat contact, below its letter.
func (c *canvas) blade(x, y, turn float64) {
	sin, cos := math.Sincos(turn)
	corner := func(a, b float64) doc.Point { return shapes.Pt(x+a*cos-b*sin, y+a*sin+b*cos) }
	const long, thick = 15, 4
	c.Polyline(part, true, corner(-long, -thick), corner(long, -thick), corner(long, thick), corner(-long, thick))
}

// clock returns the direction of a place on the face, such as "3 o'clock", as the hand of a
// clock, y down; center is 0, 0. Turn is the angle of a blade across the hand.
func clock(place string) (x, y, turn float64, err error) {
	if place == "center" {
		return 0, 0, 0, nil
	}
	hour, err := strconv.Atoi(strings.TrimSuffix(place, " o'clock"))
	if err != nil || hour < 1 || hour > 12 {
		return 0, 0, 0, fmt.Errorf("a contact is said to be at %q, which is no hour of the clock", place)
	}
	a := 2 * math.Pi * float64(hour) / 12
	return math.Sin(a), -math.Cos(a), a, nil
}

// flatFace draws the four-way flat plug of the trailer: three covered sockets and a bare
// pin. The ground is the one that differs, so the plug cannot be read the wrong way
// round.
func (c *canvas) flatFace(s *Subject, contacts []contact) (bottom float64) {
	const y = 46
	pitch := min(58, (c.Width-2*shapes.Margin)/float64(len(contacts)))
	left := (c.Width - float64(len(contacts))*pitch) / 2
	for i, k := range contacts {
		x := left + (float64(i)+0.5)*pitch
		if k.ground {
			// Bare: a narrow stub of the body with the pin on it.
			c.Rect(part, x-pitch/2, y-10, pitch, 20)
			c.Circle(solid, x, y, 16)
		} else {
			c.RoundedRect(part, x-pitch/2, y-28, pitch, 56, 8)
			c.Circle(white, x, y, 22)
			c.Circle(white, x, y, 16)
		}
		c.Balloon(x, y, k.sign)
	}
	bottom = y + 46
	c.BoldText(c.Width/2, bottom, c.LabelText, doc.Center, s.words("plug-face"))
	return c.Note(c.Width/2, bottom+15, c.SmallText, doc.Center, s.words("plug-flat.look"), c.Width-20) + 4
}
