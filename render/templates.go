package render

import (
	"maps"
	"slices"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/draw"
	"ownerguide/render/logo"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// Templates are the compiled templates with the functions that fill them, and blocks that units share. They are safe for concurrent use.
type Templates struct {
	*template.Templates
	rows     map[string]directive // by name
	pictures map[string]*doc.Logo // the maker's own, by file name
	kept     *keptBlocks
}

// LoadTemplates reads, checks and compiles all templates; see [template.Load].
func LoadTemplates(layers ...source.Layer) (*Templates, source.Findings) {
	return load(directives(), nil, layers...)
}

// LoadProved is LoadTemplates for templates that may be known to have passed a proof; see [template.Load].
func LoadProved(proved func([]source.File) bool, layers ...source.Layer) (*Templates, source.Findings) {
	return load(directives(), proved, layers...)
}

func load(rows []directive, proved func([]source.File) bool, layers ...source.Layer) (*Templates, source.Findings) {
	program := template.Program{Words: keys(words), Landmarks: draw.Landmarks(), Labels: append(slices.Clone(doc.ReaderWords), languageLabels()...)}
	named := map[string]directive{}
	for _, d := range rows {
		program.Directives = append(program.Directives, d.Directive)
		named[d.Name] = d
	}
	t, findings := template.Load(program, proved, layers...)
	own := &Templates{t, named, map[string]*doc.Logo{}, newKept()}
	for _, f := range t.Pictures {
		n, wrong := logo.Read(f.Shown(), f.Data, "a picture")
		own.pictures[strings.TrimPrefix(f.Name, template.PictureFolder+"/")] = n
		findings.Add(wrong...)
	}
	return own, findings
}

// CheckAgainst checks templates and logo against a line; see [template.Templates.CheckAgainst].
func (t *Templates) CheckAgainst(l *product.Line) source.Findings {
	_, findings := logoOf(l)
	return slices.Concat(findings, t.Templates.CheckAgainst(l))
}

// ForLine returns the templates for a maker's line; see [template.Templates.ForLine].
func (t *Templates) ForLine(l *product.Line) *Templates {
	return &Templates{t.Templates.ForLine(l), t.rows, t.pictures, newKept()}
}

// SwitchedOff returns what the maker has switched off that the unit would otherwise have.
func (t *Templates) SwitchedOff(b *spec.Build) (list []proof.SwitchedOff) {
	for _, s := range t.Off {
		if s.When.Holds(b.Has) {
			list = append(list, s)
		}
	}
	return list
}

// codeSwitchedOff reports what a unit's guide does not warn of.
var codeSwitchedOff = source.Code{ID: "switched-off", Severity: source.Warning,
	Protects: "whoever signs for a unit has to see which of the program's cautions and jobs its maker left out, and why"}

// logoOf reads a line's logo; nil if there is none or it has findings.
func logoOf(l *product.Line) (*doc.Logo, source.Findings) {
	if l.Logo == nil {
		return nil, nil
	}
	return logo.Read(l.Logo.Name, l.Logo.Data, l.Maker.Name.Value)
}

// Pictures returns a function that draws the pictures of a unit and reports those that
// cannot be drawn. It is safe for concurrent use.
func (t *Templates) Pictures() proof.Inspect {
	shown := map[string][]proof.Reference{} // by drawing
	for _, r := range t.Texts().References {
		if r.Kind == proof.Drawing && r.Lang == template.Base {
			shown[r.Name] = append(shown[r.Name], r)
		}
	}
	drawings := slices.Sorted(maps.Keys(shown))
	return func(b *spec.Build, vs *derive.Values, which func(drawing string) bool) source.Findings {
		a, _, ok := t.begin(b, vs)
		if !ok {
			return a.findings
		}
		a.choose()
		a.findings = nil // the claims report these better
		for _, name := range drawings {
			if which != nil && !which(name) {
				continue
			}
			b.Claim(proof.DrawingClaim+name, func() {
				at := slices.IndexFunc(shown[name], func(r proof.Reference) bool { return r.When.Holds(a.has) })
				if at < 0 {
					return
				}
				// That every stop has a target is a claim of its own; this notes the dependency on which stops there are.
				_ = slices.ContainsFunc(t.Texts().References, func(r proof.Reference) bool { return r.Kind == proof.Stop && r.When.Holds(a.has) })
				if _, _, err := draw.Draw(name, a.subject()); err != nil {
					a.findings.Add(template.CodeDrawing.At(shown[name][at].At, "drawing %q: %v", name, err))
				}
			})
		}
		return a.findings
	}
}

// FileShapes returns the kinds of template files.
func FileShapes() []source.FileShape { return template.FileShapes() }

// Codes returns the codes of findings about templates and about filling them.
func Codes() []source.Code {
	return append(slices.Clip(template.Codes()), codeStatement, codeSwitchedOff)
}
