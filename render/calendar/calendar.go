// Package calendar writes the service visits of a unit as an iCalendar file
// (RFC 5545), one event for each visit.
//
// An event lasts the whole day and leaves the owner's time free: it is a day by
// which work is due, not an appointment. Its identity is that of the visit and
// its sequence number counts the revisions of the guide, so that the file of a
// later revision moves events and does not double them. A visit that only the
// earlier revision had is cancelled, and says so in its title for programs that
// pass over that. There is no method, since nobody is invited, and no alarm: the one of the
// owner's own calendar suits the owner better.
//
// The package decides nothing about content and asks no clock: what is said and
// when comes from the document.
package calendar

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

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
	cal := ics.NewCalendar()
	cal.SetProductId(product + strings.ToUpper(g.Lang))
	cal.SetCalscale("GREGORIAN")
	for _, v := range g.Visits {
		day, err := time.Parse(time.DateOnly, v.Date)
		if err != nil {
			return nil, fmt.Errorf("calendar: day of %s: %w", v.UID, err)
		}
		e := cal.AddEvent(v.UID)
		e.SetDtStampTime(issued)
		e.SetSequence(g.Earlier)
		e.SetAllDayStartAt(day)
		e.SetTimeTransparency(ics.TransparencyTransparent)
		if v.Gone {
			e.SetStatus(ics.ObjectStatusCancelled)
		}
		e.SetSummary(v.Title)
		e.SetDescription(description(v))
	}
	var out bytes.Buffer
	// The library ends lines as the machine does; RFC 5545, 3.1, asks for CRLF.
	if err := cal.SerializeTo(&out, ics.WithNewLineWindows); err != nil {
		return nil, fmt.Errorf("calendar: %w", err)
	}
	return out.Bytes(), nil
}

// description lists the jobs and what else there is to know, a line each.
func description(v doc.Visit) string {
	var lines []string
	for _, job := range v.Jobs {
		lines = append(lines, "- "+job)
	}
	return strings.Join(slices.Concat(lines, v.Notes), "\n")
}
