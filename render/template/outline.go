package template

import (
	"path"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// outliner merges the outlines of all layers.
type outliner struct {
	findings *source.Findings
	byID     map[string]*Section
	chapters []*Section
}

// outline reads the outline. That of the lowest layer is nested. The outline of a higher
// layer may be nested too and then replaces it, for example with another order. If it is not
// nested, it adds sections, each with its place, and redefines others, which keep
// their place.
func (l *loader) outline(beside [][]chapterEntry) {
	o := &outliner{findings: &l.folder.Findings, byID: map[string]*Section{}}
	layers := readOutlines(l.folder, beside)
	for i, list := range slices.Backward(layers) {
		if isWhole(list) {
			layers = layers[i:]
			break
		}
	}
	for i, list := range layers {
		visitEntries(list, func(e *entry, parent string) { o.add(e, parent, i == 0 && e.inOutline()) })
	}
	o.checkDepth(o.chapters, 1)
	for _, id := range keys(o.byID) {
		for _, from := range o.byID[id].From {
			if o.byID[from.Value] == nil {
				o.findings.Add(codeOutline.At(from.At, "there is no section %q to lead from", from.Value).DidYouMean(from.Value, keys(o.byID), ""))
			}
		}
	}
	l.templates.Outline, l.templates.sections = o.chapters, flatten(o.chapters)
}

// inOutline reports whether an entry stands in the outline, not in the file of a system.
func (e *entry) inOutline() bool { return path.Base(e.ID.At.File) == outlineFile }

const outlineFile = "outline.yaml"

// readOutlines reads the outline of every layer that has one, the lowest first.
func readOutlines(f *source.Folder, beside [][]chapterEntry) [][]chapterEntry {
	return source.ReadLayers(f, outlineFile, beside, func(c chapterEntry) (ids []word) {
		visitEntries([]chapterEntry{c}, func(e *entry, _ string) { ids = append(ids, e.ID) })
		return ids
	}, codeOutline)
}

// isWhole reports whether a list is a complete outline, not additions to another.
func isWhole(list []chapterEntry) bool {
	nests := func(c chapterEntry) bool { return len(c.Sections) > 0 }
	moves := func(c chapterEntry) bool { return (c.After.Set || c.In.Set) && c.inOutline() }
	return slices.ContainsFunc(list, nests) && !slices.ContainsFunc(list, moves)
}

// visitEntries visits the entries of an outline with the id of their parent.
func visitEntries(list []chapterEntry, visit func(e *entry, parent string)) {
	for i := range list {
		chapter := &list[i]
		visit(&chapter.entry, "")
		for j := range chapter.Sections {
			section := &chapter.Sections[j]
			visit(&section.entry, chapter.ID.Value)
			for k := range section.Sections {
				visit(&section.Sections[k], section.ID.Value)
			}
		}
	}
}

// add adds an entry to the outline.
func (o *outliner) add(e *entry, parent string, last bool) {
	id := e.ID.Value
	if !logic.ValidName(id) {
		o.findings.Add(codeOutline.At(e.ID.At, "%q is a section's address; use small letters, digits and hyphens only", id))
	}
	s := &Section{ID: id, At: e.ID.At, Role: doc.Role(e.Role.Value), When: e.When, Point: e.Point, Part: e.Part, Listed: e.Listed.Value, From: e.From, Card: e.Card.Value, Leaf: e.Leaf.Value, Mail: e.Mail.Value}
	if old := o.byID[id]; old != nil { // redefined by a higher layer
		s.Parent, s.Parts = old.Parent, old.Parts
		*old = *s
		s = old
		if e.After.Set || e.In.Set {
			list := o.siblings(s.Parent)
			*list = slices.DeleteFunc(*list, func(other *Section) bool { return other == s })
			o.place(s, e, "")
		}
	} else {
		if last && (e.After.Set || e.In.Set) || parent != "" && (e.After.Set || e.In.Set) {
			o.findings.Add(codeOutline.At(e.ID.At, "section %s stands where this file has it; after and in are for sections that a file of your own adds at its left edge", id))
			return
		}
		if !last && parent == "" && !e.After.Set && !e.In.Set {
			o.findings.Add(codeOutline.At(e.ID.At, "section %s has no place: say after which section it stands, or in which", id))
			return
		}
		o.byID[id] = s
		o.place(s, e, parent)
	}
	if e.Part.Set && s.Parent != nil {
		o.findings.Add(codeOutline.At(e.Part.At, "a part of the guide begins with a chapter, not with a section"))
	}
	if e.Point.Set && e.Role.Set {
		o.findings.Add(codeOutline.At(e.Role.At, "a point of the walk-around has no other role"))
	}
	switch {
	case s.Point.Set:
		s.Role = doc.RoleStop
	case s.Role == "" && s.Parent == nil:
		s.Role = doc.RoleChapter
	case s.Role == "":
		s.Role = doc.RolePlain
	}
}

// siblings returns the list of the children of a parent.
func (o *outliner) siblings(parent *Section) *[]*Section {
	if parent == nil {
		return &o.chapters
	}
	return &parent.Parts
}

// place inserts a section where its entry says, or at the end of its parent.
func (o *outliner) place(s *Section, e *entry, parent string) {
	find := func(w word) *Section {
		found := o.byID[w.Value]
		if found == nil {
			o.findings.Add(codeOutline.At(w.At, "there is no section %q before this one", w.Value).DidYouMean(w.Value, keys(o.byID), ""))
		}
		return found
	}
	switch {
	case e.After.Set && e.In.Set:
		o.findings.Add(codeOutline.At(e.In.At, "either after or in, not both"))
	case e.After.Set:
		if before := find(e.After); before != nil && o.checkNoCycle(before, s) {
			s.Parent = before.Parent
			list := o.siblings(s.Parent)
			*list = slices.Insert(*list, slices.Index(*list, before)+1, s)
			return
		}
	case e.In.Set:
		if around := find(e.In); around != nil && o.checkNoCycle(around, s) {
			s.Parent = around
			around.Parts = append(around.Parts, s)
			return
		}
	default:
		s.Parent = o.byID[parent]
		list := o.siblings(s.Parent)
		*list = append(*list, s)
		return
	}
	s.Parent, o.chapters = nil, append(o.chapters, s) // reported; so that it is not reported as missing too
}

// checkNoCycle reports whether target is neither s nor a descendant of it.
func (o *outliner) checkNoCycle(target, s *Section) bool {
	for up := target; up != nil; up = up.Parent {
		if up == s {
			o.findings.Add(codeOutline.At(s.At, "section %s would stand in or behind itself", s.ID))
			return false
		}
	}
	return true
}

// checkDepth refuses sections nested too deeply.
func (o *outliner) checkDepth(list []*Section, deep int) {
	for _, s := range list {
		if deep > 3 {
			o.findings.Add(codeOutline.At(s.At, "section %s is nested more than three deep", s.ID))
		}
		o.checkDepth(s.Parts, deep+1)
	}
}
