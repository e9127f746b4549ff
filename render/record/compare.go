package record

import (
	"fmt"
	"slices"
	"strings"
)

// Changes are the differences between two guides of one unit, or of two units.
type Changes struct {
	From     Side           `json:"from"`
	To       Side           `json:"to"`
	Options  AddedRemoved   `json:"options"`
	Parts    []PartChange   `json:"parts"`
	Values   []ValueChange  `json:"values"`
	Cautions AddedRemoved   `json:"cautions"`
	Tasks    AddedRemoved   `json:"tasks"`
	Stops    AddedRemoved   `json:"stops"`
	Sections SectionChanges `json:"sections"`
	Pages    PageChanges    `json:"pages"`
}

// Side identifies one of the two guides.
type Side struct {
	Serial   string `json:"serial"`
	Revision string `json:"revision"`
	Issued   string `json:"issued"`
}

// AddedRemoved are entries that only one side has.
type AddedRemoved struct {
	Added   []Named `json:"added"`
	Removed []Named `json:"removed"`
}

// PartChange is a place whose component differs, or that has one on one side only.
type PartChange struct {
	Place string `json:"place"`
	Old   string `json:"old"` // name of the component; empty if there was none
	New   string `json:"new"`
}

// ValueChange is a figure that differs; Old or New is empty if that side
// does not have it. Why lists the inputs that differ too.
type ValueChange struct {
	Name    string   `json:"name"`
	Label   string   `json:"label,omitempty"`
	Old     string   `json:"old"`
	New     string   `json:"new"`
	Why     []string `json:"why"`
	Printed bool     `json:"printed"`
}

// SectionChanges are sections that only one side has, or whose own text differs.
type SectionChanges struct {
	AddedRemoved
	Changed []Named `json:"changed"`
}

// PageChanges are the printed pages; Changed are pages of the new guide that do not occur
// in the old one word for word.
type PageChanges struct {
	Old     int   `json:"old"`
	New     int   `json:"new"`
	Changed []int `json:"changed"`
}

// Compare returns the differences between two records with their contents, in the
// order of the newer guide.
func Compare(from, to *Record) *Changes {
	c := &Changes{
		From:     Side{from.Serial, from.Revision, from.Issued},
		To:       Side{to.Serial, to.Revision, to.Issued},
		Options:  addedRemoved(optionNames(from), optionNames(to)),
		Parts:    partChanges(from.Parts, to.Parts),
		Values:   valueChanges(from, to),
		Cautions: addedRemoved(from.Cautions, to.Cautions),
		Tasks:    addedRemoved(from.Tasks, to.Tasks),
		Stops:    addedRemoved(from.Stops, to.Stops),
		Sections: sectionChanges(from.Sections, to.Sections),
		Pages:    PageChanges{Old: len(from.PageDigests), New: len(to.PageDigests), Changed: []int{}},
	}
	for i, digest := range to.PageDigests {
		if !slices.Contains(from.PageDigests, digest) {
			c.Pages.Changed = append(c.Pages.Changed, i+1)
		}
	}
	return c
}

// None reports whether the two guides say the same. Pages are ignored: they depend
// only on the rest, the paper and the program.
func (c *Changes) None() bool {
	for _, l := range []AddedRemoved{c.Options, c.Cautions, c.Tasks, c.Stops, c.Sections.AddedRemoved} {
		if len(l.Added)+len(l.Removed) > 0 {
			return false
		}
	}
	return len(c.Parts)+len(c.Values)+len(c.Sections.Changed) == 0
}

func optionNames(r *Record) (out []Named) {
	for _, o := range r.Options {
		out = append(out, Named{o.ID, o.Text})
	}
	return out
}

func addedRemoved(from, to []Named) AddedRemoved {
	return AddedRemoved{Added: without(to, from), Removed: without(from, to)}
}

func without(list, known []Named) []Named {
	out := []Named{}
	for _, n := range list {
		if !slices.ContainsFunc(known, func(k Named) bool { return k.ID == n.ID }) {
			out = append(out, n)
		}
	}
	return out
}

func partChanges(from, to []Part) []PartChange {
	out := []PartChange{}
	at := func(list []Part, place string) (Part, bool) {
		i := slices.IndexFunc(list, func(p Part) bool { return p.Place == place })
		if i < 0 {
			return Part{}, false
		}
		return list[i], true
	}
	for _, p := range to {
		if old, ok := at(from, p.Place); !ok || old.Component != p.Component {
			out = append(out, PartChange{p.Place, old.Text, p.Text})
		}
	}
	for _, p := range from {
		if _, ok := at(to, p.Place); !ok {
			out = append(out, PartChange{Place: p.Place, Old: p.Text})
		}
	}
	return out
}

func valueChanges(from, to *Record) []ValueChange {
	old, now := byName(from.Values), byName(to.Values)
	out := []ValueChange{}
	for _, v := range to.Values {
		was, ok := old[v.Name]
		if !ok || was.Text != v.Text {
			out = append(out, ValueChange{v.Name, v.Label, was.Text, v.Text, []string{}, !v.Engineer})
			if ok {
				out[len(out)-1].Why = why(from.inputs(was), to.inputs(v), old, now)
			}
		}
	}
	for _, v := range from.Values {
		if _, ok := now[v.Name]; !ok {
			out = append(out, ValueChange{v.Name, v.Label, v.Text, "", []string{}, !v.Engineer})
		}
	}
	slices.SortFunc(out, func(a, b ValueChange) int { return strings.Compare(a.Name, b.Name) })
	return out
}

func byName(list []Value) map[string]Value {
	out := make(map[string]Value, len(list))
	for _, v := range list {
		out[v.Name] = v
	}
	return out
}

// why returns the direct inputs of a figure that differ. Indirect ones are not listed:
// each input that is a value has a ValueChange of its own.
func why(was, is []Input, old, now map[string]Value) []string {
	out := []string{}
	for _, in := range is {
		switch i := slices.IndexFunc(was, in.same); {
		case i < 0:
			out = append(out, fmt.Sprintf("%s is now counted: %s", in.title(), in.text(now)))
		case was[i].text(old) != in.text(now):
			out = append(out, fmt.Sprintf("%s: %s → %s", in.title(), was[i].text(old), in.text(now)))
		}
	}
	for _, in := range was {
		if !slices.ContainsFunc(is, in.same) {
			out = append(out, fmt.Sprintf("%s is no longer counted: %s", in.title(), in.text(old)))
		}
	}
	return slices.Compact(out)
}

func (in Input) same(other Input) bool { return in.Name == other.Name && in.Path == other.Path }

func (in Input) title() string {
	if in.Name != "" {
		return in.Name
	}
	return in.Path
}

func (in Input) text(values map[string]Value) string {
	if v, ok := values[in.Name]; ok {
		return v.Text
	}
	return in.Text
}

func sectionChanges(from, to []Section) SectionChanges {
	names := func(list []Section) (out []Named) {
		for _, s := range list {
			out = append(out, Named{s.ID, s.Title})
		}
		return out
	}
	c := SectionChanges{addedRemoved(names(from), names(to)), []Named{}}
	for _, s := range to {
		i := slices.IndexFunc(from, func(o Section) bool { return o.ID == s.ID })
		if i >= 0 && !slices.Equal(from[i].Blocks, s.Blocks) {
			c.Changed = append(c.Changed, Named{s.ID, s.Title})
		}
	}
	return c
}

// Without returns a list without those of some ids.
func Without(list []Named, ids ...string) (out []Named) {
	for _, n := range list {
		if !slices.Contains(ids, n.ID) {
			out = append(out, n)
		}
	}
	return out
}

// IDs returns the ids in lists.
func IDs(lists ...[]Named) (out []string) {
	for _, list := range lists {
		for _, n := range list {
			out = append(out, n.ID)
		}
	}
	return out
}
