package render

import (
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"

	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/templates"
)

// saidSides are the words of a text that make a figure a minimum or a maximum. A figure
// rounded to the other side is stated a little on the unsafe side, first or in its conversion.
var saidSides = []struct {
	said   *regexp.Regexp
	unsafe quantity.Side
}{
	{regexp.MustCompile(`(?i)\b(?:at least|no less than|not less than)(?: for)? \{([a-z0-9_.]+)`), quantity.Down},
	{regexp.MustCompile(`\{([a-z0-9_.]+)\} or (?:more|higher)\b`), quantity.Down},
	{regexp.MustCompile(`(?i)\bbetween \{([a-z0-9_.]+)[^}]*\} and \{`), quantity.Down},
	{regexp.MustCompile(`^([a-z0-9_]+(?:\.[a-z0-9_]+)+): .*\b(?:least|[Ll]owest)\b`), quantity.Down},
	{regexp.MustCompile(`^([a-z0-9_]+(?:\.[a-z0-9_]+)+): .*\b(?:most|[Hh]ighest)\b`), quantity.Up},
	{regexp.MustCompile(`(?i)\b(?:at most|no more than|not more than|no higher than|faster than) \{([a-z0-9_.]+)`), quantity.Up},
	{regexp.MustCompile(`(?i)\bbetween \{[^}]*\} and \{([a-z0-9_.]+)`), quantity.Up},
}

func TestFiguresAreRoundedAsSaid(t *testing.T) {
	sides := map[string]quantity.Side{}
	for _, d := range derive.Declared() {
		sides[d.Name] = d.Round.Side
	}
	read := 0
	err := fs.WalkDir(templates.Files, "en", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) == "" {
			return err
		}
		data, err := fs.ReadFile(templates.Files, name)
		for i, line := range strings.Split(string(data), "\n") {
			for _, rule := range saidSides {
				for _, m := range rule.said.FindAllStringSubmatch(line, -1) {
					side, known := sides[m[1]]
					if !known {
						side, known = sides[derive.FamilyOf(m[1])]
					}
					if known && side == rule.unsafe {
						t.Errorf("templates/%s:%d: %q is rounded %s", name, i+1, m[0], side)
					}
					if known {
						read++
					}
				}
			}
		}
		return err
	})
	if err != nil || read < 50 {
		t.Errorf("%d figures, %v", read, err)
	}
}
