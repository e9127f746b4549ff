package render

import (
	"fmt"
	"slices"
	"testing"

	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
)

// A job that its set leaves out at one visit is a bearing that nobody greases.
func TestSetsSayWhatThePlanSays(t *testing.T) {
	covered(t, func(b *spec.Build, vs *derive.Values) {
		_, templates := embedded(t)
		a, _, _ := templates.begin(b, vs)
		sets := a.jobSets()
		for i, v := range vs.Plan.Visits {
			var jobs []string
			for _, s := range sets {
				if slices.Contains(s.visits, i) {
					jobs = append(jobs, s.tasks...)
				}
			}
			want := slices.Clone(v.Tasks)
			slices.Sort(jobs)
			slices.Sort(want)
			if !slices.Equal(jobs, want) {
				t.Errorf("visit %d: sets give %v, the plan %v", v.Number, jobs, want)
			}
		}
	})
}

func TestSetsHaveLetters(t *testing.T) {
	_, templates := embedded(t)
	tasks := keys(templates.Language(template.Base).Jobs)
	grease, clean, pack, turn := tasks[0], tasks[1], tasks[2], tasks[3]
	a := &assembly{lang: templates.Language(template.Base), values: &derive.Values{Plan: derive.Plan{Visits: []derive.Visit{
		{Number: 1, Tasks: []string{grease, clean}}, {Number: 2, Tasks: []string{grease, clean, pack}},
		{Number: 3, Tasks: []string{grease, clean, turn}}, {Number: 4, Tasks: []string{grease, clean, pack}},
	}}}}
	var got []string
	for _, s := range a.jobSets() {
		got = append(got, fmt.Sprint(s.letter, s.visits, len(s.tasks)))
	}
	if want := []string{"A[0 1 2 3] 2", "[1 3] 1", "[2] 1"}; !slices.Equal(got, want) {
		t.Errorf("sets are %q, expected %q", got, want)
	}
}
