package spec

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

const deckVIN = "1B9GD2828VM000002"

// build reads the good sheet with entries put into it; deck-28 gets its own
// number.
func build(t *testing.T, entries ...string) *Build {
	t.Helper()
	text := first
	for _, entry := range entries {
		text = testenv.Edited(text, entry)
		if entry == "model: deck-28" {
			text = testenv.Edited(text, "vin: "+deckVIN)
		}
	}
	s, findings := sheet.Read("x.yaml", []byte(text))
	b, more := Resolve(loadSmall(t), s)
	for _, f := range append(findings, more...) {
		t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
	}
	if b == nil {
		t.FailNow()
	}
	return b
}

func features(b *Build) []string {
	var names []string
	for _, f := range b.features {
		names = append(names, f.Name)
	}
	return names
}

func TestFeatures(t *testing.T) {
	tests := []struct {
		name    string
		entries []string
		want    string
	}{
		{"as it comes", nil,
			"backing-plates ball-coupler braked bumper-pull controlled-brakes decked drum-brakes electric-brakes equalizers flat-deck flat-plug hubs-ported hubs-repack jack-crank leaf-springs market-us open-rear plain-nose studs-5 tandem-axle to-10000-lb torsion wheels-steel wide-80"},
		{"options bring and drop", []string{"options: [front-box, light-duty, spare]"},
			"backing-plates ball-coupler braked bumper-pull controlled-brakes decked drum-brakes electric-brakes equalizers flat-plug front-box full-tilt gravity-tilt hubs-ported hubs-repack jack-crank leaf-springs market-us plain-nose spare studs-5 tandem-axle tilting to-10000-lb torsion wheels-steel"},
		{"power tilt", []string{"model: deck-28", "options: [power-tilt, deck-lock]"},
			"agm-battery ball-coupler braked connector-seven-blade conspicuity controlled-brakes deck-lock decked deep-cycle-battery double-acting drum-brakes electric-brakes equalizers full-tilt gooseneck guard-range holding-valve hubs-repack hydraulics jack-crank jack-drop-leg jack-pair lead-battery leaf-springs length-30-ft manual-lowering market-us master-disconnect over-10000-lb pendant-corded power-tilt studs-8 tandem-axle tilting wheels-aluminum wide-80"},
		{"the sheet", []string{
			"delivered: 2026-11-30", "use: { distance_per_month: 900 mi, loads_per_week: 6, driven_already: 410 mi }", "revision: B",
			"measured: { empty_weight: 2100 lb, tongue_weight: 260 lb }", "buyer: { name: B }", "dealer: { name: D }", "notes: n",
			`fitted: { axles: [ { place: front, serial: A1 } ], tires: [ { place: left front, dot: "3426" }, { place: left rear, dot: "3426" }, { place: right front, dot: "3426" }, { place: right rear, dot: "3426" } ] }`,
			"added: [ { option: front-box, date: 2027-01-01 } ]"},
			"backing-plates ball-coupler braked bumper-pull buyer carrier-miles controlled-brakes dated dealer decked drum-brakes electric-brakes equalizers fitted-axles fitted-tires flat-deck flat-plug front-box hubs-ported hubs-repack jack-crank leaf-springs market-us measured measured-tongue notes open-rear plain-nose retrofitted revised studs-5 tandem-axle to-10000-lb torsion wheels-steel wide-80"},
		{"use without delivery", []string{"use: { distance_per_month: 900 mi, loads_per_week: 6 }"},
			"backing-plates ball-coupler braked bumper-pull controlled-brakes decked drum-brakes electric-brakes equalizers flat-deck flat-plug hubs-ported hubs-repack jack-crank leaf-springs market-us open-rear plain-nose studs-5 tandem-axle to-10000-lb torsion wheels-steel wide-80"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := build(t, tt.entries...)
			if got := strings.Join(features(b), " "); got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
			vocabulary := Vocabulary(b.Line)
			for _, f := range b.features {
				if !slices.Contains(vocabulary, f.Name) || f.From.Line == 0 || !b.Has(f.Name) {
					t.Errorf("feature %s comes from %s; in the vocabulary: %t", f.Name, f.From, slices.Contains(vocabulary, f.Name))
				}
			}
		})
	}
	if build(t).Has("gooseneck") {
		t.Error("a bumper pull is a gooseneck")
	}
}

// The limits of the law: 10,000 lb itself is not above 10,000 lb, but it is in
// the range of the rear guard; 80 in and 30 ft themselves are in.
func TestFeaturesAtTheLimits(t *testing.T) {
	tests := []struct{ gvwr, wide, long, want string }{
		{"9999 lb", "79.99 in", "29.99 ft", "to-10000-lb"},
		{"10000 lb", "80 in", "30 ft", "guard-range length-30-ft to-10000-lb wide-80"},
		{"10000.1 lb", "80 in", "30 ft", "conspicuity guard-range length-30-ft over-10000-lb wide-80"},
		{"4536 kg", "79.99 in", "29.99 ft", "guard-range over-10000-lb"}, // 10,000.17 lb
	}
	about := []string{"to-10000-lb", "over-10000-lb", "guard-range", "wide-80", "conspicuity", "length-30-ft"}
	for _, tt := range tests {
		b := build(t)
		m := *b.Model
		for text, into := range map[string]interface{ ParseScalar(string) error }{tt.gvwr: &m.GVWR.Value, tt.wide: &m.Overall.Wide.Value, tt.long: &m.Overall.Long.Value} {
			if err := into.ParseScalar(text); err != nil {
				t.Fatal(err)
			}
		}
		b.Model = &m
		b.features = b.gatherFeatures()
		got := slices.DeleteFunc(features(b), func(name string) bool { return !slices.Contains(about, name) })
		if strings.Join(got, " ") != tt.want {
			t.Errorf("%s, %s, %s: %v, want %s", tt.gvwr, tt.wide, tt.long, got, tt.want)
		}
	}
}

func TestParts(t *testing.T) {
	show := func(b *Build) string {
		var out []string
		for _, p := range b.parts {
			out = append(out, fmt.Sprintf("%s=%s:%s", p.Place, p.Kind, p.Component))
		}
		return strings.Join(out, " ")
	}
	const plain = "coupler=coupler:ball-2 jack=jack:jack-one axle-1=axle:axle-35 axle-2=axle:axle-plain tire=tire:tire-c wheel=wheel:wheel-5 connector=connector:plug-4"
	for _, tt := range []struct {
		options, want string
	}{
		{"[]", plain + " deck=deck:deck-flat holder=other:holder"},
		{"[spare, front-box]", plain + " deck=deck:deck-flat holder=other:holder box-front=box:box-front spare=spare:spare-mount"},
		{"[light-duty]", plain + " deck=deck:deck-tilt"},
	} {
		if got := show(build(t, "options: "+tt.options)); got != tt.want {
			t.Errorf("%s: got\n%s\nwant\n%s", tt.options, got, tt.want)
		}
	}
	b := build(t, "options: [light-duty, front-box]")
	deck, ok := First[*product.Deck](b)
	if !ok || deck.Data.Tilting.Value != 240 || deck.Fitting.At.X.Value != 48 || deck.Fitting.Size.Long.Value != 192 {
		t.Errorf("the deck put in the place of another: %+v", deck)
	}
	if got := deck.Fitting.From.String(); got != "small/models/tilt-20.yaml:42:14" {
		t.Errorf("it comes from %s", got)
	}
	box, _ := First[*product.Box](b)
	if box.Fitting.On != "right" || deck.Fitting.On != "both" {
		t.Errorf("box on %s, deck on %s", box.Fitting.On, deck.Fitting.On)
	}
	if _, ok := First[*product.Rack](b); ok || len(All[*product.Axle](b)) != 2 {
		t.Errorf("%d axles, a rack: %t", len(All[*product.Axle](b)), ok)
	}
}

func TestOptionsInTheOrderOfTheLine(t *testing.T) {
	b := build(t, "options: [spare, front-box]", "added: [ { option: winch-plate, date: 2027-01-01 } ]", "removed: [ { option: spare, date: 2027-01-01 } ]")
	var got []string
	for _, o := range b.options {
		got = append(got, fmt.Sprintf("%s@%d:%d %t", o.ID, o.At.Line, o.At.Column, o.Change != nil))
	}
	if want := "front-box@8:18 false, winch-plate@9:20 true"; strings.Join(got, ", ") != want {
		t.Errorf("got %s, want %s", strings.Join(got, ", "), want)
	}
}

func TestRatingsOfTheLabel(t *testing.T) {
	show := func(b *Build) string {
		var axles []string
		for _, r := range b.GAWR() {
			axles = append(axles, r.Text)
		}
		return fmt.Sprintf("%s (%s) %s", b.GVWR().Text, strings.Join(axles, ", "), b.Overall().Long.Text)
	}
	for _, tt := range []struct {
		entries []string
		want    string
	}{
		{nil, "6900 lb (3500 lb, 3500 lb) 20 ft"},
		{[]string{"options: [light-duty]"}, "2990 lb (3500 lb, 3500 lb) 19 ft"},
		{[]string{"model: deck-28", "options: [fixed-deck]"}, "15400 lb (8000 lb, 8000 lb) 30 ft"},
		{[]string{"model: deck-28", "options: [dual-wheels, fixed-deck]"}, "20000 lb (10000 lb, 10000 lb) 30 ft"},
	} {
		if got := show(build(t, tt.entries...)); got != tt.want {
			t.Errorf("%v: %s, want %s", tt.entries, got, tt.want)
		}
	}
}

// Options that change the label each know nothing of the others: whichever
// comes last, the height of the tallest and the rating of the weakest count.
func TestRatingsOfSeveralOptions(t *testing.T) {
	size := func(long, wide, high quantity.Length) *product.Size {
		given := func(l quantity.Length) length { return length{Value: l, Set: true} }
		return &product.Size{Long: given(long), Wide: given(wide), High: given(high)}
	}
	rated := func(m ...quantity.Mass) (all []mass) {
		for _, x := range m {
			all = append(all, mass{Value: x, Set: true})
		}
		return all
	}
	b := build(t)
	a := &product.Option{GVWR: rated(6000)[0], GAWR: rated(3000, 3500), Overall: size(250, 84, 90)}
	c := &product.Option{GVWR: rated(6500)[0], GAWR: rated(3200, 3100), Overall: size(230, 102, 40)}
	for _, options := range [][]*product.Option{{a, c}, {c, a}, {a, {}, c}} {
		b.options = nil
		for _, o := range options {
			b.options = append(b.options, ChosenOption{Option: o})
		}
		if got := b.GVWR().Value; got != 6000 {
			t.Errorf("gvwr %v", got)
		}
		if got := b.GAWR(); got[0].Value != 3000 || got[1].Value != 3100 {
			t.Errorf("gawr %v", got)
		}
		if got := b.Overall(); got != *size(250, 102, 90) {
			t.Errorf("overall %v", got)
		}
	}
	if b.Model.GAWR[0].Value != 3500 {
		t.Error("the model's own ratings are written over")
	}
}

func TestWheelWords(t *testing.T) {
	for _, tt := range []struct {
		entries []string
		want    string
	}{
		{nil, "left front, right front, left rear, right rear"},
		{[]string{"model: deck-28", "options: [dual-wheels, fixed-deck, spare]"},
			"left front outer, left front inner, right front outer, right front inner, left rear outer, left rear inner, right rear outer, right rear inner, spare"},
	} {
		if got := strings.Join(build(t, tt.entries...).wheelWords(), ", "); got != tt.want {
			t.Errorf("%v: %s, want %s", tt.entries, got, tt.want)
		}
	}
	b := build(t)
	axle := slices.IndexFunc(b.parts, func(f Fitting) bool { return f.Place == "axle-2" })
	b.parts = slices.Delete(b.parts, axle, axle+1)
	if got := fmt.Sprint(b.axleWords(), b.wheelWords()); got != "[single] [left right]" {
		t.Errorf("one axle: %s", got)
	}
}

// Both sides of a broken rule are named: the option's line in the sheet, and
// the rule's in the product line. Each mend mends.
func TestBrokenRules(t *testing.T) {
	line := loadSmall(t)
	tests := []struct{ model, options, want string }{
		{"tilt-20", "[winch-plate]",
			"x.yaml:8:11 option-requires winch-plate needs front-box: the plate bolts to the top of the box; small/models/tilt-20.yaml:28:19 the rule: the plate bolts to the top of the box; add front-box; remove winch-plate"},
		{"tilt-20", "[front-box, headboard, winch-plate]",
			"x.yaml:8:22 option-excludes headboard does not go with front-box: both take the room at the front; small/models/tilt-20.yaml:31:19 the rule: both take the room at the front; remove headboard"},
		{"deck-28", "[deck-lock, fixed-deck]",
			"x.yaml:8:11 option-requires deck-lock needs power-tilt: only a deck that tilts by power needs it; small/models/deck-28.yaml:23:20 the rule: only a deck that tilts by power needs it; remove deck-lock; add power-tilt, remove fixed-deck"},
		{"deck-28", "[fixed-deck, power-tilt]",
			"x.yaml:8:23 option-group only one of power-tilt, fixed-deck can be fitted, and the sheet has power-tilt and fixed-deck: the frame carries one deck; small/models/deck-28.yaml:34:21 the rule: the frame carries one deck; remove power-tilt; remove fixed-deck"},
		{"deck-28", "[spare]",
			"x.yaml:3:8 option-group deck-28 needs one of power-tilt, fixed-deck and has none: the frame carries one deck; small/models/deck-28.yaml:34:21 the rule: the frame carries one deck; add power-tilt; add fixed-deck"},
	}
	for _, tt := range tests {
		t.Run(tt.options, func(t *testing.T) {
			text := testenv.Edited(testenv.Edited(first, "model: "+tt.model), "options: "+tt.options)
			if tt.model == "deck-28" {
				text = testenv.Edited(text, "vin: "+deckVIN)
			}
			s, _ := sheet.Read("x.yaml", []byte(text))
			b, findings := Resolve(line, s)
			if b != nil || len(findings) != 1 {
				t.Fatalf("got %v, %v", b, findings)
			}
			f := findings[0]
			got := fmt.Sprintf("%s %s %s; %s %s", f.Pos, f.Code, f.Message, f.Related[0].Pos, f.Related[0].Message)
			for _, m := range f.Mends {
				got += "; " + m.String()
				s := mended(s, m)
				if b, findings := Resolve(line, s); b == nil || len(findings) > 0 {
					t.Errorf("after %s: %v", m, findings)
				}
			}
			if got != tt.want {
				t.Errorf("got\n%s\nwant\n%s", got, tt.want)
			}
		})
	}
}

// mended is the sheet with a mend's options changed.
func mended(s *sheet.Sheet, m source.Mend) *sheet.Sheet {
	changed := *s
	changed.Options = slices.DeleteFunc(slices.Clone(s.Options), func(o word) bool { return slices.Contains(m.Remove, o.Value) })
	for _, id := range m.Add {
		changed.Options = append(changed.Options, word{Value: id, Set: true})
	}
	return &changed
}

// What follows from another finding is not reported as well.
func TestBuildReportsCausesOnly(t *testing.T) {
	line := loadSmall(t)
	for _, tt := range []struct {
		entries []string
		codes   string
	}{
		{[]string{"options: [front-bxo, winch-plate]"}, "option-unknown"},
		{[]string{"model: tlit-20", "options: [nothing]"}, "model-unknown"},
		{[]string{"vin: 1B9TD2023VM000002"}, "vin-check-digit"},
		{[]string{"removed: [ { option: sapre, date: 2027-01-01 } ]"}, "option-unknown"},
		{[]string{"model_year: 1979", "built: 1980-01-01", "issued: 1980-01-02"}, "model-year"},
		{[]string{"model_year: twenty"}, ""}, // the reader of sheets reports it
		{[]string{"vin: 1Z9GD2825TM999003"}, "vin-maker vin-model vin-year"},
	} {
		text := first
		for _, e := range tt.entries {
			text = testenv.Edited(text, e)
		}
		s, _ := sheet.Read("x.yaml", []byte(text))
		_, findings := Resolve(line, s)
		var codes []string
		for _, f := range findings {
			codes = append(codes, f.Code)
		}
		if got := strings.Join(codes, " "); got != tt.codes {
			t.Errorf("%v: %s, want %s: %v", tt.entries, got, tt.codes, findings)
		}
	}
}

// A sheet of which nothing could be read, and one with nothing in it, do no harm.
func TestBuildOfAlmostNothing(t *testing.T) {
	for _, text := range []string{"a: b", "[]", "---\n", "model: tilt-20\n", "options: [1]\nadded: [2]\nremoved: [{}]\nfitted: { tires: [{}] }\nmodel: deck-28\n"} {
		s, findings := sheet.Read("x.yaml", []byte(text))
		if !findings.HasErrors() {
			t.Errorf("%q has no errors", text)
		}
		Resolve(loadSmall(t), s)
	}
}

// Two runs give the same build, whatever order maps come in.
func TestBuildIsRepeatable(t *testing.T) {
	a := build(t, "model: deck-28", "options: [deck-lock, power-tilt, spare]")
	for range 10 {
		b := build(t, "model: deck-28", "options: [deck-lock, power-tilt, spare]")
		if !reflect.DeepEqual(a.features, b.features) || !reflect.DeepEqual(a.parts, b.parts) {
			t.Fatal("two builds of one sheet differ")
		}
	}
}
