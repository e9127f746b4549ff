package draw

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/logic"
	"ownerguide/spec/sheet"
	"ownerguide/spec/testenv"
)

// TestRandomOrders draws every picture of units ordered at random, more of them in the heavy tier: what can be
// ordered can be drawn, and every stop of its walk-around finds its part.
func TestRandomOrders(t *testing.T) {
	products := embedded(t)
	orders := 8
	if testenv.IsHeavy() {
		orders = 60
	}
	r := rand.New(rand.NewPCG(5, 6))
	drawn := 0
	for _, model := range products.Models {
		data := sheetOf(t, model.ID)
		for n := range orders {
			var options []string
			for _, o := range model.Options {
				if r.IntN(100) < 20+60*n/orders {
					options = append(options, o.Key)
				}
			}
			ordered := withOptions(data, options)
			s, findings := sheet.Read("order.yaml", ordered)
			if s == nil || findings.HasErrors() {
				t.Fatal(findings)
			}
			if build, findings := spec.Resolve(products, s); build == nil || findings.HasErrors() {
				continue // cannot be ordered
			}
			t.Run(fmt.Sprintf("%s %v", model.ID, options), func(t *testing.T) { drawAll(t, unitOf(t, "order.yaml", ordered)) })
			drawn++
		}
	}
	if drawn < orders {
		t.Errorf("only %d of the units tried can be ordered; the test proves little", drawn)
	}
}

func drawAll(t *testing.T, s *Subject) {
	for _, id := range IDs() {
		condition, err := logic.ParseCondition(drawnFor[id])
		if drawnFor[id] != "" && (err != nil || !condition.Holds(s.Build.Has)) {
			continue
		}
		d, _, err := Draw(id, *s)
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		checkSheet(t, id, d, 480, 11)
		checkColumn(t, id, s)
	}
}

// sheetOf returns the first sheet of a model.
func sheetOf(t *testing.T, model string) []byte {
	t.Helper()
	files, err := filepath.Glob(sheets + "/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(data), "\nmodel: "+model) {
			return data
		}
	}
	t.Fatalf("no sheet of model %s", model)
	return nil
}

var (
	listedOptions  = regexp.MustCompile(`(?m)^options:.*\n(?:[ -].*\n)*`)
	whatFollowsUse = regexp.MustCompile(`(?m)^(?:measured|added|removed|fitted):.*\n(?:[ -].*\n)*`)
)

// withOptions rewrites a sheet for other options, without what was weighed,
// changed or fitted on the unit it was written for.
func withOptions(data []byte, options []string) []byte {
	text := listedOptions.ReplaceAllString(string(data), "")
	text = whatFollowsUse.ReplaceAllString(text, "")
	return []byte(text + "\noptions: [" + strings.Join(options, ", ") + "]\n")
}
