package main

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

	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// terminal is the one part of the program that speaks to people. Its rules:
// results go to standard output, everything else to standard error; a message
// begins in lower case with the program's name and ends without a full stop;
// progress is shown only on a terminal. What is not the program's own, be it
// from a file, a name or the command line, is made [source.Printable].
type terminal struct {
	out, err    io.Writer
	interactive bool  // standard error is a terminal that can clear a line: progress may be shown
	quiet       bool  // no notes and no progress
	inside      bool  // a finding named a file inside the program
	told        bool  // what that means
	failed      error // the first result that could not be written
}

func terminalOf(out, err *os.File) *terminal {
	return &terminal{out: out, err: err, interactive: clearsLines(term.IsTerminal(int(err.Fd())), os.Getenv("TERM"))}
}

// clearsLines tells whether a line can be cleared and written again, which takes a
// terminal that is not one of those that only print.
func clearsLines(isTerminal bool, kind string) bool { return isTerminal && kind != "dumb" }

// Write implements [io.Writer] for whole results that are not lines of text for
// people: a mail, a drawing, a schema, a help page.
func (t *terminal) Write(data []byte) (int, error) {
	n, err := t.out.Write(data)
	if t.failed == nil && err != nil {
		t.failed = fmt.Errorf("writing the result: %w", plainError(err))
	}
	return n, t.failed
}

// lines is text for people that is put together first.
type lines []string

func (l *lines) add(format string, args ...any) {
	*l = append(*l, source.Printable(fmt.Sprintf(format, args...)))
}

func (l lines) text() string {
	if len(l) == 0 {
		return ""
	}
	return strings.Join(l, "\n") + "\n"
}

// line prints one line of a result.
func (t *terminal) line(format string, args ...any) error {
	var l lines
	l.add(format, args...)
	return t.lines(l)
}

// lines prints lines of a result.
func (t *terminal) lines(l lines) error {
	_, err := io.WriteString(t, l.text())
	return err
}

// findings prints findings that are the result of a command.
func (t *terminal) findings(found source.Findings) error {
	t.inside = t.inside || slices.ContainsFunc(found, pointsInside)
	return found.WriteText(t)
}

// sideFindings prints findings beside a result.
func (t *terminal) sideFindings(found source.Findings) error {
	t.inside = t.inside || slices.ContainsFunc(found, pointsInside)
	return found.WriteText(t.err)
}

// finish ends what a command said.
func (t *terminal) finish() {
	if t.inside && !t.told {
		t.told = true
		t.note("%s/… and %s/… are files inside the program; ownerguide unpack DIR writes copies of them", embeddedLine, embeddedTemplates)
	}
}

// pointsInside tells of a finding that it names a file inside the program, which
// nobody could open.
func pointsInside(f source.Finding) bool {
	return isEmbedded(f.Pos.File) || slices.ContainsFunc(f.Related, func(r source.Related) bool { return isEmbedded(r.Pos.File) })
}

// say prints lines beside a result.
func (t *terminal) say(l lines) { _, _ = io.WriteString(t.err, l.text()) }

// problem reports what stopped the program: each of several errors on a line of
// its own, with what to do about it.
func (t *terminal) problem(err error) {
	if several, ok := err.(interface{ Unwrap() []error }); ok {
		for _, err := range several.Unwrap() {
			t.problem(err)
		}
		return
	}
	var l lines
	l.add("ownerguide: %v", err)
	for _, hint := range hintsOf(err) {
		l.add("  hint: %s", hint)
	}
	if fell := (*parallel.Panic)(nil); errors.As(err, &fell) {
		l.add("  hint: this is a bug; report it with the lines below and the build sheet. Guides already on disk are whole")
		for at := range strings.Lines(string(fell.Stack)) {
			l.add("    %s", strings.ReplaceAll(strings.TrimSuffix(at, "\n"), "\t", "    "))
		}
	}
	t.say(l)
}

// hinted is an error with what to do about it.
type hinted struct {
	error
	hint string
}

func (h hinted) Unwrap() error { return h.error }

// Hint says what to do, as that of a [deliver.Error] does.
func (h hinted) Hint() string { return h.hint }

// withHint adds to an error what to do about it.
func withHint(err error, format string, args ...any) error {
	return hinted{err, fmt.Sprintf(format, args...)}
}

// hintsOf collects what to do about an error.
func hintsOf(err error) (hints []string) {
	for ; err != nil; err = errors.Unwrap(err) {
		if h, ok := err.(interface{ Hint() string }); ok && h.Hint() != "" {
			hints = append([]string{h.Hint()}, hints...)
		}
	}
	return hints
}

// interrupted reports that the person at the keyboard stopped the program.
func (t *terminal) interrupted() {
	t.problem(errors.New("interrupted; every guide on disk is whole"))
}

// usage reports a wrong command line; command is empty where there was none.
func (t *terminal) usage(err error, command string) {
	switch {
	case len(hintsOf(err)) > 0:
	case command == "":
		err = withHint(err, "ownerguide help lists the commands")
	default:
		err = withHint(err, "ownerguide help %s says what it takes", command)
	}
	t.problem(err)
}

// note says something in passing.
func (t *terminal) note(format string, args ...any) {
	if t.quiet {
		return
	}
	var l lines
	l.add("ownerguide: "+format, args...)
	t.say(l)
}

// bar shows how far a run is, on a terminal only; the next call writes over
// it, and done() clears it.
func (t *terminal) bar(done, all int) {
	if !t.interactive || t.quiet || all == 0 {
		return
	}
	const width = 30
	filled := width * done / all
	fmt.Fprintf(t.err, "\r\x1b[K[%s%s] %d of %d", strings.Repeat("=", filled), strings.Repeat(" ", width-filled), done, all)
}

func (t *terminal) done() {
	if t.interactive && !t.quiet {
		fmt.Fprint(t.err, "\r\x1b[K")
	}
}

// json prints one value as indented JSON.
func (t *terminal) json(v any) error {
	data, err := json.MarshalIndent(v, "", "  ")
	return t.encoded(data, err)
}

// jsonLine prints one value as JSON on a line of its own.
func (t *terminal) jsonLine(v any) error {
	data, err := json.Marshal(v)
	return t.encoded(data, err)
}

// encoded prints JSON with every character escaped that prints nothing of its
// own; the encoder leaves some as they are.
func (t *terminal) encoded(data []byte, err error) error {
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
