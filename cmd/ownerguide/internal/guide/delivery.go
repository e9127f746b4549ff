package guide

import (
	"path"
	"path/filepath"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/register"
	"ownerguide/spec/parallel"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Delivery is an output folder opened by a run that writes guides for some sheets. It must
// be closed.
type Delivery struct {
	dir       string
	held      *deliver.Folder
	Inventory *output.Inventory
	own       map[string]bool            // serials of the run, in lower case
	Known     map[string]register.Entry  // by serial: register entries of the units of the run
	Serials   map[string]string          // by file: serials of the sheets of the run that are not faulty
	Clash     map[string]source.Findings // by file: numbers that another sheet or unit has too
}

// OpenDelivery opens a folder with the function open, and reads its state. Sheets are all
// sheets whose guides will be written.
func OpenDelivery(open func(dir string) (*deliver.Folder, error), dir string, sheets []input.SheetFile) (*Delivery, error) {
	folder, err := open(dir)
	if err != nil {
		return nil, err
	}
	whose := Whose(sheets)
	d := &Delivery{dir: dir, held: folder, own: map[string]bool{}, Known: map[string]register.Entry{}, Serials: map[string]string{}, Clash: Repeated(whose)}
	serials, vins := map[string][]*sheet.Identity{}, map[string][]*sheet.Identity{}
	for _, s := range whose {
		if !s.Faulty {
			d.Serials[s.File] = s.Serial.Value
		}
		d.own[strings.ToLower(s.Serial.Value)] = true
		serials[strings.ToLower(s.Serial.Value)] = append(serials[strings.ToLower(s.Serial.Value)], s)
		vins[strings.ToLower(s.VIN.Value)] = append(vins[strings.ToLower(s.VIN.Value)], s)
	}
	d.Inventory, err = output.ReadInventory(folder, dir, false, func(p output.Place, e register.Entry) {
		for _, s := range serials[strings.ToLower(p.Name)] {
			if p.Absent || s.Serial.Value == p.Name {
				d.Known[s.Serial.Value] = e
			} else {
				d.add(s, output.CodeSerialTaken.At(s.Serial.At, "serial %q differs in capitals only from %s", s.Serial.Value, d.place(p.Name)).
					WithHint("write serial: %s", p.Name))
			}
		}
		for _, s := range vins[strings.ToLower(e.VIN)] {
			if !p.Absent && !strings.EqualFold(s.Serial.Value, p.Name) {
				d.add(s, output.CodeVINTaken.At(s.VIN.At, "vin %s is that of %s", s.VIN.Value, d.place(p.Name)).
					WithHint("correct the number, or move the folder of %s out of %s", p.Name, filepath.ToSlash(dir)))
			}
		}
	})
	if err != nil {
		folder.Close()
		return nil, err
	}
	return d, nil
}

// Close closes the folder.
func (d *Delivery) Close() {
	d.Inventory.Close()
	d.held.Close()
}

func (d *Delivery) place(name string) string { return path.Join(filepath.ToSlash(d.dir), name) }

func (d *Delivery) add(s *sheet.Identity, f source.Finding) {
	d.Clash[s.File] = append(d.Clash[s.File], f)
}

// Whose returns the identities of sheets; one that cannot be read has none.
func Whose(sheets []input.SheetFile) []*sheet.Identity {
	whose := make([]*sheet.Identity, len(sheets))
	parallel.Each(len(sheets), func(i int) {
		s, _ := sheet.Read(sheets[i].Name, sheets[i].Data)
		whose[i] = s.Identity()
	})
	return slices.DeleteFunc(whose, func(s *sheet.Identity) bool { return s == nil })
}

// Repeated returns, by file, findings about sheets of one run that would write to the same
// folder or are for the same trailer.
func Repeated(whose []*sheet.Identity) map[string]source.Findings {
	out := map[string]source.Findings{}
	for _, f := range sheet.CheckRun(whose) {
		out[f.Pos.File] = append(out[f.Pos.File], f)
		for _, r := range f.Related { // neither is written, because the program cannot know which is right
			if r.Pos.File != f.Pos.File {
				other := f
				other.Unit, other.Pos, other.Related = "", r.Pos, []source.Related{{Pos: f.Pos, Message: "here too"}}
				out[r.Pos.File] = append(out[r.Pos.File], other)
			}
		}
	}
	return out
}

// Place begins to put the files of a unit in the place of its earlier ones, and returns how that ends: the next unit is made while
// this one waits for the disk. The HTML pages must not be used any more. See [deliver.Folder.Replace].
func (d *Delivery) Place(serial string, files []deliver.File, earlier []string, keep string) <-chan error {
	placed := make(chan error, 1)
	go func() {
		placed <- parallel.Guard(func() error { return d.Inventory.Folder.Replace(serial, files, earlier, keep) })
		free(files)
	}()
	return placed
}

// Wrote records a guide that is whole, and the program and the rest it was made from.
func (d *Delivery) Wrote(u output.UnitRead, made, from string) {
	e := output.EntryOf(u, d.Known[u.Name])
	e.Made, e.State = made, d.Inventory.StateOf(e, from)
	d.Inventory.Put(output.Place{Name: u.Name}, e)
}

// Mailed records that a guide was mailed, which counts as delivery.
func (d *Delivery) Mailed(u *Unit) error {
	serial := u.Record.Serial
	e := d.Known[serial]
	e.Serial = serial
	if e.Letter.Revision != u.Record.Revision { // otherwise the same guide was delivered before
		e.Letter = register.Letter{Revision: u.Record.Revision, Promise: u.Record.Promise(), How: output.MailedHow}
	}
	d.Inventory.Put(output.Place{Name: serial, Absent: e.Stamp == ""}, e)
	return d.Inventory.Save()
}

// Report reports what is wrong with other units of the folder, which does not stop a run
// that writes guides.
func (d *Delivery) Report(t *terminal.Terminal) {
	if d.Inventory.Damaged {
		t.Note("%s", output.RegisterLost)
	}
	told := false
	for _, u := range d.Inventory.Unread {
		if !d.own[strings.ToLower(u.Name)] { // those of the run are refused, with the reason
			t.Note("%s cannot be read: %v", d.place(u.Name), u.Err)
			told = true
		}
	}
	if told {
		t.Note("ownerguide verify %s tells more", filepath.ToSlash(d.dir))
	}
}
