package derive

import (
	"math"
	"slices"
	"strings"
	"time"

	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Limit is a check over values that an engineer would sign.
type Limit struct {
	ID       string
	Severity source.Severity
	Protects string // as of [source.Code]
	When     logic.Condition
	// Roomy is from how many times the demand on a rating looks like a slip of the
	// pen; 2 where left out. It stands higher where one size of part serves all.
	Roomy float64
	// Convex says that those weights of options, added up, that keep the limit form a
	// convex set: see [Verdict]. Where they do not, Ways says it of each way in which
	// the limit can be kept.
	Convex bool
	Ways   func(*Eval) []bool
	// NoMargin says that the limit looks whether a thing is there, or is the right
	// one of several: it holds no two figures together, so that calculations have no
	// margin of it to tell.
	NoMargin bool
	// Check reports to the Eval where the limit is not kept. It gets values through
	// it like a formula does; one that is absent makes the limit unchecked,
	// and what Check reported is then dropped.
	Check func(*Eval)
}

// Code names the limit in findings.
func (l *Limit) Code() source.Code {
	return source.Code{ID: l.ID, Severity: l.Severity, Protects: l.Protects}
}

// limits is filled while the package is initialised and
// never changes afterwards.
var limits []*Limit

// limit registers a check. Called only while the package is initialised.
func limit(l Limit) *Limit {
	limits = append(limits, &l)
	return &l
}

// Codes lists the findings this package can report, sorted by id.
func Codes() []source.Code {
	var out []source.Code
	for _, l := range limits {
		out = append(out, l.Code())
	}
	out = append(out, partIgnoredCode)
	slices.SortFunc(out, func(a, b source.Code) int { return strings.Compare(a.ID, b.ID) })
	return slices.CompactFunc(out, func(a, b source.Code) bool { return a.ID == b.ID })
}

// figure is one side of a comparison: a value, an entry, or what the limit
// itself worked out or a rule states.
type figure struct {
	Input           // what it is called; text as it prints in the finding
	exact   any     // the number behind it, as in [Value]
	entries []Input // of sheet and line it came from, in the order in which they were read
}

// of makes a figure of a value, walking its inputs down to the entries.
func of[T any](e *Eval, k Key[T]) figure {
	exact := Get(e, k)
	v := e.run.value(k.name)
	return figure{Input{Name: k.name, Text: v.text}, exact, e.run.entries(v, map[Input]bool{})}
}

// entry makes a figure of an entry of sheet or line.
func entry[T any](e *Eval, g source.Given[T]) figure {
	in := Input{Path: g.Path, Text: g.Text, At: g.At}
	return figure{in, Read(e, g), []Input{in}}
}

// ruled makes a figure of what a rule states. Its source is what it is called.
func (e *Eval) ruled(rule Source, q quantity.Quantity, r quantity.Rounding) figure {
	return figure{Input: Input{Path: rule.String(), Text: e.text(q, r)}, exact: q}
}

// worked makes a figure of what a limit works out by itself; what says so in
// words. The figures it comes from lend their entries.
func (e *Eval) worked(what string, q quantity.Quantity, r quantity.Rounding, from figure, more ...figure) figure {
	f := figure{Input: Input{Path: what, Text: e.text(q, r)}, exact: q}
	for _, g := range append([]figure{from}, more...) {
		f.entries = append(f.entries, g.entries...)
	}
	return f
}

// number gives a figure to compare with; scaled is false where a share of it
// says nothing, as of dates and temperatures.
func (f figure) number() (x float64, scaled bool) {
	switch exact := f.exact.(type) {
	case quantity.Temperature:
		return exact.Base(), false
	case quantity.Quantity:
		return exact.Base(), true
	case int:
		return float64(exact), true
	case quantity.Date:
		return float64(quantity.Date{Year: 2000, Month: time.January, Day: 1}.DaysUntil(exact)), false
	}
	return math.NaN(), false
}

// Order is how the first figure of a limit must stand to the second.
type Order int

// The orders.
const (
	AtLeast Order = iota
	AtMost
	Above
	Below
)

// String gives the words: at least, at most, above, below.
func (o Order) String() string { return [...]string{"at least", "at most", "above", "below"}[o] }

// Compared is one side of a comparison.
type Compared struct {
	Input
	Exact any // the number behind it, as in [Value]
}

// Margin is one comparison that a limit made, kept or not.
type Margin struct {
	Code  source.Code
	Have  Compared // a value, or an entry; with neither name nor place, what Path says in words
	Order Order
	Need  Compared // likewise
	Spare float64  // from Need to Have on the safe side, in percent of Need; negative when broken, NaN where a share says nothing
	Kept  bool
	Of    quantity.Dimension // what is compared; [quantity.DimCount] for counts
}

// Used is the share of what there is that is needed: what is needed divided by
// what there is, whichever side of the comparison it stands on. NaN where a share
// says nothing.
func (m Margin) Used() float64 {
	if m.Order == AtMost || m.Order == Below {
		return 1 - m.Spare/100
	}
	return 1 / (1 + m.Spare/100)
}

// Sides are what is needed and what there is.
func (m Margin) Sides() (needs, has Compared) {
	if m.Order == AtMost || m.Order == Below {
		return m.Have, m.Need
	}
	return m.Need, m.Have
}

// compare holds one figure against another, and keeps the margin.
func (e *Eval) compare(have figure, o Order, need figure) (kept bool) {
	h, scaled := have.number()
	n, _ := need.number()
	clear := h - n
	switch o {
	case AtLeast:
		kept = !short(h, n)
	case AtMost:
		kept, clear = !short(n, h), n-h
	case Above:
		kept = h > n
	case Below:
		kept, clear = h < n, n-h
	}
	spare := math.NaN()
	if scaled && n != 0 {
		spare = 100 * clear / math.Abs(n)
	}
	dimension := quantity.DimCount
	if q, ok := have.exact.(quantity.Quantity); ok {
		dimension = q.Dimension()
	}
	e.margins = append(e.margins, Margin{e.limit.Code(), Compared{have.Input, have.exact}, o, Compared{need.Input, need.exact}, spare, kept, dimension})
	return kept
}

// demand reports a clash when two figures do not stand in an order. The finding
// stands at have's entry; says is as for clash, have first.
func (e *Eval) demand(have figure, o Order, need figure, says string) (kept bool) {
	kept = e.compare(have, o, need)
	if !kept {
		e.report(e.clash(have, need, says))
	}
	return kept
}

// report adds a finding of the limit.
func (e *Eval) report(f source.Finding) { e.found = append(e.found, f) }

// hint adds an instruction to the finding that was reported last.
func (e *Eval) hint(format string, args ...any) {
	last := &e.found[len(e.found)-1]
	*last = last.WithHint(format, args...)
}

// at makes a finding of the limit at a place.
func (e *Eval) at(pos source.Pos, format string, args ...any) source.Finding {
	return e.limit.Code().At(pos, format, args...)
}

// entries lists the entries a value rests on, each once.
func (r *run) entries(v *Value, seen map[Input]bool) (out []Input) {
	for _, in := range v.Inputs {
		id := Input{At: in.At, Text: in.Text}
		if in.Name != "" {
			id = Input{Name: in.Name}
		}
		if seen[id] {
			continue
		}
		seen[id] = true
		switch {
		case in.Name == "":
			out = append(out, in)
		case r.known(in.Name) != nil:
			out = append(out, r.entries(r.known(in.Name), seen)...)
		}
	}
	return out
}

// clash reports two figures that do not go together. It stands at the first
// entry behind edit, the figure a person must change; every other entry behind
// either is named as a related place. says has a %s for each figure, edit first.
func (e *Eval) clash(edit, other figure, says string) source.Finding {
	f := e.at(e.Build.Sheet.Model.At, says, edit.Text, other.Text)
	entries := slices.Concat(edit.entries, other.entries)
	first := slices.IndexFunc(entries, func(in Input) bool { return in.Path != featurePath })
	if first >= 0 {
		f.Pos, f.Path = entries[first].At, entries[first].Path
	}
	seen := map[source.Pos]bool{f.Pos: true}
	for _, in := range entries {
		if seen[in.At] {
			continue
		}
		seen[in.At] = true
		f = f.WithRelated(in.At, "%s is %s", in.Path, in.Text)
	}
	return f
}

// same is how far two figures may differ and still be one figure: the noise of
// unit conversion, as in package quantity.
const same = 1e-9

// short tells whether have is less than need, beyond the noise of conversion.
func short[T ~float64](have, need T) bool {
	return float64(need-have) > same*max(1, float64(max(need, -need)))
}

// atLeast is the check that one value is at least another.
func atLeast[T ~float64](have, need Key[T], says string) func(*Eval) {
	return func(e *Eval) { e.demand(of(e, have), AtLeast, of(e, need), says) }
}

// atMost is the check that one value is at most another.
func atMost[T ~float64](have, most Key[T], says string) func(*Eval) {
	return func(e *Eval) { e.demand(of(e, have), AtMost, of(e, most), says) }
}

// wrong makes a finding of an entry that is wrong by itself, at its place.
func wrong[T any](e *Eval, g source.Given[T], format string, args ...any) source.Finding {
	f := e.at(g.At, format, args...)
	f.Path = g.Path
	return f
}

// Rooms gives for each entry of the components that a limit holds against a
// demand how many times the demand it is, over how many times looks like a slip
// of the pen: below 1 is nothing unusual. Where several limits look at an entry
// the tightest counts, and of all entries behind a figure each has its room.
func (vs *Values) Rooms() map[source.Pos]Room { return vs.RoomsOf(func(string) bool { return true }) }

// RoomsOf is Rooms as some limits see them.
func (vs *Values) RoomsOf(counts func(limit string) bool) map[source.Pos]Room {
	rooms := map[source.Pos]Room{}
	for _, m := range vs.margins {
		if !counts(m.Code.ID) {
			continue
		}
		capacity, times := m.Have, 1+m.Spare/100
		if m.Order == AtMost || m.Order == Below {
			capacity, times = m.Need, 1/(1-m.Spare/100)
		}
		usual := 2.0
		for _, l := range limits {
			if l.ID == m.Code.ID && l.Roomy > 0 {
				usual = l.Roomy
			}
		}
		if math.IsNaN(times) || times < 0 {
			continue
		}
		for _, in := range vs.entriesOf(capacity.Input, map[string]bool{}) {
			if old, met := rooms[in.At]; !met || times/usual < old.Times/old.Usual {
				rooms[in.At] = Room{Path: in.Path, Text: in.Text, Times: times, Usual: usual}
			}
		}
	}
	return rooms
}

// Room is how much more a rating gives than is asked of it.
type Room struct {
	Path, Text   string // of the entry
	Times, Usual float64
}

// entriesOf lists the entries a figure rests on.
func (vs *Values) entriesOf(in Input, seen map[string]bool) (out []Input) {
	if in.Name == "" {
		return []Input{in}
	}
	if v := vs.find(in.Name); v != nil && !seen[in.Name] {
		seen[in.Name] = true
		for _, from := range v.Inputs {
			out = append(out, vs.entriesOf(from, seen)...)
		}
	}
	return out
}
