package output

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// Codes of the findings about the units of an output folder.
var (
	codeUnitUnread  = codes.Error("unit-unreadable", "a unit whose record cannot be read is missed by a recall")
	codeUnitGone    = codes.Warning("unit-gone", "a unit whose folder was taken away is missed by a recall")
	CodeSerialTaken = codes.Error("serial-taken", "two units with one serial number would share a folder on some computers, and a recall would reach the wrong owner")
	CodeVINTaken    = codes.Error("vin-taken", "two guides for one trailer differ sooner or later, and a recall would reach the wrong owner")
	codeLetterTwice = codes.Error("revision-reused", "two guides that differ carry one revision letter, and nobody can tell which of them the owner holds")
	codeRegister    = codes.Error("register-damaged", "the register knows which letters were delivered to units whose folders were taken away")
	CodeIndexStale  = codes.Error("index-differs", "a unit that the index does not show is not found by who looks there")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList

// Place is a folder in an output folder at the level of units: it is a unit, or something
// is wrong with it.
type Place struct {
	Name   string // name of the folder
	Wrong  error
	Absent bool // there is no folder: the unit is only known from the register
}

// PlacesIn returns the places of an output folder, sorted by name. Regular files, such as
// the index and mails, are ignored, as are names that begin with a dot, which are the
// program's own or hidden.
func PlacesIn(dir string) ([]Place, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", dir, terminal.PlainError(err))
	}
	out := make([]Place, 0, len(entries))
	for _, e := range entries {
		switch name := e.Name(); {
		case deliver.Parked(name) != "":
			if _, err := os.Lstat(filepath.Join(dir, deliver.Parked(name))); errors.Is(err, fs.ErrNotExist) {
				out = append(out, Place{Name: name, Wrong: fmt.Errorf("a run that was stopped left the guide of %s here; ownerguide index %s puts it back", deliver.Parked(name), filepath.ToSlash(dir))})
			}
		case strings.HasPrefix(name, "."):
		case e.Type()&fs.ModeSymlink != 0:
			out = append(out, Place{Name: name, Wrong: errors.New("it is a link; expected the unit's own folder")})
		case e.IsDir():
			out = append(out, Place{Name: name})
		case !e.Type().IsRegular():
			out = append(out, Place{Name: name, Wrong: errors.New("it is not a folder")})
		}
	}
	return out, nil
}

// UnitsAt returns the folder itself if it is a unit, otherwise the places in it. One
// reports which.
func UnitsAt(dir string) (units []Place, one bool, err error) {
	if IsUnit(dir) {
		return []Place{{Name: "."}}, true, nil
	}
	if units, err = PlacesIn(dir); err == nil && len(units) == 0 {
		err = fmt.Errorf("%s: no unit's folder here; expected what write made", dir)
	}
	if err != nil {
		err = terminal.WithHint(err, "name the output folder of a write, or write guides first: ownerguide write SHEET")
	}
	return units, false, err
}

// UnitRead is a place with its record, or the error why there is none.
type UnitRead struct {
	Name   string
	Record *record.Record // without its contents
	Data   []byte         // the record's bytes
	Err    error
}

// OpenPlace reads the record of a place. The history must be closed.
func OpenPlace(dir string, p Place) (*History, error) {
	if p.Wrong != nil {
		return nil, p.Wrong
	}
	folder := filepath.Join(dir, p.Name)
	h, err := OpenHistory(folder)
	if err != nil {
		return nil, err
	}
	if h.Current == nil {
		return nil, errors.New("it is empty; expected the guide of a unit")
	}
	if err := belongs(folder, h.Current); err != nil {
		h.Close()
		return nil, err
	}
	return h, nil
}

// ReadUnit reads the record of a place.
func ReadUnit(dir string, p Place) UnitRead {
	h, err := OpenPlace(dir, p)
	if err != nil {
		return UnitRead{Name: p.Name, Err: err}
	}
	defer h.Close()
	return UnitRead{p.Name, h.Current, h.Data, nil}
}

// ReadUnits calls use with the record of each place, in order.
func ReadUnits(dir string, places []Place, use func(UnitRead)) {
	parallel.InOrder(places, 0, func(p Place) (UnitRead, error) { return ReadUnit(dir, p), nil }, func(p Place, u UnitRead, err error) bool {
		if err != nil { // it panicked
			u = UnitRead{Name: p.Name, Err: err}
		}
		use(u)
		return true
	})
}

// UnreadUnit returns the finding about a unit without a readable record.
func UnreadUnit(dir, name string, err error) source.Finding {
	f := codeUnitUnread.At(source.Pos{File: path.Join(filepath.ToSlash(dir), name)}, "%v", err)
	return f.WithHint("put its files back from a copy, or move the folder out of %s if it is no unit", filepath.ToSlash(filepath.Clean(dir)))
}

// duplicates finds duplicate serial and vehicle identification numbers, ignoring case.
type duplicates struct{ serials, vins map[string]string }

func NewDuplicates() *duplicates { return &duplicates{map[string]string{}, map[string]string{}} }

func (c *duplicates) Add(dir, serial, vin string) (found source.Findings) {
	at := source.Pos{File: path.Join(filepath.ToSlash(dir), serial, record.File)}
	for _, n := range []struct {
		known      map[string]string
		code       source.Code
		name, text string
	}{{c.serials, CodeSerialTaken, "serial number", serial}, {c.vins, CodeVINTaken, "vin", vin}} {
		key := strings.ToLower(n.text)
		if other, taken := n.known[key]; taken {
			found.Add(n.code.At(at, "the %s %s is that of %s too", n.name, n.text, path.Join(filepath.ToSlash(dir), other)))
			continue
		}
		n.known[key] = serial
	}
	return found
}

// IsUnit reports whether a folder is that of one unit: it contains at least two of the
// files that every unit has, so that a lost record does not matter, or a readable record.
func IsUnit(folder string) bool {
	files := 0
	for _, name := range []string{record.File, record.ContentsFile, "guide.html", "guide.pdf"} {
		if _, err := os.Lstat(filepath.Join(folder, name)); err == nil {
			files++
		}
	}
	if files != 1 {
		return files > 1
	}
	h, err := OpenHistory(folder)
	if err != nil {
		return false
	}
	defer h.Close()
	return h.Current != nil
}
