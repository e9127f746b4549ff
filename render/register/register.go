// Package register keeps, in one file of an output folder, what has to be known
// of all its units without reading their records: who they are, for the index
// and for serial and vehicle identification numbers that must not stand twice;
// the letter that was delivered last, which stays known when the unit's folder
// is taken away; and by which program a guide was made.
//
// The file has one line for each unit, sorted by serial number, and is read and
// written from front to back, so that no folder is too large. What it says of a
// record holds as long as the record's file bears the stamp beside it.
//
// So folders may be copied in, changed or taken away by hand, and writing one guide
// reads no other unit's record. Register and index are made anew from the records,
// letters of units that are gone excepted.
//
// The package opens no file.
package register

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strconv"
	"strings"
)

// Entry is what is known of one unit.
type Entry struct {
	Serial string // the name of its folder
	Stamp  string // of the record's file when it was read; empty when there is none that can be read
	Digest string // of the record's bytes
	Made   string // the program that made the guide, byte for byte; may be empty
	Letter Letter // delivered last; zero before any

	VIN, Model, Buyer, Dealer, Revision, Issued, Delivered string

	Promise      string // of the record; empty for a draft, which promises nothing
	Proof        string // digest of the proof of line and words; empty when the guide was made without one
	Kept         string // earlier revisions, separated by spaces: A:MADE, or A where the program is not known
	Options      string // names, separated by commas
	Notes, Pages int
	Unconfirmed  int    // prescribed texts that nobody has held against the law in force
	Files        string // names of the delivered files, separated by spaces
}

// Letter is a revision letter that was delivered, and what was promised by it.
type Letter struct {
	Revision string
	Promise  string // of the record
	How      string // such as "mailed", for a sentence with "was"
}

const (
	head   = "ownerguide register 3\n"
	fields = 22
)

// ErrDamaged says that a file is no register, or not as it was written.
var ErrDamaged = errors.New("the register is damaged")

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// lineLimit bounds one line: names on a sheet have a few hundred bytes.
const lineLimit = 1 << 20

// Check reports whether a register is as it was written; [ErrDamaged] says that
// it is not.
func Check(r io.Reader) error { return scan(r, func([]byte) error { return nil }) }

// Read hands every entry to use, in the order of the file. Only when it returns
// nil was the register whole; [ErrDamaged] says that what was handed out may be
// wrong.
func Read(r io.Reader, use func(Entry) error) error {
	return scan(r, func(line []byte) error {
		e, ok := parse(string(line))
		if !ok {
			return ErrDamaged
		}
		return use(e)
	})
}

// scan hands on the lines between head and tail, without their ends.
func scan(r io.Reader, use func(line []byte) error) error {
	in := bufio.NewReaderSize(r, 64<<10)
	var sum uint32
	for count := -1; ; count++ { // the head is no entry
		line, err := readLine(in)
		switch {
		case err != nil:
			return err
		case count < 0 && string(line) != head:
			return ErrDamaged
		case bytes.HasPrefix(line, []byte("end ")): // no serial number has a space
			if _, err := in.ReadByte(); string(line) != tail(count, sum) || !errors.Is(err, io.EOF) {
				return ErrDamaged
			}
			return nil
		}
		sum = crc32.Update(sum, castagnoli, line)
		if count < 0 {
			continue
		}
		if err := use(bytes.TrimSuffix(line, []byte("\n"))); err != nil {
			return err
		}
	}
}

func tail(count int, sum uint32) string { return fmt.Sprintf("end %d %08x\n", count, sum) }

// readLine reads a line with its end; it is good until the next one is read.
func readLine(in *bufio.Reader) ([]byte, error) {
	var long []byte
	for {
		part, err := in.ReadSlice('\n')
		switch {
		case err == nil && long == nil:
			return part, nil
		case err == nil:
			return append(long, part...), nil
		case errors.Is(err, io.EOF) || len(long) > lineLimit:
			return nil, ErrDamaged
		case !errors.Is(err, bufio.ErrBufferFull):
			return nil, err
		}
		long = append(long, part...)
	}
}

func parse(line string) (e Entry, ok bool) {
	var f [fields]string
	for i := range f {
		var more bool
		if f[i], line, more = strings.Cut(line, "\t"); more != (i < fields-1) {
			return e, false
		}
	}
	e = Entry{Serial: f[0], Stamp: f[1], Digest: f[2], Made: f[3], Letter: Letter{f[4], f[5], f[6]},
		VIN: f[7], Model: f[8], Buyer: f[9], Revision: f[10], Issued: f[11], Delivered: f[12], Promise: f[13], Kept: f[14], Files: f[17], Dealer: f[18], Options: f[19], Proof: f[21]}
	var errNotes, errPages, errTexts error
	e.Notes, errNotes = strconv.Atoi(f[15])
	e.Pages, errPages = strconv.Atoi(f[16])
	e.Unconfirmed, errTexts = strconv.Atoi(f[20])
	return e, errNotes == nil && errPages == nil && errTexts == nil && e.Serial != ""
}

// Writer writes a register.
type Writer struct {
	out   *bufio.Writer
	sum   uint32
	count int
	line  []byte
}

// NewWriter begins a register.
func NewWriter(w io.Writer) *Writer {
	out := bufio.NewWriterSize(w, 64<<10)
	_, _ = out.WriteString(head) // an error stays until Close
	return &Writer{out: out, sum: crc32.Checksum([]byte(head), castagnoli)}
}

// Add writes one entry; entries come in the order of their serial numbers.
func (w *Writer) Add(e Entry) {
	line := w.line[:0]
	for i, f := range [fields]string{e.Serial, e.Stamp, e.Digest, e.Made, e.Letter.Revision, e.Letter.Promise, e.Letter.How,
		e.VIN, e.Model, e.Buyer, e.Revision, e.Issued, e.Delivered, e.Promise, e.Kept, strconv.Itoa(e.Notes), strconv.Itoa(e.Pages), e.Files,
		e.Dealer, e.Options, strconv.Itoa(e.Unconfirmed), e.Proof} {
		if i > 0 {
			line = append(line, '\t')
		}
		start := len(line)
		line = append(line, f...)
		for j, char := range line[start:] {
			if char < ' ' { // a line end in a text would end the entry
				line[start+j] = ' '
			}
		}
	}
	w.line = append(line, '\n')
	w.sum = crc32.Update(w.sum, castagnoli, w.line)
	_, _ = w.out.Write(w.line)
	w.count++
}

// Close ends the register and tells whether all of it could be written. It does
// not close what is written to.
func (w *Writer) Close() error {
	_, _ = w.out.WriteString(tail(w.count, w.sum))
	return w.out.Flush()
}
