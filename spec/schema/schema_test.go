package schema

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"gopkg.in/yaml.v3"

	"ownerguide/render"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/project"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

func fileShapes() []source.FileShape {
	return slices.Concat(sheet.FileShapes(), product.FileShapes(), render.FileShapes(), project.FileShapes())
}

// embedded is the embedded line, read once.
var embedded = sync.OnceValue(func() *product.Line {
	l, _ := spec.LoadLine(line.Files, "line")
	return l
})

// embeddedModels are the models of the embedded line.
func embeddedModels() []Model {
	var out []Model
	for _, m := range embedded().Models {
		out = append(out, Model{m.ID, m.Options.Names()})
	}
	return out
}

// compiled returns the schema of a kind of file to an independent validator, which
// checks it against the 2020-12 metaschema first.
func compiled(t *testing.T, name string, models []Model) *jsonschema.Schema {
	t.Helper()
	for _, f := range fileShapes() {
		if f.Name != name {
			continue
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Write(f, models)))
		if err != nil {
			t.Fatal(err)
		}
		c := jsonschema.NewCompiler()
		if err := c.AddResource("schema.json", doc); err != nil {
			t.Fatal(err)
		}
		s, err := c.Compile("schema.json")
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return s
	}
	t.Fatalf("no schema is called %s", name)
	return nil
}

// asEditor reads YAML the way an editor does: typed values, not texts.
func asEditor(t *testing.T, data []byte) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	return plain(v)
}

// plain turns YAML's own types into those of JSON.
func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k := range v {
			v[k] = plain(v[k])
		}
		return v
	case map[any]any: // some key was no text
		out := map[string]any{}
		for k, x := range v {
			out[fmt.Sprint(k)] = plain(x)
		}
		return out
	case []any:
		for i := range v {
			v[i] = plain(v[i])
		}
		return v
	case time.Time: // JSON has no dates, so editors see the text
		return v.Format(time.DateOnly)
	}
	return v
}

// Each embedded file is of the kind it is said to be.
func TestEmbeddedFilesFitTheirSchemas(t *testing.T) {
	sheets, base, second := os.DirFS("../../testdata/sheets"), os.DirFS("../product/base"), os.DirFS("../../testdata/quillmere/templates")
	seen := map[string]bool{}
	for _, c := range []struct {
		kind    string
		files   fs.FS
		pattern string
	}{
		{"sheet", sheets, "*.yaml"},
		{"project", fstest.MapFS{project.File: {Data: []byte("line: line\ntemplates: ../words\nout: out\npaper: a4\n")}}, project.File},
		{"line", line.Files, "line.yaml"}, {"model", line.Files, "models/*.yaml"}, {"component", line.Files, "components/*.yaml"}, {"option", line.Files, "options/*.yaml"}, {"words", line.Files, "text/*.yaml"},
		{"task", base, "tasks.yaml"},
		{"caution", templates.Files, "cautions.yaml"}, {"caution-words", templates.Files, "*/cautions.yaml"},
		{"trouble", templates.Files, "trouble.yaml"}, {"trouble-words", templates.Files, "*/trouble.yaml"},
		{"outline", templates.Files, "outline.yaml"}, {"system", second, "systems/*.yaml"}, {"system-words", second, "*/systems/*.yaml"},
		{"section", templates.Files, "*/sections/*.md"}, {"job", templates.Files, "*/tasks/*.md"},
		{"statement", templates.Files, "statements/*.yaml"}, {"label", templates.Files, "*/labels.yaml"}, {"glossary", templates.Files, "*/glossary.yaml"},
	} {
		schema := compiled(t, c.kind, embeddedModels())
		names, err := fs.Glob(c.files, c.pattern)
		if err != nil || len(names) == 0 {
			t.Fatalf("%s: no file %s: %v", c.kind, c.pattern, err)
		}
		seen[c.kind] = true
		for _, name := range names {
			data, err := fs.ReadFile(c.files, name)
			if err != nil {
				t.Fatal(err)
			}
			if path.Ext(name) == ".md" {
				data = bytes.SplitN(data, []byte("\n---\n"), 2)[0]
			}
			if err := schema.Validate(asEditor(t, data)); err != nil {
				t.Errorf("%s as %s: %v", name, c.kind, err)
			}
		}
	}
	for _, f := range fileShapes() {
		if !seen[f.Name] {
			t.Errorf("nothing embedded is checked against the schema %s", f.Name)
		}
	}
}

// Whatever a schema refuses the reader refuses too: an editor never marks what
// would have been fine. Slips are made in real files, one at a time.
func TestWhatTheSchemaRefusesTheReaderRefuses(t *testing.T) {
	text := string(read(t, os.DirFS("../../testdata/sheets"), "BW-27-0142.yaml"))
	byTheReader := map[string]func(data string) source.Findings{
		"sheet": func(data string) source.Findings {
			s, findings := sheet.Read("sheet.yaml", []byte(data))
			if s != nil {
				_, more := spec.Resolve(embedded(), s)
				findings = append(findings, more...)
			}
			return findings
		},
		"line":      func(data string) source.Findings { return lineWith("line.yaml", data) },
		"model":     func(data string) source.Findings { return lineWith("models/tilt-20.yaml", data) },
		"component": func(data string) source.Findings { return lineWith("components/running.yaml", data) },
		"option":    func(data string) source.Findings { return lineWith("options/common.yaml", data) },
		"words":     func(data string) source.Findings { return lineWith("text/en.yaml", data) },
		"caution":   func(data string) source.Findings { return templatesWith("cautions.yaml", data) },
		"task": func(data string) source.Findings {
			return lineWith("components/running.yaml", string(read(t, line.Files, "components/running.yaml"))+"tasks:\n"+data)
		},
	}
	task := "- { id: own-check, system: deck, trigger: before-trip }\n"
	slips := []struct{ kind, text, old, new string }{
		{"sheet", text, "serial:", "serail:"},
		{"sheet", text, "model: tilt-20", "model: tilt-21"},
		{"sheet", text, "model: tilt-20", "model: [tilt-20]"},
		{"sheet", text, "model_year: 2027", "model_year: twenty"},
		{"sheet", text, "model_year: 2027", "model_year: 2027.5"},
		{"sheet", text, "revision: A", "revision:"},
		{"sheet", text, "revision: A", ""},
		{"sheet", text, "issued: 2026-", "issued: 26-"},
		{"sheet", text, " lb\n", "\n"},
		{"sheet", text, " lb\n", " psi\n"},
		{"sheet", text, "buyer: {", "buyer: { nmae: x,"},
		{"sheet", text, "winch-plate", "winch-plat"},
		{"sheet", text, "options:", "added: [{ option: heavy-wheels, date: 2027-01-01 }]\noptions:"},
		{"line", string(read(t, line.Files, "line.yaml")), "units: us", "units: imperial"},
		{"line", string(read(t, line.Files, "line.yaml")), "wmi: 1B9", ""},
		{"line", string(read(t, line.Files, "line.yaml")), "125 lb/ft³", "125"},
		{"model", string(read(t, line.Files, "models/tilt-20.yaml")), "gvwr: 15400 lb", "gvwr: 15400"},
		{"model", string(read(t, line.Files, "models/tilt-20.yaml")), "extends:", "extnds:"},
		{"option", string(read(t, line.Files, "options/common.yaml")), "because:", "becuase:"},
		{"model", string(read(t, line.Files, "models/tilt-20.yaml")), "x: 228 in", "x: 228 lb"},
		{"model", string(read(t, line.Files, "models/tilt-20.yaml")), "on: right", "on: up"},
		{"model", "extends: tilt-20\nvin_code: TD222\n", "vin_code: TD222", "longer: { by: 2 ft, behind: 150 in, empty_weight: 6000 }"},
		{"model", "extends: tilt-20\nvin_code: TD222\n", "vin_code: TD222", "rules: [{ at_most_one: [spare, winch] }]"},
		{"component", string(read(t, line.Files, "components/running.yaml")), "studs: 5", "studs: 7"},
		{"component", string(read(t, line.Files, "components/running.yaml")), "suspension: leaf", "suspension: springs"},
		{"component", string(read(t, line.Files, "components/running.yaml")), "axles:", "axels:"},
		{"option", string(read(t, line.Files, "options/common.yaml")), "requires:", "require:"},
		{"option", string(read(t, line.Files, "options/common.yaml")), "use: winch-8", "on: right"},
		{"words", string(read(t, line.Files, "text/en.yaml")), "summary:", "sumary:"},
		{"caution", string(read(t, templates.Files, "cautions.yaml")), "word: warning", "word: beware"},
		{"caution", string(read(t, templates.Files, "cautions.yaml")), "grave: true", "grave: very"},
		{"caution", string(read(t, templates.Files, "cautions.yaml")), "word: warning", "wrod: warning"},
		{"task", task, "trigger: before-trip", "trigger: sometimes"},
		{"task", task, "system: deck", "sytem: deck"},
		{"task", task, "id: own-check, ", ""},
	}
	for _, c := range testenv.Sample(t, slips, 15) {
		t.Run(c.kind+" "+c.new, func(t *testing.T) {
			if !strings.Contains(c.text, c.old) {
				t.Fatalf("nothing reads %q", c.old)
			}
			bad := strings.Replace(c.text, c.old, c.new, 1)
			if err := compiled(t, c.kind, embeddedModels()).Validate(asEditor(t, []byte(bad))); err == nil {
				t.Error("the schema takes it")
			}
			if findings := byTheReader[c.kind](bad); !findings.HasErrors() {
				t.Error("the reader takes it")
			}
		})
	}
}

func read(t *testing.T, files fs.FS, name string) []byte {
	t.Helper()
	data, err := fs.ReadFile(files, name)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// one is a folder in which one file reads differently.
type one struct {
	fs.FS
	name, data string
}

func (o one) Open(name string) (fs.File, error) {
	if name == o.name {
		return fstest.MapFS{name: {Data: []byte(o.data)}}.Open(name)
	}
	return o.FS.Open(name)
}

func lineWith(name, data string) source.Findings {
	_, findings := spec.LoadLine(one{line.Files, name, data}, "line")
	return findings
}

func templatesWith(name, data string) source.Findings {
	_, findings := render.LoadTemplates(source.Layer{Name: "templates", Files: one{templates.Files, name, data}})
	return findings
}

// Scalars that an editor reads as numbers, dates or truth values are texts to
// the reader; a schema must not mark them.
func TestSchemaTakesWhatTheReaderTakes(t *testing.T) {
	schema := compiled(t, "sheet", nil)
	good := string(read(t, os.DirFS("../../testdata/sheets"), "BW-27-0142.yaml"))
	serial := regexp.MustCompile(`(?m)^serial: .*$`)
	for _, text := range []string{
		serial.ReplaceAllString(good, "serial: 270142"),
		serial.ReplaceAllString(good, "serial: 1e5"),
		serial.ReplaceAllString(good, "serial: true"),
		strings.Replace(good, "model_year: 2027", `model_year: "2027"`, 1),
		strings.Replace(good, "built: 2026", `built: "2026`, 1),
	} {
		if strings.Contains(text, `built: "`) {
			text = regexp.MustCompile(`built: ("[0-9-]+)`).ReplaceAllString(text, `built: $1"`)
		}
		_, findings := sheet.Read("x.yaml", []byte(text))
		if findings.HasErrors() {
			t.Errorf("the reader refuses it: %v", findings)
		}
		if err := schema.Validate(asEditor(t, []byte(text))); err != nil {
			t.Error(err)
		}
	}
}

// Every key says what it means, in sentences.
func TestEveryKeyHasItsMeaning(t *testing.T) {
	var walk func(file string, s *source.Shape)
	walk = func(file string, s *source.Shape) {
		if s.Each != nil {
			walk(file, s.Each)
		}
		for _, k := range s.Keys {
			if !strings.HasSuffix(Describe(k), ".") {
				t.Errorf("%s: the key %s of %s is said to mean %q; expected sentences in its tag doc", file, k.Name, k.In.Name(), Describe(k))
			}
			walk(file, k.Shape)
		}
	}
	for _, f := range fileShapes() {
		walk(f.Name, f.Shape)
	}
}
