package finish

import (
	"fmt"
)

// Finish turns the bytes of an uncompressed gopdf document and the marks made while painting it into the PDF that is delivered.
// It is an error when the bytes are not in the dialect described in the package comment, when marks are missing or out of order,
// when content lies outside every mark, or when the structure tree is not well formed.
func Finish(raw []byte, marks *Marks, doc Document) ([]byte, error) {
	out, err := finish(raw, marks, doc)
	if err != nil {
		return nil, fmt.Errorf("finishing the PDF: %w", err)
	}
	return out, nil
}

func finish(raw []byte, marks *Marks, doc Document) ([]byte, error) {
	if err := checkDocument(doc); err != nil {
		return nil, err
	}
	src, err := parse(raw)
	if err != nil {
		return nil, err
	}
	p, contents, err := readPages(src, marks)
	if err != nil {
		return nil, err
	}
	if err := p.checkLinks(); err != nil {
		return nil, err
	}
	var t *tree
	if doc.Root != nil || p.tagged() {
		if t, err = newTree(doc.Root, p); err != nil {
			return nil, err
		}
	}

	f := newFile(len(src.objects))
	f.drop(outlinesObject)
	if err := f.typefaces(src); err != nil {
		return nil, err
	}
	structure := ""
	if t != nil {
		structure = fmt.Sprintf("/MarkInfo<</Marked true>>/StructTreeRoot %d 0 R", f.writeTree(t, p, src))
	}
	if err := f.writePages(src, p, contents, t != nil); err != nil {
		return nil, err
	}
	if err := f.writeRest(src); err != nil {
		return nil, err
	}

	catalog := fmt.Appendf(nil, "<</Type/Catalog/Pages %d 0 R/Lang%s/ViewerPreferences<</DisplayDocTitle true>>%s/Metadata %d 0 R",
		pagesObject, textString(doc.Lang), structure, f.writeMetadata(doc))
	if len(p.anchors) > 0 {
		catalog = fmt.Appendf(catalog, "/Names<</Dests %d 0 R>>", f.writeAnchors(p, src))
	}
	if len(doc.Outline) > 0 {
		outline, err := f.writeOutline(doc.Outline, p)
		if err != nil {
			return nil, err
		}
		catalog = fmt.Appendf(catalog, "/Outlines %d 0 R/PageMode/UseOutlines", outline)
	}
	f.put(catalogObject, append(catalog, ">>"...))
	return f.bytes(catalogObject, f.writeInfo(doc))
}

// tagged tells whether anything painted belongs to an element.
func (p *painted) tagged() bool { return len(p.pieces)+len(p.all) > 0 }

// checkLinks requires that every link leads somewhere.
func (p *painted) checkLinks() error {
	for _, l := range p.all {
		if l.op == opLinkTo {
			if _, ok := p.anchors[l.name]; !ok {
				return fmt.Errorf("page %d: link leads to anchor %q, which is on no page", l.page+1, l.name)
			}
			continue
		}
		for _, c := range []byte(l.name) {
			if c <= ' ' || c > '~' {
				return fmt.Errorf("page %d: address %q is not plain ASCII", l.page+1, l.name)
			}
		}
	}
	return nil
}

// writePages writes each page with its links, and its content without the marks.
func (f *file) writePages(src *source, p *painted, contents [][]byte, tagged bool) error {
	annotations := make([][]byte, len(src.pages))
	for _, l := range p.all {
		annotations[l.page] = fmt.Appendf(annotations[l.page], "%d 0 R ", l.object)
	}
	packed, err := deflateAll(contents)
	if err != nil {
		return err
	}
	for i, n := range src.pages {
		page := &src.objects[n].dict
		f.putPacked(page.ref("Contents"), "", packed[i])
		if tagged {
			page.set("StructParents", fmt.Sprint(i))
			page.set("Tabs", "/S")
		}
		if annotations[i] != nil {
			page.set("Annots", "["+string(annotations[i])+"]")
		}
	}
	return nil
}

// writeRest writes the objects of the source that nothing else has written: pages, fonts, pictures.
func (f *file) writeRest(src *source) error {
	for n := 1; n < len(src.objects); n++ {
		o := src.objects[n]
		if f.bodies[n] != nil || o.dict == nil || n == catalogObject || n == outlinesObject {
			continue
		}
		switch {
		case o.stream == nil:
			f.put(n, []byte("<<"+o.dict.entries()+">>"))
		case o.dict.get("Filter") == nil:
			if err := f.putDeflated(n, o.dict.entries(), o.stream); err != nil {
				return err
			}
		default:
			f.putStream(n, o.dict.entries(), o.stream)
		}
	}
	return nil
}
