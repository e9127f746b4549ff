// Package product reads a maker's product line: the maker, what can be ordered, the
// components, the rules, and the texts for all of it. It checks the line for
// consistency.
//
// Terms, as used in the trade. A model is what a customer picks; an option changes it; a
// component is a thing with ratings (an axle, a jack); a part is a component in its
// place on a model. A hazard is something that can hurt; a task is one maintenance job.
//
// Geometry: the origin is the center of the coupler on level ground; x is rearward,
// y to the left, z up.
package product

import "ownerguide/spec/source"

// FileShapes returns the kinds of files this package reads, for documentation and
// editors.
func FileShapes() []source.FileShape {
	return []source.FileShape{
		{Name: "line", Where: "line/line.yaml", Shape: source.ShapeFor[Maker]()},
		{Name: "model", Where: "line/models/*.yaml", Shape: source.ShapeFor[Model]()},
		{Name: "option", Where: "line/options/*.yaml", Shape: source.ShapeFor[source.Map[Option]]()},
		{Name: "component", Where: "line/components/*.yaml", Shape: source.ShapeFor[Components]()},
		{Name: "words", Where: "line/text/*.yaml", Shape: source.ShapeFor[Texts]()},
		{Name: "task", Where: "line/tasks.yaml, and the tasks of line/components/*.yaml, as a list", Shape: source.ShapeFor[[]Task]()},
	}
}
