package product

import (
	"maps"
	"slices"

	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

func (c *lineCheck) careTasks() {
	var tasks []word
	for _, t := range c.Tasks {
		tasks = append(tasks, t.ID)
		if (t.Trigger.Value == "first-miles") != (len(t.At) > 0) {
			c.add(codeLineTask.At(t.ID.At, "task %s: the trigger first-miles, and it alone, goes with at", t.ID.Value))
		}
	}
	c.ids("task id", tasks)
	c.ids("system", c.Maker.Systems)
	for _, s := range c.Maker.Systems {
		if slices.Contains(c.systems, s.Value) {
			c.add(codeLineRepeated.At(s.At, "%s is a system of the program", s.Value).WithHint("delete it"))
		}
	}
	systems := slices.Compact(slices.Sorted(slices.Values(append(slices.Clone(c.systems), source.Values(c.Maker.Systems)...))))
	for _, t := range c.Tasks {
		c.name(codeLineTask, t.System.At, "system", t.System.Value, systems)
	}
	// The program's own conditions cover all trailers; those of the line may use only
	// features that the line has.
	vocabulary := append(source.Values(c.Provided()), slices.Sorted(maps.Keys(c.derived))...)
	check := func(when logic.Condition) {
		for _, name := range when.Facts() {
			c.name(codeLineFeature, when.At(name), "feature", name, vocabulary)
		}
	}
	for _, t := range c.Maker.Tasks {
		check(t.When)
	}
	for _, s := range c.Maker.SwitchedOff {
		check(s.When)
	}
}
