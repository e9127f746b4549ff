package render

import (
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// statementFiles hold a prescribed text in the open and one for dump boxes only.
func statementFiles() map[string]string {
	files := body("```statement always\n```\n\n### {?dump} Boxes\n\n```statement boxes\n```\n")
	text := "title: T\ncitation: none\nbasis: memory\nparagraphs: [\"%\"]\n"
	files["statements/always.yaml"] = strings.Replace(text, "%", "Always.", 1)
	files["statements/boxes.yaml"] = strings.Replace(text, "%", "Boxes.", 1)
	return files
}

// A prescribed text under a condition that does not hold is not in the guide, and
// so neither noted as unconfirmed nor listed in the calculations.
func TestStatementOfAnotherUnit(t *testing.T) {
	ts, findings := loadLittle(t, statementFiles())
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	l, _ := embedded(t)
	for model, want := range map[string][]string{"utility-12": {"always"}, "dump-14": {"always", "boxes"}} {
		b, vs := unit(t, l, sheetOf(t, l, order{l.Model(model), plainest[model]}, true))
		var noted []string
		for _, f := range ts.Unconfirmed(b) {
			noted = append(noted, strings.TrimSuffix(strings.TrimPrefix(f.Pos.File, "own/statements/"), ".yaml"))
		}
		if slices.Sort(noted); !slices.Equal(noted, want) {
			t.Errorf("%s: noted are %q; expected %q", model, noted, want)
		}
		g, _ := ts.Calculations(b, vs, Made{})
		if text := doc.PlainText(g.Sections...); strings.Contains(text, "boxes") != slices.Contains(want, "boxes") || !strings.Contains(text, "always") {
			t.Errorf("%s: the calculations list other texts than %q", model, want)
		}
	}
}

// A directive is known to the loader, the guide and the proof by its row in the
// registry alone.
func TestDirectiveOfATest(t *testing.T) {
	rows := append(directives(), directive{
		template.Directive{Name: "bolts", Args: []template.Argument{{Names: proof.Panel}}, Lines: template.Figures,
			Refers: func(*template.Templates, *template.Call) []proof.Reference {
				return []proof.Reference{{Kind: proof.Value, Name: "wheels.torque"}}
			}},
		func(a *assembly, _ *doc.Section, p *template.Block) []doc.Block {
			return []doc.Block{&doc.Paragraph{Inlines: a.value("wheels.torque", p.At)}}
		},
		true,
	})
	ts, findings := load(rows, nil, source.Layer{Name: "own", Files: little(t, body("```bolts rolls\nhitch.ball: Ball\n```\n"))})
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	var got []string
	for _, r := range ts.Texts().References {
		if r.In == "section only" {
			got = append(got, string(r.Kind)+" "+r.Name)
		}
	}
	for _, want := range []string{"caution rolls", "value wheels.torque", "value hitch.ball"} {
		if !slices.Contains(got, want) {
			t.Errorf("%s is not among what the texts name: %q", want, got)
		}
	}
	l, _ := embedded(t)
	p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Limit: 1})
	if !slices.ContainsFunc(p.Claims, func(s proof.Settled) bool { return s.Code == "proof-value" && s.Claims > 0 }) {
		t.Error("the proof has settled no figure of the block")
	}
	if !slices.ContainsFunc(ts.Texts().Snapshot(), func(line string) bool { return strings.HasPrefix(line, "section only says, line hitch.ball: Ball") }) {
		t.Error("the snapshot has no figure of the block")
	}
	b, vs := unit(t, l, sheetOf(t, l, order{l.Model("utility-12"), nil}, false))
	g, findings := ts.Assemble(b, vs, nil)
	if len(findings) > 0 || !strings.Contains(dump(g.Sections...), "‹wheels.torque=") {
		t.Errorf("%s\n%s", written(findings), dump(g.Sections...))
	}
}
