package begin

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"ownerguide/spec/source"
)

// Codes of the findings about an order export and its column map.
var (
	codeExport = codes.Error("export-unreadable", "an export that is read in part would leave units without a sheet")
	codeColumn = codes.Error("export-column", "a column that is not found would leave its entry out of every sheet")
	codeRow    = codes.Error("export-row", "a row cut in the wrong places puts values into the wrong entries")
	codeCell   = codes.Error("export-cell", "a cell that cannot be meant must not become part of a unit")
)

// Codes returns the codes of the findings this package can report.
func Codes() []source.Code { return codes }

var codes source.CodeList

// Limits of an export. The largest plant builds some thousands of units a year.
// A small file can expand to far more than its size: cells of nothing but separators,
// one text that a workbook shows in every cell, a title that each row repeats as a
// comment. So the expanded size is limited too.
const (
	exportLimit = 16 << 20 // bytes of a file, and of the texts of all its cells
	rowLimit    = 20000
	columnLimit = 500
	cellLimit   = 500_000
	titleLimit  = 200       // characters
	sheetsLimit = 100 << 20 // bytes of all sheets made from one export
)

// ExportLimit is the number of bytes to read of an export to detect that it is too
// large.
const ExportLimit = exportLimit + 1

// Table is an order export: the titles and the rows below them. Each row has as many
// cells as there are titles.
type Table struct {
	file string
	head []cell
	rows []row
	text int // bytes of the texts of all cells
	// worksheet is the name of the worksheet that was read; empty for a text file, whose
	// columns an editor counts as findings do.
	worksheet string
}

// named adds the spreadsheet's name of the cell to each finding about a workbook.
func (t *Table) named(findings source.Findings) source.Findings {
	if t == nil || t.worksheet == "" {
		return findings
	}
	out := slices.Clone(findings)
	for i, f := range out {
		switch {
		case f.Pos.File != t.file || f.Pos.Line == 0:
		case f.Pos.Column == 0:
			out[i].Message += fmt.Sprintf(", in row %d of %s", f.Pos.Line, t.worksheet)
		default:
			out[i].Message += fmt.Sprintf(", in cell %s%d of %s", columnLetters(f.Pos.Column), f.Pos.Line, t.worksheet)
		}
	}
	return out
}

// columnLetters returns a spreadsheet's name of a column: 1 is A, 27 is AA.
func columnLetters(n int) string {
	if n <= 0 {
		return ""
	}
	return columnLetters((n-1)/26) + string(rune('A'+(n-1)%26))
}

// cell is one cell with its position. In a workbook the column is the number of the
// spreadsheet's column; in a text file it counts characters.
type cell struct {
	text    string
	at      source.Pos
	counted bool // a number of a workbook, which may be a date
}

type row struct {
	at    source.Pos
	cells []cell // nil if the row could not be read
}

// ReadCSV reads an export with separated values in UTF-8, with titles in the first line.
// If separator is empty, it is the most frequent of comma, semicolon and tab in the
// titles. Rows that cannot be read are reported and skipped; the table is nil if nothing
// can be read.
func ReadCSV(file string, data []byte, separator string) (*Table, source.Findings) {
	whole := source.Pos{File: file}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if f, bad := tooLarge(whole, data); bad {
		return nil, source.Findings{f}
	}
	between := comma(separator, firstLine(data))
	// This counts separators inside quotes too: nobody writes a million of them.
	if bytes.Count(data, []byte(string(between)))+bytes.Count(data, []byte("\n")) > cellLimit {
		return nil, source.Findings{tooManyCells(whole)}
	}
	lines := bytes.Split(data, []byte("\n"))
	for i, line := range lines {
		if !utf8.Valid(line) {
			return nil, source.Findings{codeExport.At(source.Pos{File: file, Line: i + 1}, "this line is not UTF-8").WithHint("export it as CSV in UTF-8")}
		}
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = between, -1, true
	counted := 0 // bytes of the line
	// Columns are counted from the previous cell, because a row may have a million cells.
	at := func(i int, before source.Pos) source.Pos {
		line, column := r.FieldPos(i)
		if n := line - 1; n < len(lines) && column-1 <= len(lines[n]) {
			if i == 0 || before.Line != line {
				before.Column, counted = 1, 0
			}
			from := counted
			counted = column - 1
			column = before.Column + utf8.RuneCount(lines[n][from:counted])
		}
		return source.Pos{File: file, Line: line, Column: column}
	}
	t := &Table{file: file}
	var findings source.Findings
	for {
		record, err := r.Read()
		var broken *csv.ParseError
		switch {
		case errors.As(err, &broken):
			f := codeRow.At(source.Pos{File: file, Line: broken.StartLine}, "this row cannot be read: %s", broken.Err)
			if errors.Is(broken.Err, csv.ErrQuote) || errors.Is(broken.Err, csv.ErrBareQuote) {
				f = f.WithHint("put the whole cell in quotes, and double each quote inside it")
			}
			findings.Add(f)
			t.rows = append(t.rows, row{at: f.Pos})
			continue
		case err != nil: // the end; reading from memory cannot fail otherwise
			if t.head == nil {
				findings.Add(codeExport.At(whole, "the export has no title line"))
				return nil, findings
			}
			return t, findings
		}
		cells := make([]cell, len(record))
		var last source.Pos
		for i, text := range record {
			last = at(i, last)
			cells[i] = cell{text: source.Composed(strings.TrimSpace(text)), at: last}
		}
		findings.Add(t.add(cells)...)
		if problem := t.unusable(); problem != "" && (findings.HasErrors() || t.head != nil) {
			findings.Add(codeExport.At(whole, "the export has %s", problem))
			return nil, findings
		}
	}
}

// unusable returns why the table read so far cannot be used; empty if it can.
func (t *Table) unusable() string {
	switch {
	case t.head == nil:
		return "no usable title line"
	case len(t.rows) > rowLimit:
		return fmt.Sprintf("more than %d rows", rowLimit)
	case t.text > exportLimit:
		return fmt.Sprintf("more than %d MB of text in its cells", exportLimit>>20)
	}
	return ""
}

func firstLine(data []byte) []byte {
	line, _, _ := bytes.Cut(data, []byte("\n"))
	return line
}

func tooManyCells(whole source.Pos) source.Finding {
	return codeExport.At(whole, "the export has more than %d cells", cellLimit).WithHint("export fewer orders or columns at a time")
}

func tooLarge(whole source.Pos, data []byte) (source.Finding, bool) {
	if len(data) <= exportLimit {
		return source.Finding{}, false
	}
	return codeExport.At(whole, "the export has more than %d MB", exportLimit>>20).WithHint("export fewer orders at a time"), true
}

// comma returns the separator that was requested, or the most likely one.
func comma(asked string, titles []byte) rune {
	if asked == "tab" {
		return '\t'
	}
	if r, size := utf8.DecodeRuneInString(asked); size > 0 && size == len(asked) {
		return r
	}
	best, most := ',', 0
	for _, c := range ",;\t" {
		if n := bytes.Count(titles, []byte(string(c))); n > most {
			best, most = c, n
		}
	}
	return best
}

// add adds one line of cells; the first line has the titles. Empty rows are skipped,
// because spreadsheets leave them behind.
func (t *Table) add(cells []cell) source.Findings {
	last := -1
	for i, c := range cells {
		if c.text != "" {
			last = i
		}
		t.text += len(c.text)
	}
	switch {
	case last < 0:
		return nil
	case t.head == nil:
		return t.title(cells[:last+1])
	case last >= len(t.head):
		t.rows = append(t.rows, row{at: source.Pos{File: t.file, Line: cells[0].at.Line, Column: 1}})
		return source.Findings{codeRow.At(cells[len(t.head)].at, "the row has %d cells; there are %d titles", last+1, len(t.head)).
			WithHint("a separator inside a cell needs quotes round the cell")}
	}
	for len(cells) < len(t.head) {
		at := cells[0].at
		if t.worksheet != "" {
			at.Column = len(cells) + 1
		}
		cells = append(cells, cell{at: at})
	}
	r := row{source.Pos{File: t.file, Line: cells[0].at.Line, Column: 1}, cells[:len(t.head)]}
	if t.worksheet != "" {
		r.at.Column = 0
	}
	t.rows = append(t.rows, r)
	return nil
}

func (t *Table) title(cells []cell) (findings source.Findings) {
	if len(cells) > columnLimit {
		return source.Findings{codeExport.At(cells[0].at, "the export has %d columns; at most %d are read", len(cells), columnLimit)}
	}
	first := map[string]source.Pos{}
	for _, c := range cells {
		if n := utf8.RuneCountInString(c.text); n > titleLimit {
			findings.Add(codeColumn.At(c.at, "the title has %d characters; at most %d are read", n, titleLimit))
			continue
		}
		key := strings.ToLower(c.text)
		if at, twice := first[key]; twice && key != "" {
			findings.Add(codeColumn.At(c.at, "the title %q stands here a second time", c.text).WithRelated(at, "first here"))
		}
		first[key] = c.at
	}
	t.head = cells
	if findings.HasErrors() {
		t.head = nil
	}
	return findings
}

// titles returns the titles that are not empty.
func (t *Table) titles() (out []string) {
	for _, c := range t.head {
		if c.text != "" {
			out = append(out, c.text)
		}
	}
	return out
}

// column returns the index of a title, ignoring case; -1 if there is none.
func (t *Table) column(title string) int {
	for i, c := range t.head {
		if c.text != "" && strings.EqualFold(c.text, strings.TrimSpace(title)) {
			return i
		}
	}
	return -1
}
