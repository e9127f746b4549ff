package quantity

import (
	"cmp"
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"
)

// decimal matches a plain number: digits with optional commas between thousands and
// an optional decimal part. Exponents, octal, hexadecimal, NaN and infinity are not
// accepted on a build sheet.
const decimal = `(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,12})(?:\.[0-9]{1,9})?`

// common matches a fraction as on a tape measure, with or without a whole number:
// 10 1/4, 10-1/4, 5/16.
const common = `(?:[0-9]{1,6}[ -])?[0-9]{1,3}/[0-9]{1,3}`

// feet matches feet with inches: 16'-6", 16 ft 6 in, 16' 6-1/2".
const feet = `([0-9]{1,4}) ?(?:'|′|’|[Ff][Tt]\.?|[Ff]eet|[Ff]oot)[ ,-]{0,3}(` + common + `|` + decimal + `) ?(?:"|″|”|''|[Ii][Nn]\.?|[Ii]nch(?:es)?)`

var (
	number     = lazy(`^[+-]?(?:` + common + `|` + decimal + `)`)
	feetInches = lazy(`^` + feet + `$`)
	// thousands matches digits with a point where a comma may have been meant.
	thousands = lazy(`^[+-]?[1-9][0-9]{0,2}\.[0-9]{3}$`)
)

// lazy compiles an expression on first use.
func lazy(expression string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expression) })
}

func parseInto(text string, dim Dimension, into *float64) error {
	if dim == DimLength && strings.ContainsAny(text, "'′’Ff") {
		if m := feetInches().FindStringSubmatch(text); m != nil {
			return parseFeet(m[1], m[2], into)
		}
	}
	head := number().FindString(text)
	if head == "" {
		return fmt.Errorf("expected a number with its unit, such as %s", example(dim))
	}
	symbol := strings.TrimSpace(text[len(head):])
	if symbol == "" && dim != DimCount {
		return fmt.Errorf("the unit is missing; expected something like %s", example(dim))
	}
	if strings.HasPrefix(symbol, ",") {
		return errors.New("a comma stands between thousands and has three digits after it, as in 5,980; decimals follow a point, as in 59.8")
	}
	u, known := unitNamed(symbol)
	if !known || u.dim != dim {
		return fmt.Errorf("the unit %q does not fit here; allowed: %s", symbol, strings.Join(symbols(dim), ", "))
	}
	if (u.symbol == "lb" || u.symbol == "kg") && strings.Contains(head, ".") && thousands().MatchString(head) {
		whole, rest, _ := strings.Cut(head, ".")
		return fmt.Errorf("is it %s,%s %s or %s %s? Write thousands with a comma, and no more decimals than the scale shows", whole, rest, u.symbol,
			strings.TrimRight(strings.TrimRight(head, "0"), "."), u.symbol)
	}
	if dim == DimCount && strings.Contains(head, "/") {
		return fmt.Errorf("%q is no number of things", head)
	}
	x, err := plain(head)
	if err != nil {
		return err
	}
	*into = u.toBase(x)
	return nil
}

// plain parses a number without its unit.
func plain(text string) (float64, error) {
	text, negative := strings.CutPrefix(strings.TrimPrefix(text, "+"), "-")
	sign := 1.0
	if negative {
		sign = -1
	}
	top, bottom, is := strings.Cut(text, "/")
	if !is {
		x, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", ""), 64)
		return sign * x, err
	}
	whole := "0"
	if i := strings.IndexAny(top, " -"); i >= 0 {
		whole, top = top[:i], top[i+1:]
	}
	var parts [3]float64
	for i, digits := range []string{whole, top, bottom} {
		parts[i], _ = strconv.ParseFloat(digits, 64) // the expression has matched digits only
	}
	if parts[1] == 0 || parts[1] >= parts[2] {
		return 0, fmt.Errorf("%s/%s is no fraction of one; expected something like 10 1/4", top, bottom)
	}
	return sign * (parts[0] + parts[1]/parts[2]), nil
}

func parseFeet(whole, inches string, into *float64) error {
	ft, err := plain(whole)
	if err != nil {
		return err
	}
	in, err := plain(inches)
	if err != nil {
		return err
	}
	if in >= 12 {
		return fmt.Errorf("%s inches beside feet are a foot or more; write the length in one of them", inches)
	}
	*into = 12*ft + in
	return nil
}

func symbols(dim Dimension) (out []string) {
	for _, u := range units {
		if u.dim == dim {
			out = append(out, u.symbol)
		}
	}
	return out
}

func example(dim Dimension) string {
	if dim == DimCount {
		return `"4"`
	}
	return fmt.Sprintf("%q", "12 "+symbols(dim)[0])
}

// Date is a day in the Gregorian calendar, without clock or time zone.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseScalar parses a date such as 2027-03-02, the ISO 8601 form.
func (d *Date) ParseScalar(text string) error {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return errors.New("expected a date such as 2027-03-02")
	}
	*d = DateOf(t)
	return nil
}

// DateOf returns the day of t in t's own time zone.
func DateOf(t time.Time) Date {
	y, m, day := t.Date()
	return Date{y, m, day}
}

// Time returns midnight UTC of the day.
func (d Date) Time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// String returns the ISO 8601 form.
func (d Date) String() string { return d.Time().Format(time.DateOnly) }

// Before reports whether d is an earlier day than e.
func (d Date) Before(e Date) bool {
	return cmp.Or(cmp.Compare(d.Year, e.Year), cmp.Compare(d.Month, e.Month), cmp.Compare(d.Day, e.Day)) < 0
}

// AddDays returns the day n days later.
func (d Date) AddDays(n int) Date { return DateOf(d.Time().AddDate(0, 0, n)) }

// AddMonths returns the same day n months later, or the last day of that month if it
// is shorter: 31 January plus one month is 28 or 29 February.
func (d Date) AddMonths(n int) Date {
	first := time.Date(d.Year, d.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return Date{first.Year(), first.Month(), min(d.Day, last)}
}

// DaysUntil returns the number of days from d to e; negative if e is earlier.
func (d Date) DaysUntil(e Date) int { return int(e.Time().Sub(d.Time()).Hours() / 24) }

// IsZero reports whether d is the zero Date, which stands for no date.
func (d Date) IsZero() bool { return d == Date{} }
