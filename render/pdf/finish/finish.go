package finish

import (
	"errors"
	"fmt"
)

// Finish returns the finished file, made from the pages and a kit with their fonts and pictures. The Pages must not be used afterwards.
// It returns an error if painting failed, if the kit lacks something, or if the structure tree is not well formed.
func (p *Pages) Finish(kit *Kit, doc Document) ([]byte, error) {
	out, err := p.finish(kit, doc)
	if err != nil {
		return nil, fmt.Errorf("finishing the PDF: %w", err)
	}
	return out, nil
}

func (p *Pages) finish(kit *Kit, doc Document) ([]byte, error) {
	if err := checkDocument(doc); err != nil {
		return nil, err
	}
	if err := p.Pack(); err != nil {
		return nil, err
	}
	if p.count == 0 {
		return nil, errors.New("there is no page")
	}
	if err := kit.covers(p); err != nil {
		return nil, err
	}
	if err := p.checkLinks(); err != nil {
		return nil, err
	}

	f := &p.file
	f.copyOf(kit.file)
	f.writeResources(p, kit)
	for range p.count {
		p.objects = append(p.objects, f.reserve())
	}
	structure, tagged := "", doc.Root != nil || len(p.owners) > 1
	if tagged {
		tree, err := f.writeTree(doc.Root, &p.painted)
		if err != nil {
			return nil, err
		}
		structure = fmt.Sprintf("/MarkInfo<</Marked true>>/StructTreeRoot %d 0 R", tree)
	}
	f.writePages(p, tagged)

	catalog := fmt.Appendf(nil, "<</Type/Catalog/Pages %d 0 R/Lang%s/ViewerPreferences<</DisplayDocTitle true>>%s/Metadata %d 0 R",
		pagesObject, appendText(nil, doc.Lang), structure, f.writeMetadata(doc))
	if len(p.anchors) > 0 {
		catalog = fmt.Appendf(catalog, "/Names<</Dests %d 0 R>>", f.writeAnchors(&p.painted))
	}
	if len(doc.Outline) > 0 {
		outline, err := f.writeOutline(doc.Outline, &p.painted)
		if err != nil {
			return nil, err
		}
		catalog = fmt.Appendf(catalog, "/Outlines %d 0 R/PageMode/UseOutlines", outline)
	}
	f.put(catalogObject, plainBody, append(catalog, ">>"...))
	out, err := f.bytes(catalogObject, f.writeInfo(doc))
	p.release(&finished)
	return out, err
}

// checkLinks returns an error if a link has no target.
func (p *painted) checkLinks() error {
	for _, l := range p.links {
		if l.inside {
			if _, ok := p.anchors[l.to]; !ok {
				return fmt.Errorf("page %d: link leads to anchor %q, which is on no page", l.page+1, l.to)
			}
			continue
		}
		for _, c := range []byte(l.to) {
			if c <= ' ' || c > '~' {
				return fmt.Errorf("page %d: address %q is not plain ASCII", l.page+1, l.to)
			}
		}
	}
	return nil
}

// writePages writes the page objects with their links and content.
func (f *file) writePages(p *Pages, tagged bool) {
	annotations := make([][]byte, p.count)
	for _, l := range p.links {
		annotations[l.page] = append(appendReference(annotations[l.page], "", l.object), ' ')
	}
	kids := []byte("[")
	for i, n := range p.objects {
		content := f.reserve()
		f.putPacked(content, "", p.packed[i])
		page := fmt.Appendf(nil, "<</Type/Page/Parent %d 0 R/Contents %d 0 R", pagesObject, content)
		if tagged {
			page = fmt.Appendf(page, "/StructParents %d/Tabs/S", i)
		}
		if annotations[i] != nil {
			page = fmt.Appendf(page, "/Annots[%s]", annotations[i])
		}
		f.put(n, plainBody, append(page, ">>"...))
		kids = append(appendReference(kids, "", n), ' ')
	}
	box := append(appendNumber(append(appendNumber([]byte("[0 0 "), p.width), ' '), p.height), ']')
	f.put(pagesObject, plainBody, fmt.Appendf(nil, "<</Type/Pages/Kids%s]/Count %d/Resources %d 0 R/MediaBox%s>>", kids, p.count, resourcesObject, box))
}

// writeRest writes the remaining objects of the source: fonts and pictures.
func (f *file) writeRest(src *source) {
	for n := 1; n < len(src.objects); n++ {
		o := src.objects[n]
		if f.bodies[n].kind != noBody || o.dict == nil || n == catalogObject || n == pagesObject {
			continue
		}
		switch {
		case o.stream == nil:
			f.put(n, plainBody, []byte("<<"+o.dict.entries()+">>"))
		case o.dict.get("Filter") == nil:
			f.putDeflated(n, o.dict.entries(), o.stream)
		default:
			f.putStream(n, o.dict.entries(), o.stream)
		}
	}
}
