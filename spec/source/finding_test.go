package source

import (
	"encoding/json"
	"fmt"
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

// What is the same for many units is said once, with the units; what has to be
// mended in a few sheets is told sheet by sheet.
func TestWriteTextByUnit(t *testing.T) {
	var all Findings
	for _, unit := range []string{"U-1", "U-2", "U-3", "U-4", "U-5", "U-6", "U-7", "U-8"} {
		sheet := Pos{unit + ".yaml", 3, 8}
		all.Add(Findings{
			Code{"of-line", Warning, ""}.At(Pos{"line/a.yaml", 5, 1}, "soon worn").WithHint("renew it"),
			Code{"no-place", Note, ""}.At(Pos{}, "something of %s", unit),
			Code{"each", Note, ""}.At(Pos{unit + ".yaml", 9, 1}, "a tire is not listed"),
			Code{"grave", Error, ""}.At(Pos{unit + ".yaml", 7, 2}, "no such thing"),
		}.About(unit, sheet)...)
	}
	for _, unit := range []string{"U-1", "U-2"} {
		all.Add(Findings{Code{"few", Warning, ""}.At(Pos{unit + ".yaml", 4, 1}, "odd")}.About(unit, Pos{unit + ".yaml", 3, 8})...)
	}
	const want = `U-1.yaml:3:8: note: something of U-1 [no-place] (U-1)
U-1.yaml:4:1: warning: odd [few] (U-1)
U-1.yaml:7:2: error: no such thing [grave] (U-1)
  also: U-2.yaml:7:2 (U-2), U-3.yaml:7:2 (U-3), U-4.yaml:7:2 (U-4), U-5.yaml:7:2 (U-5), U-6.yaml:7:2 (U-6), U-7.yaml:7:2 (U-7), U-8.yaml:7:2 (U-8)
U-1.yaml:9:1: note: a tire is not listed [each] (U-1)
  also: U-2.yaml:9:1 (U-2), U-3.yaml:9:1 (U-3), U-4.yaml:9:1 (U-4), U-5.yaml:9:1 (U-5), U-6.yaml:9:1 (U-6) and 2 more
U-2.yaml:3:8: note: something of U-2 [no-place] (U-2)
U-2.yaml:4:1: warning: odd [few] (U-2)
U-3.yaml:3:8: note: something of U-3 [no-place] (U-3)
U-4.yaml:3:8: note: something of U-4 [no-place] (U-4)
U-5.yaml:3:8: note: something of U-5 [no-place] (U-5)
U-6.yaml:3:8: note: something of U-6 [no-place] (U-6)
U-7.yaml:3:8: note: something of U-7 [no-place] (U-7)
U-8.yaml:3:8: note: something of U-8 [no-place] (U-8)
line/a.yaml:5:1: warning: soon worn [of-line] (U-1, U-2, U-3, U-4, U-5 and 3 more)
  hint: renew it
`
	slices.Reverse(all)
	var b strings.Builder
	if err := all.WriteText(&b); err != nil || b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
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
		{Findings{Code{"of-line", Warning, ""}.At(Pos{"line/a.yaml", 5, 1}, "soon worn")}.About("U-1", Pos{"u.yaml", 3, 8})[0],
			`{"severity":"warning","code":"of-line","unit":"U-1","file":"u.yaml","line":3,"column":8,"message":"soon worn",` +
				`"related":[{"file":"line/a.yaml","line":5,"column":1,"message":"here"}],"hints":[],"mends":[]}`},
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
		steps := nearestSteps
		for limit := 1; limit < 6; limit++ {
			if got := editDistance([]rune(c.a), []rune(c.b), limit, &steps); got != min(limit, c.want) {
				t.Errorf("%s, %s below %d: %d, want %d", c.a, c.b, limit, got, c.want)
			}
		}
	}
}

// A thousand names are looked through; thousands of long ones are not, whatever
// stands among them.
func TestNearestEnds(t *testing.T) {
	var usual, long []string
	for i := range 1000 {
		usual = append(usual, fmt.Sprintf("part-%d-left", i))
		for j := range 5 {
			long = append(long, fmt.Sprintf("%s-%d-%d", strings.Repeat("ab", 25), i, j))
		}
	}
	if got, _ := Nearest("part-777-lfet", usual); got != "part-777-left" {
		t.Errorf("among a thousand: %q", got)
	}
	if got, found := Nearest(strings.Repeat("ba", 25), long); found {
		t.Errorf("among thousands of long ones: %q", got)
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
