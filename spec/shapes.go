package spec

import "ownerguide/spec/source"

// FileShapes lists the kinds of files this package reads, for whoever describes
// them to a person or an editor.
func FileShapes() []source.FileShape {
	return []source.FileShape{
		{Name: "sheet", Where: "build sheets", Shape: source.ShapeFor[Sheet]()},
		{Name: "line", Where: "line/line.yaml", Shape: source.ShapeFor[Maker]()},
		{Name: "model", Where: "line/models/*.yaml", Shape: source.ShapeFor[Model]()},
		{Name: "component", Where: "line/components/*.yaml", Shape: source.ShapeFor[Components]()},
		{Name: "words", Where: "line/text/*.yaml", Shape: source.ShapeFor[LineTexts]()},
		{Name: "hazard", Where: "the hazards of line/line.yaml, as a list", Shape: source.ShapeFor[[]Hazard]()},
		{Name: "task", Where: "the tasks of line/line.yaml, as a list", Shape: source.ShapeFor[[]Task]()},
	}
}
