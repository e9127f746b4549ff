package doc

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
)

// nodes is one of every type of node, shape of a drawing included, with every
// field filled.
func nodes() map[string]Node {
	text := func(s string) []Inline { return []Inline{&Text{Content: s}} }
	style := Style{Line: Full, Width: 1, Dash: []float64{2}, Fill: Pale}
	drawing := &Drawing{Width: 10, Height: 20, Shapes: []Shape{
		&Path{Style: style, From: Point{1, 2}, Segments: []Segment{{To: Point{3, 4}}}},
		&Circle{Style: style, Center: Point{5, 6}, Radius: 7},
		&Label{At: Point{8, 9}, Text: "label", Size: 11},
	}}
	all := []Node{
		&Section{Attributes: Attributes{ID: "s"}, Level: 1, Role: RoleChapter, Number: "1", Short: "short", Heading: &Heading{Inlines: text("title")}, Blocks: []Block{&Paragraph{Inlines: text("words")}}},
		&Heading{Inlines: text("title")},
		&Paragraph{Inlines: text("words")},
		&List{Ordered: true, Start: 1, Tight: true, Items: []*Item{{Blocks: []Block{&Paragraph{Inlines: text("words")}}}}},
		&Item{Blocks: []Block{&Paragraph{Inlines: text("words")}}},
		&Table{Role: TablePlain, Caption: "caption", Head: &Row{Cells: []*Cell{{Inlines: text("head")}}}, Rows: []*Row{{Cells: []*Cell{{Inlines: text("words")}}}}},
		&Row{Cells: []*Cell{{Inlines: text("words")}}},
		&Cell{Inlines: text("words")},
		&Contents{Entries: []Entry{{Level: 1, Number: "1", Title: "title", ID: "id"}}},
		&Caution{Name: "unit-rolls", Word: Danger, Signal: "DANGER", Full: "full", Hazard: text("hazard"), Consequence: text("consequence"), Avoid: [][]Inline{text("avoid")}},
		&JobLine{Who: text("who"), When: text("when"), Tools: text("tools")},
		&Limit{Inlines: text("words")},
		&Trouble{Symptom: text("symptom"), Causes: [][]Inline{text("cause")}, Remedies: [][]Inline{text("remedy")}, Limits: []*Limit{{Inlines: text("limit")}}},
		&Figure{Name: "side", Caption: "caption", Alt: "alt", Drawing: drawing, Column: []*View{{Drawing: drawing, Alt: "alt", Key: []KeyRow{{"a", "words", "id"}}}}},
		&Logo{Alt: "maker", Drawing: drawing, PNG: []byte{1}, Width: 1, Height: 1},
		&Form{Label: "label", Rules: 1},
		&Text{Content: "words"},
		&Value{Name: "a.b", Printed: "1 in"},
		&Emphasis{Inlines: text("words")},
		&Link{To: "#s", Inlines: text("words")},
		&PointMark{Number: 1},
		&Box{ID: "box"},
		&Break{},
	}
	out := map[string]Node{}
	for _, n := range all {
		out[reflect.TypeOf(n).Elem().Name()] = n
	}
	return out
}

// notDigested are the fields that do not affect what a reader of the guide sees, with the reason.
var notDigested = map[string]string{
	"Origin":       "a place in the author's files is not seen",
	"Changed":      "the mark follows from what else the digest holds",
	"Value.Name":   "only the printed figure is seen",
	"Logo.Drawing": "how a maker's logo looks is no content",
	"Logo.InText":  "the same",
	"Logo.PNG":     "the same",
	"Logo.Width":   "the same",
	"Logo.Height":  "the same",
	"Break":        "it has no fields",

	// Blocks that describe an earlier revision are left out completely, heads never.
	"Section.Heading.History": "a heading tells of no earlier revision",
	"Table.Head.History":      "nor does a table's head",
}

// Each field of each node, deep inside drawings too, is in the digest, or listed
// above: one that is forgotten would let a delivered guide change unseen.
func TestDigestOfEveryField(t *testing.T) {
	for name, n := range nodes() {
		changeEach(t, name, reflect.ValueOf(n).Elem(), notDigested, func() string { return Digest(n) })
	}
}

// Not even what a reader does not see is left out of the key: a section that is laid out for another guide is the same in all.
func TestKeyOfEveryField(t *testing.T) {
	for name, n := range nodes() {
		changeEach(t, name, reflect.ValueOf(n).Elem(), nil, func() string { key := Key(n); return string(key[:]) })
	}
}

// changeEach changes each field below a value in turn and asks for another digest.
func changeEach(t *testing.T, path string, v reflect.Value, except map[string]string, digest func() string) {
	t.Helper()
	field := path[strings.LastIndex(path, ".")+1:]
	_, field1 := except[field]
	if _, whole := except[path]; whole || field1 {
		return
	}
	before := digest()
	changed := func(what string) {
		t.Helper()
		if digest() == before {
			t.Errorf("%s: the digest is the same after %s", path, what)
		}
	}
	old := reflect.New(v.Type()).Elem()
	old.Set(v)
	switch v.Kind() {
	case reflect.String:
		v.SetString(v.String() + "x")
		changed("other text")
	case reflect.Bool:
		v.SetBool(!v.Bool())
		changed("the other truth")
	case reflect.Int:
		v.SetInt(v.Int() + 1)
		changed("another number")
	case reflect.Uint8:
		v.SetUint(v.Uint() + 1)
		changed("another byte")
	case reflect.Float64:
		v.SetFloat(v.Float() + 0.02)
		changed("another number")
	case reflect.Slice:
		if v.Len() == 0 {
			t.Errorf("%s: fill it in nodes()", path)
			return
		}
		for i := range v.Len() {
			changeEach(t, path, v.Index(i), except, digest)
		}
		v.Set(reflect.AppendSlice(v, v))
		changed("the same once more")
	case reflect.Array:
		for i := range v.Len() {
			changeEach(t, path, v.Index(i), except, digest)
		}
	case reflect.Pointer:
		changeEach(t, path, v.Elem(), except, digest)
	case reflect.Interface:
		changeEach(t, path+"("+v.Elem().Type().Elem().Name()+")", v.Elem().Elem(), except, digest)
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue // what readers keep with a shared block
			}
			at := path
			if !v.Type().Field(i).Anonymous {
				at += "." + v.Type().Field(i).Name
			}
			changeEach(t, at, v.Field(i), except, digest)
		}
	default:
		t.Errorf("%s: the test does not know how to change a %s", path, v.Kind())
	}
	v.Set(old)
	if digest() != before {
		t.Fatalf("%s: the change was not taken back", path)
	}
}

// An unknown type of node or shape is refused by name, never left out.
func TestUnknownNodesAreRefused(t *testing.T) {
	type margin struct{ *Paragraph }
	type spiral struct{ *Circle }
	for what, f := range map[string]func(){
		"digest":          func() { Digest[Node](margin{&Paragraph{}}) },
		"digest, inside":  func() { Digest(&Item{Blocks: []Block{margin{&Paragraph{}}}}) },
		"digest, a shape": func() { Digest(&Figure{Drawing: &Drawing{Shapes: []Shape{spiral{&Circle{}}}}}) },
		"walk":            func() { PlainText(&Item{Blocks: []Block{margin{&Paragraph{}}}}) },
	} {
		func() {
			defer func() {
				if said := fmt.Sprint(recover()); !strings.Contains(said, "doc.margin") && !strings.Contains(said, "doc.spiral") {
					t.Errorf("%s: the panic is %q; expected one that names the type", what, said)
				}
			}()
			f()
		}()
	}
}

// Walk meets every type, and everything in it.
func TestWalk(t *testing.T) {
	for name, n := range nodes() {
		met := 0
		for range Walk([]Node{n}) {
			met++
		}
		want := count(reflect.ValueOf(n))
		if met != want {
			t.Errorf("%s: %d nodes met, %d are in it", name, met, want)
		}
		if b, ok := n.(Block); ok {
			if got := Count([]*Section{{Blocks: []Block{b}}}); got != want+1 {
				t.Errorf("%s: %d nodes counted, %d are in it", name, got-1, want)
			}
		}
	}
}

// count counts the nodes below a value, itself included.
func count(v reflect.Value) (n int) {
	if _, ok := v.Interface().(Node); ok && v.Kind() == reflect.Pointer {
		n++
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			n += count(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			n += count(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				n += count(v.Field(i))
			}
		}
	}
	return n
}

// The fields of every type are tested above.
func TestNodesAreAll(t *testing.T) {
	for _, n := range Types {
		if name := reflect.TypeOf(n).Elem().Name(); nodes()[name] == nil {
			t.Errorf("no %s in nodes()", name)
		}
	}
	if len(Types) != len(nodes()) {
		t.Errorf("there are %d types, nodes() has %d", len(Types), len(nodes()))
	}
}
