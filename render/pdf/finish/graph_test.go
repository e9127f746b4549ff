package finish

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/pdf/pdftest"
)

func TestObjectGraphIsSound(t *testing.T) {
	p, doc := sample(t, 5)
	r := pdftest.Read(t, p.finished(doc))
	r.CheckReferences()
	roles := r.CheckTags()
	for _, want := range []string{"Document", "TOCI", "Link", "LBody", "TH", "TD", "Figure", "Caption"} {
		if !slices.Contains(roles, want) {
			t.Errorf("no %s in the tree", want)
		}
	}
	titles := r.CheckOutline()
	if want := "Contents|\xfe\xff"; !strings.HasPrefix(strings.Join(titles, "|"), want) || len(titles) != 2+2*5 {
		t.Errorf("titles %q", titles)
	}
	root := r.Dict(r.Trailer["Root"])
	if root["Lang"] != "en-US" || r.Dict(root["MarkInfo"])["Marked"] != true || r.Dict(root["ViewerPreferences"])["DisplayDocTitle"] != true {
		t.Errorf("catalog %v", root)
	}
	xmp := string(r.Streams[int(root["Metadata"].(pdftest.Ref))])
	for _, want := range []string{"A &lt;test&gt; &amp; nothing else", "Owner’s guide (sample)", "2026-03-04T05:06:07Z", ">en-US<"} {
		if !strings.Contains(xmp, want) {
			t.Errorf("metadata lacks %q", want)
		}
	}
	if got := slices.Sorted(maps.Keys(r.Anchors())); len(got) != 11 || got[0] != "chapter-1" {
		t.Errorf("anchors %q", got)
	}
}

// Anchors and links lie where they were put, counted from the other edge.
func TestPlacesAreTurnedOver(t *testing.T) {
	p := newPainter(t)
	p.page(1)
	link := &Element{Role: RoleLink}
	p.Begin(link)
	p.words("Regular", 10, 72, "here ")
	p.End()
	p.LinkTo(link, Box{X: 10, Y: 20, W: 30, H: 40}, "a", "here")
	p.Anchor("a", 92)
	doc := Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{{Role: RoleP, Children: []*Element{link}}}}}
	r := pdftest.Read(t, p.finished(doc))
	if got := r.Anchors()["a"]; fmt.Sprint(got[2:]) != "[0 700 <nil>]" {
		t.Errorf("anchor %v", got)
	}
	page := r.Dict(r.List(r.Dict(r.Dict(r.Trailer["Root"])["Pages"])["Kids"])[0])
	if got := r.Dict(r.List(page["Annots"])[0])["Rect"]; fmt.Sprint(got) != "[10 732 40 772]" {
		t.Errorf("link %v", got)
	}
}
