package product

import (
	"strings"
	"testing"

	"ownerguide/spec/source"
)

// What exists in the trade and is not supported by the program is refused at its position,
// with the reason, and never printed as something else.
func TestRefusedKinds(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"axles: { a: { brake: { kind: air } } }", `x.yaml:1:30: axles.a.brake.kind is "air", for which`},
		{"axles: { a: { suspension: air } }", `x.yaml:1:27: axles.a.suspension is "air", for which`},
		{"couplers: { c: { kind: fifth-wheel } }", `x.yaml:1:24: couplers.c.kind is "fifth-wheel", for which`},
		{"batteries: { b: { kind: lithium-ion } }", `x.yaml:1:25: batteries.b.kind is "lithium-ion", for which`},
		{"connectors: { c: { kind: six-square } }", `x.yaml:1:26: connectors.c.kind is "six-square", for which`},
	} {
		node, findings := source.Parse("x.yaml", []byte(c.text), source.SheetLimit)
		var parts Components
		source.Decode(node, &parts, &findings)
		var all []string
		for _, f := range findings.Sorted() {
			all = append(all, f.Pos.String()+": "+f.Message)
		}
		if got := strings.Join(all, "\n"); !strings.Contains(got, c.want) || !strings.Contains(got, "makes no guide of such a trailer; expected one of") {
			t.Errorf("%s:\n%s\nexpected %s", c.text, got, c.want)
		}
	}
	for _, hauls := range []string{"horses", "liquids", "poles"} {
		node, findings := source.Parse("x.yaml", []byte("hauls: "+hauls), source.SheetLimit)
		var m Model
		source.Decode(node, &m, &findings)
		told := false
		for _, f := range findings.Sorted() {
			told = told || strings.Contains(f.Message, "makes no guide of such a trailer")
		}
		if !told {
			t.Errorf("a model that hauls %s is not refused with the reason", hauls)
		}
	}
}
