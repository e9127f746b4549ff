package source

import (
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
)

// Pos is a position in a file. Line and Column start at 1; columns count
// characters, not bytes. A zero Line means the whole file.
type Pos struct {
	File   string // as the user typed it, or a path inside the embedded line or templates
	Line   int
	Column int
}

// String returns "file:line:column", or less if less is known.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Column == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Column)
}

// printable returns the position as printed for the user.
func (p Pos) printable() string {
	p.File = printableFile(p.File)
	return p.String()
}

// compare orders positions by file, line and column.
func (p Pos) compare(q Pos) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Column, q.Column))
}

// Severity is the consequence of a finding for the guide.
type Severity int

// An Error prevents the guide from being written; a Warning and a Note do not.
const (
	Error Severity = iota
	Warning
	Note
)

// String returns the word that is printed: error, warning or note.
func (s Severity) String() string { return [...]string{"error", "warning", "note"}[s] }

// MarshalText implements [encoding.TextMarshaler].
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Code identifies one check. Each check has one code, declared once, so that the
// list the program prints is the list the program uses.
type Code struct {
	ID       string
	Severity Severity
	Protects string // one sentence: what goes wrong for the owner when this is ignored
}

// At returns a finding with this code at a position.
func (c Code) At(at Pos, format string, args ...any) Finding {
	return Finding{Severity: c.Severity, Code: c.ID, Pos: at, Message: fmt.Sprintf(format, args...)}
}

// CodeList is the codes of a package; declaring a code adds it to the list.
type CodeList []Code

// Error declares the code of a finding that prevents the guide.
func (l *CodeList) Error(id, protects string) Code { return l.declare(Code{id, Error, protects}) }

// Warning declares the code of a warning.
func (l *CodeList) Warning(id, protects string) Code { return l.declare(Code{id, Warning, protects}) }

// Note declares the code of a note.
func (l *CodeList) Note(id, protects string) Code { return l.declare(Code{id, Note, protects}) }

func (l *CodeList) declare(c Code) Code {
	*l = append(*l, c)
	return c
}

// Related is another position that is relevant to a finding, with a message of its own.
type Related struct {
	Pos     Pos
	Message string
}

// Mend is a smallest change of options that makes a sheet valid.
type Mend struct {
	Add    []string `json:"add"`
	Remove []string `json:"remove"`
}

// String returns the change as an instruction: "add front-box, remove winch-plate".
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

// Finding is the result of a check.
type Finding struct {
	Severity Severity
	Code     string
	Pos      Pos
	Message  string    // lower case, no full stop: what is there and what was expected
	Path     string    // path in the data, such as fitted.tires[1].dot; may be empty
	Related  []Related // other relevant positions, such as that of the violated rule
	Hints    []string  // instructions, each a fix that works
	Mends    []Mend    // for option conflicts: smallest changes that make the sheet valid
	Unit     string    // serial number of the unit it is about; empty when it is about all
	Sheet    Pos       // where the sheet of that unit orders what the finding is about
}

// WithPath returns the finding with the path of the entry that it is about.
func (f Finding) WithPath(path string) Finding {
	f.Path = path
	return f
}

// WithRelated returns the finding with another related position.
func (f Finding) WithRelated(at Pos, format string, args ...any) Finding {
	f.Related = append(slices.Clone(f.Related), Related{at, fmt.Sprintf(format, args...)})
	return f
}

// MovedTo returns the finding at a position in another file, with its own as the first
// related one; the path in its own file is left out.
func (f Finding) MovedTo(at Pos, format string, args ...any) Finding {
	f.Related = slices.Insert(slices.Clone(f.Related), 0, Related{f.Pos, fmt.Sprintf(format, args...)})
	f.Pos, f.Path = at, ""
	return f
}

// WithHint returns the finding with another hint.
func (f Finding) WithHint(format string, args ...any) Finding {
	f.Hints = append(slices.Clone(f.Hints), fmt.Sprintf(format, args...))
	return f
}

// DidYouMean adds a hint with the known name nearest to name. If none is near, it adds
// otherwise, if not empty, as the hint.
func (f Finding) DidYouMean(name string, known []string, otherwise string) Finding {
	if near, ok := Nearest(name, known); ok {
		return f.WithHint("did you mean %q?", near)
	}
	if otherwise == "" {
		return f
	}
	return f.WithHint("%s", otherwise)
}

// Findings is a list of findings, in any order until sorted.
type Findings []Finding

// Add appends findings.
func (fs *Findings) Add(f ...Finding) { *fs = append(*fs, f...) }

// HasErrors reports whether any finding is an error.
func (fs Findings) HasErrors() bool {
	return slices.ContainsFunc(fs, func(f Finding) bool { return f.Severity == Error })
}

// About returns the findings with unit and sheet set where they have no unit yet.
// Sheet is the position in its sheet; findings without a position get it as theirs.
func (fs Findings) About(unit string, sheet Pos) Findings {
	out := slices.Clone(fs) // they may be shared between units
	for i := range out {
		if out[i].Unit == "" {
			out[i].Unit, out[i].Sheet = unit, sheet
			out[i].Pos = cmp.Or(out[i].Pos, sheet)
		}
	}
	return out
}

// Compare orders findings by file, line, column, severity, code, message and unit.
func (f Finding) Compare(g Finding) int {
	return cmp.Or(f.Pos.compare(g.Pos), cmp.Compare(f.Severity, g.Severity),
		cmp.Compare(f.Code, g.Code), cmp.Compare(f.Message, g.Message), cmp.Compare(f.Unit, g.Unit))
}

// Sorted returns the findings in order, without duplicates.
func (fs Findings) Sorted() Findings {
	out := slices.Clone(fs)
	slices.SortStableFunc(out, Finding.Compare)
	return slices.CompactFunc(out, func(a, b Finding) bool {
		return a.Pos == b.Pos && a.Code == b.Code && a.Message == b.Message && a.Unit == b.Unit
	})
}

// MarshalJSON returns the form that other programs rely on: severity, code, unit,
// file, line, column, message, path, related, hints, mends. Lists are never null.
// The file of a finding about a unit is the unit's sheet; if another file is to be
// corrected, its position is the first related one.
func (f Finding) MarshalJSON() ([]byte, error) {
	type related struct {
		File    string `json:"file"`
		Line    int    `json:"line"`
		Column  int    `json:"column"`
		Message string `json:"message"`
	}
	rel := make([]related, 0, len(f.Related)+1)
	at := f.Pos
	if f.Sheet.File != "" && f.Sheet.File != f.Pos.File {
		at = f.Sheet
		rel = append(rel, related{f.Pos.File, f.Pos.Line, f.Pos.Column, "here"})
	}
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
		Unit     string    `json:"unit,omitempty"`
		File     string    `json:"file"`
		Line     int       `json:"line"`
		Column   int       `json:"column"`
		Message  string    `json:"message"`
		Path     string    `json:"path,omitempty"`
		Related  []related `json:"related"`
		Hints    []string  `json:"hints"`
		Mends    []Mend    `json:"mends"`
	}{f.Severity, f.Code, f.Unit, at.File, at.Line, at.Column, f.Message, f.Path, rel, notNil(f.Hints), mends})
}

func notNil(s []string) []string {
	if s == nil {
		return []string{}
	}
	return s
}
