package begin

import (
	"archive/zip"
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

// Bounds of what a workbook may unfold to. It is a zip archive, and a small one
// can be made to fill any memory.
const (
	unfoldedLimit = 64 << 20
	memberLimit   = 2000
)

// ReadWorkbook reads an export from a worksheet of an .xlsx file, the first one
// when none is named; the first row with anything in it has the titles. Positions
// name the spreadsheet's own row and, as a number, its column.
func ReadWorkbook(file string, data []byte, worksheet string) (*Table, source.Findings) {
	whole := source.Pos{File: file}
	if f, bad := tooLarge(whole, data); bad {
		return nil, source.Findings{f}
	}
	refused := func(err error) (*Table, source.Findings) {
		return nil, source.Findings{codeExport.At(whole, "this workbook cannot be read: %s", err).WithHint("save it as CSV in UTF-8")}
	}
	if err := soundWorkbook(data); err != nil {
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
		if near, ok := source.Nearest(worksheet, book.Sheets); ok {
			f = f.WithHint("did you mean %q?", near)
		}
		return nil, source.Findings{f}
	}
	t := &Table{file: file}
	var findings source.Findings
	// The channel is read to its end: the reader's goroutine waits at it.
	for r := range book.ReadRows(worksheet) {
		cells, err := workbookCells(file, r)
		if err != nil {
			f := codeRow.At(source.Pos{File: file, Line: r.Index}, "this row cannot be read: %s", err)
			findings.Add(f)
			t.rows = append(t.rows, row{at: f.Pos})
			continue
		}
		if len(t.rows) <= rowLimit {
			findings.Add(t.add(cells)...)
		}
	}
	if t.head == nil || len(t.rows) > rowLimit {
		findings.Add(codeExport.At(whole, "worksheet %q has no usable title row, or more than %d rows", worksheet, rowLimit))
		return nil, findings
	}
	return t, findings
}

// workbookCells puts the cells of a row in their columns; a workbook leaves
// empty ones out.
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
		text := strings.TrimSpace(c.Value)
		if c.Type == xlsxreader.TypeDateTime && len(text) > len("2027-03-02") {
			text = text[:len("2027-03-02")] // the day is what a sheet has; the hour is dropped
		}
		cells[i].text, cells[i].daily = text, c.Type == xlsxreader.TypeNumerical
	}
	return cells, nil
}

// soundWorkbook unfolds every part of the archive once, bounded, and looks for
// what the library would take wrongly: parts cut off in the middle, which it
// reads as shorter tables, numbers of shared texts that are none, readings in
// small letters above a text, and days counted from 1904.
func soundWorkbook(data []byte) error {
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return errors.New("it is not an .xlsx file")
	}
	if len(archive.File) > memberLimit {
		return fmt.Errorf("it has more than %d parts", memberLimit)
	}
	left := int64(unfoldedLimit)
	for _, f := range archive.File {
		used, err := soundPart(f, left)
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		left -= used
	}
	return nil
}

func soundPart(f *zip.File, left int64) (used int64, err error) {
	part, err := f.Open()
	if err != nil {
		return 0, err
	}
	defer part.Close()
	counted := &io.LimitedReader{R: part, N: left + 1}
	if !strings.HasSuffix(f.Name, ".xml") {
		_, err = io.Copy(io.Discard, counted)
	} else {
		err = soundXML(counted)
	}
	if counted.N <= 0 {
		return 0, fmt.Errorf("the workbook unfolds to more than %d MB", unfoldedLimit>>20)
	}
	return left + 1 - counted.N, err
}

func soundXML(r io.Reader) error {
	d := xml.NewDecoder(r)
	shared, value := false, false // inside a cell with a shared text, and inside its number
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return err
		}
		switch e := token.(type) {
		case xml.StartElement:
			switch e.Name.Local {
			case "rPh":
				return errors.New("it has readings above its texts")
			case "workbookPr":
				if v := attribute(e, "date1904"); v == "1" || v == "true" {
					return errors.New("it counts days from 1904")
				}
			case "sst":
				if n, err := strconv.Atoi(attribute(e, "count")); attribute(e, "count") != "" && (err != nil || n < 0 || n > unfoldedLimit/8) {
					return errors.New("the number of its texts cannot be right")
				}
			case "c":
				shared = attribute(e, "t") == "s"
			}
			value = e.Name.Local == "v"
		case xml.EndElement:
			value = false
		case xml.CharData:
			if shared && value {
				if _, err := strconv.ParseUint(string(e), 10, 31); err != nil {
					return errors.New("a cell points to a text that is not there")
				}
			}
		}
	}
}

func attribute(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}
