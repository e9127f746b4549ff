package render

import (
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec/derive"
	"ownerguide/spec/source"
)

// valueTable returns a table of labels and figures. Lines whose value the unit does not
// have are omitted.
func (a *assembly) valueTable(_ *doc.Section, p *template.Block) []doc.Block {
	role := doc.TableValues
	if p.Call.Name == "numbers" {
		role = doc.TableNumbers
	}
	t := a.newTable(role, a.argumentOr(p, ""))
	for i := range p.Call.Lines {
		line := &p.Call.Lines[i]
		if !line.When.Holds(a.has) {
			continue
		}
		var figure []doc.Inline
		if task, ok := strings.CutPrefix(line.Name, "interval."); ok {
			if figure = capital(a.fullInterval(task)); len(figure) == 0 {
				continue
			}
		} else {
			switch a.note(aboutExistence, line.Name); {
			case !a.exists(line.Name):
				continue
			case derive.IsDeclared(line.Name):
				figure = a.value(line.Name, line.At)
			default:
				a.note(aboutWord, line.Name)
				w, _ := a.word(line.Name)
				figure = []doc.Inline{wordNode(w)}
			}
		}
		row(t, a.cell(line.Inlines), cellOf(figure...))
	}
	return rowsOf(t, p.At)
}

func (a *assembly) argumentOr(p *template.Block, otherwise string) string {
	if len(p.Call.Args) > 0 {
		return a.label("table." + p.Call.Args[0])
	}
	return otherwise
}

// newTable returns an empty table; heads are keys of labels, none for a table without head.
func (a *assembly) newTable(role doc.TableRole, caption string, heads ...string) *doc.Table {
	t := &doc.Table{Role: role, Caption: caption}
	if len(heads) == 0 {
		return t
	}
	t.Head = &doc.Row{}
	for _, key := range heads {
		t.Head.Cells = append(t.Head.Cells, cellOf(text(a.label(key))))
	}
	return t
}

func cellOf(words ...doc.Inline) *doc.Cell { return &doc.Cell{Inlines: words} }

// endCell returns a right-aligned cell of a column of figures.
func endCell(words ...doc.Inline) *doc.Cell {
	return &doc.Cell{Inlines: words, Align: doc.AlignEnd}
}

// endColumns aligns the heads like their columns.
func endColumns(t *doc.Table) {
	for i, head := range t.Head.Cells {
		if len(t.Rows) > 0 {
			head.Align = t.Rows[0].Cells[i].Align
		}
	}
}

func (a *assembly) cell(list []template.Inline) *doc.Cell { return cellOf(a.inlines(list)...) }

func row(t *doc.Table, cells ...*doc.Cell) { t.Rows = append(t.Rows, &doc.Row{Cells: cells}) }

// rowsOf returns a table unless it has no rows.
func rowsOf(t *doc.Table, at source.Pos) []doc.Block {
	if len(t.Rows) == 0 {
		return nil
	}
	t.Origin = at
	return []doc.Block{t}
}

func text(s string) *doc.Text { return &doc.Text{Content: s} }

func (a *assembly) asBuilt(_ *doc.Section, p *template.Block) []doc.Block {
	t := a.newTable(doc.TablePlain, a.label("table.options"), "table.option", "table.what-it-is")
	for _, o := range a.build.Options() {
		words := a.optionText(o.ID)
		name := words.Name.Value
		if o.Change != nil {
			name = doc.Fill(a.label("option-since"), "option", name, "date", a.date(o.Change.Date.Value))
		}
		row(t, cellOf(text(name)), cellOf(text(words.Describe.Value)))
	}
	return rowsOf(t, p.At)
}

func (a *assembly) fitted(_ *doc.Section, p *template.Block) []doc.Block {
	t := a.newTable(doc.TablePlain, a.label("table.fitted"), "table.place", "table.mark")
	fitted := a.build.Sheet.Fitted
	for _, f := range fitted.Axles {
		row(t, cellOf(text(a.label(fittedLabel("axle", f.Place.Value)))), cellOf(text(f.Serial.Value)))
	}
	for _, f := range fitted.Parts {
		row(t, cellOf(text(a.placeName(f.Place.Value))), cellOf(text(f.Serial.Value)))
	}
	for _, f := range fitted.Tires {
		row(t, cellOf(text(a.label(fittedLabel("tire", f.Place.Value)))), cellOf(text("DOT "+f.DOT.Value)))
	}
	return rowsOf(t, p.At)
}

// fittedLabel returns the label of an axle or a tire in a place, such as left front.
func fittedLabel(what, place string) string {
	return "fitted." + what + "." + strings.ReplaceAll(place, " ", "-")
}

// placeName returns the name of a place on the unit; a place that only the maker's line has
// is unchanged.
func (a *assembly) placeName(place string) string {
	if l, ok := a.lang.Labels["place."+place]; ok {
		return l.Value
	}
	return place
}
