package spec

import (
	"fmt"
	"io/fs"
	"os"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode/utf8"
)

const badSheets = "../testdata/sheets/bad"

// first is the sheet that every bad one is read together with.
const first = `serial: EX-001
vin: 1B9TD2023VM000001
model: tilt-20
model_year: 2027
built: 2026-11-12
issued: 2026-11-20
revision: A
`

var expectation = regexp.MustCompile(`^\s*# expect: (\S+) (\d+)$`)

// expected reads the findings a bad sheet announces, as "line:column code".
func expected(t *testing.T, data []byte) []string {
	t.Helper()
	var want, waiting []string
	for i, line := range strings.Split(string(data), "\n") {
		if m := expectation.FindStringSubmatch(line); m != nil {
			waiting = append(waiting, m[2]+" "+m[1])
			continue
		}
		for _, w := range waiting {
			want = append(want, fmt.Sprintf("%d:%s", i+1, w))
		}
		waiting = nil
	}
	if len(want) == 0 {
		t.Error("the file expects no finding")
	}
	return want
}

// checkAll does what a run over several sheets does.
func checkAll(line *product.Line, name string, data []byte) source.Findings {
	s, findings := sheet.Read(name, data)
	other, _ := sheet.Read("first.yaml", []byte(first))
	findings.Add(sheet.CheckRun([]*sheet.Identity{other.Identity(), s.Identity()})...)
	if s != nil {
		_, more := Resolve(line, s)
		findings.Add(more...)
	}
	return findings.Sorted()
}

// Every code a sheet can provoke has a sheet that provokes it and only it.
func TestBadSheets(t *testing.T) {
	line := loadEmbedded(t)
	var ours []string
	for _, c := range slices.Concat(source.Codes(), sheet.Codes(), Codes()) {
		ours = append(ours, c.ID)
	}
	// Too large a file would weigh down the project; TestTooLarge makes one.
	provoked := []string{"file-too-large"}
	files, err := filepath.Glob(badSheets + "/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			want := expected(t, data)
			for _, w := range want {
				_, code, _ := strings.Cut(w, " ")
				if !slices.Contains(ours, code) {
					t.Skip("a finding of another package")
				}
				if !strings.HasPrefix(filepath.Base(file), code) {
					t.Errorf("the file's name does not begin with %s", code)
				}
				provoked = append(provoked, code)
			}
			var got []string
			for _, f := range checkAll(line, file, data) {
				got = append(got, fmt.Sprintf("%d:%d %s", f.Pos.Line, f.Pos.Column, f.Code))
				t.Log(f.Pos, f.Message, f.Hints, f.Mends)
			}
			if !slices.Equal(got, want) {
				t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
		})
	}
	for _, id := range ours {
		if !slices.Contains(provoked, id) {
			t.Errorf("no sheet in %s provokes %s", badSheets, id)
		}
	}
}

func TestFirstSheetIsGood(t *testing.T) {
	s, findings := sheet.Read("first.yaml", []byte(first))
	b, more := Resolve(loadEmbedded(t), s)
	if len(findings)+len(more) > 0 || b == nil {
		t.Errorf("got %v, %v, %v", b, findings, more)
	}
}

// Findings lie inside the file, whatever is in it, and a sheet without errors
// prints the words that were written.
func FuzzSheet(f *testing.F) {
	f.Add([]byte(first))
	files, err := fs.Glob(os.DirFS(badSheets), "*.yaml")
	if err != nil || len(files) == 0 {
		f.Fatalf("no seeds in %s: %v", badSheets, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(filepath.Join(badSheets, file))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	line := loadEmbedded(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		lines := strings.Split(string(data), "\n")
		findings := checkAll(line, "x.yaml", data)
		for _, finding := range findings {
			if finding.Pos.File != "x.yaml" || finding.Pos.Line < 1 || finding.Pos.Line > len(lines)+1 {
				t.Fatalf("finding at %s in a file of %d lines: %s", finding.Pos, len(lines), finding.Message)
			}
			if finding.Pos.Line <= len(lines) && finding.Pos.Column > utf8.RuneCountInString(lines[finding.Pos.Line-1])+1 || finding.Pos.Column < 1 {
				t.Fatalf("finding at %s in a line of %q", finding.Pos, lines[finding.Pos.Line-1])
			}
		}
		given, _ := sheet.Read("x.yaml", data)
		if findings.HasErrors() {
			return
		}
		if year, err := strconv.Atoi(given.ModelYear.Text); err != nil || year != given.ModelYear.Value || given.Serial.Value == "" {
			t.Fatalf("a sheet with serial %q and model year %q has no error", given.Serial.Value, given.ModelYear.Text)
		}
	})
}

const smallLine = "../testdata/lines/small"

// loadSmall loads the small invented line that the tests of this package use.
func loadSmall(t testing.TB) *product.Line {
	t.Helper()
	line, findings := LoadLine(os.DirFS(smallLine), "small")
	for _, f := range findings {
		t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
	}
	if line == nil {
		t.FailNow()
	}
	return line
}

// smallFiles returns the small line's files, to be edited.
func smallFiles() fstest.MapFS {
	return testenv.Files(os.DirFS(smallLine))
}

// Whatever stands in line.yaml, a model and the shared options, a line is whole or refused, findings lie in
// files of the line, and a line that is accepted carries a build.
func FuzzLoadLine(f *testing.F) {
	files := smallFiles()
	sound, tilt := files["line.yaml"].Data, files["models/tilt-20.yaml"].Data
	rack := []byte("rack: { weighs: 1 lb, center: 1 in, parts: { rack: { use: holder } } }\n")
	f.Add(sound, tilt, rack)
	f.Add([]byte("models: [a]\n"), []byte("options: { a: { requires: [ { option: a } ] } }\n"), rack)
	f.Add([]byte(strings.Replace(string(sound), "1B9", "1B8", 1)), []byte("parts: {}\n"), rack)
	f.Add(sound, []byte("extends: deck-28\nvin_code: TD202\nomits: [rules, options.fixed-deck, parts.jack]\noptions: { rack: { extends: rack, vin_code: ...9. } }\n"), rack)
	f.Add(sound, []byte("extends: deck-28\nlonger: { by: 1 in, behind: 9 in, empty_weight: 1 lb, coupler_weight: 1 lb, use: { a: b } }\n"), []byte("rack: { extends: rack }\nrail: { extends: rack, omits: [a.b] }\n"))
	f.Add(sound, []byte("extends: tilt-20\n"), []byte("- rack\n"))
	f.Fuzz(func(t *testing.T, maker, model, options []byte) {
		changed := fstest.MapFS{}
		for name, file := range files {
			changed[name] = file
		}
		changed["line.yaml"] = &fstest.MapFile{Data: maker}
		changed["models/tilt-20.yaml"] = &fstest.MapFile{Data: model}
		changed["options/all.yaml"] = &fstest.MapFile{Data: options}
		line, findings := LoadLine(changed, "line")
		if (line == nil) != findings.HasErrors() {
			t.Fatalf("a line: %t, findings %v", line != nil, findings)
		}
		for _, finding := range findings {
			if !strings.HasPrefix(finding.Pos.File, "line/") && finding.Pos.File != "line" {
				t.Fatalf("finding in %q: %s", finding.Pos, finding.Message)
			}
		}
		if line == nil {
			return
		}
		for _, m := range line.Models {
			s, _ := sheet.Read("x.yaml", []byte(testenv.Edited(first, "model: "+m.ID)))
			Resolve(line, s)
		}
	})
}

// Each code says what it is for.
func TestCodes(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range slices.Concat(source.Codes(), sheet.Codes(), product.Codes(), Codes()) {
		if c.ID == "" || c.Protects == "" || seen[c.ID] {
			t.Errorf("code %q protects %q", c.ID, c.Protects)
		}
		seen[c.ID] = true
	}
}
