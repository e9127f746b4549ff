package derive

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec/quantity"
	"ownerguide/spec/testenv"
)

// Formulas at generated inputs against GNU units (Debian package units), which
// reckons with units throughout: a factor of 12, 231 or 60 that is wrong or
// missing here shows there, as a wrong dimension or a wrong figure.
func TestFormulasAgainstGNUUnits(t *testing.T) {
	testenv.Outside(t, "units")
	random := rand.New(rand.NewPCG(26, 11))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	var input strings.Builder
	var got []float64
	var asked []string
	ask := func(ours float64, want, format string, args ...any) {
		question := fmt.Sprintf(format, args...)
		fmt.Fprintf(&input, "%s\n%s\n", question, want)
		got, asked = append(got, ours), append(asked, question+" in "+want)
	}
	for range 200 {
		bore, stroke, psi, force := between(1, 6), between(5, 80), between(500, 3500), between(500, 60000)
		area := boreArea(quantity.Inches(bore))
		ask(float64(area), "inch^2", "pi*(%.17g inch)^2/4", bore)
		ask(float64(pushForce(quantity.PSI(psi), area)), "lbf", "%.17g psi*pi*(%.17g inch)^2/4", psi, bore)
		ask(float64(pressureFor(quantity.Pounds(force), area)), "psi", "(%.17g lbf)/(pi*(%.17g inch)^2/4)", force, bore)
		ask(float64(swept(area, quantity.Inches(stroke))), "gallon", "%.17g inch*pi*(%.17g inch)^2/4", stroke, bore)

		gauge, feet, amperes := random.IntN(24), between(5, 50), between(1, 200)
		ask(float64(wireDiameter(gauge)), "inch", "wiregauge(%d)", gauge)
		ask(float64(wireDrop(gauge, quantity.Inches(12*feet), quantity.Current(amperes))), "percent",
			"%.17g A*(1/58) ohm*mm^2/m*2*%.17g ft/(pi*wiregauge(%d)^2/4)/(12 V)", amperes, feet, gauge)

		charge, current := between(20, 220), between(2, 25)
		ask(float64(rechargeTime(quantity.Charge(charge), quantity.Current(current), chemistries["flooded"].stores)), "minute", "%.17g A*hour/(%.17g A)/0.85", charge, current)
		cargo, density, long, wide := between(1000, 12000), between(40, 140), between(90, 180), between(60, 90)
		ask(float64(fillDepth(quantity.Mass(cargo), quantity.Density(density), quantity.Inches(long), quantity.Inches(wide))), "inch",
			"%.17g lb/(%.17g lb/ft^3)/(%.17g inch)/(%.17g inch)", cargo, density, long, wide)
		magnets, each := 2*(1+random.IntN(3)), between(2, 5)
		ask(float64(brakesDraw(magnets, quantity.Resistance(each))), "A", "%d*12 V/(%.17g ohm)", magnets, each)
	}
	answers := testenv.Lines(t, input.String(), "units", "--quiet", "--terse", "--output-format", "%.17g")
	if len(answers) != len(asked) {
		t.Fatalf("%d answers to %d questions", len(answers), len(asked))
	}
	for i, question := range asked {
		want, err := strconv.ParseFloat(answers[i], 64)
		if err != nil || math.Abs(got[i]-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%s: %.12g here, GNU units says %s", question, got[i], answers[i])
		}
	}
	t.Logf("%d figures", len(asked))
}

// Weeks of tire date codes against Python's calendar. Its %U counts weeks from
// the year's first Sunday, as 49 CFR 574.5(b)(3) does.
func TestDateCodesAgainstPython(t *testing.T) {
	testenv.Outside(t, "python3")
	const weeks = `
import sys, datetime
for line in sys.stdin:
    year = int(line)
    d = datetime.date(year, 1, 1)
    while d.year == year:
        if d.weekday() == 6 and d.year == year:
            print(d.strftime("%U%y"), d.isoformat())
        d += datetime.timedelta(days=1)
`
	var input strings.Builder
	for year := 2000; year < 2060; year++ {
		fmt.Fprintln(&input, year)
	}
	known := map[string]string{}
	for _, line := range testenv.Lines(t, input.String(), "python3", "-c", weeks) {
		code, day, _ := strings.Cut(line, " ")
		known[code] = day
	}
	for year := range 60 {
		for week := range 60 {
			code := fmt.Sprintf("%02d%02d", week, year)
			day, err := dateCode(code)
			switch want, exists := known[code]; {
			case exists && (err != nil || day.String() != want):
				t.Errorf("%s is %s (%v), Python says %s", code, day, err, want)
			case !exists && err == nil:
				t.Errorf("%s is %s, Python knows no such week", code, day)
			}
		}
	}
}
