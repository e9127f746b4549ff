package finish

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"github.com/klauspost/compress/zlib"

	"ownerguide/spec/parallel"
)

// file is the PDF being assembled: object bodies by number, and streams separately.
type file struct {
	memory  []byte // of bodies
	bodies  []body // by object number; 0 is not used
	streams map[int][]byte
	free    []int // numbers of dropped objects, to be reused, lowest first

	// Memory to be used again.
	scratch, content []byte
	rows             []row
	members          [2][]int
}

// body is the body of an object.
type body struct {
	from, to int32 // where it is in memory
	kind     bodyKind
}

type bodyKind uint8

// The kinds of body. What is specific to a unit, such as an object with its serial number, goes into a separate object stream: if
// pages break alike, the other streams have the same bytes for all units and are compressed once.
const (
	noBody bodyKind = iota
	plainBody
	ownBody
	streamBody // the dictionary of a stream, without brackets and length
)

func newFile(objects int) *file {
	return &file{bodies: make([]body, objects), streams: map[int][]byte{}}
}

// copyOf makes the file a copy of another one, to which objects can be added.
func (f *file) copyOf(other *file) {
	f.memory, f.bodies, f.free = append(f.memory[:0], other.memory...), append(f.bodies[:0], other.bodies...), append(f.free[:0], other.free...)
	maps.Copy(f.streams, other.streams)
}

// drop removes an object of the source; its number is reused.
func (f *file) drop(n int) {
	f.bodies[n] = body{}
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
	f.bodies = append(f.bodies, body{})
	return len(f.bodies) - 1
}

// put sets the body of an object, of which it keeps a copy.
func (f *file) put(n int, kind bodyKind, b []byte) {
	from := len(f.memory)
	f.memory = append(f.memory, b...)
	f.bodies[n] = body{int32(from), int32(len(f.memory)), kind}
}

func (f *file) add(b []byte) int {
	n := f.reserve()
	f.put(n, plainBody, b)
	return n
}

// body returns the body of an object.
func (f *file) body(n int) []byte { return f.memory[f.bodies[n].from:f.bodies[n].to] }

// putStream sets an object with a stream. Entries is the dictionary without brackets and length.
func (f *file) putStream(n int, entries string, data []byte) {
	f.put(n, streamBody, []byte(entries))
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

// deflateLevel is a compromise: level 8 takes three times as long as 6, and a guide is 3 % smaller; level 5 takes two thirds, and it is 1 % larger.
const deflateLevel = 6

// compressor compresses into memory.
type compressor struct {
	*zlib.Writer
	out bytes.Buffer
}

// compressors reuses them: a new one allocates far more than it writes. They hold no data.
var compressors = parallel.Spare[*compressor]{New: func() *compressor {
	w, err := zlib.NewWriterLevel(nil, deflateLevel)
	if err != nil {
		panic("finish: compression level: " + err.Error()) // the level is a constant
	}
	return &compressor{Writer: w}
}}

// deflated caches compressed streams: units of one model have most pages in common. A page has some 4 kB.
var deflated = parallel.Cache[[]byte]{Most: 200}

func deflate(data []byte) []byte {
	return deflated.Get(sha256.Sum256(data), func() []byte { return compress(data) })
}

func compress(parts ...[]byte) []byte {
	c := compressors.Get()
	defer compressors.Put(c)
	c.out.Reset()
	c.Reset(&c.out)
	var err error // there is none, because the buffer returns none
	for _, data := range parts {
		_, e := c.Write(data)
		err = errors.Join(err, e)
	}
	if err := errors.Join(err, c.Close()); err != nil {
		panic("finish: compressing into memory: " + err.Error())
	}
	return bytes.Clone(c.out.Bytes()) // without spare capacity, because it may be kept for long
}

// perStream is the maximum number of objects in a compressed object stream. Several are compressed at the same time; with two or three a guide is 0.2 %
// larger than with one.
const perStream = 4000

// row is a row of the cross-reference table.
type row struct {
	kind  byte   // 0 for a free object, 1 for one in the file, 2 for one in an object stream
	at    uint32 // offset or object stream
	index uint16 // in the object stream
}

// bytes returns the file: objects with streams first, the others packed into object streams, a cross-reference stream last.
// Source: ISO 32000-1, 7.5.7 and 7.5.8.
func (f *file) bytes(catalog, info int) ([]byte, error) {
	count := len(f.bodies)
	rows := append(f.rows[:0], make([]row, count)...)
	size := 1 << 14
	plain, own := f.members[0][:0], f.members[1][:0]
	for n := 1; n < count; n++ {
		switch f.bodies[n].kind {
		case streamBody:
			size += len(f.streams[n]) + 128
		case ownBody:
			own = append(own, n)
		case plainBody:
			plain = append(plain, n)
		case noBody:
			if !slices.Contains(f.free, n) {
				return nil, fmt.Errorf("object %d was reserved and not written", n)
			}
		}
	}
	f.members = [...][]int{plain, own}

	// The number of object streams must be known before they are written; they are not members of each other.
	var groups [][]int // the members of each
	for _, members := range f.members {
		groups = slices.AppendSeq(groups, slices.Chunk(members, perStream))
	}
	content, begins, firsts := slices.Grow(f.content[:0], len(f.memory)+16*count), make([]int, len(groups)+1), make([]int, len(groups))
	for g, members := range groups {
		at := 0 // the index first
		for i, n := range members {
			rows[n] = row{2, uint32(count + g), uint16(i)}
			content = append(strconv.AppendInt(append(strconv.AppendInt(content, int64(n), 10), ' '), int64(at), 10), ' ')
			at += len(f.body(n)) + 1
		}
		firsts[g] = len(content) - begins[g]
		for _, n := range members {
			content = append(append(content, f.body(n)...), '\n')
		}
		begins[g+1] = len(content)
	}
	f.content = content
	packed := make([][]byte, len(groups))
	parallel.Each(len(groups), func(g int) { packed[g] = deflate(content[begins[g]:begins[g+1]]) })
	for _, data := range packed {
		size += len(data) + 128
	}

	out := append(make([]byte, 0, size), "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"...)
	for n := range rows {
		if f.bodies[n].kind == streamBody {
			rows[n] = row{1, uint32(len(out)), 0}
			out = appendStream(out, n, f.body(n), f.streams[n])
		}
	}
	for g, members := range groups {
		rows = append(rows, row{1, uint32(len(out)), 0})
		entries := fmt.Sprintf("/Type/ObjStm/N %d/First %d/Filter/FlateDecode", len(members), firsts[g])
		out = appendStream(out, count+g, []byte(entries), packed[g])
	}
	rows = append(rows, row{1, uint32(len(out)), 0}) // of the table itself
	f.rows = rows
	return f.appendCrossReference(out, catalog, info), nil
}

func appendStream(out []byte, n int, entries, data []byte) []byte {
	out = append(strconv.AppendInt(out, int64(n), 10), " 0 obj\n<<"...)
	out = append(strconv.AppendInt(append(append(out, entries...), "/Length "...), int64(len(data)), 10), ">>\nstream\n"...)
	return append(append(out, data...), "\nendstream\nendobj\n"...)
}

// rowWidth is the length of a cross-reference row: 1 byte type, 4 bytes offset or container, 2 bytes index.
const rowWidth = 7

func (f *file) appendCrossReference(out []byte, catalog, info int) []byte {
	// Each row is stored as the difference to the previous one (PNG filter 2, "up"), which deflates far better.
	start, table := len(out), f.scratch[:0]
	var above, this [rowWidth]byte
	for _, r := range f.rows {
		if r.kind == 0 {
			r.index = 0xFFFF // free, never to be reused
		}
		this[0] = r.kind
		binary.BigEndian.PutUint32(this[1:], r.at)
		binary.BigEndian.PutUint16(this[5:], r.index)
		table = append(table, 2)
		for i := range this {
			table = append(table, this[i]-above[i])
		}
		above = this
	}
	f.scratch = table
	entries := fmt.Sprintf("/Type/XRef/Size %d/Root %d 0 R/Info %d 0 R%s/W[1 4 2]"+
		"/DecodeParms<</Predictor 12/Columns %d>>/Filter/FlateDecode", len(f.rows), catalog, info, identity(out), rowWidth)
	out = appendStream(out, len(f.rows)-1, []byte(entries), compress(table)) // no two files have the same
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
