package quantity

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// number is the plain decimal form that is read: an optional sign, digits with
// optional commas between thousands, an optional decimal part. Exponents,
// octal, hexadecimal, NaN and infinity are not numbers on a build sheet.
var number = regexp.MustCompile(`^[+-]?(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,12})(?:\.[0-9]{1,9})?`)

func parseInto(text string, dim Dimension, into *float64) error {
	head := number.FindString(text)
	if head == "" {
		return fmt.Errorf("expected a number with its unit, such as %s", example(dim))
	}
	symbol := strings.TrimSpace(text[len(head):])
	if symbol == "" && dim != Number {
		return fmt.Errorf("the unit is missing; expected something like %s", example(dim))
	}
	u, known := unitNamed(symbol)
	if !known || u.dim != dim {
		return fmt.Errorf("the unit %q does not fit here; allowed: %s", symbol, strings.Join(symbols(dim), ", "))
	}
	x, err := strconv.ParseFloat(strings.ReplaceAll(head, ",", ""), 64)
	if err != nil || math.IsInf(x, 0) {
		return fmt.Errorf("expected a number with its unit, such as %s", example(dim))
	}
	*into = u.toBase(x)
	return nil
}

func symbols(dim Dimension) []string {
	var out []string
	for _, u := range units {
		if u.dim == dim {
			out = append(out, u.symbol)
		}
	}
	return out
}

func example(dim Dimension) string {
	if dim == Number {
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

// ParseScalar reads a date written as 2027-03-02, the ISO 8601 form.
func (d *Date) ParseScalar(text string) error {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return errors.New("expected a date such as 2027-03-02")
	}
	*d = DateOf(t)
	return nil
}

// DateOf gives the day of t in t's own time zone.
func DateOf(t time.Time) Date {
	y, m, day := t.Date()
	return Date{y, m, day}
}

// Time gives midnight UTC of the day.
func (d Date) Time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }

// String gives the ISO 8601 form.
func (d Date) String() string { return d.Time().Format(time.DateOnly) }

// Before tells whether d is an earlier day than e.
func (d Date) Before(e Date) bool { return d.Time().Before(e.Time()) }

// AddDays gives the day n days later.
func (d Date) AddDays(n int) Date { return DateOf(d.Time().AddDate(0, 0, n)) }

// AddMonths gives the same day n months later, or the last day of that month
// when it is shorter: 31 January plus one month is 28 or 29 February.
func (d Date) AddMonths(n int) Date {
	first := time.Date(d.Year, d.Month+time.Month(n), 1, 0, 0, 0, 0, time.UTC)
	last := first.AddDate(0, 1, -1).Day()
	return Date{first.Year(), first.Month(), min(d.Day, last)}
}

// DaysUntil counts the days from d to e; negative when e is earlier.
func (d Date) DaysUntil(e Date) int { return int(e.Time().Sub(d.Time()).Hours() / 24) }

// IsZero tells whether no date was given.
func (d Date) IsZero() bool { return d == Date{} }
