package render

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/derive"
)

// A figure that shares a row must not lose its name, its source or what sets
// it apart: an engineer looks for exactly that.
func TestFiguresShareRows(t *testing.T) {
	figure := func(name, way, source string) *origin {
		return &origin{figures: [][]string{strings.Split(name, ".")}, ways: [][]string{strings.Fields(way)}, source: source}
	}
	band := func(share, end string) *origin {
		return figure("band."+share+"."+end, end+" end of the stretch for a cargo of "+share+" % of the capacity", "lever law")
	}
	for _, c := range []struct {
		name  string
		all   []*origin
		names string
		how   string
	}{
		{"one", []*origin{band("25", "front")}, "band.25.front", "front end of the stretch for a cargo of 25 % of the capacity"},
		{"a whole pattern", []*origin{band("25", "front"), band("25", "rear"), band("50", "front"), band("50", "rear")},
			"band.25/50.front/rear", "front/rear end of the stretch for a cargo of 25/50 % of the capacity"},
		{"part of a pattern", []*origin{band("25", "front"), band("50", "rear")},
			"band.25.front, band.50.rear", "front/rear end of the stretch for a cargo of 25/50 % of the capacity"},
		{"names of two lengths", []*origin{figure("tires.size", "as on the sidewall", "maker"), figure("tires.spare.size", "as on the sidewall", "maker")},
			"tires.size, tires.spare.size", "as on the sidewall"},
	} {
		all := c.all[0]
		for _, o := range c.all[1:] {
			if !all.like(o) {
				t.Fatalf("%s: %v does not join", c.name, o.names())
			}
			all.figures, all.ways = append(all.figures, o.figures...), append(all.ways, o.ways...)
		}
		if all.names() != c.names || all.how() != c.how {
			t.Errorf("%s: %s: %s", c.name, all.names(), all.how())
		}
	}
	for _, c := range [][2]*origin{
		{figure("chains.size", "nominal size of the links", "maker"), figure("chains.grade", "grade marked on the links", "maker")},
		{figure("chains.count", "as on the label", "maker"), figure("tires.size", "as on the label", "maker")},
		{figure("chains.small", "working load limit of a 5/16 in chain", "maker"), figure("chains.large", "working load limit of a 3/8 in chain", "maker")},
		{figure("chains.count", "as on the label", "maker"), figure("chains.size", "as on the label", "regulation")},
	} {
		if c[0].like(c[1]) {
			t.Errorf("%s and %s share a row", c[0].names(), c[1].names())
		}
	}
}

// The guides of whole units list every figure they print, under its own name or
// that of its family.
func TestEveryPrintedFigureHasAnOrigin(t *testing.T) {
	l, templates := embedded(t)
	for _, id := range []string{"utility-12", "tilt-20", "deck-28"} {
		b, vs := unit(t, l, sheetOf(t, l, order{l.Model(id), plainest[id]}, true))
		a, g, _ := templates.begin(b, vs)
		for _, c := range a.chosen {
			g.Sections = append(g.Sections, a.section(c))
		}
		a.fillGrave(g.Sections)
		listed := map[string]string{} // source by name
		for _, o := range a.origins() {
			for _, f := range o.figures {
				listed[strings.Join(f, ".")] = o.source
			}
		}
		for _, name := range keys(a.used) {
			v, _ := vs.Lookup(name)
			if family := derive.FamilyOf(name); family != "" {
				name = family
			}
			if listed[name] != v.Source.String() {
				t.Errorf("%s: %s is listed with the source %q, expected %q", id, name, listed[name], v.Source.String())
			}
		}
		if len(listed) < 60 || len(a.origins()) > len(listed)*9/10 {
			t.Errorf("%s: %d figures in %d rows", id, len(listed), len(a.origins()))
		}
	}
}

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
