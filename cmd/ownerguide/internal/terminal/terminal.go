// Package terminal is the one part of the program that speaks to people, and the
// errors that say what to do.
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
	"ownerguide/spec/source"
)

// Terminal is the one part of the program that speaks to people. Its rules:
// results go to standard output, everything else to standard error; a message
// begins in lower case with the program's name and ends without a full stop;
// progress is shown only on a terminal. What is not the program's own, be it
// from a file, a name or the command line, is made [source.Printable].
type Terminal struct {
	out, err    io.Writer
	Interactive bool  // standard error is a terminal that can clear a line: progress may be shown
	Quiet       bool  // no notes and no progress
	inside      bool  // a finding named a file inside the program
	told        bool  // what that means
	Failed      error // the first result that could not be written
}

// New speaks to whatever reads results, and what is said beside them.
func New(out, err io.Writer) *Terminal {
	screen, is := err.(*os.File)
	return &Terminal{out: out, err: err, Interactive: is && clearsLines(term.IsTerminal(int(screen.Fd())), os.Getenv("TERM"))}
}

// Beside is where the command line library says what is no result.
func (t *Terminal) Beside() io.Writer { return t.err }

// clearsLines reports whether a line can be cleared and written again, which takes a
// terminal that is not one of those that only print.
func clearsLines(isTerminal bool, kind string) bool { return isTerminal && kind != "dumb" }

// Write implements [io.Writer] for whole results that are not lines of text for
// people: a mail, a drawing, a schema, a help page.
func (t *Terminal) Write(data []byte) (int, error) {
	n, err := t.out.Write(data)
	if t.Failed == nil && err != nil {
		t.Failed = fmt.Errorf("writing the result: %w", PlainError(err))
	}
	return n, t.Failed
}

// Lines is text for people that is put together first.
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

// SideFindings prints findings beside a result.
func (t *Terminal) SideFindings(found source.Findings) error {
	t.inside = t.inside || slices.ContainsFunc(found, pointsInside)
	return found.WriteText(t.err)
}

// Finish ends what a command said.
func (t *Terminal) Finish() {
	if t.inside && !t.told {
		t.told = true
		t.Note("%s/… and %s/… are files inside the program; ownerguide unpack DIR writes copies of them", embedded.Line, embedded.Templates)
	}
}

// pointsInside tells of a finding that it names a file inside the program, which
// nobody could open.
func pointsInside(f source.Finding) bool {
	return embedded.Holds(f.Pos.File) || slices.ContainsFunc(f.Related, func(r source.Related) bool { return embedded.Holds(r.Pos.File) })
}

// Say prints lines beside a result.
func (t *Terminal) Say(l Lines) { _, _ = io.WriteString(t.err, l.text()) }

// Problem reports what stopped the program: each of several errors on a line of
// its own, with what to do about it.
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

// Interrupted reports that the person at the keyboard stopped the program.
func (t *Terminal) Interrupted() {
	t.Problem(errors.New("interrupted; every guide on disk is whole"))
}

// Usage reports a wrong command line; command is empty where there was none.
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

// Note says something in passing.
func (t *Terminal) Note(format string, args ...any) {
	if t.Quiet {
		return
	}
	var l Lines
	l.Add("ownerguide: "+format, args...)
	t.Say(l)
}

// Bar shows how far a run is, on a terminal only; the next call writes over
// it, and done() clears it.
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

// JSONLine prints one value as JSON on a line of its own.
func (t *Terminal) JSONLine(v any) error {
	data, err := json.Marshal(v)
	return t.encoded(data, err)
}

// encoded prints JSON with every character escaped that prints nothing of its
// own; the encoder leaves some as they are.
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
