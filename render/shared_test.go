package render

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
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

// figure is the number of an entry of a sheet that may be another one in another unit.
var figure = regexp.MustCompile(`(?m)^( +\w+: )([\d,]+)( (?:lb|mi|kg|km)$|$)`)

// relatives returns a sheet and others of units that differ from it: each in one figure, which is
// a tenth larger, and one in the units it is told in.
func relatives(s sample) []sample {
	out := []sample{s, {s.name, append(slices.Clone(s.data), "units: metric\n"...)}}
	for _, at := range figure.FindAllSubmatchIndex(s.data, -1) {
		n, err := strconv.Atoi(strings.ReplaceAll(string(s.data[at[4]:at[5]]), ",", ""))
		if err != nil {
			panic(err)
		}
		out = append(out, sample{s.name, slices.Concat(s.data[:at[4]], []byte(strconv.Itoa(n+(n+9)/10)), s.data[at[5]:])})
	}
	return out
}

// What units share makes no difference to any of them, whichever came before.
func TestSharedBlocksAreAsIfAlone(t *testing.T) {
	l, templates := embedded(t)
	again, all, tried := 0, 0, 0
	seen := map[doc.Block]bool{}
	list := samples(t)
	if testenv.IsHeavy() {
		list = nil
		for _, s := range samples(t) {
			list = append(list, relatives(s)...)
		}
		for _, s := range covering() {
			list = append(list, sample{s.Name, s.Data})
		}
	}
	for round := range 2 {
		if round == 1 {
			slices.Reverse(list)
		}
		for _, s := range list {
			b, findings := spec.Resolve(l, readSheet(t, s.name, s.data))
			if findings.HasErrors() {
				continue // a figure that this unit cannot have
			}
			vs, findings := derive.Evaluate(b)
			if findings.HasErrors() {
				continue
			}
			g, findings := templates.Assemble(b, vs, nil)
			fresh := *templates
			fresh.kept = newKept()
			tried++
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
			for section := range doc.Sections(g.Sections) {
				for _, n := range section.Blocks {
					if all++; seen[n] {
						again++
					}
					seen[n] = true
				}
			}
		}
	}
	t.Logf("%d units", tried)
	if tried < len(list) {
		t.Errorf("of %d sheets %d are of units that can be", 2*len(list), tried)
	}
	if again < all/3 {
		t.Errorf("of %d blocks only %d are those of an earlier unit", all, again)
	}
}
