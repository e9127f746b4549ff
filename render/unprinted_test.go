package render

import (
	"slices"
	"strings"
	"testing"

	"github.com/yuin/goldmark/ast"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
)

// covered makes the units of the covering sets, in turn with the fullest and
// with the barest sheet.
func covered(t *testing.T, visit func(b *spec.Build, vs *derive.Values, plan derive.Plan)) {
	l, _ := embedded(t)
	for _, m := range l.Models {
		ofModel := slices.DeleteFunc(slices.Clone(orders()), func(o order) bool { return o.model != m })
		for i, o := range covering(ofModel) {
			visit(unit(t, l, sheetOf(t, l, o, i%2 == 0)))
		}
	}
}

// Figures that no guide prints are not wrong: limits and the calculation sheet
// use them. The list is for who looks for something to tell the owner.
func TestFiguresNoGuidePrints(t *testing.T) {
	t.Parallel()
	_, ts := embedded(t)
	printed := map[string]bool{}
	covered(t, func(b *spec.Build, vs *derive.Values, plan derive.Plan) {
		g, findings := ts.Assemble(b, vs, plan)
		if g == nil {
			t.Fatal(lines(findings))
		}
		_ = ast.Walk(g.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			if v, ok := n.(*doc.Value); ok && entering && !inProvenance(n) {
				printed[v.Name] = true
				printed[derive.FamilyOf(v.Name)] = true
			}
			return ast.WalkContinue, nil
		})
	})
	var silent []string
	for _, d := range derive.Declared() {
		if !d.Engineer && !printed[d.Name] {
			silent = append(silent, d.Name)
		}
	}
	t.Logf("declared for the owner and printed in no guide: %s", strings.Join(silent, " "))
	if len(printed) < 100 {
		t.Errorf("only %d figures are printed in all", len(printed))
	}
}

func inProvenance(n ast.Node) bool {
	for p := n.Parent(); p != nil; p = p.Parent() {
		if s, ok := p.(*doc.Section); ok {
			return s.ID == "provenance"
		}
	}
	return false
}
