package begin

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"sync"

	"ownerguide/spec"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/schema"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Form is the content of a build sheet to be written.
type Form struct {
	Line     *product.Line
	Model    *product.Model
	Values   map[string]string // entry → text; model is taken from Model
	Options  []string          // the options to write
	Chosen   bool              // the options are known; otherwise the user has to choose
	Remarks  []string          // comments at the end, one on each line
	Explains bool              // explain every entry, not only the blanks
}

// sheetShape returns the shape of a build sheet.
var sheetShape = sync.OnceValue(source.ShapeFor[sheet.Sheet])

// blank marks entries to be filled in. YAML reads such an entry as empty, and the reader of
// sheets refuses it with its line.
const blank = "# fill in"

// Write returns the sheet and the paths of its blanks. Optional entries are commented out
// with a #.
func (f Form) Write() (text []byte, blanks []string) {
	w := &formWriter{Form: f}
	name, _ := f.Line.ModelText(source.BaseLanguage, f.Model.ID)
	w.remark(fmt.Sprintf("Build sheet of a %s, %s.", name.Name.Value, f.Line.Maker.Name.Value), "")
	if f.Explains {
		w.remark("Fill in every line that ends in \"fill in\". A # with a space after it begins a remark. A # without one stands before an entry that is not used; take it off to use the entry.", "")
	}
	for _, k := range sheetShape().Keys {
		w.entry(k)
	}
	if len(f.Remarks) > 0 {
		w.b.WriteByte('\n')
		for _, r := range f.Remarks {
			fmt.Fprintf(&w.b, "# %s\n", oneLine(r))
		}
	}
	return []byte(w.b.String()), w.blanks
}

type formWriter struct {
	Form
	b      strings.Builder
	blanks []string
}

// commentWidth is the maximum length of a comment line.
const commentWidth = 88

// remark writes a wrapped comment.
func (w *formWriter) remark(text, indent string) {
	line := indent + "#"
	for word := range strings.FieldsSeq(text) {
		if len(line)+1+len(word) > commentWidth && line != indent+"#" {
			w.b.WriteString(line + "\n")
			line = indent + "#"
		}
		line += " " + word
	}
	w.b.WriteString(line + "\n")
}

// oneLine keeps a text from an export on one line.
func oneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool {
		return r < ' ' || r == 0x7f || 0x80 <= r && r < 0xa0 || r == '\u2028' || r == '\u2029' || r == '\ufeff'
	}), " ")
}

// entry writes one top-level entry of the sheet.
func (w *formWriter) entry(k source.Key) {
	switch {
	case k.Name == "model":
		w.explain(k, w.Explains)
		fmt.Fprintf(&w.b, "model: %s\n", quoted(w.Model.ID))
	case k.Name == "options":
		w.options(k)
	case k.Shape.Kind == source.Scalar:
		w.scalar(k, k.Name, "", k.Required)
	case k.Name == "fitted" && w.any(k.Name):
		w.fitted(k)
	case k.Shape.Kind == source.Mapping && w.any(k.Name):
		w.explain(k, w.Explains)
		fmt.Fprintf(&w.b, "%s:\n", k.Name)
		for _, inner := range k.Shape.Keys {
			w.scalar(inner, k.Name+"."+inner.Name, "  ", inner.Required)
		}
	case w.Explains:
		w.explain(k, true)
		w.unused(k, "")
	}
}

// fitted writes the fitted parts, one list for each kind.
func (w *formWriter) fitted(k source.Key) {
	fmt.Fprintf(&w.b, "%s:\n", k.Name)
	list := ""
	for _, e := range fittedEntries(w.Line, w.Values) {
		if e.list != list {
			fmt.Fprintf(&w.b, "  %s:\n", e.list)
			list = e.list
		}
		text := quoted(e.text)
		if strings.Trim(text, "0123456789") == "" { // a date code is not a number
			text = `"` + text + `"`
		}
		fmt.Fprintf(&w.b, "    - place: %s\n      %s: %s\n", quoted(e.place), e.key, text)
	}
}

// fittedEntry is one item of a list under fitted.
type fittedEntry struct {
	list, place string // such as tires, left front
	index       int    // index in its list
	key, text   string // such as dot, 3426
}

// fittedEntries returns the values under fitted, in the order of a sheet.
func fittedEntries(l *product.Line, values map[string]string) (out []fittedEntry) {
	places := spec.FittedPlaces(l)
	for _, list := range fittedLists() {
		n := 0
		for _, place := range places[list.Name] {
			if text := values[fittedPath(list.Name, place)]; text != "" {
				out = append(out, fittedEntry{list.Name, place, n, list.Shape.Each.Keys[1].Name, text})
				n++
			}
		}
	}
	return out
}

// fittedLists returns the lists under fitted; each has items of a place and one word.
func fittedLists() []source.Key {
	i := slices.IndexFunc(sheetShape().Keys, func(k source.Key) bool { return k.Name == "fitted" })
	return sheetShape().Keys[i].Shape.Keys
}

// fittedPath returns the name of an item in a column map.
func fittedPath(list, place string) string { return "fitted." + list + "." + place }

// any reports whether there is a value below an entry.
func (w *formWriter) any(path string) bool {
	for p := range w.Values {
		if strings.HasPrefix(p, path+".") {
			return true
		}
	}
	return false
}

func (w *formWriter) explain(k source.Key, all bool) {
	if !all {
		return
	}
	if k.In == sheetShape().Type {
		w.b.WriteByte('\n')
	}
	w.remark(schema.Describe(k)+w.hint(k), "")
}

// hint returns what is known about an entry from the model.
func (w *formWriter) hint(k source.Key) string {
	if k.Name != "vin" {
		return ""
	}
	m := &w.Line.Maker
	hint := fmt.Sprintf(" Positions 1 to 3 of this maker are %s, positions 4 to 8 of this model are %s", m.WMI.Value, w.Model.VINCode.Value)
	codes := w.Model.VINCodes()
	for _, code := range slices.Sorted(maps.Keys(codes)) {
		if with := codes[code]; len(with) > 0 {
			hint += fmt.Sprintf(", with %s %s", strings.Join(with, " and "), code)
		}
	}
	if m.Small.Set {
		return hint + fmt.Sprintf(", positions 12 to 14 are %s.", m.Small.Value)
	}
	return hint + "."
}

func (w *formWriter) scalar(k source.Key, path, indent string, needed bool) {
	value, given := w.Values[path]
	switch {
	case given:
		w.explain(k, w.Explains && indent == "")
		fmt.Fprintf(&w.b, "%s%s: %s\n", indent, k.Name, quoted(value))
	case needed:
		w.blanks = append(w.blanks, path)
		if indent == "" {
			w.explain(k, true)
		} else {
			w.remark(schema.Describe(k), indent)
		}
		fmt.Fprintf(&w.b, "%s%s: %s\n", indent, k.Name, blank)
	case w.Explains:
		w.explain(k, indent == "")
		fmt.Fprintf(&w.b, "%s#%s:\n", indent, k.Name)
	}
}

// unused writes an optional entry with its keys, all commented out.
func (w *formWriter) unused(k source.Key, indent string) {
	fmt.Fprintf(&w.b, "%s#%s:\n", indent, k.Name)
	inner, indent, dash := k.Shape, indent+"  ", ""
	if inner.Kind == source.Sequence {
		inner, dash = inner.Each, "- "
	}
	for _, each := range inner.Keys {
		w.remark(schema.Describe(each), indent)
		if each.Shape.Kind == source.Scalar {
			fmt.Fprintf(&w.b, "%s#%s%s:\n", indent, dash, each.Name)
		} else {
			w.unused(each, indent)
		}
		if dash != "" {
			indent, dash = indent+"  ", ""
		}
	}
}

// options writes the options or, if they are not known, all options of the model, commented
// out, with their rules. A sheet without a choice is refused, because a forgotten
// option is a missing caution.
func (w *formWriter) options(k source.Key) {
	w.explain(k, w.Explains || !w.Chosen)
	if w.Chosen && len(w.Options) == 0 {
		w.b.WriteString("options: []\n")
		return
	}
	if w.Chosen && !w.Explains {
		fmt.Fprintf(&w.b, "options: [%s]\n", strings.Join(w.Options, ", "))
		return
	}
	problem := w.Line.Problem(w.Model)
	if !w.Chosen {
		if len(w.Model.Options) == 0 {
			w.b.WriteString("options: []\n")
			return
		}
		w.remark("Take the # off the line of each option the unit has.", "")
		w.blanks = append(w.blanks, "options")
		fmt.Fprintf(&w.b, "options: %s\n", blank)
	} else {
		w.b.WriteString("options:\n")
	}
	for _, o := range w.Model.Options {
		text, _ := w.Line.OptionText(source.BaseLanguage, o.Key)
		mark := "#"
		if slices.Contains(w.Options, o.Key) {
			mark = ""
		}
		fmt.Fprintf(&w.b, "%s- %s # %s", mark, o.Key, oneLine(text.Name.Value))
		for _, r := range problem.Rules {
			if r.Subject == o.Key {
				fmt.Fprintf(&w.b, "; %s %s", ruleVerbs[r.Kind], strings.Join(r.Objects, " or "))
			}
		}
		w.b.WriteByte('\n')
	}
	for _, r := range problem.Rules {
		if r.Subject == "" {
			w.remark(fmt.Sprintf("Of %s %s.", strings.Join(r.Objects, ", "), ruleVerbs[r.Kind]), "")
		}
	}
}

// ruleVerbs are the kinds of rules in comments of a sheet.
var ruleVerbs = map[logic.RuleKind]string{
	logic.Requires:   "needs",
	logic.Excludes:   "does not go with",
	logic.ExactlyOne: "exactly one must be there",
	logic.AtMostOne:  "at most one may be there",
}

// plainText matches text that YAML reads unchanged without quotes, at the end of a line.
var plainText = source.Pattern(`^[\p{L}\p{N}](?:[\p{L}\p{N} ._/,+()@'°·³²-]*[\p{L}\p{N}._/+()@'°·³²-])?$`)

// quoted writes a text so that YAML reads exactly that text. YAML reads the words for
// null as no text.
func quoted(s string) string {
	if plainText().MatchString(s) && !strings.EqualFold(s, "null") {
		return s
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < ' ' || 0x7f <= r && r < 0xa0:
			fmt.Fprintf(&b, `\x%02x`, r)
		case r == '\u2028' || r == '\u2029' || r == '\ufeff' || 0xfff0 <= r && r <= 0xffff:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
