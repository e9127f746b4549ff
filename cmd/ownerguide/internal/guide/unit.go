// Package guide makes the files of a guide from a build sheet, and keeps what a unit was
// built from and what was delivered.
package guide

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/render"
	"ownerguide/render/calendar"
	"ownerguide/render/deliver"
	"ownerguide/render/doc"
	"ownerguide/render/html"
	"ownerguide/render/pdf"
	"ownerguide/render/record"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// Maker is what is loaded once for a run.
type Maker struct {
	Line      *product.Line
	Templates *render.Templates
	Inputs    record.Inputs                     // digests of line and templates
	Proof     string                            // digest of the proof they passed; empty if there is none
	words     *render.Templates                 // for any line
	packed    func() ([]byte, error)            // the line as one file
	losses    func() map[string]source.Findings // what each language lacks
	earlier   *earlierLines                     // of delivered units
}

// NewMaker returns a Maker for a line from a folder with name lineName.
func NewMaker(l *product.Line, words *render.Templates, lineName string) *Maker {
	var inputs record.Inputs
	_ = parallel.Do(func() error {
		inputs.Line = lineDigest(l, lineName)
		return nil
	}, func() error {
		inputs.Templates = templatesDigest(words)
		return nil
	})
	return &Maker{Line: l, Templates: words.ForLine(l), Inputs: inputs, words: words,
		packed: packed(l), losses: lossesOf(l, words), earlier: &earlierLines{lines: map[string]*Maker{}}}
}

// lineDigest returns a digest of the files of a product line that does not depend on the
// location of its folder, which is name.
func lineDigest(l *product.Line, name string) string {
	return filesDigest(l.Files, func(f source.File) (string, []byte) { return strings.TrimPrefix(f.Shown(), name), f.Data })
}

// templatesDigest returns a digest of the templates in use that does not depend on their location.
func templatesDigest(t *render.Templates) string {
	return filesDigest(t.Files, func(f source.File) (string, []byte) { return f.Name, f.Data })
}

// filesDigest returns a digest of the names and contents of files in order.
func filesDigest[F any](files []F, of func(F) (name string, data []byte)) string {
	sum := sha256.New()
	for _, f := range files {
		name, data := of(f)
		fmt.Fprintf(sum, "%q %d\n", name, len(data))
		_, _ = sum.Write(data)
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// Unit is one sheet while its guide is made. Later fields are nil if an error stopped it
// earlier.
type Unit struct {
	Sheet    *sheet.Sheet
	Build    *spec.Build
	Values   *derive.Values
	Guide    *doc.Guide
	sums     *doc.Guide // the engineer's calculations
	Record   *record.Record
	Findings source.Findings
}

// Add adds findings about the unit.
func (u *Unit) Add(found ...source.Finding) {
	if u.Build != nil {
		found = inOwnFile(found, u.Build.Model.At)
	}
	if u.Sheet != nil {
		found = u.Sheet.Named(found)
	}
	u.Findings.Add(found...)
}

// inOwnFile moves findings from files of the program, which nobody can edit, to a position
// in a maker's own line, if it is one.
func inOwnFile(found source.Findings, own source.Pos) source.Findings {
	if embedded.Holds(own.File) {
		return found
	}
	moved := slices.Clone(found)
	for i, f := range found {
		if embedded.Holds(f.Pos.File) {
			moved[i] = f.MovedTo(own, "the text of the program that asks for it")
		}
	}
	return moved
}

// Read reads a sheet and calculates its figures.
func (m *Maker) Read(f input.SheetFile) *Unit { return m.Calculate(sheet.Read(f.Name, f.Data)) }

// Calculate calculates the figures of a sheet that was read with findings.
func (m *Maker) Calculate(s *sheet.Sheet, findings source.Findings) *Unit {
	u := &Unit{Sheet: s}
	u.Add(findings...)
	if u.Sheet == nil {
		return u
	}
	// A sheet with errors is still checked against the line, and one with errors
	// only against the line is also checked against the limits, so that one run
	// reports as much as possible, but no consequences of other errors.
	build, findings := spec.Resolve(m.Line, u.Sheet)
	u.Add(findings...)
	if build == nil || u.Sheet.Faulty {
		return u
	}
	u.Build = build
	_ = parallel.Do(func() error {
		u.Values, findings = derive.Evaluate(build)
		return nil
	}, func() error {
		if m.Templates != nil {
			m.Templates.Prepare(cmp.Or(s.Language.Value, template.Base), build.Has, build.Tasks())
		}
		return nil
	})
	u.Add(findings...)
	return u
}

// Assemble makes the documents and the record of a unit without errors. The guide
// describes the differences from an earlier revision, if there is one.
func (m *Maker) Assemble(u *Unit, earlier *record.Record) {
	if m.Fill(u, earlier); u.Guide == nil {
		return
	}
	u.Record = record.Make(u.Build, u.Values, u.Guide, m.Templates.Print(u.Build), m.Templates.Style)
	u.Record.Program, u.Record.Inputs, u.Record.Proof = Version(), m.Inputs, m.Proof
	u.Record.Inputs.Sheet = record.Digest(u.Sheet.Data)
	for _, off := range m.Templates.SwitchedOff(u.Build) {
		u.Record.SwitchedOff = append(u.Record.SwitchedOff, record.SwitchedOff{What: off.What, Reason: off.Reason, By: off.By})
	}
	u.Record.Unconfirmed = len(m.Templates.Unconfirmed(u.Build))
}

// Fill makes the documents of a unit without errors.
func (m *Maker) Fill(u *Unit, earlier *record.Record) {
	if u.Build == nil || u.Findings.HasErrors() {
		return
	}
	if m.refuseUnfinished(u); u.Findings.HasErrors() {
		return
	}
	var guide, sums *doc.Guide
	var findings, more source.Findings
	_ = parallel.Do(func() error {
		sums, more = m.Templates.Calculations(u.Build, u.Values, render.Made{
			Program: Version(), Sheet: record.Digest(u.Sheet.Data), Line: m.Inputs.Line, Templates: m.Inputs.Templates})
		return nil
	}, func() error {
		guide, findings = m.Templates.Assemble(u.Build, u.Values, earlier)
		return nil
	})
	u.Add(findings...)
	u.Add(more...)
	if findings.HasErrors() || more.HasErrors() {
		return
	}
	u.Guide, u.sums = guide, sums
}

// checkPaper reports what printing the unit's documents would, as far as that can be told without printing them.
func (u *Unit) checkPaper() {
	if u.Guide == nil {
		return
	}
	reports := make([]pdf.Report, len(Companions))
	var missing []pdf.Missing
	parallel.Each(1+len(Companions), func(i int) {
		if i == len(Companions) {
			missing = pdf.Uncovered(u.Guide)
		} else if g := Companions[i].Of(u.Guide); g != nil {
			reports[i], _ = pdf.Measure(g, pdf.Options{Paper: Companions[i].Paper(pdf.Letter)})
		}
	})
	u.missing(missing)
	for i, r := range reports {
		u.missing(r.Missing)
		u.checkSides(Companions[i], r.Pages)
	}
}

// Draft marks the unit's guide as a draft, on every page.
func (u *Unit) Draft() {
	u.Record.Draft = true
	words := "draft"
	if u.Record.Proof == "" {
		words = "draft-unproved"
	}
	for _, g := range []*doc.Guide{u.Guide, u.Guide.Card, u.Guide.Leaf, u.sums} {
		if g != nil {
			g.Draft = u.Guide.Words[words]
		}
	}
}

// missing reports characters that the typeface lacks, at their positions.
func (u *Unit) missing(list []pdf.Missing) {
	for _, g := range list {
		at := g.Origin
		if at.File == "" {
			at = source.Pos{File: u.Sheet.File, Line: 1, Column: 1}
		}
		u.Add(CodeGlyph.At(at, "the typeface has no %q (U+%04X)", g.Rune, g.Rune).WithHint("write it in other characters"))
	}
}

// CodeGlyph reports a character that the typeface lacks.
var CodeGlyph = source.Code{ID: "glyph-missing", Severity: source.Error, Protects: "a character the typeface lacks would print as a blank: ≤ would vanish from a pressure"}

// Files returns the files of a unit's guide, its record last, printed as the record says.
// It returns nil if there are errors.
func (m *Maker) Files(u *Unit) ([]deliver.File, error) {
	if u.Guide == nil || u.Findings.HasErrors() {
		return nil, nil
	}
	print := u.Record.Print
	var paper, page, sums, visits, line []byte
	var sheets []deliver.File
	var report pdf.Report
	text, err := pdf.Set(u.Guide, pdf.Options{Paper: pdf.Paper(print.Paper)})
	if err != nil {
		return nil, err
	}
	err = parallel.Do(func() (err error) {
		paper, report, err = text.Render()
		return err
	}, func() (err error) {
		page, err = html.Write(u.Guide, m.Templates.Style)
		return err
	}, func() (err error) {
		if sums, err = html.Write(u.sums, m.Templates.Style); err != nil {
			return fmt.Errorf("calculations: %w", err)
		}
		return nil
	}, func() (err error) {
		visits, err = calendar.Write(u.Guide)
		return err
	}, func() (err error) {
		sheets, err = u.printCompanions(pdf.Paper(print.Paper))
		return err
	}, func() (err error) {
		line, err = m.packed()
		return err
	})
	if err != nil {
		return nil, err
	}
	u.missing(report.Missing)
	files := []deliver.File{
		{Name: "guide.html", Data: page},
		{Name: "guide.pdf", Data: paper},
		{Name: "calculations.html", Data: sums},
	}
	if visits != nil {
		files = append(files, deliver.File{Name: "service.ics", Data: visits})
	}
	files = append(files, sheets...)
	if print.Booklet {
		booklet, _, err := pdf.Booklet(u.Guide, pdf.Options{Paper: pdf.Paper(print.Paper)})
		if err != nil {
			return nil, err
		}
		files = append(files, deliver.File{Name: "booklet.pdf", Data: booklet})
	}
	if u.Findings.HasErrors() {
		return nil, nil
	}
	return u.recorded(report, append(files, deliver.File{Name: sheet.CopyName, Data: u.Sheet.Data}, deliver.File{Name: record.LineFile, Data: line}))
}

// free makes room for other units in files that are not used any more.
func free(files []deliver.File) {
	for _, f := range files {
		if strings.HasSuffix(f.Name, ".html") {
			html.Free(f.Data)
		}
	}
}

// recorded completes the unit's record with pages, files and findings, and appends its two
// data files, the record last.
func (u *Unit) recorded(report pdf.Report, files []deliver.File) ([]deliver.File, error) {
	u.Record.SetPages(report.Words)
	contents, err := u.Record.Contents.Encode()
	if err != nil {
		return nil, fmt.Errorf("contents of %s: %w", u.Record.Serial, err)
	}
	files = append(files, deliver.File{Name: record.ContentsFile, Data: contents})
	u.Record.Files = make([]record.Delivered, len(files))
	parallel.Each(len(files), func(i int) { u.Record.Files[i] = record.FileOf(files[i].Name, files[i].Data) })
	u.Record.Note(u.Findings)
	kept, err := u.Record.Encode()
	if err != nil {
		return nil, err
	}
	return append(files, deliver.File{Name: record.File, Data: kept}), nil
}

// companion is a short document printed with the guide, on one sheet.
type companion struct {
	file, Name string
	Of         func(*doc.Guide) *doc.Guide // nil if a unit has none
	Paper      func(pdf.Paper) pdf.Paper   // its paper, by that of the guide
}

// Companions are all such documents.
var Companions = []companion{
	{"card.pdf", "the card", func(g *doc.Guide) *doc.Guide { return g.Card }, pdf.Paper.Half},
	{"handover.pdf", "the hand-over leaf", func(g *doc.Guide) *doc.Guide { return g.Leaf }, func(p pdf.Paper) pdf.Paper { return p }},
}

// printCompanions prints these documents for a guide.
func (u *Unit) printCompanions(paper pdf.Paper) (files []deliver.File, err error) {
	for _, d := range Companions {
		g := d.Of(u.Guide)
		if g == nil {
			continue
		}
		data, report, err := pdf.Render(g, pdf.Options{Paper: d.Paper(paper)})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.Name, err)
		}
		u.checkSides(d, report.Pages)
		u.missing(report.Missing)
		files = append(files, deliver.File{Name: d.file, Data: data})
	}
	return files, nil
}

// checkSides reports a document that needs more than the two sides of its sheet, at the
// section that begins last.
func (u *Unit) checkSides(d companion, pages int) {
	if g := d.Of(u.Guide); pages > Sides {
		u.Add(CodeSides.At(g.Sections[len(g.Sections)-1].Origin, "%s of %s takes %d pages; expected at most %d", d.Name, g.Serial, pages, Sides).
			WithHint("shorten the sections that stand on it"))
	}
}

// Sides is the number of pages of a document on one sheet.
const Sides = 2

// CodeSides reports such a document.
var CodeSides = source.Code{ID: "too-many-sides", Severity: source.Error, Protects: "what stands on a third side of the card hangs nowhere, and on the hand-over leaf a signature is parted from what it signs"}

// Check checks sheets up to their documents. Notes are about line and templates; failure
// is about units that could not be checked.
func (m *Maker) Check(sheets []input.SheetFile) (found, notes source.Findings, failure error) {
	var read []*sheet.Identity
	parallel.InOrder(sheets, 0, func(f input.SheetFile) (*Unit, error) {
		u := m.Read(f)
		m.Fill(u, nil)
		u.checkPaper()
		return u, nil
	}, func(f input.SheetFile, u *Unit, err error) bool {
		if err != nil {
			failure = errors.Join(failure, fmt.Errorf("%s: %w", f.Name, err))
			return true
		}
		found.Add(u.Findings...)
		if u.Sheet != nil {
			read = append(read, u.Sheet.Identity())
		}
		if u.Build != nil {
			notes.Add(inOwnFile(m.Templates.Unconfirmed(u.Build), m.Line.Maker.ID.At)...)
		}
		return true
	})
	found.Add(m.lostBySheets(read)...)
	found.Add(sheet.CheckRun(read)...)
	return found, notes, failure
}
