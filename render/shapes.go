package render

import "ownerguide/spec/source"

// FileShapes lists the kinds of template files that hold YAML, for whoever
// describes them to a person or an editor.
func FileShapes() []source.FileShape {
	return []source.FileShape{
		{Name: "caution", Where: "templates/cautions.yaml", Shape: source.ShapeFor[[]caution]()},
		{Name: "caution-words", Where: "templates/*/cautions.yaml", Shape: source.ShapeFor[source.Map[cautionWords]]()},
		{Name: "trouble", Where: "templates/trouble.yaml", Shape: source.ShapeFor[[]trouble]()},
		{Name: "trouble-words", Where: "templates/*/trouble.yaml", Shape: source.ShapeFor[source.Map[troubleWords]]()},
		{Name: "work", Where: "templates/work.yaml", Shape: source.ShapeFor[workFile]()},
		{Name: "section", Where: "the front matter of templates/*/sections/*.md", Shape: source.ShapeFor[sectionHead]()},
		{Name: "job", Where: "the front matter of templates/*/tasks/*.md", Shape: source.ShapeFor[taskHead]()},
		{Name: "statement", Where: "templates/statements/*.yaml", Shape: source.ShapeFor[statementFile]()},
		{Name: "label", Where: "templates/*/labels.yaml", Shape: source.ShapeFor[source.Map[word]]()},
	}
}
