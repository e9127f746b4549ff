package main

import (
	"bytes"
	_ "embed"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/bare"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/cmd/ownerguide/internal/usage"
	"ownerguide/render"
	"ownerguide/render/deliver"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/project"
	"ownerguide/spec/schema"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

type unpackCommand struct {
	Bare string `placeholder:"MODEL" complete:"model" help:"Unpack one model without options, and none of the words: a line to grow. utility-12 is the smallest."`
	Dir  string `arg:"" complete:"folder" help:"Folder to write to; it must not be there yet, or be empty."`
}

// unpackedProject is the project file of a folder that was unpacked.
const unpackedProject = `# Holds for this folder and those below: what would else be typed as --line and --templates.
line: line
templates: templates
`

//go:embed unpack.md
var unpackReadme string

// Run writes the folder.
func (c *unpackCommand) Run(cli *commands, t *terminal.Terminal) error {
	if cli.Line != "" || cli.Templates != "" {
		return terminal.WithHint(terminal.Usagef("unpack writes the embedded line and templates; leave --line and --templates out"), "%s", usage.Typed([]string{"unpack", c.Dir}))
	}
	l, err := cli.wholeLine(t)
	if err != nil {
		return err
	}
	var only *product.Model
	if c.Bare != "" {
		if only = l.Model(c.Bare); only == nil {
			return terminal.WithHint(terminal.Usagef("--bare %s: the embedded line has no such model", c.Bare), "models: %s", strings.Join(source.Values(l.Maker.Models), ", "))
		}
	}
	var files []deliver.File
	texts := map[string]string{} // texts of the line
	for name, from := range map[string]fs.FS{"line": line.Files, "templates": templates.Files} {
		err := fs.WalkDir(from, ".", func(inside string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || inside == "embed.go" { // which is Go
				return err
			}
			data, err := fs.ReadFile(from, inside)
			switch {
			case only == nil || inside == "README.md":
			case name == "line":
				texts[inside] = string(data)
				return err
			default:
				return err
			}
			files = append(files, deliver.File{Name: path.Join(name, inside), Data: data})
			return err
		})
		if err != nil {
			return fmt.Errorf("unpacking: %w", err)
		}
	}
	files = append(files, deliver.File{Name: "line/tasks.yaml", Data: product.BaseTasks()})
	if only != nil {
		for name, text := range bare.Line(l, only, texts) {
			files = append(files, deliver.File{Name: path.Join("line", name), Data: []byte(text)})
		}
	}
	words, _ := embeddedWords() // the program's own have no errors, which a test verifies
	shapes := fileShapes()
	for _, f := range shapes {
		// Without the models of the line, which is about to change.
		files = append(files, deliver.File{Name: "schema/" + f.Name + ".json", Data: schema.Write(f, nil)})
	}
	files = append(files,
		deliver.File{Name: "KEYS.md", Data: append(schema.List(shapes), featureList(l, words)...)},
		deliver.File{Name: project.File, Data: []byte(unpackedProject)},
		deliver.File{Name: "README.md", Data: []byte(unpackReadme)})
	if err := cli.outputs(false).WriteTree(c.Dir, files); err != nil {
		return err
	}
	what := "the line of " + l.Maker.Name.Value + " and its templates"
	if only != nil {
		what = only.ID + " of the line of " + l.Maker.Name.Value
	}
	return t.Line("unpacked %s into %s; README.md there says how to go on", what, filepath.ToSlash(c.Dir))
}

// featureList returns, for each feature, its condition and the hazards and jobs that
// depend on it, as Markdown.
func featureList(l *product.Line, words *render.Templates) []byte {
	hazards, jobs := map[string][]string{}, map[string][]string{}
	note := func(asked map[string][]string, when logic.Condition, id string) {
		for _, f := range when.Facts() {
			if !slices.Contains(asked[f], id) {
				asked[f] = append(asked[f], id)
			}
		}
	}
	for _, c := range words.Cautions {
		note(hazards, c.When, c.ID.Value)
	}
	for _, t := range l.Tasks {
		note(jobs, t.When, t.ID.Value)
	}
	var b bytes.Buffer
	b.WriteString("\n## Features\n\nA feature is a word for what a unit has or is. Hazards with their cautions, jobs and texts hang on it. These follow from parts, ratings or the sheet, and nobody writes them." +
		" Words of your own stand under `features` of a model, an option or a component; some condition of yours has to ask for each.\n\n| feature | a unit has it when | hazards | jobs |\n| --- | --- | --- | --- |\n")
	derived := spec.DerivedFeatures()
	for _, f := range slices.Sorted(maps.Keys(derived)) {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s |\n", f, derived[f], strings.Join(hazards[f], ", "), strings.Join(jobs[f], ", "))
	}
	return b.Bytes()
}
