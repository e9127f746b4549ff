package layout

import (
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/page"
)

// A later part of the guide begins a page, its name stands above each of its pages and
// in the contents, and its tabs are white.
func TestPartsAreToldApart(t *testing.T) {
	one, two, three := sec(1, doc.RoleChapter, "1", "One", p("First.")), sec(1, doc.RoleChapter, "2", "Two", p("Second.")), sec(1, doc.RoleChapter, "3", "Three", sec(2, doc.RolePlain, "", "Near", p("Third.")), sec(2, doc.RolePlain, "", "Far", p("Last.")))
	one.Part, two.Part, three.Part = "Part A", "Part A", "Part B"
	var entries []doc.Entry
	for _, s := range []*doc.Section{one, two, three} {
		entries = append(entries, doc.Entry{Level: 1, Number: s.Number, Title: s.Short, ID: s.ID, Part: s.Part})
	}
	entries = append(entries, doc.Entry{Level: 2, Title: "Near", ID: slug("Near"), Listed: true}, doc.Entry{Level: 2, Title: "Far", ID: slug("Far")})
	b := laid(t, testGuide(sec(1, doc.RoleCover, "", "Cover", p("Cover.")), sec(1, doc.RoleContents, "", "Contents", &doc.Contents{Entries: entries}), one, two, three))
	if len(b.Pages) != 4 {
		t.Fatalf("%d pages, want cover, contents and one for each part", len(b.Pages))
	}
	contents := b.Pages[1].Words()
	if a, z := strings.Index(contents, "Part A"), strings.Index(contents, "Part B"); a < 0 || z < a || z > strings.Index(contents, "Three") || strings.Count(contents, "Part") != 2 {
		t.Errorf("the contents are\n%s", contents)
	}
	if !strings.Contains(contents, "Near") || strings.Contains(contents, "Far") {
		t.Errorf("what is looked up is not what was listed:\n%s", contents)
	}
	for i, want := range map[int]struct {
		part  string
		white int // fields that make a tab white
	}{2: {"Part A", 0}, 3: {"Part B", 1}} {
		head, fields := "", 0
		for it := range b.Pages[i].All() {
			switch it := it.(type) {
			case *page.Text:
				if it.Element == nil {
					head += it.Words + "|"
				}
			case *page.Shape:
				if it.Element == nil && it.Fill != nil && *it.Fill == page.White {
					fields++
				}
			}
		}
		if !strings.Contains(head, want.part+"|") || fields != want.white {
			t.Errorf("page %d says %q with %d white tabs, want %s and %d", i+1, head, fields, want.part, want.white)
		}
	}
}
