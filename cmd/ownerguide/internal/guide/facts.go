package guide

import (
	"archive/zip"
	"bytes"
	"fmt"
	"os"
	"slices"
	"sync"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// LineFlag is for commands that make the guide of a unit that may have been delivered.
type LineFlag struct {
	WithLineChanges bool `help:"Make the guide of a delivered unit from the line as it is now, not as it was on delivery. What changes by that is told apart in the new guide."`
}

// CodeLineSince reports that the line has changed since a unit was delivered.
var CodeLineSince = source.Code{ID: "line-since", Severity: source.Note, Protects: "a change of the line is not a change of a trailer that was built before it"}

// zipLine packs the files of a line, so that the line a unit was built from is kept with
// its guide. The same files give the same bytes: no dates and no permissions are stored.
func zipLine(l *product.Line) ([]byte, error) {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for _, f := range l.Files {
		if f.Layer == "" && f.Name == product.BaseFile {
			continue // the program's own
		}
		file, err := w.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate})
		if err == nil {
			_, err = file.Write(f.Data)
		}
		if err != nil {
			return nil, fmt.Errorf("packing %s: %w", f.Name, err)
		}
	}
	if err := w.Close(); err != nil {
		return nil, fmt.Errorf("packing the line: %w", err)
	}
	return b.Bytes(), nil
}

// packed returns a function that returns the maker's line as a file, packed on first use.
func packed(l *product.Line) func() ([]byte, error) {
	return sync.OnceValues(func() ([]byte, error) { return zipLine(l) })
}

// OfDelivery returns the maker with the line that a guide was made from, which is in the
// guide's folder; m itself if that line is the one in use.
func (m *Maker) OfDelivery(root *os.Root, r *record.Record) (*Maker, error) {
	i := slices.IndexFunc(r.Files, func(f record.Delivered) bool { return f.Name == record.LineFile })
	if i < 0 {
		return nil, fmt.Errorf("the record knows no %s", record.LineFile)
	}
	own, err := m.packed()
	if err != nil || record.Digest(own) == r.Files[i].SHA256 {
		return m, err
	}
	data, err := output.ReadDelivered(root, r, record.LineFile, output.LineLimit)
	if err != nil {
		return nil, err
	}
	return m.withLine(data, r.Proof)
}

// withLine returns the maker with a packed line and the digest of the proof it passed.
func (m *Maker) withLine(data []byte, proof string) (*Maker, error) {
	m.earlier.Lock()
	defer m.earlier.Unlock()
	digest := record.Digest(data)
	if known := m.earlier.lines[digest]; known != nil {
		return known, nil
	}
	files, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, fmt.Errorf("%s cannot be unpacked: %w", record.LineFile, err)
	}
	l, findings := spec.LoadLine(files, record.LineFile)
	if l == nil {
		first := findings[slices.IndexFunc(findings, func(f source.Finding) bool { return f.Severity == source.Error })]
		return nil, fmt.Errorf("this program no longer takes the line in %s: %s: %s", record.LineFile, first.Pos, first.Message)
	}
	other := &Maker{Line: l, Templates: m.words.ForLine(l), words: m.words, Inputs: m.Inputs, Proof: proof, losses: lossesOf(l, m.words), earlier: m.earlier,
		packed: func() ([]byte, error) { return data, nil }}
	other.Inputs.Line = lineDigest(l, record.LineFile)
	if other.Inputs.Line == m.Inputs.Line {
		other = m // packed by another version of the program
	}
	m.earlier.lines[digest] = other
	return other, nil
}

// earlierLines caches lines of delivered units, by the digest of their files.
type earlierLines struct {
	sync.Mutex
	lines map[string]*Maker
}

// Of returns the maker for a unit's guide: with the line of its delivery if it was
// delivered, unless the flag asks for the current line.
func (f LineFlag) Of(m *Maker, s *sheet.Identity, h *output.History, letter register.Letter) (*Maker, error) {
	now := s.Revision.Value
	switch {
	case f.WithLineChanges || h.Current != nil && h.Current.Draft:
		return m, nil
	case h.Current == nil:
		if letter.Revision != "" && sheet.LaterRevision(now, letter.Revision) {
			return nil, lostFacts(fmt.Errorf("revision %s of %s was %s, and its folder with what the unit was built from is gone", letter.Revision, s.Serial.Value, letter.How))
		}
		return m, nil
	case h.Current.Delivered == "" && letter.Revision == "":
		return m, nil
	}
	own, err := m.OfDelivery(h.Root, h.Current)
	if err != nil {
		return nil, lostFacts(fmt.Errorf("what the delivered unit was built from cannot be read: %s: %w", h.Folder, err))
	}
	return own, nil
}

func lostFacts(err error) error {
	return terminal.WithHint(err, "put it back from a copy, or make the guide from the line as it is now with --with-line-changes")
}

// Since returns a note if a guide is made from another line than the one in use.
func (m *Maker) Since(s *sheet.Identity, current *Maker) source.Findings {
	if m == current {
		return nil
	}
	is, was := current.Line.Maker.Version.Value, m.Line.Maker.Version.Value
	text := "the line has changed since the unit was delivered"
	if is != was {
		text += fmt.Sprintf(", from version %s to %s", was, is)
	}
	return s.Named(source.Findings{CodeLineSince.At(s.Serial.At, "%s; the guide keeps to the line of the delivery", text).
		WithHint("--with-line-changes makes it from the line as it is now, under the next revision letter if it reads differently")})
}

// InOwnLine adds to the errors of a unit with the line of its delivery a hint that the
// line in use may not have them.
func (m *Maker) InOwnLine(u *Unit, current *Maker) {
	if m == current || !u.Findings.HasErrors() {
		return
	}
	for i, f := range u.Findings {
		if f.Severity == source.Error {
			u.Findings[i] = f.WithHint("this is said of the line of the delivery; --with-line-changes takes the line as it is now")
		}
	}
}

// Again assembles a guide from the output folder again, with the changes since the
// previous revision.
func (m *Maker) Again(f input.SheetFile, h *output.History) (*Unit, error) {
	u := m.Read(f)
	earlier, err := m.Before(u, h)
	m.Assemble(u, earlier)
	return u, err
}
