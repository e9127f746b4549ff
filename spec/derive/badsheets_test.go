package derive

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/sheet"
)

var expects = regexp.MustCompile(`^\s*# expect: (\S+) (\d+)$`)

// Every limit that a slip in a sheet breaks has a sheet that breaks it and nothing
// else, at the place it says. What the sheet alone shows, package spec tries.
func TestBadSheets(t *testing.T) {
	l, _ := embedded(t)
	var ours, provoked []string
	for _, c := range Codes() {
		ours = append(ours, c.ID)
	}
	files, err := filepath.Glob("../../testdata/sheets/bad/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var want, waiting []string
		for i, row := range strings.Split(string(data), "\n") {
			if m := expects.FindStringSubmatch(row); m != nil {
				if slices.Contains(ours, m[1]) {
					waiting, provoked = append(waiting, m[2]+" "+m[1]), append(provoked, m[1])
				}
				continue
			}
			for _, w := range waiting {
				want = append(want, fmt.Sprintf("%d:%s", i+1, w))
			}
			waiting = nil
		}
		if want == nil {
			continue // a finding of another package
		}
		s, findings := sheet.Read(file, data)
		b, more := spec.Resolve(l, s)
		findings.Add(more...)
		if b != nil {
			_, more = Evaluate(b)
			findings.Add(more...)
		}
		var got []string
		for _, f := range findings.Sorted() {
			got = append(got, fmt.Sprintf("%d:%d %s", f.Pos.Line, f.Pos.Column, f.Code))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s:\ngot\n%s\nwant\n%s", file, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
	for _, s := range slips {
		if s.sheet.from != "" && s.line.from == "" && slices.Contains(ours, s.code) && !slices.Contains(provoked, s.code) {
			t.Errorf("no sheet in testdata/sheets/bad provokes %s", s.code)
		}
	}
}
