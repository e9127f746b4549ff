// Package terminal prints everything the program says to its users, and defines errors
// with hints.
package terminal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"unicode"
	"unicode/utf16"

	"golang.org/x/term"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// Terminal prints everything the program says to its users. Its rules: results go to
// standard output, everything else to standard error; a message begins in lower case with
// the program's name and ends without a full stop; progress is shown only on a terminal.
// Text that is not the program's own, be it from a file, a name or the command line, is
// made [source.Printable].
type Terminal struct {
	out, err    io.Writer
	Interactive bool  // standard error is a terminal that can clear a line, so progress may be shown
	Quiet       bool  // no notes and no progress
	inside      bool  // a finding named an embedded file
	told        bool  // the note on embedded files has been printed
	Failed      error // the first error in writing a result
}

// New returns a Terminal that prints results to out and everything else to err.
func New(out, err io.Writer) *Terminal {
	screen, is := err.(*os.File)
	return &Terminal{out: out, err: err, Interactive: is && clearsLines(term.IsTerminal(int(screen.Fd())), os.Getenv("TERM"))}
}

// Beside returns the writer for output of the command line library that is not a result.
func (t *Terminal) Beside() io.Writer { return t.err }

// clearsLines reports whether a line can be cleared and rewritten, which dumb terminals
// cannot.
func clearsLines(isTerminal bool, kind string) bool { return isTerminal && kind != "dumb" }

// Write implements [io.Writer] for results that are not lines of text: a mail, a drawing,
// a schema, a help page.
func (t *Terminal) Write(data []byte) (int, error) {
	n, err := t.out.Write(data)
	if t.Failed == nil && err != nil {
		t.Failed = fmt.Errorf("writing the result: %w", PlainError(err))
	}
	return n, t.Failed
}

// Lines is text that is collected before it is printed.
type Lines []string

func (l *Lines) Add(format string, args ...any) {
	*l = append(*l, source.Printable(fmt.Sprintf(format, args...)))
}

func (l Lines) text() string {
	if len(l) == 0 {
		return ""
	}
	return strings.Join(l, "\n") + "\n"
}

// Line prints one line of a result.
func (t *Terminal) Line(format string, args ...any) error {
	var l Lines
	l.Add(format, args...)
	return t.Lines(l)
}

// Lines prints lines of a result.
func (t *Terminal) Lines(l Lines) error {
	_, err := io.WriteString(t, l.text())
	return err
}

// Findings prints findings that are the result of a command.
func (t *Terminal) Findings(found source.Findings) error {
	t.inside = t.inside || slices.ContainsFunc(found, pointsInside)
	return found.WriteText(t)
}

// SideFindings prints findings to standard error.
func (t *Terminal) SideFindings(found source.Findings) error {
	t.inside = t.inside || slices.ContainsFunc(found, pointsInside)
	return found.WriteText(t.err)
}

// Finish prints the note on embedded files, if needed.
func (t *Terminal) Finish() {
	if t.inside && !t.told {
		t.told = true
		t.Note("%s/…, %s/… and %s are files inside the program; ownerguide unpack DIR writes copies of them", embedded.Line, embedded.Templates, product.BaseFile)
	}
}

// pointsInside reports whether a finding names an embedded file, which users cannot
// open.
func pointsInside(f source.Finding) bool {
	return embedded.Holds(f.Pos.File) || slices.ContainsFunc(f.Related, func(r source.Related) bool { return embedded.Holds(r.Pos.File) })
}

// Say prints lines to standard error.
func (t *Terminal) Say(l Lines) { _, _ = io.WriteString(t.err, l.text()) }

// Problem prints an error that stopped the program: each of several joined errors on a line
// of its own, with its hints.
func (t *Terminal) Problem(err error) {
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		for _, err := range several.Unwrap() {
			t.Problem(err)
		}
		return
	}
	var l Lines
	l.Add("ownerguide: %v", err)
	for _, hint := range hintsOf(err) {
		l.Add("  hint: %s", hint)
	}
	if fell := (*parallel.Panic)(nil); errors.As(err, &fell) {
		l.Add("  hint: this is a bug; report it with the lines below and the build sheet. Guides already on disk are whole")
		for at := range strings.Lines(string(fell.Stack)) {
			l.Add("    %s", strings.ReplaceAll(strings.TrimSuffix(at, "\n"), "\t", "    "))
		}
	}
	t.Say(l)
}

// Interrupted reports that the user stopped the program.
func (t *Terminal) Interrupted() {
	t.Problem(errors.New("interrupted; every guide on disk is whole"))
}

// Usage reports an error in the command line; command is empty if there was none.
func (t *Terminal) Usage(err error, command string) {
	switch {
	case len(hintsOf(err)) > 0:
	case command == "":
		err = WithHint(err, "ownerguide help lists the commands")
	default:
		err = WithHint(err, "ownerguide help %s says what it takes", command)
	}
	t.Problem(err)
}

// Note prints a remark to standard error.
func (t *Terminal) Note(format string, args ...any) {
	if t.Quiet {
		return
	}
	var l Lines
	l.Add("ownerguide: "+format, args...)
	t.Say(l)
}

// Bar shows the progress of a run, on a terminal only; the next call overwrites it, and
// Done clears it.
func (t *Terminal) Bar(done, all int) {
	if !t.Interactive || t.Quiet || all == 0 {
		return
	}
	const width = 30
	filled := width * done / all
	fmt.Fprintf(t.err, "\r\x1b[K[%s%s] %d of %d", strings.Repeat("=", filled), strings.Repeat(" ", width-filled), done, all)
}

func (t *Terminal) Done() {
	if t.Interactive && !t.Quiet {
		fmt.Fprint(t.err, "\r\x1b[K")
	}
}

// JSON prints one value as indented JSON.
func (t *Terminal) JSON(v any) error {
	data, err := json.MarshalIndent(v, "", "  ")
	return t.encoded(data, err)
}

// JSONLine prints one value as JSON on one line.
func (t *Terminal) JSONLine(v any) error {
	data, err := json.Marshal(v)
	return t.encoded(data, err)
}

// encoded prints JSON with every invisible character escaped; the encoder does not escape
// all of them.
func (t *Terminal) encoded(data []byte, err error) error {
	if err != nil {
		return err
	}
	var b bytes.Buffer
	for _, r := range string(data) {
		switch {
		case r == '\n' || unicode.IsGraphic(r): // line breaks here are those between entries
			b.WriteRune(r)
		case r > 0xffff:
			for _, half := range utf16.Encode([]rune{r}) {
				fmt.Fprintf(&b, `\u%04x`, half)
			}
		default:
			fmt.Fprintf(&b, `\u%04x`, r)
		}
	}
	b.WriteByte('\n')
	_, err = t.Write(b.Bytes())
	return err
}
