package begin

import (
	"archive/zip"
	"bufio"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/thedatashed/xlsxreader"

	"ownerguide/spec/source"
)

// Limits of the size of an expanded workbook. It is a zip archive, and a small one can be
// made to fill any memory. An ordinary workbook nests its elements six deep, and no cell
// has more than 32,767 characters.
const (
	unfoldedLimit = 64 << 20 // bytes of all its parts
	memberLimit   = 2000     // parts
	elementLimit  = 4 * cellLimit
	depthLimit    = 32
	tokenLimit    = 1 << 20 // bytes of one tag or one text
	rowCellLimit  = 16384   // cells in a row: the number of columns of a spreadsheet
)

// ReadWorkbook reads an export from a worksheet of an .xlsx file, by default the first;
// the first row that is not empty has the titles. Positions have the spreadsheet's row
// and the number of its column.
func ReadWorkbook(file string, data []byte, worksheet string) (*Table, source.Findings) {
	whole := source.Pos{File: file}
	if f, bad := tooLarge(whole, data); bad {
		return nil, source.Findings{f}
	}
	refused := func(err error) (*Table, source.Findings) {
		return nil, source.Findings{codeExport.At(whole, "this workbook cannot be read: %s", err).WithHint("save it as CSV in UTF-8")}
	}
	if err := checkWorkbook(data); err != nil {
		return refused(err)
	}
	book, err := xlsxreader.NewReader(data)
	if err != nil {
		return refused(err)
	}
	switch {
	case len(book.Sheets) == 0:
		return refused(errors.New("it has no worksheet"))
	case worksheet == "":
		worksheet = book.Sheets[0]
	case !slices.Contains(book.Sheets, worksheet):
		f := codeExport.At(whole, "there is no worksheet %q; there are %s", worksheet, strings.Join(book.Sheets, ", "))
		f = f.DidYouMean(worksheet, book.Sheets, "")
		return nil, source.Findings{f}
	}
	t := &Table{file: file, worksheet: worksheet}
	var findings source.Findings
	// The channel must be drained, or the reader's goroutine would leak.
	for r := range book.ReadRows(worksheet) {
		cells, err := workbookCells(file, r)
		if err != nil {
			f := codeRow.At(source.Pos{File: file, Line: r.Index}, "this row cannot be read: %s", err)
			findings.Add(f)
			t.rows = append(t.rows, row{at: f.Pos})
			continue
		}
		if t.head == nil || t.unusable() == "" {
			findings.Add(t.add(cells)...)
		}
	}
	if problem := t.unusable(); problem != "" {
		findings.Add(codeExport.At(whole, "worksheet %q has %s", worksheet, problem))
		return nil, t.named(findings)
	}
	return t, t.named(findings)
}

// workbookCells returns the cells of a row in their columns; a workbook omits empty
// cells.
func workbookCells(file string, r xlsxreader.Row) ([]cell, error) {
	var cells []cell
	if r.Error != nil {
		return nil, r.Error
	}
	for _, c := range r.Cells {
		i := c.ColumnIndex()
		if i < 0 || i >= columnLimit {
			return nil, fmt.Errorf("a cell is in column %q; columns up to number %d are read", c.Column, columnLimit)
		}
		for len(cells) <= i {
			cells = append(cells, cell{at: source.Pos{File: file, Line: r.Index, Column: len(cells) + 1}})
		}
		text := source.Composed(strings.TrimSpace(c.Value))
		if c.Type == xlsxreader.TypeDateTime && len(text) > len("2027-03-02") {
			text = text[:len("2027-03-02")] // a sheet has the day only; the time is dropped
		}
		cells[i].text, cells[i].counted = text, c.Type == xlsxreader.TypeNumerical
	}
	return cells, nil
}

// checkWorkbook expands every part of the archive once, within limits, and looks for
// content that the library misreads: truncated parts, which it reads as shorter tables,
// invalid indices of shared strings, phonetic readings above a text, and dates counted
// from 1904.
func checkWorkbook(data []byte) error {
	if bytes.Count(data, []byte("PK\x01\x02")) > memberLimit { // before a list of them is made
		return fmt.Errorf("it has more than %d parts", memberLimit)
	}
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return errors.New("it is not an .xlsx file")
	}
	u := &boundedReader{left: unfoldedLimit, seen: map[string]int{}}
	for _, f := range archive.File {
		if err := u.part(f); err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	return nil
}

// boundedReader reads one part after another and counts bytes. It is between the archive
// and the XML decoder, which reads single bytes and would collect a tag or a text of
// any length.
type boundedReader struct {
	from  *bufio.Reader
	left  int            // bytes that the workbook may still expand to
	token int            // bytes that the current tag or text may still have
	seen  map[string]int // count of elements, for those in mostElements
}

// ReadByte implements [io.ByteReader].
func (u *boundedReader) ReadByte() (byte, error) {
	switch {
	case u.left == 0:
		return 0, errTooLarge
	case u.token == 0:
		return 0, fmt.Errorf("it has a tag or a text of more than %d bytes", tokenLimit)
	}
	u.left--
	u.token--
	return u.from.ReadByte()
}

// Read implements [io.Reader].
func (u *boundedReader) Read(into []byte) (n int, err error) {
	if u.left == 0 {
		return 0, errTooLarge
	}
	n, err = u.from.Read(into[:min(len(into), u.left)])
	u.left -= n
	return n, err
}

var errTooLarge = fmt.Errorf("the workbook unfolds to more than %d MB", unfoldedLimit>>20)

func (u *boundedReader) part(f *zip.File) error {
	part, err := f.Open()
	if err != nil {
		return err
	}
	defer part.Close()
	u.from = bufio.NewReader(part)
	if strings.HasSuffix(f.Name, ".xml") || strings.HasSuffix(f.Name, ".rels") {
		return u.xml(f.Name)
	}
	_, err = io.Copy(io.Discard, u)
	return err
}

func (u *boundedReader) xml(name string) error {
	d := xml.NewDecoder(u)
	shared, value := false, false // inside a cell with a shared string, and inside its number
	for depth, cells := 0, 0; ; {
		u.token = tokenLimit
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch e := token.(type) {
		case xml.StartElement:
			if depth++; depth > depthLimit {
				return fmt.Errorf("its elements are nested more than %d deep", depthLimit)
			}
			if err := u.element(name, e); err != nil {
				return err
			}
			if e.Name.Local == "c" {
				shared = attribute(e, "t") == "s"
				if cells++; cells > rowCellLimit {
					return fmt.Errorf("a row has more than %d cells", rowCellLimit)
				}
			}
			value = e.Name.Local == "v"
		case xml.EndElement:
			depth--
			if value = false; e.Name.Local == "row" {
				cells = 0
			}
		case xml.CharData:
			if shared && value {
				if _, err := strconv.ParseUint(string(e), 10, 31); err != nil {
					return errors.New("a cell points to a text that is not there")
				}
			}
		}
	}
}

// element checks one element of a part.
func (u *boundedReader) element(part string, e xml.StartElement) error {
	kind := e.Name.Local
	most, special := mostElements[kind]
	if !special {
		kind, most = "", elementLimit
	}
	if u.seen[kind]++; u.seen[kind] > most {
		return fmt.Errorf("the workbook has more than %d elements %s", most, e.Name.Local)
	}
	switch {
	case kind == "rPh":
		return errors.New("it has readings above its texts")
	case kind == "workbookPr" && slices.Contains([]string{"1", "true"}, attribute(e, "date1904")):
		return errors.New("it counts days from 1904")
	case kind == "sst" && attribute(e, "count") != "":
		if n, err := strconv.Atoi(attribute(e, "count")); err != nil || n < 0 || n > cellLimit {
			return errors.New("the number of its texts cannot be right")
		}
	case kind == "Relationship" && part == "xl/_rels/workbook.xml.rels" && attribute(e, "TargetMode") != "External":
		if !strings.HasSuffix(attribute(e, "Target"), ".xml") { // the library would read it as XML anyway
			return fmt.Errorf("it names a part %q, which is no .xml", attribute(e, "Target"))
		}
	}
	return nil
}

// mostElements limits the number of elements that cost the library memory or that it
// searches linearly.
var mostElements = map[string]int{
	"c": cellLimit, "si": cellLimit, "sheet": memberLimit, "Relationship": 100_000, "numFmt": 5_000, "xf": 100_000,
	"rPh": 1, "workbookPr": memberLimit, "sst": memberLimit,
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
