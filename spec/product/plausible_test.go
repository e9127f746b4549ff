package product

import (
	"reflect"
	"strings"
	"testing"

	"ownerguide/spec/quantity"
)

// TestBounds reads the bounds in the tags of all fields: one that cannot be read, or
// is upside down, would show on the first part that has the figure.
func TestBounds(t *testing.T) {
	seen, read := map[reflect.Type]bool{}, 0
	var visit func(reflect.Type)
	visit = func(at reflect.Type) {
		switch at.Kind() {
		case reflect.Pointer, reflect.Slice:
			visit(at.Elem())
		case reflect.Struct:
			if seen[at] {
				return
			}
			seen[at] = true
			for f := range at.Fields() {
				if bounds := f.Tag.Get("within"); bounds != "" {
					value, _ := f.Type.FieldByName("Value")
					like := reflect.Zero(value.Type).Interface().(quantity.Quantity)
					low, high, both := strings.Cut(bounds, " to ")
					if !both || bound(like, low).Base() <= 0 || bound(like, low).Base() >= bound(like, high).Base() {
						t.Errorf("%s.%s lies within %q", at.Name(), f.Name, bounds)
					}
					read++
				}
				visit(f.Type)
			}
		}
	}
	visit(reflect.TypeFor[Components]())
	visit(reflect.TypeFor[Maker]())
	if read < 40 {
		t.Errorf("%d bounds were read", read)
	}
}
