// Package product is a maker's product line: who makes it, what can be ordered,
// of which components, under which rules, and the words for all of it. It reads
// a line and holds it against itself.
//
// Terms, as the trade uses them. A model is what a customer picks; an option
// changes it; a component is a thing with ratings (an axle, a jack); a part is a
// component in its place on a model. A hazard is something that can hurt; a task
// is one item of care.
//
// Geometry: the origin is the coupler centre on level ground; x runs rearward,
// y to the left, z up.
package product

import "ownerguide/spec/source"

// FileShapes lists the kinds of files this package reads, for whoever describes
// them to a person or an editor.
func FileShapes() []source.FileShape {
	return []source.FileShape{
		{Name: "line", Where: "line/line.yaml", Shape: source.ShapeFor[Maker]()},
		{Name: "model", Where: "line/models/*.yaml", Shape: source.ShapeFor[Model]()},
		{Name: "option", Where: "line/options/*.yaml", Shape: source.ShapeFor[source.Map[Option]]()},
		{Name: "component", Where: "line/components/*.yaml", Shape: source.ShapeFor[Components]()},
		{Name: "words", Where: "line/text/*.yaml", Shape: source.ShapeFor[Texts]()},
		{Name: "task", Where: "line/tasks.yaml, and the tasks of line/line.yaml, as a list", Shape: source.ShapeFor[[]Task]()},
	}
}
