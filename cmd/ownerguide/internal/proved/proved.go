// Package proved records the state of line and templates on which a proof passed. Guides are
// made from nothing else. It is a safeguard against forgetting to prove, not a signature:
// anybody who can write the file can forge it.
package proved

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/source"
)

// State is what a proof is about. It contains no path and no time, so that its file can be
// kept in version control with the line.
type State struct {
	Line, Words string // SHA-256 of their files
	Snapshot    string // SHA-256 of what the templates were compared with; empty if there is none
	Program     string // name and version
	Build       string // SHA-256 of the program, if other builds may have its version
}

// Kind is the kind of file that contains a proof.
var Kind = deliver.Kind{Name: "a proof", Endings: []string{".proof"}, Own: deliver.Sealed}

// seal precedes the digest in the seal of a proof.
const seal = "# What ownerguide prove passed on; any other state has to be proved again. "

// Of returns the state of line and templates. It includes the digest of the program if that
// is unreleased and shipped, the proof embedded in the program, is of another state.
func Of(m *guide.Maker, lineName string, shipped []byte) (State, error) {
	s, _ := Read(shipped)
	s.Program, s.Build = guide.Version(), ""
	if !m.Line.Proved {
		s.Line = LineDigest(m.Line.Files, lineName)
	}
	if !m.Templates.Proved {
		s.Words, s.Snapshot = WordsDigest(m.Templates.Files), ""
		if snapshot := m.Templates.Snapshot(); snapshot.Data != nil {
			s.Snapshot = WordsDigest([]source.File{snapshot})
		}
	}
	var err error
	if guide.Unreleased() && !s.Within(shipped) {
		s.Build, err = guide.ProgramDigest()
	}
	return s, err
}

// LineDigest returns the digest of the files of the line in the folder lineName.
func LineDigest(files []source.File, lineName string) string {
	return digest(files, func(f source.File) string { return strings.TrimPrefix(f.Shown(), lineName) })
}

// WordsDigest returns the digest of the files of templates.
func WordsDigest(files []source.File) string {
	return digest(files, func(f source.File) string { return f.Name })
}

// digest returns a digest of files that does not depend on their location or line ends, nor
// on duplicates in several layers.
func digest(files []source.File, name func(source.File) string) string {
	sum, one, met := sha256.New(), sha256.New(), map[string]bool{}
	for _, f := range files {
		one.Reset()
		fmt.Fprintf(one, "%q ", name(f))
		_, _ = one.Write(source.Text(f.Data))
		if digest := string(one.Sum(nil)); !met[digest] {
			met[digest] = true
			_, _ = io.WriteString(sum, digest)
		}
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// Digest returns the digest of the proof for a record. Like the rest of a record it does not
// depend on the program's own bytes.
func (s State) Digest() string {
	s.Build = ""
	return record.Digest([]byte(s.Text()))
}

// FileName returns a file name that identifies the state.
func (s State) FileName() string { return record.Digest([]byte(s.Text())) + Kind.Endings[0] }

// Text returns the state as text: one line for each part.
func (s State) Text() string {
	var text strings.Builder
	for _, e := range []struct{ key, value string }{{"line", s.Line}, {"words", s.Words}, {"snapshot", s.Snapshot}, {"program", s.Program}, {"build", s.Build}} {
		if e.value != "" {
			text.WriteString(e.key + ": " + e.value + "\n")
		}
	}
	return text.String()
}

// File returns the content of the proof's file.
func (s State) File() []byte { return deliver.Seal([]byte(s.Text()), seal, "") }

// Read parses a proof file; ok is false if it is not as it was written.
func Read(data []byte) (s State, ok bool) {
	fields := map[string]string{}
	for l := range strings.Lines(string(data)) {
		if key, value, found := strings.Cut(strings.TrimSpace(l), ": "); found {
			fields[key] = value
		}
	}
	return State{fields["line"], fields["words"], fields["snapshot"], fields["program"], fields["build"]}, deliver.Sealed(bytes.NewReader(data))
}

// Within reports whether a kept proof is of this line and these templates, by any
// program. A state without a snapshot requires less.
func (s State) Within(kept []byte) bool {
	was, ok := Read(kept)
	return ok && s.Line == was.Line && s.Words == was.Words && (s.Snapshot == "" || s.Snapshot == was.Snapshot)
}

// After returns what has changed since an earlier proof; empty if nothing has.
func (s State) After(was State) string {
	var changed []string
	for _, c := range []struct {
		is, was, what string
	}{{s.Line, was.Line, "the line"}, {s.Words, was.Words, "the words"}, {s.Snapshot, was.Snapshot, "the snapshot of the words"}} {
		if c.is != c.was {
			changed = append(changed, c.what)
		}
	}
	switch {
	case len(changed) > 0:
		return strings.Join(changed, " and ") + " changed since"
	case s.Program != was.Program:
		return "it was " + was.Program + " that proved them, and this is " + s.Program
	case s.Build != was.Build:
		return "it was another build of " + s.Program + " that proved them"
	}
	return ""
}

// tries is how often a run tries to write its proof to a folder that another run writes
// to.
const tries = 200

// Keep writes the proof to a file, unless it is there already.
func (s State) Keep(rules deliver.Rules, name string) error {
	for n := 0; ; n++ {
		if data, err := input.ReadPlain(name, source.SheetLimit); err == nil && bytes.Equal(data, s.File()) {
			return nil
		}
		_, err := rules.Write(name, Kind, s.File())
		if !errors.Is(err, deliver.ErrBusy) || n == tries {
			return err
		}
		time.Sleep(10 * time.Millisecond) // another run is writing a proof there
	}
}
