package derive

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"time"

	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Limit is a check of values as an engineer would make it.
type Limit struct {
	ID       string
	Severity source.Severity
	Protects string // as in [source.Code]
	When     logic.Condition
	// MaxReserve is the ratio of a rating to the demand on it above which a typing error is
	// likely; the default is 2. It is higher if one size of part serves all models.
	MaxReserve float64
	// Convex says that the sums of option weights for which the limit is kept form a
	// convex set: see [Verdict]. If they do not, Ways reports for each way in which the
	// limit can be kept whether it is.
	Convex bool
	Ways   func(*Eval) []bool
	// NoMargin says that the limit checks whether a thing is there, or is the right one
	// of several: it compares no two figures, so there is no margin to
	// report.
	NoMargin bool
	// Check reports violations of the limit to the Eval. It reads values through the
	// Eval as formulas do. If one is absent, the limit is unchecked, and the reports
	// are dropped.
	Check func(*Eval)

	claim string // "limit ID"
}

// Code returns the code of the limit's findings.
func (l *Limit) Code() source.Code {
	return source.Code{ID: l.ID, Severity: l.Severity, Protects: l.Protects}
}

// limits are all limits, sorted by id. They are registered during package initialization and immutable
// afterwards.
var limits []*Limit

// limit registers a check. It must be called during package initialization.
func limit(l Limit) *Limit {
	l.claim = LimitClaim + l.ID
	at := slices.IndexFunc(limits, func(other *Limit) bool { return other.ID > l.ID })
	if at < 0 {
		at = len(limits)
	}
	limits = slices.Insert(limits, at, &l)
	return &l
}

// Codes returns the codes of the findings this package can report, sorted by id.
func Codes() []source.Code {
	var out []source.Code
	for _, l := range limits {
		out = append(out, l.Code())
	}
	out = append(out, partIgnoredCode)
	slices.SortFunc(out, func(a, b source.Code) int { return strings.Compare(a.ID, b.ID) })
	return slices.CompactFunc(out, func(a, b source.Code) bool { return a.ID == b.ID })
}

// figure is one side of a comparison: a value, an entry, a figure calculated by the limit, or
// one stated by a rule.
type figure struct {
	Input         // its name and text
	exact any     // the exact figure, as in [Value]
	from  []Input // values and entries that it was calculated from, in the order in which they were read; nil if it is one itself
}

// sources returns the values and entries that a figure is, or was calculated from.
func (f figure) sources() []Input {
	if f.from == nil && (f.Name != "" || f.At != source.Pos{}) {
		return []Input{f.Input}
	}
	return f.from
}

// of returns the figure of a value.
func of[T any](e *Eval, k Key[T]) figure {
	return figure{exact: Get(e, k), Input: Input{Name: k.Name()}}
}

// said returns the text of a figure in findings.
func (e *Eval) said(f figure) string {
	if v := e.run.find(f.Name); v != nil {
		return v.Print(e.print())
	}
	return f.Text
}

// entry returns the figure of an entry of sheet or line.
func entry[T any](e *Eval, g source.Given[T]) figure {
	return figure{Input: inputOf(g), exact: Read(e, g)}
}

// fromRule returns a figure stated by a rule, which is also its name.
func (e *Eval) fromRule(rule Source, q quantity.Quantity, r quantity.Rounding) figure {
	return figure{Input: Input{Path: rule.String(), Text: e.text(q, r)}, exact: q}
}

// calculated returns a figure calculated by a limit from others; what is its name.
func (e *Eval) calculated(what string, q quantity.Quantity, r quantity.Rounding, from figure, more ...figure) figure {
	f := figure{Input: Input{Path: what, Text: e.text(q, r)}, exact: q, from: slices.Clip(from.sources())}
	for _, g := range more {
		f.from = append(f.from, g.sources()...)
	}
	return f
}

// number returns a figure for comparison; scaled is false if ratios of it are not meaningful,
// as for dates and temperatures.
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

// Order is the required order of the first figure of a limit to the second.
type Order int

// The orders.
const (
	AtLeast Order = iota
	AtMost
	Above
	Below
)

// String returns the order in words: at least, at most, above, below.
func (o Order) String() string { return [...]string{"at least", "at most", "above", "below"}[o] }

// Compared is one side of a comparison.
type Compared struct {
	Input
	Exact any // the exact figure, as in [Value]
}

// Margin is one comparison that a limit made, kept or not.
type Margin struct {
	Code  source.Code
	Have  Compared // a value, or an entry; if it has neither name nor position, Path is its description
	Order Order
	Need  Compared // likewise
	Spare float64  // from Need to Have on the safe side, in percent of Need; negative if violated, NaN if not meaningful
	Kept  bool
	Of    quantity.Dimension // dimension of what is compared; [quantity.DimCount] for counts

	maxReserve float64 // of the limit
}

// Used returns the utilization: what is needed divided by what there is, whichever side of the
// comparison each is on. It is NaN if that is not meaningful.
func (m Margin) Used() float64 {
	if m.Order == AtMost || m.Order == Below {
		return 1 - m.Spare/100
	}
	return 1 / (1 + m.Spare/100)
}

// Sides returns what is needed and what there is.
func (m Margin) Sides() (needs, has Compared) {
	if m.Order == AtMost || m.Order == Below {
		return m.Have, m.Need
	}
	return m.Need, m.Have
}

// compare compares two figures and records the margin.
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
	e.margins = append(e.margins, &Margin{e.limit.Code(), Compared{have.Input, have.exact}, o, Compared{need.Input, need.exact}, spare, kept, dimension, cmp.Or(e.limit.MaxReserve, 2)})
	return kept
}

// require reports a conflict if two figures are not in the given order. The position of the finding
// is that of have's entry; format is as for conflict, have first.
func (e *Eval) require(have figure, o Order, need figure, format string) (kept bool) {
	kept = e.compare(have, o, need)
	if !kept {
		e.report(e.conflict(have, need, format))
	}
	return kept
}

// report adds a finding of the limit.
func (e *Eval) report(f source.Finding) { e.found = append(e.found, f) }

// hint adds a hint to the finding that was reported last.
func (e *Eval) hint(format string, args ...any) {
	last := &e.found[len(e.found)-1]
	*last = last.WithHint(format, args...)
}

// at returns a finding of the limit at a position.
func (e *Eval) at(pos source.Pos, format string, args ...any) source.Finding {
	return e.limit.Code().At(pos, format, args...)
}

// entries returns the entries among inputs and those that the values among them were calculated from, each once.
func (r *run) entries(inputs []Input, seen map[Input]bool) (out []Input) {
	for _, in := range inputs {
		if seen[in] {
			continue
		}
		seen[in] = true
		if v := r.find(in.Name); v != nil {
			out = append(out, r.entries(v.Inputs, seen)...)
		} else if in.Name == "" {
			out = append(out, in)
		}
	}
	return out
}

// conflict returns the finding that two figures conflict. Its position is that of the first entry
// of edit, the figure that a person must change; all other entries of both are related
// positions. format has a %s for each figure, edit first.
func (e *Eval) conflict(edit, other figure, format string) source.Finding {
	f := e.at(e.Build.Sheet.Model.At, format, e.said(edit), e.said(other))
	entries := e.run.entries(slices.Concat(edit.sources(), other.sources()), map[Input]bool{})
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

// same is the relative difference up to which two figures are equal, because of errors of unit
// conversion, as in package quantity.
const same = 1e-9

// short reports whether have is less than need by more than errors of conversion.
func short[T ~float64](have, need T) bool {
	return float64(need-have) > same*max(1, float64(max(need, -need)))
}

// atLeast returns the check that one value is at least another.
func atLeast[T ~float64](have, need Key[T], format string) func(*Eval) {
	return func(e *Eval) { e.require(of(e, have), AtLeast, of(e, need), format) }
}

// atMost returns the check that one value is at most another.
func atMost[T ~float64](have, most Key[T], format string) func(*Eval) {
	return func(e *Eval) { e.require(of(e, have), AtMost, of(e, most), format) }
}

// wrong returns a finding about a single entry, at its position.
func wrong[T any](e *Eval, g source.Given[T], format string, args ...any) source.Finding {
	return e.at(g.At, format, args...).WithPath(g.Path)
}

// Reserves returns the reserve of each entry of a component that a limit compares with a demand.
// If several limits use an entry, the smallest counts, and all entries of a figure have the
// reserve of the figure. Counts says which limits count; nil stands for all.
func (vs *Values) Reserves(counts func(limit string) bool) map[source.Pos]Reserve {
	rooms := map[source.Pos]Reserve{}
	for _, m := range vs.margins {
		if counts != nil && !counts(m.Code.ID) {
			continue
		}
		_, capacity := m.Sides()
		factor := 1 / m.Used()
		if math.IsNaN(factor) || factor < 0 {
			continue
		}
		for _, in := range vs.run.entries([]Input{capacity.Input}, map[Input]bool{}) {
			if old, met := rooms[in.At]; !met || factor/m.maxReserve < old.Factor/old.Max {
				rooms[in.At] = Reserve{Path: in.Path, Text: in.Text, Factor: factor, Max: m.maxReserve}
			}
		}
	}
	return rooms
}

// Reserve is the ratio of a rating to the demand on it, its reserve factor, and the ratio above which
// a typing error is likely.
type Reserve struct {
	Path, Text  string // of the entry
	Factor, Max float64
}
