package finish

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
)

// Kit is the fonts and pictures of a document, ready to be written. It may be shared by documents and goroutines.
type Kit struct {
	file      *file              // contains them; the objects that depend on the document are free
	resources dict               // their resource names
	fonts     map[int]characters // by number of the font, from 1
	pictures  int
}

// pictureName plus a number from 0 is the resource name of a picture.
const pictureName = "/P"

// NewKit extracts fonts and pictures from an uncompressed gopdf document with one page, whatever is painted there: fonts, whose
// numbers are given in the order in which they were added, with the characters that were measured, and pictures in the order in which they were painted.
// It returns an error if the bytes are not as described in the package comment.
func NewKit(raw []byte, fonts []int) (*Kit, error) {
	k, err := newKit(raw, fonts)
	if err != nil {
		return nil, fmt.Errorf("fonts and pictures of the PDF: %w", err)
	}
	return k, nil
}

func newKit(raw []byte, fonts []int) (*Kit, error) {
	src, err := parse(raw)
	if err != nil {
		return nil, err
	}
	k := &Kit{file: newFile(len(src.objects)), fonts: map[int]characters{}}
	page := src.objects[src.page].dict
	for _, n := range []int{outlinesObject, src.page, page.ref("Contents")} {
		k.file.drop(n)
		src.objects[n] = object{}
	}
	if err := k.typefaces(src, fonts); err != nil {
		return nil, err
	}
	if err := k.namePictures(&src.objects[resourcesObject].dict); err != nil {
		return nil, err
	}
	k.resources, src.objects[resourcesObject] = src.objects[resourcesObject].dict, object{}
	k.file.writeRest(src)
	return k, nil
}

// writeResources writes the resource dictionary of fonts, pictures and forms. A page positions a form; the form's box has room for
// any text on one line.
func (f *file) writeResources(p *Pages, kit *Kit) {
	resources := slices.Clone(kit.resources)
	named := bytes.TrimSuffix(slices.Clip(resources.get("XObject")), []byte(">>"))
	entries := fmt.Sprintf("/Type/XObject/Subtype/Form/BBox[%.0f -100 %.0f 100]/Resources<</Font %s>>", -p.width, p.width, resources.get("Font"))
	objects := make([]int, len(p.forms))
	for i := range objects {
		objects[i] = f.reserve()
		named = fmt.Appendf(slices.Clip(named), "%s%d %d 0 R", formName, i, objects[i])
	}
	for form, i := range p.forms {
		f.putDeflated(objects[i], entries, []byte(form))
	}
	resources.set("XObject", string(named)+">>")
	f.put(resourcesObject, plainBody, []byte("<<"+resources.entries()+">>"))
}

// namePictures renames the pictures to the names that pages use.
func (k *Kit) namePictures(resources *dict) error {
	pictures, err := (&scanner{data: resources.get("XObject")}).dict()
	if err != nil {
		return fmt.Errorf("list of pictures: %w", err)
	}
	named := []byte("<<")
	for i, e := range pictures {
		named = append(strconv.AppendInt(append(named, pictureName...), int64(i), 10), ' ')
		named = append(named, e.value...)
	}
	k.pictures = len(pictures)
	resources.set("XObject", string(append(named, ">>"...)))
	return nil
}

// covers returns an error if a kit lacks a picture or glyph that pages use: a missing glyph would be a gap in a sentence.
func (k *Kit) covers(p *Pages) error {
	if p.pictures > k.pictures {
		return fmt.Errorf("a page has picture %d of %d", p.pictures, k.pictures)
	}
	for font, used := range p.used {
		if has := k.fonts[font]; has.lacks(used) {
			return fmt.Errorf("a page has a glyph of font %d that its file lacks", font)
		}
	}
	return nil
}
