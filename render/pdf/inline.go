package pdf

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/fonts"
	"ownerguide/spec/source"
)

// sign is a drawn mark in running text.
type sign uint8

const (
	noSign  sign = iota
	stopped      // a number in a circle
	ticked       // a box to tick
)

// piece is a stretch of running text of one look, or a sign.
type piece struct {
	text    string
	look    look
	element *finish.Element // whose text it is; nil: that of the block
	link    *link
	sign    sign
	breaks  bool // a forced line end follows; text and sign are empty
}

// link is where a piece leads to.
type link struct {
	element *finish.Element
	to      string
	words   string
}

// Missing is a character that the typeface lacks; a question mark stands in its place.
type Missing struct {
	Rune   rune
	Origin source.Pos // where the text comes from; the zero place for words that are in no file
}

// zeroWidth is where a word may be parted though no space shows.
const zeroWidth = '\u200b'

// clean makes text fit to be set: white space becomes a space, the soft hyphen goes because words are not hyphenated, and what
// has no glyph is noted and shown as a question mark.
func (l *layout) clean(text string, at source.Pos) string {
	plain := true
	for i := 0; i < len(text) && plain; i++ {
		plain = text[i] >= ' ' && text[i] < 0x7f
	}
	if plain {
		return text
	}
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r' || r == '\v' || r == '\f':
			return ' '
		case r == '\u00ad':
			return -1
		case r == zeroWidth || fonts.Covers(r):
			return r
		}
		l.miss(Missing{r, at})
		return '?'
	}, text)
}

// miss notes a character that the typeface lacks, once for each place.
func (l *layout) miss(m Missing) {
	if !l.seen[m] {
		l.seen[m] = true
		l.missing = append(l.missing, m)
	}
}

// where writes a place for an error message.
func where(at source.Pos) string {
	if text := at.String(); text != "" {
		return text
	}
	return "unknown place"
}

// inlines flattens running text, all but what the setting skips. Elements of links become children of parent.
func (l *layout) inlines(list []doc.Inline, base look, parent *finish.Element, s setting) ([]piece, error) {
	f := flattener{layout: l, parent: parent, skip: s.skip, origin: s.origin}
	if err := f.all(list, base); err != nil {
		return nil, err
	}
	return f.pieces, nil
}

type flattener struct {
	*layout
	parent *finish.Element
	skip   doc.Inline
	origin source.Pos // of the block that the text is in
	link   *link
	pieces []piece
}

// add keeps a piece; inside a link it belongs to the link.
func (f *flattener) add(p piece) {
	if f.link != nil {
		p.link, p.element = f.link, f.link.element
	}
	f.pieces = append(f.pieces, p)
}

func (f *flattener) all(list []doc.Inline, lk look) error {
	for _, n := range list {
		if n == f.skip {
			continue
		}
		if err := f.node(n, lk); err != nil {
			return err
		}
	}
	return nil
}

// node flattens one inline node. Marks such as emphasis change the look and vanish.
func (f *flattener) node(n doc.Inline, lk look) error {
	switch n := n.(type) {
	case *doc.Text:
		f.add(piece{text: f.clean(n.Content, cmp.Or(n.Origin, f.origin)), look: lk})
	case *doc.Value:
		f.add(piece{text: f.clean(n.Printed, f.origin), look: lk})
	case *doc.PointMark:
		f.add(piece{text: strconv.Itoa(n.Number), sign: stopped, look: lk})
	case *doc.Box:
		f.add(f.box(lk))
	case *doc.Break:
		f.add(piece{breaks: true, look: lk})
	case *doc.Emphasis:
		if n.Strong {
			return f.all(n.Inlines, lk.bold())
		}
		return f.all(n.Inlines, lk.italic())
	case *doc.Link:
		return f.linked(n, lk)
	default:
		return doc.Unknown(n, f.origin)
	}
	return nil
}

// box is a box to tick; it is heard as the character it stands for.
func (f *flattener) box(lk look) piece {
	e := &finish.Element{Role: finish.RoleSpan, ActualText: "☐"}
	f.parent.Children = append(f.parent.Children, e)
	return piece{sign: ticked, look: lk, element: e}
}

// linked sets the text of a link, with the page it leads to.
func (f *flattener) linked(n *doc.Link, lk look) error {
	if f.link != nil {
		return fmt.Errorf("%s: the link to %q stands inside another", where(cmp.Or(n.Origin, f.origin)), n.To)
	}
	around := f.origin
	f.origin = cmp.Or(n.Origin, f.origin)
	e := &finish.Element{Role: finish.RoleLink}
	f.link = &link{element: e, to: n.To, words: doc.PlainText(n)}
	defer func() { f.link, f.origin = nil, around }()
	before := len(f.pieces)
	if err := f.all(n.Inlines, lk); err != nil {
		return err
	}
	if len(f.pieces) == before {
		return fmt.Errorf("%s: the link to %q has no words", where(f.origin), n.To)
	}
	f.parent.Children = append(f.parent.Children, e)
	id, inside := strings.CutPrefix(n.To, "#")
	if !inside {
		return nil
	}
	if !f.anchors[id] {
		return fmt.Errorf("%s: the link leads to %q, but no part of this guide has that id", where(f.origin), n.To)
	}
	see := f.word("see-page", "n", strconv.Itoa(f.pageOf(id)))
	f.link.words += ", " + see
	f.add(piece{text: " (" + glued(see) + ")", look: lk})
	return nil
}

// glued puts no-break spaces in place of spaces.
func glued(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }

// word is one of the readers' own words with its braces filled: name, text, name, text.
func (l *layout) word(id string, fill ...string) string {
	text, ok := l.guide.Words[id]
	if !ok && l.fault == nil {
		l.fault = fmt.Errorf("the guide lacks the readers' word %q", id)
	}
	for i := 0; i+1 < len(fill); i += 2 {
		text = strings.ReplaceAll(text, "{"+fill[i]+"}", fill[i+1])
	}
	return l.clean(text, source.Pos{})
}

// ruler measures text and remembers what it measured: the same words come again and again, and so do the passes.
type ruler struct{ known map[measured]float64 }

type measured struct {
	style fonts.Style
	text  string
}

// width is the length of text in points.
func (r *ruler) width(lk look, text string) float64 {
	key := measured{lk.style, text}
	w, ok := r.known[key]
	if !ok {
		w = float64(fonts.Width(lk.style, text)) / 1000
		r.known[key] = w
	}
	return w * lk.size
}

// kern is the kerning of two neighbours in points.
func kern(lk look, left, right rune) float64 {
	return float64(fonts.Kern(lk.style, left, right)) * lk.size / 1000
}

// firstRune and lastRune are the ends of a text, for kerning over a space.
func firstRune(s string) rune { r, _ := utf8.DecodeRuneInString(s); return r }
func lastRune(s string) rune  { r, _ := utf8.DecodeLastRuneInString(s); return r }
