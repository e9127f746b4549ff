package derive

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec/source"
)

// published holds figures from outside the project, each with its source. They
// are never produced by this code.
const published = "../../testdata/published"

// kinds works out what a check asks for. Each topic's test file adds its own.
var kinds = map[string]func(in []string) (string, error){}

type publishedFile struct {
	Topic  string           `yaml:"topic,required"`
	Checks []publishedCheck `yaml:"checks,required"`
}

type publishedCheck struct {
	What      source.Given[string] `yaml:"what,required"`
	Kind      string               `yaml:"kind,required"`
	In        []string             `yaml:"in,required"`
	Want      string               `yaml:"want,required"`
	Tolerance string               `yaml:"tolerance"` // in the unit of want, or of it in percent; exact text without one
	Source    string               `yaml:"source,required"`
	Known     string               `yaml:"known,required"` // read, computed, memory or practice
}

// elsewhere begins the kinds that another package's tests walk.
var elsewhere = []string{"vin.", "unit."}

// readPublished reads every file of published figures.
func readPublished(t *testing.T) (topics []publishedFile) {
	t.Helper()
	files, err := filepath.Glob(published + "/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no published figures in %s: %v", published, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		node, findings := source.Parse(file, data, source.SheetLimit)
		var topic publishedFile
		if node != nil {
			source.Decode(node, &topic, &findings)
		}
		for _, f := range findings.Sorted() {
			t.Errorf("%s: %s", f.Pos, f.Message)
		}
		topics = append(topics, topic)
	}
	return topics
}

// TestPublished walks every file of published figures.
func TestPublished(t *testing.T) {
	for _, topic := range readPublished(t) {
		for _, check := range topic.Checks {
			if slices.ContainsFunc(elsewhere, func(p string) bool { return strings.HasPrefix(check.Kind, p) }) {
				continue
			}
			t.Run(topic.Topic+"/"+check.What.Value, func(t *testing.T) { runPublished(t, check) })
		}
	}
}

// TestPublishedReach keeps the figures from outside from thinning out: enough of
// them, over enough of the trade. Turning units into each other proves little
// about a trailer, so only a few such checks count; two sources for one question
// count once, and what is merely remembered or usual does not count at all.
func TestPublishedReach(t *testing.T) {
	const least, leastTopics, conversions = 150, 15, 15
	count, converted := 0, 0
	topics := map[string]bool{}
	seen := map[string]bool{}
	for _, topic := range readPublished(t) {
		for _, c := range topic.Checks {
			id := c.Kind + " " + strings.Join(c.In, " ")
			switch {
			case strings.TrimSpace(c.Source) == "":
				t.Errorf("%s: no source", c.What.At)
			case seen[id] || c.Known == "memory" || c.Known == "practice":
			case strings.HasPrefix(c.Kind, "unit."):
				converted++
				topics[topic.Topic] = true
			default:
				count++
				topics[topic.Topic] = true
			}
			seen[id] = true
		}
	}
	if count += min(converted, conversions); count < least || len(topics) < leastTopics {
		t.Errorf("%d figures over %d topics; expected at least %d over %d", count, len(topics), least, leastTopics)
	}
	t.Logf("%d figures over %d topics, %d of them conversions", count, len(topics), min(converted, conversions))
}

func runPublished(t *testing.T, c publishedCheck) {
	if !slices.Contains([]string{"read", "computed", "memory", "practice"}, c.Known) || strings.TrimSpace(c.Source) == "" {
		t.Errorf("%s: known is %q, source %q", c.What.At, c.Known, c.Source)
	}
	answer := kinds[c.Kind]
	if c.Kind == "figure" {
		answer = func(in []string) (string, error) { return figureOfUnit(t, in) }
	}
	if answer == nil {
		t.Fatalf("%s: nothing answers the kind %q", c.What.At, c.Kind)
	}
	got, err := answer(c.In)
	switch {
	case err != nil:
		t.Fatalf("%s: %v", c.What.At, err)
	case near(got, c.Want, c.Tolerance):
	case c.Known == "memory":
		// A figure from memory is a prompt to look the standard up, no proof.
		t.Logf("%s: got %s, remembered %s (%s)", c.What.At, got, c.Want, c.Source)
	default:
		t.Errorf("%s: got %s, published %s (%s)", c.What.At, got, c.Want, c.Source)
	}
}

// near compares as text without a tolerance, else as numbers.
func near(got, want, tolerance string) bool {
	if tolerance == "" {
		return got == want
	}
	g, err1 := strconv.ParseFloat(got, 64)
	w, err2 := strconv.ParseFloat(want, 64)
	share, percent := strings.CutSuffix(tolerance, "%")
	off, err3 := strconv.ParseFloat(strings.TrimSpace(share), 64)
	if err1 != nil || err2 != nil || err3 != nil {
		return false
	}
	if percent {
		off *= math.Abs(w) / 100
	}
	return math.Abs(g-w) <= off*(1+1e-9)
}

// numbers reads the inputs of a check as plain numbers.
func numbers(in []string) ([]float64, error) {
	out := make([]float64, len(in))
	for i, s := range in {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return nil, err
		}
		out[i] = x
	}
	return out, nil
}

// numeric makes a kind of a function of plain numbers; n is how many it takes.
func numeric(n int, f func(x []float64) float64) func([]string) (string, error) {
	return func(in []string) (string, error) {
		x, err := numbers(in)
		if err != nil {
			return "", err
		}
		if len(x) != n {
			return "", strconv.ErrSyntax
		}
		return strconv.FormatFloat(f(x), 'g', -1, 64), nil
	}
}
