package pdf

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"ownerguide/render/pdf/finish"
)

// atom is text of one piece that has no place to break, or a sign.
type atom struct {
	piece int
	text  string
	width float64
}

// word is what stands between two places to break.
type word struct {
	atoms  []atom
	width  float64
	gap    float64 // of the space after it, if the line goes on
	spaced bool    // a space follows
	halved bool    // the rest of the same word follows
	ends   bool    // a forced line end follows
}

// words cuts pieces at their spaces. Runs of spaces count as one, as in HTML; no-break spaces stay.
func (r *ruler) words(pieces []piece) []word {
	var out []word
	var open word
	closeWord := func(spaced bool, gap float64) {
		if len(open.atoms) > 0 {
			open.spaced, open.gap = spaced, gap
			out = append(out, open)
		}
		open = word{}
	}
	for i, p := range pieces {
		if p.breaks {
			closeWord(false, 0)
			if len(out) > 0 {
				out[len(out)-1].ends = true
			}
			continue
		}
		if p.sign != noSign {
			w := r.signWidth(p)
			open.atoms = append(open.atoms, atom{i, p.text, w})
			open.width += w
			continue
		}
		rest := p.text
		for rest != "" {
			cut := strings.IndexAny(rest, " \u200b")
			text := rest
			if cut >= 0 {
				text = rest[:cut]
			}
			if text != "" {
				w := r.width(p.look, text)
				open.atoms = append(open.atoms, atom{i, text, w})
				open.width += w
			}
			if cut < 0 {
				break
			}
			if rest[cut] != ' ' { // a zero-width place to break
				rest = rest[cut+len("\u200b"):]
				open.halved = true
				closeWord(false, 0)
				continue
			}
			rest = strings.TrimLeft(rest[cut:], " ")
			gap := r.width(p.look, " ")
			if text != "" {
				gap += kern(p.look, lastRune(text), ' ')
			}
			if rest != "" {
				gap += kern(p.look, ' ', firstRune(rest))
			}
			if len(open.atoms) == 0 && len(out) > 0 && !out[len(out)-1].spaced {
				out[len(out)-1].spaced, out[len(out)-1].gap = true, gap // the piece begins with the space
			}
			closeWord(true, gap)
		}
	}
	closeWord(false, 0)
	return out
}

// Sizes of signs, as shares of the size of the text around them.
const (
	stopWide = 1.4 // diameter of the circle: it stands clear of those above and below
	boxWide  = 0.95
)

// signWidth is the room a drawn mark takes in the line.
func (r *ruler) signWidth(p piece) float64 {
	if p.sign == stopped {
		return p.look.size * stopWide
	}
	return p.look.size * boxWide
}

// widest is the length of the longest word, and whole that of all of it on one line or, with forced ends, the longest such line.
func widest(ws []word) (longest, whole float64) {
	line := 0.0
	for _, w := range ws {
		longest = max(longest, w.width)
		line += w.width
		whole = max(whole, line)
		line += w.gap
		if w.ends {
			line = 0
		}
	}
	return longest, whole
}

// longestPart is the longest word when words may be broken after dots, hyphens and the like.
func (r *ruler) longestPart(pieces []piece, ws []word) float64 {
	longest := 0.0
	for _, w := range ws {
		for _, a := range w.atoms {
			if pieces[a.piece].sign != noSign {
				longest = max(longest, a.width)
				continue
			}
			for rest := a.text; rest != ""; {
				part := breakable(rest, false)
				rest = rest[len(part):]
				longest = max(longest, r.width(pieces[a.piece].look, part))
			}
		}
	}
	return longest
}

// breakable is the beginning of a word up to the first place where it may be broken if it must: after a mark between two letters,
// as in names and addresses, so that no number is parted. If hard, numbers are parted from their units too.
func breakable(text string, hard bool) string {
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

// slack forgives rounding when a line is as long as its measure.
const slack = 0.01

// split fills lines of a width, each with at least one word.
func split(ws []word, width float64) [][]word {
	var lines [][]word
	start, length := 0, 0.0
	for i, w := range ws {
		if i > start && length+w.width > width+slack {
			lines = append(lines, ws[start:i])
			start, length = i, 0
		}
		length += w.width + w.gap
		if w.ends {
			lines = append(lines, ws[start:i+1])
			start, length = i+1, 0
		}
	}
	if start < len(ws) {
		lines = append(lines, ws[start:])
	}
	return lines
}

// countLines is how many lines split makes; a word wider than the measure counts as the lines it will be parted into.
func countLines(ws []word, width float64) int {
	if width <= 0 {
		return len(ws)
	}
	lines, length, open := 0, 0.0, false
	for _, w := range ws {
		if !open || length+w.width > width+slack {
			lines, length, open = lines+1, 0, true
			if w.width > width+slack {
				lines += int(w.width / width)
			}
		}
		length += w.width + w.gap
		open = !w.ends
	}
	return lines
}

// broken is split with words wider than the measure parted and, if there is a longer way, without a last line of one short word.
func (r *ruler) broken(pieces []piece, ws []word, width float64, balanced bool) [][]word {
	ws = r.parted(pieces, ws, width)
	lines := split(ws, width)
	switch {
	case len(lines) < 2:
		return lines
	case balanced:
		return balance(ws, lines, width)
	}
	last := lines[len(lines)-1]
	if len(last) > 1 || lineWidth(last) > width/6 || lines[len(lines)-2][len(lines[len(lines)-2])-1].ends {
		return lines
	}
	for _, share := range [...]float64{0.97, 0.94, 0.91, 0.88} {
		if again := split(ws, width*share); len(again) == len(lines) && len(again[len(again)-1]) > 1 {
			return again
		}
	}
	return lines
}

// balance finds the narrowest measure that needs no more lines, so that a heading of two lines has two of like length.
func balance(ws []word, lines [][]word, width float64) [][]word {
	low, high := width/2, width
	for range 8 {
		mid := (low + high) / 2
		if again := split(ws, mid); len(again) <= len(lines) && fits(again, mid) {
			high, lines = mid, again
		} else {
			low = mid
		}
	}
	return lines
}

// fits tells whether every line keeps to the measure; one that is a single long word may not.
func fits(lines [][]word, width float64) bool {
	for _, l := range lines {
		if lineWidth(l) > width+slack {
			return false
		}
	}
	return true
}

// lineWidth is the length of words on one line, without the space after the last.
func lineWidth(ws []word) float64 {
	w := 0.0
	for i, x := range ws {
		w += x.width
		if i < len(ws)-1 {
			w += x.gap
		}
	}
	return w
}

// parted cuts words that no line can hold: names after a dot, hyphen or slash, then anything after a no-break space, and at last
// between any two characters. It always leaves at least one character, so a measure of nothing ends too.
func (r *ruler) parted(pieces []piece, ws []word, width float64) []word {
	wide := false
	for _, w := range ws {
		wide = wide || w.width > width+slack
	}
	if !wide {
		return ws
	}
	var out []word
	for _, w := range ws {
		if w.width <= width+slack {
			out = append(out, w)
			continue
		}
		var parts []word
		for _, at := range w.atoms {
			for _, a := range r.fragments(pieces, at, width) {
				last := len(parts) - 1
				if last >= 0 && parts[last].width+a.width <= width+slack {
					parts[last].atoms = append(parts[last].atoms, a)
					parts[last].width += a.width
					continue
				}
				if last >= 0 {
					parts[last].halved = true
				}
				parts = append(parts, word{atoms: []atom{a}, width: a.width})
			}
		}
		end := &parts[len(parts)-1]
		end.gap, end.spaced, end.ends = w.gap, w.spaced, w.ends
		out = append(out, parts...)
	}
	return out
}

// fragments cuts an atom into the parts it may be broken into: in the gentlest way that fits.
func (r *ruler) fragments(pieces []piece, a atom, width float64) []atom {
	p := pieces[a.piece]
	if p.sign != noSign || a.width <= width+slack {
		return []atom{a}
	}
	var out []atom
	for rest := a.text; rest != ""; {
		part := breakable(rest, false)
		if r.width(p.look, part) > width+slack {
			part = breakable(rest, true)
		}
		rest = rest[len(part):]
		if w := r.width(p.look, part); w <= width+slack {
			out = append(out, atom{a.piece, part, w})
			continue
		}
		for _, c := range part {
			out = append(out, atom{a.piece, string(c), r.width(p.look, string(c))})
		}
	}
	return out
}

// line is one set line; its items count from its own top left corner.
type line struct {
	items []item
	width float64
}

// textStyle says how running text is set.
type textStyle struct {
	leading  float64
	balanced bool
	element  *finish.Element // whose text it is
}

// set breaks pieces into lines and places them. With no text there is no line.
func (l *layout) set(pieces []piece, width float64, ts textStyle) []line {
	ws := l.ruler.words(pieces)
	var lines []line
	for _, words := range l.ruler.broken(pieces, ws, width, ts.balanced) {
		lines = append(lines, l.place(pieces, words, ts))
	}
	return lines
}

// place puts the words of a line side by side. Each line ends with a space, or words would join when the text is taken out; a word
// parted over the line end gets none.
func (l *layout) place(pieces []piece, ws []word, ts textStyle) line {
	var out line
	var open *run // the run that the next atom may join
	from := -1    // its piece
	var areas []*area
	for i, w := range ws {
		for _, a := range w.atoms {
			p := pieces[a.piece]
			t := tag{element: ts.element}
			if p.element != nil {
				t.element = p.element
			}
			baseline := p.look.baseline(ts.leading)
			switch {
			case p.sign != noSign:
				open, from = nil, -1
				out.items = append(out.items, l.sign(p, t, out.width, ts.leading)...)
			case from == a.piece:
				open.text += a.text
			default:
				open, from = &run{tag: t, x: out.width, y: baseline, text: a.text, look: p.look}, a.piece
				out.items = append(out.items, open)
			}
			if p.link != nil {
				areas = extend(areas, p, out.width, a.width, baseline)
			}
			out.width += a.width
		}
		last := i == len(ws)-1
		if open != nil && (w.spaced || last && !w.halved) {
			open.text += " "
		}
		if !last {
			out.width += w.gap
		}
	}
	for _, a := range areas {
		out.items = append(out.items, a)
	}
	return out
}

// extend makes the area of a link cover one more atom; the parts of one link on one line share an area.
func extend(areas []*area, p piece, x, width, baseline float64) []*area {
	if n := len(areas); n > 0 && areas[n-1].element == p.link.element {
		areas[n-1].box.W = x + width - areas[n-1].box.X
		return areas
	}
	box := finish.Box{X: x, Y: baseline - p.look.size, W: width, H: p.look.size * 1.3}
	return append(areas, &area{element: p.link.element, box: box, to: p.link.to, words: p.link.words})
}

// sign draws a mark in running text.
func (l *layout) sign(p piece, t tag, x, leading float64) []item {
	y := leading / 2
	if p.sign == ticked {
		side := p.look.size * boxWide * 0.95
		return []item{outlined(t, x+0.5, y-side/2, side, side, 0.9, black)}
	}
	radius := p.look.size * stopWide / 2
	digits := p.look.bold().inked(white)
	digits.size = p.look.size * 0.9
	w := l.ruler.width(digits, p.text)
	if limit := radius * 1.55; w > limit { // three digits
		digits.size *= limit / w
		w = limit
	}
	return []item{
		disc(tag{}, x+radius, y, radius, &black, nil, 0),
		&run{tag: t, x: x + radius - w/2, y: digits.baseline(leading), text: p.text + " ", look: digits},
	}
}
