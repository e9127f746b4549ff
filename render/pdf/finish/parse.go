package finish

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// The objects gopdf always writes at these numbers.
const (
	catalogObject   = 1
	pagesObject     = 2
	outlinesObject  = 3
	resourcesObject = 4
)

// source is a gopdf document split into objects. Nested values stay bytes: only what must be changed is parsed.
type source struct {
	objects []object // by object number; 0 is not used
	page    int      // object number of the only page
	claimed []bool   // by object number: already identified as part of a page or a font, so that no object has two uses
}

// claim marks objects as used and reports whether all exist and none was claimed before.
func (src *source) claim(numbers ...int) bool {
	for _, n := range numbers {
		if n < 1 || n >= len(src.objects) || src.claimed[n] {
			return false
		}
		src.claimed[n] = true
	}
	return true
}

// object is a dictionary, possibly with a stream.
type object struct {
	dict   dict
	stream []byte // nil if there is none
}

// dict keeps entries in the order in which they were written, so that output does not depend on map order.
type dict []entry

type entry struct {
	key   string
	value []byte
}

func (d dict) get(key string) []byte {
	for _, e := range d {
		if e.key == key {
			return e.value
		}
	}
	return nil
}

func (d *dict) set(key, value string) {
	for i, e := range *d {
		if e.key == key {
			(*d)[i].value = []byte(value)
			return
		}
	}
	*d = append(*d, entry{key, []byte(value)})
}

func (d *dict) remove(key string) {
	for i, e := range *d {
		if e.key == key {
			*d = append((*d)[:i], (*d)[i+1:]...)
			return
		}
	}
}

// entries returns the dictionary without its brackets.
func (d dict) entries() string {
	var b []byte
	for _, e := range d {
		b = append(append(append(b, '/'), e.key...), ' ')
		b = append(b, e.value...)
	}
	return string(b)
}

// name returns the value of a name entry without its slash, or "" if the entry is missing or not a name.
func (d dict) name(key string) string {
	if v := d.get(key); len(v) > 1 && v[0] == '/' {
		return string(v[1:])
	}
	return ""
}

// ref returns the object number of a single reference, or 0.
func (d dict) ref(key string) int {
	if refs := references(d.get(key)); len(refs) == 1 {
		return refs[0]
	}
	return 0
}

// references parses "[7 0 R 9 0 R]", or one reference without brackets; nil if there is anything else.
func references(value []byte) []int {
	value = bytes.TrimSuffix(bytes.TrimPrefix(value, []byte("[")), []byte("]"))
	fields := bytes.Fields(value)
	if len(fields)%3 != 0 {
		return nil
	}
	refs := make([]int, 0, len(fields)/3)
	for i := 0; i < len(fields); i += 3 {
		n, err := strconv.Atoi(string(fields[i]))
		if err != nil || n < 1 || string(fields[i+1]) != "0" || string(fields[i+2]) != "R" {
			return nil
		}
		refs = append(refs, n)
	}
	return refs
}

// parse splits the document into objects. They fill the file without gaps up to the cross-reference table, so that nothing is overlooked.
func parse(raw []byte) (*source, error) {
	s := &scanner{data: raw, at: bytes.Index(raw, []byte("1 0 obj\n"))}
	if !bytes.HasPrefix(raw, []byte("%PDF-1.7\n")) || s.at < 0 {
		return nil, errors.New("file does not start with %PDF-1.7 and an object")
	}
	src := &source{objects: make([]object, 1)}
	for n := 1; !s.skip("xref\n"); n++ {
		o, err := s.object(n)
		if err != nil {
			return nil, fmt.Errorf("object %d: %w", n, err)
		}
		src.objects = append(src.objects, o)
	}
	table, trailer, _ := bytes.Cut(raw[s.at:], []byte("trailer\n"))
	switch {
	case len(src.objects) <= resourcesObject || !bytes.HasPrefix(table, fmt.Appendf(nil, "0 %d\n", len(src.objects))):
		return nil, errors.New("cross-reference table is not as expected")
	case !bytes.Contains(trailer, []byte("/Root 1 0 R\n")):
		return nil, errors.New("trailer is not as expected")
	case bytes.Contains(trailer, []byte("/Encrypt")) || bytes.Contains(trailer, []byte("/Info")):
		return nil, errors.New("trailer has protection or information, which must not be set through gopdf")
	}
	src.claimed = make([]bool, len(src.objects))
	return src, src.findPage()
}

// findPage checks the objects with fixed numbers, and finds the page.
func (src *source) findPage() error {
	catalog, pages, outlines := src.objects[catalogObject].dict, src.objects[pagesObject].dict, src.objects[outlinesObject].dict
	if catalog.name("Type") != "Catalog" || pages.name("Type") != "Pages" || outlines.name("Type") != "Outlines" {
		return errors.New("objects 1 to 3 are not catalog, pages and outlines")
	}
	if string(outlines.get("Count")) != "0" {
		return errors.New("the outline must come from the document, not from gopdf")
	}
	if src.page = pages.ref("Kids"); string(pages.get("Count")) != "1" {
		return errors.New("there is not exactly one page")
	}
	if !src.claim(catalogObject, pagesObject, outlinesObject, resourcesObject, src.page) || src.objects[src.page].dict.name("Type") != "Page" {
		return errors.New("what is listed as the page is none")
	}
	page := src.objects[src.page].dict
	if page.get("Annots") != nil {
		return errors.New("the page has links made through gopdf; they must be made through Pages")
	}
	if c := page.ref("Contents"); !src.claim(c) || src.objects[c].stream == nil || src.objects[c].dict.get("Filter") != nil {
		return errors.New("the page has not exactly one uncompressed content stream of its own")
	}
	return nil
}

// scanner scans PDF syntax.
type scanner struct {
	data []byte
	at   int
}

// maxDepth limits nesting; gopdf nests three deep.
const maxDepth = 16

var errValue = errors.New("value is not as expected")

func (s *scanner) space() {
	for s.at < len(s.data) && isSpace(s.data[s.at]) {
		s.at++
	}
}

func isSpace(c byte) bool {
	return c == ' ' || c == '\n' || c == '\t' || c == '\r' || c == '\f' || c == 0
}

func isDelimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]/%"), c) >= 0 }

// skip skips a literal text and reports whether it was there.
func (s *scanner) skip(text string) bool {
	if !bytes.HasPrefix(s.data[s.at:], []byte(text)) {
		return false
	}
	s.at += len(text)
	return true
}

func (s *scanner) object(n int) (object, error) {
	var o object
	if !s.skip(strconv.Itoa(n) + " 0 obj\n") {
		return o, errors.New("does not start as expected")
	}
	var err error
	if o.dict, err = s.dict(); err != nil {
		return o, err
	}
	s.space()
	if s.skip("stream\n") {
		length, err := strconv.Atoi(string(o.dict.get("Length")))
		if err != nil || length < 0 || length > len(s.data)-s.at {
			return o, errors.New("stream length is not as expected")
		}
		o.stream = s.data[s.at : s.at+length : s.at+length]
		s.at += length
		s.skip("\n")
		if !s.skip("endstream\n") {
			return o, errors.New("stream does not end where its length says")
		}
		o.dict.remove("Length")
	}
	if !s.skip("endobj\n\n") {
		return o, errors.New("does not end as expected")
	}
	return o, nil
}

// dict parses a dictionary without parsing its values.
func (s *scanner) dict() (dict, error) {
	if !s.skip("<<") {
		return nil, errors.New("not a dictionary")
	}
	var d dict
	for {
		s.space()
		if s.skip(">>") {
			return d, nil
		}
		start := s.at
		if !s.skip("/") {
			return nil, errValue
		}
		s.regular()
		key := string(s.data[start+1 : s.at])
		s.space()
		start = s.at
		if err := s.value(0); err != nil {
			return nil, fmt.Errorf("entry %q: %w", key, err)
		}
		if key == "" || d.get(key) != nil {
			return nil, fmt.Errorf("entry %q is empty or there twice", key)
		}
		d = append(d, entry{key, s.data[start:s.at:s.at]})
	}
}

// regular skips the characters of a name, number or keyword.
func (s *scanner) regular() {
	for s.at < len(s.data) && !isSpace(s.data[s.at]) && !isDelimiter(s.data[s.at]) {
		s.at++
	}
}

// value skips one value of any type.
func (s *scanner) value(depth int) error {
	if depth > maxDepth || s.at >= len(s.data) {
		return errValue
	}
	switch {
	case s.skip("<<"):
		return s.pairs(depth)
	case s.skip("["):
		return s.items(depth)
	case s.skip("<"):
		return s.until('>')
	case s.skip("("):
		return s.text()
	case s.skip("/"):
		s.regular()
		return nil
	}
	start := s.at
	s.regular()
	word := s.data[start:s.at]
	if _, err := strconv.ParseFloat(string(word), 64); err == nil {
		s.reference()
		return nil
	}
	if w := string(word); w == "true" || w == "false" || w == "null" {
		return nil
	}
	return errValue
}

// reference skips the " 0 R" that turns a number into a reference, if it is there.
func (s *scanner) reference() {
	const tail = " 0 R"
	after := s.at + len(tail)
	if bytes.HasPrefix(s.data[s.at:], []byte(tail)) && (after == len(s.data) || isSpace(s.data[after]) || isDelimiter(s.data[after])) {
		s.at = after
	}
}

// pairs skips the rest of a dictionary inside a value: names, each with its value.
func (s *scanner) pairs(depth int) error {
	for {
		s.space()
		if s.skip(">>") {
			return nil
		}
		start := s.at
		if s.skip("/"); s.at == start {
			return errValue
		}
		if s.regular(); s.at == start+1 {
			return errValue
		}
		s.space()
		if err := s.value(depth + 1); err != nil {
			return err
		}
	}
}

// items skips the rest of an array.
func (s *scanner) items(depth int) error {
	for {
		s.space()
		if s.skip("]") {
			return nil
		}
		if err := s.value(depth + 1); err != nil {
			return err
		}
	}
}

func (s *scanner) until(end byte) error {
	i := bytes.IndexByte(s.data[s.at:], end)
	if i < 0 {
		return errValue
	}
	s.at += i + 1
	return nil
}

// text skips the rest of a literal string, in which parentheses are balanced or escaped.
func (s *scanner) text() error {
	for open := 1; s.at < len(s.data); s.at++ {
		switch s.data[s.at] {
		case '\\':
			s.at++
		case '(':
			open++
		case ')':
			if open--; open == 0 {
				s.at++
				return nil
			}
		}
	}
	s.at = len(s.data)
	return errValue
}
