package derive

import "strconv"

func init() {
	family(Decl{
		Name: "first", Round: statedMost,
		Formula: "for each task that is due once, early on, the distances on the unit at which it is",
		Source:  Source{Practice, "the base list of tasks, unless the line gives its own"},
	}, func(e *Eval) []Member {
		var out []Member
		for task := range e.Build.Tasks() {
			for i, at := range task.At {
				out = append(out, readMember(e, task.ID.Value+"."+strconv.Itoa(i+1), at))
			}
		}
		return out
	})
}
