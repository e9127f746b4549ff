package layout

import (
	"fmt"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/paper"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// setter sets one chapter. The shared data is read-only while chapters are set in parallel.
type setter struct {
	*shared
	*typeset.Ruler
	typeset.Glyphs
	fault error           // the first error; the result is then discarded
	told  map[string]bool // links whose page number has been printed since the last heading

	seen   map[parallel.Digest]bool // what was taken from the cache; nil where nothing may be: inside blocks
	buffer []byte                   // for cache keys
}

// shared is what all chapters of a guide have in common.
type shared struct {
	guide     *doc.Guide
	format    paper.Format
	digits    int                 // digits of the largest page number
	sections  map[string]*section // by id
	names     []string            // that the sections name, see [doc.Names]
	wanted    map[string]bool     // ids that links lead to, other than of sections; true if there is such a block
	chapters  []*chapter
	numbered  int             // number of numbered chapters
	firstPart string          // the first part of the guide
	common    parallel.Digest // of what all blocks depend on
}

// section is a section with what identifies it in the cache.
type section struct {
	*doc.Section
	key   parallel.Digest // of all in it
	names []string        // that are named in it
}

// leads reports whether a link can lead to an id.
func (sh *shared) leads(id string) bool { return sh.sections[id] != nil || sh.wanted[id] }

// Uncovered returns the characters of a guide's text that the typeface lacks, in reading order, without laying the guide out, so that many
// sheets can be checked quickly. Labels in drawings and running heads are checked only by [Lay].
func Uncovered(g *doc.Guide) []typeset.Missing {
	var glyphs typeset.Glyphs
	origin := source.Pos{}
	for n := range doc.Walk(g.Sections) {
		if p, ok := n.(doc.Part); ok && p.Attr().Origin != (source.Pos{}) {
			origin = p.Attr().Origin
		}
		switch n := n.(type) {
		case *doc.Text:
			glyphs.Clean(n.Content, textOrigin(n, origin))
		case *doc.Value:
			glyphs.Clean(n.Printed, origin)
		}
	}
	return glyphs.Missing
}

// fail records an error; layout stops after the chapter.
func (s *setter) fail(format string, args ...any) {
	if s.fault == nil {
		s.fault = fmt.Errorf(format, args...)
	}
}

// textOrigin returns the position of a text or, if it has none, of its parent.
func textOrigin(n *doc.Text, around source.Pos) source.Pos {
	if n.Origin != (source.Pos{}) {
		return n.Origin
	}
	return around
}

// where formats a position for an error message.
func where(at source.Pos) string {
	if s := at.String(); s != "" {
		return s
	}
	return "unknown place"
}

// flattener turns running text into pieces. Elements of links become children of parent.
type flattener struct {
	*setter
	parent *finish.Element
	origin source.Pos
	link   *typeset.Reference
	pieces []typeset.Piece
}

// inlines returns running text as pieces.
func (s *setter) inlines(list []doc.Inline, look page.Look, parent *finish.Element, origin source.Pos) []typeset.Piece {
	f := flattener{setter: s, parent: parent, origin: origin, pieces: make([]typeset.Piece, 0, len(list))}
	f.all(list, look)
	return f.pieces
}

// add appends a piece; inside a link it belongs to the link.
func (f *flattener) add(p typeset.Piece) {
	if f.link != nil {
		p.Link, p.Element = f.link, f.link.Element
	}
	f.pieces = append(f.pieces, p)
}

func (f *flattener) all(list []doc.Inline, look page.Look) {
	for _, n := range list {
		f.inline(n, look)
	}
}

// inline flattens one node. Emphasis only changes the look.
func (f *flattener) inline(n doc.Inline, look page.Look) {
	switch n := n.(type) {
	case *doc.Text:
		f.add(typeset.Piece{Text: f.Clean(n.Content, textOrigin(n, f.origin)), Look: look})
	case *doc.Value:
		f.add(typeset.Piece{Text: f.Clean(n.Printed, f.origin), Look: look})
	case *doc.PointMark:
		f.add(typeset.Piece{Text: strconv.Itoa(n.Number), Mark: typeset.Pointed, Look: look})
	case *doc.Box:
		f.add(f.box(look))
	case *doc.Break:
		f.add(typeset.Piece{Breaks: true, Look: look})
	case *doc.Emphasis:
		if n.Strong {
			f.all(n.Inlines, look.Bold())
		} else {
			f.all(n.Inlines, look.Italic())
		}
	case *doc.Link:
		f.linked(n, look)
	default:
		f.fail("%w", doc.Unknown(n, f.origin))
	}
}

// box returns a checkbox; it is read aloud as the character.
func (f *flattener) box(look page.Look) typeset.Piece {
	e := &finish.Element{Role: finish.RoleSpan, ActualText: "☐"}
	f.parent.Children = append(f.parent.Children, e)
	return typeset.Piece{Mark: typeset.Boxed, Look: look, Element: e}
}

// linked sets the text of a link, with the page number of its target.
func (f *flattener) linked(n *doc.Link, look page.Look) {
	origin := f.origin
	if n.Origin != (source.Pos{}) {
		origin = n.Origin
	}
	if f.link != nil {
		f.fail("%w", doc.Unknown(n, origin))
		return
	}
	e := &finish.Element{Role: finish.RoleLink}
	f.link = &typeset.Reference{Element: e, To: n.To, Words: doc.PlainText(n)}
	defer func() { f.link = nil }()
	before := len(f.pieces)
	f.all(n.Inlines, look)
	if len(f.pieces) == before {
		f.fail("%s: the link to %q has no words", where(origin), n.To)
	}
	f.parent.Children = append(f.parent.Children, e)
	id, inside := strings.CutPrefix(n.To, "#")
	if !inside {
		return
	}
	if !f.leads(id) {
		f.fail("%s: the link leads to %q, but no part of this guide has that id", where(origin), n.To)
	}
	f.link.Words = f.word("link-page", "link", f.link.Words, "n", typeset.Hole)
	if f.told[id] {
		return
	}
	f.told[id] = true
	for _, p := range f.pageBehind(id, n.Listed, typeset.Piece{Look: look}) {
		f.add(p)
	}
}

// pageBehind returns the page number of a link, set like p: in parentheses, or bare after an entry of a list.
func (s *setter) pageBehind(id string, bare bool, p typeset.Piece) []typeset.Piece {
	p.Page = id
	if p.Text = "\u00a0\u00a0" + typeset.Hole; bare {
		return []typeset.Piece{p}
	}
	p.Text = noBreak(s.word("see-page", "n", typeset.Hole))
	return []typeset.Piece{{Text: " ", Look: p.Look}, p}
}

// noBreak replaces spaces by no-break spaces.
func noBreak(text string) string { return strings.ReplaceAll(text, " ", "\u00a0") }

// word returns one of the readers' own words with its placeholders filled: name, text, name, text.
func (s *setter) word(id string, fill ...string) string {
	text, ok := s.guide.Words[id]
	if !ok {
		s.fail("the guide lacks the readers' word %q", id)
	}
	return doc.Fill(s.Clean(text, source.Pos{}), fill...)
}
