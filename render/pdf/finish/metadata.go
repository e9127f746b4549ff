package finish

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"maps"
	"slices"
	"time"
	"unicode/utf16"
	"unicode/utf8"
)

// appendBytes appends a string object of bytes without an encoding: names and addresses.
func appendBytes(b []byte, s string) []byte {
	b = append(b, '(')
	for _, c := range []byte(s) {
		switch {
		case c == '(' || c == ')' || c == '\\':
			b = append(b, '\\', c)
		case c < ' ' || c > '~':
			b = append(b, '\\', '0'+c>>6, '0'+c>>3&7, '0'+c&7)
		default:
			b = append(b, c)
		}
	}
	return append(b, ')')
}

// appendText appends a text string object: ASCII unchanged, anything else in UTF-16 with a byte order mark.
// Source: ISO 32000-1, 7.9.2.2.
func appendText(b []byte, s string) []byte {
	plain := true
	for _, c := range []byte(s) {
		plain = plain && c >= ' ' && c <= '~'
	}
	if plain {
		return appendBytes(b, s)
	}
	b = append(b, "<FEFF"...)
	var units [2]uint16
	for _, r := range s {
		for _, u := range utf16.AppendRune(units[:0], r) {
			for shift := 12; shift >= 0; shift -= 4 {
				b = append(b, "0123456789ABCDEF"[u>>shift&15])
			}
		}
	}
	return append(b, '>')
}

// writeInfo writes the information dictionary and returns its object number.
func (f *file) writeInfo(doc Document) int {
	b := []byte("<<")
	for _, e := range []struct{ key, text string }{
		{"Title", doc.Title}, {"Author", doc.Author}, {"Subject", doc.Subject}, {"Keywords", doc.Keywords},
		{"Creator", doc.Creator}, {"Producer", doc.Producer},
	} {
		if e.text != "" {
			b = fmt.Appendf(b, "/%s%s", e.key, appendText(nil, e.text))
		}
	}
	if !doc.Date.IsZero() {
		stamp := doc.Date.UTC().Format("D:20060102150405Z")
		b = fmt.Appendf(b, "/CreationDate(%s)/ModDate(%s)", stamp, stamp)
	}
	n := f.reserve()
	f.put(n, ownBody, append(b, ">>"...))
	return n
}

// writeMetadata writes the same facts as XMP and returns the object number. The stream is not compressed, so that programs that do
// not parse PDF can find it. Source: ISO 16684-1 and ISO 32000-1, 14.3.2.
func (f *file) writeMetadata(doc Document) int {
	var b bytes.Buffer
	text := func(before, s, after string) {
		if s == "" {
			return
		}
		b.WriteString(before)
		_ = xml.EscapeText(&b, []byte(s)) // a buffer never returns an error
		b.WriteString(after)
	}
	b.WriteString("<?xpacket begin=\"\ufeff\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n" +
		"<x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n" +
		"<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\"" +
		" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n<dc:format>application/pdf</dc:format>\n")
	text("<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">", doc.Title, "</rdf:li></rdf:Alt></dc:title>\n")
	text("<dc:creator><rdf:Seq><rdf:li>", doc.Author, "</rdf:li></rdf:Seq></dc:creator>\n")
	text("<dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">", doc.Subject, "</rdf:li></rdf:Alt></dc:description>\n")
	text("<dc:language><rdf:Bag><rdf:li>", doc.Lang, "</rdf:li></rdf:Bag></dc:language>\n")
	text("<pdf:Keywords>", doc.Keywords, "</pdf:Keywords>\n")
	text("<pdf:Producer>", doc.Producer, "</pdf:Producer>\n")
	text("<xmp:CreatorTool>", doc.Creator, "</xmp:CreatorTool>\n")
	if !doc.Date.IsZero() {
		stamp := doc.Date.UTC().Format(time.RFC3339)
		text("<xmp:CreateDate>", stamp, "</xmp:CreateDate>\n")
		text("<xmp:ModifyDate>", stamp, "</xmp:ModifyDate>\n")
	}
	b.WriteString("</rdf:Description>\n</rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>")
	n := f.reserve()
	f.putStream(n, "/Type/Metadata/Subtype/XML", b.Bytes())
	return n
}

// writeAnchors writes the named destinations and returns the object number.
func (f *file) writeAnchors(p *painted) int {
	b := append(f.scratch[:0], "<</Names["...)
	for _, name := range slices.Sorted(maps.Keys(p.anchors)) {
		to := p.anchors[name]
		b = appendReference(appendBytes(b, name), "[", p.objects[to.page])
		b = append(appendNumber(append(b, "/XYZ 0 "...), to.y), " null]\n"...)
	}
	f.scratch = append(b, "]>>"...)
	return f.add(f.scratch)
}

// writeOutline writes the bookmarks and returns the object number of their root.
func (f *file) writeOutline(items []*Outline, p *painted) (int, error) {
	root := f.reserve()
	first, last, visible, err := f.writeBookmarks(items, root, p, 0)
	if err != nil {
		return 0, err
	}
	f.put(root, plainBody, fmt.Appendf(nil, "<</Type/Outlines/First %d 0 R/Last %d 0 R/Count %d>>", first, last, visible))
	return root, nil
}

// maxOutline limits the depth of the bookmarks, so that a cycle is an error.
const maxOutline = 12

// writeBookmarks writes one level. It returns the first and last object number and the number of lines shown when the level is open.
func (f *file) writeBookmarks(items []*Outline, parent int, p *painted, depth int) (first, last, visible int, err error) {
	if depth > maxOutline {
		return 0, 0, 0, fmt.Errorf("bookmarks are more than %d deep", maxOutline)
	}
	numbers := make([]int, len(items))
	for i := range items {
		numbers[i] = f.reserve()
	}
	for i, item := range items {
		if item == nil || item.Title == "" {
			return 0, 0, 0, fmt.Errorf("a bookmark has no title")
		}
		if _, ok := p.anchors[item.Anchor]; !ok {
			return 0, 0, 0, fmt.Errorf("bookmark %q leads to anchor %q, which is on no page", item.Title, item.Anchor)
		}
		var room [256]byte // on the stack
		b := appendReference(appendText(append(room[:0], "<</Title"...), item.Title), "/Parent ", parent)
		b = appendBytes(append(b, "/Dest"...), item.Anchor)
		if i > 0 {
			b = appendReference(b, "/Prev ", numbers[i-1])
		}
		if i < len(items)-1 {
			b = appendReference(b, "/Next ", numbers[i+1])
		}
		visible++
		if len(item.Children) > 0 {
			from, to, below, err := f.writeBookmarks(item.Children, numbers[i], p, depth+1)
			if err != nil {
				return 0, 0, 0, err
			}
			if item.Open {
				visible += below
			} else {
				below = -below // closed: the count is negative
			}
			b = fmt.Appendf(b, "/First %d 0 R/Last %d 0 R/Count %d", from, to, below)
		}
		f.put(numbers[i], plainBody, append(b, ">>"...))
	}
	return numbers[0], numbers[len(numbers)-1], visible, nil
}

// checkDocument checks required fields, and that all texts are valid UTF-8.
func checkDocument(doc Document) error {
	if doc.Lang == "" || doc.Title == "" {
		return fmt.Errorf("a document needs a language and a title")
	}
	for _, s := range []string{doc.Lang, doc.Title, doc.Author, doc.Subject, doc.Keywords, doc.Creator, doc.Producer} {
		if !utf8.ValidString(s) {
			return fmt.Errorf("text %q is not UTF-8", s)
		}
	}
	return nil
}
