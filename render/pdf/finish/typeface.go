package finish

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// typefaces completes the fonts gopdf wrote: the prefix of a font subset, the glyph mapping, the italic flag and a
// well-formed map from glyphs to characters. A font that no text uses is dropped.
func (k *Kit) typefaces(src *source) error {
	resources := &src.objects[resourcesObject].dict
	fonts, err := (&scanner{data: resources.get("Font")}).dict()
	if err != nil {
		return fmt.Errorf("font list: %w", err)
	}
	kept := []byte("<<")
	for _, e := range fonts {
		refs := references(e.value)
		if len(refs) != 1 || refs[0] >= len(src.objects) {
			return fmt.Errorf("font %s is not a reference", e.key)
		}
		glyphs, err := k.file.typeface(src, refs[0])
		if err != nil {
			return fmt.Errorf("font %s: %w", e.key, err)
		}
		number, err := strconv.Atoi(strings.TrimPrefix(e.key, "F"))
		if err != nil {
			return fmt.Errorf("font %s has no number", e.key)
		}
		if len(glyphs) > 0 {
			kept = fmt.Appendf(kept, "/%s %s", e.key, e.value)
			k.fonts[number] = setOf(glyphs)
		}
	}
	resources.set("Font", string(append(kept, ">>"...)))
	return nil
}

var errFont = errors.New("objects of the font are not as expected")

func setOf(glyphs []character) (set glyphSet) {
	for _, c := range glyphs {
		set.add(c.glyph)
	}
	return set
}

// typeface completes one font and returns its glyphs; none if nothing uses it.
func (f *file) typeface(src *source, n int) ([]character, error) {
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
	cid.dict.set("BaseFont", tagged)
	cid.dict.set("CIDToGIDMap", "/Identity")
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

// character is a glyph with its character.
type character struct {
	glyph uint16
	r     rune
}

// readUnicode parses gopdf's map, one "<glyph><glyph><character>" on each line. A glyph listed twice keeps its first character.
func readUnicode(stream []byte) ([]character, error) {
	_, rest, ok := bytes.Cut(stream, []byte(" beginbfrange\n"))
	body, _, ok2 := bytes.Cut(rest, []byte("endbfrange\n"))
	if !ok || !ok2 {
		return nil, errors.New("character table is not as expected")
	}
	var list []character
	seen := map[uint16]bool{}
	for line := range bytes.Lines(body) {
		parts := bytes.Split(bytes.TrimSuffix(bytes.TrimPrefix(line, []byte("<")), []byte(">\n")), []byte("><"))
		if len(parts) != 3 || !bytes.Equal(parts[0], parts[1]) {
			return nil, fmt.Errorf("character table has the line %q", line)
		}
		glyph, err := strconv.ParseUint(string(parts[0]), 16, 16)
		r, err2 := strconv.ParseUint(string(parts[2]), 16, 21)
		if err != nil || err2 != nil || r > 0x10FFFF || r >= 0xD800 && r < 0xE000 {
			return nil, fmt.Errorf("character table has the line %q", line)
		}
		if !seen[uint16(glyph)] {
			seen[uint16(glyph)] = true
			list = append(list, character{uint16(glyph), rune(r)})
		}
	}
	slices.SortFunc(list, func(a, b character) int { return cmp.Compare(a.glyph, b.glyph) })
	return list, nil
}

// perBlock is the maximum number of entries in a block. Source: Adobe technical note 5014, "CMap and CIDFont files", 1.4.
const perBlock = 100

func writeUnicode(list []character) []byte {
	b := []byte("/CIDInit/ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n/CMapName/Adobe-Identity-UCS def\n/CMapType 2 def\n" +
		"1 begincodespacerange\n<0000><FFFF>\nendcodespacerange\n")
	for len(list) > 0 {
		block := list[:min(perBlock, len(list))]
		list = list[len(block):]
		b = fmt.Appendf(b, "%d beginbfchar\n", len(block))
		for _, c := range block {
			b = fmt.Appendf(b, "<%04X><", c.glyph)
			for _, u := range utf16.AppendRune(nil, c.r) {
				b = fmt.Appendf(b, "%04X", u)
			}
			b = append(b, ">\n"...)
		}
		b = append(b, "endbfchar\n"...)
	}
	return append(b, "endcmap\nCMapName currentdict/CMap defineresource pop\nend\nend\n"...)
}
