package spec

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"ownerguide/spec/source"
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
func checkAll(line *Line, name string, data []byte) source.Findings {
	sheet, findings := ReadSheet(name, data)
	other, _ := ReadSheet("first.yaml", []byte(first))
	findings.Add(CheckRun([]*Sheet{other, sheet})...)
	if sheet != nil {
		_, more := line.Build(sheet)
		findings.Add(more...)
	}
	return findings.Sorted()
}

// Every code a sheet can provoke has a sheet that provokes it and only it.
func TestBadSheets(t *testing.T) {
	line := loadEmbedded(t)
	var ours []string
	for _, c := range slices.Concat(source.Codes(), sheetCodes()) {
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

func TestTooLarge(t *testing.T) {
	sheet, findings := ReadSheet("x.yaml", []byte(strings.Repeat("#", source.SheetLimit)+"\n"))
	if sheet != nil || len(findings) != 1 || findings[0].Code != "file-too-large" {
		t.Errorf("got %v, %v", sheet, findings)
	}
	if _, findings := ReadSheet("x.yaml", []byte(first+"#"+strings.Repeat("x", source.SheetLimit-len(first)-1))); len(findings) > 0 {
		t.Errorf("a file just small enough: %v", findings)
	}
}

func TestFirstSheetIsGood(t *testing.T) {
	sheet, findings := ReadSheet("first.yaml", []byte(first))
	b, more := loadEmbedded(t).Build(sheet)
	if len(findings)+len(more) > 0 || b == nil {
		t.Errorf("got %v, %v, %v", b, findings, more)
	}
	if sheet.Language.Value != fallbackLanguage {
		t.Errorf("language is %q", sheet.Language.Value)
	}
}

// forms: each edit replaces or adds an entry of the good sheet; the codes are
// those of all findings.
func TestReadSheetForms(t *testing.T) {
	tests := []struct{ entry, codes string }{
		{"serial: A", ""},
		{"serial: a.b_c-9", ""},
		{"serial: " + strings.Repeat("x", 32), ""},
		{"serial: " + strings.Repeat("x", 33), "serial-form"},
		{"serial: -a", "serial-form"},
		{"serial: a.", "serial-form"},
		{"serial: .a", "serial-form"},
		{"serial: a b", "serial-form"},
		{"serial: é", "serial-form"},
		{`serial: "..\\x"`, "serial-form"},
		{"serial: NUL", "serial-form"},
		{"serial: Com1", "serial-form"},
		{"serial: lpt9.txt", "serial-form"},
		{"serial: aux.a.b", "serial-form"},
		{"serial: CONE", ""},
		{"serial: COM10", ""},
		{"serial: NULL-1", ""},
		{"serial: 0o17", ""},
		{"serial: 1e3", ""},
		{`serial: ""`, "text-empty"},
		{"serial: null", "value-wrong"},
		{"revision: Z", ""},
		{"revision: AA", ""},
		{"revision: HJ", ""},
		{"revision: I", "revision-form"},
		{"revision: AQ", "revision-form"},
		{"revision: a", "revision-form"},
		{"revision: AAA", "revision-form"},
		{"revision: 1", "revision-form"},
		{"language: es", ""},
		{"language: pt-BR", ""},
		{"language: es-419", ""},
		{"language: zh-Hant-TW", ""},
		{"language: EN", "language-form"},
		{"language: en_US", "language-form"},
		{"language: no", ""}, // Norwegian, not a truth value
		{"built: 2026-02-30", "value-wrong"},
		{"built: 12/11/2026", "value-wrong"},
		{"issued: 2026-11-12", ""},
		{"issued: 2026-11-11", "date-issued"},
		{"delivered: 2026-11-12", ""},
		{"delivered: 2026-11-11", "date-delivered"},
		{"delivered: 1979-11-11", "date-range"},
		{"delivered:", "value-wrong"},
		{"model_year: 2027.0", "value-wrong"},
		{"notes: |\n  two\n  lines\twith a tab", ""},
		{"notes: " + strings.Repeat("x", 4000), ""},
		{"notes: " + strings.Repeat("x", 4001), "text-too-long"},
		{`notes: "\u0007"`, "text-control"},
		{`notes: "a\rb"`, "text-control"},
		{`notes: "a\u2028b"`, "text-control"},
		{`notes: "a\u0085b"`, "text-control"},
		{`notes: "a\u2067b"`, "text-direction"},
		{`notes: "\u05d0\u200f"`, ""}, // a Hebrew letter and the harmless mark
		{"notes: \"\u202e\"", "text-direction"},
		{"buyer: { name: " + strings.Repeat("é", 200) + " }", ""},
		{"buyer: { name: " + strings.Repeat("é", 201) + " }", "text-too-long"},
		{"buyer: { town: x }", "key-missing"},
		{"buyer: { name: x, phone: ring twice }", ""},
		{"buyer: { name: x, email: a.b+c@mail.example.com }", ""},
		{"buyer: { name: x, email: example.com }", "text-email"},
		{"buyer: { name: x, email: a@b }", "text-email"},
		{"buyer: { name: x, email: <a@example.com> }", "text-email"},
		{`buyer: { name: x, email: "a@example.com\nBcc: b@example.com" }`, "text-control text-email"},
		{"use: { distance_per_month: 900 mi, loads_per_week: 6 }", ""},
		{"use: { distance_per_month: 1500 km, loads_per_week: 0 }", ""},
		{"use: { distance_per_month: 900 lb, loads_per_week: 6 }", "value-wrong"},
		{"use: { distance_per_month: -1 mi, loads_per_week: 6 }", "count-range"},
		{"use: { distance_per_month: 30001 mi, loads_per_week: 6 }", "count-range"},
		{"use: { distance_per_month: 900 mi, loads_per_week: -1 }", "count-range"},
		{"use: { distance_per_month: 900 mi, loads_per_week: 6, driven_already: 20001 mi }", "count-range"},
		{"use: { distance_per_month: 900 mi, loads_per_week: 6, motor_hours_per_month: 745 }", "count-range"},
		{"use: { distance_per_month: 900 mi }", "key-missing"},
		{"measured: { empty_weight: 0 lb }", "measured-weights"},
		{"measured: { empty_weight: 5980 lb, tongue_weight: 5980 lb }", "measured-weights"},
		{"measured: { tongue_weight: -1 lb }", "measured-weights"},
		{"measured: { empty_weight: 5980 lb, tongue_weight: 890 lb }", ""},
		{"measured: { empty_weight: 5980 mi }", "value-wrong"},
		{"added: [ { option: spare, date: 2026-11-11 } ]", "date-change"},
		{"added: [ { option: spare, date: 2026-11-12 } ]", ""},
		{"added: [ { option: spare, date: 2026-11-12 }, { option: spare, date: 2026-11-13 } ]", "option-repeated"},
		{"added: [ { option: spare } ]", "key-missing"},
		{"options: [front-box, spare, front-box, front-box]", "option-repeated option-repeated"},
		{"options: [spare]\nremoved: [ { option: spare, date: 2027-01-01 } ]", ""},
		{"options: [spare]\nremoved: [ { option: spare, date: 2027-01-01 }, { option: spare, date: 2027-01-02 } ]", "option-repeated"},
		{"added: [ { option: spare, date: 2027-01-02 } ]\nremoved: [ { option: spare, date: 2027-01-02 } ]", ""},
		{"added: [ { option: spare, date: 2027-01-02 } ]\nremoved: [ { option: spare, date: 2027-01-01 } ]", "option-removed"},
		{"options: [spare]\nremoved: [ { option: spare, date: 2026-11-01 } ]", "date-change"},
		{"options: [[front-box]]", "value-shape"},
		{`fitted: { tires: [ { place: left front, dot: "0126" } ] }`, ""},
		{`fitted: { tires: [ { place: left front, dot: "5325" } ] }`, ""},
		{`fitted: { tires: [ { place: left front, dot: U2LL LMLR 3426 } ] }`, ""},
		{`fitted: { tires: [ { place: left front, dot: DOT U2LL LMLR3426 } ] }`, ""},
		{`fitted: { tires: [ { place: left front, dot: "0026" } ] }`, "tire-date"},
		{`fitted: { tires: [ { place: left front, dot: "5425" } ] }`, "tire-date"},
		{`fitted: { tires: [ { place: left front, dot: "326" } ] }`, "tire-date"},
		{`fitted: { tires: [ { place: left front, dot: "03426" } ] }`, "tire-date"},
		{`fitted: { tires: [ { place: left front, dot: "34/26" } ] }`, "tire-date"},
		{`fitted: { tires: [ { place: left front, dot: "4826" } ] }`, ""}, // week 48 begins 2026-11-23 at the latest, the week before may be meant
		{`fitted: { tires: [ { place: left front, dot: "4926" } ] }`, "tire-date"},
		{`fitted: { tires: [ { place: left front, dot: "3426" }, { place: left front, dot: "3426" } ] }`, "fitted-repeated"},
		{`fitted: { parts: [ { place: jack, serial: J-1 }, { place: jack, serial: J-2 } ] }`, "fitted-repeated"},
		{`fitted: { axles: [ { place: front } ] }`, "key-missing"},
		{"fitted: []", "value-shape"},
		{"colour: red", "key-unknown"},
		{"File: x", "key-unknown"},
	}
	for _, tt := range tests {
		t.Run(tt.entry[:min(len(tt.entry), 60)], func(t *testing.T) {
			_, findings := ReadSheet("x.yaml", []byte(edited(first, tt.entry)))
			var codes []string
			for _, f := range findings {
				codes = append(codes, f.Code)
			}
			if got := strings.Join(codes, " "); got != tt.codes {
				t.Errorf("got %q, want %q\n%v", got, tt.codes, findings)
			}
		})
	}
}

// edited puts an entry in the place of the one with its key, or at the end.
func edited(sheet, entry string) string {
	key, _, _ := strings.Cut(entry, ":")
	lines := strings.Split(strings.TrimSuffix(sheet, "\n"), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, key+":") {
			lines[i] = entry
			return strings.Join(lines, "\n") + "\n"
		}
	}
	return sheet + entry + "\n"
}

func TestTireDateKeepsFourDigits(t *testing.T) {
	sheet, _ := ReadSheet("x.yaml", []byte(first+"fitted: { tires: [ { place: left front, dot: DOT U2LL LMLR 3426 } ] }\n"))
	if got := sheet.Fitted.Tires[0].DOT; got.Value != "3426" || got.Text != "DOT U2LL LMLR 3426" {
		t.Errorf("got %+v", got)
	}
}

func TestCheckRun(t *testing.T) {
	read := func(name, serial, vin string) *Sheet {
		s, _ := ReadSheet(name, []byte(edited(edited(first, "serial: "+serial), "vin: "+vin)))
		return s
	}
	findings := CheckRun([]*Sheet{
		read("a.yaml", "One", "X1"), nil, read("b.yaml", "two", "X2"), read("c.yaml", "ONE", "x2"), read("d.yaml", `""`, "X3"), read("e.yaml", `""`, "X4"),
	})
	var got []string
	for _, f := range findings {
		got = append(got, fmt.Sprintf("%s %s %s; %s %s", f.Pos, f.Code, f.Message, f.Related[0].Pos, f.Related[0].Message))
	}
	want := []string{
		`c.yaml:1:9 serial-repeated serial "ONE" is that of another sheet; a.yaml:1:9 serial "One" here`,
		`c.yaml:2:6 vin-repeated vin "x2" is that of another sheet; b.yaml:2:6 vin "X2" here`,
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Findings lie inside the file, whatever is in it, and a sheet without errors
// prints the words that were written.
func FuzzReadSheet(f *testing.F) {
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
		sheet, _ := ReadSheet("x.yaml", data)
		if findings.HasErrors() {
			return
		}
		if year, err := strconv.Atoi(sheet.ModelYear.Text); err != nil || year != sheet.ModelYear.Value || !serialForm.MatchString(sheet.Serial.Value) {
			t.Fatalf("a sheet with serial %q and model year %q has no error", sheet.Serial.Value, sheet.ModelYear.Text)
		}
	})
}
