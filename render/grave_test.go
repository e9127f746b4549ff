package render

import (
	"testing"

	"ownerguide/render/doc"
)

// A danger told in short at the beginning leads to where it is told in full.
func TestGravestDangersLeadToTheWork(t *testing.T) {
	l, templates := embedded(t)
	b, vs := unit(t, l, sheetOf(t, l, order{l.Model("tilt-20"), plainest["tilt-20"]}, true))
	g, _ := templates.Assemble(b, vs, nil)
	full := map[string]bool{} // "section caution"
	var short []*doc.Caution
	eachNode(g.Sections, func(in *doc.Section, n doc.Node) {
		if c, ok := n.(*doc.Caution); ok {
			if in.ID == "gravest" {
				short = append(short, c)
			} else if !c.Brief {
				full[c.ID+" "+c.Name] = true
			}
		}
	})
	for _, c := range short {
		if !c.Brief || c.Full == "" || !full[c.Full+" "+c.Name] {
			t.Errorf("caution %s is brief %t and leads nowhere where it is told in full", c.Name, c.Brief)
		}
	}
	if len(short) < 8 {
		t.Errorf("only %d dangers", len(short))
	}
}

// One that stands nowhere else is told in full, and so it is on the card, from which nothing leads into the guide.
func TestADangerWithoutItsWorkIsTold(t *testing.T) {
	files := body("```safety\n```\n")
	files["en/sections/hang.md"] = "---\ntitle: Hang it up\nplace: 200\ncard: only\n---\n```safety\n```\n"
	g, findings := guide(t, "utility-12", false, files)
	if findings.HasErrors() {
		t.Fatal(written(findings))
	}
	for _, sections := range [][]*doc.Section{g.Sections, g.Card.Sections} {
		blocks := sections[0].Blocks
		last := blocks[len(blocks)-1]
		if c, ok := last.(*doc.Caution); !ok || c.Brief || len(c.Consequence) == 0 {
			t.Errorf("the caution is %v", last)
		}
	}
}
