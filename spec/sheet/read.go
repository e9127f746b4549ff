package sheet

import (
	"fmt"
	"strings"
	"time"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

var (
	serialForm   = source.Pattern(`^[A-Za-z0-9](?:[A-Za-z0-9._-]{0,30}[A-Za-z0-9])?$`)
	revisionForm = source.Pattern(`^[A-HJ-NPR-Z]{1,2}$`)
	// deviceName matches the names Windows reserves for devices, with and without an
	// extension. Source: Microsoft, "Naming Files, Paths, and Namespaces", from memory.
	deviceName   = source.Pattern(`(?i)^(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\..*)?$`)
	tireDateForm = source.Pattern(`(?:^|[^0-9])([0-9]{2})([0-9]{2})$`)
)

var emailForm = source.Pattern(`^[A-Za-z0-9.!#$%&'*+/=?^_{|}~-]{1,64}@[A-Za-z0-9-]+(?:\.[A-Za-z0-9-]+)+$`)

// ValidSerial reports whether text is a valid serial number, which is also a folder name.
func ValidSerial(text string) bool {
	return serialForm().MatchString(text) && !deviceName().MatchString(text)
}

// Limits of what a buyer can expect to do. More than that is a typing error.
const (
	milesPerMonthMost = quantity.Distance(30000)
	milesDrivenMost   = quantity.Distance(20000)
	loadsPerWeekMost  = 1000
	motorHoursMost    = 744 // hours in a month of 31 days
)

// Read reads a build sheet. The sheet is nil if the text cannot be parsed at all;
// otherwise it has everything that could be read, even if there are findings.
// Whether model, options and vin match depends on the line and is not checked here.
func Read(file string, data []byte) (*Sheet, source.Findings) {
	node, findings := source.Parse(file, data, source.SheetLimit)
	if node == nil {
		return nil, findings.Sorted()
	}
	s := &Sheet{File: file, Data: data}
	source.Decode(node, s, &findings)
	findings.Add(source.CheckTexts(node, textLimit)...)
	c := &sheetCheck{Sheet: s}
	c.forms()
	c.dates()
	c.options()
	c.use()
	c.fitted()
	findings.Add(c.findings...)
	if !s.Language.Set {
		s.Language.Value = source.BaseLanguage
	}
	s.Faulty = findings.HasErrors()
	return s, findings.Sorted()
}

// textLimit returns the limit of an entry: notes are the only text with line breaks.
func textLimit(path string) source.TextLimit {
	if path == "notes" {
		return source.TextLimit{Characters: 4000, Lines: true}
	}
	return source.TextLimit{Characters: 200}
}

// sheetCheck checks a sheet without a product line.
type sheetCheck struct {
	*Sheet
	findings source.Findings
}

// add reports a finding about the entry with a path.
func (c *sheetCheck) add(path string, f source.Finding) { c.findings.Add(f.WithPath(path)) }

func (c *sheetCheck) forms() {
	if w := c.Serial; filled(w) && !ValidSerial(w.Value) {
		f := codeSerialForm.At(w.At, "serial is %q; expected 1 to 32 letters, digits, hyphens, underscores and dots, the first and last a letter or digit", w.Value)
		if deviceName().MatchString(w.Value) {
			f.Message = fmt.Sprintf("serial is %q, which some computers keep for a device", w.Value)
		}
		c.add(w.Path, f)
	}
	if w := c.Revision; filled(w) && !revisionForm().MatchString(w.Value) {
		c.add(w.Path, codeRevisionForm.At(w.At, "revision is %q; expected A to Z without I, O and Q, then AA, AB and so on", w.Value))
	}
	if w := c.Language; filled(w) && !source.ValidLanguage(w.Value) {
		c.add(w.Path, codeLanguageForm.At(w.At, "language is %q; expected a tag such as en, es or pt-BR", w.Value))
	}
	for _, p := range []*Person{c.Buyer, c.Dealer} {
		if p != nil && filled(p.Email) && !emailForm().MatchString(p.Email.Value) {
			c.add(p.Email.Path, codeTextEmail.At(p.Email.At, "email is %q; expected one address such as name@example.com", p.Email.Value))
		}
	}
	if e, t := c.Measured.Empty, c.Measured.OnCoupler; e.Set && e.Value <= 0 {
		c.add(e.Path, codeWeights.At(e.At, "empty weight is %s; expected more than nothing", e.Text))
	} else if t.Set && (t.Value <= 0 || e.Set && t.Value >= e.Value) {
		f := codeWeights.At(t.At, "tongue weight is %s; expected more than nothing and less than the empty weight", t.Text)
		if e.Set {
			f = f.WithRelated(e.At, "the empty weight is %s", e.Text)
		}
		c.add(t.Path, f)
	}
}

// filled reports whether an entry is present and not blank; blank entries are
// reported with the texts.
func filled(w word) bool { return w.Set && strings.TrimSpace(w.Value) != "" }

// The range of years of dates on a sheet: that of the model-year codes.
const (
	earliestYear = 1980
	latestYear   = 2079
)

func (c *sheetCheck) dates() {
	for _, d := range []*date{&c.Built, &c.Issued, &c.Delivered} {
		c.year(d)
	}
	c.notBefore(codeDateIssued, c.Issued, "issued", c.Built, "built")
	c.notBefore(codeDateDelivered, c.Delivered, "delivered", c.Built, "built")
	c.notLong(c.Delivered, "delivered")
	if c.Revision.Value == "A" { // a later guide may be issued at any time
		c.notLong(c.Issued, "issued")
	}
	start, what := c.Built, "built"
	if c.Delivered.Set {
		start, what = c.Delivered, "delivered"
	}
	for _, list := range [][]Change{c.Added, c.Removed} {
		for i := range list {
			c.year(&list[i].Date)
			c.notBefore(codeDateChange, list[i].Date, "changed", start, what)
		}
	}
}

// year reports and clears an impossible date, so that no other check uses it.
func (c *sheetCheck) year(d *date) {
	if y := d.Value.Year; d.Set && (y < earliestYear || y > latestYear) {
		c.add(d.Path, codeDateRange.At(d.At, "the year is %d; expected %d to %d", y, earliestYear, latestYear))
		d.Set = false
	}
}

func (c *sheetCheck) notBefore(code source.Code, d date, what string, start date, started string) {
	if d.Set && start.Set && d.Value.Before(start.Value) {
		c.add(d.Path, code.At(d.At, "%s on %s, before the unit was %s on %s", what, d.Value, started, start.Value).
			WithRelated(start.At, "%s here", started))
	}
}

// longAfter is the number of months after its build date within which a unit is usually
// delivered. Judgement.
const longAfter = 12

func (c *sheetCheck) notLong(d date, what string) {
	if d.Set && c.Built.Set && c.Built.Value.AddMonths(longAfter).Before(d.Value) {
		c.add(d.Path, codeDateFar.At(d.At, "%s on %s, more than a year after the unit was built on %s", what, d.Value, c.Built.Value).
			WithRelated(c.Built.At, "built here").WithHint("look whether the year is right"))
	}
}

func (c *sheetCheck) options() {
	built := map[string]source.Pos{}
	for _, o := range c.Options {
		if at, twice := built[o.Value]; twice && filled(o) {
			c.add(o.Path, codeOptionRepeated.At(o.At, "option %q stands here a second time", o.Value).WithRelated(at, "first here"))
			continue
		}
		built[o.Value] = o.At
	}
	added := map[string]Change{}
	for _, a := range c.Added {
		if !filled(a.Option) {
			continue
		}
		if at, twice := built[a.Option.Value]; twice {
			c.add(a.Option.Path, codeOptionAdded.At(a.Option.At, "option %q was fitted after delivery and also stands under options", a.Option.Value).
				WithRelated(at, "as built here").WithHint("keep the one that is true"))
		} else if first, twice := added[a.Option.Value]; twice {
			c.add(a.Option.Path, codeOptionRepeated.At(a.Option.At, "option %q is added a second time", a.Option.Value).WithRelated(first.Option.At, "first here"))
			continue
		}
		added[a.Option.Value] = a
	}
	removed := map[string]source.Pos{}
	for _, r := range c.Removed {
		if !filled(r.Option) {
			continue
		}
		at, twice := removed[r.Option.Value]
		_, had := built[r.Option.Value]
		add, later := added[r.Option.Value]
		switch {
		case twice:
			c.add(r.Option.Path, codeOptionRepeated.At(r.Option.At, "option %q is removed a second time", r.Option.Value).WithRelated(at, "first here"))
		case !had && !later:
			c.add(r.Option.Path, codeOptionRemoved.At(r.Option.At, "option %q is removed but was never on the unit", r.Option.Value))
		case !had && r.Date.Set && add.Date.Set && r.Date.Value.Before(add.Date.Value):
			c.add(r.Option.Path, codeOptionRemoved.At(r.Option.At, "option %q is removed before it was added", r.Option.Value).WithRelated(add.Option.At, "added here"))
		}
		removed[r.Option.Value] = r.Option.At
	}
}

func (c *sheetCheck) use() {
	u := c.Use
	if u == nil {
		return
	}
	for _, d := range []struct {
		given source.Given[quantity.Distance]
		most  quantity.Distance
	}{{u.PerMonth, milesPerMonthMost}, {u.Already, milesDrivenMost}} {
		if d.given.Set && (d.given.Value < 0 || d.given.Value > d.most) {
			c.add(d.given.Path, codeCountRange.At(d.given.At, "%s is %s; expected nothing to %.0f mi", d.given.Path, d.given.Text, float64(d.most)))
		}
	}
	for _, n := range []struct {
		given count
		most  int
	}{{u.LoadsPerWeek, loadsPerWeekMost}, {u.MotorHoursPerMonth, motorHoursMost}} {
		if n.given.Set && (n.given.Value < 0 || n.given.Value > n.most) {
			c.add(n.given.Path, codeCountRange.At(n.given.At, "%s is %s; expected 0 to %d", n.given.Path, n.given.Text, n.most))
		}
	}
}

func (c *sheetCheck) fitted() {
	axles, parts := places(c.Fitted.Axles), places(c.Fitted.Parts)
	var tires []word
	for i := range c.Fitted.Tires {
		t := &c.Fitted.Tires[i]
		tires = append(tires, t.Place)
		c.tireDate(t)
	}
	for _, list := range [][]word{axles, tires, parts} {
		first := map[string]source.Pos{}
		for _, p := range list {
			if !filled(p) {
				continue
			}
			if at, twice := first[p.Value]; twice {
				c.add(p.Path, codeFittedTwice.At(p.At, "place %q stands here a second time", p.Value).WithRelated(at, "first here"))
			}
			first[p.Value] = p.At
		}
	}
}

func places(parts []FittedPart) (out []word) {
	for _, p := range parts {
		out = append(out, p.Place)
	}
	return out
}

// tireDate checks the date code of a tire and keeps its four digits, week and
// year: 49 CFR 574.5, from memory.
func (c *sheetCheck) tireDate(t *FittedTire) {
	if !filled(t.DOT) {
		return
	}
	m := tireDateForm().FindStringSubmatch(t.DOT.Value)
	week, year, ok := 0, 0, m != nil
	if ok {
		week, year = int(m[1][0]-'0')*10+int(m[1][1]-'0'), int(m[2][0]-'0')*10+int(m[2][1]-'0')
		ok = 1 <= week && week <= 53
	}
	if !ok {
		c.add(t.DOT.Path, codeTireDate.At(t.DOT.At, "date code is %q; expected week and year in four digits, such as 3426, the week 01 to 53", t.DOT.Value))
		return
	}
	t.DOT.Value = m[1] + m[2]
	// The earliest day the week can begin under any way of counting weeks.
	begins := quantity.DateOf(time.Date(2000+year, time.January, 1, 0, 0, 0, 0, time.UTC)).AddDays((week-1)*7 - 6)
	if c.Issued.Set && c.Issued.Value.Before(begins) {
		c.add(t.DOT.Path, codeTireDate.At(t.DOT.At, "date code %s is week %d of %d, after this guide's date %s", t.DOT.Value, week, 2000+year, c.Issued.Value).
			WithRelated(c.Issued.At, "issued here"))
	}
}

// Identity is whose a sheet is: of thousands, no more is kept.
type Identity struct {
	File                                   string
	Faulty                                 bool
	Serial, VIN, Model, Revision, Language word
}

// Identity returns whose a sheet is; nil for none.
func (s *Sheet) Identity() *Identity {
	if s == nil {
		return nil
	}
	return &Identity{s.File, s.Faulty, s.Serial, s.VIN, s.Model, s.Revision, s.Language}
}

// Named adds the unit of this sheet to findings.
func (s *Sheet) Named(found source.Findings) source.Findings { return s.Identity().Named(found) }

// Named adds the unit to findings.
func (s *Identity) Named(found source.Findings) source.Findings {
	at := s.Model.At
	if at.File == "" {
		at = source.Pos{File: s.File, Line: 1, Column: 1}
	}
	return found.About(s.Serial.Value, at)
}

// CheckRun reports serial numbers and vins that occur on several sheets of one run.
// Serial numbers that differ only in case are the same folder on some computers.
func CheckRun(sheets []*Identity) source.Findings {
	var findings source.Findings
	twice := func(code source.Code, what string, get func(*Identity) word) {
		first := map[string]word{}
		for _, s := range sheets {
			if s == nil || !filled(get(s)) {
				continue
			}
			w := get(s)
			key := strings.ToLower(w.Value)
			if earlier, known := first[key]; known {
				f := code.At(w.At, "%s %q is that of another sheet", what, w.Value).WithPath(w.Path).WithRelated(earlier.At, "%s %q here", what, earlier.Value)
				findings.Add(s.Named(source.Findings{f})...)
				continue
			}
			first[key] = w
		}
	}
	twice(codeSerialTwice, "serial", func(s *Identity) word { return s.Serial })
	twice(codeVINTwice, "vin", func(s *Identity) word { return s.VIN })
	return findings.Sorted()
}
