package begin

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// embeddedLine is the line inside the program, read once; nothing changes it.
var embeddedLine = sync.OnceValues(func() (*product.Line, source.Findings) { return spec.LoadLine(line.Files, "line") })

func embedded(t testing.TB) *product.Line {
	t.Helper()
	l, findings := embeddedLine()
	if l == nil {
		t.Fatal(findings)
	}
	return l
}

// answers are what a person fills in, for every blank there can be.
var answers = map[string]string{
	"serial": "BW-27-0900", "vin": "1B9TD2024VM000900", "model_year": "2027", "built": "2026-11-12", "issued": "2026-11-20", "revision": "A",
	"options": "", "name": "Rosa Alder", "distance_per_month": "900 mi", "loads_per_week": "6",
}

// fill answers every line that ends in "fill in", and nothing else.
func fill(t testing.TB, text string) string {
	t.Helper()
	return regexp.MustCompile(`(?m)^( *)([a-z_]+): # fill in$`).ReplaceAllStringFunc(text, func(line string) string {
		key, _, _ := strings.Cut(strings.TrimSpace(line), ":")
		answer, ok := answers[key]
		if !ok {
			t.Fatalf("nobody knows what to fill in for %q", line)
		}
		return strings.Replace(line, "# fill in", answer, 1)
	})
}

// A sheet that was begun is refused blank by blank, and right once every blank
// is filled in and the options are chosen.
func TestFormIsRightOnceFilledIn(t *testing.T) {
	l := embedded(t)
	text, blanks := Form{Line: l, Model: l.Model("tilt-20"), Explains: true}.Write()
	if want := []string{"serial", "vin", "model_year", "built", "issued", "revision", "options"}; !slices.Equal(blanks, want) {
		t.Errorf("blanks %v, want %v", blanks, want)
	}
	s, findings := sheet.Read("new.yaml", text)
	var refused []string
	for _, f := range findings {
		if strings.Contains(f.Message, "nothing is written here") && !strings.HasSuffix(lineOf(text, f.Pos.Line), "# fill in") {
			t.Errorf("%s is not where the blank is: %q", f.Pos, lineOf(text, f.Pos.Line))
		}
		refused = append(refused, f.Path)
	}
	if s == nil || !slices.Equal(refused, blanks) {
		t.Errorf("refused %v, want the blanks %v", refused, blanks)
	}

	done := strings.Replace(fill(t, string(text)), "#- power-tilt", "- power-tilt", 1)
	done = strings.Replace(done, "#- deck-lock", "- deck-lock", 1)
	s, findings = sheet.Read("new.yaml", []byte(done))
	if len(findings) > 0 {
		t.Fatalf("%v\n%s", findings, done)
	}
	if _, findings = spec.Resolve(l, s); len(findings) > 0 {
		t.Errorf("%v\n%s", findings, done)
	}
	if len(s.Options) != 2 || s.Options[1].Value != "deck-lock" {
		t.Errorf("options %v", s.Options)
	}
}

func lineOf(text []byte, n int) string { return strings.Split(string(text), "\n")[n-1] }

// Every entry behind a # can be used by taking the # off, whatever the model.
func TestEveryUnusedEntryCanBeUsed(t *testing.T) {
	l := embedded(t)
	for _, m := range l.Models {
		text, _ := Form{Line: l, Model: m, Explains: true}.Write()
		used := regexp.MustCompile(`(?m)^( *)#([a-z-])`).ReplaceAllString(string(text), "$1$2")
		_, findings := sheet.Read("new.yaml", []byte(used))
		for _, f := range findings {
			// Blanks are all there is to find.
			if !strings.Contains(f.Message, "nothing is written here") {
				t.Errorf("%s: %s: %s", m.ID, f.Pos, f.Message)
			}
		}
		for _, o := range m.Options {
			if !strings.Contains(string(text), "\n#- "+o.Key+" # ") {
				t.Errorf("%s: option %s is not listed", m.ID, o.Key)
			}
		}
		if m.ID == "deck-28" && !strings.Contains(string(text), "# Of power-tilt, fixed-deck exactly one must be there.") {
			t.Errorf("deck-28 does not say that it has one deck\n%s", text)
		}
	}
}

func TestFormWithValues(t *testing.T) {
	l := embedded(t)
	text, blanks := Form{Line: l, Model: l.Model("tilt-20"), Values: map[string]string{"serial": "BW-1", "buyer.town": "Fennmark: north", "revision": "A"},
		Options: []string{"front-box"}, Chosen: true, Remarks: []string{"Internal:\n4711"}}.Write()
	want := `
# The vehicle identification number, 17 characters, as on the certification label.
# Positions 1 to 3 of this maker are 1B9, positions 4 to 8 of this model are TD202,
# positions 12 to 14 are 000.
vin: # fill in
model: tilt-20
`
	if !strings.Contains(string(text), want) {
		t.Errorf("got\n%s", text)
	}
	for _, want := range []string{"\nserial: BW-1\n", "\nrevision: A\noptions: [front-box]\nbuyer:\n", "\n  name: # fill in\n  town: \"Fennmark: north\"\n", "\n# Internal: 4711\n"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	if !slices.Contains(blanks, "buyer.name") || slices.Contains(blanks, "options") {
		t.Errorf("blanks %v", blanks)
	}
}

// Any text at all comes back from YAML as it went in, its marks composed, or is refused for what it
// holds; it never becomes another text or another entry.
func TestQuotedTextsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[-~ "'#:{}\[\],&*!|>%@\x60\\a0nul]{0,12}`)).Draw(t, "text")
		s, _ := sheet.Read("x.yaml", []byte("serial: A\nnotes: "+quoted(text)+"\n"))
		if s == nil {
			t.Fatalf("%q breaks the sheet", text)
		}
		if s.Notes.Value != source.Composed(text) {
			t.Fatalf("%q came back as %q", text, s.Notes.Value)
		}
	})
}
