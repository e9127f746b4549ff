package typeset

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
)

// markKind is the kind of a mark drawn in running text.
type markKind uint8

const (
	NoMark   markKind = iota
	Pointed           // a number in a black disc
	Boxed             // a checkbox
	Signaled          // a signal word on its color
	Framed            // framed words
)

// Piece is a stretch of running text with one look, or a mark.
type Piece struct {
	Text    string
	Look    page.Look
	Element *finish.Element // owner of the text; nil: that of the block
	Link    *Reference
	Mark    markKind
	Fill    page.Color // of a signal word
	Page    string     // the anchor whose page number replaces the Hole in the text; "" for none
	Breaks  bool       // a forced line break; text and mark are empty
}

// Hole is the placeholder in a piece's text for a page number that is not known yet.
const Hole = "\ufffc"

// Reference is the link of a piece.
type Reference struct {
	Element *finish.Element
	To      string
	Words   string // read aloud, with a Hole for the page number
}

// atom is unbreakable text of one piece, or a mark.
type atom struct {
	piece int
	text  string
	width float64
}

// Word is the atoms between two break opportunities.
type Word struct {
	atoms       []atom
	width       float64
	gap         float64 // width of the space after it, if the line continues
	spaced      bool    // a space follows
	halved      bool    // the rest of a broken word follows
	forcedBreak bool    // a forced line break follows
}

// Words splits pieces at spaces. Consecutive spaces count as one, as in HTML; no-break spaces are kept.
func (r *Ruler) Words(pieces []Piece) []Word {
	length := 0
	for _, p := range pieces {
		length += len(p.Text)
	}
	out := make([]Word, 0, length/5+1)
	all := make([]atom, 0, length/5+len(pieces)) // the backing array of every word's atoms
	begun := 0                                   // the first atom of the current word
	var open Word
	add := func(a atom) {
		all = append(all, a)
		open.width += a.width
	}
	closeWord := func(spaced bool, gap float64) {
		if len(all) > begun {
			open.atoms, open.spaced, open.gap = all[begun:len(all):len(all)], spaced, gap
			out = append(out, open)
		}
		open, begun = Word{}, len(all)
	}
	for i, p := range pieces {
		if p.Breaks {
			closeWord(false, 0)
			if len(out) > 0 {
				out[len(out)-1].forcedBreak = true
			}
			continue
		}
		if p.Mark != NoMark || p.Page != "" {
			add(atom{i, p.Text, r.wholeWidth(p)})
			continue
		}
		rest := p.Text
		for rest != "" {
			cut := strings.IndexAny(rest, " \u200b")
			text := rest
			if cut >= 0 {
				text = rest[:cut]
			}
			if text != "" {
				add(atom{i, text, r.Width(p.Look, text)})
			}
			if cut < 0 {
				break
			}
			if rest[cut] != ' ' { // a zero-width space
				rest = rest[cut+len("\u200b"):]
				open.halved = true
				closeWord(false, 0)
				continue
			}
			rest = strings.TrimLeft(rest[cut:], " ")
			gap := r.Width(p.Look, " ")
			if text != "" {
				gap += kern(p.Look, lastRune(text), ' ')
			}
			if rest != "" {
				gap += kern(p.Look, ' ', firstRune(rest))
			}
			if len(all) == begun && len(out) > 0 && !out[len(out)-1].spaced {
				out[len(out)-1].spaced, out[len(out)-1].gap = true, gap // the piece begins with the space
			}
			closeWord(true, gap)
		}
	}
	closeWord(false, 0)
	return out
}

// Sizes of marks.
const (
	discInText  = 1.4 // diameter of a point's disc, as a fraction of the text size: it does not touch those above and below
	boxSide     = 9.0
	chipPad     = 3.0 // left and right of a framed word
	chipHeight  = 10.5
	ChipOutline = 0.6
)

// wholeWidth returns the width of a mark, or of text with a page number.
func (r *Ruler) wholeWidth(p Piece) float64 {
	switch p.Mark {
	case Pointed:
		return p.Look.Size * discInText
	case Boxed:
		return boxSide + 1
	case Signaled, Framed:
		return r.Width(p.Look, p.Text) + 2*chipPad
	}
	return r.Width(p.Look, strings.Replace(p.Text, Hole, r.anyPage, 1))
}

// Widths returns the width of the longest word, and that of all words on one line or, with forced breaks, of the longest such line.
func Widths(ws []Word) (longest, whole float64) {
	line := 0.0
	for _, w := range ws {
		longest = max(longest, w.width)
		line += w.width
		whole = max(whole, line)
		line += w.gap
		if w.forcedBreak {
			line = 0
		}
	}
	return longest, whole
}

// LongestPart returns the width of the longest word if words may be broken after dots, hyphens and the like.
func (r *Ruler) LongestPart(pieces []Piece, ws []Word) float64 {
	longest := 0.0
	for _, w := range ws {
		for _, a := range w.atoms {
			if p := pieces[a.piece]; p.Mark != NoMark || p.Page != "" {
				longest = max(longest, a.width)
				continue
			}
			for rest := a.text; rest != ""; {
				part := Breakable(rest, false)
				rest = rest[len(part):]
				longest = max(longest, r.Width(pieces[a.piece].Look, part))
			}
		}
	}
	return longest
}

// Breakable returns the beginning of a word up to the first place where it may be broken if necessary: after punctuation between two
// letters, as in names and addresses, so that no number is split. If hard, numbers may be separated from their units too.
func Breakable(text string, hard bool) string {
	before := ' '
	for i, c := range text {
		if i > 0 && unicode.IsLetter(c) && strings.ContainsRune("-/@._\u2011", before) {
			if beyond, _ := utf8.DecodeLastRuneInString(strings.TrimRight(text[:i], "-/@._\u2011")); unicode.IsLetter(beyond) {
				return text[:i]
			}
		}
		if hard && i > 0 && strings.ContainsRune("\u00a0\u202f-/@._\u2011", before) {
			return text[:i]
		}
		before = c
	}
	return text
}

// Slack allows for rounding when a line is exactly as long as its measure.
const Slack = 0.01

// fillLines fills lines of a width, each with at least one word. Lines after the first, and after a forced break, are indented by in.
func fillLines(ws []Word, width, in float64) (lines [][]Word) {
	start, length := 0, 0.0
	for i, w := range ws {
		if i > start && length+w.width > width+Slack {
			lines = append(lines, ws[start:i])
			start, length = i, in
		}
		length += w.width + w.gap
		if w.forcedBreak {
			lines = append(lines, ws[start:i+1])
			start, length = i+1, 0
		}
	}
	if start < len(ws) {
		lines = append(lines, ws[start:])
	}
	return lines
}

// CountLines returns the number of lines fillLines makes; a word wider than the measure counts as the lines it will be broken into.
func CountLines(ws []Word, width float64) int {
	if width <= 0 {
		return len(ws)
	}
	lines, length, open := 0, 0.0, false
	for _, w := range ws {
		if !open || length+w.width > width+Slack {
			lines, length, open = lines+1, 0, true
			if w.width > width+Slack {
				lines += int(w.width / width)
			}
		}
		length += w.width + w.gap
		open = !w.forcedBreak
	}
	return lines
}

// BreakLines breaks text into lines: words wider than the measure are broken, and a last line of one short word is avoided if
// possible.
func (r *Ruler) BreakLines(pieces []Piece, ws []Word, width float64, balanced bool) [][]Word {
	ws = r.breakWords(pieces, ws, width)
	lines := fillLines(ws, width, 0)
	switch {
	case len(lines) < 2:
		return lines
	case balanced:
		return balanceLines(ws, lines, width)
	}
	last := lines[len(lines)-1]
	if len(last) > 1 || lineWidth(last) > width/6 || lines[len(lines)-2][len(lines[len(lines)-2])-1].forcedBreak {
		return lines
	}
	for _, share := range [...]float64{0.97, 0.94, 0.91, 0.88} {
		if again := fillLines(ws, width*share, 0); len(again) == len(lines) && len(again[len(again)-1]) > 1 {
			return again
		}
	}
	return lines
}

// balanceLines fills lines to the narrowest measure that needs no more lines, so that the lines of a heading have similar lengths.
func balanceLines(ws []Word, lines [][]Word, width float64) [][]Word {
	low, high := width/2, width
	for range 8 {
		mid := (low + high) / 2
		if again := fillLines(ws, mid, 0); len(again) <= len(lines) && fits(again, mid) {
			high, lines = mid, again
		} else {
			low = mid
		}
	}
	return lines
}

// fits reports whether no line is longer than the measure, as a single long word can be.
func fits(lines [][]Word, width float64) bool {
	return !slices.ContainsFunc(lines, func(l []Word) bool { return lineWidth(l) > width+Slack })
}

// lineWidth returns the width of words on one line, without the space after the last.
func lineWidth(ws []Word) float64 {
	w := 0.0
	for i, x := range ws {
		w += x.width
		if i < len(ws)-1 {
			w += x.gap
		}
	}
	return w
}

// breakWords breaks words that do not fit on a line: names after a dot, hyphen or slash, then after a no-break space, and finally
// between any two characters. Each part has at least one character, so it terminates for any measure.
func (r *Ruler) breakWords(pieces []Piece, ws []Word, width float64) (out []Word) {
	if !slices.ContainsFunc(ws, func(w Word) bool { return w.width > width+Slack }) {
		return ws
	}
	for _, w := range ws {
		if w.width <= width+Slack {
			out = append(out, w)
			continue
		}
		var parts []Word
		for _, at := range w.atoms {
			for _, a := range r.fragments(pieces, at, width) {
				last := len(parts) - 1
				if last >= 0 && parts[last].width+a.width <= width+Slack {
					parts[last].atoms = append(parts[last].atoms, a)
					parts[last].width += a.width
					continue
				}
				if last >= 0 {
					parts[last].halved = true
				}
				parts = append(parts, Word{atoms: []atom{a}, width: a.width})
			}
		}
		end := &parts[len(parts)-1]
		end.gap, end.spaced, end.forcedBreak = w.gap, w.spaced, w.forcedBreak
		out = append(out, parts...)
	}
	return out
}

// fragments splits an atom into parts that fit, by the least disruptive breaks.
func (r *Ruler) fragments(pieces []Piece, a atom, width float64) []atom {
	p := pieces[a.piece]
	if p.Mark != NoMark || p.Page != "" || a.width <= width+Slack {
		return []atom{a}
	}
	var out []atom
	for rest := a.text; rest != ""; {
		part := Breakable(rest, false)
		if r.Width(p.Look, part) > width+Slack {
			part = Breakable(rest, true)
		}
		rest = rest[len(part):]
		if w := r.Width(p.Look, part); w <= width+Slack {
			out = append(out, atom{a.piece, part, w})
			continue
		}
		for _, c := range part {
			out = append(out, atom{a.piece, string(c), r.Width(p.Look, string(c))})
		}
	}
	return out
}

// HasForcedBreaks reports whether text has forced line breaks.
func HasForcedBreaks(ws []Word) bool {
	return slices.ContainsFunc(ws, func(w Word) bool { return w.forcedBreak })
}
