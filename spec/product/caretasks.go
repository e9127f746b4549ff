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
	// The program's own conditions cover all trailers; those of the line may use only
	// features that the line has.
	vocabulary := append(source.Values(c.Provided()), slices.Sorted(maps.Keys(c.derived))...)
	check := func(when logic.Condition) {
		for _, name := range when.Facts() {
			c.name(codeLineFeature, when.At(name), "feature", name, vocabulary)
		}
	}
	for _, t := range c.Components.Tasks {
		check(t.When)
	}
	for _, s := range c.Maker.SwitchedOff {
		check(s.When)
	}
}
