package derive

import (
	"slices"
	"strings"

	"ownerguide/spec/quantity"
)

// Values are all values of one unit.
type Values struct {
	list    []*Value  // sorted by name
	margins []*Margin // sorted by code

	Plan Plan // the schedule of the unit

	run     *run
	partial bool // other values are calculated when they are looked up, and have no printed text
}

// Margins returns every comparison made by the limits, sorted by code; those of one code are in
// the order in which they were made.
func (vs *Values) Margins() []*Margin { return vs.margins }

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
	v := vs.known(name)
	if v == nil && vs.partial {
		if d := declarationOf(name); d != nil {
			vs.run.result(d)
			v = vs.known(name)
		}
	}
	if v != nil && v.conversions == nil {
		v.conversions = vs.run.conversions
	}
	return v
}

// known returns a value that was calculated before.
func (vs *Values) known(name string) *Value {
	d := declarationOf(name)
	if d == nil || vs.run == nil {
		return nil
	}
	known := vs.run.known(d)
	if i := slices.IndexFunc(known.members, func(v *Value) bool { return v.Name == name }); i >= 0 {
		return known.members[i]
	}
	return known.value
}

// Has reports whether there is a value, without recording a dependency.
func (vs *Values) Has(name string) bool { return vs.known(name) != nil }

// Family returns the values whose names equal prefix, or begin with it and a dot.
func (vs *Values) Family(prefix string) (out []*Value) {
	first, _ := slices.BinarySearchFunc(vs.list, prefix, func(v *Value, prefix string) int { return strings.Compare(v.Name, prefix) })
	for _, v := range vs.list[first:] {
		rest, is := strings.CutPrefix(v.Name, prefix)
		if !is {
			break
		}
		if rest == "" || rest[0] == '.' {
			out = append(out, v)
		}
	}
	return out
}

// WhyAbsent returns why a declared value could not be calculated; empty if it was, or if no
// value of that name applies to the unit.
func (vs *Values) WhyAbsent(name string) string {
	if d := declarations[name]; d != nil {
		return vs.run.whyAbsent(d)
	}
	return ""
}

// add adds a result.
func (vs *Values) add(r *result) {
	if r.value != nil {
		vs.list = append(vs.list, r.value)
	}
	vs.list = append(vs.list, r.members...)
}

func (vs *Values) sort() {
	slices.SortFunc(vs.list, func(a, b *Value) int { return strings.Compare(a.Name, b.Name) })
}

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
			if in.Name == "" || in.Text != "" {
				continue
			}
			if used := vs.known(in.Name); used != nil {
				v.Inputs[i].Text = used.text
			}
		}
	}
}
