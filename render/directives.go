package render

import (
	"ownerguide/render/doc"
	"ownerguide/render/draw"
	"ownerguide/render/template"
	"ownerguide/spec/proof"
)

// filler fills in a call of a directive. In is the parent section of the call, nil inside a
// list. The call has been checked against the directive when the templates were loaded.
type filler func(a *assembly, in *doc.Section, p *template.Block) []doc.Block

// directive is an entry of the registry: everything the program knows about one kind of
// block.
type directive struct {
	template.Directive
	fill   filler
	shared bool // all it asks of a unit is noted, so that units with the same answers may share its blocks
}

// directives returns the registry. A new kind of block is an entry here and its function.
func directives() []directive {
	mail, beside := []string{template.Mail}, []string{template.Mail, template.Card, template.Leaf}
	caution := template.Argument{Names: proof.Panel}
	full := template.Argument{OneOf: []string{fullHere}, Optional: true}
	drawing := template.Argument{Names: proof.Drawing, OneOf: draw.IDs()}
	statement := template.Argument{Names: proof.Statement}
	schedule := template.Argument{Names: proof.Schedule, OneOf: []string{"jobs", "visits"}}
	jobs := template.Argument{Names: proof.Jobs}
	system := template.Argument{Names: proof.Troubles}
	caption := template.Argument{Label: "table.", Optional: true}
	form := template.Argument{Label: "form."}
	rules := template.Argument{Most: maxRules, Optional: true}
	args := func(list ...template.Argument) []template.Argument { return list }
	type row = template.Directive
	return []directive{
		{row{Name: "caution", Args: args(caution, full)}, (*assembly).caution, false},
		{row{Name: "safety", Refers: gravest}, (*assembly).safety, false},
		{row{Name: "drawing", Args: args(drawing), Lines: template.Sentences, NotOn: mail}, (*assembly).drawing, true},
		{row{Name: "logo", NotOn: mail}, (*assembly).logo, false},
		{row{Name: "picture", Args: args(template.Argument{Names: proof.Picture}), Lines: template.Described, NotOn: beside}, (*assembly).ownPicture, false},
		{row{Name: "glossary", Refers: glossaryHere, NotOn: beside}, (*assembly).glossary, false},
		{row{Name: "values", Args: args(caption), Lines: template.Figures}, (*assembly).valueTable, true},
		{row{Name: "numbers", Args: args(caption), Lines: template.Figures}, (*assembly).valueTable, true},
		{row{Name: "due", Args: args(caption), Lines: template.Intervals}, (*assembly).due, true},
		{row{Name: "contents", NotOn: beside}, (*assembly).contentsBlock, false},
		{row{Name: "index", NotOn: beside}, (*assembly).indexBlock, false},
		{row{Name: "schedule", Args: args(schedule)}, (*assembly).schedule, false},
		{row{Name: "tasks", Args: args(jobs), Parts: true, NotOn: mail}, (*assembly).jobs, false},
		{row{Name: "trouble", Args: args(system), Refers: troublesOf}, (*assembly).trouble, true},
		{row{Name: "as-built"}, (*assembly).asBuilt, false},
		{row{Name: "changes"}, (*assembly).changes, false},
		{row{Name: "fitted"}, (*assembly).fitted, false},
		{row{Name: "stops"}, (*assembly).pointList, false}, // a page leaves the list out below a drawing that links to the same
		{row{Name: "handover"}, (*assembly).handover, true},
		{row{Name: "log", NotOn: mail}, (*assembly).log, false},
		{row{Name: "statement", Args: args(statement)}, (*assembly).statement, true},
		{row{Name: "form", Args: args(form, rules), NotOn: mail}, (*assembly).form, true},
	}
}

// gravest returns references to the cautions in the collection of the gravest.
func gravest(t *template.Templates, _ *template.Call) (list []proof.Reference) {
	for i := range t.Cautions {
		if c := &t.Cautions[i]; c.Grave.Value {
			list = append(list, proof.Reference{Kind: proof.Safety, Name: c.ID.Value, When: c.When})
		}
	}
	return list
}

// glossaryHere returns the reference to the glossary.
func glossaryHere(*template.Templates, *template.Call) []proof.Reference {
	return []proof.Reference{{Kind: proof.Glossary, Name: "all"}}
}

// troublesOf returns references to the trouble entries of a system.
func troublesOf(t *template.Templates, call *template.Call) (list []proof.Reference) {
	for i := range t.Troubles {
		if e := &t.Troubles[i]; e.System.Value == call.Arg(0) {
			list = append(list, proof.Reference{Kind: proof.Trouble, Name: e.ID.Value, When: e.When})
		}
	}
	return list
}
