package guide

import (
	"bytes"
	"path/filepath"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Findings about a unit and its delivered guides.
var (
	CodeRevisionDue  = source.Code{ID: "revision-due", Severity: source.Error, Protects: "an owner holds a guide with this revision letter; two guides that differ must not carry the same one"}
	CodeRevisionBack = source.Code{ID: "revision-back", Severity: source.Error, Protects: "an earlier letter on a later guide makes the owner throw away the right one"}
)

// CheckRevision checks a unit's revision letter against what is known of the unit: the guide
// in its folder, and the letter that was delivered last, even if that guide has been
// removed since. A delivered guide is never changed under its letter.
func (u *Unit) CheckRevision(h *output.History, letter register.Letter) {
	at, now, was := u.Sheet.Revision.At, u.Record, h.Current
	if was == nil || was.Draft {
		was = &record.Record{}
	}
	due := func(latest, format string, args ...any) source.Finding {
		return CodeRevisionDue.At(at, format, args...).
			WithHint("write revision: %s and the day of the change under issued", sheet.NextRevision(latest))
	}
	switch latest := output.LaterOf(was.Revision, letter.Revision); {
	case latest == "":
	case sheet.LaterRevision(latest, now.Revision):
		f := CodeRevisionBack.At(at, "revision is %s; the guide in %s is revision %s already", now.Revision, filepath.ToSlash(h.Folder), latest)
		if latest != was.Revision {
			f.Message = "revision is " + now.Revision + "; revision " + latest + " was " + letter.How + " already"
		}
		u.Add(f.WithHint("write revision: %s", sheet.NextRevision(latest)))
	case was.Revision == now.Revision && was.Delivered != "" && was.Other(now) != "":
		u.Add(due(was.Revision, "revision %s was delivered on %s and its guide %s", was.Revision, was.Delivered, was.Other(now)).
			WithHint("ownerguide compare %s %s shows what differs", filepath.ToSlash(h.Folder), u.Sheet.File))
	case was.Revision == now.Revision && was.Delivered != "" && now.Delivered == "":
		u.Add(CodeRevisionDue.At(at, "revision %s was delivered on %s, and the sheet no longer says so", was.Revision, was.Delivered).
			WithHint("write delivered: %s", was.Delivered))
	case letter.Revision == now.Revision && letter.Promise != now.Promise():
		u.Add(due(letter.Revision, "revision %s was %s and its guide would now be another one", letter.Revision, letter.How))
	}
}

// Before returns the record of the revision whose differences the unit's guide describes,
// with the names of the figures that differ because of the line; nil if there is none.
func (m *Maker) Before(u *Unit, h *output.History) (*record.Record, error) {
	if u.Build == nil || u.Findings.HasErrors() {
		return nil, nil
	}
	revision := u.Sheet.Revision.Value
	r, line, err := h.Before(revision)
	if err != nil {
		return nil, terminal.WithHint(err, "put its files back from a copy, or write revision: %s", sheet.NextRevision(revision))
	}
	if r != nil {
		r.ByLine, err = m.changedByLine(u, line)
	}
	return r, err
}

// changedByLine returns the names of the figures of a unit that differ under an earlier
// line, given as a file; none if it is the same line, or the unit does not exist on it.
func (m *Maker) changedByLine(u *Unit, line []byte) (names []string, err error) {
	own, err := m.packed()
	if err != nil || bytes.Equal(own, line) {
		return nil, err
	}
	was, err := m.withLine(line, m.Proof)
	if err != nil || was == m {
		return nil, err
	}
	then := was.Read(input.SheetFile{Name: u.Sheet.File, Data: u.Sheet.Data})
	if then.Values == nil {
		return nil, nil
	}
	print := m.Templates.Print(u.Build)
	for _, v := range u.Values.All() {
		if old, ok := then.Values.Lookup(v.Name); ok && old.Print(print) != v.Print(print) {
			names = append(names, v.Name)
		}
	}
	return names, nil
}
