package source

import (
	"fmt"
	"reflect"
)

// Shape is what [Decode] reads into a Go type: the declaration of a kind of
// file, for whoever describes it to a person or to another program.
type Shape struct {
	Kind Kind
	// Type is the Go type that declares it: of a Scalar what the text is read
	// as, of a Mapping with declared keys the struct. Nil for lists and for free keys.
	Type reflect.Type
	Keys []Key  // of a Mapping with declared keys, in the order of the declaration
	Each *Shape // of a Sequence: each item. Of a Mapping with free keys: each value
}

// Key is one declared key of a mapping.
type Key struct {
	Name     string
	Required bool
	OneOf    []string     // the words it takes; nil where the list is open
	Doc      string       // what it means, in a sentence or two
	In       reflect.Type // the struct that declares it, which may be embedded in the one of the shape
	Shape    *Shape
}

// FileShape is a kind of file that people write.
type FileShape struct {
	Name  string // one word, in the singular
	Where string // which files are of this kind
	*Shape
}

// ShapeFor returns what Decode reads into a T.
func ShapeFor[T any]() *Shape { return shapeOf(reflect.TypeFor[T]()) }

var parserType = reflect.TypeFor[ScalarParser]()

func shapeOf(t reflect.Type) *Shape {
	if d, ok := reflect.New(t).Interface().(nodeDecoder); ok {
		return d.shape()
	}
	if reflect.PointerTo(t).Implements(parserType) {
		return &Shape{Kind: Scalar, Type: t}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return shapeOf(t.Elem())
	case reflect.Slice:
		return &Shape{Kind: Sequence, Each: shapeOf(t.Elem())}
	case reflect.Struct:
		s := &Shape{Kind: Mapping, Type: t}
		for _, f := range fieldsOf(t) {
			s.Keys = append(s.Keys, Key{f.key, f.required, f.oneOf, f.doc, declarer(t, f.index), shapeOf(t.FieldByIndex(f.index).Type)})
		}
		return s
	case reflect.String, reflect.Int, reflect.Bool:
		return &Shape{Kind: Scalar, Type: t}
	default:
		panic(fmt.Sprintf("source: a field of type %s cannot be read from YAML", t))
	}
}

// declarer returns the struct that a field stands in.
func declarer(t reflect.Type, index []int) reflect.Type {
	for _, i := range index[:len(index)-1] {
		t = t.Field(i).Type
	}
	return t
}

func (g *Given[T]) shape() *Shape { return ShapeFor[T]() }

func (m *Map[T]) shape() *Shape { return &Shape{Kind: Mapping, Each: ShapeFor[T]()} }
