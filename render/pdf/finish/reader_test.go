package finish

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// This file reads a finished PDF again, with none of the code that wrote it, and checks the graph of its objects.

type (
	pdfName string
	pdfRef  int
	pdfDict map[string]any
)

// reader is a whole file in memory. Values are float64, string, bool, nil, pdfName, pdfRef, []any and pdfDict.
type reader struct {
	tb      testing.TB
	objects map[int]any
	streams map[int][]byte
	trailer pdfDict
}

// lexer reads values of the whole PDF language, not only gopdf's.
type lexer struct {
	data []byte
	at   int
}

func (l *lexer) fail(format string, args ...any) {
	panic(fmt.Sprintf("at byte %d: %s", l.at, fmt.Sprintf(format, args...)))
}

func (l *lexer) white() {
	for l.at < len(l.data) && strings.IndexByte(" \n\r\t\f\x00", l.data[l.at]) >= 0 {
		l.at++
	}
}

func (l *lexer) take(s string) bool {
	if bytes.HasPrefix(l.data[l.at:], []byte(s)) {
		l.at += len(s)
		return true
	}
	return false
}

var (
	reRef   = regexp.MustCompile(`^(\d+) (\d+) R\b`)
	reWord  = regexp.MustCompile(`^[^\s()<>\[\]{}/%]+`)
	escapes = map[byte]byte{'n': '\n', 'r': '\r', 't': '\t', 'b': '\b', 'f': '\f', '(': '(', ')': ')', '\\': '\\'}
)

func (l *lexer) value() any {
	l.white()
	switch {
	case l.take("<<"):
		d := pdfDict{}
		for l.white(); !l.take(">>"); l.white() {
			key, ok := l.value().(pdfName)
			if _, twice := d[string(key)]; !ok || twice {
				l.fail("key %q", key)
			}
			d[string(key)] = l.value()
		}
		return d
	case l.take("["):
		list := []any{}
		for l.white(); !l.take("]"); l.white() {
			list = append(list, l.value())
		}
		return list
	case l.take("<"):
		hex, rest, _ := bytes.Cut(l.data[l.at:], []byte(">"))
		l.at = len(l.data) - len(rest)
		var s []byte
		for i := 0; i+1 < len(hex); i += 2 {
			b, err := strconv.ParseUint(string(hex[i:i+2]), 16, 8)
			if err != nil {
				l.fail("hex %q", hex)
			}
			s = append(s, byte(b))
		}
		return string(s)
	case l.take("("):
		return l.literal()
	case l.take("/"):
		word := reWord.Find(l.data[l.at:])
		l.at += len(word)
		return pdfName(word)
	}
	if m := reRef.FindSubmatch(l.data[l.at:]); m != nil {
		l.at += len(m[0])
		n, _ := strconv.Atoi(string(m[1]))
		return pdfRef(n)
	}
	word := string(reWord.Find(l.data[l.at:]))
	l.at += len(word)
	switch word {
	case "true", "false":
		return word == "true"
	case "null":
		return nil
	}
	v, err := strconv.ParseFloat(word, 64)
	if err != nil {
		l.fail("word %q", word)
	}
	return v
}

func (l *lexer) literal() string {
	var s []byte
	for depth := 1; ; l.at++ {
		c := l.data[l.at]
		switch {
		case c == '\\' && l.data[l.at+1] >= '0' && l.data[l.at+1] <= '7':
			v, _ := strconv.ParseUint(string(l.data[l.at+1:l.at+4]), 8, 8)
			s = append(s, byte(v))
			l.at += 3
			continue
		case c == '\\':
			l.at++
			s = append(s, escapes[l.data[l.at]])
			continue
		case c == '(':
			depth++
		case c == ')':
			if depth--; depth == 0 {
				l.at++
				return string(s)
			}
		}
		s = append(s, c)
	}
}

func inflate(data []byte) []byte {
	r, err := zlib.NewReader(bytes.NewReader(data))
	if err != nil {
		panic(err)
	}
	out, err := io.ReadAll(r)
	if err != nil {
		panic(err)
	}
	return out
}

// object reads "n 0 obj" with its stream at an offset.
func (l *lexer) object(n int) (any, []byte) {
	if !l.take(fmt.Sprintf("%d 0 obj", n)) {
		l.fail("object %d does not start here", n)
	}
	v := l.value()
	l.white()
	if !l.take("stream\n") {
		return v, nil
	}
	length := int(v.(pdfDict)["Length"].(float64))
	data := l.data[l.at : l.at+length]
	l.at += length
	if !l.take("\nendstream\nendobj\n") {
		l.fail("stream %d does not end here", n)
	}
	// A font program or a picture is passed on as gopdf wrote it.
	if d := v.(pdfDict); d["Filter"] == pdfName("FlateDecode") && d["Length1"] == nil && d["Subtype"] != pdfName("Image") {
		data = inflate(data)
	}
	return v, data
}

// read opens a finished PDF by its cross-reference stream.
func read(tb testing.TB, data []byte) *reader {
	tb.Helper()
	defer func() {
		if r := recover(); r != nil {
			tb.Helper()
			tb.Fatalf("file cannot be read: %v", r)
		}
	}()
	r := &reader{tb: tb, objects: map[int]any{}, streams: map[int][]byte{}}
	at := bytes.LastIndex(data, []byte("startxref\n"))
	var start int
	if _, err := fmt.Sscanf(string(data[at:]), "startxref\n%d\n%%%%EOF\n", &start); err != nil {
		tb.Fatal(err)
	}
	number, _, _ := bytes.Cut(data[start:], []byte(" "))
	self, _ := strconv.Atoi(string(number))
	v, table := (&lexer{data, start}).object(self)
	r.trailer = v.(pdfDict)
	rows := int(r.trailer["Size"].(float64))
	if len(table) != rows*8 {
		tb.Fatalf("cross-reference has %d bytes for %d rows", len(table), rows)
	}
	above := make([]byte, 7)
	type packed struct{ container, index int }
	members := map[int]packed{}
	for n := range rows {
		row := table[n*8 : n*8+8]
		if row[0] != 2 {
			tb.Fatalf("row filter %d", row[0])
		}
		for i := range above {
			above[i] += row[1+i]
		}
		field := int(above[1])<<24 | int(above[2])<<16 | int(above[3])<<8 | int(above[4])
		switch above[0] {
		case 1:
			v, stream := (&lexer{data, field}).object(n)
			r.objects[n], r.streams[n] = v, stream
		case 2:
			members[n] = packed{field, int(above[5])<<8 | int(above[6])}
		}
	}
	for n, m := range members {
		stream, head := r.streams[m.container], r.objects[m.container].(pdfDict)
		index := &lexer{data: stream}
		for range m.index {
			index.value()
			index.value()
		}
		if got := index.value(); got != float64(n) {
			tb.Fatalf("object stream %d holds %v where %d should be", m.container, got, n)
		}
		r.objects[n] = (&lexer{stream, int(head["First"].(float64)) + int(index.value().(float64))}).value()
	}
	return r
}

// get follows a reference.
func (r *reader) get(v any) any {
	if ref, ok := v.(pdfRef); ok {
		o, ok := r.objects[int(ref)]
		if !ok {
			r.tb.Errorf("reference to object %d, which is not there", ref)
		}
		return o
	}
	return v
}

func (r *reader) dict(v any) pdfDict {
	d, _ := r.get(v).(pdfDict)
	return d
}

func (r *reader) list(v any) []any {
	if v == nil {
		return nil
	}
	l, ok := r.get(v).([]any)
	if !ok {
		return []any{v}
	}
	return l
}

// checkReferences requires that each reference leads to an object and that each object is referred to.
func (r *reader) checkReferences() {
	reached := map[int]bool{}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case pdfRef:
			if !reached[int(v)] {
				reached[int(v)] = true
				walk(r.get(v))
			}
		case []any:
			for _, x := range v {
				walk(x)
			}
		case pdfDict:
			for _, x := range v {
				walk(x)
			}
		}
	}
	walk(r.trailer["Root"])
	walk(r.trailer["Info"])
	for n, o := range r.objects {
		if d, _ := o.(pdfDict); !reached[n] && d["Type"] != pdfName("ObjStm") && d["Type"] != pdfName("XRef") {
			r.tb.Errorf("nothing leads to object %d: %v", n, o)
		}
	}
}

var reContent = regexp.MustCompile(`(?m)^(?:/(\w+)<<(?:/MCID (\d+))?.*>>BDC|(EMC)|.*\b(TJ|S|s|f|f\*|B|b|Do))$`)

// checkTags requires that pages, structure tree and parent tree agree in both directions, and returns the roles in reading order.
func (r *reader) checkTags() []string {
	root := r.dict(r.dict(r.trailer["Root"])["StructTreeRoot"])
	parents := map[int]any{}
	nums := r.list(r.dict(root["ParentTree"])["Nums"])
	last := -1
	for i := 0; i < len(nums); i += 2 {
		key := int(nums[i].(float64))
		if key <= last {
			r.tb.Errorf("parent tree is not sorted at %d", key)
		}
		last = key
		parents[key] = nums[i+1]
	}
	if next := root["ParentTreeNextKey"]; next != float64(last+1) {
		r.tb.Errorf("next key %v after %d", next, last)
	}

	// What the tree says: owner of each piece and of each link.
	type content struct {
		page pdfRef
		id   int
	}
	pieces, links := map[content]pdfRef{}, map[pdfRef]pdfRef{}
	var roles []string
	var walk func(ref, parent pdfRef)
	walk = func(ref, parent pdfRef) {
		e := r.dict(ref)
		if e["P"] != parent {
			r.tb.Errorf("element %d has parent %v, its parent is %d", ref, e["P"], parent)
		}
		roles = append(roles, string(e["S"].(pdfName)))
		for _, k := range r.list(e["K"]) {
			switch k := k.(type) {
			case float64:
				pieces[content{e["Pg"].(pdfRef), int(k)}] = ref
			case pdfRef:
				walk(k, ref)
			case pdfDict:
				if k["Type"] == pdfName("OBJR") {
					links[k["Obj"].(pdfRef)] = ref
					continue
				}
				pieces[content{k["Pg"].(pdfRef), int(k["MCID"].(float64))}] = ref
			}
		}
	}
	rootRef := r.dict(r.trailer["Root"])["StructTreeRoot"].(pdfRef)
	walk(root["K"].(pdfRef), rootRef)

	// What the pages say.
	found := 0
	for i, kid := range r.list(r.dict(r.dict(r.trailer["Root"])["Pages"])["Kids"]) {
		ref := kid.(pdfRef)
		page := r.dict(ref)
		if page["Tabs"] != pdfName("S") {
			r.tb.Errorf("page %d: tab order %v", i+1, page["Tabs"])
		}
		owners := r.list(parents[int(page["StructParents"].(float64))])
		open, next := "", 0
		for _, m := range reContent.FindAllStringSubmatch(string(r.streams[int(page["Contents"].(pdfRef))]), -1) {
			switch {
			case m[1] != "" && open != "":
				r.tb.Errorf("page %d: %s inside %s", i+1, m[1], open)
			case m[1] == "Artifact":
				open = m[1]
			case m[1] != "":
				open = m[1]
				id, _ := strconv.Atoi(m[2])
				owner := pieces[content{ref, id}]
				if id != next || id >= len(owners) || owners[id] != owner || r.dict(owner)["S"] != pdfName(m[1]) {
					r.tb.Errorf("page %d: piece %d (%s) is out of order or has not the owner it should", i+1, id, m[1])
				}
				next++
				found++
			case m[3] != "":
				open = ""
			case open == "":
				r.tb.Errorf("page %d: %s outside of any mark", i+1, m[0])
			}
		}
		if next != len(owners) {
			r.tb.Errorf("page %d has %d pieces, the parent tree %d", i+1, next, len(owners))
		}
		for _, a := range r.list(page["Annots"]) {
			link := r.dict(a)
			owner := links[a.(pdfRef)]
			if parents[int(link["StructParent"].(float64))] != owner || r.dict(owner)["S"] != pdfName("Link") || link["Contents"] == "" {
				r.tb.Errorf("page %d: link %v is not tied to a Link element", i+1, a)
			}
			delete(links, a.(pdfRef))
			if d, ok := link["Dest"].(string); ok && r.anchors()[d] == nil {
				r.tb.Errorf("page %d: link leads to %q", i+1, d)
			}
		}
	}
	if found != len(pieces) || len(links) != 0 {
		r.tb.Errorf("%d pieces on pages, %d in the tree; %d links on no page", found, len(pieces), len(links))
	}
	return roles
}

// anchors returns the named places.
func (r *reader) anchors() map[string][]any {
	names := map[string][]any{}
	list := r.list(r.dict(r.dict(r.dict(r.trailer["Root"])["Names"])["Dests"])["Names"])
	var order []string
	for i := 0; i < len(list); i += 2 {
		order = append(order, list[i].(string))
		names[list[i].(string)] = r.list(list[i+1])
	}
	if !slices.IsSorted(order) || len(order) != len(names) {
		r.tb.Errorf("names are not sorted or there twice: %q", order)
	}
	return names
}

// checkOutline walks the bookmarks forwards, comparing what each says about its neighbours, and returns the titles.
func (r *reader) checkOutline() []string {
	var titles []string
	var level func(parent pdfRef) int
	level = func(parent pdfRef) (visible int) {
		p := r.dict(parent)
		var prev any
		at := p["First"]
		for at != nil {
			item := r.dict(at)
			if item["Parent"] != parent || item["Prev"] != prev {
				r.tb.Errorf("bookmark %v: parent %v, previous %v", at, item["Parent"], item["Prev"])
			}
			titles = append(titles, item["Title"].(string))
			if r.anchors()[item["Dest"].(string)] == nil {
				r.tb.Errorf("bookmark %v leads to %v", at, item["Dest"])
			}
			visible++
			if item["First"] != nil {
				below := level(at.(pdfRef))
				count := int(item["Count"].(float64))
				if count != below && count != -below {
					r.tb.Errorf("bookmark %v counts %d, has %d", at, count, below)
				}
				visible += max(count, 0)
			}
			prev, at = at, item["Next"]
		}
		if p["Last"] != prev {
			r.tb.Errorf("last bookmark %v, should be %v", p["Last"], prev)
		}
		return visible
	}
	root := r.dict(r.trailer["Root"])["Outlines"].(pdfRef)
	if n := level(root); r.dict(root)["Count"] != float64(n) {
		r.tb.Errorf("outline counts %v, shows %d", r.dict(root)["Count"], n)
	}
	return titles
}

func TestObjectGraphIsSound(t *testing.T) {
	pdf, marks, doc := sample(t, 5)
	r := read(t, finished(t, pdf, marks, doc))
	r.checkReferences()
	roles := r.checkTags()
	for _, want := range []string{"Document", "TOCI", "Link", "LBody", "TH", "TD", "Figure", "Caption", "Note"} {
		if !slices.Contains(roles, want) {
			t.Errorf("no %s in the tree", want)
		}
	}
	titles := r.checkOutline()
	if want := "Contents|\xfe\xff"; !strings.HasPrefix(strings.Join(titles, "|"), want) || len(titles) != 2+2*5 {
		t.Errorf("titles %q", titles)
	}
	root := r.dict(r.trailer["Root"])
	if root["Lang"] != "en-US" || r.dict(root["MarkInfo"])["Marked"] != true || r.dict(root["ViewerPreferences"])["DisplayDocTitle"] != true {
		t.Errorf("catalog %v", root)
	}
	xmp := string(r.streams[int(root["Metadata"].(pdfRef))])
	for _, want := range []string{"A &lt;test&gt; &amp; nothing else", "Owner’s guide (sample)", "2026-03-04T05:06:07Z", ">en-US<"} {
		if !strings.Contains(xmp, want) {
			t.Errorf("metadata lacks %q", want)
		}
	}
	if got := slices.Sorted(maps.Keys(r.anchors())); len(got) != 11 || got[0] != "chapter-1" {
		t.Errorf("anchors %q", got)
	}
}

// Anchors and links lie where they were put, counted from the other edge.
func TestPlacesAreTurnedOver(t *testing.T) {
	pdf, marks := newSample(t)
	p := &painter{TB: t, GoPdf: pdf, marks: marks}
	p.page(1)
	link := &Element{Role: RoleLink}
	marks.Begin(link)
	p.words("Regular", 10, 72, "here ")
	marks.End()
	marks.LinkTo(link, Box{X: 10, Y: 20, W: 30, H: 40}, "a", "here")
	marks.Anchor("a", 92)
	doc := Document{Lang: "en", Title: "t", Root: &Element{Role: RoleDocument, Children: []*Element{{Role: RoleP, Children: []*Element{link}}}}}
	r := read(t, finished(t, pdf, marks, doc))
	if got := r.anchors()["a"]; fmt.Sprint(got[2:]) != "[0 700 <nil>]" {
		t.Errorf("anchor %v", got)
	}
	page := r.dict(r.list(r.dict(r.dict(r.trailer["Root"])["Pages"])["Kids"])[0])
	if got := r.dict(r.list(page["Annots"])[0])["Rect"]; fmt.Sprint(got) != "[10 732 40 772]" {
		t.Errorf("link %v", got)
	}
}
