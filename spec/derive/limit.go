package derive

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Limit is a check over values that an engineer would sign.
type Limit struct {
	Code source.Code
	When logic.Condition
	// Check returns nil when the limit is kept. It gets values through the
	// Eval like a formula does; one that is absent makes the limit unchecked,
	// and what Check returns is then dropped.
	Check func(*Eval) []source.Finding
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
		out = append(out, l.Code)
	}
	slices.SortFunc(out, func(a, b source.Code) int { return strings.Compare(a.ID, b.ID) })
	return slices.CompactFunc(out, func(a, b source.Code) bool { return a.ID == b.ID })
}

// figure is one side of a clash: how it prints and the entries of sheet and
// line it came from, in the order in which they were read.
type figure struct {
	text    string
	entries []Input
}

// of makes a figure of a value, walking its inputs down to the entries.
func of[T any](e *Eval, k Key[T]) figure {
	v := e.run.value(k.name)
	if v == nil {
		return figure{}
	}
	return figure{v.Print(quantity.English), e.run.entries(v, map[string]bool{})}
}

// entry makes a figure of an entry of sheet or line.
func entry[T any](g source.Given[T]) figure {
	return figure{g.Text, []Input{{Path: g.Path, Text: g.Text, At: g.At}}}
}

// entries lists the entries a value rests on, each once.
func (r *run) entries(v *Value, seen map[string]bool) []Input {
	var out []Input
	for _, in := range v.Inputs {
		id := cmp.Or(in.Name, in.At.String()+" "+in.Text)
		if seen[id] {
			continue
		}
		seen[id] = true
		switch {
		case in.Name == "":
			out = append(out, in)
		case r.values[in.Name] != nil:
			out = append(out, r.entries(r.values[in.Name], seen)...)
		}
	}
	return out
}

// clash reports two figures that do not go together. It stands at the first
// entry behind edit, the figure a person must change; every other entry behind
// either is named as a related place. says has a %s for each figure, edit first.
func (e *Eval) clash(code source.Code, edit, other figure, says string) source.Finding {
	f := code.At(e.Build.Sheet.Model.At, says, edit.text, other.text)
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

// atLeast reports a clash when the value have is less than the value need. The
// finding stands at have's entry; says is as for clash, have first.
func atLeast[T ~float64](e *Eval, code source.Code, have, need Key[T], says string) []source.Finding {
	if !short(Get(e, have), Get(e, need)) {
		return nil
	}
	return []source.Finding{e.clash(code, of(e, have), of(e, need), says)}
}

// atMost reports a clash when the value have is more than the value most. The
// finding stands at have's entry; says is as for clash, have first.
func atMost[T ~float64](e *Eval, code source.Code, have, most Key[T], says string) []source.Finding {
	if !short(Get(e, most), Get(e, have)) {
		return nil
	}
	return []source.Finding{e.clash(code, of(e, have), of(e, most), says)}
}

// wrong reports an entry that is wrong by itself, at its place.
func wrong[T any](code source.Code, g source.Given[T], format string, args ...any) source.Finding {
	f := code.At(g.At, "%s", fmt.Sprintf(format, args...))
	f.Path = g.Path
	return f
}
