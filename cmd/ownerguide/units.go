package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// What can be wrong with the units of an output folder as a whole.
var (
	codeUnitUnread  = source.Code{ID: "unit-unreadable", Severity: source.Error, Protects: "a unit whose record cannot be read is missed by a recall"}
	codeUnitGone    = source.Code{ID: "unit-gone", Severity: source.Warning, Protects: "a unit whose folder was taken away is missed by a recall"}
	codeSerialTaken = source.Code{ID: "serial-taken", Severity: source.Error, Protects: "two units with one serial number would share a folder on some computers, and a recall would reach the wrong owner"}
	codeVINTaken    = source.Code{ID: "vin-taken", Severity: source.Error, Protects: "two guides for one trailer differ sooner or later, and a recall would reach the wrong owner"}
	codeLetterTwice = source.Code{ID: "revision-reused", Severity: source.Error, Protects: "two guides that differ carry one revision letter, and nobody can tell which of them the owner holds"}
	codeRegister    = source.Code{ID: "register-damaged", Severity: source.Error, Protects: "the register knows which letters were delivered to units whose folders were taken away"}
	codeIndexStale  = source.Code{ID: "index-differs", Severity: source.Error, Protects: "a unit that the index does not show is not found by who looks there"}
)

func folderCodes() []source.Code {
	return []source.Code{codeUnitUnread, codeUnitGone, codeSerialTaken, codeVINTaken, codeLetterTwice, codeRegister, codeIndexStale}
}

// place is what stands in an output folder where units stand: each is one, or
// something is wrong with it.
type place struct {
	name   string // of the folder
	wrong  error
	absent bool // there is no folder: the unit is only known from the register
}

// placesIn lists the places of an output folder, sorted by name. Plain files,
// such as the index and mails, are none; names that begin with a dot are the
// program's own or hidden.
func placesIn(dir string) ([]place, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", dir, plainError(err))
	}
	out := make([]place, 0, len(entries))
	for _, e := range entries {
		switch name := e.Name(); {
		case deliver.Parked(name) != "":
			if _, err := os.Lstat(filepath.Join(dir, deliver.Parked(name))); errors.Is(err, fs.ErrNotExist) {
				out = append(out, place{name: name, wrong: fmt.Errorf("a run that was stopped left the guide of %s here; ownerguide index %s puts it back", deliver.Parked(name), filepath.ToSlash(dir))})
			}
		case strings.HasPrefix(name, "."):
		case e.Type()&fs.ModeSymlink != 0:
			out = append(out, place{name: name, wrong: errors.New("it is a link; expected the unit's own folder")})
		case e.IsDir():
			out = append(out, place{name: name})
		case !e.Type().IsRegular():
			out = append(out, place{name: name, wrong: errors.New("it is not a folder")})
		}
	}
	return out, nil
}

// unitsAt is the folder itself when it holds a unit, or else the places in it.
// One tells which.
func unitsAt(dir string) (units []place, one bool, err error) {
	if isUnit(dir) {
		return []place{{name: "."}}, true, nil
	}
	if units, err = placesIn(dir); err == nil && len(units) == 0 {
		err = fmt.Errorf("%s: no unit's folder here; expected what write made", dir)
	}
	return units, false, err
}

// unitRead is a place with its record; without one err says why.
type unitRead struct {
	name   string
	record *record.Record // without its contents
	digest string         // of the record's bytes
	err    error
}

// openPlace reads the record of a place, whose history has to be closed.
func openPlace(dir string, p place) (*history, error) {
	if p.wrong != nil {
		return nil, p.wrong
	}
	folder := filepath.Join(dir, p.name)
	h, err := openHistory(folder)
	if err != nil {
		return nil, err
	}
	if h.current == nil {
		return nil, errors.New("it is empty; expected the guide of a unit")
	}
	if err := belongs(folder, h.current); err != nil {
		h.close()
		return nil, err
	}
	return h, nil
}

// readUnit reads the record of a place.
func readUnit(dir string, p place) unitRead {
	h, err := openPlace(dir, p)
	if err != nil {
		return unitRead{name: p.name, err: err}
	}
	defer h.close()
	return unitRead{p.name, h.current, record.Digest(h.data), nil}
}

// readUnits hands on the record of each place, in order.
func readUnits(dir string, places []place, use func(unitRead)) {
	parallel.InOrder(places, 0, func(p place) (unitRead, error) { return readUnit(dir, p), nil }, func(p place, u unitRead, err error) bool {
		if err != nil { // it panicked
			u = unitRead{name: p.name, err: err}
		}
		use(u)
		return true
	})
}

// unreadUnit is the finding about a unit without a record.
func unreadUnit(dir, name string, err error) source.Finding {
	f := codeUnitUnread.At(source.Pos{File: path.Join(filepath.ToSlash(dir), name)}, "%v", err)
	return f.WithHint("put its files back from a copy, or move the folder out of %s if it is no unit", filepath.ToSlash(filepath.Clean(dir)))
}

// census finds serial and vehicle identification numbers that stand twice.
// Capitals do not tell two of them apart.
type census struct{ serials, vins map[string]string }

func newCensus() *census { return &census{map[string]string{}, map[string]string{}} }

func (c *census) add(dir, serial, vin string) (found source.Findings) {
	at := source.Pos{File: path.Join(filepath.ToSlash(dir), serial, record.File)}
	for _, n := range []struct {
		known      map[string]string
		code       source.Code
		name, text string
	}{{c.serials, codeSerialTaken, "serial number", serial}, {c.vins, codeVINTaken, "vin", vin}} {
		key := strings.ToLower(n.text)
		if other, taken := n.known[key]; taken {
			found.Add(n.code.At(at, "the %s %s is that of %s too", n.name, n.text, path.Join(filepath.ToSlash(dir), other)))
			continue
		}
		n.known[key] = serial
	}
	return found
}
