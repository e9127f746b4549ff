package quantity

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ownerguide/spec/source"
)

const published = "../../testdata/published/units.yaml"

type publishedCheck struct {
	What      source.Given[string]   `yaml:"what,required"`
	Kind      string                 `yaml:"kind,required"`
	In        []string               `yaml:"in,required"`
	Want      source.Given[number64] `yaml:"want,required"`
	Tolerance source.Given[number64] `yaml:"tolerance,required"`
	Source    string                 `yaml:"source,required"`
	Known     string                 `yaml:"known,required" oneof:"read computed memory"`
}

// number64 reads a check value without going through this package.
type number64 float64

func (n *number64) ParseScalar(text string) (err error) {
	x, err := strconv.ParseFloat(text, 64)
	*n = number64(x)
	return err
}

func readPublished(t testing.TB) []publishedCheck {
	t.Helper()
	data, err := os.ReadFile(published)
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Topic  string           `yaml:"topic,required"`
		Checks []publishedCheck `yaml:"checks,required"`
	}
	node, findings := source.Parse(published, data, source.SheetLimit)
	if node != nil {
		source.Decode(node, &file, &findings)
	}
	for _, f := range findings.Sorted() {
		t.Errorf("%s: %s", f.Pos, f.Message)
	}
	for _, c := range file.Checks {
		if c.Kind != "unit.convert" || len(c.In) != 2 || c.Source == "" {
			t.Errorf("%s: kind %q with %d inputs from %q", c.What.At, c.Kind, len(c.In), c.Source)
		}
	}
	if t.Failed() || len(file.Checks) == 0 {
		t.FailNow()
	}
	return file.Checks
}

// quantities returns a new value of every type, for tests that go through all.
func quantities() []interface {
	Quantity
	ParseScalar(string) error
} {
	return []interface {
		Quantity
		ParseScalar(string) error
	}{
		new(Count), new(Mass), new(Length), new(Distance), new(Pressure), new(Torque), new(Volume), new(FlowRate), new(Current), new(Voltage),
		new(Charge), new(Resistance), new(Duration), new(Angle), new(Percent), new(Temperature), new(TemperatureDifference), new(Area), new(Density), new(Viscosity), new(Speed),
	}
}

func TestPublishedConversions(t *testing.T) {
	for _, c := range readPublished(t) {
		t.Run(c.What.Value, func(t *testing.T) {
			got := math.NaN()
			for _, q := range quantities() {
				if q.ParseScalar(c.In[0]) == nil {
					got = In(q, c.In[1])
				}
			}
			// A tolerance of nothing means exact but for the last bits of a float64.
			want, within := float64(c.Want.Value), float64(c.Tolerance.Value)
			if !(math.Abs(got-want) <= within+1e-12*math.Max(1, math.Abs(want))) {
				t.Errorf("%s: %s is %v %s, want %v within %v\nsource: %s", c.What.At, c.In[0], got, c.In[1], want, within, c.Source)
			}
		})
	}
}

// Every unit but base units of a dimension has a published figure, so that no
// factor goes unchecked.
func TestEveryFactorIsChecked(t *testing.T) {
	checked := map[string]bool{}
	for _, c := range readPublished(t) {
		_, symbol, _ := strings.Cut(c.In[0], " ")
		checked[symbol], checked[c.In[1]] = true, true
	}
	for i, u := range units {
		base := i == 0 || units[i-1].dim != u.dim
		alike := u.factor == 1 && u.offset == 0
		longer := u.symbol == "cm" // 10 mm; the millimetre is checked
		if !base && !alike && !longer && !checked[u.symbol] {
			t.Errorf("no published figure checks %q", u.symbol)
		}
	}
}

func TestParseScalar(t *testing.T) {
	const example = `expected a number with its unit, such as "12 lb"`
	const comma = `a comma stands between thousands and has three digits after it, as in 5,980; decimals follow a point, as in 59.8`
	const missing = `the unit is missing; expected something like "12 lb"`
	tests := []struct {
		text string
		want float64
		err  string
	}{
		{"5,980 lb", 5980, ""},
		{"5980 lb", 5980, ""},
		{"5980lb", 5980, ""},
		{"+5 lb", 5, ""},
		{"-5 lb", -5, ""},
		{"0 lb", 0, ""},
		{"1,234,567.5 lb", 1234567.5, ""},
		{"0012 lb", 12, ""},
		{"1 kg", 2.2046226218, ""},
		{"", 0, example},
		{"lb", 0, example},
		{"lb 5", 0, example},
		{".5 lb", 0, example},
		{"−5 lb", 0, example}, // the typeset minus sign
		{"NaN lb", 0, example},
		{"Inf lb", 0, example},
		{"٣ lb", 0, example}, // a digit, but not one of ours
		{"5", 0, missing},
		{"5,980", 0, missing},
		{"5,98 lb", 0, comma},
		{"59,80 lb", 0, comma},
		{"5.980,5 lb", 0, comma},
		{"5. lb", 0, `the unit ". lb" does not fit here; allowed: lb, kg, t`},
		{"5 1/2 lb", 5.5, ""},
		{"-5-1/2 lb", -5.5, ""},
		{"5980 lbs", 5980, ""},
		{"5,980 Lbs.", 5980, ""},
		{"5980#", 5980, ""},
		{"14.000 lb", 0, `is it 14,000 lb or 14 lb? Write thousands with a comma, and no more decimals than the scale shows`},
		{"2.650 kg", 0, `is it 2,650 kg or 2.65 kg? Write thousands with a comma, and no more decimals than the scale shows`},
		{"1.500 t", 3306.9339327732, ""},
		{"1e3 lb", 0, `the unit "e3 lb" does not fit here; allowed: lb, kg, t`},
		{"0x1F lb", 0, `the unit "x1F lb" does not fit here; allowed: lb, kg, t`},
		{"1_000 lb", 0, `the unit "_000 lb" does not fit here; allowed: lb, kg, t`},
		{"5 psi", 0, `the unit "psi" does not fit here; allowed: lb, kg, t`},
		{"5 LB", 5, ""},
		{"5 KG", 11.0231131092, ""},
		{"5 T", 0, `the unit "T" does not fit here; allowed: lb, kg, t`},
		{"5 lb lb", 0, `the unit "lb lb" does not fit here; allowed: lb, kg, t`},
		{"1234567890123 lb", 0, `the unit "3 lb" does not fit here; allowed: lb, kg, t`},
	}
	for _, tt := range tests {
		t.Run(tt.text, func(t *testing.T) {
			var m Mass
			message := ""
			if err := m.ParseScalar(tt.text); err != nil {
				message = err.Error()
			}
			if message != tt.err || math.Abs(float64(m)-tt.want) > 1e-9 {
				t.Errorf("got %v, %s; want %v, %s", m, message, tt.want, tt.err)
			}
		})
	}
	const notOne = ` is no fraction of one; expected something like 10 1/4`
	for _, tt := range []struct {
		text string
		want float64
		err  string
	}{
		{"10 1/4 in", 10.25, ""}, {"10-1/4in", 10.25, ""}, {"5/16 in", 0.3125, ""}, {`2 5/16"`, 2.3125, ""}, {"2.250 in.", 2.25, ""},
		{`16'-6"`, 198, ""}, {`16' 6"`, 198, ""}, {"16 ft 6 in", 198, ""}, {"16ft. 6 1/2in.", 198.5, ""}, {"21 feet, 10 inches", 262, ""}, {`16'-6-1/2"`, 198.5, ""}, {`16′ 6.5″`, 198.5, ""},
		{"16'", 192, ""}, {"16 FT", 192, ""}, {`8'-0"`, 96, ""},
		{"101/4 in", 0, "101/4" + notOne}, {"10 4/4 in", 0, "4/4" + notOne}, {"1/0 in", 0, "1/0" + notOne}, {"0/8 in", 0, "0/8" + notOne},
		{`16' 14"`, 0, "14 inches beside feet are a foot or more; write the length in one of them"},
		{"16' 6", 0, `the unit "' 6" does not fit here; allowed: in, ft, mm, cm, m`},
		{`-16' 6"`, 0, `the unit "' 6\"" does not fit here; allowed: in, ft, mm, cm, m`},
		{"3 M", 0, `the unit "M" does not fit here; allowed: in, ft, mm, cm, m`},
	} {
		var l Length
		message := ""
		if err := l.ParseScalar(tt.text); err != nil {
			message = err.Error()
		}
		if message != tt.err || math.Abs(float64(l)-tt.want) > 1e-9 {
			t.Errorf("%s: got %v, %s; want %v, %s", tt.text, l, message, tt.want, tt.err)
		}
	}
	var p Pressure
	if err := p.ParseScalar("65#"); err == nil {
		t.Error("pounds are read as a pressure")
	}
	var c Count
	if err := c.ParseScalar("1/2"); err == nil {
		t.Error("half a thing is counted")
	}
	if err := c.ParseScalar("1.15"); err != nil || c != 1.15 {
		t.Errorf("a count: %v, %v", c, err)
	}
	if err := c.ParseScalar("4 lb"); err == nil {
		t.Error("a count with a unit is read")
	}
}

// The constructor, the base unit and the printed unit of a type are one unit.
func TestConstructors(t *testing.T) {
	for _, c := range []struct {
		q    Quantity
		unit string
	}{
		{Count(3), ""}, {Pounds(3), "lb"}, {Inches(3), "in"}, {Miles(3), "mi"}, {PSI(3), "psi"}, {Torque(3), "lb-ft"}, {Gallons(3), "gal"},
		{FlowRate(3), "gpm"}, {Current(3), "A"}, {Voltage(3), "V"}, {Charge(3), "Ah"}, {Resistance(3), "ohm"}, {Minutes(3), "min"},
		{Degrees(3), "deg"}, {Percent(3), "percent"}, {Fahrenheit(3), "°F"}, {TemperatureDifference(3), "°F difference"}, {SquareInches(3), "in²"}, {Density(3), "lb/ft³"},
		{Viscosity(3), "mm²/s"}, {MilesPerHour(3), "mph"},
	} {
		if got := In(c.q, c.unit); got != 3 || c.q.Base() != 3 {
			t.Errorf("%T: %v %s", c.q, got, c.unit)
		}
		if symbol := usual[c.q.Dimension()][US]; symbol != c.unit {
			t.Errorf("%T is printed in %q, made from %q", c.q, symbol, c.unit)
		}
	}
	if !math.IsNaN(In(Pounds(1), "in")) || !math.IsNaN(In(Pounds(1), "stone")) {
		t.Error("pounds are given in a unit that is none of weight")
	}
}

func TestText(t *testing.T) {
	metric := Print{System: Metric, Group: " ", Decimal: ","}
	for _, c := range []struct {
		p    Print
		q    Quantity
		r    Rounding
		want string
	}{
		{English, Pounds(5980), Rounding{Stated: true}, "5,980 lb (2,712 kg)"},
		{English, Pounds(1234567), Rounding{}, "1,234,567 lb (559,990 kg)"},
		{English, Pounds(999.5), Rounding{}, "1,000 lb (454 kg)"},              // of the 1,000 that is printed
		{English, Pounds(15400), Rounding{Side: Down}, "15,400 lb (6,985 kg)"}, // 6,985.3 kg
		{English, Pounds(15400), Rounding{Side: Up}, "15,400 lb (6,986 kg)"},
		{English, Pounds(15400.4), Rounding{Side: Down}, "15,400 lb (6,985 kg)"},
		{English, Inches(131.2), Rounding{Side: Up}, "132 in (3,353 mm)"}, // 3,352.8 mm
		{English, Inches(132.9), Rounding{Side: Down}, "132 in (3,352 mm)"},
		{English, Pounds(3500), Rounding{Stated: true}, "3,500 lb (1,588 kg)"}, // 1,587.6 kg
		{English, Pounds(3500), Rounding{Side: Down, Stated: true}, "3,500 lb (1,587 kg)"},
		{English, Pounds(1000 / kgPerLb), Rounding{Side: Down, Stated: true}, "2,204 lb (1,000 kg)"}, // 2,204.6 lb
		{English, Pounds(-120), Rounding{}, "−120 lb (−54 kg)"},
		{English, Pounds(-0.2), Rounding{}, "0 lb (0 kg)"},
		{English, PSI(65), Rounding{Stated: true}, "65 psi (448 kPa)"},
		{English, Torque(90), Rounding{Stated: true}, "90 lb-ft (122 N·m)"},
		{English, Percent(12.5), Rounding{Stated: true}, "12.5 %"},
		{English, Degrees(14.4), Rounding{Side: Up}, "15°"},
		{English, Resistance(3.8), Rounding{Stated: true}, "3.8 Ω"},
		{English, Current(7.5), Rounding{Step: 0.1, MetricStep: 0.1}, "7.5 A"},
		{English, Count(4), Rounding{}, "4"},
		{English, Inches(240), Rounding{US: "ft", Metric: "m", MetricStep: 0.01}, "20 ft (6.10 m)"},
		{English, Fahrenheit(-20), Rounding{}, "−20 °F (−29 °C)"},
		{English, Gallons(1.75), Rounding{Step: 0.25, MetricStep: 0.1}, "1.75 gal (6.6 L)"},
		{metric, Pounds(5980), Rounding{}, "2 712 kg (5 979 lb)"},
		{metric, Inches(1.5), Rounding{Step: 0.1, MetricStep: 0.1}, "38,1 mm (1,5 in)"},
	} {
		if got := c.p.Text(c.q, c.r); got != c.want {
			t.Errorf("%T %v: %q, want %q", c.q, c.q, got, c.want)
		}
	}
}

// The side keeps people safe: a capacity is never printed above what it is, a
// demand never below, in either system.
func TestRoundingKeepsToItsSide(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Pounds(rapid.Float64Range(-50000, 50000).Draw(t, "pounds"))
		step := rapid.SampledFrom([]float64{0.1, 0.25, 1, 5, 10, 50, 100}).Draw(t, "step")
		for _, system := range []System{US, Metric} {
			p := Print{System: system}
			exact := In(q, usual[DimMass][system])
			near := slack * math.Max(step, math.Abs(exact)) * 1.01
			down, _ := p.Rounded(q, Rounding{Side: Down, Step: step, MetricStep: step})
			up, _ := p.Rounded(q, Rounding{Side: Up, Step: step, MetricStep: step})
			nearest, _ := p.Rounded(q, Rounding{Step: step, MetricStep: step})
			if down > exact+near || down < exact-step-near {
				t.Fatalf("%v goes down to %v in steps of %v", exact, down, step)
			}
			if up < exact-near || up > exact+step+near {
				t.Fatalf("%v goes up to %v in steps of %v", exact, up, step)
			}
			if math.Abs(nearest-exact) > step/2+near {
				t.Fatalf("%v goes to %v in steps of %v", exact, nearest, step)
			}
			for _, x := range []float64{down, up, nearest} {
				if n := x / step; math.Abs(n-math.Round(n)) > 1e-6 {
					t.Fatalf("%v is no multiple of %v", x, step)
				}
			}
		}
	})
}

// What is on a step already stays there, whatever the noise of a conversion.
func TestRoundingLeavesStepsAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(-20000, 20000).Draw(t, "n")
		q := Pounds(float64(n) / kgPerLb)
		for _, r := range []Rounding{{Side: Nearest}, {Side: Down}, {Side: Up}, {Stated: true}} {
			if got, _ := (Print{System: Metric}).Rounded(q, r); got != float64(n) {
				t.Fatalf("%d kg is rounded %s to %v", n, r.How(), got)
			}
		}
	})
}

// A printed text says what Rounded gives to programs.
func TestTextAgreesWithRounded(t *testing.T) {
	digits := regexp.MustCompile(`^[−0-9.]+`)
	rapid.Check(t, func(t *rapid.T) {
		q := PSI(rapid.Float64Range(-5000, 5000).Draw(t, "psi"))
		r := Rounding{Side: rapid.SampledFrom([]Side{Nearest, Down, Up}).Draw(t, "side"), Stated: rapid.Bool().Draw(t, "stated"), Step: rapid.SampledFrom([]float64{0.1, 1, 5}).Draw(t, "step")}
		p := Print{Decimal: "."}
		want, _ := p.Rounded(q, r)
		text := digits.FindString(p.Text(q, r))
		got, err := strconv.ParseFloat(strings.ReplaceAll(text, "−", "-"), 64)
		if err != nil || math.Abs(got-want) > 1e-9 {
			t.Fatalf("printed %s, rounded %v", text, want)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, c := range readPublished(f) {
		f.Add(c.In[0])
	}
	for _, text := range []string{"5,980 lb", "-0.000000001 in", "999999999999.999999999 gal", "1,,2 lb", "12", "0 °C"} {
		f.Add(text)
	}
	f.Add(`16'-6 1/2"`)
	f.Add("10-1/4 inches")
	f.Fuzz(func(t *testing.T, text string) {
		for i, q := range quantities() {
			if q.ParseScalar(text) != nil {
				if q.Base() != 0 {
					t.Fatalf("%q is refused and leaves %v", text, q.Base())
				}
				continue
			}
			if form, _ := Form(q.Dimension()); !regexp.MustCompile(form).MatchString(text) {
				t.Fatalf("%q is read, and does not fit %s", text, form)
			}
			base := usual[q.Dimension()][US]
			printed := strings.TrimSpace(fmt.Sprintf("%s %s", strconv.FormatFloat(q.Base(), 'f', 9, 64), base))
			again := quantities()[i]
			// Units such as the tonne make numbers longer than the form allows.
			if err := again.ParseScalar(printed); err != nil && math.Abs(q.Base()) < 1e12 {
				t.Fatalf("%q prints as %q: %v", text, printed, err)
			} else if err == nil && math.Abs(again.Base()-q.Base()) > 1e-9*math.Max(1, math.Abs(q.Base())) {
				t.Fatalf("%q is %v and reads back as %v", text, q.Base(), again.Base())
			}
		}
	})
}

func TestDates(t *testing.T) {
	day := func(text string) Date {
		var d Date
		if err := d.ParseScalar(text); err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, c := range []struct {
		from   string
		months int
		want   string
	}{
		{"2027-01-31", 1, "2027-02-28"}, {"2028-01-31", 1, "2028-02-29"}, {"2100-01-31", 1, "2100-02-28"}, {"2027-11-30", 3, "2028-02-29"},
		{"2027-12-15", 1, "2028-01-15"}, {"2027-03-31", -1, "2027-02-28"}, {"2027-05-31", 12, "2028-05-31"}, {"2027-05-31", 0, "2027-05-31"},
	} {
		if got := day(c.from).AddMonths(c.months).String(); got != c.want {
			t.Errorf("%s and %d months: %s, want %s", c.from, c.months, got, c.want)
		}
	}
	if got := day("2028-02-28").AddDays(2).String(); got != "2028-03-01" {
		t.Errorf("two days on: %s", got)
	}
	// 2000-01-01 to 2027-01-01: 27 years with 7 leap days, 2000 to 2024.
	if got := day("2000-01-01").DaysUntil(day("2027-01-01")); got != 27*365+7 {
		t.Errorf("%d days", got)
	}
	if got := day("2027-01-01").DaysUntil(day("2026-12-31")); got != -1 {
		t.Errorf("%d days", got)
	}
	if !day("2026-12-31").Before(day("2027-01-01")) || day("2027-01-01").Before(day("2027-01-01")) || !(Date{}).IsZero() || day("2027-01-01").IsZero() {
		t.Error("the order of days")
	}
	for _, bad := range []string{"", "2027-02-29", "2027-13-01", "2027-00-01", "2027-04-31", "27-03-02", "2027-3-2", "03/02/2027", "2027-03-02T00:00:00Z", "2027-03-02 ", "20270302"} {
		var d Date
		if err := d.ParseScalar(bad); err == nil || !d.IsZero() {
			t.Errorf("%q is read as %s", bad, d)
		}
	}
}

func TestMonthsKeepTheDayOrGoToTheLast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Date{2000, 1, 1}.AddDays(rapid.IntRange(0, 30000).Draw(t, "days"))
		n := rapid.IntRange(-200, 200).Draw(t, "months")
		e := d.AddMonths(n)
		if months := (e.Year-d.Year)*12 + int(e.Month) - int(d.Month); months != n {
			t.Fatalf("%s and %d months is %s", d, n, e)
		}
		if e.Day != d.Day && (e.Day > d.Day || e.AddDays(1).Day != 1) {
			t.Fatalf("%s and %d months is %s", d, n, e)
		}
		if DateOf(e.Time()) != e {
			t.Fatalf("%v is no day", e)
		}
	})
}

// What was stated is printed as it was stated, whichever system comes first;
// the other figure is rounded. Sizes as marked on balls, sockets, tires and
// gauges: common practice, no source.
func TestStatedKeepsItsSystem(t *testing.T) {
	metric := Print{System: Metric, Group: ",", Decimal: "."}
	ball := Rounding{Stated: true, Fraction: 16, Step: 0.01, MetricStep: 0.1}
	tread := Rounding{Stated: true, Fraction: 32, Step: 0.01, MetricStep: 0.1}
	stated := Rounding{Stated: true}
	for _, c := range []struct {
		p    Print
		q    Quantity
		r    Rounding
		want string
	}{
		{metric, PSI(80), stated, "552 kPa (80 psi)"},
		{metric, PSI(450 / kpaPerPsi), stated, "450 kPa (65 psi)"},
		{English, PSI(450 / kpaPerPsi), stated, "65 psi (450 kPa)"},
		{metric, Pounds(10000), stated, "4,536 kg (10,000 lb)"},
		{metric, Pounds(3500 / kgPerLb), stated, "3,500 kg (7,716 lb)"},
		{English, Pounds(3500 / kgPerLb), stated, "7,716 lb (3,500 kg)"},
		{metric, Inches(2), ball, "50.8 mm (2 in)"},
		{metric, Inches(2.3125), ball, "58.7 mm (2-5/16 in)"},
		{metric, Inches(50 / mmPerIn), ball, "50 mm (1.97 in)"}, // no 1-15/16 in ball
		{metric, Inches(19 / mmPerIn), ball, "19 mm (3/4 in)"},
		{metric, Inches(21 / mmPerIn), ball, "21 mm (0.83 in)"},
		{metric, Inches(1.6 / mmPerIn), tread, "1.6 mm (2/32 in)"},
		{English, Inches(1.6 / mmPerIn), tread, "2/32 in (1.6 mm)"},
		{metric, Inches(2.0 / 32), tread, "1.6 mm (2/32 in)"},
		{metric, Miles(10), stated, "16 km (10 mi)"},
		{metric, Current(7.5), Rounding{Stated: true}, "7.5 A"},
	} {
		if got := c.p.Text(c.q, c.r); got != c.want {
			t.Errorf("%T %v: %q, want %q", c.q, c.q, got, c.want)
		}
	}
}

// A figure of any dimension is what its unit says.
func TestAny(t *testing.T) {
	for text, want := range map[string]Quantity{"500 lb": Mass(500), "48 in": Length(48), "12 V": Voltage(12), "40 lb-ft": Torque(40), "60 psi": Pressure(60), "16'-6\"": Length(198)} {
		var a Any
		if err := a.ParseScalar(text); err != nil || a.Quantity != want {
			t.Errorf("%s: %v, %v", text, a.Quantity, err)
		}
	}
	for text, want := range map[string]string{"500": "the unit is missing", "5 bananas": "no such unit", "14.000 lb": "is it 14,000 lb", "lb": "expected a number"} {
		var a Any
		if err := a.ParseScalar(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", text, err)
		}
	}
}
