package derive

import (
	"strings"

	"ownerguide/spec/quantity"
)

// Values are all values of one unit.
type Values struct {
	list    []*Value // sorted by name
	byName  map[string]*Value
	absent  map[string]string // name → why it could not be worked out
	margins []Margin

	Plan Plan // the care of the unit

	run     *run
	partial bool // others are worked out when they are looked up, and have no text in print
}

// Margins returns every comparison that the limits made, sorted by code; those
// of one code stand in the order in which they were made.
func (vs *Values) Margins() []Margin { return vs.margins }

// All returns the values sorted by name.
func (vs *Values) All() []*Value { return vs.list }

// Lookup finds a value by name. Of a build that is watched no more is noted than that it is relied on; see Decides.
func (vs *Values) Lookup(name string) (v *Value, ok bool) {
	if vs.run == nil || !vs.run.build.IsWatched() {
		v = vs.find(name)
		return v, v != nil
	}
	vs.run.build.Unnoted(func() { v = vs.find(name) })
	if v == nil || !vs.run.build.RelyOn(name) {
		vs.Decides(name)
	}
	return v, v != nil
}

// Decides notes that whoever looked a value up turns on what it is, and not only on its being there.
func (vs *Values) Decides(name string) { vs.run.build.Note(vs.run.hangsOnValue(name)) }

// find gives a value; nil when there is none.
func (vs *Values) find(name string) *Value {
	v, met := vs.byName[name]
	if met || !vs.partial {
		return v
	}
	vs.byName[name] = nil
	if d := declarations[name]; d != nil && d.compute != nil {
		vs.late(vs.run.value(name))
	} else if d := declarations[FamilyOf(name)]; d != nil {
		for _, member := range vs.run.family(d) {
			vs.late(member)
		}
	}
	return vs.byName[name]
}

// late adds a value that was not wanted at first.
func (vs *Values) late(v *Value) {
	if v != nil {
		v.conversions = vs.run.conversions
		vs.byName[v.Name] = v
	}
}

// Has tells whether there is a value, and notes nothing.
func (vs *Values) Has(name string) bool { return vs.byName[name] != nil }

// Family returns the values whose names begin with prefix and a dot, or equal it.
func (vs *Values) Family(prefix string) (out []*Value) {
	for _, v := range vs.list {
		if v.Name == prefix || strings.HasPrefix(v.Name, prefix+".") {
			out = append(out, v)
		}
	}
	return out
}

// WhyAbsent says why a declared value could not be worked out; empty when it
// was, or when no value of that name applies to the unit.
func (vs *Values) WhyAbsent(name string) string { return vs.absent[name] }

// convert settles how fresh figures of the unit are converted, and writes them
// anew where they stand as inputs.
func (vs *Values) convert(fresh []*Value) {
	print := vs.run.build.Print()
	for _, v := range fresh {
		if q, ok := v.Exact.(quantity.Quantity); ok {
			vs.run.conversions.Add(q, v.Round)
		}
		v.conversions = vs.run.conversions
	}
	for _, v := range fresh {
		v.text = v.Print(print)
	}
	for _, v := range fresh {
		for i, in := range v.Inputs {
			if used, ok := vs.byName[in.Name]; ok {
				v.Inputs[i].Text = used.text
			}
		}
	}
}
