package derive

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// wrongSheet is a sheet with one entry as somebody in a hurry writes it.
type wrongSheet struct{ kind, what, text string }

var (
	sheetMass = regexp.MustCompile(`([0-9][0-9,.]*) lb\b`)
	sheetDate = regexp.MustCompile(`(?m)^(built|issued|delivered): ([0-9]{4})-([0-9]{2})-([0-9]{2})`)
	sheetCode = regexp.MustCompile(`"([0-9]{2})([0-9]{2})"`)
	sheetVIN  = regexp.MustCompile(`(?m)^vin: (\S+)`)
	sheetYear = regexp.MustCompile(`(?m)^model_year: ([0-9]+)`)
	sheetRow  = regexp.MustCompile(`(?m)^(serial|vin|model|model_year|built|issued|revision): .*\n`)
	sheetOf   = regexp.MustCompile(`(?m)^model: (\S+)`)
)

// wrongSheets changes each entry of a sheet that a guide rests on.
func wrongSheets(text string, models []string) (all []wrongSheet) {
	put := func(kind string, from, to int, with string) {
		row := text[strings.LastIndexByte(text[:from], '\n')+1:]
		row, _, _ = strings.Cut(row, "\n")
		all = append(all, wrongSheet{kind, fmt.Sprintf("%s for %s in %q", with, text[from:to], strings.TrimSpace(row)), text[:from] + with + text[to:]})
	}
	for _, m := range sheetMass.FindAllStringSubmatchIndex(text, -1) {
		var pounds float64
		fmt.Sscan(strings.ReplaceAll(text[m[2]:m[3]], ",", ""), &pounds)
		for _, by := range []float64{0.1, 0.5, 2, 10} {
			put(fmt.Sprintf("weight times %g", by), m[2], m[3], fmt.Sprintf("%.0f", pounds*by))
		}
		put("kilograms for pounds", m[0], m[1], text[m[2]:m[3]]+" kg")
	}
	for _, m := range sheetDate.FindAllStringSubmatchIndex(text, -1) {
		var year int
		fmt.Sscan(text[m[4]:m[5]], &year)
		for _, by := range []int{-10, -1, 1, 10} {
			put(fmt.Sprintf("%s %+d years", text[m[2]:m[3]], by), m[4], m[5], fmt.Sprint(year+by))
		}
	}
	for _, m := range sheetCode.FindAllStringSubmatchIndex(text, -1) {
		for _, year := range []string{"16", "20", "23", "29"} {
			put("tire of another year", m[4], m[5], year)
		}
		put("week and year swapped", m[2], m[5], text[m[4]:m[5]]+text[m[2]:m[3]])
	}
	for _, m := range sheetVIN.FindAllStringSubmatchIndex(text, -1) {
		for i := m[2]; i < m[3]; i++ {
			for _, c := range []string{"1", "7", "K"} {
				if c != text[i:i+1] {
					put("one character of the vin", i, i+1, c)
				}
			}
			if i > m[2] && text[i] != text[i-1] {
				put("two characters of the vin swapped", i-1, i+1, text[i:i+1]+text[i-1:i])
			}
		}
	}
	for _, m := range sheetYear.FindAllStringSubmatchIndex(text, -1) {
		for _, year := range []string{"2025", "2026", "2028", "1997"} {
			if year != text[m[2]:m[3]] {
				put("another model year", m[2], m[3], year)
			}
		}
	}
	for _, m := range sheetRow.FindAllStringIndex(text, -1) {
		put("entry left out", m[0], m[1], "")
	}
	for _, m := range sheetOf.FindAllStringSubmatchIndex(text, -1) {
		for _, model := range models {
			if model != text[m[2]:m[3]] {
				put("another model", m[2], m[3], model)
			}
		}
	}
	return all
}

// harmlessSheets are wrong entries that no program can know to be wrong, with the reason.
var harmlessSheets = []harmlessSheet{
	{regexp.MustCompile(`: issued \+10? years: `), "a later revision is made whenever something changes"},
}

type harmlessSheet struct {
	what *regexp.Regexp
	why  string
}

// Every wrong entry of a sheet is found, or stands among those that nobody can know.
func TestWrongSheetsAreFound(t *testing.T) {
	testenv.Heavy(t, "makes some thousand sheets")
	l, _ := embedded(t)
	var models []string
	for _, m := range l.Models {
		models = append(models, m.ID)
	}
	files, err := filepath.Glob("../../testdata/sheets/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal(err)
	}
	made, survived := map[string]int{}, map[string]int{}
	used := make([]bool, len(harmlessSheets))
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		known := foundInSheet(l, file, string(data))
		for _, w := range wrongSheets(string(data), models) {
			made[w.kind]++
			found := foundInSheet(l, file, w.text)
			if slices.ContainsFunc(found, func(f source.Finding) bool {
				return !slices.ContainsFunc(known, func(k source.Finding) bool { return k.Code == f.Code && k.Pos == f.Pos })
			}) {
				continue
			}
			survived[w.kind]++
			what := filepath.Base(file) + ": " + w.kind + ": " + w.what
			i := slices.IndexFunc(harmlessSheets, func(h harmlessSheet) bool { return h.what.MatchString(what) })
			if i < 0 {
				t.Errorf("nobody is told of %s", what)
				continue
			}
			used[i] = true
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(made)) {
		t.Logf("%-32s %4d made, %4d found", kind, made[kind], made[kind]-survived[kind])
	}
	for i, h := range harmlessSheets {
		if !used[i] {
			t.Errorf("none survives like %s: take it out", h.what)
		}
	}
}

// foundInSheet reads a sheet, resolves it and works its unit out, as far as it goes.
func foundInSheet(l *product.Line, file, text string) source.Findings {
	s, findings := sheet.Read(file, []byte(text))
	if s == nil || findings.HasErrors() {
		return findings
	}
	b, more := spec.Resolve(l, s)
	findings.Add(more...)
	if b == nil {
		return findings
	}
	_, more = Evaluate(b)
	findings.Add(more...)
	return findings
}
