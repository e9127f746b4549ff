package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"ownerguide/render"
	"ownerguide/render/calendar"
	"ownerguide/render/deliver"
	"ownerguide/render/doc"
	"ownerguide/render/html"
	"ownerguide/render/pdf"
	"ownerguide/render/record"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/parallel"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// maker holds what is loaded once per run.
type maker struct {
	line      *product.Line
	templates *render.Templates
	inputs    record.Inputs          // digests of line and templates
	proof     string                 // digest of the proof they passed; empty where there is none
	packed    func() ([]byte, error) // the line as one file
	earlier   *earlierLines          // that units were delivered from
}

// ingredients are line and templates as they were read, each with what is wrong
// with it; nil when it cannot be used.
type ingredients struct {
	line      *product.Line
	templates *render.Templates
	ofLine    source.Findings
	ofWords   source.Findings
}

// load reads line and templates and prints what is wrong with them; errFound
// when they cannot be used.
func (c *commands) load(t *terminal) (*maker, error) { return c.reload(t, &ingredients{}) }

// reload is load that keeps what is there already, and leaves what it read.
func (c *commands) reload(t *terminal, have *ingredients) (*maker, error) {
	c.sayWhose(t, true)
	err := parallel.Do(func() (err error) {
		if have.line == nil {
			have.line, have.ofLine, err = c.loadLine()
		}
		return err
	}, func() (err error) {
		if have.templates == nil {
			have.templates, have.ofWords, err = c.loadTemplates()
		}
		return err
	})
	if err != nil {
		return nil, usageError{err}
	}
	l, words := have.line, have.templates
	findings := slices.Concat(have.ofLine, have.ofWords)
	if l != nil && words != nil {
		findings.Add(words.CheckAgainst(l)...)
	}
	if err := t.sideFindings(findings); err != nil {
		return nil, err
	}
	if l == nil || words == nil || findings.HasErrors() {
		return nil, errFound
	}
	return newMaker(l, words, c.lineName()), nil
}

// newMaker makes a maker of a line in a folder of that name.
func newMaker(l *product.Line, words *render.Templates, lineName string) *maker {
	return &maker{line: l, templates: words, inputs: record.Inputs{Line: lineDigest(l, lineName), Templates: templatesDigest(words)},
		packed: packed(l), earlier: &earlierLines{lines: map[string]*maker{}}}
}

// lineDigest digests the files of a product line, wherever its folder is, which is
// called name here.
func lineDigest(l *product.Line, name string) string {
	return filesDigest(l.Files, func(f source.File) (string, []byte) { return strings.TrimPrefix(f.Shown(), name), f.Data })
}

// templatesDigest digests the templates in use, wherever each comes from.
func templatesDigest(t *render.Templates) string {
	return filesDigest(t.Files, func(f source.File) (string, []byte) { return f.Name, f.Data })
}

// filesDigest digests the names and contents of files in their order.
func filesDigest[F any](files []F, of func(F) (name string, data []byte)) string {
	sum := sha256.New()
	for _, f := range files {
		name, data := of(f)
		fmt.Fprintf(sum, "%q %d\n", name, len(data))
		_, _ = sum.Write(data)
	}
	return hex.EncodeToString(sum.Sum(nil))
}

// unit is one sheet on its way to a guide. Later fields are nil when an error
// stopped it before.
type unit struct {
	sheet    *sheet.Sheet
	build    *spec.Build
	values   *derive.Values
	guide    *doc.Guide
	sums     *doc.Guide // the engineer's calculations
	record   *record.Record
	findings source.Findings
}

// add adds findings, with the unit they are about.
func (u *unit) add(found ...source.Finding) {
	if u.sheet != nil {
		found = u.sheet.Named(found)
	}
	u.findings.Add(found...)
}

// read takes a sheet as far as its figures.
func (m *maker) read(f sheetFile) *unit {
	u := &unit{}
	s, findings := f.sheet()
	u.sheet = s
	u.add(findings...)
	if u.sheet == nil {
		return u
	}
	// A sheet with slips is held against the line all the same, and one that
	// only the line objects to against the limits too, so that one run tells as
	// much as there is to mend and nothing that follows from a slip.
	build, findings := spec.Resolve(m.line, u.sheet)
	u.add(findings...)
	if build == nil || u.sheet.Faulty {
		return u
	}
	u.build = build
	u.values, findings = derive.Evaluate(build)
	u.add(findings...)
	return u
}

// assemble takes a unit without errors on to its documents and its record. The
// guide tells what is different from an earlier revision, if there is one.
func (m *maker) assemble(u *unit, earlier *record.Record) {
	if m.fill(u, earlier); u.guide == nil {
		return
	}
	u.record = record.Make(u.build, u.values, u.guide, m.templates.Print(u.build), m.templates.Style)
	u.record.Program, u.record.Inputs, u.record.Proof = version(), m.inputs, m.proof
	u.record.Inputs.Sheet = record.Digest(u.sheet.Data)
	u.record.Unconfirmed = len(m.templates.Unconfirmed(u.build))
}

// fill takes a unit without errors on to its documents.
func (m *maker) fill(u *unit, earlier *record.Record) {
	if u.build == nil || u.findings.HasErrors() {
		return
	}
	var guide, sums *doc.Guide
	var findings, more source.Findings
	_ = parallel.Do(func() error {
		sums, more = m.templates.Calculations(u.build, u.values, render.Made{
			Program: version(), Sheet: record.Digest(u.sheet.Data), Line: m.inputs.Line, Templates: m.inputs.Templates})
		return nil
	}, func() error {
		guide, findings = m.templates.Assemble(u.build, u.values, earlier)
		return nil
	})
	u.add(findings...)
	u.add(more...)
	if findings.HasErrors() || more.HasErrors() {
		return
	}
	u.guide, u.sums = guide, sums
	u.missing(pdf.Uncovered(guide))
	for _, d := range besides {
		if g := d.of(guide); g != nil {
			u.missing(pdf.Uncovered(g))
			u.checkSides(d, pdf.Letter)
		}
	}
}

// draft marks the unit's guide as a draft, on every page.
func (u *unit) draft() {
	u.record.Draft = true
	words := "draft"
	if u.record.Proof == "" {
		words = "draft-unproved"
	}
	for _, g := range []*doc.Guide{u.guide, u.guide.Card, u.guide.Leaf, u.sums} {
		if g != nil {
			g.Draft = u.guide.Words[words]
		}
	}
}

// missing reports characters that the typeface lacks, where they were written.
func (u *unit) missing(list []pdf.Missing) {
	for _, g := range list {
		at := g.Origin
		if at.File == "" {
			at = source.Pos{File: u.sheet.File, Line: 1, Column: 1}
		}
		u.add(codeGlyph.At(at, "the typeface has no %q (U+%04X)", g.Rune, g.Rune).WithHint("write it in other characters"))
	}
}

// codeGlyph is about characters, wherever they come from.
var codeGlyph = source.Code{ID: "glyph-missing", Severity: source.Error, Protects: "a character the typeface lacks would print as a blank: ≤ would vanish from a pressure"}

// files makes the files of a unit's guide, its record last, as the record says
// they are printed. Nil when findings stop it.
func (m *maker) files(u *unit) ([]deliver.File, error) {
	if u.guide == nil || u.findings.HasErrors() {
		return nil, nil
	}
	print := u.record.Print
	var paper, visits []byte
	var sheets []deliver.File
	var page, sums bytes.Buffer
	var report pdf.Report
	err := parallel.Do(func() (err error) {
		paper, report, err = pdf.Render(u.guide, pdf.Options{Paper: pdf.Paper(print.Paper)})
		return err
	}, func() error {
		return html.Write(&page, u.guide, m.templates.Style)
	}, func() error {
		if err := html.Write(&sums, u.sums, m.templates.Style); err != nil {
			return fmt.Errorf("calculations: %w", err)
		}
		return nil
	}, func() (err error) {
		visits, err = calendar.Write(u.guide)
		return err
	}, func() (err error) {
		sheets, err = u.printBesides(pdf.Paper(print.Paper))
		return err
	})
	if err != nil {
		return nil, err
	}
	u.missing(report.Missing)
	files := []deliver.File{
		{Name: "guide.html", Data: page.Bytes()},
		{Name: "guide.pdf", Data: paper},
		{Name: "calculations.html", Data: sums.Bytes()},
	}
	if visits != nil {
		files = append(files, deliver.File{Name: "service.ics", Data: visits})
	}
	files = append(files, sheets...)
	if print.Booklet {
		booklet, _, err := pdf.Booklet(u.guide, pdf.Options{Paper: pdf.Paper(print.Paper)})
		if err != nil {
			return nil, err
		}
		files = append(files, deliver.File{Name: "booklet.pdf", Data: booklet})
	}
	if u.findings.HasErrors() {
		return nil, nil
	}
	line, err := m.packed()
	if err != nil {
		return nil, err
	}
	return u.recorded(report, append(files, deliver.File{Name: sheet.CopyName, Data: u.sheet.Data}, deliver.File{Name: record.LineFile, Data: line}))
}

// recorded completes the unit's record by pages, files and findings, and adds
// its two files of data, the record last.
func (u *unit) recorded(report pdf.Report, files []deliver.File) ([]deliver.File, error) {
	u.record.SetPages(report.Words, pagesOf(report))
	contents, err := u.record.Contents.Encode()
	if err != nil {
		return nil, fmt.Errorf("contents of %s: %w", u.record.Serial, err)
	}
	files = append(files, deliver.File{Name: record.ContentsFile, Data: contents})
	for _, f := range files {
		u.record.Files = append(u.record.Files, record.FileOf(f.Name, f.Data))
	}
	u.record.Note(u.findings)
	kept, err := u.record.Encode()
	if err != nil {
		return nil, err
	}
	return append(files, deliver.File{Name: record.File, Data: kept}), nil
}

// pagesOf tells the page on which each section begins.
func pagesOf(report pdf.Report) map[string]int {
	pages := map[string]int{}
	for _, s := range report.Sections {
		pages[s.ID] = s.Page
	}
	return pages
}

// beside is a short document that is printed beside the guide, on one sheet.
type beside struct {
	file, name string
	of         func(*doc.Guide) *doc.Guide // nil where a unit has none
	paper      func(pdf.Paper) pdf.Paper   // of it, by that of the guide
}

// besides are those there are.
var besides = []beside{
	{"card.pdf", "the card", func(g *doc.Guide) *doc.Guide { return g.Card }, pdf.Paper.Half},
	{"handover.pdf", "the hand-over leaf", func(g *doc.Guide) *doc.Guide { return g.Leaf }, func(p pdf.Paper) pdf.Paper { return p }},
}

// printBesides prints them for a guide on a paper.
func (u *unit) printBesides(paper pdf.Paper) (files []deliver.File, err error) {
	for _, d := range besides {
		g := d.of(u.guide)
		if g == nil {
			continue
		}
		data, report, err := pdf.Render(g, pdf.Options{Paper: d.paper(paper)})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.name, err)
		}
		if paper != pdf.Letter { // that was checked when the guide was assembled
			u.checkSides(d, paper)
		}
		u.missing(report.Missing)
		files = append(files, deliver.File{Name: d.file, Data: data})
	}
	return files, nil
}

// checkSides reports a document that needs more than the two sides of its sheet, at
// the section that begins the last of them.
func (u *unit) checkSides(d beside, paper pdf.Paper) {
	g := d.of(u.guide)
	measured, err := pdf.Measure(g, pdf.Options{Paper: d.paper(paper)})
	if err != nil || measured.Pages <= sides {
		return // what cannot be laid out is reported when it is printed
	}
	u.add(codeSides.At(g.Sections[len(g.Sections)-1].Origin, "%s of %s takes %d pages; expected at most %d", d.name, g.Serial, measured.Pages, sides).
		WithHint("shorten the sections that stand on it"))
}

// sides is how many pages a document on one sheet has.
const sides = 2

// codeSides is about a sheet as a whole.
var codeSides = source.Code{ID: "too-many-sides", Severity: source.Error, Protects: "what stands on a third side of the card hangs nowhere, and on the hand-over leaf a signature is parted from what it signs"}
