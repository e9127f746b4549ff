package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Worked out by hand: 15,400 lb are 6,985.32 kg, 3,500 lb 1,587.57 kg, 10 ft 3.048 m.
func TestOneFigureHasOneConversion(t *testing.T) {
	most, least := Rounding{Side: Down}, Rounding{Side: Up}
	feet := func(side Side, step float64) Rounding {
		return Rounding{Side: side, US: "ft", Metric: "m", MetricStep: step}
	}
	type figure struct {
		q Quantity
		r Rounding
	}
	tests := []struct {
		what    string
		figures []figure
		want    string // one for all figures, or one for each, with a bar between them
	}{
		{"at most", []figure{{Pounds(3500), most}}, "3,500 lb (1,587 kg)"},
		{"at least", []figure{{Pounds(15400), least}}, "15,400 lb (6,986 kg)"},
		{"neither", []figure{{Pounds(3500), Rounding{}}}, "3,500 lb (1,588 kg)"},
		{"at most, and neither", []figure{{Pounds(3500), Rounding{Stated: true}}, {Pounds(3500), most}}, "3,500 lb (1,587 kg)"},
		{"at least, and neither", []figure{{Pounds(15400), least}, {Pounds(15400), Rounding{}}}, "15,400 lb (6,986 kg)"},
		{"at most and at least", []figure{{Pounds(15400), most}, {Pounds(15400), least}, {Pounds(15400), Rounding{}}}, "15,400 lb (6,985 kg)|15,400 lb (6,986 kg)|15,400 lb (6,985 kg)"},
		{"at most and at least, nearer above", []figure{{Pounds(3500), least}, {Pounds(3500), most}, {Pounds(3500), Rounding{}}}, "3,500 lb (1,588 kg)|3,500 lb (1,587 kg)|3,500 lb (1,588 kg)"},
		{"at most and at least, exact in tenths", []figure{{Inches(102), most}, {Inches(102), least}}, "102 in (2,590.8 mm)"},
		{"at most and at least, exact", []figure{{Inches(100), most}, {Inches(100), least}}, "100 in (2,540 mm)"},
		{"two that print alike", []figure{{Pounds(3500.4), most}, {Pounds(3500.1), most}}, "3,500 lb (1,587 kg)"},
		{"coarse and fine", []figure{{Inches(120), feet(Up, 0.1)}, {Inches(120), feet(Up, 0.01)}}, "10 ft (3.05 m)"},
		{"coarse", []figure{{Inches(120), feet(Up, 0.1)}}, "10 ft (3.1 m)"},
		{"stated in the second unit", []figure{{Pounds(1000 / kgPerLb), Rounding{Side: Down, Stated: true}}, {Pounds(1000 / kgPerLb), most}, {Pounds(2204), least}, {Pounds(2204), Rounding{}}}, "2,204 lb (1,000 kg)"},
		{"stated in the second unit, and less", []figure{{Pounds(1000 / kgPerLb), Rounding{Side: Down, Stated: true}}, {Pounds(2204), most}}, "2,204 lb (1,000 kg)|2,204 lb (999 kg)"},
	}
	for _, test := range tests {
		c := NewConversions(US)
		for _, f := range test.figures {
			c.Add(f.q, f.r)
		}
		wants := strings.Split(test.want, "|")
		for i, f := range test.figures {
			want := wants[min(i, len(wants)-1)]
			if got := c.Text(English, f.q, f.r); got != want {
				t.Errorf("%s: %s rounded %s is %q, by hand %q", test.what, English.First(f.q, f.r), f.r.How(), got, want)
			}
		}
	}
	metric := NewConversions(Metric)
	metric.Add(Pounds(3500/kgPerLb), Rounding{Side: Up})
	metric.Add(Pounds(3500/kgPerLb), Rounding{Side: Down})
	for side, want := range map[Side]string{Down: "3 500 kg (7 716 lb)", Up: "3 500 kg (7 717 lb)", Nearest: "3 500 kg (7 716 lb)"} { // 7,716.18 lb
		if got := metric.Text(Print{System: Metric, Group: " "}, Pounds(3500/kgPerLb), Rounding{Side: side}); got != want {
			t.Errorf("metric first, %s: %q, by hand %q", side, got, want)
		}
	}
	height := Inches(1790 / 25.4)
	metric.Add(height, least)
	metric.Add(height, most)
	for side, want := range map[Side]string{Down: "1,790 mm (70 in)", Up: "1,790 mm (71 in)", Nearest: "1,790 mm (70 in)"} { // 70.47 in
		if got := metric.Text(Print{System: Metric, Group: ","}, height, Rounding{Side: side}); got != want {
			t.Errorf("metric first, %s: %q, by hand %q", side, got, want)
		}
	}
}

// The second figure follows from the first as printed, and never passes it to
// the unsafe side.
func TestSecondFigureKeepsToTheSideOfTheFirst(t *testing.T) {
	pair := regexp.MustCompile(`^(−?[0-9.]+) lb \((−?[0-9.]+) kg\)$`)
	number := func(text string) float64 {
		x, err := strconv.ParseFloat(strings.ReplaceAll(text, "−", "-"), 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	rapid.Check(t, func(t *rapid.T) {
		q := Pounds(rapid.OneOf(rapid.Float64Range(-50000, 50000), rapid.Map(rapid.IntRange(-50000, 50000), func(n int) float64 { return float64(n) })).Draw(t, "pounds"))
		step := rapid.SampledFrom([]float64{0.1, 1, 10, 100}).Draw(t, "step")
		stated := q.Base() == math.Trunc(q.Base()) && rapid.Bool().Draw(t, "stated") // in pounds
		for _, side := range []Side{Down, Up, Nearest} {
			text := (Print{Decimal: "."}).Text(q, Rounding{Side: side, Stated: stated, Step: step, MetricStep: step})
			m := pair.FindStringSubmatch(text)
			if m == nil {
				t.Fatalf("%q", text)
			}
			first, second := number(m[1]), number(m[2])
			exact := first * kgPerLb
			const noise = 1e-6
			if side == Down && second > exact+noise || side == Up && second < exact-noise || math.Abs(second-exact) > step+noise {
				t.Fatalf("%v pounds, %s in steps of %v: %s", q.Base(), side, step, text)
			}
		}
	})
}

// A fraction is another figure than its digits without the decimal sign.
func TestFractionsConvertByThemselves(t *testing.T) {
	c := NewConversions(US)
	c.Add(Inches(12.4), Rounding{Side: Down, MetricStep: 10})
	c.Add(Inches(1.2), Rounding{Side: Up, Step: 0.1})
	if got := c.Text(English, Inches(12.4), Rounding{Side: Down, MetricStep: 10}); got != "12 in (300 mm)" {
		t.Errorf("got %s", got)
	}
}
