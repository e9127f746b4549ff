package source

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// ScalarParser is implemented by values that parse themselves from a YAML scalar. The
// error says what was expected, in lower case, and is shown to the user.
type ScalarParser interface{ ParseScalar(text string) error }

// placeSetter is implemented by values that keep the position of their text.
type placeSetter interface{ SetPlace(at Pos) }

// columnError is an error at a character of the text, counted from 1.
type columnError interface{ Column() int }

// Given is a value from a file with its position. Set is false if the key is missing.
type Given[T any] struct {
	Value T
	At    Pos
	Path  string // path in the data, such as use.distance_per_month
	Text  string // as written
	Set   bool
}

// Values returns the values without their positions.
func Values[T any](given []Given[T]) []T {
	out := make([]T, len(given))
	for i, g := range given {
		out[i] = g.Value
	}
	return out
}

// Map is a mapping with undeclared keys, in the order of the file.
type Map[T any] []Item[T]

// Item is one entry of a [Map].
type Item[T any] struct {
	Key   string
	KeyAt Pos
	Value T
}

// Get returns the entry with a key, or nil.
func (m Map[T]) Get(key string) *T {
	for i := range m {
		if m[i].Key == key {
			return &m[i].Value
		}
	}
	return nil
}

// Names returns the keys in order.
func (m Map[T]) Names() []string {
	names := make([]string, len(m))
	for i := range m {
		names[i] = m[i].Key
	}
	return names
}

// Decode fills the struct dst points to from a node. Fields have a tag
// `yaml:"key"` or `yaml:"key,required"`; embedded structs are read from the
// same mapping. A tag `oneof:"a b"` lists the words a field accepts,
// `refused:"c"` names others that are used in the trade but not supported, and
// `doc:"…"` documents the key for the person who fills it in.
// Fields may be strings, ints, bools, [ScalarParser]s, [Given]s,
// [Map]s, slices, structs and pointers to structs, and *Node for raw access.
// Every difference from the declared shape is added to findings; the rest is still
// filled in, so that one run reports everything.
func Decode(n *Node, dst any, findings *Findings) {
	decodeValue(n, reflect.ValueOf(dst).Elem(), findings)
}

// nodeDecoder is implemented by Given and Map, whose type parameter reflection
// cannot name.
type nodeDecoder interface {
	decodeNode(n *Node, findings *Findings)
	shape() *Shape
}

func (g *Given[T]) decodeNode(n *Node, findings *Findings) {
	before := len(*findings)
	decodeValue(n, reflect.ValueOf(&g.Value).Elem(), findings)
	g.At, g.Path, g.Text = n.At, n.Path, n.Text
	g.Set = len(*findings) == before
}

func (m *Map[T]) decodeNode(n *Node, findings *Findings) {
	if n.Kind != Mapping {
		wrongShape(n, Mapping, findings)
		return
	}
	*m = slices.Grow(*m, len(n.Keys))
	for _, e := range n.Keys {
		*m = append(*m, Item[T]{Key: e.Key, KeyAt: e.KeyAt})
		decodeValue(e.Value, reflect.ValueOf(&(*m)[len(*m)-1].Value).Elem(), findings)
	}
}

func wrongShape(n *Node, want Kind, findings *Findings) {
	if n.Null && want == Sequence {
		findings.Add(codeValue.At(n.At, "%s: nothing is written here; expected %s", pathOr(n.Path), want).WithPath(n.Path).WithHint("write [] where there is none"))
		return
	}
	findings.Add(codeShape.At(n.At, "%s is %s; expected %s", pathOr(n.Path), n.Kind, want).WithPath(n.Path))
}

func pathOr(path string) string {
	if path == "" {
		return "the file"
	}
	return path
}

var nodeType = reflect.TypeFor[*Node]()

func decodeValue(n *Node, v reflect.Value, findings *Findings) {
	if v.Type() == nodeType {
		v.Set(reflect.ValueOf(n))
		return
	}
	if d, ok := v.Addr().Interface().(nodeDecoder); ok {
		d.decodeNode(n, findings)
		return
	}
	if p, ok := v.Addr().Interface().(ScalarParser); ok {
		if text, ok := scalar(n, findings); ok {
			err := p.ParseScalar(text)
			if err != nil {
				at := n.At
				if e, ok := err.(columnError); ok {
					at = n.From
					at.Column += e.Column() - 1
				}
				wrongValueAt(n, at, err.Error(), findings)
			}
			if p, ok := p.(placeSetter); ok {
				p.SetPlace(n.From)
			}
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		decodeValue(n, v.Elem(), findings)
	case reflect.Struct:
		decodeStruct(n, v, findings)
	case reflect.Slice:
		decodeSlice(n, v, findings)
	default:
		decodeScalar(n, v, findings)
	}
}

func decodeSlice(n *Node, v reflect.Value, findings *Findings) {
	if n.Kind != Sequence {
		wrongShape(n, Sequence, findings)
		return
	}
	out := reflect.MakeSlice(v.Type(), len(n.Items), len(n.Items))
	for i, item := range n.Items {
		decodeValue(item, out.Index(i), findings)
	}
	v.Set(out)
}

func decodeScalar(n *Node, v reflect.Value, findings *Findings) {
	text, ok := scalar(n, findings)
	if !ok {
		return
	}
	switch v.Kind() {
	case reflect.String:
		v.SetString(text)
	case reflect.Int:
		i, err := strconv.Atoi(text)
		if err != nil {
			wrongValue(n, "expected a whole number", findings)
			return
		}
		v.SetInt(int64(i))
	case reflect.Bool:
		if text != "true" && text != "false" {
			wrongValue(n, "expected true or false", findings)
			return
		}
		v.SetBool(text == "true")
	default:
		panic(fmt.Sprintf("source: a field of type %s cannot be read from YAML", v.Type()))
	}
}

func scalar(n *Node, findings *Findings) (string, bool) {
	if n.Kind != Scalar {
		wrongShape(n, Scalar, findings)
		return "", false
	}
	if n.Null {
		wrongValue(n, "nothing is written here", findings)
		return "", false
	}
	return n.Text, true
}

func wrongValue(n *Node, what string, findings *Findings) { wrongValueAt(n, n.At, what, findings) }

func wrongValueAt(n *Node, at Pos, what string, findings *Findings) {
	is := ""
	if n.Text != "" {
		is = fmt.Sprintf(" is %q", clip(n.Text))
	}
	findings.Add(codeValue.At(at, "%s%s: %s", pathOr(n.Path), is, what).WithPath(n.Path))
}

// clip shortens a very long value in a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

func decodeStruct(n *Node, v reflect.Value, findings *Findings) {
	if n.Kind != Mapping {
		wrongShape(n, Mapping, findings)
		return
	}
	fields := fieldsOf(v.Type())
	for _, e := range n.Keys {
		i := slices.IndexFunc(fields, func(f field) bool { return f.key == e.Key })
		if i < 0 {
			findings.Add(unknownKey(e, fields))
			continue
		}
		if allowed := fields[i].oneOf; allowed != nil && !allowedWord(e.Value, fields[i], findings) {
			continue
		}
		decodeValue(e.Value, v.FieldByIndex(fields[i].index), findings)
	}
	for _, f := range fields {
		if f.required && n.Get(f.key) == nil {
			path := joinPath(n.Path, f.key)
			findings.Add(codeMissing.At(n.At, "%s is missing", path).WithPath(path))
		}
	}
}

// allowedWord reports whether a value is in the field's list of words; anything but a
// scalar is left to the decoder. For a word that is used in the trade but not
// supported, the finding says why it is refused.
func allowedWord(n *Node, f field, findings *Findings) bool {
	allowed := f.oneOf
	if n.Kind != Scalar || n.Null || slices.Contains(allowed, n.Text) {
		return true
	}
	wrong := codeValue.At(n.At, "%s is %q: expected one of %s", n.Path, clip(n.Text), strings.Join(allowed, ", ")).WithPath(n.Path)
	if slices.Contains(f.refused, n.Text) {
		wrong.Message = fmt.Sprintf("%s is %q, for which the program has no limits, jobs and warnings: it makes no guide of such a trailer; expected one of %s",
			n.Path, n.Text, strings.Join(allowed, ", "))
	}
	findings.Add(wrong.DidYouMean(n.Text, allowed, ""))
	return false
}

// field is a struct field that is read from a key.
type field struct {
	index    []int // for reflect's FieldByIndex
	key      string
	required bool
	oneOf    []string // nil if any word is accepted
	refused  []string // words of the trade that are not supported
	doc      string
}

// fieldsKnown caches the result of [fieldsOf] by type: a file has hundreds of structs
// of few types.
var fieldsKnown sync.Map

// fieldsOf returns the fields of a struct that are read from a key, with those of
// embedded structs in their place. The caller must not modify the result.
func fieldsOf(t reflect.Type) []field {
	if known, ok := fieldsKnown.Load(t); ok {
		return known.([]field)
	}
	out := readFields(t)
	fieldsKnown.Store(t, out)
	return out
}

func readFields(t reflect.Type) (out []field) {
	for i := range t.NumField() {
		f := t.Field(i)
		tag, ok := f.Tag.Lookup("yaml")
		ok = ok && tag != "-" // not read from a key
		if f.Anonymous && !ok {
			for _, inner := range fieldsOf(f.Type) {
				inner.index = append([]int{i}, inner.index...)
				out = append(out, inner)
			}
		}
		if ok {
			key, flag, _ := strings.Cut(tag, ",")
			one := field{index: []int{i}, key: key, required: flag == "required", doc: f.Tag.Get("doc")}
			if words := f.Tag.Get("oneof"); words != "" {
				one.oneOf = strings.Fields(words)
				one.refused = strings.Fields(f.Tag.Get("refused"))
			}
			out = append(out, one)
		}
	}
	return out
}

// Walk calls visit for every [Given] that is set in data, a pointer to a struct, at
// any depth, in the order of the fields. Tag is that of the field that holds it.
func Walk(data any, visit func(value any, tag reflect.StructTag, at Pos, path, text string)) {
	walk(reflect.ValueOf(data).Elem(), "", visit)
}

// entry is implemented by Given; see nodeDecoder.
type entry interface {
	entry() (value any, at Pos, path, text string, set bool)
}

func (g *Given[T]) entry() (any, Pos, string, string, bool) {
	return g.Value, g.At, g.Path, g.Text, g.Set
}

func walk(v reflect.Value, tag reflect.StructTag, visit func(value any, tag reflect.StructTag, at Pos, path, text string)) {
	if v.CanAddr() && v.Addr().CanInterface() {
		if e, ok := v.Addr().Interface().(entry); ok {
			if value, at, path, text, set := e.entry(); set {
				visit(value, tag, at, path, text)
			}
			return
		}
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			walk(v.Elem(), tag, visit)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walk(v.Field(i), v.Type().Field(i).Tag, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), tag, visit)
		}
	}
}

func joinPath(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

func unknownKey(e Entry, fields []field) Finding {
	known := make([]string, len(fields))
	for i := range fields {
		known[i] = fields[i].key
	}
	return codeUnknown.At(e.KeyAt, "unknown key %q", clip(e.Key)).WithPath(e.Value.Path).DidYouMean(e.Key, known, "keys allowed here: "+strings.Join(known, ", "))
}
