package source

import (
	"fmt"
	"strings"
	"testing"
)

// shapeText writes a shape on one line.
func shapeText(s *Shape) string {
	switch {
	case s.Kind == Scalar:
		return s.Type.Name()
	case s.Kind == Sequence:
		return "[" + shapeText(s.Each) + "]"
	case s.Each != nil:
		return "{*: " + shapeText(s.Each) + "}"
	}
	var keys []string
	for _, k := range s.Keys {
		name := k.Name
		if k.Required {
			name += "!"
		}
		keys = append(keys, fmt.Sprintf("%s/%s%v %s", k.In.Name(), name, k.OneOf, shapeText(k.Shape)))
	}
	return "{" + strings.Join(keys, ", ") + "}"
}

// A shape says of each type what Decode does with it; shelf is the struct of
// the decoder's own tests.
func TestShapeIsWhatDecodeReads(t *testing.T) {
	type part struct {
		shared
		Name  string             `yaml:"name,required"`
		Count Given[int]         `yaml:"count"`
		Even  Given[even]        `yaml:"even"`
		List  []Given[bool]      `yaml:"list"`
		Free  Map[shared]        `yaml:"free"`
		Inner *shared            `yaml:"inner"`
		Plain Map[Given[string]] `yaml:"plain"`
	}
	want := "{shared/color[red green] string, part/name![] string, part/count[] int, part/even[] even, part/list[] [bool], " +
		"part/free[] {*: {shared/color[red green] string}}, part/inner[] {shared/color[red green] string}, part/plain[] {*: string}}"
	if got := shapeText(ShapeFor[part]()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
