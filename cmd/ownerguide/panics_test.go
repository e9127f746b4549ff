package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/parallel"
)

// faultyMaker is a maker by whose line every unit of one model makes the program
// fall over.
func faultyMaker(t *testing.T, model string) *guide.Maker {
	t.Helper()
	m, err := (&commands{}).load(terminal.New(io.Discard, io.Discard))
	if err != nil {
		t.Fatal(err)
	}
	l := *m.Line // other tests share it
	l.Models = slices.Clone(l.Models)
	m.Line = &l
	for i, each := range l.Models {
		if each.ID == model {
			broken := *each
			broken.Parts = slices.Clone(each.Parts)
			for k := range broken.Parts {
				broken.Parts[k].Value.Use.Value = "unknown" // the reader would have refused such a line
			}
			l.Models[i] = &broken
		}
	}
	return m
}

// A bug that one unit brings to light costs that unit its guide, and no other.
func TestPanicIsAboutOneUnit(t *testing.T) {
	m := faultyMaker(t, "utility-12")
	sheets, found := input.ReadSheets([]string{"../../testdata/sheets/BW-27-0118.yaml", "../../testdata/sheets/BW-27-0124.yaml"}, nil)
	if len(found) > 0 {
		t.Fatal(found)
	}
	t.Run("check", func(t *testing.T) {
		found, _, err := m.Check(sheets)
		var fell *parallel.Panic
		if !errors.As(err, &fell) || !strings.Contains(err.Error(), "BW-27-0118.yaml: internal error: ") || found.HasErrors() {
			t.Errorf("%v, with %v", err, found)
		}
	})
	t.Run("write", func(t *testing.T) {
		var out, said bytes.Buffer
		term := terminal.New(&out, &said)
		c := &writeCommand{Out: t.TempDir(), Paper: "letter", Format: "text"}
		d, err := c.open(sheets)
		if err != nil {
			t.Fatal(err)
		}
		defer d.Close()
		err = c.batch(t.Context(), term, m, d, sheets)
		if err == nil {
			t.Fatal("nothing was told")
		}
		term.Problem(err)
		if _, err := os.Stat(filepath.Join(c.Out, "BW-27-0124", "guide.pdf")); err != nil {
			t.Error(err)
		}
		if _, err := os.Stat(filepath.Join(c.Out, "BW-27-0118")); err == nil {
			t.Error("the unit has a folder")
		}
		for _, want := range []string{"BW-27-0118.yaml: internal error: ", "hint: this is a bug", ".go:", "1 written, 0 unchanged, 1 refused"} {
			if !strings.Contains(said.String(), want) {
				t.Errorf("%q is not said:\n%s", want, said.String())
			}
		}
		if !strings.Contains(out.String(), "refused ../../testdata/sheets/BW-27-0118.yaml\n") || strings.Contains(out.String(), "goroutine") {
			t.Errorf("the result is\n%s", out.String())
		}
	})
}
