package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/spec/testenv"
)

// findingAt is the first line of a finding.
var findingAt = regexp.MustCompile(`(?m)^(\S+?):(?:\d+:\d+:)? (?:error|warning|note): .*`)

// A maker without copies of the program's words and tasks is sent to a file that is
// there, whichever line of the product line is lost.
func TestFindingsPointAtFilesOfTheMaker(t *testing.T) {
	t.Chdir(t.TempDir())
	runs(t, exitClean, "", "unpack", "--bare", "utility-12", "own")
	must(t, os.Remove("own/line/tasks.yaml"))
	writeText(t, "ownerguide.yaml", "line: own/line\ntemplates: own/templates\n")
	files, err := filepath.Glob("own/line/components/*.yaml")
	must(t, err)
	found, inside := 0, 0
	for _, name := range append(files, "own/line/line.yaml", "own/line/models/utility-12.yaml", "own/line/text/en.yaml") {
		text := readText(t, name)
		lines := strings.SplitAfter(text, "\n")
		for i, line := range lines {
			if line = strings.TrimSpace(line); line == "" || line[0] == '#' || !testenv.IsHeavy() && !strings.HasPrefix(line, "deck-boards:") {
				continue // the quick tier loses one line, an interval that a task of the program asks for
			}
			writeText(t, name, strings.Join(slices.Delete(slices.Clone(lines), i, i+1), ""))
			_, stdout, stderr := program(t, "-q", "prove", "--force")
			for _, m := range findingAt.FindAllStringSubmatch(stdout+stderr, -1) {
				if found++; embedded.Holds(m[1]) {
					t.Errorf("%s without line %d, %q: %s", name, i+1, line, m[0])
				}
			}
			if strings.Contains(stdout+stderr, "the text of the program that asks for it") {
				inside++
			}
		}
		writeText(t, name, text)
	}
	if inside == 0 {
		t.Errorf("%d findings, %d lost lines that a text of the program asks for", found, inside)
	}
}
