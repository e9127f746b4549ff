package begin

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// codeDay reports that a bare number was read as a date.
var codeDay = codes.Note("export-day", "a number that is no day would date the guide wrongly, and with it the service visits")

// isDate reports whether an entry is a date.
func isDate(entry string) bool {
	for _, k := range sheetShape().Keys {
		if k.Name == entry {
			return k.Shape.Type == source.ShapeFor[quantity.Date]().Type
		}
	}
	return false
}

// The values of dates in a column map, for dates such as 3/4/2027.
const (
	monthFirst = "month first"
	dayFirst   = "day first"
)

var (
	isoDate   = source.Pattern(`^([0-9]{4}-[0-9]{2}-[0-9]{2})(?:[T ][0-9:.]+Z?)?$`)
	yearFirst = source.Pattern(`^([0-9]{4})[./-]([0-9]{1,2})[./-]([0-9]{1,2})$`)
	yearLast  = source.Pattern(`^([0-9]{1,2})([./-]) ?([0-9]{1,2})[./-] ?([0-9]{2}|[0-9]{4})(?: [0-9:.]+(?: ?[AaPp][Mm])?)?$`)
	dayNumber = source.Pattern(`^[0-9]{5}$`)
)

// monthNames are layouts that name the month, and so are unambiguous.
var monthNames = []string{"2 January 2006", "2 Jan 2006", "2-Jan-2006", "2-January-2006", "January 2, 2006", "Jan 2, 2006", "January 2 2006", "Jan 2 2006"}

// date returns the text of a cell in the date format of a sheet. Text that is not a date
// is unchanged and will be refused by the reader of sheets. The error is a question
// that only a person can answer.
func (c *Columns) date(text string) (string, error) {
	if m := isoDate().FindStringSubmatch(text); m != nil {
		return m[1], nil
	}
	if m := yearFirst().FindStringSubmatch(text); m != nil {
		if day, ok := dayOf(m[1], m[2], m[3]); ok {
			return day, nil
		}
		return text, nil
	}
	if m := yearLast().FindStringSubmatch(text); m != nil {
		return c.dayAndMonth(text, m[1], m[3], m[4])
	}
	for _, layout := range monthNames {
		if t, err := time.Parse(layout, text); err == nil {
			return quantity.DateOf(t).String(), nil
		}
	}
	return text, nil
}

func (c *Columns) dayAndMonth(text, first, second, year string) (string, error) {
	if len(year) == 2 {
		return "", fmt.Errorf("is the year of %q 20%s? Write it with four digits", text, year)
	}
	american, isAmerican := dayOf(year, first, second)
	other, isOther := dayOf(year, second, first)
	switch {
	case isAmerican && (!isOther || american == other || c.Dates.Value == monthFirst):
		return american, nil
	case isOther && (!isAmerican || c.Dates.Value == dayFirst):
		return other, nil
	case isAmerican && isOther:
		return "", fmt.Errorf("is %q the day %s or %s? Say in the column map which comes first, dates: %s or dates: %s, or write it as %s", text, american, other, monthFirst, dayFirst, american)
	}
	return text, nil
}

// dayOf returns a valid day of the calendar.
func dayOf(year, month, day string) (string, bool) {
	t, err := time.Parse("2006-1-2", year+"-"+strings.TrimLeft(month, "0")+"-"+strings.TrimLeft(day, "0"))
	return quantity.DateOf(t).String(), err == nil
}

// dayCounted returns the day that a spreadsheet stores as a number: day 1 is
// 1900-01-01 in a calendar that has 1900-02-29 (ECMA-376 part 1, 18.17.4.1), so
// from March 1900 on day 0 is 1899-12-30.
func dayCounted(number string) string {
	n, _ := strconv.Atoi(number) // dayNumber has matched it
	return quantity.DateOf(time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)).AddDays(n).String()
}

// checkDates refuses an unknown value of dates.
func checkDates(d word, findings *source.Findings) {
	if d.Set && !slices.Contains([]string{monthFirst, dayFirst}, d.Value) {
		findings.Add(codeColumn.At(d.At, "dates is %q; expected %q or %q", d.Value, monthFirst, dayFirst))
	}
}
