package begin

import (
	"slices"
	"strings"

	"ownerguide/spec"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

type word = source.Given[string]

// Columns is a column map: how the columns of an export map to entries of build
// sheets. It is a YAML file of its own.
type Columns struct {
	Filling
	Models    source.Map[word]    `yaml:"models" doc:"The id of the model for each word of the export."`
	For       source.Map[Filling] `yaml:"for" doc:"What differs in the rows of a model, by its id."`
	Dates     word                `yaml:"dates" doc:"How dates such as 3/4/2027 are meant: month first or day first. Left out, one that can be two days is refused."`
	Between   word                `yaml:"between" doc:"What stands between options in one cell. Left out, it is a semicolon."`
	Separator word                `yaml:"separator" doc:"What stands between cells, one character or tab. Left out, it is found out."`
	Worksheet word                `yaml:"worksheet" doc:"The worksheet of a workbook. Left out, it is the first."`
	LeaveOut  []word              `yaml:"leave_out" doc:"Titles of columns no sheet needs, not even as a remark."`
}

// Filling is where the values of a sheet's entries come from.
type Filling struct {
	Columns source.Map[word] `yaml:"columns" doc:"The title of the column for each entry of a sheet, and for options."`
	Same    source.Map[word] `yaml:"same" doc:"What every sheet gets in an entry."`
	Units   source.Map[word] `yaml:"units" doc:"The unit of the bare numbers in an entry's column."`
	Options source.Map[word] `yaml:"options" doc:"The id of the option for each word of the export."`
	YesNo   source.Map[word] `yaml:"yes_no" doc:"The option that a column of yes and no says, by the column's title."`
}

// overriding returns f merged over others.
func (f Filling) overriding(others Filling) Filling {
	before := func(own, other source.Map[word]) source.Map[word] {
		out := slices.Clone(own)
		for _, item := range other {
			if own.Get(item.Key) == nil {
				out = append(out, item)
			}
		}
		return out
	}
	return Filling{before(f.Columns, others.Columns), before(f.Same, others.Same), before(f.Units, others.Units), before(f.Options, others.Options), before(f.YesNo, others.YesNo)}
}

// ReadColumns reads a column map.
func ReadColumns(file string, data []byte) (*Columns, source.Findings) {
	node, findings := source.Parse(file, data, source.SheetLimit)
	if node == nil {
		return nil, findings
	}
	c := &Columns{}
	source.Decode(node, c, &findings)
	c.Filling.check(&findings)
	for _, item := range c.For {
		item.Value.check(&findings)
		for _, own := range item.Value.Columns {
			if own.Key == "model" {
				findings.Add(codeColumn.At(own.KeyAt, "the model of a row is read before what holds for a model").WithHint("say model under the columns for all"))
			}
		}
	}
	checkDates(c.Dates, &findings)
	if s := c.Separator; s.Set && s.Value != "tab" && (len([]rune(s.Value)) != 1 || strings.ContainsAny(s.Value, "\"\r\n")) {
		findings.Add(codeColumn.At(s.At, "separator is %q; expected one character, or tab", s.Value))
	}
	if findings.HasErrors() {
		return nil, findings
	}
	return c, findings
}

// check refuses entries that a column cannot fill.
func (f Filling) check(findings *source.Findings) {
	entries := append(entryPaths(), "options")
	for _, item := range f.Columns {
		if _, place, _ := cutFitted(item.Key); place != "" {
			entries = append(entries, item.Key) // whether the place exists depends on the line
		}
	}
	for _, list := range []source.Map[word]{f.Columns, f.Same, f.Units} {
		for _, item := range list {
			if slices.Contains(entries, item.Key) {
				continue
			}
			f := codeColumn.At(item.KeyAt, "a build sheet has no entry %q that a column can fill", item.Key)
			if strings.HasPrefix(item.Key, "fitted") {
				f = f.WithHint("under columns, name a list and a place: \"fitted.tires.left front\", \"fitted.axles.rear\", \"fitted.parts.winch\"")
			} else {
				f = f.DidYouMean(item.Key, entries, "")
			}
			findings.Add(f)
		}
	}
}

// cutFitted splits "fitted.tires.left front" into list and place; ok is false for any
// other entry.
func cutFitted(entry string) (list, place string, ok bool) {
	rest, ok := strings.CutPrefix(entry, "fitted.")
	list, place, _ = strings.Cut(rest, ".")
	if !ok || !slices.ContainsFunc(fittedLists(), func(k source.Key) bool { return k.Name == list }) {
		return "", "", false
	}
	return list, place, true
}

// entryPaths returns the entries of a sheet that have a single value.
func entryPaths() (out []string) {
	for _, k := range sheetShape().Keys {
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

// namedAlike returns a map of the columns whose titles are entries, for use without a column map.
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
