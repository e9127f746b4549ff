package calendar

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"github.com/apognu/gocal"

	"ownerguide/render/doc"
)

func guide() *doc.Guide {
	return &doc.Guide{Lang: "en", Issued: "2026-11-20", Earlier: 1, Visits: []doc.Visit{
		{UID: "EX-1.visit-01@maker", Date: "2027-02-28", Title: "Trailer service 1: Tilt 20, EX-1",
			Jobs: []string{"Grease the hubs: NLGI 2; lithium, EP", `Look at C:\`}, Notes: []string{"By then: 2,700\u00a0mi", "Questions: María Núñez Señalización y Remolques de Peñasco, Sociedad de Responsabilidad Limitada, 555-0118"}},
		{UID: "EX-1.visit-02@maker", Date: "2028-02-29", Title: "Trailer service 2: Tilt 20, EX-1", Jobs: []string{"Check"}},
		{UID: "EX-1.visit-03@maker", Date: "2028-05-30", Gone: true, Title: "No longer due: trailer service 3", Notes: []string{"Not any more"}},
	}}
}

// read takes a calendar apart with a library, which shares no code with what wrote it.
func read(t testing.TB, data []byte) []gocal.Event {
	t.Helper()
	p := gocal.NewParser(bytes.NewReader(data))
	p.SkipBounds = true
	if err := p.Parse(); err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	return p.Events
}

// texts returns every value of a text property, read by the letter of RFC 5545:
// unfolded (3.1) and unescaped (3.3.11). The library leaves line breaks
// escaped and mistakes a backslash before another escape.
func texts(data []byte, property string) (values []string) {
	inAlarm := false // an alarm has a description of its own
	for line := range strings.SplitSeq(strings.ReplaceAll(string(data), "\r\n ", ""), "\r\n") {
		if strings.HasSuffix(line, ":VALARM") {
			inAlarm = strings.HasPrefix(line, "BEGIN")
		}
		if value, ok := strings.CutPrefix(line, property+":"); ok && !inAlarm {
			values = append(values, escaped.ReplaceAllStringFunc(value, func(pair string) string {
				if pair == `\n` || pair == `\N` {
					return "\n"
				}
				return pair[1:]
			}))
		}
	}
	return values
}

var escaped = regexp.MustCompile(`\\.`)

// checkLines checks the file against RFC 5545, 3.1: lines end with CRLF and have
// at most 75 octets, and folding cuts no character in two.
func checkLines(t testing.TB, data []byte) {
	t.Helper()
	rest, whole := strings.CutSuffix(string(data), "\r\n")
	if !whole {
		t.Errorf("the last line has no end:\n%s", data)
	}
	for line := range strings.SplitSeq(rest, "\r\n") {
		if len(line) > 75 || !utf8.ValidString(line) || strings.ContainsAny(line, "\r\n") || line == "" {
			t.Errorf("%d octets: %q", len(line), line)
		}
	}
}

func TestEventsAreReadBack(t *testing.T) {
	g := guide()
	data, err := Write(g)
	if err != nil {
		t.Fatal(err)
	}
	checkLines(t, data)
	events := read(t, data)
	if len(events) != len(g.Visits) {
		t.Fatalf("%d events, %d visits\n%s", len(events), len(g.Visits), data)
	}
	titles, descriptions := texts(data, "SUMMARY"), texts(data, "DESCRIPTION")
	for i, e := range events {
		v := g.Visits[i]
		want := strings.Join(v.Notes, "\n")
		for _, job := range slices.Backward(v.Jobs) {
			want = strings.TrimSuffix("- "+job+"\n"+want, "\n")
		}
		if e.Uid != v.UID || e.Summary != v.Title || titles[i] != v.Title || descriptions[i] != want {
			t.Errorf("read %q, %q, %q; written %+v", e.Uid, titles[i], descriptions[i], v)
		}
		if e.Start.Format(time.DateOnly) != v.Date || e.RawStart.Params["VALUE"] != "DATE" || e.End.Sub(*e.Start) != 24*time.Hour {
			t.Errorf("from %s to %s, %v", e.Start, e.End, e.RawStart)
		}
		if v.Gone != (e.Status == "CANCELLED") {
			t.Errorf("status %q of %+v", e.Status, v)
		}
		if e.Sequence != 1 || e.Stamp.Format(time.DateOnly) != g.Issued {
			t.Errorf("sequence %d, stamp %s", e.Sequence, e.Stamp)
		}
	}
}

// What RFC 5545 asks of every calendar and every event: 3.6 and 3.6.1.
func TestRequiredProperties(t *testing.T) {
	data, err := Write(guide())
	if err != nil {
		t.Fatal(err)
	}
	for want, times := range map[string]int{
		"BEGIN:VCALENDAR\r\n": 1, "VERSION:2.0\r\n": 1, "PRODID:-//ownerguide//service visits//EN\r\n": 1,
		"\r\nUID:": 3, "\r\nDTSTAMP:20261120T000000Z\r\n": 3, "\r\nDTSTART;VALUE=DATE:20270228\r\n": 1, "\r\nTRANSP:TRANSPARENT\r\n": 3,
		"\r\nMETHOD:": 0, "\r\nBEGIN:VALARM\r\n": 4,
	} {
		if n := strings.Count(string(data), want); n != times {
			t.Errorf("%q stands %d times, expected %d\n%s", want, n, times, data)
		}
	}
}

// An alarm that shows a text has an action, a trigger and a description, each
// once and nothing that belongs to other kinds (RFC 5545, 3.6.6); its trigger is
// a duration (3.3.6) back from the event. A cancelled event has none.
func TestAlarms(t *testing.T) {
	data, err := Write(guide())
	if err != nil {
		t.Fatal(err)
	}
	unfolded := strings.ReplaceAll(string(data), "\r\n ", "")
	events := strings.Split(unfolded, "BEGIN:VEVENT\r\n")[1:]
	for i, e := range events {
		parts := strings.Split(e, "BEGIN:VALARM\r\n")[1:]
		if want := map[bool]int{false: 2, true: 0}[guide().Visits[i].Gone]; len(parts) != want {
			t.Fatalf("event %d has %d alarms, want %d", i, len(parts), want)
		}
		var rings []time.Duration
		for _, part := range parts {
			alarm, _, closed := strings.Cut(part, "END:VALARM\r\n")
			props := map[string]string{}
			for line := range strings.SplitSeq(strings.TrimSuffix(alarm, "\r\n"), "\r\n") {
				name, value, _ := strings.Cut(line, ":")
				if _, twice := props[name]; twice {
					t.Errorf("%s stands twice", name)
				}
				props[name] = value
			}
			m := trigger.FindStringSubmatch(props["TRIGGER"])
			if !closed || len(props) != 3 || props["ACTION"] != "DISPLAY" || props["DESCRIPTION"] != strings.NewReplacer(",", `\,`, ";", `\;`).Replace(guide().Visits[i].Title) || m == nil {
				t.Fatalf("alarm %q", alarm)
			}
			days, _ := strconv.Atoi(m[1])
			hours, _ := strconv.Atoi(m[2])
			rings = append(rings, -time.Duration(days*24+hours)*time.Hour)
		}
		day := time.Date(2027, 2, 28, 0, 0, 0, 0, time.UTC)
		for j, want := range []string{"2027-02-21 09:00", "2027-02-27 09:00"} {
			if j < len(rings) && day.Add(rings[j]).Format("2006-01-02 15:04") != want {
				t.Errorf("rings at %s, want %s", day.Add(rings[j]), want)
			}
		}
	}
}

var trigger = regexp.MustCompile(`^-P(?:(\d+)D)?T(\d+)H$`)

func TestNoVisitsNoFile(t *testing.T) {
	if data, err := Write(&doc.Guide{Issued: "2026-11-20"}); data != nil || err != nil {
		t.Errorf("%q, %v", data, err)
	}
}

func TestDaysMustBeDays(t *testing.T) {
	for _, change := range []func(*doc.Guide){
		func(g *doc.Guide) { g.Issued = "20.11.2026" },
		func(g *doc.Guide) { g.Visits[1].Date = "2027-02-29" },
	} {
		g := guide()
		change(g)
		if data, err := Write(g); err == nil {
			t.Errorf("written:\n%s", data)
		}
	}
}

// For any text in a name the file is well-formed and has the same content.
func FuzzText(f *testing.F) {
	for _, s := range []string{"María; Núñez, \\n", "END:VEVENT", "x\nBEGIN:VEVENT", strings.Repeat("ä", 80), strings.Repeat("<a> ", 40), " x", "\u00a0"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if !utf8.ValidString(s) || strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f }) {
			t.Skip("no sheet can say this: see text-control")
		}
		g := guide()
		g.Visits[0].Title = "Service " + s
		g.Visits[0].Jobs = []string{"Job " + s}
		g.Visits[0].Notes = nil
		data, err := Write(g)
		if err != nil {
			t.Fatal(err)
		}
		checkLines(t, data)
		if events := read(t, data); len(events) != len(g.Visits) {
			t.Errorf("%d events\n%s", len(events), data)
		}
		if texts(data, "SUMMARY")[0] != "Service "+s || texts(data, "DESCRIPTION")[0] != "- Job "+s {
			t.Errorf("%q became\n%s", s, data)
		}
	})
}
