// Package calendar writes the service visits of a unit as an iCalendar file
// (RFC 5545), one event for each visit.
//
// An event is an all-day event that leaves the day free: it is a day by which work is
// due, not an appointment. Its UID is that of the visit and its sequence number is the
// number of earlier revisions of the guide, so that the file of a later revision moves
// events instead of duplicating them. A visit that only the earlier revision had is
// cancelled; its title says so too, for programs that ignore the status. There is no
// METHOD, since nobody is invited. Two alarms, at nine in the morning a week before and
// the day before, leave time to order parts and remind of the work. Cancelled events
// have none.
//
// The package decides nothing about content and reads no clock: all texts and dates
// come from the document.
package calendar

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"ownerguide/render/doc"
)

// product is the PRODID of RFC 5545, 3.7.3.
const product = "-//ownerguide//service visits//"

// Write returns the calendar of a guide's visits, or nil if it has none. It returns an
// error for an invalid date.
func Write(g *doc.Guide) ([]byte, error) {
	if len(g.Visits) == 0 {
		return nil, nil
	}
	issued, err := time.Parse(time.DateOnly, g.Issued)
	if err != nil {
		return nil, fmt.Errorf("calendar: day of issue: %w", err)
	}
	var c content
	c.Grow(1 << 10 * len(g.Visits))
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", product+strings.ToUpper(g.Lang))
	c.line("CALSCALE", "GREGORIAN")
	for _, v := range g.Visits {
		day, err := time.Parse(time.DateOnly, v.Date)
		if err != nil {
			return nil, fmt.Errorf("calendar: day of %s: %w", v.UID, err)
		}
		c.line("BEGIN", "VEVENT")
		c.line("UID", escape(v.UID))
		c.line("DTSTAMP", issued.Format(basicDate)+"T000000Z")
		c.line("SEQUENCE", strconv.Itoa(g.Earlier))
		c.line("DTSTART;VALUE=DATE", day.Format(basicDate))
		c.line("TRANSP", "TRANSPARENT")
		if v.Gone {
			c.line("STATUS", "CANCELLED")
		}
		c.line("SUMMARY", escape(v.Title))
		c.line("DESCRIPTION", escape(description(v)))
		if !v.Gone {
			for _, before := range alarms {
				c.alarm(before, v.Title)
			}
		}
		c.line("END", "VEVENT")
	}
	c.line("END", "VCALENDAR")
	return c.Bytes(), nil
}

// alarms are the triggers as durations (RFC 5545, 3.3.6): from midnight at the beginning
// of the day back to nine o'clock a week before and on the day before.
var alarms = []string{"-P6DT15H", "-PT15H"}

// alarm writes an alarm that displays a text (RFC 5545, 3.6.6).
func (c *content) alarm(before, text string) {
	c.line("BEGIN", "VALARM")
	c.line("ACTION", "DISPLAY")
	c.line("TRIGGER", before)
	c.line("DESCRIPTION", escape(text))
	c.line("END", "VALARM")
}

// basicDate is the date format of RFC 5545, 3.3.4.
const basicDate = "20060102"

// content is a buffer of content lines (RFC 5545, 3.1).
type content struct{ bytes.Buffer }

// line writes a property folded into lines of at most 75 octets, each but the first
// beginning with a space. It does not split characters.
func (c *content) line(name, value string) {
	rest, most := name+":"+value, 75
	for len(rest) > most {
		end := most
		for end > most-utf8.UTFMax && !utf8.RuneStart(rest[end]) {
			end--
		}
		c.WriteString(rest[:end])
		c.WriteString("\r\n ")
		rest, most = rest[end:], 74 // after the space
	}
	c.WriteString(rest)
	c.WriteString("\r\n")
}

// escape escapes a text as required by RFC 5545, 3.3.11.
var escape = strings.NewReplacer(`\`, `\\`, `;`, `\;`, `,`, `\,`, "\n", `\n`).Replace

// description returns the jobs and notes of a visit, one on each line.
func description(v doc.Visit) string {
	var lines []string
	for _, job := range v.Jobs {
		lines = append(lines, "- "+job)
	}
	return strings.Join(slices.Concat(lines, v.Notes), "\n")
}
