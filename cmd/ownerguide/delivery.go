package main

import (
	"path"
	"path/filepath"
	"strings"

	"ownerguide/render/deliver"
	"ownerguide/render/register"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// delivery is an output folder held by a run that puts guides of some sheets
// into it.
type delivery struct {
	dir   string
	stock *stock
	own   map[string]bool            // serials of the run, in lower case
	known map[string]register.Entry  // by serial: what the register says of the units of the run
	clash map[string]source.Findings // by file: numbers that another sheet or unit has
}

// openDelivery looks at what stands in a folder that the run holds. Sheets are
// all that go into it.
func openDelivery(folder *deliver.Folder, dir string, sheets []sheetFile) (*delivery, error) {
	d := &delivery{dir: dir, own: map[string]bool{}, known: map[string]register.Entry{}, clash: repeated(sheets)}
	serials, vins := map[string][]*sheet.Sheet{}, map[string][]*sheet.Sheet{}
	for _, f := range sheets {
		if s, _ := f.sheet(); s != nil {
			d.own[strings.ToLower(s.Serial.Value)] = true
			serials[strings.ToLower(s.Serial.Value)] = append(serials[strings.ToLower(s.Serial.Value)], s)
			vins[strings.ToLower(s.VIN.Value)] = append(vins[strings.ToLower(s.VIN.Value)], s)
		}
	}
	var err error
	d.stock, err = takeStock(folder, dir, false, func(p place, e register.Entry) {
		for _, s := range serials[strings.ToLower(p.name)] {
			if p.absent || s.Serial.Value == p.name {
				d.known[s.Serial.Value] = e
			} else {
				d.add(s, codeSerialTaken.At(s.Serial.At, "serial %q differs in capitals only from %s", s.Serial.Value, d.place(p.name)).
					WithHint("write serial: %s", p.name))
			}
		}
		for _, s := range vins[strings.ToLower(e.VIN)] {
			if !p.absent && !strings.EqualFold(s.Serial.Value, p.name) {
				d.add(s, codeVINTaken.At(s.VIN.At, "vin %s is that of %s", s.VIN.Value, d.place(p.name)).
					WithHint("correct the number, or move the folder of %s out of %s", p.name, filepath.ToSlash(dir)))
			}
		}
	})
	return d, err
}

func (d *delivery) place(name string) string { return path.Join(filepath.ToSlash(d.dir), name) }

func (d *delivery) add(s *sheet.Sheet, f source.Finding) {
	d.clash[s.File] = append(d.clash[s.File], f)
}

// repeated finds, by file, sheets of one run that would write to the same folder
// or are for the same trailer.
func repeated(sheets []sheetFile) map[string]source.Findings {
	var read []*sheet.Sheet
	for _, f := range sheets {
		if s, _ := f.sheet(); s != nil {
			read = append(read, s)
		}
	}
	out := map[string]source.Findings{}
	for _, f := range sheet.CheckRun(read) {
		out[f.Pos.File] = append(out[f.Pos.File], f)
		for _, r := range f.Related { // neither of the two is written: which one is right is not ours to say
			if r.Pos.File != f.Pos.File {
				other := f
				other.Unit, other.Pos, other.Related = "", r.Pos, []source.Related{{Pos: f.Pos, Message: "here too"}}
				out[r.Pos.File] = append(out[r.Pos.File], other)
			}
		}
	}
	return out
}

// wrote takes down a guide that was put in place, and the program that made it.
func (d *delivery) wrote(serial, made string) error {
	p := place{name: serial}
	u := readUnit(d.dir, p)
	if u.err != nil {
		return u.err
	}
	e := entryOf(u, d.known[serial])
	e.Made = made
	d.stock.put(p, e)
	return nil
}

// mailed takes down that a guide was mailed: from now on it is delivered.
func (d *delivery) mailed(u *unit) error {
	serial := u.record.Serial
	e := d.known[serial]
	e.Serial = serial
	if e.Letter.Revision != u.record.Revision { // else the same guide was delivered before
		e.Letter = register.Letter{Revision: u.record.Revision, Promise: u.record.Promise(), How: mailedHow}
	}
	d.stock.put(place{name: serial, absent: e.Stamp == ""}, e)
	return d.stock.settle()
}

// tell says what is wrong with other units of the folder: a run that writes
// guides does not stop for it.
func (d *delivery) tell(t *terminal) {
	if d.stock.damaged {
		t.note("%s", registerLost)
	}
	told := false
	for _, u := range d.stock.unread {
		if !d.own[strings.ToLower(u.name)] { // those of the run are refused, with the reason
			t.note("%s cannot be read: %v", d.place(u.name), u.err)
			told = true
		}
	}
	if told {
		t.note("ownerguide verify %s tells more", filepath.ToSlash(d.dir))
	}
}
