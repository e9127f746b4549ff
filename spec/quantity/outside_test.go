package quantity

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// gnu is how GNU units (Debian package units) spells our symbols.
var gnu = map[string]string{
	"lb": "lb", "kg": "kg", "t": "tonne", "in": "inch", "ft": "ft", "mm": "mm", "cm": "cm", "m": "m", "mi": "mile", "km": "km",
	"psi": "psi", "kPa": "kPa", "bar": "bar", "lb-ft": "lbf*ft", "N·m": "N*m", "Nm": "N*m", "gal": "gallon", "qt": "quart", "L": "liter", "in³": "inch^3",
	"gpm": "gallon/minute", "L/min": "liter/minute", "A": "A", "V": "V", "Ah": "A*hour", "ohm": "ohm", "min": "minute", "h": "hour", "s": "second",
	"deg": "degree", "°": "degree", "percent": "percent", "%": "percent", "in²": "inch^2", "mm²": "mm^2", "cm²": "cm^2",
	"lb/ft³": "lb/ft^3", "kg/m³": "kg/m^3", "mm²/s": "mm^2/s", "cSt": "centistokes", "mph": "mile/hour", "km/h": "km/hour", "°F difference": "degF", "°C difference": "degC",
}

// Every unit turned into every other of its dimension, at generated figures,
// agrees with GNU units, which has its own table of definitions.
func TestUnitsAgainstGNUUnits(t *testing.T) {
	testenv.Outside(t, "units")
	type question struct {
		x        float64
		from, to unit
	}
	random := rand.New(rand.NewPCG(20, 26))
	var asked []question
	var input strings.Builder
	for _, from := range units {
		for _, to := range units {
			if from.dim != to.dim || from.dim == DimCount {
				continue
			}
			for range 20 {
				q := question{math.Pow(10, 7*random.Float64()-2), from, to}
				have, want := fmt.Sprintf("%.17g %s", q.x, gnu[from.symbol]), gnu[to.symbol]
				if from.dim == DimTemperature {
					q.x = 400*random.Float64() - 100
					name := map[string]string{"°F": "tempF", "°C": "tempC"}
					have, want = fmt.Sprintf("%s(%.17g)", name[from.symbol], q.x), name[to.symbol]
				}
				if want == "" {
					t.Fatalf("no GNU spelling of %q", to.symbol)
				}
				asked = append(asked, q)
				fmt.Fprintf(&input, "%s\n%s\n", have, want)
			}
		}
	}
	answers := testenv.Lines(t, input.String(), "units", "--quiet", "--terse", "--output-format", "%.17g")
	if len(answers) != len(asked) {
		t.Fatalf("%d answers to %d questions", len(answers), len(asked))
	}
	for i, q := range asked {
		want, err := strconv.ParseFloat(answers[i], 64)
		if err != nil {
			t.Fatalf("%g %s in %s: %q", q.x, q.from.symbol, q.to.symbol, answers[i])
		}
		got := q.to.fromBase(q.from.toBase(q.x))
		if math.Abs(got-want) > 1e-9*math.Max(1, math.Abs(want)) {
			t.Errorf("%g %s is %.12g %s, GNU units says %.12g", q.x, q.from.symbol, got, q.to.symbol, want)
		}
	}
	t.Logf("%d conversions", len(asked))
}

// months asks Python's own calendar: the month after so many, its last day
// where the month is shorter; and the days between two dates.
const months = `
import sys, calendar, datetime
for line in sys.stdin:
    y, m, d, n, k = map(int, line.split())
    a = datetime.date(y, m, d)
    i = (y * 12 + m - 1) + n
    yy, mm = divmod(i, 12)
    b = datetime.date(yy, mm + 1, min(d, calendar.monthrange(yy, mm + 1)[1]))
    print(b.isoformat(), (b - a).days, (a + datetime.timedelta(days=k)).isoformat())
`

func TestDatesAgainstPython(t *testing.T) {
	testenv.Outside(t, "python3")
	random := rand.New(rand.NewPCG(11, 26))
	type question struct {
		d            Date
		months, days int
	}
	var asked []question
	var input strings.Builder
	for range 4000 {
		d := Date{Year: 2000 + random.IntN(60), Month: 1, Day: 1}.AddDays(random.IntN(366))
		if random.IntN(3) == 0 { // ends of months, where additions go wrong
			d = Date{Year: d.Year, Month: d.Month, Day: 1}.AddMonths(1).AddDays(-1)
		}
		q := question{d, random.IntN(241) - 60, random.IntN(40000) - 10000}
		asked = append(asked, q)
		fmt.Fprintln(&input, d.Year, int(d.Month), d.Day, q.months, q.days)
	}
	answers := testenv.Lines(t, input.String(), "python3", "-c", months)
	if len(answers) != len(asked) {
		t.Fatalf("%d answers to %d questions", len(answers), len(asked))
	}
	for i, q := range asked {
		later := q.d.AddMonths(q.months)
		got := fmt.Sprintln(later, q.d.DaysUntil(later), q.d.AddDays(q.days))
		if strings.TrimSpace(got) != answers[i] {
			t.Errorf("%s, %d months and %d days: %s, Python says %s", q.d, q.months, q.days, strings.TrimSpace(got), answers[i])
		}
	}
}
