package pdf

import (
	"fmt"
	"time"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/layout"
	"ownerguide/render/pdf/paint"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
)

// Paper is a size of paper by name.
type Paper = paper.Size

// The papers. Half of each of the first two is the paper of a card.
const (
	Letter     = paper.Letter
	A4         = paper.A4
	HalfLetter = paper.HalfLetter
	A5         = paper.A5
)

// Missing is a character that the typeface lacks, with its position.
type Missing = typeset.Missing

// Options are how a guide is printed.
type Options struct {
	Paper  Paper // Letter if empty; half a sheet is set as a card
	joined bool  // the guide goes into a file with others
}

// Report describes the printed guide.
type Report struct {
	Pages    int
	Sections map[string]int // the page each section begins on, from 1
	Missing  []Missing      // each character and place once, in reading order
	White    float64        // fraction of the height of all columns that is unused at their feet, except where a page must end
	Words    []string       // text of each page, without running head and foot: pages with the same words are the same to a reader
}

// Text is the text of a guide, set and not yet on pages.
type Text struct {
	guide    *doc.Guide
	format   paper.Format
	chapters *layout.Chapters
}

// Set sets the text of a guide. It takes as many processors as are idle; [Text.Render] takes mostly one, so that other work can be done beside it.
func Set(g *doc.Guide, opt Options) (*Text, error) {
	f, ok := opt.Paper.Format()
	if !ok {
		return nil, fmt.Errorf("unknown paper %q, expected %s, %s, %s or %s", opt.Paper, Letter, A4, HalfLetter, A5)
	}
	f.Joined = opt.joined
	c, err := layout.Set(g, f)
	return &Text{g, f, c}, err
}

// Render sets a guide and returns it as a PDF, see [Text.Render].
func Render(g *doc.Guide, opt Options) ([]byte, Report, error) {
	t, err := Set(g, opt)
	if err != nil {
		return nil, Report{}, err
	}
	return t.Render()
}

// Render returns the guide as a tagged PDF. It returns an error if the guide has a node, a link or a drawing that cannot be set, or a
// caution, figure or other block that does not fit on a page. Characters that the typeface lacks are in the report; a caller must
// not deliver the file if there are any.
func (t *Text) Render() ([]byte, Report, error) {
	b, err := t.chapters.Lay()
	if err != nil {
		return nil, Report{}, err
	}
	d, err := document(t.guide)
	if err != nil {
		return nil, Report{}, err
	}
	d.Root, d.Outline = b.Root, b.Outline
	p := paint.New(t.format.Width, t.format.Height)
	p.Pages(b.Pages)
	out, err := p.Finish(d)
	if err != nil {
		return nil, Report{}, err
	}
	return out, report(b), nil
}

// Measure lays a guide out and reports on it, without printing it. It returns an error if the guide cannot be laid out.
func Measure(g *doc.Guide, opt Options) (Report, error) {
	_, b, err := lay(g, opt)
	if err != nil {
		return Report{}, err
	}
	return report(b), nil
}

// Uncovered returns the characters of a guide's text that the typeface lacks, in reading order, without laying the guide out. Labels in
// drawings and running heads are checked only by [Render].
func Uncovered(g *doc.Guide) []Missing { return layout.Uncovered(g) }

// document returns the document-level data of a guide.
func document(g *doc.Guide) (finish.Document, error) {
	issued, err := time.Parse(time.DateOnly, g.Issued)
	if err != nil {
		return finish.Document{}, fmt.Errorf("the guide's day of issue is %q, expected year-month-day", g.Issued)
	}
	return finish.Document{
		Lang: g.Lang, Title: doc.Fill(g.Words["file-title"], "title", g.Title, "serial", g.Serial), Author: g.Maker, Subject: g.Model, Keywords: g.VIN,
		Creator: "ownerguide", Producer: "ownerguide", Date: issued,
	}, nil
}

func report(b *layout.Book) Report {
	r := Report{Pages: len(b.Pages), Sections: b.Sections, Missing: b.Missing, White: b.White}
	for _, p := range b.Pages {
		r.Words = append(r.Words, p.Words())
	}
	return r
}

// lay lays a guide out on the requested paper.
func lay(g *doc.Guide, opt Options) (paper.Format, *layout.Book, error) {
	t, err := Set(g, opt)
	if err != nil {
		return paper.Format{}, nil, err
	}
	b, err := t.chapters.Lay()
	return t.format, b, err
}
