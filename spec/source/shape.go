package source

import (
	"fmt"
	"reflect"
)

// Shape describes what [Decode] reads into a Go type, for documentation and other
// programs.
type Shape struct {
	Kind Kind
	// Type is the Go type that declares it: for a Scalar the type it is parsed into, for
	// a Mapping with declared keys the struct. Nil for lists and undeclared keys.
	Type reflect.Type
	Keys []Key  // of a Mapping with declared keys, in the order of the declaration
	Each *Shape // for a Sequence: each item; for a Mapping with undeclared keys: each value
}

// Key is one declared key of a mapping.
type Key struct {
	Name     string
	Required bool
	OneOf    []string     // the words it accepts; nil if any
	Doc      string       // what it means, in a sentence or two
	In       reflect.Type // the struct that declares it, possibly embedded in that of the shape
	Shape    *Shape
}

// FileShape is a kind of file that users write.
type FileShape struct {
	Name  string // one word, in the singular
	Where string // which files are of this kind
	*Shape
}

// ShapeFor returns the shape that Decode reads into a T.
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

// declarer returns the struct that declares a field.
func declarer(t reflect.Type, index []int) reflect.Type {
	for _, i := range index[:len(index)-1] {
		t = t.Field(i).Type
	}
	return t
}

func (g *Given[T]) shape() *Shape { return ShapeFor[T]() }

func (m *Map[T]) shape() *Shape { return &Shape{Kind: Mapping, Each: ShapeFor[T]()} }
