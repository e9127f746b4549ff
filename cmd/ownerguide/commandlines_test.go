package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Command lines as people type them: what each exits with, and a piece of what
// is said. The exit codes are a contract with scripts that run the program.
func TestCommandLinesAsTyped(t *testing.T) {
	sheet := readText(t, "../../testdata/sheets/BW-27-0118.yaml")
	good, sheets := len(demoSheets()), map[string]string{}
	for _, name := range demoSheets() {
		sheets["sheets/"+filepath.Base(name)] = readText(t, name)
	}
	t.Chdir(t.TempDir())
	writeTree(t, ".", sheets)
	writeTree(t, ".", map[string]string{
		"s.yaml": sheet, "README.md": "# Read me\n", "empty/x.txt": "", "bad.yaml": strings.Replace(sheet, "utility-12", "utility-13", 1),
		"dos.yaml": "\ufeff" + strings.ReplaceAll(sheet, "\n", "\r\n"),
	})
	for _, c := range []struct {
		line string
		code int
		says string // somewhere in standard output or standard error
	}{
		// Help and version, however they are asked for.
		{"", exitUsage, "Usage: ownerguide <command>"},
		{"-h", exitClean, "Usage: ownerguide <command>"},
		{"--help", exitClean, "Exit codes: 0 done"},
		{"help", exitClean, "Usage: ownerguide <command>"},
		{"help write", exitClean, "Usage: ownerguide write"},
		{"write -h", exitClean, "Usage: ownerguide write"},
		{"help wrte", exitUsage, "hint: ownerguide help write"},
		{"version", exitClean, "ownerguide "},
		{"-V", exitClean, "ownerguide "},
		{"--version", exitClean, "ownerguide "},

		// Slips: the line as it was meant is given.
		{"chekc s.yaml", exitUsage, "hint: ownerguide check s.yaml\n"},
		{"s.yaml", exitUsage, "hint: ownerguide write s.yaml\n"},
		{"make it", exitUsage, "hint: ownerguide help lists the commands"},
		{"check", exitUsage, "check needs SHEET: build sheets"},
		{"check --formt json s.yaml", exitUsage, "hint: ownerguide check --format json s.yaml\n"},
		{"check --format xml s.yaml", exitUsage, "--format xml: expected text or json"},
		{"check -o x s.yaml", exitUsage, "hint: it is a flag of write, mail, begin\n"},
		{"-x", exitUsage, "there is no flag -x before a command"},
		{"--out x write s.yaml", exitUsage, "hint: it is a flag of write, mail, begin and stands behind it\n"},
		{"write s.yaml --out", exitUsage, "--out needs DIR behind it\n  hint: ownerguide write s.yaml --out DIR\n"},
		{"write --out --force s.yaml", exitUsage, "hint: ownerguide write --out DIR --force s.yaml\n"},
		{"write s.yaml -j", exitUsage, "-j needs N behind it"},
		{"write --workers two s.yaml", exitUsage, "--workers two: expected a whole number\n  hint: ownerguide write --workers 2 s.yaml\n"},
		{"write -j two s.yaml", exitUsage, "-j two: expected a whole number"},
		{"write -j -1 s.yaml", exitUsage, "-1"},
		{"write --workers=-1 s.yaml", exitUsage, "expected a number of workers from 1 up"},
		{"write -fz s.yaml", exitUsage, "write has no flag -z"},
		{"write --paper A4 s.yaml", exitUsage, "hint: ownerguide write --paper a4 s.yaml\n"},
		{"write --booklet=maybe s.yaml", exitUsage, "--booklet takes no value"},
		{"explain s.yaml tires more", exitUsage, "explain: more is one argument too many\n  hint: ownerguide explain s.yaml tires\n"},
		{"compare s.yaml", exitUsage, "compare needs NEW"},
		{"find", exitUsage, "find needs TEXT"},
		{"find 3426 nowhere", exitErrors, "reading nowhere: no such file or directory\n  hint: name the output folder of a write"},
		{"verify empty", exitErrors, "hint: name the output folder of a write"},
		{"codes option-require", exitUsage, "did you mean option-requires?"},
		{"codes no-such-code", exitUsage, "ownerguide codes lists them"},
		{"write --watch -", exitUsage, "standard input cannot be watched"},
		{"write --watch */a.yaml", exitUsage, "must be a plain name"},
		{"write --watch nowhere/a.yaml", exitErrors, "watching nowhere"},
		{"write --watch --together all.pdf s.yaml", exitUsage, "exclude each other"},
		{"--line nowhere check s.yaml", exitUsage, "nowhere"},
		{"mail s.yaml", exitUsage, "hint: ownerguide mail s.yaml --to ADDRESS\n"},
		{"begin", exitUsage, "begin needs a model, or an order export\n  hint: ownerguide begin MODEL"},
		{"begin tilt-21", exitUsage, "hint: did you mean tilt-20?"},
		{"prove --limit 0", exitUsage, "hint: ownerguide help prove says what it takes\n"},
		{"mail --to nobody s.yaml", exitUsage, "expected one address such as name@example.com"},
		{"completion powershel", exitUsage, "expected bash, zsh"},

		// Files that are no sheets, and sheets under several names.
		{"check README.md", exitErrors, "README.md: error: no sheet can be read here: expected a build sheet [sheet-unreadable]\n  hint: name a file that ends in .yaml"},
		{"check nowhere.yaml", exitErrors, "nowhere.yaml: error: no sheet can be read here: no such file or directory"},
		{"check --format json nowhere.yaml", exitErrors, `"file": "nowhere.yaml"`},
		{"check empty", exitErrors, "no .yaml or .yml file is in this folder"},
		{"check *.yml", exitErrors, "no file fits the pattern"},
		{"check s.yaml ./s.yaml s.yaml", exitClean, "ownerguide: 1 sheet, 0 errors\n"},
		{"check s.yaml nowhere.yaml", exitErrors, "ownerguide: 1 sheet, 1 error\n"},
		{"check sheets", exitClean, fmt.Sprintf("ownerguide: %d sheets, 0 errors", good)},
		{"check s*.yaml", exitClean, "1 sheet, 0 errors"},
		{"check dos.yaml", exitClean, "1 sheet, 0 errors"},
		{"check bad.yaml", exitErrors, "did you mean"},
		{"explain nowhere.yaml", exitErrors, "nowhere.yaml: error: "},
		{"explain sheets", exitUsage, fmt.Sprintf("sheets has %d build sheets; expected one", good)},
		{"mail README.md", exitErrors, "README.md: error: "},
		{"write nowhere.yaml", exitErrors, "nowhere.yaml: error: "},

		// What is done, with short and with long flags.
		{"write -q -j1 -o o1 s.yaml", exitClean, "written o1/BW-27-0118 "},
		{"write --output o1 --jobs 2 s.yaml", exitClean, "unchanged o1/BW-27-0118 "},
		{"write -f -oo1 s.yaml", exitClean, "written o1/BW-27-0118 "},
		{"find 35 o1", exitClean, "BW-27-0118"},
		{"compare --exit-code s.yaml o1/BW-27-0118", exitClean, "they say the same"},
	} {
		t.Run(c.line, func(t *testing.T) {
			code, stdout, stderr := program(t, strings.Fields(c.line)...)
			if said := stdout + stderr; code != c.code || !strings.Contains(said, c.says) {
				t.Errorf("exit %d, want %d with %q\n%s", code, c.code, c.says, said)
			}
		})
	}
	if entries, _ := os.ReadDir("out"); len(entries) > 0 {
		t.Errorf("a refused command line wrote %v", entries)
	}
}
