package pdf

import (
	"fmt"
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
	issued, err := time.Parse(time.DateOnly, g.Issued)
	if err != nil {
		return nil, Report{}, fmt.Errorf("the guide's day of issue is %q, expected year-month-day", g.Issued)
	}
	raw, marks, err := paint(b, sh)
	if err != nil {
		return nil, Report{}, fmt.Errorf("paint: %w", err)
	}
	out, err := finish.Finish(raw, marks, finish.Document{
		Lang: g.Lang, Title: g.Title + ", " + g.Serial, Author: g.Maker, Subject: g.Model, Keywords: g.VIN,
		Creator: "ownerguide", Producer: "ownerguide", Date: issued,
		Root: b.root, Outline: b.outline,
	})
	if err != nil {
		return nil, Report{}, fmt.Errorf("finish: %w", err)
	}
	return out, Report{len(b.pages), b.sections, b.missing}, nil
}

// Pages returns how many pages a guide takes, without printing them. It is an error when the guide cannot be laid out.
func Pages(g *doc.Guide, opt Options) (int, error) {
	_, b, err := layOn(g, opt)
	if err != nil {
		return 0, err
	}
	return len(b.pages), nil
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
