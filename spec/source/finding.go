package source

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Pos is a place in a file. Line and Column start at 1; columns count
// characters, not bytes. A zero Line means the file as a whole.
type Pos struct {
	File   string // as the user typed it, or a path inside the embedded line or templates
	Line   int
	Column int
}

// String gives "file:line:column", or less when less is known.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// printable is the place as it is printed for a person.
func (p Pos) printable() string {
	p.File = printableFile(p.File)
	return p.String()
}

// compare orders places by file, line and column.
func (p Pos) compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column))
}

// Severity says what a finding means for the guide.
type Severity int

// An Error stops the guide from being written; a Warning and a Note do not.
const (
	Error Severity = iota
	Warning
	Note
)

// String gives the word that is printed: error, warning or note.
func (s Severity) String() string { return [...]string{"error", "warning", "note"}[s] }

// MarshalText lets JSON carry the word.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Code names one check. Each check has one code, declared once, so that the
// list the program prints is the list the program uses.
type Code struct {
	ID       string
	Severity Severity
	Protects string // one sentence: what goes wrong for the owner when this is ignored
}

// At makes a finding of this code at a place.
func (c Code) At(at Pos, format string, args ...any) Finding {
	return Finding{Severity: c.Severity, Code: c.ID, Pos: at, Message: fmt.Sprintf(format, args...)}
}

// Related is a second place that has to do with a finding, with its own words.
type Related struct {
	Pos     Pos
	Message string
}

// Mend is one smallest change of options that makes a sheet valid.
type Mend struct {
	Add    []string `json:"add"`
	Remove []string `json:"remove"`
}

// String gives the change as an instruction: "add front-box, remove winch-plate".
func (m Mend) String() string {
	var parts []string
	if len(m.Add) > 0 {
		parts = append(parts, "add "+strings.Join(m.Add, " and "))
	}
	if len(m.Remove) > 0 {
		parts = append(parts, "remove "+strings.Join(m.Remove, " and "))
	}
	return strings.Join(parts, ", ")
}

// Finding is what a check reports.
type Finding struct {
	Severity Severity
	Code     string
	Pos      Pos
	Message  string    // lower case, no full stop: what is there and what was expected
	Path     string    // the place in the data, such as fitted.tires[1].dot; may be empty
	Related  []Related // other places that take part, such as the rule that was broken
	Hints    []string  // instructions, each a fix that works
	Mends    []Mend    // for option conflicts: smallest changes that make the sheet valid
}

// WithRelated adds a second place.
func (f Finding) WithRelated(at Pos, format string, args ...any) Finding {
	f.Related = append(slices.Clone(f.Related), Related{at, fmt.Sprintf(format, args...)})
	return f
}

// WithHint adds an instruction.
func (f Finding) WithHint(format string, args ...any) Finding {
	f.Hints = append(slices.Clone(f.Hints), fmt.Sprintf(format, args...))
	return f
}

// Findings is a list of findings, in any order until sorted.
type Findings []Finding

// Add appends findings.
func (fs *Findings) Add(f ...Finding) { *fs = append(*fs, f...) }

// HasErrors tells whether any finding stops the guide.
func (fs Findings) HasErrors() bool {
	return slices.ContainsFunc(fs, func(f Finding) bool { return f.Severity == Error })
}

// Sorted returns the findings in total order (file, line, column, severity,
// code, message) without repeats.
func (fs Findings) Sorted() Findings {
	out := slices.Clone(fs)
	slices.SortStableFunc(out, func(a, b Finding) int {
		return cmp.Or(a.Pos.compare(b.Pos), cmp.Compare(a.Severity, b.Severity),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(out, func(a, b Finding) bool {
		return a.Pos == b.Pos && a.Code == b.Code && a.Message == b.Message
	})
}

// WriteText prints the findings for a person, one or more lines each. Whatever
// they quote from files is made [Printable].
func (fs Findings) WriteText(w io.Writer) error {
	var b strings.Builder
	line := func(format string, args ...any) {
		b.WriteString(Printable(fmt.Sprintf(format, args...)) + "\n")
	}
	for _, f := range fs.Sorted() {
		at := ""
		if f.Pos.File != "" {
			at = f.Pos.printable() + ": "
		}
		line("%s%s: %s [%s]", at, f.Severity, f.Message, f.Code)
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

// MarshalJSON gives the shape that other programs rely on: severity, code,
// file, line, column, message, path, related, hints, mends. Lists are never null.
func (f Finding) MarshalJSON() ([]byte, error) {
	type related struct {
		File    string `json:"file"`
		Line    int    `json:"line"`
		Column  int    `json:"column"`
		Message string `json:"message"`
	}
	rel := make([]related, 0, len(f.Related))
	for _, r := range f.Related {
		rel = append(rel, related{r.Pos.File, r.Pos.Line, r.Pos.Column, r.Message})
	}
	mends := make([]Mend, 0, len(f.Mends))
	for _, m := range f.Mends {
		mends = append(mends, Mend{Add: notNil(m.Add), Remove: notNil(m.Remove)})
	}
	return json.Marshal(struct {
		Severity Severity  `json:"severity"`
		Code     string    `json:"code"`
		File     string    `json:"file"`
		Line     int       `json:"line"`
		Column   int       `json:"column"`
		Message  string    `json:"message"`
		Path     string    `json:"path,omitempty"`
		Related  []related `json:"related"`
		Hints    []string  `json:"hints"`
		Mends    []Mend    `json:"mends"`
	}{f.Severity, f.Code, f.Pos.File, f.Pos.Line, f.Pos.Column, f.Message, f.Path, rel, notNil(f.Hints), mends})
}

func notNil(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
