package finish

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"sync"

	"github.com/klauspost/compress/zlib"

	"ownerguide/spec/parallel"
)

// file is the PDF being assembled: object bodies by number, and streams separately.
type file struct {
	bodies  [][]byte // by object number; 0 is not used
	streams map[int][]byte
	own     map[int]bool // objects without a stream whose content is specific to a unit
	free    []int        // numbers of dropped objects, to be reused, lowest first
	memory  []byte       // for bodies
}

func newFile(objects int) *file {
	return &file{bodies: make([][]byte, objects), streams: map[int][]byte{}, own: map[int]bool{}}
}

// drop removes an object of the source; its number is reused.
func (f *file) drop(n int) {
	f.bodies[n] = nil
	f.free = append(f.free, n)
	slices.Sort(f.free)
}

// reserve returns a free object number.
func (f *file) reserve() int {
	if len(f.free) > 0 {
		n := f.free[0]
		f.free = f.free[1:]
		return n
	}
	f.bodies = append(f.bodies, nil)
	return len(f.bodies) - 1
}

func (f *file) put(n int, body []byte) { f.bodies[n] = body }

// putOwn is put for an object specific to a unit, such as one with its serial number. It goes into a separate object stream: if
// pages break alike, the other streams have the same bytes for all units and are compressed once.
func (f *file) putOwn(n int, body []byte) {
	f.put(n, body)
	f.own[n] = true
}

func (f *file) add(body []byte) int {
	n := f.reserve()
	f.put(n, body)
	return n
}

// putStream sets an object with a stream. Entries is the dictionary without brackets and length.
func (f *file) putStream(n int, entries string, data []byte) {
	f.bodies[n] = []byte(entries)
	f.streams[n] = data
}

// putDeflated is putStream for data to be compressed.
func (f *file) putDeflated(n int, entries string, data []byte) {
	f.putPacked(n, entries, deflate(data))
}

// putPacked is putStream for data compressed by [deflate].
func (f *file) putPacked(n int, entries string, packed []byte) {
	f.putStream(n, entries+"/Filter/FlateDecode", packed)
}

// deflateLevel is a compromise: writing a guide takes about a tenth longer than at level 6 and the file is 4 % smaller;
// level 9 takes a third longer for another 1 %.
const deflateLevel = 8

// compressors reuses writers: a new one allocates far more than it writes. They hold no data.
var compressors = sync.Pool{New: func() any {
	w, err := zlib.NewWriterLevel(nil, deflateLevel)
	if err != nil {
		panic("finish: compression level: " + err.Error()) // the level is a constant
	}
	return w
}}

// deflated caches compressed streams: units of one model have most pages in common. A page has some 4 kB.
var deflated = parallel.Cache[[]byte]{Most: 500}

func deflate(data []byte) []byte {
	return deflated.Get(sha256.Sum256(data), func() []byte { return compress(data) })
}

func compress(data []byte) []byte {
	w := compressors.Get().(*zlib.Writer)
	defer compressors.Put(w)
	var out bytes.Buffer
	out.Grow(len(data)/3 + 64)
	w.Reset(&out)
	_, err := w.Write(data)
	if err := errors.Join(err, w.Close()); err != nil {
		panic("finish: compressing into memory: " + err.Error()) // a buffer never returns an error
	}
	return bytes.Clone(out.Bytes()) // without spare capacity, because it may be kept for long
}

// deflateAll compresses streams in parallel.
func deflateAll(list [][]byte) [][]byte {
	packed := make([][]byte, len(list))
	parallel.Each(len(list), func(i int) { packed[i] = deflate(list[i]) })
	return packed
}

// perStream is the maximum number of objects in a compressed object stream: several streams would make the file larger.
const perStream = 20000

// buffers holds buffers for pages and object streams, to be used again.
var buffers = sync.Pool{New: func() any { return new([]byte) }}

// bytes returns the file: objects with streams first, the others packed into object streams, a cross-reference stream last.
// Source: ISO 32000-1, 7.5.7 and 7.5.8.
func (f *file) bytes(catalog, info int) ([]byte, error) {
	size := 1 << 15
	for _, data := range f.streams {
		size += len(data) + 128
	}
	out := append(make([]byte, 0, size), "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"...)

	// The number of object streams must be known before they are written; they are not members of each other.
	var plain, own []int
	count := len(f.bodies)
	rows := make([][3]int, count) // type, offset or container, index
	for n := 1; n < count; n++ {
		data, isStream := f.streams[n]
		switch {
		case isStream:
			rows[n] = [3]int{1, len(out), 0}
			out = appendStream(out, n, f.bodies[n], data)
		case f.own[n]:
			own = append(own, n)
		case f.bodies[n] != nil:
			plain = append(plain, n)
		case !slices.Contains(f.free, n):
			return nil, fmt.Errorf("object %d was reserved and not written", n)
		}
	}
	var groups [][]int // the members of each object stream
	for members := range slices.Chunk(plain, perStream) {
		groups = append(groups, members)
	}
	for members := range slices.Chunk(own, perStream) {
		groups = append(groups, members)
	}
	contents, firsts := make([][]byte, len(groups)), make([]int, len(groups))
	for g, members := range groups {
		buffer := buffers.Get().(*[]byte)
		defer func() {
			*buffer = contents[g]
			buffers.Put(buffer)
		}()
		content, at := (*buffer)[:0], 0 // the index first
		for i, n := range members {
			rows[n] = [3]int{2, count + g, i}
			content = append(strconv.AppendInt(append(strconv.AppendInt(content, int64(n), 10), ' '), int64(at), 10), ' ')
			at += len(f.bodies[n]) + 1
		}
		firsts[g] = len(content)
		for _, n := range members {
			content = append(append(content, f.bodies[n]...), '\n')
		}
		contents[g] = content
	}
	packed := deflateAll(contents)
	for g, members := range groups {
		rows = append(rows, [3]int{1, len(out), 0})
		entries := fmt.Sprintf("/Type/ObjStm/N %d/First %d/Filter/FlateDecode", len(members), firsts[g])
		out = appendStream(out, count+g, []byte(entries), packed[g])
	}
	return appendCrossReference(out, rows, catalog, info), nil
}

func appendStream(out []byte, n int, entries, data []byte) []byte {
	out = fmt.Appendf(out, "%d 0 obj\n<<%s/Length %d>>\nstream\n", n, entries, len(data))
	out = append(out, data...)
	return append(out, "\nendstream\nendobj\n"...)
}

// rowWidth is the length of a cross-reference row: 1 byte type, 4 bytes offset or container, 2 bytes index.
const rowWidth = 7

func appendCrossReference(out []byte, rows [][3]int, catalog, info int) []byte {
	start, self := len(out), len(rows)
	rows = append(rows, [3]int{1, start, 0})
	// Each row is stored as the difference to the previous one (PNG filter 2, "up"), which deflates far better.
	table := make([]byte, 0, len(rows)*(rowWidth+1))
	var above, row [rowWidth]byte
	for _, r := range rows {
		if r[0] == 0 {
			r[2] = 0xFFFF // free, never to be reused
		}
		row[0] = byte(r[0])
		binary.BigEndian.PutUint32(row[1:], uint32(r[1]))
		binary.BigEndian.PutUint16(row[5:], uint16(r[2]))
		table = append(table, 2)
		for i := range row {
			table = append(table, row[i]-above[i])
		}
		above = row
	}
	entries := fmt.Sprintf("/Type/XRef/Size %d/Root %d 0 R/Info %d 0 R%s/W[1 4 2]"+
		"/DecodeParms<</Predictor 12/Columns %d>>/Filter/FlateDecode", len(rows), catalog, info, identity(out), rowWidth)
	out = appendStream(out, self, []byte(entries), deflate(table))
	return fmt.Appendf(out, "startxref\n%d\n%%%%EOF\n", start)
}

// identity returns the file identifier, a digest of everything before the cross-reference table.
func identity(before []byte) string {
	id := sha256.Sum256(before)
	return fmt.Sprintf("/ID[<%X><%X>]", id[:16], id[:16])
}

// Unchanged reports whether a file is as this package made it: after any change or
// addition its identifier no longer matches the bytes before the table. Programs that
// add annotations append to the file and write a second table.
func Unchanged(data []byte) bool {
	before, found := bytes.CutSuffix(data, []byte("\n%%EOF\n"))
	i := bytes.LastIndex(before, []byte("\nstartxref\n"))
	if !found || i < 0 {
		return false
	}
	start, err := strconv.Atoi(string(before[i+len("\nstartxref\n"):]))
	if err != nil || start < 0 || start > i {
		return false
	}
	table := data[start:i]
	head, packed, found := bytes.Cut(table, []byte(">>\nstream\n"))
	return found && bytes.Contains(head, []byte(identity(data[:start]))) && bytes.HasSuffix(packed, []byte("\nendstream\nendobj"))
}
