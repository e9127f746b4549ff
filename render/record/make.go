package record

import (
	"encoding/json"
	"fmt"
	"slices"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/parallel"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
)

// Make returns the record of a unit as far as it depends on the document; the caller adds
// what depends on files and pages. What the guide says about an earlier revision makes no
// difference. Style is the style sheet of its page.
func Make(b *spec.Build, vs *derive.Values, g *doc.Guide, print quantity.Print, style string) *Record {
	r := &Record{
		Format: Format,
		Serial: g.Serial, VIN: g.VIN, Model: b.Model.ID, ModelName: g.Model, Maker: g.Maker,
		Revision: g.Revision, Issued: g.Issued, Language: g.Lang,
		Line:     b.Line.Maker.ID.Value + " " + b.Line.Maker.Version.Value,
		Contents: &Contents{},
	}
	if b.Sheet.Delivered.Set {
		r.Delivered = b.Sheet.Delivered.Value.String()
	}
	if b.Sheet.Buyer != nil {
		r.Buyer = b.Sheet.Buyer.Name.Value
	}
	if b.Sheet.Dealer != nil {
		r.Dealer = b.Sheet.Dealer.Name.Value
	}
	for _, o := range b.Options() {
		words, _ := b.Line.OptionText(g.Lang, o.ID)
		option := Option{ID: o.ID, Text: words.Name.Value}
		if o.Change != nil {
			option.Since = o.Change.Date.Value.String()
		}
		r.Options = append(r.Options, option)
	}
	for _, p := range b.Parts() {
		name, _ := b.Line.ComponentName(g.Lang, p.Component)
		r.Parts = append(r.Parts, Part{p.Place, p.Kind, p.Component, p.Common.Part.Value, name})
	}
	r.Fitted = marks(&b.Sheet.Fitted)
	_ = parallel.Do(func() error {
		r.figures(vs.All(), func(v *derive.Value) string { return v.Print(print) })
		r.read(g)
		return nil
	}, func() error {
		r.Content, r.Looks = contentOf(g), looksOf(g, style)
		return nil
	})
	return r
}

func marks(f *sheet.Fitted) (out []Mark) {
	for _, a := range f.Axles {
		out = append(out, Mark{a.Place.Value, "axle", a.Serial.Value})
	}
	for _, t := range f.Tires {
		out = append(out, Mark{t.Place.Value, "tire", t.DOT.Value})
	}
	for _, p := range f.Parts {
		out = append(out, Mark{p.Place.Value, "part", p.Serial.Value})
	}
	return out
}

// contentOf returns a digest of the text of guide, card and hand-over leaf.
func contentOf(g *doc.Guide) string {
	sections := g.Sections
	for _, beside := range []*doc.Guide{g.Card, g.Leaf} {
		if beside != nil {
			sections = slices.Concat(sections, beside.Sections)
		}
	}
	words := []string{g.Lang, g.Title, g.Maker, g.Model, g.Serial, g.VIN, g.Revision, g.Issued, g.Notice}
	for _, id := range doc.ReaderWords {
		words = append(words, g.Words[id])
	}
	data, err := json.Marshal(words)
	if err != nil {
		panic(err) // strings always marshal
	}
	return Digest(append(data, doc.Digest(sections...)...))
}

// looksOf returns a digest of what a maker can change about the look of a guide.
func looksOf(g *doc.Guide, style string) string {
	data := fmt.Appendf(nil, "%s %v %v", Digest([]byte(style)), g.Field, g.OnField)
	for logo := range doc.All[*doc.Logo](g.Sections) {
		data = fmt.Appendf(data, " %d %d %q %s", logo.Width, logo.Height, logo.PNG, doc.DrawingDigest(logo.Drawing))
	}
	return Digest(data)
}

// figures records the figures of the unit.
func (r *Record) figures(list []*derive.Value, print func(*derive.Value) string) {
	at := make(map[Input]int, len(list))
	r.Values, r.Counted = make([]Value, 0, len(list)), make([]Input, 0, len(list))
	for _, v := range list {
		e := Value{Name: v.Name, Text: print(v), Engineer: v.Engineer, Inputs: make([]int, 0, len(v.Inputs))}
		for _, in := range v.Inputs {
			of := Input{in.Name, in.Path, in.Text}
			if in.Name != "" {
				of.Text = "" // it is a figure itself
			}
			i, listed := at[of]
			if !listed {
				i = len(r.Counted)
				at[of], r.Counted = i, append(r.Counted, of)
			}
			if !slices.Contains(e.Inputs, i) {
				e.Inputs = append(e.Inputs, i)
			}
		}
		r.Values = append(r.Values, e)
	}
}

// read records what the guide contains.
func (r *Record) read(g *doc.Guide) {
	label := map[string]string{}
	for n := range doc.Sections(g.Sections) {
		r.section(n)
	}
	for n := range doc.All[*doc.Caution](g.Sections) {
		named(&r.Cautions, n.Name, doc.PlainText(n.Hazard...))
	}
	for n := range doc.All[*doc.Table](g.Sections) {
		for _, row := range n.Rows {
			if name, words, ok := labeled(n, row); ok && label[name] == "" {
				label[name] = words
			}
		}
	}
	for i := range r.Values {
		r.Values[i].Label = label[r.Values[i].Name]
	}
}

func (r *Record) section(n *doc.Section) {
	s := Section{ID: n.ID, Title: titleOf(n), Blocks: make([]string, 0, len(n.Blocks)+1)}
	if n.Heading != nil {
		s.Blocks = append(s.Blocks, BlockDigest(n.Heading))
	}
	for _, block := range n.Blocks {
		s.Blocks = append(s.Blocks, doc.Once(block, func() (out digests) {
			for _, part := range parts(block) {
				out = append(out, BlockDigest(part))
			}
			return out
		})...)
	}
	r.Sections = append(r.Sections, s)
	switch n.Role {
	case doc.RoleStop:
		named(&r.Stops, n.ID, s.Title)
	case doc.RoleTask:
		named(&r.Tasks, n.ID, s.Title)
	}
}

// named appends an id unless it is listed already.
func named(list *[]Named, id, text string) {
	if !slices.ContainsFunc(*list, func(n Named) bool { return n.ID == id }) {
		*list = append(*list, Named{id, text})
	}
}

func titleOf(n *doc.Section) string {
	if n.Heading == nil {
		return n.Short
	}
	return doc.PlainText(n.Heading)
}

// Blocks returns the smallest parts of a section that can have a change bar: its
// heading and blocks, with list items and table rows one by one. Subsections and what
// describes an earlier revision are left out.
func Blocks(section *doc.Section) (out []doc.Part) {
	if section.Heading != nil {
		out = append(out, section.Heading)
	}
	for _, n := range section.Blocks {
		out = append(out, parts(n)...)
	}
	return out
}

// parts returns those of a block.
func parts(n doc.Block) (out []doc.Part) {
	if n.Attr().History {
		return nil
	}
	switch n := n.(type) {
	case *doc.Section:
	case *doc.List:
		for _, item := range n.Items {
			out = append(out, item)
		}
	case *doc.Table:
		if n.Head != nil {
			out = append(out, n.Head)
		}
		for _, row := range n.Rows {
			out = append(out, row)
		}
	default:
		out = append(out, n)
	}
	return out
}

// digests is the digests of a block's parts.
type digests []string

// BlockDigest returns a digest of a block: twelve digits are enough for the few dozen
// blocks of a section.
func BlockDigest(n doc.Part) string { return doc.Digest(n)[:12] }

// labeled returns the figure in a table row of label and value.
func labeled(t *doc.Table, row *doc.Row) (value, label string, ok bool) {
	if t.Role != doc.TableValues && t.Role != doc.TableNumbers || len(row.Cells) != 2 || len(row.Cells[1].Inlines) != 1 {
		return "", "", false
	}
	v, ok := row.Cells[1].Inlines[0].(*doc.Value)
	if !ok {
		return "", "", false
	}
	return v.Name, doc.PlainText(row.Cells[0]), true
}
