package schema

import (
	"fmt"
	"strings"

	"ownerguide/spec/source"
)

// List returns all keys of all kinds of files as Markdown: what each means, whether it is
// required, and how its value is written.
func List(files []source.FileShape) []byte {
	var b strings.Builder
	b.WriteString("# Every key there is\n\nA key marked *required* must be there, unless the entry takes it over from one that it `extends`. Indented keys belong to the one above. Figures always carry their unit.\n")
	for _, f := range files {
		fmt.Fprintf(&b, "\n## %s: %s\n\n", f.Name, f.Where)
		list(&b, f.Shape, 0)
	}
	return []byte(b.String())
}

func list(b *strings.Builder, s *source.Shape, depth int) {
	if s.Each != nil {
		if s.Kind == source.Mapping {
			fmt.Fprintf(b, "%s- an id of your choice, with\n", strings.Repeat("  ", depth))
			depth++
		}
		if s.Each.Kind == source.Scalar {
			fmt.Fprintf(b, "%s- %s\n", strings.Repeat("  ", depth), written(s.Each))
		}
		list(b, s.Each, depth)
		return
	}
	for _, k := range s.Keys {
		var notes []string
		if k.Shape.Kind == source.Scalar && k.OneOf == nil {
			notes = append(notes, written(k.Shape))
		}
		if k.Required {
			notes = append(notes, "*required*")
		}
		after := ""
		if len(notes) > 0 {
			after = " (" + strings.Join(notes, ", ") + ")"
		}
		fmt.Fprintf(b, "%s- `%s`%s: %s\n", strings.Repeat("  ", depth), k.Name, after, Describe(k))
		list(b, k.Shape, depth+1)
	}
}

// written returns how a scalar is written.
func written(s *source.Shape) string {
	switch v := zero(s.Type).(type) {
	case dater:
		return "a date"
	case measured:
		_, example := form(v)
		return "such as " + example
	case *int:
		return "a whole number"
	case *bool:
		return "true or false"
	}
	return "text"
}
