package finish

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// twoBytes is the first code of two bytes.
const twoBytes = 1 << 15

// codeOf returns the code of a character in the pages: printable ASCII as it is, in one byte, anything else as the number of its glyph from
// twoBytes on. A guide is 5 % smaller than with two bytes for each, and its pages a third shorter to compress.
func codeOf(r rune, glyph uint16) uint16 {
	if r >= ' ' && r <= '~' {
		return uint16(r)
	}
	return twoBytes | glyph
}

// typefaces completes the fonts gopdf wrote: the prefix of a font subset, the codes, the glyph mapping, the italic flag and a
// well-formed map from codes to characters. A font that no text uses is dropped.
func (k *Kit) typefaces(src *source, numbers []int) error {
	resources := &src.objects[resourcesObject].dict
	fonts, err := (&scanner{data: resources.get("Font")}).dict()
	if err != nil {
		return fmt.Errorf("font list: %w", err)
	}
	kept, encoding := []byte("<<"), k.file.reserve()
	for _, e := range fonts {
		refs := references(e.value)
		if len(refs) != 1 || refs[0] >= len(src.objects) {
			return fmt.Errorf("font %s is not a reference", e.key)
		}
		codes, err := k.file.typeface(src, refs[0], encoding)
		if err != nil {
			return fmt.Errorf("font %s: %w", e.key, err)
		}
		added, err := strconv.Atoi(strings.TrimPrefix(e.key, "F"))
		if err != nil || added < 1 || added > len(numbers) {
			return fmt.Errorf("font %s was not added", e.key)
		}
		if number := numbers[added-1]; len(codes) > 0 {
			kept = fmt.Appendf(kept, "/F%d %s", number, e.value)
			var has characters
			for _, c := range codes {
				has.add(c)
			}
			k.fonts[number] = has
		}
	}
	if len(k.fonts) == 0 {
		k.file.drop(encoding)
	} else {
		k.file.putDeflated(encoding, "/Type/CMap/CMapName"+encodingName+identitySystem, writeEncoding())
	}
	resources.set("Font", string(append(kept, ">>"...)))
	return nil
}

var errFont = errors.New("objects of the font are not as expected")

// characters is a set of characters of one font.
type characters struct {
	ascii  [2]uint64   // codes of one byte, as bits
	others []character // by code
}

func (s *characters) add(c character) {
	if c.code < twoBytes {
		s.ascii[c.code>>6] |= 1 << (c.code & 63)
	} else if i, known := s.find(c); !known {
		s.others = slices.Insert(s.others, i, c)
	}
}

func (s *characters) find(c character) (int, bool) {
	return slices.BinarySearchFunc(s.others, c, func(a, b character) int { return cmp.Compare(a.code, b.code) })
}

// lacks reports whether a character of another set is missing.
func (s *characters) lacks(of characters) bool {
	return of.ascii[0]&^s.ascii[0]|of.ascii[1]&^s.ascii[1] != 0 || slices.ContainsFunc(of.others, func(c character) bool {
		_, known := s.find(c)
		return !known
	})
}

// use adds to the characters of a font that are used.
func (p *Pages) use(font int, of characters) {
	for len(p.used) <= font {
		p.used = append(p.used, characters{})
	}
	used := &p.used[font]
	used.ascii[0] |= of.ascii[0]
	used.ascii[1] |= of.ascii[1]
	for _, c := range of.others {
		used.add(c)
	}
}

// Characters returns the characters of a font that a document needs, none if it does not use the font: with all of printable ASCII, so that
// documents that differ in a name or a figure share their fonts.
func (p *Pages) Characters(font int) (list []rune) {
	if len(p.used) <= font || p.used[font].ascii == [2]uint64{} && p.used[font].others == nil {
		return nil
	}
	for r := ' '; r <= '~'; r++ {
		list = append(list, r)
	}
	for _, c := range p.used[font].others {
		list = append(list, c.r)
	}
	slices.Sort(list)
	return list
}

// typeface completes one font and returns its codes; none if nothing uses it. Encoding is the object number of the map from codes to
// characters of the font.
func (f *file) typeface(src *source, n, encoding int) ([]character, error) {
	at := func(i int) *object {
		if i < 1 || i >= len(src.objects) {
			return &object{}
		}
		return &src.objects[i]
	}
	top := at(n)
	descendant, unicode := top.dict.ref("DescendantFonts"), top.dict.ref("ToUnicode")
	cid := at(descendant)
	descriptor := cid.dict.ref("FontDescriptor")
	desc := at(descriptor)
	program := desc.dict.ref("FontFile2")
	name := top.dict.name("BaseFont")
	if top.dict.name("Subtype") != "Type0" || cid.dict.name("Subtype") != "CIDFontType2" || cid.dict.name("BaseFont") != name ||
		desc.dict.name("FontName") != name || at(program).stream == nil || at(unicode).stream == nil ||
		!src.claim(n, descendant, descriptor, program, unicode) {
		return nil, errFont
	}
	pairs, err := readUnicode(at(unicode).stream)
	if err != nil {
		return nil, err
	}
	if len(pairs) == 0 {
		for _, i := range []int{n, descendant, descriptor, program, unicode} {
			f.drop(i)
			src.objects[i] = object{}
		}
		return nil, nil
	}
	if !isPostScriptName(name) {
		return nil, fmt.Errorf("family name %q must be letters, digits and hyphens", name)
	}
	tagged := "/" + subsetPrefix(name, cid.dict.get("W")) + "+" + name
	top.dict.set("BaseFont", tagged)
	top.dict.set("Encoding", fmt.Sprintf("%d 0 R", encoding))
	cid.dict.set("BaseFont", tagged)
	if err := f.number(&cid.dict, pairs); err != nil {
		return nil, err
	}
	desc.dict.set("FontName", tagged)
	if angle := string(desc.dict.get("ItalicAngle")); angle != "0" && angle != "" {
		flags, err := strconv.Atoi(string(desc.dict.get("Flags")))
		if err != nil {
			return nil, errFont
		}
		desc.dict.set("Flags", strconv.Itoa(flags|italicFlag))
	}
	f.putDeflated(unicode, "", writeUnicode(pairs))
	return pairs, nil
}

// italicFlag is bit 7 of a descriptor's flags. Source: ISO 32000-1, table 123.
const italicFlag = 1 << 6

func isPostScriptName(name string) bool {
	for _, c := range []byte(name) {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-') {
			return false
		}
	}
	return name != ""
}

// subsetPrefix returns six capital letters that identify this choice of glyphs.
func subsetPrefix(name string, widths []byte) string {
	sum := sha256.Sum256(append([]byte(name+" "), widths...))
	prefix := make([]byte, 6)
	for i := range prefix {
		prefix[i] = 'A' + sum[i]%26
	}
	return string(prefix)
}

// character is a character with its code and its glyph.
type character struct {
	code, glyph uint16
	r           rune
}

// readUnicode parses gopdf's map, one "<glyph><glyph><character>" on each line. A glyph listed twice keeps its first character,
// unless it is ASCII.
func readUnicode(stream []byte) ([]character, error) {
	_, rest, ok := bytes.Cut(stream, []byte(" beginbfrange\n"))
	body, _, ok2 := bytes.Cut(rest, []byte("endbfrange\n"))
	if !ok || !ok2 {
		return nil, errors.New("character table is not as expected")
	}
	var list []character
	first := map[uint16]rune{} // by glyph
	for line := range bytes.Lines(body) {
		parts := bytes.Split(bytes.TrimSuffix(bytes.TrimPrefix(line, []byte("<")), []byte(">\n")), []byte("><"))
		if len(parts) != 3 || !bytes.Equal(parts[0], parts[1]) {
			return nil, fmt.Errorf("character table has the line %q", line)
		}
		glyph, err := strconv.ParseUint(string(parts[0]), 16, 16)
		r, err2 := strconv.ParseUint(string(parts[2]), 16, 21)
		if err != nil || err2 != nil || glyph >= 2<<8 || r > 0x10FFFF || r >= 0xD800 && r < 0xE000 {
			return nil, fmt.Errorf("character table has the line %q", line)
		}
		c := character{codeOf(rune(r), uint16(glyph)), uint16(glyph), rune(r)}
		if known, ok := first[c.glyph]; !ok {
			first[c.glyph] = c.r
		} else if c.code >= twoBytes {
			c.r = known
		}
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(a, b character) int { return cmp.Compare(a.code, b.code) })
	return slices.CompactFunc(list, func(a, b character) bool { return a.code == b.code }), nil
}

// perBlock is the maximum number of entries in a block. Source: Adobe technical note 5014, "CMap and CIDFont files", 1.4.
const perBlock = 100

// number gives the characters of a font their codes as numbers, where gopdf has those of their glyphs: some readers take the one for the
// other in a map from codes to Unicode. Source: ISO 32000-1, 9.7.4.
func (f *file) number(cid *dict, list []character) error {
	fields := bytes.FieldsFunc(cid.get("W"), func(r rune) bool { return r == '[' || r == ']' || r == ' ' })
	widths := map[string][]byte{} // by glyph
	for pair := range slices.Chunk(fields, 2) {
		widths[string(pair[0])] = pair[len(pair)-1]
	}
	w, glyphs, next := []byte("["), []byte(nil), -1
	for _, c := range list {
		width := widths[strconv.Itoa(int(c.glyph))]
		if width == nil || bytes.Count(cid.get("W"), []byte("[")) != 1+len(fields)/2 {
			return fmt.Errorf("widths of the glyphs are not as expected")
		}
		if int(c.code) != next {
			w = fmt.Appendf(w, "]%d[", c.code)
		}
		w, next = append(append(w, width...), ' '), int(c.code)+1
		glyphs = binary.BigEndian.AppendUint16(append(glyphs, make([]byte, 2*int(c.code)-len(glyphs))...), c.glyph)
	}
	cid.set("W", "["+strings.TrimPrefix(string(w), "[]")+"]]")
	n := f.reserve()
	f.putDeflated(n, "", glyphs)
	cid.set("CIDToGIDMap", fmt.Sprintf("%d 0 R", n))
	return nil
}

const (
	encodingName   = "/Ownerguide-Text"
	identitySystem = "/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>"
	mapHead        = "/CIDInit/ProcSet findresource begin\n12 dict begin\nbegincmap\n"
	mapCodes       = "2 begincodespacerange\n<00><7F>\n<8000><FFFF>\nendcodespacerange\n"
	mapFoot        = "endcmap\nCMapName currentdict/CMap defineresource pop\nend\nend\n"
)

// writeEncoding returns the map from codes, of one byte or two, to their numbers. Source: ISO 32000-1, 9.7.5.
func writeEncoding() []byte {
	b := []byte(mapHead + identitySystem + "def\n/CMapName" + encodingName + " def\n/CMapType 1 def\n" + mapCodes + "3 begincidrange\n<00><7F>0\n")
	for first := twoBytes; first < twoBytes+2<<8; first += 1 << 8 { // a range has one first byte
		b = fmt.Appendf(b, "<%04X><%04X>%d\n", first, first+0xFF, first)
	}
	return append(b, "endcidrange\n"+mapFoot...)
}

func writeUnicode(list []character) []byte {
	b := []byte(mapHead + "/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n/CMapName/Adobe-Identity-UCS def\n/CMapType 2 def\n" + mapCodes)
	for block := range slices.Chunk(list, perBlock) {
		b = fmt.Appendf(b, "%d beginbfchar\n", len(block))
		for _, c := range block {
			digits := 2
			if c.code >= twoBytes {
				digits = 4
			}
			b = fmt.Appendf(b, "<%0*X><", digits, c.code)
			for _, u := range utf16.AppendRune(nil, c.r) {
				b = fmt.Appendf(b, "%04X", u)
			}
			b = append(b, ">\n"...)
		}
		b = append(b, "endbfchar\n"...)
	}
	return append(b, mapFoot...)
}
