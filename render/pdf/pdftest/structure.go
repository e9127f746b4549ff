package pdftest

// Element is a node of the structure tree, as a screen reader sees it.
type Element struct {
	Role, Alt string
	Kids      []any // *Element, or string for painted text
}

// Structure returns the structure of a tagged file; nil if there is none.
func (f *File) Structure() *Element {
	f.tb.Helper()
	defer f.unreadable()
	root := f.Dict(f.Dict(f.Trailer["Root"])["StructTreeRoot"])
	if root == nil {
		return nil
	}
	pieces := map[Ref]map[int]string{}
	pages := f.Pages()
	for i, ref := range f.pageRefs() {
		pieces[ref] = pages[i].pieces
	}
	var read func(v any) *Element
	read = func(v any) *Element {
		d := f.Dict(v)
		e := &Element{Role: string(d["S"].(Name)), Alt: Text(d["Alt"])}
		for _, k := range f.List(d["K"]) {
			switch k := k.(type) {
			case float64:
				e.Kids = append(e.Kids, pieces[d["Pg"].(Ref)][int(k)])
			case Ref:
				e.Kids = append(e.Kids, read(k))
			case Dict:
				if id, ok := k["MCID"].(float64); ok { // otherwise it is a link
					e.Kids = append(e.Kids, pieces[k["Pg"].(Ref)][int(id)])
				}
			}
		}
		return e
	}
	return read(f.List(root["K"])[0])
}

// Properties returns the document information, such as Title and Author.
func (f *File) Properties() map[string]string {
	all := map[string]string{}
	for key, v := range f.Dict(f.Trailer["Info"]) {
		all[key] = Text(v)
	}
	return all
}

// Tagged reports whether the file is marked as tagged.
func (f *File) Tagged() bool {
	return f.Dict(f.Dict(f.Trailer["Root"])["MarkInfo"])["Marked"] == true
}

// Font is a font of a file.
type Font struct {
	Name                       string // with the prefix of a subset
	Embedded, Subset, Readable bool   // its program is in the file; it has the prefix of a subset; its glyphs are mapped to characters
}

// Fonts returns the fonts of a file.
func (f *File) Fonts() (all []Font) {
	for _, o := range f.Objects {
		d, _ := o.(Dict)
		if d["Type"] != Name("Font") || d["DescendantFonts"] == nil {
			continue
		}
		inner := f.Dict(f.List(d["DescendantFonts"])[0])
		name := string(d["BaseFont"].(Name))
		all = append(all, Font{
			Name: name, Embedded: f.Dict(inner["FontDescriptor"])["FontFile2"] != nil, Subset: subsetMark.MatchString(name), Readable: d["ToUnicode"] != nil,
		})
	}
	return all
}
