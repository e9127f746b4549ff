package source

import (
	"fmt"
	"io"
	"slices"
	"strings"
)

// WriteText prints the findings for a person, one or more lines each, with the
// serial number of the unit. Findings that are the same for many units are printed
// once. All text from files is passed through [Printable].
func (fs Findings) WriteText(w io.Writer) error {
	var b strings.Builder
	line := func(format string, args ...any) {
		b.WriteString(Printable(fmt.Sprintf(format, args...)) + "\n")
	}
	for _, g := range grouped(fs.Sorted()) {
		f, at, about := g[0], "", ""
		if f.Pos.File != "" {
			at = f.Pos.printable() + ": "
		}
		if f.Unit != "" {
			about = " (" + f.Unit + ")"
		}
		var also []string // in other sheets
		if len(g) > 1 && g[1].Pos == f.Pos {
			var units []string
			for _, same := range g {
				units = append(units, same.Unit)
			}
			about = " (" + shortened(units, f.Severity == Error) + ")"
		} else {
			for _, same := range g[1:] {
				also = append(also, same.Pos.printable()+" ("+same.Unit+")")
			}
		}
		line("%s%s: %s [%s]%s", at, f.Severity, f.Message, f.Code, about)
		if len(also) > 0 {
			line("  also: %s", shortened(also, f.Severity == Error))
		}
		for _, r := range f.Related {
			line("  %s: %s", r.Pos.printable(), r.Message)
		}
		for _, h := range f.Hints {
			line("  hint: %s", h)
		}
		for _, m := range f.Mends {
			line("  mend: %s", m)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// toldApart is the number of sheets up to which equal findings are printed separately,
// so that a user who has to correct each sheet can go from one to the next.
const toldApart = 3

// grouped groups findings that are equal for several units: at the same position in
// the line or the templates, or each in its own sheet.
func grouped(sorted Findings) (groups []Findings) {
	place := map[string]int{} // message → index of its group
	for _, f := range sorted {
		if f.Unit == "" {
			groups = append(groups, Findings{f})
			continue
		}
		said := fmt.Sprintf("%d %q %q %q %v %v", f.Severity, f.Code, f.Message, f.Hints, f.Mends, f.Related)
		if f.Pos.File != f.Sheet.File {
			said += " at " + f.Pos.String()
		}
		if i, known := place[said]; known {
			groups[i] = append(groups[i], f)
			continue
		}
		place[said] = len(groups)
		groups = append(groups, Findings{f})
	}
	var out []Findings
	for _, g := range groups {
		if len(g) > toldApart || len(g) > 1 && g[0].Pos == g[1].Pos {
			out = append(out, g)
			continue
		}
		for _, f := range g {
			out = append(out, Findings{f})
		}
	}
	slices.SortStableFunc(out, func(a, b Findings) int { return a[0].Pos.compare(b[0].Pos) })
	return out
}

// shortened joins a list, truncated unless all is set.
func shortened(list []string, all bool) string {
	const shown = 5
	if all || len(list) <= shown+1 {
		return strings.Join(list, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(list[:shown], ", "), len(list)-shown)
}
