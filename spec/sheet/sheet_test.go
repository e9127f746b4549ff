package sheet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// first is the sheet that every bad one is read together with.
const first = `serial: EX-001
vin: 1B9TD2023VM000001
model: tilt-20
model_year: 2027
built: 2026-11-12
issued: 2026-11-20
revision: A
`

func TestTooLarge(t *testing.T) {
	sheet, findings := Read("x.yaml", []byte(strings.Repeat("#", source.SheetLimit)+"\n"))
	if sheet != nil || len(findings) != 1 || findings[0].Code != "file-too-large" {
		t.Errorf("got %v, %v", sheet, findings)
	}
	if _, findings := Read("x.yaml", []byte(first+"#"+strings.Repeat("x", source.SheetLimit-len(first)-1))); len(findings) > 0 {
		t.Errorf("a file just small enough: %v", findings)
	}
}

// forms: each edit replaces or adds an entry of the good sheet; the codes are
// those of all findings.
func TestReadForms(t *testing.T) {
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
		{"delivered: 2027-11-12", ""},
		{"delivered: 2027-11-13", "date-far"},
		{"issued: 2027-11-13", "date-far"},
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
			_, findings := Read("x.yaml", []byte(testenv.Edited(first, tt.entry)))
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

func TestTireDateKeepsFourDigits(t *testing.T) {
	sheet, _ := Read("x.yaml", []byte(first+"fitted: { tires: [ { place: left front, dot: DOT U2LL LMLR 3426 } ] }\n"))
	if got := sheet.Fitted.Tires[0].DOT; got.Value != "3426" || got.Text != "DOT U2LL LMLR 3426" {
		t.Errorf("got %+v", got)
	}
}

func TestCheckRun(t *testing.T) {
	read := func(name, serial, vin string) *Identity {
		s, _ := Read(name, []byte(testenv.Edited(testenv.Edited(first, "serial: "+serial), "vin: "+vin)))
		return s.Identity()
	}
	findings := CheckRun([]*Identity{
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

func TestLanguageLeftOut(t *testing.T) {
	s, findings := Read("first.yaml", []byte(first))
	if len(findings) > 0 || s.Language.Value != source.BaseLanguage {
		t.Errorf("language is %q; %v", s.Language.Value, findings)
	}
}
