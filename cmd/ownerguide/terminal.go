package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"
)

// terminal is the one part of the program that speaks to people. Its rules:
// results go to standard output, everything else to standard error; a message
// begins in lower case with the program's name and ends without a full stop;
// progress is shown only on a terminal.
type terminal struct {
	out, err    io.Writer
	interactive bool // standard error is a terminal: progress may be shown
}

func terminalOf(out, err *os.File) *terminal {
	return &terminal{out, err, term.IsTerminal(int(err.Fd()))}
}

// problem reports what stopped the program.
func (t *terminal) problem(err error) { fmt.Fprintf(t.err, "ownerguide: %v\n", err) }

// interrupted reports that the person at the keyboard stopped the program.
func (t *terminal) interrupted() {
	t.problem(errors.New("interrupted; every guide on disk is whole"))
}

// usage reports a wrong command line.
func (t *terminal) usage(err error) {
	fmt.Fprintf(t.err, "ownerguide: %v\n  hint: ownerguide --help shows the commands, ownerguide COMMAND --help one of them\n", err)
}

// internal reports a bug of the program itself.
func (t *terminal) internal(what any, stack []byte) {
	fmt.Fprintf(t.err, "ownerguide: internal error: %v\n  hint: this is a bug; report it with the lines below and the build sheet. Guides already on disk are whole\n%s", what, stack)
}

// note says something in passing.
func (t *terminal) note(format string, args ...any) {
	fmt.Fprintf(t.err, "ownerguide: "+format+"\n", args...)
}

// bar shows how far a run is, on a terminal only; the next call writes over
// it, and done() clears it.
func (t *terminal) bar(done, all int) {
	if !t.interactive || all == 0 {
		return
	}
	const width = 30
	filled := width * done / all
	fmt.Fprintf(t.err, "\r\x1b[K[%s%s] %d of %d", strings.Repeat("=", filled), strings.Repeat(" ", width-filled), done, all)
}

func (t *terminal) done() {
	if t.interactive {
		fmt.Fprint(t.err, "\r\x1b[K")
	}
}

// json prints one value as indented JSON.
func (t *terminal) json(v any) error {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(t.out, "%s\n", data)
	return err
}

// jsonLine prints one value as JSON on a line of its own.
func (t *terminal) jsonLine(v any) error {
	data, err := json.Marshal(v)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(t.out, "%s\n", data)
	return err
}
