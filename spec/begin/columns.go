package begin

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

type word = source.Given[string]

// Columns is a column map: how the columns of an export become entries of
// build sheets. Its own file is YAML like all others.
type Columns struct {
	Columns   source.Map[word] `yaml:"columns" doc:"The title of the column for each entry of a sheet, and for options."`
	Same      source.Map[word] `yaml:"same" doc:"What every sheet gets in an entry."`
	Units     source.Map[word] `yaml:"units" doc:"The unit of the bare numbers in an entry's column."`
	Models    source.Map[word] `yaml:"models" doc:"The id of the model for each word of the export."`
	Options   source.Map[word] `yaml:"options" doc:"The id of the option for each word of the export."`
	YesNo     source.Map[word] `yaml:"yes_no" doc:"The option that a column of yes and no says, by the column's title."`
	Between   word             `yaml:"between" doc:"What stands between options in one cell. Left out, it is a semicolon."`
	Separator word             `yaml:"separator" doc:"What stands between cells, one character or tab. Left out, it is found out."`
	Worksheet word             `yaml:"worksheet" doc:"The worksheet of a workbook. Left out, it is the first."`
	LeaveOut  []word           `yaml:"leave_out" doc:"Titles of columns no sheet needs, not even as a remark."`
}

// ReadColumns reads a column map.
func ReadColumns(file string, data []byte) (*Columns, source.Findings) {
	node, findings := source.Parse(file, data, source.SheetLimit)
	if node == nil {
		return nil, findings
	}
	c := &Columns{}
	source.Decode(node, c, &findings)
	entries := append(entryPaths(), "options")
	for _, item := range c.Columns {
		if _, place, _ := cutFitted(item.Key); place != "" {
			entries = append(entries, item.Key) // whether there is such a place depends on the line
		}
	}
	for _, list := range []source.Map[word]{c.Columns, c.Same, c.Units} {
		for _, item := range list {
			if slices.Contains(entries, item.Key) {
				continue
			}
			f := codeColumn.At(item.KeyAt, "a build sheet has no entry %q that a column can fill", item.Key)
			if strings.HasPrefix(item.Key, "fitted") {
				f = f.WithHint("under columns, name a list and a place: \"fitted.tires.left front\", \"fitted.axles.rear\", \"fitted.parts.winch\"")
			} else if near, ok := source.Nearest(item.Key, entries); ok {
				f = f.WithHint("did you mean %q?", near)
			}
			findings.Add(f)
		}
	}
	if s := c.Separator; s.Set && s.Value != "tab" && (len([]rune(s.Value)) != 1 || strings.ContainsAny(s.Value, "\"\r\n")) {
		findings.Add(codeColumn.At(s.At, "separator is %q; expected one character, or tab", s.Value))
	}
	if findings.HasErrors() {
		return nil, findings
	}
	return c, findings
}

// cutFitted takes "fitted.tires.left front" apart; there is no list when it is
// another entry.
func cutFitted(entry string) (list, place string, ok bool) {
	rest, ok := strings.CutPrefix(entry, "fitted.")
	list, place, _ = strings.Cut(rest, ".")
	if !ok || !slices.ContainsFunc(fittedLists(), func(k source.Key) bool { return k.Name == list }) {
		return "", "", false
	}
	return list, place, true
}

// entryPaths lists the entries of a sheet that take a single value.
func entryPaths() []string {
	var out []string
	for _, k := range sheetShape.Keys {
		switch k.Shape.Kind {
		case source.Scalar:
			out = append(out, k.Name)
		case source.Mapping:
			for _, inner := range k.Shape.Keys {
				if inner.Shape.Kind == source.Scalar {
					out = append(out, k.Name+"."+inner.Name)
				}
			}
		}
	}
	return out
}

// Sheet is a build sheet made of one row.
type Sheet struct {
	Serial string
	At     source.Pos // of the row
	Text   []byte     // nil when the row is bad
	Blanks []string   // entries to fill in
}

// Sheets makes a build sheet of every row and checks it against the line, as far
// as it goes: only what the export leaves open may be missing. A row with an
// error gives no text. Findings stand at the cells they are about.
func (c *Columns) Sheets(t *Table, l *product.Line) ([]Sheet, source.Findings) {
	if c == nil {
		c = namedAlike(t, l)
	}
	m := &maker{Columns: c, table: t, line: l, column: map[string]int{}, meant: map[string]string{}}
	m.find()
	if m.findings.HasErrors() {
		return nil, m.findings.Sorted()
	}
	var sheets []Sheet
	rows := map[string]*order{}
	var read []*sheet.Sheet
	written := 0
	for _, r := range t.rows {
		if r.cells == nil { // reported where it was read
			sheets = append(sheets, Sheet{At: r.at})
			continue
		}
		o := m.order(r)
		rows[o.name] = o
		if o.sheet != nil {
			read = append(read, o.sheet)
		}
		sheets = append(sheets, Sheet{Serial: o.values["serial"], At: r.at, Text: o.text, Blanks: o.blanks})
		if written += len(o.text); written > sheetsLimit {
			return nil, append(m.findings.Sorted(), codeExport.At(source.Pos{File: t.file}, "the sheets of this export have more than %d MB", sheetsLimit>>20).
				WithHint("export fewer orders at a time, and name columns that no sheet needs under leave_out"))
		}
	}
	bad := map[source.Pos]bool{}
	m.findings.Add(sheet.CheckRun(read)...)
	for i, f := range m.findings {
		if o := rows[f.Pos.File]; o != nil {
			if strings.HasPrefix(f.Code, "option-") {
				f.Path = "options"
			}
			f = m.nearWord(f)
			f.Pos = o.cell(f.Path)
			if f.Severity == source.Error {
				bad[o.row.at] = true
			}
		}
		for j, r := range f.Related {
			if o := rows[r.Pos.File]; o != nil {
				f.Related[j].Pos = o.row.at
			}
		}
		m.findings[i] = f
	}
	for i := range sheets {
		if bad[sheets[i].At] {
			sheets[i].Text = nil
		}
	}
	return sheets, m.findings.Sorted()
}

// firstQuoted is what a finding is about.
var firstQuoted = regexp.MustCompile(`"([^"]+)"`)

// nearWord adds to a finding about an unknown model or option the nearest of the
// export's own words for them.
func (m *maker) nearWord(f source.Finding) source.Finding {
	own := map[string][]string{"model-unknown": m.Models.Names(), "option-unknown": m.Options.Names()}[f.Code]
	if said := firstQuoted.FindStringSubmatch(f.Message); said != nil {
		if near, ok := source.Nearest(said[1], own); ok {
			return f.WithHint("did you mean %q, which the column map knows?", near)
		}
	}
	return f
}

// namedAlike maps the columns whose titles are entries: what is done without a map.
func namedAlike(t *Table, l *product.Line) *Columns {
	c := &Columns{}
	entries := append(entryPaths(), "options")
	places := spec.FittedPlaces(l)
	for _, list := range fittedLists() {
		for _, place := range places[list.Name] {
			entries = append(entries, fittedPath(list.Name, place))
		}
	}
	for _, entry := range entries {
		if i := t.column(entry); i >= 0 {
			c.Columns = append(c.Columns, source.Item[word]{Key: entry, KeyAt: t.head[i].at, Value: word{Value: t.head[i].text, At: t.head[i].at, Set: true}})
		}
	}
	return c
}

// maker turns rows into sheets.
type maker struct {
	*Columns
	table    *Table
	line     *product.Line
	column   map[string]int    // entry, or yesNo(title) → column number
	unused   []int             // columns that become remarks
	meant    map[string]string // a word of a cell that is nothing → the nearest of the map's own words
	findings source.Findings
}

// find looks up every column the map names, and every id.
func (m *maker) find() {
	used := map[int]bool{}
	look := func(key string, title word) {
		i := m.table.column(title.Value)
		if i < 0 {
			f := codeColumn.At(title.At, "%s has no column %q", m.table.file, title.Value)
			if near, ok := source.Nearest(title.Value, m.table.titles()); ok {
				f = f.WithHint("did you mean %q?", near)
			} else {
				f = f.WithHint("columns: %s", strings.Join(m.table.titles(), ", "))
			}
			m.findings.Add(f)
			return
		}
		m.column[key], used[i] = i, true
	}
	places := spec.FittedPlaces(m.line)
	for _, item := range m.Columns.Columns {
		look(item.Key, item.Value)
		if list, place, ok := cutFitted(item.Key); ok && !slices.Contains(places[list], place) {
			f := codeColumn.At(item.KeyAt, "no unit of this line has the place %q under fitted.%s", place, list)
			if near, ok := source.Nearest(place, places[list]); ok {
				f = f.WithHint("did you mean %q?", fittedPath(list, near))
			} else {
				f = f.WithHint("places: %s", strings.Join(places[list], ", "))
			}
			m.findings.Add(f)
		}
	}
	for _, item := range m.YesNo {
		look(yesNo(item.Key), word{Value: item.Key, At: item.KeyAt})
	}
	for _, title := range m.LeaveOut {
		look("left out: "+title.Value, title)
	}
	for _, entry := range []string{"serial", "model"} {
		if _, mapped := m.column[entry]; !mapped && m.Same.Get(entry) == nil && !m.findings.HasErrors() {
			m.findings.Add(codeColumn.At(m.table.head[0].at, "no column gives the %s", entry).WithHint("say in a column map which one does: columns: { %s: Title of the column }", entry))
		}
	}
	var models, options []string
	for _, model := range m.line.Models {
		models = append(models, model.ID)
		options = append(options, model.Options.Names()...)
	}
	m.known(m.Models, "model", models)
	m.known(m.Options, "option", options)
	m.known(m.YesNo, "option", options)
	for i, c := range m.table.head {
		if c.text != "" && !used[i] {
			m.unused = append(m.unused, i)
		}
	}
}

func (m *maker) known(words source.Map[word], what string, ids []string) {
	for _, item := range words {
		if slices.Contains(ids, item.Value.Value) {
			continue
		}
		f := codeColumn.At(item.Value.At, "%s %q is not in the line of %s", what, item.Value.Value, m.line.Maker.Name.Value)
		if near, ok := source.Nearest(item.Value.Value, ids); ok {
			f = f.WithHint("did you mean %q?", near)
		}
		m.findings.Add(f)
	}
}

// order is one row on its way to a sheet.
type order struct {
	name   string // under which the sheet is read, unlike any other file's
	maker  *maker
	row    row
	values map[string]string
	sheet  *sheet.Sheet
	text   []byte
	blanks []string
}

// cell gives the place of the cell that filled an entry, or of the row.
func (o *order) cell(path string) source.Pos {
	for _, e := range fittedEntries(o.maker.line, o.values) {
		if strings.HasPrefix(path, fmt.Sprintf("fitted.%s[%d]", e.list, e.index)) || path == "fitted."+e.list {
			path = fittedPath(e.list, e.place)
			break
		}
	}
	path, _, _ = strings.Cut(path, "[")
	if i, ok := o.maker.column[path]; ok {
		return o.row.cells[i].at
	}
	return o.row.at
}

func (m *maker) order(r row) *order {
	o := &order{name: "row " + r.at.String(), maker: m, row: r, values: map[string]string{"revision": "A"}}
	sound := len(m.findings)
	for _, item := range m.Same {
		o.values[item.Key] = item.Value.Value
	}
	for _, item := range m.Columns.Columns {
		c := r.cells[m.column[item.Key]]
		if spreadsheetError(c.text) {
			m.findings.Add(codeCell.At(c.at, "the cell of %s holds the spreadsheet's error %s", item.Key, c.text))
		} else if list, _, _ := cutFitted(item.Key); list == "tires" && threeDigits.MatchString(c.text) {
			m.findings.Add(codeCell.At(c.at, "the date code in the cell of %s is %q; it has four digits", item.Key, c.text).
				WithHint("a spreadsheet takes a zero off the front of a number: make the column text, and write the zero"))
		} else if c.text != "" {
			o.values[item.Key] = m.written(item.Key, c)
		}
	}
	for _, entry := range []string{"serial", "model"} {
		if o.values[entry] == "" {
			m.findings.Add(codeCell.At(o.cell(entry), "the row has no %s", entry))
		}
	}
	options, chosen := m.options(r, o.values["options"])
	delete(o.values, "options")
	if len(m.findings) > sound {
		return o // what follows from a cell that cannot be read is not reported as well
	}
	if to := m.Models.Get(o.values["model"]); to != nil {
		o.values["model"] = to.Value
	}
	model := m.line.Model(o.values["model"])
	if model == nil {
		// Read for the finding about the model, with what is near to it.
		o.check([]byte("model: "+quoted(o.values["model"])+"\n"), []string{"serial", "vin", "model_year", "built", "issued", "revision"})
		return o
	}
	text, blanks := Form{Line: m.line, Model: model, Values: o.values, Options: options, Chosen: chosen, Remarks: m.remarks(r)}.Write()
	o.check(text, blanks)
	o.text, o.blanks = text, blanks
	return o
}

// check reads the sheet and reports what is wrong with it, apart from its blanks.
func (o *order) check(text []byte, blanks []string) {
	m := o.maker
	s, findings := sheet.Read(o.name, text)
	if s != nil {
		_, more := spec.Resolve(m.line, s)
		findings.Add(more...)
		o.sheet = s
	}
	for _, f := range findings {
		if !slices.Contains(blanks, f.Path) {
			m.findings.Add(f)
		}
	}
}

// options reads the option cell and the columns with yes and no. It reports
// false when the export says nothing about options.
func (m *maker) options(r row, cell string) (options []string, said bool) {
	_, said = m.column["options"]
	said = said || len(m.YesNo) > 0 || m.Same.Get("options") != nil
	between := ";"
	if m.Between.Set {
		between = m.Between.Value
	}
	for name := range strings.SplitSeq(cell, between) {
		name = strings.TrimSpace(name)
		if to := m.Options.Get(name); to != nil {
			name = to.Value
		}
		if name != "" && !slices.Contains(nothing, strings.ToLower(name)) {
			options = append(options, name)
		}
	}
	for _, item := range m.YesNo {
		c := r.cells[m.column[yesNo(item.Key)]]
		switch answer := strings.ToLower(c.text); {
		case slices.Contains(yes, answer):
			options = append(options, item.Value.Value)
		case answer != "" && !slices.Contains(no, answer):
			m.findings.Add(codeCell.At(c.at, "%s is %q; expected yes or no", item.Key, c.text))
		}
	}
	return options, said
}

// yesNo tells a column of answers from an entry of that name.
func yesNo(title string) string { return "yes or no: " + title }

// What people write into a cell for yes, for no, and for nothing at all.
var (
	yes     = []string{"yes", "y", "x", "true", "1"}
	no      = []string{"no", "n", "false", "0", "-"}
	nothing = []string{"none", "-"}
)

var (
	bareNumber = regexp.MustCompile(`^[+-]?[0-9][0-9,]*(?:\.[0-9]+)?$`)
	// threeDigits were the date codes of the last century, too.
	threeDigits = regexp.MustCompile(`^[0-9]{3}$`)
	dayNumber   = regexp.MustCompile(`^[0-9]{5}$`)
)

// written gives the text of a cell as a sheet has it: a bare number with its
// unit, a day of the spreadsheet's calendar as a date.
func (m *maker) written(entry string, c cell) string {
	if unit := m.Units.Get(entry); unit != nil && bareNumber.MatchString(c.text) {
		return c.text + " " + unit.Value
	}
	if c.daily && dayNumber.MatchString(c.text) && isDate(entry) {
		// Day 1 is 1900-01-01 in a calendar that has 1900-02-29 (ECMA-376 part 1,
		// 18.17.4.1), so from March 1900 on day 0 is 1899-12-30.
		n, _ := strconv.Atoi(c.text)
		return quantity.DateOf(time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)).AddDays(n).String()
	}
	return c.text
}

// isDate tells whether an entry is a date.
func isDate(entry string) bool {
	for _, k := range sheetShape.Keys {
		if k.Name == entry {
			return k.Shape.Type == sheetDate
		}
	}
	return false
}

var sheetDate = source.ShapeFor[quantity.Date]().Type

// spreadsheetError is true for what a spreadsheet writes where a formula failed.
func spreadsheetError(text string) bool {
	return slices.Contains([]string{"#N/A", "#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#NULL!", "#NUM!"}, text)
}

// remarks keeps what no entry takes.
func (m *maker) remarks(r row) []string {
	var out []string
	for _, i := range m.unused {
		if text := r.cells[i].text; text != "" {
			out = append(out, m.table.head[i].text+": "+text)
		}
	}
	if len(out) > 0 {
		out = slices.Insert(out, 0, "Also in the order, "+r.at.File+" row "+strconv.Itoa(r.at.Line)+":")
	}
	return out
}
