package register

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

func written(entries ...Entry) []byte {
	var b bytes.Buffer
	w := NewWriter(&b)
	for _, e := range entries {
		w.Add(e)
	}
	if err := w.Close(); err != nil {
		panic(err) // a buffer takes everything
	}
	return b.Bytes()
}

func read(data []byte) (out []Entry, err error) {
	err = Read(bytes.NewReader(data), func(e Entry) error { out = append(out, e); return nil })
	return out, err
}

// damagedSay reads and checks, which have to agree.
func damagedSay(t *testing.T, data []byte) bool {
	t.Helper()
	_, err := read(data)
	if other := Check(bytes.NewReader(data)); !errors.Is(other, err) {
		t.Errorf("read says %v, check %v", err, other)
	}
	return errors.Is(err, ErrDamaged)
}

func TestEntriesComeBack(t *testing.T) {
	entries := []Entry{
		{Serial: "A-1"},
		{Serial: "B-2", Stamp: "1.2.3", Digest: "d", Made: "m", State: "s", Letter: Letter{"A", "p", "delivered on 2026-10-20"}, VIN: "V", Model: "M <o>",
			Buyer: "María Núñez", Dealer: "Example", Options: "Winch, Rack", Unconfirmed: 2, Proof: "q", Revision: "B", Issued: "2026-10-08", Delivered: "2026-10-20", Kept: "A", Notes: 3, Pages: 88, Files: "guide.html guide.pdf"},
		{Serial: "C-3", Buyer: strings.Repeat("long ", 40000)},
	}
	got, err := read(written(entries...))
	if err != nil || !slices.Equal(got, entries) {
		t.Errorf("%v: %.300v", err, got)
	}
	if got, err := read(written()); err != nil || got != nil {
		t.Errorf("an empty register: %v, %v", got, err)
	}
}

// A name with a line end would otherwise forge an entry.
func TestTextsForgeNoEntry(t *testing.T) {
	got, err := read(written(Entry{Serial: "A-1", Buyer: "x\nB-2\ty"}))
	if err != nil || len(got) != 1 || got[0].Buyer != "x B-2 y" {
		t.Errorf("%v, %v", got, err)
	}
}

// Whatever byte is changed or lost, it is not taken for a register.
func TestEveryDamageIsFound(t *testing.T) {
	data := written(Entry{Serial: "A-1", Letter: Letter{"A", "p", "mailed"}}, Entry{Serial: "B-2", Pages: 12})
	for i := range data {
		flipped := bytes.Clone(data)
		flipped[i] ^= 1
		if !damagedSay(t, flipped) {
			t.Errorf("byte %d flipped is not found", i)
		}
		if !damagedSay(t, data[:i]) {
			t.Errorf("cut off at byte %d is not found", i)
		}
	}
	if damagedSay(t, data) || !damagedSay(t, append(data, '\n')) {
		t.Error("whole with something behind its end, or damaged without")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(written(Entry{Serial: "A-1", Pages: 1}))
	f.Add([]byte(head + "end 0 00000000\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		entries, err := read(data)
		if err != nil {
			return
		}
		again, err := read(written(entries...))
		if err != nil || !slices.Equal(entries, again) {
			t.Errorf("changed on the way: %v\n%v\n%v", err, entries, again)
		}
	})
}

func BenchmarkRead(b *testing.B) {
	var entries []Entry
	for i := range 10000 {
		entries = append(entries, Entry{Serial: fmt.Sprintf("A-%05d", i), Stamp: strings.Repeat("s", 40), Digest: strings.Repeat("d", 64), Made: strings.Repeat("m", 64), Files: strings.Repeat("guide.html ", 7)})
	}
	data := written(entries...)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if err := Read(bytes.NewReader(data), func(Entry) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
}
