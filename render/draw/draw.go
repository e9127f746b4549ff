package draw

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ownerguide/render/doc"
)

// picture makes one drawing and says in words what it shows.
type picture func(*Subject) (d *doc.Drawing, alt string, err error)

// pictures is every drawing there is, by the id templates use.
var pictures = map[string]picture{}

// Draw makes a drawing and the text for who cannot see it. The error says that
// there is no such drawing, or what the unit lacks for it.
func Draw(id string, s Subject) (*doc.Drawing, string, error) {
	make, known := pictures[id]
	if !known {
		return nil, "", fmt.Errorf("there is no such drawing; there are: %s", strings.Join(IDs(), ", "))
	}
	return make(&s)
}

// IDs lists the drawings, sorted.
func IDs() []string { return slices.Sorted(maps.Keys(pictures)) }
