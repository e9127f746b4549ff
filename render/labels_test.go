package render

import (
	"fmt"
	"io/fs"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

// labelsForOthers lists labels that no guide of the embedded line prints and
// that are needed all the same: whole keys, or the beginning of keys up to a dot.
var labelsForOthers = map[string]string{
	"number.":                               "a mark would end up inside figures",
	"unit.":                                 "likewise",
	"date":                                  "likewise",
	"never":                                 "a rule",
	"alphabet":                              "a rule",
	"list.":                                 "likewise",
	"plural.":                               "a rule",
	"kind.":                                 "say which kinds of part a placeholder {part.…} can name",
	"place.":                                "a sheet can give the serial number of a part in any place",
	"fitted.":                               "likewise, of any axle and tire",
	"since.":                                "said once an earlier revision is at hand; TestChangesAreToldAndMarked has them",
	"table.was":                             "heads the figures of an earlier revision",
	"table.is":                              "likewise",
	"visit.motor_hours":                     "names a group of jobs where neither months nor distance tell it from another",
	"visit.motor_hours.one":                 "likewise",
	"trigger.":                              "stand in for an interval that the component does not give",
	"calc.basis.read":                       "a prescribed text that somebody read in the regulation",
	"calc.switched-off":                     "heads what a maker switched off; the script switched_off.txtar has it",
	"calc.what":                             "likewise",
	"calc.reason":                           "likewise",
	"calc.by":                               "likewise",
	"enum.right-side":                       "a power unit on the other side",
	"enum.middle":                           "likewise, in the middle",
	"enum.gray":                             "color of a wire",
	"enum.orange":                           "color of a wire",
	"enum.violet":                           "color of a wire",
	"draw.feed":                             "a pump or winch without a fuse of its own",
	"draw.jack-pair.alt":                    "two legs without drop legs",
	"draw.jack-from-above.counterclockwise": "a jack that turns the other way",
	"draw.coupling.gooseneck.unbraked.alt":  "a gooseneck without brakes",
	"draw.coupling.pintle.unbraked.alt":     "a pintle ring without brakes",
	"draw.coupling.kingpin.unbraked.alt":    "a kingpin without brakes",
}

// Every label is printed by some guide: one that nothing asks for is translated
// again and again for nobody. To find out, each label's text gets a number of
// its own behind it, guides of many units are made, and the numbers that turn
// up are ticked off. The words for one of several choices, such as kinds of
// plug, are needed when one of the others is printed: a line can choose it. So are
// those for other counts.
func TestEveryLabelIsPrinted(t *testing.T) {
	testenv.Heavy(t, "makes every guide with other labels")
	t.Parallel()
	l, plain := embedded(t)
	all := plain.Language(template.Base).Labels
	names := keys(all)
	ts := withLabels(t, func(i int, key, text string) string {
		if slices.ContainsFunc([]string{"number.", "unit.", "plural.", "list.", "date", "never", "alphabet"}, func(p string) bool { return strings.HasPrefix(key, p) }) {
			return text
		}
		return fmt.Sprintf("%s⟦%d⟧", text, i)
	})
	met := map[string]bool{}
	note := func(text string) {
		for _, m := range markedLabel.FindAllStringSubmatch(text, -1) {
			i, _ := strconv.Atoi(m[1])
			met[names[i]] = true
		}
	}
	visit := func(b *spec.Build, vs *derive.Values) {
		g, _ := ts.Assemble(b, vs, nil)
		sums, _ := ts.Calculations(b, vs, Made{Program: "p", Sheet: "s", Line: "l", Templates: "t"})
		for _, g := range []*doc.Guide{g, sums} {
			if g == nil {
				t.Fatalf("%s: no document", b.Model.ID)
			}
			noteTexts(g, note)
		}
		for _, v := range vs.All() { // a maker's own templates may print any
			if word, ok := v.Exact.(derive.Text); ok && !v.Engineer {
				met["enum."+string(word)] = true
			}
		}
	}
	for _, made := range covered() {
		visit(made(t).build, made(t).values)
	}
	for _, s := range samples(t) {
		visit(unit(t, l, readSheet(t, s.name, s.data)))
	}
	for _, choices := range choicesOf(reflect.TypeFor[product.Line]()) {
		if slices.ContainsFunc(choices, func(word string) bool { return met["enum."+word] }) {
			for _, word := range choices {
				met["enum."+word] = true
			}
		}
	}
	needed := map[string]bool{}
	for _, key := range names {
		if met[key] {
			continue
		}
		group, _, _ := strings.Cut(key, ".")
		if at := strings.LastIndexByte(key, '.'); met[key[:max(at, 0)]] && slices.Contains(doc.PluralClasses, key[at+1:]) {
			continue // the words for a count that no sample has
		}
		switch {
		case labelsForOthers[key] != "":
			needed[key] = true
		case labelsForOthers[group+"."] != "":
			needed[group+"."] = true
		default:
			t.Errorf("%s: no guide prints the label %s", all[key].At, key)
		}
	}
	for _, key := range keys(labelsForOthers) {
		if !needed[key] {
			t.Errorf("every label %s is printed: make no exception for it", key)
		}
	}
}

var markedLabel = regexp.MustCompile(`⟦([0-9]+)⟧`)

// withLabels loads the embedded templates with other texts for the labels,
// which are given by number and key in the order of keys.
func withLabels(t *testing.T, change func(i int, key, text string) string) *Templates {
	t.Helper()
	_, plain := embedded(t)
	all := plain.Language(template.Base).Labels
	var yaml strings.Builder
	for i, key := range keys(all) {
		fmt.Fprintf(&yaml, "%s: %s\n", key, strconv.Quote(change(i, key, all[key].Value)))
	}
	ts, findings := LoadTemplates(
		source.Layer{Name: "changed", Files: fstest.MapFS{"en/labels.yaml": {Data: []byte(yaml.String())}}},
		source.Layer{Name: "templates", Files: fs.FS(templates.Files)})
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	return ts
}

// noteTexts returns every text of a document, those of tables, pictures and
// forms included.
func noteTexts(g *doc.Guide, note func(string)) {
	note(g.Title)
	for _, word := range g.Words {
		note(word)
	}
	for _, c := range g.Contacts {
		note(c.Who)
	}
	for n := range doc.Walk(g.Sections) {
		switch n := n.(type) {
		case *doc.Text:
			note(n.Content)
		case *doc.Value:
			note(n.Printed)
		case *doc.Caution:
			note(n.Signal)
		case *doc.Form:
			note(n.Label)
		case *doc.Section:
			note(n.Short)
			note(n.Part)
		case *doc.Figure:
			note(n.Alt)
			note(n.Caption)
			for _, v := range n.Column {
				note(v.Alt)
				for _, k := range v.Key {
					note(k.Text)
				}
			}
			for _, shape := range n.Drawing.Shapes {
				if label, ok := shape.(*doc.Label); ok {
					note(label.Text)
				}
			}
		case *doc.Table:
			note(n.Caption)
		}
	}
	for _, beside := range []*doc.Guide{g.Card, g.Leaf, g.Mail} {
		if beside != nil {
			noteTexts(beside, note)
		}
	}
	for _, v := range g.Visits {
		note(v.Title)
		for _, line := range slices.Concat(v.Jobs, v.Notes) {
			note(line)
		}
	}
}

// choicesOf returns the closed lists of words that entries of a line may hold,
// from the tags of its types.
func choicesOf(root reflect.Type) (lists [][]string) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(rt reflect.Type) {
		if seen[rt] {
			return
		}
		seen[rt] = true
		switch rt.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			walk(rt.Elem())
		case reflect.Struct:
			for i := range rt.NumField() {
				if words := strings.Fields(rt.Field(i).Tag.Get("oneof")); len(words) > 0 {
					lists = append(lists, words)
				}
				walk(rt.Field(i).Type)
			}
		}
	}
	walk(root)
	return lists
}
