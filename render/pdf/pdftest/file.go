// Package pdftest parses a finished PDF for tests, with none of the code that wrote
// it: its objects, the text on its pages with positions, its structure, fonts and
// bookmarks. It reads what this project writes (a cross-reference stream, object
// streams, fonts by glyph number) and fails the test at anything else.
package pdftest

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"io"
	"strconv"
	"testing"
)

// Values of a PDF are float64, string, bool, nil, Name, Ref, []any and Dict.
type (
	Name string
	Ref  int
	Dict map[string]any
)

// File is a whole PDF in memory.
type File struct {
	tb      testing.TB
	Objects map[int]any    // by number; for a stream, its dictionary
	Streams map[int][]byte // decompressed, except fonts and pictures
	Trailer Dict
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

// object parses "n 0 obj" with its stream.
func (l *lexer) object(n int) (any, []byte) {
	if !l.take(fmt.Sprintf("%d 0 obj", n)) {
		l.fail("object %d does not start here", n)
	}
	v := l.value()
	l.white()
	if !l.take("stream\n") {
		return v, nil
	}
	length := int(v.(Dict)["Length"].(float64))
	data := l.data[l.at : l.at+length]
	l.at += length
	if !l.take("\nendstream\nendobj\n") {
		l.fail("stream %d does not end here", n)
	}
	// Font programs and pictures are kept as gopdf wrote them.
	if d := v.(Dict); d["Filter"] == Name("FlateDecode") && d["Length1"] == nil && d["Subtype"] != Name("Image") {
		data = inflate(data)
	}
	return v, data
}

// Read parses a finished PDF by its cross-reference stream.
func Read(tb testing.TB, data []byte) *File {
	tb.Helper()
	r := &File{tb: tb, Objects: map[int]any{}, Streams: map[int][]byte{}}
	defer r.unreadable()
	at := bytes.LastIndex(data, []byte("startxref\n"))
	var start int
	if _, err := fmt.Sscanf(string(data[at:]), "startxref\n%d\n%%%%EOF\n", &start); err != nil {
		tb.Fatal(err)
	}
	number, _, _ := bytes.Cut(data[start:], []byte(" "))
	self, _ := strconv.Atoi(string(number))
	v, table := (&lexer{data, start}).object(self)
	r.Trailer = v.(Dict)
	rows := int(r.Trailer["Size"].(float64))
	if len(table) != rows*8 {
		tb.Fatalf("cross-reference has %d bytes for %d rows", len(table), rows)
	}
	above := make([]byte, 7)
	members := map[int][]int{} // numbers of the objects in each object stream
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
			r.Objects[n], r.Streams[n] = v, stream
		case 2:
			if at := int(above[5])<<8 | int(above[6]); at != len(members[field]) {
				tb.Fatalf("object %d is member %d of stream %d, after %d others", n, at, field, len(members[field]))
			}
			members[field] = append(members[field], n)
		}
	}
	for container, numbers := range members {
		stream, head := r.Streams[container], r.Objects[container].(Dict)
		index := &lexer{data: stream}
		for _, n := range numbers {
			if got := index.value(); got != float64(n) {
				tb.Fatalf("object stream %d holds %v where %d should be", container, got, n)
			}
			r.Objects[n] = (&lexer{stream, int(head["First"].(float64)) + int(index.value().(float64))}).value()
		}
	}
	return r
}

// unreadable is deferred; it turns a panic of the lexer into a test failure.
func (r *File) unreadable() {
	if why := recover(); why != nil {
		r.tb.Helper()
		r.tb.Fatalf("the file cannot be read: %v", why)
	}
}

// Get resolves a reference.
func (r *File) Get(v any) any {
	if ref, ok := v.(Ref); ok {
		o, ok := r.Objects[int(ref)]
		if !ok {
			r.tb.Errorf("reference to object %d, which is not there", ref)
		}
		return o
	}
	return v
}

func (r *File) Dict(v any) Dict {
	d, _ := r.Get(v).(Dict)
	return d
}

func (r *File) List(v any) []any {
	if v == nil {
		return nil
	}
	l, ok := r.Get(v).([]any)
	if !ok {
		return []any{v}
	}
	return l
}
