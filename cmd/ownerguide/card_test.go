package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/pdf"
	"ownerguide/render/pdf/pdftest"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/testenv"
	"ownerguide/spec/vin"
)

// loadedOnce is the embedded line with its templates, which no test changes.
var loadedOnce = sync.OnceValues(func() (*guide.Maker, error) {
	return (&commands{}).load(terminal.New(io.Discard, io.Discard))
})

func loaded(t testing.TB) *guide.Maker {
	t.Helper()
	m, err := loadedOnce()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// printedCard is what somebody reads of a card.
type printedCard struct {
	pages         int
	width, height float64 // points
	text          string
}

func readCard(t *testing.T, name string) (c printedCard) {
	var texts []string
	for _, p := range readPDF(t, name).Pages() {
		c.pages, c.width, c.height = c.pages+1, p.Width, p.Height
		texts = append(texts, p.Text(nil))
	}
	c.text = strings.Join(texts, "\n")
	return c
}

// readCardOutside asks programs from outside.
func readCardOutside(t *testing.T, name string) (c printedCard) {
	info := testenv.Tool(t, "pdfinfo", name)
	m := regexp.MustCompile(`Pages: +([0-9]+)(?s:.*)Page size: +([0-9.]+) x ([0-9.]+) pts`).FindStringSubmatch(info)
	if m == nil {
		t.Fatal(info)
	}
	for i, to := range []any{&c.pages, &c.width, &c.height} {
		if _, err := fmt.Sscan(m[i+1], to); err != nil {
			t.Fatal(err)
		}
	}
	c.text = testenv.Tool(t, "pdftotext", name, "-")
	return c
}

func TestCardsHoldTheNumbers(t *testing.T) { checkCards(t, readCard) }

func TestCardsHoldTheNumbersOutside(t *testing.T) {
	testenv.Outside(t, "pdfinfo", "pdftotext")
	checkCards(t, readCardOutside)
}

// The card of every good sheet is one half sheet that holds the numbers of the unit.
func checkCards(t *testing.T, read func(*testing.T, string) printedCard) {
	m := loaded(t)
	sheets, dir := demoSheets(), demo.guides(t)
	dealers, braked := 0, 0
	for _, name := range sheets {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		u := m.Read(input.SheetFile{Name: name, Data: data})
		if u.Values == nil {
			t.Fatalf("%s has no values: %v", name, u.Findings)
		}
		serial := u.Sheet.Serial.Value
		t.Run(serial, func(t *testing.T) {
			card := read(t, filepath.Join(dir, serial, "card.pdf"))
			if card.pages < 1 || card.pages > guide.Sides {
				t.Errorf("%d pages", card.pages)
			}
			if card.width != 396 || card.height != 612 { // 5.5 by 8.5 in at 72 points an inch
				t.Errorf("%g by %g points are not half a letter sheet", card.width, card.height)
			}
			text := strings.Join(strings.Fields(card.text), " ")
			names := []string{"tires.cold_pressure", "wheels.torque", "wheels.sequence", "weights.cargo_capacity",
				"weights.empty", "ratings.gvwr", "hitch.tongue_range.full.low", "hitch.tongue_range.full.high"}
			switch {
			case u.Build.Has("pintle"):
				names = append(names, "hitch.ring")
			case u.Build.Has("kingpin"):
				names = append(names, "hitch.kingpin")
			default:
				names = append(names, "hitch.ball")
			}
			for _, optional := range []string{"hydraulics.fluid", "breakaway.hold_least", "jack.lift", "electrical.fuse.pump", "electrical.fuse.winch",
				"electrical.fuse.charger", "electrical.fuse.brakes", "electrical.fuse.lamps"} {
				// How long the lever of a surge brake holds is nobody's rating.
				if _, ok := u.Values.Lookup(optional); ok && !(optional == "breakaway.hold_least" && u.Build.Has("surge-brakes")) {
					names = append(names, optional)
				}
			}
			for _, name := range names {
				value, ok := u.Values.Lookup(name)
				if !ok {
					t.Errorf("there is no %s", name)
					continue
				}
				v := value.Print(quantity.English)
				if !strings.Contains(text, strings.Join(strings.Fields(v), " ")) {
					t.Errorf("%s, %q, is not on the card", name, v)
				}
			}
			for _, v := range u.Values.Plan.Visits[:min(2, len(u.Values.Plan.Visits))] {
				if day := v.Date.Time().Format("Jan 2, 2006"); !strings.Contains(text, day) {
					t.Errorf("the visit of %s is not on the card", day)
				}
			}
			if dealer := u.Sheet.Dealer; dealer != nil {
				dealers++
				if !strings.Contains(text, dealer.Phone.Value) {
					t.Errorf("the dealer's phone %s is not on the card", dealer.Phone.Value)
				}
			}
			if u.Build.Has("braked") {
				braked++
				if !strings.Contains(text, "It is no parking brake") && !strings.Contains(text, "The lever is no parking brake") {
					t.Error("the card does not say what the breakaway is not")
				}
			}
			if !strings.Contains(text, m.Line.Maker.Phone.Value) || !strings.Contains(text, serial) {
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
	for _, model := range m.Line.Models {
		var orders [][]string
		m.Line.Problem(model).Each(-1, func(options []string) bool {
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
			u := m.Read(input.SheetFile{Name: "full.yaml", Data: []byte(fullSheet(t, m.Line, model, o))})
			m.Assemble(u, nil)
			if u.Findings.HasErrors() || u.Guide == nil {
				t.Errorf("%s %v: %v", model.ID, o, u.Findings)
				continue
			}
			for _, d := range guide.Companions {
				for _, paper := range []pdf.Paper{pdf.Letter, pdf.A4} {
					if r, err := pdf.Measure(d.Of(u.Guide), pdf.Options{Paper: d.Paper(paper)}); err != nil || r.Pages > guide.Sides {
						t.Errorf("%s %v: %s of %d pages of %s, %v", model.ID, o, d.Name, r.Pages, paper, err)
					}
				}
			}
		}
	}
	if tried < len(m.Line.Models) {
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
	text := "---\ntitle: More\n---\n" + strings.Repeat("More words.\n\n", 3)
	if err := os.WriteFile(section, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(templates, "outline.yaml"), []byte("- { id: card-more, in: road, card: only }\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, stderr := program(t, "check", "--templates", templates, "../../testdata/sheets/BW-27-0118.yaml")
	if code != exitErrors || !strings.Contains(out, "card-more.md:2:8: error: the card of BW-27-0118 takes 3 pages; expected at most 2 [too-many-sides]") {
		t.Errorf("exit %d\n%s%s", code, out, stderr)
	}
}

// What is on the card is read at arm's length: above the foot nothing is smaller
// than 9 points, running text at least 10, and the numbers are bold and at least
// 14. The sizes are this project's own.
func TestCardIsLarge(t *testing.T) {
	checkCardType(t, func(t *testing.T, card string) (found []pdftest.Run) {
		for _, p := range readPDF(t, card).Pages() {
			found = append(found, p.Runs...)
		}
		return found
	})
}

func TestCardIsLargeOutside(t *testing.T) {
	testenv.Outside(t, "mutool")
	line := regexp.MustCompile(`(?s)<line bbox="[0-9.]+ ([0-9.]+) .*?</line>`)
	font := regexp.MustCompile(`<font name="([^"]+)" size="([0-9.]+)"`)
	checkCardType(t, func(t *testing.T, card string) (found []pdftest.Run) {
		page := testenv.Tool(t, "mutool", "draw", "-q", "-N", "-F", "stext", "-o", "-", card)
		for _, m := range line.FindAllStringSubmatch(page, -1) {
			for _, f := range font.FindAllStringSubmatch(m[0], -1) {
				r := pdftest.Run{Font: f[1]}
				if _, err := fmt.Sscan(m[1]+" "+f[2], &r.Top, &r.Size); err != nil {
					t.Fatal(err)
				}
				found = append(found, r)
			}
		}
		return found
	})
}

func checkCardType(t *testing.T, read func(*testing.T, string) []pdftest.Run) {
	dir := demo.guides(t)
	cards, _ := filepath.Glob(filepath.Join(dir, "*", "card.pdf"))
	if len(cards) == 0 {
		t.Fatal("no card was written")
	}
	for _, card := range cards {
		numbers, texts := 0, 0
		for _, r := range read(t, card) {
			if r.Top > 612-52 { // the foot: serial, revision, page and the maker's notice
				continue
			}
			switch {
			case r.Size < 9:
				t.Errorf("%s: type of %g points at %g", card, r.Size, r.Top)
			case r.Size >= 14 && strings.Contains(strings.ToLower(r.Font), "bold"):
				numbers++
			case r.Size >= 10:
				texts++
			}
		}
		if numbers < 12 || texts < 15 {
			t.Errorf("%s: %d numbers in large type, %d lines of text", card, numbers, texts)
		}
	}
}
