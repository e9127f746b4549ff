// Package output reads and updates an output folder: its units with their records and
// earlier revisions, the register of what was delivered, and the index.
package output

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"unique"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/parallel"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// RegisterFile is the register of an output folder.
const RegisterFile = deliver.DataFolder + "/register"

// readRegister calls use with the entries of a folder's register; there are none if the
// register does not exist.
func readRegister(root *os.Root, use func(register.Entry) error) error {
	return openRegister(root, func(r io.Reader) error { return register.Read(r, use) })
}

func checkRegister(root *os.Root) error { return openRegister(root, register.Check) }

func openRegister(root *os.Root, read func(io.Reader) error) error {
	file, err := OpenPlain(root, RegisterFile)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil {
		defer file.Close()
		err = read(file)
	}
	return terminal.PlainError(err)
}

// Inventory is the state of an output folder, as far as needed: it is taken from the register,
// and records are read only where the register is out of date.
type Inventory struct {
	dir     string
	Folder  *deliver.Folder
	stamps  *deliver.Stamps
	places  []Place
	Damaged bool                      // the register cannot be used
	Anew    map[string]register.Entry // by name: entries that differ from the register
	Unread  []UnitRead                // places without a readable record
}

// ReadInventory reads the state of an output folder opened by this run, and calls see with
// what is known of each unit, including those that were delivered and have no folder any
// more. With all, every record is read. The stock must be closed.
func ReadInventory(folder *deliver.Folder, dir string, all bool, see func(p Place, e register.Entry)) (*Inventory, error) {
	s := &Inventory{dir: dir, Folder: folder, Anew: map[string]register.Entry{}}
	if folder.Root() == nil { // nothing was written to it yet
		return s, nil
	}
	var err error
	if s.stamps, err = deliver.StampsIn(folder.Root()); err != nil {
		return nil, fmt.Errorf("reading %s: %w", dir, terminal.PlainError(err))
	}
	if err := s.read(all, see); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

func (s *Inventory) read(all bool, see func(p Place, e register.Entry)) (err error) {
	if s.places, err = PlacesIn(s.dir); err != nil {
		return err
	}
	switch err := checkRegister(s.Folder.Root()); {
	case errors.Is(err, register.ErrDamaged): // use the records instead
		s.Damaged = true
	case err != nil:
		return fmt.Errorf("reading %s: %w", filepath.Join(s.dir, RegisterFile), err)
	}
	var before []register.Entry // of units to be read again
	var read []Place
	err = s.each(func(p Place, e register.Entry) {
		stamp := s.stamp(p)
		if p.Absent || !all && stamp != "" && stamp == e.Stamp {
			see(p, e)
			return
		}
		e.Serial, e.Stamp = p.Name, stamp
		before, read = append(before, e), append(read, p)
	})
	i := 0
	ReadUnits(s.dir, read, func(u UnitRead) {
		e := before[i]
		if u.Err == nil {
			e = EntryOf(u, e)
		} else {
			e.Stamp, e.State = "", ""
			s.Unread = append(s.Unread, u)
		}
		s.Anew[u.Name] = e
		see(read[i], e)
		i++
	})
	return err
}

func (s *Inventory) Close() {
	if s.stamps != nil {
		_ = s.stamps.Close()
	}
}

// stamp returns the stamp of a unit's record; empty if there can be none.
func (s *Inventory) stamp(p Place) string {
	if p.Wrong != nil || p.Absent {
		return ""
	}
	return s.stamps.Of(p.Name + "/" + record.File)
}

// StateOf returns the state of a unit whose guide is made from something: see [register.Entry]. It is empty if a file is
// missing.
func (s *Inventory) StateOf(e register.Entry, from string) string {
	for name := range strings.FieldsSeq(e.Files + " " + record.File) {
		stamp := s.stamps.Of(e.Serial + "/" + name)
		if stamp == "" {
			return ""
		}
		from += "\n" + stamp
	}
	return record.Digest([]byte(from))
}

// each calls use with what is known of each unit, by name: of those that have a folder,
// and of those that were delivered and have none.
func (s *Inventory) each(use func(p Place, e register.Entry)) error {
	i := 0
	give := func(e register.Entry) {
		p := s.places[i]
		if anew, ok := s.Anew[p.Name]; ok {
			e = anew
		}
		use(p, e)
		i++
	}
	var err error
	if !s.Damaged {
		err = readRegister(s.Folder.Root(), func(e register.Entry) error {
			for i < len(s.places) && s.places[i].Name < e.Serial {
				give(register.Entry{})
			}
			switch {
			case i < len(s.places) && s.places[i].Name == e.Serial:
				give(e)
			case e.Letter.Revision != "":
				e.Stamp = ""
				use(Place{Name: e.Serial, Absent: true}, e)
			}
			return nil
		})
	}
	for err == nil && i < len(s.places) {
		give(register.Entry{})
	}
	return err
}

// mostAnew is how many new entries are held before they are saved: some 3 MB.
const mostAnew = 3000

// Put records the new state of a unit in this run. It may save it with others, but a run must call [Inventory.Save] at its end.
func (s *Inventory) Put(p Place, e register.Entry) {
	e.Stamp = s.stamp(p)
	i, known := slices.BinarySearchFunc(s.places, p.Name, func(p Place, name string) int { return strings.Compare(p.Name, name) })
	if !known {
		s.places = slices.Insert(s.places, i, p)
	}
	s.places[i] = p
	s.Anew[p.Name] = e
	if len(s.Anew)%mostAnew == 0 {
		_ = s.Save() // if it fails, no entry is lost, and saving at the end tells why
	}
}

// Save writes register and index for the current state of the folder. Both are read and
// written sequentially, so that no folder is too large.
func (s *Inventory) Save() error {
	units := 0
	for _, p := range s.places {
		if !p.Absent {
			units++
		}
	}
	err := s.Folder.Put(RegisterFile, func(w *os.File) error {
		known := register.NewWriter(w)
		err := s.Folder.Put(IndexFile, deliver.Sealing(func(w io.Writer) error {
			page, err := BeginIndex(w, units)
			if err != nil {
				return err
			}
			type row struct {
				Place
				register.Entry
			}
			rows, wrote := make(chan row, rowsInBody), make(chan error)
			go func() { // half of the time is spent on the rows
				err := parallel.Guard(func() error {
					for r := range rows {
						page.Row(r.Place, r.Entry)
					}
					return nil
				})
				for range rows { // drain the channel if a row panicked
				}
				wrote <- err
			}()
			err = s.each(func(p Place, e register.Entry) {
				if !p.Absent {
					rows <- row{p, e}
				}
				if e.Stamp != "" || sheet.ValidSerial(p.Name) { // a record that could be read has a valid serial number
					known.Add(e)
				}
			})
			close(rows)
			return errors.Join(err, <-wrote, page.End())
		}, SealBefore, SealAfter))
		return errors.Join(err, known.Close())
	})
	if err == nil && !s.Damaged { // otherwise each does not read what was written
		clear(s.Anew)
	}
	return err
}

// EntryOf returns the register entry of a unit. From its entry before it keeps the program
// that made the guide, if the guide is the same, and the letter that was delivered.
func EntryOf(u UnitRead, before register.Entry) register.Entry {
	r, digest := u.Record, record.Digest(u.Data)
	e := register.Entry{
		Serial: u.Name, Stamp: before.Stamp, Digest: digest, Letter: before.Letter,
		VIN: r.VIN, Model: r.ModelName, Buyer: r.Buyer, Dealer: r.Dealer, Revision: r.Revision, Issued: r.Issued, Delivered: r.Delivered, Promise: r.Promise(),
		Notes: len(r.Notes), Pages: r.Pages, Unconfirmed: r.Unconfirmed, Proof: r.Proof,
	}
	if r.Draft {
		e.Promise = ""
	}
	if before.Digest == digest {
		e.Made, e.State = before.Made, before.State
	}
	var kept []string
	for _, k := range r.Kept {
		made := KeptMade(before, k.Revision)
		if k.SHA256 == before.Digest { // it was the current one until now
			made = before.Made
		}
		kept = append(kept, strings.TrimSuffix(k.Revision+":"+made, ":"))
	}
	e.Kept = strings.Join(kept, " ")
	e.Files = unique.Make(strings.Join(r.Names(), " ")).Value() // thousands of entries are held, and most have these in common
	var options []string
	for _, o := range r.Options {
		options = append(options, strings.ReplaceAll(o.Text, ", ", " "))
	}
	e.Options = unique.Make(strings.Join(options, ", ")).Value()
	known := e.Letter
	if r.Delivered != "" && !r.Draft && (known.Revision == "" || sheet.LaterRevision(r.Revision, known.Revision) || known.Promise == e.Promise) {
		e.Letter = register.Letter{Revision: r.Revision, Promise: e.Promise, How: "delivered on " + r.Delivered}
	}
	return e
}

// KeptMade returns the program that made the guide of a kept revision; empty if it is not
// known.
func KeptMade(e register.Entry, revision string) string {
	for kept := range strings.FieldsSeq(e.Kept) {
		if made, ok := strings.CutPrefix(kept, revision+":"); ok {
			return made
		}
	}
	return ""
}

// MailedHow is the value of Letter.How for a mail.
const MailedHow = "mailed"

// RegisterLost is printed when a damaged register is rebuilt.
const RegisterLost = "the register of the folder was damaged and is made anew; what was delivered to units whose folders are gone is no longer known"

// LetterReused reports a guide that replaced another one that was delivered under the same
// letter or a later one.
func LetterReused(dir string, e register.Entry) (found source.Findings) {
	letter, at := e.Letter, source.Pos{File: path.Join(filepath.ToSlash(dir), e.Serial, record.File)}
	switch {
	case letter.Revision == "" || e.Promise == "":
	case e.Revision == letter.Revision && e.Promise != letter.Promise:
		found.Add(codeLetterTwice.At(at, "this is not the guide that was %s as revision %s", letter.How, letter.Revision).
			WithHint("put that one back, or write revision: %s", sheet.NextRevision(letter.Revision)))
	case sheet.LaterRevision(letter.Revision, e.Revision) && letter.How != MailedHow:
		found.Add(codeLetterTwice.At(at, "this is revision %s; revision %s was %s", e.Revision, letter.Revision, letter.How).
			WithHint("put that one back, or write revision: %s", sheet.NextRevision(letter.Revision)))
	}
	return found
}

// Gone returns the finding about a unit that was delivered and has no folder.
func Gone(dir string, e register.Entry) source.Finding {
	return codeUnitGone.At(source.Pos{File: path.Join(filepath.ToSlash(dir), e.Serial)}, "revision %s was %s, and the folder of the unit is not here", e.Letter.Revision, e.Letter.How)
}

// Registered returns the register entries of a folder by serial number. Another run may be
// writing to the folder.
func Registered(dir string) (map[string]register.Entry, error) {
	out := map[string]register.Entry{}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return out, fmt.Errorf("opening %s: %w", dir, terminal.PlainError(err))
	}
	defer root.Close()
	err = readRegister(root, func(e register.Entry) error {
		out[e.Serial] = register.Entry{Serial: e.Serial, Letter: e.Letter, Made: e.Made, State: e.State, Digest: e.Digest, Kept: e.Kept}
		return nil
	})
	return out, err
}

// Missing reports the units of a folder that were delivered and no longer exist.
func Missing(dir string, units []Place) (found source.Findings) {
	known, err := Registered(dir)
	if err != nil {
		found.Add(RegisterUnread(dir, err))
		return found
	}
	for _, u := range units {
		delete(known, u.Name)
	}
	for _, e := range known {
		if e.Letter.Revision != "" {
			found.Add(Gone(dir, e))
		}
	}
	return found
}

// RegisterUnread returns the finding about a register that cannot be used.
func RegisterUnread(dir string, err error) source.Finding {
	return codeRegister.At(source.Pos{File: path.Join(filepath.ToSlash(dir), RegisterFile)}, "%v", err).
		WithHint("ownerguide index %s makes it anew from the records", filepath.ToSlash(dir))
}
