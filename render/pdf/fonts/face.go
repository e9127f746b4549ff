package fonts

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
)

// face is a parsed TrueType file. Glyph 0 is the missing glyph.
type face struct {
	data    []byte
	glyphs  []uint16 // by character; characters beyond its length have no glyph
	widths  []uint16 // in 1/1000 em, by glyph; the last one applies to all further glyphs
	kerning []int8   // a matrix by left and right glyph, in kernSteps. A search in the list of pairs takes four times as long
	row     int      // length of a row of the matrix
	em      int
	metrics Metrics
}

// kernStep is the unit of kerning, in 1/1000 em: a fifth of a point at 10 points. Smaller steps are invisible, and take 3 % of a guide's file.
const kernStep = 20

// pairSize is the size of a kerning record in bytes: left, right and value of 2 bytes each.
const pairSize = 6

var errShort = errors.New("table ends too early")

// parse reads the tables needed for line breaking. Source: the OpenType specification 1.9.1, chapters "Font file", "cmap", "head",
// "hhea", "hmtx", "kern". An unsupported file is an error.
func parse(data []byte) (*face, error) {
	tables, err := directory(data)
	if err != nil {
		return nil, err
	}
	f := &face{data: data}

	head, hhea := tables["head"], tables["hhea"]
	if len(head) < 54 || len(hhea) < 36 {
		return nil, fmt.Errorf("head or hhea: %w", errShort)
	}
	f.em = int(u16(head, 18))
	if f.em < 16 || f.em > 16384 { // limits of the specification
		return nil, fmt.Errorf("head: %d units per em is out of range", f.em)
	}
	f.metrics = Metrics{Ascent: f.mille(i16(hhea, 4)), Descent: f.mille(i16(hhea, 6))}
	if err := f.readWidths(tables["hmtx"], int(u16(hhea, 34))); err != nil {
		return nil, fmt.Errorf("hmtx: %w", err)
	}
	if err := f.readGlyphs(tables["cmap"]); err != nil {
		return nil, fmt.Errorf("cmap: %w", err)
	}
	if err := f.readPairs(tables["kern"]); err != nil {
		return nil, fmt.Errorf("kern: %w", err)
	}
	return f, nil
}

// mille converts font units to 1/1000 em, rounded towards zero, as the PDF library does.
func (f *face) mille(units int) int { return units * 1000 / f.em }

func u16(b []byte, at int) uint16 { return binary.BigEndian.Uint16(b[at:]) }
func i16(b []byte, at int) int    { return int(int16(u16(b, at))) }
func u32(b []byte, at int) uint32 { return binary.BigEndian.Uint32(b[at:]) }

// directory splits the file into its tables.
func directory(data []byte) (map[string][]byte, error) {
	if len(data) < 12 || u32(data, 0) != 0x00010000 {
		return nil, errors.New("not a TrueType file")
	}
	n := int(u16(data, 4))
	if len(data) < 12+16*n {
		return nil, fmt.Errorf("table directory: %w", errShort)
	}
	tables := make(map[string][]byte, n)
	for i := range n {
		entry := data[12+16*i:]
		start, length := uint64(u32(entry, 8)), uint64(u32(entry, 12))
		if start+length > uint64(len(data)) {
			return nil, fmt.Errorf("table %q: %w", entry[:4], errShort)
		}
		tables[string(entry[:4])] = data[start : start+length]
	}
	return tables, nil
}

func (f *face) readWidths(hmtx []byte, n int) error {
	if n < 1 || len(hmtx) < 4*n {
		return errShort
	}
	f.widths = make([]uint16, n)
	for i := range n {
		f.widths[i] = uint16(f.mille(int(u16(hmtx, 4*i))))
	}
	return nil
}

// readGlyphs reads the Windows Unicode subtable in format 4, the only one the PDF library reads, so that both agree.
func (f *face) readGlyphs(cmap []byte) error {
	if len(cmap) < 4 {
		return errShort
	}
	n := int(u16(cmap, 2))
	if len(cmap) < 4+8*n {
		return errShort
	}
	for i := range n {
		entry := cmap[4+8*i:]
		if u16(entry, 0) != 3 || u16(entry, 2) != 1 {
			continue
		}
		start := uint64(u32(entry, 4))
		if start+16 > uint64(len(cmap)) {
			return errShort
		}
		return f.readFormat4(cmap[start:])
	}
	return errors.New("no Unicode subtable")
}

func (f *face) readFormat4(sub []byte) error {
	if u16(sub, 0) != 4 {
		return fmt.Errorf("subtable format %d, expected 4", u16(sub, 0))
	}
	n := int(u16(sub, 6)) / 2 // segments
	if len(sub) < 16+8*n {
		return errShort
	}
	ends, starts, deltas, offsets := 14, 16+2*n, 16+4*n, 16+6*n
	for i := range n {
		first, last := int(u16(sub, starts+2*i)), int(u16(sub, ends+2*i))
		delta, offset := u16(sub, deltas+2*i), int(u16(sub, offsets+2*i))
		for c := first; c <= last && c != 0xFFFF; c++ {
			glyph := uint16(c) + delta
			if offset != 0 {
				// The offset is relative to its own position in the table.
				at := offsets + 2*i + offset + 2*(c-first)
				if at+2 > len(sub) {
					return errShort
				}
				if glyph = u16(sub, at); glyph != 0 {
					glyph += delta
				}
			}
			if glyph == 0 {
				continue
			}
			if c >= len(f.glyphs) {
				f.glyphs = append(f.glyphs, make([]uint16, c+1-len(f.glyphs))...)
			}
			f.glyphs[c] = glyph
		}
	}
	return nil
}

// readPairs reads the first subtable in format 0. A missing kern table is allowed.
func (f *face) readPairs(kern []byte) error {
	if len(kern) == 0 {
		return nil
	}
	if len(kern) < 18 || u16(kern, 2) < 1 {
		return errShort
	}
	if coverage := u16(kern, 8); coverage != 1 {
		return fmt.Errorf("coverage %#x, expected horizontal pairs in format 0", coverage)
	}
	n := int(u16(kern, 10))
	if len(kern) < 18+pairSize*n {
		return errShort
	}
	for _, g := range f.glyphs {
		f.row = max(f.row, int(g)+1)
	}
	f.kerning = make([]int8, f.row*f.row)
	for i := range n {
		at := 18 + pairSize*i
		left, right := int(u16(kern, at)), int(u16(kern, at+2))
		steps := math.Round(float64(f.mille(i16(kern, at+4))) / kernStep)
		if steps != float64(int8(steps)) {
			return fmt.Errorf("a pair is moved by %v times %d thousandths", steps, kernStep)
		}
		if left < f.row && right < f.row { // the others belong to glyphs without a character
			f.kerning[left*f.row+right] = int8(steps)
		}
	}
	return nil
}

func (f *face) glyph(r rune) uint16 {
	if r < 0 || int(r) >= len(f.glyphs) {
		return 0
	}
	return f.glyphs[r]
}

func (f *face) advance(r rune) int { return f.width(f.glyph(r)) }

// width returns the advance of a glyph.
func (f *face) width(glyph uint16) int {
	if glyph == 0 {
		return 0
	}
	return int(f.widths[min(int(glyph), len(f.widths)-1)])
}

func (f *face) kern(left, right rune) int {
	l, r := int(f.glyph(left)), int(f.glyph(right))
	if l == 0 || r == 0 || f.kerning == nil {
		return 0
	}
	return kernStep * int(f.kerning[l*f.row+r])
}
