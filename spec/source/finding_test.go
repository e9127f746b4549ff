package source

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"
)

var sample = Findings{
	Code{"b-note", Note, ""}.At(Pos{"b.yaml", 2, 1}, "later"),
	Code{"a-warning", Warning, ""}.At(Pos{"a.yaml", 10, 1}, "tenth line"),
	Code{"option-requires", Error, ""}.At(Pos{"a.yaml", 9, 3}, "winch-plate needs front-box: the plate bolts to the top of the box").
		WithRelated(Pos{"line.yaml", 4, 5}, "the rule").WithHint("order the box").WithHint("or leave the plate"),
	Code{"x", Error, ""}.At(Pos{File: "c.yaml"}, "the file as a whole"),
	Code{"a-warning", Warning, ""}.At(Pos{"a.yaml", 10, 1}, "tenth line"),
	Code{"y", Note, ""}.At(Pos{}, "nowhere"),
}

func init() {
	sample[2].Mends = []Mend{{Add: []string{"front-box"}}, {Add: []string{"a", "b"}, Remove: []string{"winch-plate"}}}
}

func TestWriteText(t *testing.T) {
	const want = `note: nowhere [y]
a.yaml:9:3: error: winch-plate needs front-box: the plate bolts to the top of the box [option-requires]
  line.yaml:4:5: the rule
  hint: order the box
  hint: or leave the plate
  mend: add front-box
  mend: add a and b, remove winch-plate
a.yaml:10:1: warning: tenth line [a-warning]
b.yaml:2:1: note: later [b-note]
c.yaml: error: the file as a whole [x]
`
	for range 3 { // in whatever order they come
		var b strings.Builder
		if err := sample.WriteText(&b); err != nil || b.String() != want {
			t.Errorf("got\n%s\nwant\n%s", b.String(), want)
		}
		slices.Reverse(sample)
	}
}

func TestHasErrors(t *testing.T) {
	if !sample.HasErrors() || (Findings{{Severity: Warning}, {Severity: Note}}).HasErrors() || (Findings{}).HasErrors() {
		t.Error("errors are not told from warnings and notes")
	}
}

func TestFindingJSON(t *testing.T) {
	i := slices.IndexFunc(sample, func(f Finding) bool { return f.Code == "option-requires" })
	for _, c := range []struct {
		f    Finding
		want string
	}{
		{sample[i], `{"severity":"error","code":"option-requires","file":"a.yaml","line":9,"column":3,` +
			`"message":"winch-plate needs front-box: the plate bolts to the top of the box",` +
			`"related":[{"file":"line.yaml","line":4,"column":5,"message":"the rule"}],"hints":["order the box","or leave the plate"],` +
			`"mends":[{"add":["front-box"],"remove":[]},{"add":["a","b"],"remove":["winch-plate"]}]}`},
		{Finding{Severity: Note, Code: "y", Path: "a.b"},
			`{"severity":"note","code":"y","file":"","line":0,"column":0,"message":"","path":"a.b","related":[],"hints":[],"mends":[]}`},
	} {
		got, err := json.Marshal(c.f)
		if err != nil || string(got) != c.want {
			t.Errorf("got\n%s\nwant\n%s\n%v", got, c.want, err)
		}
	}
}

// Findings that share a beginning must not write into each other's lists.
func TestWithLeavesTheOriginalAlone(t *testing.T) {
	base := Code{"x", Error, ""}.At(Pos{}, "m").WithHint("one").WithRelated(Pos{}, "one")
	base.Hints, base.Related = slices.Grow(base.Hints, 4), slices.Grow(base.Related, 4)
	a, b := base.WithHint("a").WithRelated(Pos{}, "a"), base.WithHint("b").WithRelated(Pos{}, "b")
	if a.Hints[1] != "a" || b.Hints[1] != "b" || a.Related[1].Message != "a" || b.Related[1].Message != "b" || len(base.Hints) != 1 {
		t.Errorf("got %v, %v, %v", a, b, base)
	}
}

func TestNearest(t *testing.T) {
	names := []string{"front-box", "winch-plate", "spare", "spade"}
	for name, want := range map[string]string{
		"front-bxo": "front-box", "frontbox": "front-box", "wnch-plate": "winch-plate", "spare": "spare",
		"spaxe": "spare", // as near to spade: the first of equals
		"spad":  "spade", "headboard": "", "": "", "x": "",
		"FRONT-BOX": "", "vin": "",
	} {
		if got, found := Nearest(name, names); got != want || found != (want != "") {
			t.Errorf("%q: %q, %t; want %q", name, got, found, want)
		}
	}
}

// Worked examples of the optimal string alignment distance; kitten and sitting
// is the textbook one.
func TestEditDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "abc", 3}, {"ab", "ba", 1}, {"ca", "abc", 3}, {"é", "e", 1}, {"same", "same", 0}} {
		if got := editDistance([]rune(c.a), []rune(c.b)); got != c.want {
			t.Errorf("%s, %s: %d, want %d", c.a, c.b, got, c.want)
		}
	}
}

func TestCodes(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Codes() {
		if c.ID == "" || c.Protects == "" || seen[c.ID] {
			t.Errorf("code %q protects %q", c.ID, c.Protects)
		}
		seen[c.ID] = true
	}
}
