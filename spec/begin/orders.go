package begin

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// codeTwice reports an option that a row orders twice.
var codeTwice = codes.Note("export-option-twice", "an option named in two columns is fitted once; where two were meant, one of them is another option")

// Sheet is a build sheet made from one row.
type Sheet struct {
	Serial string
	At     source.Pos // of the row
	Text   []byte     // nil if the row has errors
	Blanks []string   // entries to fill in
}

// Sheets returns a build sheet for every row, checked against the line as far as possible:
// only entries that the export does not contain may be missing. A row with an error has no
// text. Findings are at the cells they are about. Prints reports whether a guide can
// print a character.
func (c *Columns) Sheets(t *Table, l *product.Line, prints func(rune) bool) ([]Sheet, source.Findings) {
	sheets, findings := c.sheets(t, l, prints)
	return sheets, t.named(findings.Sorted())
}

func (c *Columns) sheets(t *Table, l *product.Line, prints func(rune) bool) ([]Sheet, source.Findings) {
	if c == nil {
		c = namedAlike(t, l)
	}
	m := &converter{Columns: c, table: t, line: l, prints: prints}
	m.find()
	if m.findings.HasErrors() {
		return nil, m.findings
	}
	var sheets []Sheet
	rows := map[string]*order{}
	var read []*sheet.Identity
	written := 0
	for _, r := range t.rows {
		if r.cells == nil { // reported when it was read
			sheets = append(sheets, Sheet{At: r.at})
			continue
		}
		o := m.order(r)
		rows[o.name] = o
		if o.sheet != nil {
			read = append(read, o.sheet.Identity())
		}
		sheets = append(sheets, Sheet{Serial: o.values["serial"], At: r.at, Text: o.text, Blanks: o.blanks})
		if written += len(o.text); written > sheetsLimit {
			return nil, append(m.findings, codeExport.At(source.Pos{File: t.file}, "the sheets of this export have more than %d MB", sheetsLimit>>20).
				WithHint("export fewer orders at a time, and name columns that no sheet needs under leave_out"))
		}
	}
	bad := map[source.Pos]bool{}
	m.findings.Add(sheet.CheckRun(read)...)
	for i, f := range m.findings {
		if o := rows[f.Pos.File]; o != nil {
			f = o.nearWord(f)
			f.Pos = o.cellOf(f)
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
	return sheets, m.findings
}

// firstQuoted matches the subject of a finding.
var firstQuoted = source.Pattern(`"([^"]+)"`)

// nearWord adds to a finding about an unknown model or option the nearest word that the
// column map has for one.
func (o *order) nearWord(f source.Finding) source.Finding {
	own := map[string][]string{"model-unknown": o.converter.Models.Names(), "option-unknown": o.Options.Names()}[f.Code]
	if said := firstQuoted().FindStringSubmatch(f.Message); said != nil {
		if near, ok := source.Nearest(said[1], own); ok {
			return f.WithHint("did you mean %q, which the column map knows?", near)
		}
	}
	return f
}

// converter converts rows to sheets.
type converter struct {
	*Columns
	table    *Table
	line     *product.Line
	prints   func(rune) bool
	all      mapping            // for models without a mapping of their own
	own      map[string]mapping // by model
	findings source.Findings
}

// mapping is which columns of the export fill which entries.
type mapping struct {
	Filling
	column map[string]int // entry, or yesNo(title) → column number
	unused []int          // columns that become comments
}

// find looks up all columns and ids in the map.
func (m *converter) find() {
	var models, options []string
	for _, model := range m.line.Models {
		models = append(models, model.ID)
		options = append(options, model.Options.Names()...)
	}
	m.known(m.Models, "model", models)
	m.all = m.layout(m.Filling, options)
	m.own = map[string]mapping{}
	for _, item := range m.For {
		m.knownAs(word{Value: item.Key, At: item.KeyAt}, "model", models)
		if model := m.line.Model(item.Key); model != nil {
			// Errors that are not specific to this model have been reported already.
			m.known(item.Value.Options, "option of "+model.ID, model.Options.Names())
			m.known(item.Value.YesNo, "option of "+model.ID, model.Options.Names())
			m.own[item.Key] = m.layout(item.Value.overriding(m.Filling), options)
		}
	}
	for _, entry := range []string{"serial", "model"} {
		if _, mapped := m.all.column[entry]; !mapped && m.Same.Get(entry) == nil && !m.findings.HasErrors() {
			m.findings.Add(codeColumn.At(m.table.head[0].at, "no column gives the %s", entry).WithHint("say in a column map which one does: columns: { %s: Title of the column }", entry))
		}
	}
}

func (m *converter) layout(f Filling, options []string) mapping {
	a := mapping{Filling: f, column: map[string]int{}}
	used := map[int]bool{}
	look := func(key string, title word) {
		i := m.table.column(title.Value)
		if i < 0 {
			m.findings.Add(codeColumn.At(title.At, "%s has no column %q", m.table.file, title.Value).
				DidYouMean(title.Value, m.table.titles(), "columns: "+strings.Join(m.table.titles(), ", ")))
			return
		}
		a.column[key], used[i] = i, true
	}
	places := spec.FittedPlaces(m.line)
	for _, item := range f.Columns {
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
	for _, item := range f.YesNo {
		look(yesNo(item.Key), word{Value: item.Key, At: item.KeyAt})
	}
	for _, title := range m.LeaveOut {
		look("left out: "+title.Value, title)
	}
	m.known(f.Options, "option", options)
	m.known(f.YesNo, "option", options)
	for i, c := range m.table.head {
		if c.text != "" && !used[i] {
			a.unused = append(a.unused, i)
		}
	}
	return a
}

func (m *converter) known(words source.Map[word], what string, ids []string) {
	for _, item := range words {
		m.knownAs(item.Value, what, ids)
	}
}

func (m *converter) knownAs(w word, what string, ids []string) {
	if !slices.Contains(ids, w.Value) {
		m.findings.Add(codeColumn.At(w.At, "%s %q is not in the line of %s", what, w.Value, m.line.Maker.Name.Value).
			DidYouMean(w.Value, ids, ""))
	}
}

// order is one row while it is converted.
type order struct {
	mapping
	name      string // file name of the sheet for findings, unlike that of any file
	converter *converter
	row       row
	values    map[string]string
	chosen    []ordered // options, in the order of the sheet
	sheet     *sheet.Sheet
	text      []byte
	blanks    []string
}

// ordered is an option and the cell that orders it.
type ordered struct {
	id    string
	title string // of the column
	at    source.Pos
}

// cellOf returns the position of the cell that a finding about the sheet is about.
func (o *order) cellOf(f source.Finding) source.Pos {
	if o.sheet != nil {
		for i, id := range o.sheet.Options {
			if id.At == f.Pos && i < len(o.chosen) {
				return o.chosen[i].at
			}
		}
	}
	if strings.HasPrefix(f.Code, "option-") {
		f.Path = "options"
	}
	return o.cell(f.Path)
}

// cell returns the position of the cell that filled an entry, or of the row.
func (o *order) cell(path string) source.Pos {
	for _, e := range fittedEntries(o.converter.line, o.values) {
		if strings.HasPrefix(path, fmt.Sprintf("fitted.%s[%d]", e.list, e.index)) || path == "fitted."+e.list {
			path = fittedPath(e.list, e.place)
			break
		}
	}
	path, _, _ = strings.Cut(path, "[")
	if i, ok := o.column[path]; ok && (o.row.cells[i].text != "" || o.Same.Get(path) == nil) {
		return o.row.cells[i].at
	}
	if same := o.Same.Get(path); same != nil {
		return same.At
	}
	return o.row.at
}

func (m *converter) order(r row) *order {
	o := &order{mapping: m.all, name: "row " + r.at.String(), converter: m, row: r, values: map[string]string{"revision": "A"}}
	if own, is := m.own[m.modelOf(r)]; is {
		o.mapping = own
	}
	sound := len(m.findings)
	for _, item := range o.Same {
		o.values[item.Key] = item.Value.Value
	}
	for _, item := range o.Filling.Columns {
		if c := r.cells[o.column[item.Key]]; c.text != "" {
			o.read(item.Key, c)
		}
	}
	for _, entry := range []string{"serial", "model"} {
		if o.values[entry] == "" {
			m.findings.Add(codeCell.At(o.cell(entry), "the row has no %s", entry))
		}
	}
	said := o.choose()
	delete(o.values, "options")
	if slices.ContainsFunc(m.findings[sound:], func(f source.Finding) bool { return f.Severity == source.Error }) {
		return o // errors that follow from an unreadable cell are not reported
	}
	o.values["model"] = m.modelOf(r)
	model := m.line.Model(o.values["model"])
	if model == nil {
		// Read the sheet for the finding about the model and its hint.
		o.check([]byte("model: "+quoted(o.values["model"])+"\n"), []string{"serial", "vin", "model_year", "built", "issued", "revision"})
		return o
	}
	var options []string
	for _, c := range o.chosen {
		options = append(options, c.id)
	}
	text, blanks := Form{Line: m.line, Model: model, Values: o.values, Options: options, Chosen: said, Remarks: o.remarks()}.Write()
	o.check(text, blanks)
	o.text, o.blanks = text, blanks
	return o
}

// modelOf returns the model of a row: its id if the map or the export has it, otherwise
// the export's word.
func (m *converter) modelOf(r row) string {
	said := ""
	if i, is := m.all.column["model"]; is {
		said = r.cells[i].text
	}
	if same := m.Same.Get("model"); said == "" && same != nil {
		said = same.Value
	}
	if to := m.Models.Get(said); to != nil {
		return to.Value
	}
	return said
}

// read reads the cell of an entry.
func (o *order) read(entry string, c cell) {
	m := o.converter
	if spreadsheetError(c.text) {
		m.findings.Add(codeCell.At(c.at, "the cell of %s holds the spreadsheet's error %s", entry, c.text))
		return
	}
	if list, _, _ := cutFitted(entry); list == "tires" && threeDigits().MatchString(c.text) {
		m.findings.Add(codeCell.At(c.at, "the date code in the cell of %s is %q; it has four digits", entry, c.text).
			WithHint("a spreadsheet takes a zero off the front of a number: make the column text, and write the zero"))
		return
	}
	if entry != "options" {
		o.printable(entry, c)
	}
	o.values[entry] = c.text
	switch unit := o.Units.Get(entry); {
	case unit != nil && bareNumber().MatchString(c.text):
		o.values[entry] = c.text + " " + unit.Value
	case isDate(entry) && dayNumber().MatchString(c.text):
		o.values[entry] = dayCounted(c.text)
		if !c.counted {
			m.findings.Add(codeDay.At(c.at, "%s is %q, read as the spreadsheet's number of the day %s", entry, c.text, o.values[entry]).
				WithHint("where that is not the day, write it as 2027-03-02"))
		}
	case isDate(entry):
		day, err := m.date(c.text)
		if err != nil {
			m.findings.Add(codeCell.At(c.at, "%s: %s", entry, err))
		}
		o.values[entry] = day
	}
}

// printable refuses a character that the typeface lacks. Characters that are not allowed
// in any text of a sheet are refused by the reader of sheets.
func (o *order) printable(entry string, c cell) {
	for _, r := range c.text {
		if unicode.IsGraphic(r) && !o.converter.prints(r) {
			o.converter.findings.Add(codeLetter.At(c.at, "%s holds %q (U+%04X), which the typeface of the printed guide does not have", entry, r, r).
				WithHint("write it in other characters"))
			return
		}
	}
}

// codeLetter reports a character that cannot be printed.
var codeLetter = codes.Error("export-letter", "a character the typeface lacks would stop the guide on the day it is to be printed")

// check reads the sheet and reports its errors, apart from blanks.
func (o *order) check(text []byte, blanks []string) {
	m := o.converter
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

// choose reads the option cell and the yes-or-no columns. It returns false if the export
// says nothing about options.
func (o *order) choose() (said bool) {
	i, said := o.column["options"]
	from := ordered{title: "options"}
	if from.at = o.cell("options"); said {
		from.title = o.converter.table.head[i].text
	}
	between := ";"
	if o.converter.Between.Set {
		between = o.converter.Between.Value
	}
	for name := range strings.SplitSeq(o.values["options"], between) {
		name = strings.TrimSpace(name)
		if to := o.Options.Get(name); to != nil {
			name = to.Value
		}
		if name != "" && !slices.Contains(nothing, strings.ToLower(name)) {
			from.id = name
			o.order(from)
		}
	}
	for _, item := range o.YesNo {
		c := o.row.cells[o.column[yesNo(item.Key)]]
		answered := ordered{item.Value.Value, item.Key, c.at}
		switch answer := strings.ToLower(c.text); {
		case slices.Contains(yes, answer):
			o.order(answered)
		case slices.Contains(no, answer):
			o.declined(answered, c.text)
		case answer != "" && answer != "-":
			o.converter.findings.Add(codeCell.At(c.at, "%s is %q; expected yes or no", item.Key, c.text))
		}
	}
	return said || len(o.YesNo) > 0 || o.Same.Get("options") != nil
}

// order adds an option once.
func (o *order) order(option ordered) {
	for _, first := range o.chosen {
		if first.id == option.id {
			o.converter.findings.Add(codeTwice.At(option.at, "%s orders %s, which the row has already; it is fitted once", option.title, option.id).WithRelated(first.at, "%s has it here", first.title))
			return
		}
	}
	o.chosen = append(o.chosen, option)
}

// declined refuses a no for an option that another column orders.
func (o *order) declined(option ordered, answer string) {
	for _, c := range o.chosen {
		if c.id == option.id {
			o.converter.findings.Add(codeCell.At(option.at, "%s is %q, and %s orders %s", option.title, answer, c.title, c.id).
				WithRelated(c.at, "%s has it here", c.title).WithHint("correct the one that is wrong"))
		}
	}
}

// yesNo returns the key of a yes-or-no column, distinct from any entry of that name.
func yesNo(title string) string { return "yes or no: " + title }

// What cells contain for yes, for no, and for nothing.
var (
	yes     = []string{"yes", "y", "x", "true", "1", "✓", "✔"}
	no      = []string{"no", "n", "false", "0"}
	nothing = []string{"none", "-"}
)

var (
	bareNumber = source.Pattern(`^[+-]?(?:[0-9][0-9,]*(?:\.[0-9]+)?|(?:[0-9]+[ -])?[0-9]+/[0-9]+)$`)
	// threeDigits matches date codes of the last century, among others.
	threeDigits = source.Pattern(`^[0-9]{3}$`)
)

// spreadsheetError reports whether a text is what a spreadsheet writes when a formula failed.
func spreadsheetError(text string) bool {
	return slices.Contains([]string{"#N/A", "#REF!", "#VALUE!", "#NAME?", "#DIV/0!", "#NULL!", "#NUM!"}, text)
}

// remarks returns the cells that no entry uses.
func (o *order) remarks() (out []string) {
	for _, i := range o.unused {
		if text := o.row.cells[i].text; text != "" {
			out = append(out, o.converter.table.head[i].text+": "+text)
		}
	}
	if len(out) > 0 {
		out = slices.Insert(out, 0, "Also in the order, "+o.row.at.File+" row "+strconv.Itoa(o.row.at.Line)+":")
	}
	return out
}
