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

	run *run
}

// Margins returns every comparison made by the limits, sorted by code; those of one code are in
// the order in which they were made.
func (vs *Values) Margins() []*Margin { return vs.margins }

// All returns the values sorted by name.
func (vs *Values) All() []*Value { return vs.list }

// Lookup returns a value by name. For a watched build it records only that the caller assumes that the value exists; see DependOnValue.
func (vs *Values) Lookup(name string) (v *Value, ok bool) {
	if vs.run == nil || !vs.run.build.IsWatched() {
		v = vs.run.find(name)
		return v, v != nil
	}
	vs.run.build.TraceDetached(func() { v = vs.run.find(name) })
	if v == nil || !vs.run.build.AssumeExists(name) {
		vs.DependOnValue(name)
	}
	return v, v != nil
}

// DependOnValue records that the caller of Lookup depends on the value itself, and not only on its existence.
func (vs *Values) DependOnValue(name string) { vs.run.build.DependOn(vs.run.existenceDependsOn(name)) }

// Has reports whether a value has been calculated, without recording a dependency.
func (vs *Values) Has(name string) bool {
	d := declarationOf(name)
	return d != nil && named(vs.run.known(d).values, name) != nil
}

func compareName(v *Value, name string) int { return strings.Compare(v.Name, name) }

func sortByName(list []*Value) {
	slices.SortFunc(list, func(a, b *Value) int { return compareName(a, b.Name) })
}

// named returns the value with a name in a sorted list, or nil.
func named(list []*Value, name string) *Value {
	if i, found := slices.BinarySearchFunc(list, name, compareName); found {
		return list[i]
	}
	return nil
}

// Family returns the values whose names equal prefix, or begin with it and a dot.
func (vs *Values) Family(prefix string) (out []*Value) {
	first, _ := slices.BinarySearchFunc(vs.list, prefix, compareName)
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

// complete decides how fresh figures of the unit are converted, prints them, sorts the values and
// adds the schedule.
func (vs *Values) complete(fresh []*Value) {
	for _, v := range fresh {
		if q, ok := v.Exact.(quantity.Quantity); ok {
			vs.run.conversions.Add(q, v.Round)
		}
		v.conversions = vs.run.conversions
	}
	for _, v := range fresh {
		v.text = v.Print(vs.run.build.Print())
	}
	sortByName(vs.list)
	if !vs.run.partial {
		vs.Plan = *vs.run.plan()
	}
}
