package pdf

import (
	"fmt"
	"strings"
	"time"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
)

// Options say how a guide is printed.
type Options struct {
	Paper Paper // Letter if empty; half a sheet is set as a card
}

// Report says what became of the guide.
type Report struct {
	Pages    int
	Sections []SectionPage // in reading order
	Missing  []Missing     // each character and place once, in reading order
	Words    []string      // of each page, running head and foot left out: pages with the same words read the same
}

// SectionPage is the page a section begins on, counted from 1.
type SectionPage struct {
	ID   string
	Page int
}

// Render returns the guide as a tagged PDF. It is an error when the guide holds a node kind, a link or a drawing that cannot be set, or
// a caution, picture or other block that no page can hold. Characters that the typeface lacks are in the report; a caller that
// finds any must not deliver the file.
func Render(g *doc.Guide, opt Options) ([]byte, Report, error) {
	sh, b, err := layOn(g, opt)
	if err != nil {
		return nil, Report{}, err
	}
	d, err := document(g)
	if err != nil {
		return nil, Report{}, err
	}
	d.Root, d.Outline = b.root, b.outline
	out, err := paint(b.pages, sh, d)
	if err != nil {
		return nil, Report{}, err
	}
	return out, b.report(), nil
}

// document says what stands about a guide in the file as a whole.
func document(g *doc.Guide) (finish.Document, error) {
	issued, err := time.Parse(time.DateOnly, g.Issued)
	if err != nil {
		return finish.Document{}, fmt.Errorf("the guide's day of issue is %q, expected year-month-day", g.Issued)
	}
	return finish.Document{
		Lang: g.Lang, Title: g.Title + ", " + g.Serial, Author: g.Maker, Subject: g.Model, Keywords: g.VIN,
		Creator: "ownerguide", Producer: "ownerguide", Date: issued,
	}, nil
}

// Measure lays a guide out and reports on it, without printing it. It is an error when the guide cannot be laid out.
func Measure(g *doc.Guide, opt Options) (Report, error) {
	_, b, err := layOn(g, opt)
	if err != nil {
		return Report{}, err
	}
	return b.report(), nil
}

func (b *book) report() Report {
	r := Report{Pages: len(b.pages), Sections: b.sections, Missing: b.missing}
	for _, p := range b.pages {
		r.Words = append(r.Words, p.words())
	}
	return r
}

// words joins what a page says, its artifacts left out.
func (p *page) words() string {
	var b strings.Builder
	for _, it := range p.items {
		if r, ok := it.(*run); ok && r.element != nil {
			b.WriteString(r.text)
			b.WriteByte('\n')
		}
	}
	return b.String()
}

func layOn(g *doc.Guide, opt Options) (sheet, *book, error) {
	sh, ok := opt.Paper.sheet()
	if !ok {
		return sheet{}, nil, fmt.Errorf("unknown paper %q, expected %s, %s, %s or %s", opt.Paper, Letter, A4, HalfLetter, A5)
	}
	b, err := lay(g, sh)
	if err != nil {
		return sheet{}, nil, fmt.Errorf("lay out: %w", err)
	}
	return sh, b, nil
}
