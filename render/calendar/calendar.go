// Package calendar writes the service visits of a unit as an iCalendar file
// (RFC 5545), one event for each visit.
//
// An event lasts the whole day and leaves the owner's time free: it is a day by
// which work is due, not an appointment. Its identity is that of the visit and
// its sequence number counts the revisions of the guide, so that the file of a
// later revision moves events and does not double them. A visit that only the
// earlier revision had is cancelled, and says so in its title for programs that
// pass over that. There is no method, since nobody is invited. Two alarms ring at
// nine in the morning, a week before and the day before: one to order parts by,
// one to do the work by. What is cancelled has none.
//
// The package decides nothing about content and asks no clock: what is said and
// when comes from the document.
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

// product names the program that wrote the file, as RFC 5545, 3.7.3, asks.
const product = "-//ownerguide//service visits//"

// Write returns the calendar of a guide's visits; nil when it has none. The
// error names a day that is not one.
func Write(g *doc.Guide) ([]byte, error) {
	if len(g.Visits) == 0 {
		return nil, nil
	}
	issued, err := time.Parse(time.DateOnly, g.Issued)
	if err != nil {
		return nil, fmt.Errorf("calendar: day of issue: %w", err)
	}
	var c content
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

// alarms are durations (RFC 5545, 3.3.6) from midnight at the beginning of the
// day back to nine o'clock a week before and on the day before.
var alarms = []string{"-P6DT15H", "-PT15H"}

// alarm writes an alarm that shows a text (RFC 5545, 3.6.6).
func (c *content) alarm(before, text string) {
	c.line("BEGIN", "VALARM")
	c.line("ACTION", "DISPLAY")
	c.line("TRIGGER", before)
	c.line("DESCRIPTION", escape(text))
	c.line("END", "VALARM")
}

// basicDate is the form of a day in RFC 5545, 3.3.4.
const basicDate = "20060102"

// content is what RFC 5545, 3.1, calls content lines.
type content struct{ bytes.Buffer }

// line writes a property in lines of at most 75 octets, each but the first
// beginning with a space. No character is cut in two.
func (c *content) line(name, value string) {
	const most = 75
	rest := name + ":" + value
	for len(rest) > most {
		end := most
		for end > most-utf8.UTFMax && !utf8.RuneStart(rest[end]) {
			end--
		}
		c.WriteString(rest[:end] + "\r\n")
		rest = " " + rest[end:]
	}
	c.WriteString(rest + "\r\n")
}

// escape writes a text as RFC 5545, 3.3.11, asks.
var escape = strings.NewReplacer(`\`, `\\`, `;`, `\;`, `,`, `\,`, "\n", `\n`).Replace

// description lists the jobs and what else there is to know, a line each.
func description(v doc.Visit) string {
	var lines []string
	for _, job := range v.Jobs {
		lines = append(lines, "- "+job)
	}
	return strings.Join(slices.Concat(lines, v.Notes), "\n")
}
