package draw

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/spec/derive"
)

func init() { pictures["service-strip"] = serviceStrip }

// serviceStrip shows the first two years of service: every visit of a dated
// plan, or, without dates, what comes round by the calendar.
func serviceStrip(s *Subject) (*doc.Drawing, string, error) {
	if len(s.Values.Plan.Visits) > 0 {
		return datedStrip(s)
	}
	return undatedStrip(s)
}

// The strip is a row for each year, twelve months wide.
const (
	stripLeft  = 14
	stripRight = sheetWidth - 14
	yearMonths = 12
	monthWidth = float64(stripRight-stripLeft) / yearMonths
	years      = 2
)

// datedStrip draws each visit in the month it is due, the higher the bar the more jobs.
func datedStrip(s *Subject) (*doc.Drawing, string, error) {
	delivered := s.Build.Sheet.Delivered.Value
	c := &canvas{}
	var told []string
	most := 1
	for _, v := range s.Values.Plan.Visits {
		most = max(most, len(v.Tasks))
	}
	y := 0.0
	for year := range years {
		var visits []derive.Visit
		var want []float64
		start := delivered.AddMonths(year * yearMonths)
		end := delivered.AddMonths((year + 1) * yearMonths)
		days := float64(start.DaysUntil(end))
		for _, v := range s.Values.Plan.Visits {
			last := year == years-1 // the end of the plan belongs to its last year
			if v.Date.Before(start) || end.Before(v.Date) || !last && !v.Date.Before(end) {
				continue
			}
			visits = append(visits, v)
			want = append(want, stripLeft+float64(start.DaysUntil(v.Date))/days*(stripRight-stripLeft))
		}
		const tall = 46 // of the highest bar
		c.bold(margin, y+14, labelSize, doc.Start, s.words("year", "n", strconv.Itoa(year+1)))
		base := y + 22 + 2*stopRadius + 8 + tall
		xs := spread(want, stopPitch, stripLeft, stripRight)
		for i, v := range visits {
			told = append(told, s.words("visit", "n", strconv.Itoa(v.Number), "date", v.Date.String(), "jobs", strconv.Itoa(len(v.Tasks))))
			high := 8 + float64(tall-8)*float64(len(v.Tasks))/float64(most)
			c.rect(doc.Style{Line: doc.Full, Width: 0.9, Fill: doc.Pale}, want[i]-4, base-high, 8, high)
			c.line(thin, want[i], base-high, xs[i], base-tall-8)
		}
		for i, v := range visits {
			c.stop(xs[i], base-tall-8-stopRadius, v.Number)
		}
		c.line(outline, stripLeft, base, stripRight, base)
		for m := range yearMonths + 1 {
			x := stripLeft + float64(m)*monthWidth
			c.line(thin, x, base, x, base+5)
			if m%3 != 0 {
				continue
			}
			date := start.AddMonths(m)
			text := date.String()[:len("2006-01")]
			half := width(text, leastSize) / 2
			c.text(min(max(x, margin+half), sheetWidth-margin-half), base+18, leastSize, doc.Center, text)
		}
		y = base + 26
	}
	if len(told) == 0 {
		return nil, "", errors.New("the plan has no visit in its first two years")
	}
	y = c.block(margin, y+10, leastSize, doc.Start, s.words("strip-legend"), sheetWidth-2*margin)
	return c.sheet(y - 4), s.words("service-strip.alt", "visits", strings.Join(told, "; ")), nil
}

// undatedStrip draws a row for each interval that the calendar alone sets, with a mark
// each time it comes round.
func undatedStrip(s *Subject) (*doc.Drawing, string, error) {
	jobs := map[int]int{} // months → number of jobs
	for _, t := range s.Values.Plan.Intervals {
		if m := t.Interval.Months; m.Set && m.Value >= 1 && m.Value <= years*yearMonths {
			jobs[m.Value]++
		}
	}
	if len(jobs) == 0 {
		return nil, "", errors.New("no job of this unit comes round by the calendar")
	}
	var rows []int
	for m := range jobs {
		rows = append(rows, m)
	}
	slices.SortFunc(rows, cmp.Compare[int])
	const left, rowHeight = 118, 26
	month := (float64(stripRight) - left) / (years * yearMonths)
	c := &canvas{}
	c.text(left, 14, leastSize, doc.Start, s.words("months-from-delivery"))
	foot := 40 + float64(len(rows))*rowHeight
	for m := 0; m <= years*yearMonths; m++ {
		x := left + float64(m)*month
		c.line(thin, x, foot, x, foot+4)
		if m%6 == 0 {
			c.line(doc.Style{Line: doc.Pale, Width: 0.8}, x, 24, x, foot)
			c.text(x, foot+17, leastSize, doc.Center, strconv.Itoa(m))
		}
	}
	c.line(outline, left, foot, stripRight, foot)
	var told []string
	y := 40.0
	for _, every := range rows {
		n := strconv.Itoa(every)
		row, job := "every-months", "every-jobs"
		if every == 1 {
			row, job = "every-month", "every-month-jobs"
		}
		c.text(margin, y+4, leastSize, doc.Start, s.words(row, "n", n))
		c.line(dimension, left, y, stripRight, y)
		for m := every; m <= years*yearMonths; m += every {
			c.circle(solid, left+float64(m)*month, y, 4)
		}
		told = append(told, s.words(job, "n", n, "jobs", strconv.Itoa(jobs[every])))
		y += rowHeight
	}
	return c.sheet(foot + 24), s.words("service-strip.undated.alt", "intervals", strings.Join(told, "; ")), nil
}
