package paint

import (
	"testing"
	"time"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
)

// A page may have no text at all, or text in the last of the styles alone.
func TestKitHasTheFontsInUse(t *testing.T) {
	for name, items := range map[string][]page.Item{
		"none":   {page.Rule(0, 10, 100, 10, 1)},
		"bold i": {&page.Text{Look: page.Look{Style: families[len(families)-1].style, Size: 10}, Words: "Slack", X: 10, Y: 20}},
	} {
		p := New(200, 100)
		p.Blank()
		p.Items(items)
		if _, err := p.Finish(finish.Document{Lang: "en", Title: "T", Author: "A", Date: time.Unix(0, 0).UTC()}); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
