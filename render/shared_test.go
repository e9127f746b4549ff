package render

import (
	"slices"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// said is a node as any reader may see it.
type said struct {
	attributes   doc.Attributes
	words, other string
	at           source.Pos
}

func allSaid(sections []*doc.Section) (out []said) {
	for n := range doc.Walk(sections) {
		var s said
		if p, ok := n.(doc.Part); ok {
			a := p.Attr()
			s.attributes = doc.Attributes{ID: a.ID, Origin: a.Origin, History: a.History, Changed: a.Changed, Lang: a.Lang}
		}
		switch n := n.(type) {
		case *doc.Text:
			s.words, s.at = n.Content, n.Origin
		case *doc.Value:
			s.words, s.other = n.Printed, n.Name
		case *doc.Link:
			s.words, s.at = n.To, n.Origin
		case *doc.Box:
			s.words = n.ID
		}
		out = append(out, s)
	}
	return out
}

// What units share makes no difference to any of them, whichever came before.
func TestSharedBlocksAreAsIfAlone(t *testing.T) {
	l, templates := embedded(t)
	again, all := 0, 0
	seen := map[doc.Block]bool{}
	for round := range 2 {
		list := samples(t)
		if round == 1 {
			slices.Reverse(list)
		}
		for _, s := range list {
			b, vs := unit(t, l, readSheet(t, s.name, s.data))
			g, findings := templates.Assemble(b, vs, nil)
			fresh := *templates
			fresh.kept = newKept()
			alone, want := fresh.Assemble(b, vs, nil)
			if len(findings) != len(want) {
				t.Errorf("%s: %d findings, alone %d", s.name, len(findings), len(want))
			}
			for _, of := range []func(*doc.Guide) *doc.Guide{
				func(g *doc.Guide) *doc.Guide { return g }, func(g *doc.Guide) *doc.Guide { return g.Card },
				func(g *doc.Guide) *doc.Guide { return g.Leaf }, func(g *doc.Guide) *doc.Guide { return g.Mail },
				func(of *doc.Guide) *doc.Guide {
					made := templates
					if of == alone {
						made = &fresh
					}
					sums, _ := made.Calculations(b, vs, Made{})
					return sums
				}} {
				g, alone := of(g), of(alone)
				if g == nil && alone == nil {
					continue
				}
				if doc.Digest(g.Sections...) != doc.Digest(alone.Sections...) {
					t.Errorf("%s: %s has another digest than alone", s.name, g.Title)
				}
				if !slices.Equal(allSaid(g.Sections), allSaid(alone.Sections)) {
					t.Errorf("%s: %s differs from the same alone", s.name, g.Title)
				}
			}
			for section := range doc.All[*doc.Section](g.Sections) {
				for _, n := range section.Blocks {
					if all++; seen[n] {
						again++
					}
					seen[n] = true
				}
			}
		}
	}
	if again < all/3 {
		t.Errorf("of %d blocks only %d are those of an earlier unit", all, again)
	}
}
