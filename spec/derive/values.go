package derive

import (
	"strings"

	"ownerguide/spec/quantity"
)

// Values are all values of one unit.
type Values struct {
	list    []*Value // sorted by name
	byName  map[string]*Value
	absent  map[string]string // name → why it could not be calculated
	margins []Margin

	Plan Plan // the schedule of the unit

	run     *run
	partial bool // other values are calculated when they are looked up, and have no printed text
}

// Margins returns every comparison made by the limits, sorted by code; those of one code are in
// the order in which they were made.
func (vs *Values) Margins() []Margin { return vs.margins }

// All returns the values sorted by name.
func (vs *Values) All() []*Value { return vs.list }

// Lookup returns a value by name. For a watched build it records only that the caller assumes that the value exists; see DependOnValue.
func (vs *Values) Lookup(name string) (v *Value, ok bool) {
	if vs.run == nil || !vs.run.build.IsWatched() {
		v = vs.find(name)
		return v, v != nil
	}
	vs.run.build.TraceDetached(func() { v = vs.find(name) })
	if v == nil || !vs.run.build.AssumeExists(name) {
		vs.DependOnValue(name)
	}
	return v, v != nil
}

// DependOnValue records that the caller of Lookup depends on the value itself, and not only on its existence.
func (vs *Values) DependOnValue(name string) { vs.run.build.DependOn(vs.run.existenceDependsOn(name)) }

// find returns a value; nil if there is none.
func (vs *Values) find(name string) *Value {
	v, met := vs.byName[name]
	if met || !vs.partial {
		return v
	}
	vs.byName[name] = nil
	if d := declarations[name]; d != nil && d.compute != nil {
		vs.addLate(vs.run.value(name))
	} else if d := declarations[FamilyOf(name)]; d != nil {
		for _, member := range vs.run.family(d) {
			vs.addLate(member)
		}
	}
	return vs.byName[name]
}

// addLate adds a value that was calculated when it was looked up.
func (vs *Values) addLate(v *Value) {
	if v != nil {
		v.conversions = vs.run.conversions
		vs.byName[v.Name] = v
	}
}

// Has reports whether there is a value, without recording a dependency.
func (vs *Values) Has(name string) bool { return vs.byName[name] != nil }

// Family returns the values whose names equal prefix, or begin with it and a dot.
func (vs *Values) Family(prefix string) (out []*Value) {
	for _, v := range vs.list {
		if v.Name == prefix || strings.HasPrefix(v.Name, prefix+".") {
			out = append(out, v)
		}
	}
	return out
}

// WhyAbsent returns why a declared value could not be calculated; empty if it was, or if no
// value of that name applies to the unit.
func (vs *Values) WhyAbsent(name string) string { return vs.absent[name] }

// convert decides how fresh figures of the unit are converted, and updates their texts where
// they are inputs.
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
