// Package register reads and writes the register of an output folder: one file with what
// must be known of all units without reading their records. That is who they are, for
// the index and to find duplicate serial and vehicle identification numbers; the letter
// delivered last, which remains known when the unit's folder is removed; and the program
// that made each guide.
//
// The file has one line for each unit, sorted by serial number, and is read and written
// sequentially, so that no folder is too large. A line is valid as long as the record's
// file has the stamp given in the line.
//
// Folders may therefore be copied in, changed or removed by hand, and writing one guide
// reads no other unit's record. Register and index can be rebuilt from the records, except
// the letters of units that are gone.
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

// Entry is the line of one unit.
type Entry struct {
	Serial string // also the name of its folder
	Stamp  string // of the record's file when it was read; empty if none could be read
	Digest string // of the record's bytes
	Made   string // digest of the program that made the guide, by its bytes; may be empty
	State  string // digest of what the guide was made from and of the stamps of its files, when they were whole; may be empty
	Letter Letter // delivered last; zero if none

	VIN, Model, Buyer, Dealer, Revision, Issued, Delivered string

	Promise      string // of the record; empty for a draft, which promises nothing
	Proof        string // digest of the proof of line and templates; empty if the guide was made without one
	Kept         string // earlier revisions, separated by spaces: A:MADE, or A if the program is not known
	Options      string // names, separated by commas
	Notes, Pages int
	Unconfirmed  int    // prescribed texts that nobody has compared with the law in force
	Files        string // names of the delivered files, separated by spaces
}

// Letter is a delivered revision letter and its promise.
type Letter struct {
	Revision string
	Promise  string // of the record
	How      string // such as "mailed", for a sentence with "was"
}

const (
	head   = "ownerguide register 4\n"
	fields = 23
)

// ErrDamaged reports that a file is not a register, or not as it was written.
var ErrDamaged = errors.New("the register is damaged")

// castagnoli returns the table, which is made when it is first asked for: most commands need none.
func castagnoli() *crc32.Table { return crc32.MakeTable(crc32.Castagnoli) }

// lineLimit limits one line: names on a sheet have a few hundred bytes.
const lineLimit = 1 << 20

// Check reports whether a register is as it was written; the error is [ErrDamaged] if it
// is not.
func Check(r io.Reader) error { return scan(r, func([]byte) error { return nil }) }

// Read calls use with every entry, in the order of the file. The register is intact
// only if Read returns nil; after [ErrDamaged] the entries passed to use may be wrong.
func Read(r io.Reader, use func(Entry) error) error {
	return scan(r, func(line []byte) error {
		e, ok := parse(string(line))
		if !ok {
			return ErrDamaged
		}
		return use(e)
	})
}

// scan calls use with the lines between head and tail, without line ends.
func scan(r io.Reader, use func(line []byte) error) error {
	in := bufio.NewReaderSize(r, 64<<10)
	var sum uint32
	for count := -1; ; count++ { // the head is not an entry
		line, err := readLine(in)
		switch {
		case err != nil:
			return err
		case count < 0 && string(line) != head:
			return ErrDamaged
		case bytes.HasPrefix(line, []byte("end ")): // a serial number has no space
			if _, err := in.ReadByte(); string(line) != tail(count, sum) || !errors.Is(err, io.EOF) {
				return ErrDamaged
			}
			return nil
		}
		sum = crc32.Update(sum, castagnoli(), line)
		if count < 0 {
			continue
		}
		if err := use(bytes.TrimSuffix(line, []byte("\n"))); err != nil {
			return err
		}
	}
}

func tail(count int, sum uint32) string { return fmt.Sprintf("end %d %08x\n", count, sum) }

// readLine reads a line with its end; it is valid until the next call.
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
		VIN: f[7], Model: f[8], Buyer: f[9], Revision: f[10], Issued: f[11], Delivered: f[12], Promise: f[13], Kept: f[14], Files: f[17], Dealer: f[18], Options: f[19], Proof: f[21], State: f[22]}
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

// NewWriter returns a Writer that has written the head.
func NewWriter(w io.Writer) *Writer {
	out := bufio.NewWriterSize(w, 64<<10)
	_, _ = out.WriteString(head) // a write error is returned by Close
	return &Writer{out: out, sum: crc32.Checksum([]byte(head), castagnoli())}
}

// Add writes one entry; entries must be added in the order of their serial numbers.
func (w *Writer) Add(e Entry) {
	line := w.line[:0]
	for i, f := range [fields]string{e.Serial, e.Stamp, e.Digest, e.Made, e.Letter.Revision, e.Letter.Promise, e.Letter.How,
		e.VIN, e.Model, e.Buyer, e.Revision, e.Issued, e.Delivered, e.Promise, e.Kept, strconv.Itoa(e.Notes), strconv.Itoa(e.Pages), e.Files,
		e.Dealer, e.Options, strconv.Itoa(e.Unconfirmed), e.Proof, e.State} {
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
	w.sum = crc32.Update(w.sum, castagnoli(), w.line)
	_, _ = w.out.Write(w.line)
	w.count++
}

// Close writes the tail and returns the first write error. It does not close the
// underlying writer.
func (w *Writer) Close() error {
	_, _ = w.out.WriteString(tail(w.count, w.sum))
	return w.out.Flush()
}
