package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"ownerguide/render/pdf"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/testenv"
	"ownerguide/spec/vin"
)

// loadedOnce is the embedded line with its templates, which no test changes.
var loadedOnce = sync.OnceValues(func() (*maker, error) {
	return (&commands{}).load(&terminal{out: io.Discard, err: io.Discard})
})

func loaded(t testing.TB) *maker {
	t.Helper()
	m, err := loadedOnce()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The card of every good sheet is one half sheet that holds the numbers of the
// unit, as an outside tool reads them.
func TestCardsHoldTheNumbers(t *testing.T) {
	testenv.Outside(t, "pdfinfo", "pdftotext")
	m := loaded(t)
	sheets := goodSheets(t)
	dir := demo.guides(t)
	dealers, braked := 0, 0
	for _, name := range sheets {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		u := m.read(sheetFile{name: name, data: data})
		if u.values == nil {
			t.Fatalf("%s has no values: %v", name, u.findings)
		}
		serial := u.sheet.Serial.Value
		t.Run(serial, func(t *testing.T) {
			card := filepath.Join(dir, serial, "card.pdf")
			info := testenv.Tool(t, "pdfinfo", card)
			pages, err := strconv.Atoi(regexp.MustCompile(`Pages: +([0-9]+)`).FindStringSubmatch(info)[1])
			if err != nil || pages > cardSides {
				t.Errorf("%d pages (%v)", pages, err)
			}
			if !strings.Contains(info, "396 x 612 pts") { // 5.5 by 8.5 in at 72 points an inch
				t.Errorf("not half a letter sheet:\n%s", info)
			}
			text := strings.Join(strings.Fields(testenv.Tool(t, "pdftotext", card, "-")), " ")
			names := []string{"tires.cold_pressure", "wheels.torque", "wheels.sequence", "hitch.ball", "weights.cargo_capacity",
				"weights.empty", "ratings.gvwr", "hitch.tongue_range.full.low", "hitch.tongue_range.full.high"}
			for _, optional := range []string{"hydraulics.fluid", "breakaway.hold_least", "electrical.fuse.pump", "electrical.fuse.winch",
				"electrical.fuse.charger", "electrical.fuse.brakes", "electrical.fuse.lamps"} {
				if _, ok := u.values.Lookup(optional); ok {
					names = append(names, optional)
				}
			}
			for _, name := range names {
				value, ok := u.values.Lookup(name)
				if !ok {
					t.Errorf("there is no %s", name)
					continue
				}
				v := value.Print(quantity.English)
				if !strings.Contains(text, strings.Join(strings.Fields(v), " ")) {
					t.Errorf("%s, %q, is not on the card", name, v)
				}
			}
			if dealer := u.sheet.Dealer; dealer != nil {
				dealers++
				if !strings.Contains(text, dealer.Phone.Value) {
					t.Errorf("the dealer's phone %s is not on the card", dealer.Phone.Value)
				}
			}
			if u.build.Has("braked") {
				braked++
				if !strings.Contains(text, "It is no parking brake") {
					t.Error("the card does not say what the breakaway is not")
				}
			}
			if !strings.Contains(text, m.line.Maker.Phone.Value) || !strings.Contains(text, serial) {
				t.Error("the maker's phone or the serial number is missing")
			}
		})
	}
	if dealers == 0 || braked == 0 {
		t.Errorf("%d sheets with a dealer, %d with brakes", dealers, braked)
	}
}

// The fullest units that can be ordered have the longest cards.
func TestFullestCardsFit(t *testing.T) {
	m := loaded(t)
	tried := 0
	for _, model := range m.line.Models {
		var orders [][]string
		m.line.Problem(model).Each(-1, func(options []string) bool {
			orders = append(orders, slices.Clone(options))
			return true
		})
		most := 0
		for _, o := range orders {
			most = max(most, len(o))
		}
		for _, o := range orders {
			if len(o) < most {
				continue
			}
			tried++
			u := m.read(sheetFile{name: "full.yaml", data: []byte(fullSheet(t, m.line, model, o))})
			m.assemble(u)
			if u.findings.HasErrors() || u.guide == nil {
				t.Errorf("%s %v: %v", model.ID, o, u.findings)
				continue
			}
			for _, paper := range []pdf.Paper{pdf.HalfLetter, pdf.A5} {
				if r, err := pdf.Measure(u.guide.Card, pdf.Options{Paper: paper}); err != nil || r.Pages > cardSides {
					t.Errorf("%s %v: %d pages of %s, %v", model.ID, o, r.Pages, paper, err)
				}
			}
		}
	}
	if tried < len(m.line.Models) {
		t.Errorf("only %d units", tried)
	}
}

// fullSheet is a sheet with all that makes a card longer.
func fullSheet(t *testing.T, l *product.Line, model *product.Model, options []string) string {
	t.Helper()
	number := l.Maker.WMI.Value + model.VINCode.Value + "0VM" + l.Maker.Small.Value + "901"
	digit, err := vin.CheckDigit(number)
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf(`serial: BW-27-MOST-1
vin: %s
model: %s
model_year: 2027
built: 2026-11-12
issued: 2026-11-20
revision: A
options: [%s]
dealer: { name: The Example Trailer Sales and Service Company of Exampleton, town: Exampleton, phone: 555-0118, email: sales@example.com }
`, number[:8]+string(digit)+number[9:], model.ID, strings.Join(options, ", "))
}

// A card that would run on to a third side stops the unit, already when it is
// only checked, and names the section.
func TestLongCardIsRefused(t *testing.T) {
	templates := t.TempDir()
	section := filepath.Join(templates, "en", "sections", "card-more.md")
	if err := os.MkdirAll(filepath.Dir(section), 0o755); err != nil {
		t.Fatal(err)
	}
	text := "---\ntitle: More\nplace: 80190\nin: road\ncard: only\n---\n" + strings.Repeat("More words.\n\n", 3)
	if err := os.WriteFile(section, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, stderr := program(t, "check", "--templates", templates, "../../testdata/sheets/BW-27-0118.yaml")
	if code != exitErrors || !strings.Contains(out, "card-more.md:2:8: error: the card of BW-27-0118 takes 3 pages; expected at most 2 [card-too-long]") {
		t.Errorf("exit %d\n%s%s", code, out, stderr)
	}
}

// What is on the card is read at arm's length: above the foot nothing is smaller
// than 9 points, running text at least 10, and the numbers are bold and at least
// 14. The sizes are this project's own; an outside tool reads them from the file.
func TestCardIsLarge(t *testing.T) {
	testenv.Outside(t, "mutool")
	dir := demo.guides(t)
	cards, _ := filepath.Glob(filepath.Join(dir, "*", "card.pdf"))
	if len(cards) == 0 {
		t.Fatal("no card was written")
	}
	line := regexp.MustCompile(`(?s)<line bbox="[0-9.]+ ([0-9.]+) .*?</line>`)
	font := regexp.MustCompile(`<font name="([^"]+)" size="([0-9.]+)"`)
	for _, card := range cards {
		page := testenv.Tool(t, "mutool", "draw", "-q", "-N", "-F", "stext", "-o", "-", card)
		numbers, texts := 0, 0
		for _, m := range line.FindAllStringSubmatch(page, -1) {
			top, err := strconv.ParseFloat(m[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			if top > 612-52 { // the foot: serial, revision, page and the maker's notice
				continue
			}
			for _, f := range font.FindAllStringSubmatch(m[0], -1) {
				points, err := strconv.ParseFloat(f[2], 64)
				switch {
				case err != nil || points < 9:
					t.Errorf("%s: type of %s points at %g", card, f[2], top)
				case points >= 14 && strings.Contains(f[1], "bold"):
					numbers++
				case points >= 10:
					texts++
				}
			}
		}
		if numbers < 12 || texts < 15 {
			t.Errorf("%s: %d numbers in large type, %d lines of text", card, numbers, texts)
		}
	}
}
