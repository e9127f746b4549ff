package render

import (
	"slices"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/template"
)

// A job that the table of visits leaves out is a bearing that nobody greases, and one
// name for jobs of different visits sends the owner to the wrong ones.
func TestVisitsSayWhatThePlanSays(t *testing.T) {
	named := 0
	_, templates := embedded(t)
	for _, made := range covered() {
		b, vs := made(t).build, made(t).values
		a, _, _ := templates.begin(b, vs)
		groups := a.dueGroups()
		a.shortIntervals(groups)
		of := map[string]*dueGroup{}
		short := map[string]*dueGroup{}
		for _, g := range groups {
			for _, id := range g.tasks {
				if of[id] != nil {
					t.Errorf("%s is told twice", id)
				}
				of[id] = g
			}
			if g.short != "" && short[g.short] != nil && !slices.Equal(a.dueOn(g), a.dueOn(short[g.short])) {
				t.Errorf("%q stands for %v and for %v, which are due on different visits", g.short, g.tasks, short[g.short].tasks)
			}
			short[g.short] = g
		}
		for _, iv := range vs.Plan.Intervals {
			if of[iv.Task] == nil {
				t.Errorf("%s is due at intervals and not told", iv.Task)
			}
		}
		for _, r := range vs.Plan.Rules {
			if of[r.Task] == nil {
				t.Errorf("%s is due and not told", r.Task)
			}
		}
		var table *doc.Table
		a.filling = &chosen{Section: &template.Section{}} // which boxes to tick are named by
		for _, b := range a.visits(&template.Block{}) {
			table = b.(*doc.Table)
		}
		for i, v := range vs.Plan.Visits {
			var told []string
			for k, c := range table.Rows[i].Cells {
				if doc.PlainText(c) == dot {
					told = append(told, doc.PlainText(table.Head.Cells[k]))
				}
			}
			for _, id := range v.Tasks {
				named++
				if g := of[id]; g == nil || g.short == "" || !slices.Contains(told, g.short) {
					t.Errorf("visit %d: %s is due, and %q are told", v.Number, id, told)
				}
			}
		}
	}
	if named < 1000 {
		t.Errorf("only %d jobs are due on visits", named)
	}
}
