// Package schema describes the files users write, as JSON Schema 2020-12 for editors
// and as a list of keys in Markdown.
//
// A schema is generated from the declarations the reader decodes into, so there is no
// second list of keys to maintain. It is less strict than the reader: anything it
// refuses, the reader refuses too. Every scalar may be written with or without quotes,
// as for the reader.
package schema

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Model is a model of a line with its options, for the values allowed in a build
// sheet.
type Model struct {
	ID      string
	Options []string
}

// Write returns the schema of a kind of file as indented JSON. A schema of build sheets
// contains the ids of models and their options as allowed values; models may be empty.
func Write(file source.FileShape, models []Model) []byte {
	w := &writer{models: models, defs: map[definition]bool{}}
	root := object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", file.Name},
		{"description", "How to write " + file.Where + "."},
	}
	root = append(root, w.shape(file.Shape, false)...)
	if len(models) > 0 && file.Name == "sheet" {
		root = append(root, member{"allOf", w.choices()})
	}
	// Writing a definition can add further ones.
	defs := object{}
	for i := 0; i < len(w.order); i++ {
		s, differs := w.order[i], w.differs[i]
		defs = append(defs, member{definition{s.Type, differs}.name(), w.keys(s, differs)})
	}
	if len(defs) > 0 {
		root = append(root, member{"$defs", defs})
	}
	data, err := json.MarshalIndent(root, "", "  ")
	if err != nil {
		panic(err) // it contains only strings, numbers, lists and objects
	}
	return append(data, '\n')
}

// object is a JSON object that keeps the order of its members, so that an editor offers
// keys in the order of the declaration.
type object []member

type member struct {
	name  string
	value any
}

// MarshalJSON implements [json.Marshaler].
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := plainJSON(m.name)
		if err != nil {
			return nil, err
		}
		value, err := plainJSON(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plainJSON does not escape <, > and &, because people read these files.
func plainJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

type writer struct {
	models  []Model
	order   []*source.Shape // structs that are referred to, each once for each variant
	differs []bool          // the variant of each of these
	defs    map[definition]bool
}

// definition is a struct in one of two variants: complete, or with only what differs from
// the entry it extends.
type definition struct {
	reflect.Type
	differs bool
}

func (d definition) name() string {
	if d.differs {
		return d.Name() + "Differences"
	}
	return d.Name()
}

// shape returns the members of the schema of a shape. With differs no key is required,
// because the entry is merged over another; lists in it are complete.
func (w *writer) shape(s *source.Shape, differs bool) object {
	switch {
	case s.Kind == source.Scalar:
		return scalar(s.Type)
	case s.Kind == source.Sequence:
		return object{{"type", "array"}, {"items", w.inner(s.Each, false)}}
	case s.Each != nil:
		return object{{"type", "object"}, {"additionalProperties", w.inner(s.Each, differs)}}
	}
	return w.keys(s, differs)
}

// inner returns a reference to the definition of a struct, or the schema of anything else.
func (w *writer) inner(s *source.Shape, differs bool) object {
	if s.Kind != source.Mapping || s.Type == nil {
		return w.shape(s, differs)
	}
	d := definition{s.Type, differs}
	if !w.defs[d] {
		w.defs[d] = true
		w.order, w.differs = append(w.order, s), append(w.differs, differs)
	}
	return object{{"$ref", "#/$defs/" + d.name()}}
}

// extends is the key by which an entry is merged over another one.
const extends = "extends"

func (w *writer) keys(s *source.Shape, differs bool) object {
	if !differs && slices.ContainsFunc(s.Keys, func(k source.Key) bool { return k.Name == extends }) {
		return object{{"if", object{{"required", []string{extends}}}}, {"then", w.inner(s, true)}, {"else", w.members(s, false)}}
	}
	return w.members(s, differs)
}

func (w *writer) members(s *source.Shape, differs bool) object {
	properties, required := object{}, []string{}
	for _, k := range s.Keys {
		value := w.inner(k.Shape, differs)
		if k.OneOf != nil {
			value = object{{"enum", words(k.OneOf)}}
		}
		properties = append(properties, member{k.Name, append(object{{"description", Describe(k)}}, value...)})
		if k.Required {
			required = append(required, k.Name)
		}
	}
	out := object{{"type", "object"}, {"properties", properties}, {"additionalProperties", false}}
	if len(required) > 0 && !differs {
		out = append(out, member{"required", required})
	}
	return out
}

// measured is implemented by quantities, dater by dates.
type (
	measured interface{ Dimension() quantity.Dimension }
	dater    interface{ IsZero() bool }
)

// zero returns a pointer to a new value of a type.
func zero(t reflect.Type) any { return reflect.New(t).Interface() }

func form(v measured) (expression, example string) { return quantity.Form(v.Dimension()) }

// scalar returns the schema of a scalar. An editor reads 2027 as a number and true as a
// boolean where the reader reads text; both are allowed.
func scalar(t reflect.Type) object {
	switch v := zero(t).(type) {
	case dater:
		return object{{"type", "string"}, {"pattern", quantity.DateForm}}
	case measured:
		expression, example := form(v)
		types := any("string")
		if v.Dimension() == quantity.DimCount {
			types = []string{"number", "string"}
		}
		return object{{"type", types}, {"pattern", expression}, {"examples", []string{example}}}
	case *int:
		return object{{"type", []string{"integer", "string"}}, {"pattern", `^[+-]?[0-9]+$`}}
	case *bool:
		return object{{"enum", words([]string{"true", "false"})}}
	}
	return object{{"type", []string{"string", "number", "boolean"}}}
}

// words returns the values of a list of words: each as text, and as the type an editor
// gives it without quotes.
func words(list []string) []any {
	var typed, out []any
	for _, w := range list {
		out = append(out, w)
		var v any
		if json.Unmarshal([]byte(w), &v) == nil {
			typed = append(typed, json.RawMessage(w))
		}
	}
	return append(typed, out...)
}

// choices makes the allowed options depend on the model that the sheet names.
func (w *writer) choices() []any {
	var ids []string
	var rules []any
	for _, m := range w.models {
		ids = append(ids, m.ID)
		option := object{{"enum", words(m.Options)}}
		if len(m.Options) == 0 {
			option = object{{"not", object{}}}
		}
		changes := object{{"items", object{{"properties", object{{"option", option}}}}}}
		rules = append(rules, object{
			{"if", object{{"properties", object{{"model", object{{"const", m.ID}}}}}, {"required", []string{"model"}}}},
			{"then", object{{"properties", object{{"options", object{{"items", option}}}, {"added", changes}, {"removed", changes}}}}},
		})
	}
	return append([]any{object{{"properties", object{{"model", object{{"enum", words(ids)}}}}}}}, rules...)
}

// Describe returns what a key means, in one or two sentences.
func Describe(k source.Key) string {
	text := k.Doc
	if len(k.OneOf) > 0 {
		text += " One of " + strings.Join(k.OneOf, ", ") + "."
	}
	return text
}
