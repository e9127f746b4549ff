package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/parallel"
	"ownerguide/spec/testenv"
)

// manyUnits fills an output folder with units that differ in serial number,
// vehicle identification number and tires; their other files are shared.
func manyUnits(units int) (string, error) {
	from, err := guides["delivered"]()
	if err != nil {
		return "", err
	}
	from = filepath.Join(from, unitName)
	data, err := os.ReadFile(filepath.Join(from, record.File))
	if err != nil {
		return "", err
	}
	r, err := record.Decode(data)
	if err != nil {
		return "", err
	}
	out, err := os.MkdirTemp("", "ownerguide-test-")
	if err != nil {
		return "", err
	}
	copiedFrom = append(copiedFrom, out)
	for i := range units {
		r.Serial, r.VIN = fmt.Sprintf("BW-90-%05d", i), fmt.Sprintf("1B9UT1215VM9%05d", i)
		r.Fitted = []record.Mark{{Place: "left", Kind: "tire", Mark: fmt.Sprintf("%02d26", i%52+1)}}
		unit := filepath.Join(out, r.Serial)
		data, err := r.Encode()
		if err == nil {
			err = os.Mkdir(unit, 0o755)
		}
		if err == nil {
			err = os.WriteFile(filepath.Join(unit, record.File), data, 0o644)
		}
		for _, f := range r.Files {
			if err == nil {
				err = os.Link(filepath.Join(from, f.Name), filepath.Join(unit, f.Name))
			}
		}
		if err != nil {
			return "", err
		}
	}
	c := indexCommand{Dir: out}
	if said, err := saying(c.anew); err != nil {
		return "", &buildError{said, err}
	}
	return out, nil
}

// largeFolder is that of a maker after some years.
const largeFolder = 10000

var large = sync.OnceValues(func() (string, error) { return manyUnits(largeFolder) })

func largeIn(t testing.TB) string {
	t.Helper()
	out, err := large()
	must(t, err)
	return out
}

// BenchmarkWriteIntoFolder writes one sheet into an empty folder and into a
// large one: the second takes at most 1.3 times as long.
func BenchmarkWriteIntoFolder(b *testing.B) {
	sheet := filepath.Join(b.TempDir(), "sheet.yaml")
	must(b, os.WriteFile(sheet, []byte(delivered), 0o644))
	for _, units := range []int{0, largeFolder} {
		b.Run(fmt.Sprintf("units=%d", units), func(b *testing.B) {
			out := b.TempDir()
			if units > 0 {
				out = largeIn(b)
			}
			for b.Loop() {
				if code, _, stderr := program(b, "write", "--force", "--out", out, sheet); code != exitClean {
					b.Fatal(stderr)
				}
			}
		})
	}
}

// BenchmarkFind looks for a tire in a large folder.
func BenchmarkFind(b *testing.B) {
	out := largeIn(b)
	for b.Loop() {
		if code, stdout, stderr := program(b, "find", "3326", out); code != exitClean || !strings.Contains(stdout, "BW-90-00032") {
			b.Fatal(stderr)
		}
	}
}

// BenchmarkIndex makes the index of a large folder anew from the records.
func BenchmarkIndex(b *testing.B) {
	out := largeIn(b)
	for b.Loop() {
		if code, _, stderr := program(b, "index", out); code != exitClean {
			b.Fatal(stderr)
		}
	}
}

// A guide that stands unchanged is known without reading it; one changed by hand is noticed though it is as long and as
// old as before, and one that was put back is unchanged again.
func TestUnchangedIsKnownByStamps(t *testing.T) {
	m, out := loaded(t), t.TempDir()
	write := func(want string) {
		t.Helper()
		said, err := writeSheet(m, writeCommand{Out: out}, delivered)
		if text := fmt.Sprint(said, err); !strings.Contains(text, want) {
			t.Errorf("got %s\nwant %s", text, want)
		}
		known, err := output.Registered(out)
		must(t, err)
		if known[unitName].State == "" {
			t.Error("the register does not know what the guide was made from")
		}
	}
	write("1 written")
	write("1 unchanged")
	page := filepath.Join(out, unitName, "guide.html")
	was, err := os.Stat(page)
	must(t, err)
	text := readText(t, page)
	for _, put := range []struct{ text, want string }{{strings.ToUpper(text), "guide.html was changed after it was written"}, {text, "1 unchanged"}, {text, "1 unchanged"}} {
		must(t, os.WriteFile(page, []byte(put.text[:len(text)]), 0o644))
		must(t, os.Chtimes(page, was.ModTime(), was.ModTime()))
		write(put.want)
	}
}

// Units that somebody copied in, took away or changed by hand are seen by the
// next run that writes, which reads no other record again.
func TestFolderChangedByHand(t *testing.T) {
	const units = 60
	m := loaded(t)
	out, err := manyUnits(units)
	must(t, err)
	index := func() string {
		page, err := os.ReadFile(filepath.Join(out, output.IndexFile))
		must(t, err)
		return string(page)
	}
	write := func() string {
		t.Helper()
		said, err := writeSheet(m, writeCommand{Out: out}, delivered)
		if err != nil {
			t.Fatal(said)
		}
		return said
	}
	write()
	if got := strings.Count(index(), "<th scope=\"row\">"); got != units+1 {
		t.Errorf("%d units in the index, want %d", got, units+1)
	}
	must(t, os.RemoveAll(filepath.Join(out, "BW-90-00007")))
	must(t, os.Rename(filepath.Join(out, "BW-90-00008"), filepath.Join(out, "BW-91-00008")))
	forge(t, filepath.Join(out, "BW-91-00008"), func(r *record.Record) { r.Serial, r.Buyer = "BW-91-00008", "Robin Copied" })
	forge(t, filepath.Join(out, "BW-90-00009"), func(r *record.Record) { r.Buyer = "Kim Changed" })
	// This one keeps the stamp of a record that was read: it shows whether it is read again.
	name := filepath.Join(out, "BW-90-00010", record.File)
	info, err := os.Stat(name)
	must(t, err)
	must(t, os.Remove(filepath.Join(out, "BW-90-00011", record.File)))
	if said := write(); !strings.Contains(said, "BW-90-00011 cannot be read: record.json: no such file") {
		t.Errorf("a lost record is not told:\n%s", said)
	}
	page := index()
	for text, want := range map[string]bool{"BW-90-00007": false, "BW-90-00008": false, "BW-91-00008": true, "Robin Copied": true, "Kim Changed": true, "<th scope=\"row\">BW-90-00011</th><td>no record that can be read": true} {
		if strings.Contains(page, text) != want {
			t.Errorf("%q in the index: want %t", text, want)
		}
	}
	if after, err := os.Stat(name); err != nil || !os.SameFile(info, after) || !info.ModTime().Equal(after.ModTime()) {
		t.Errorf("a unit that is not of the run was touched: %v", err)
	}
	rewrite(t, filepath.Join(out, "BW-90-00011", "guide.html"), bytes.ToUpper)
	taken := strings.Replace(delivered, "1B9UT1215VM000118", "1B9UT1215VM900011", 1)
	if said, err := writeSheet(m, writeCommand{Out: out}, strings.Replace(taken, unitName, "BW-27-0119", 1)); err == nil || !strings.Contains(said, "is that of "+filepath.ToSlash(out)+"/BW-90-00011 [vin-taken]") {
		t.Errorf("the vin of a unit whose record is lost is given twice: %v\n%s", err, said)
	}
}

// What a unit of the folder adds to a run that writes another one: its name is
// held, in heldPerUnit bytes. The rest is read and let go of, and what of that waits
// to be collected keeps the peak of the process within peakPerUnit.
const (
	heldPerUnit = 128
	peakPerUnit = 4 << 10
)

func TestMemoryInALargeFolder(t *testing.T) {
	testenv.Heavy(t, "makes a folder of 10,000 units")
	sheet := filepath.Join(t.TempDir(), "sheet.yaml")
	must(t, os.WriteFile(sheet, []byte(delivered), 0o644))
	into := func(out string) int64 {
		o := runBinary(t, ".", []string{"GOGC=20"}, "write", "--force", "--out", out, sheet)
		wantOutcome(t, o, exitClean, "1 written")
		return o.peak
	}
	empty, full := into(t.TempDir()), into(largeIn(t))
	if full > empty+peakPerUnit*largeFolder {
		t.Errorf("%d MiB into a folder of %d units, %d MiB into an empty one", full>>20, largeFolder, empty>>20)
	}
	if held := heldOf(t, largeIn(t)); held > heldPerUnit*largeFolder {
		t.Errorf("%d bytes are held of each unit of the folder", held/largeFolder)
	}
	for _, args := range [][]string{{"find", "3326", largeIn(t)}, {"index", largeIn(t)}} {
		o := runBinary(t, ".", nil, args...)
		wantOutcome(t, o, exitClean, "")
		if o.peak > memoryCap/2 {
			t.Errorf("%s took %d MiB", args[0], o.peak>>20)
		}
	}
}

// heldOf is what a run holds of the units of an output folder, in bytes.
func heldOf(t *testing.T, out string) int64 {
	folder, err := (deliver.Rules{}).Open(out)
	must(t, err)
	defer folder.Close()
	before := heap()
	s, err := output.ReadInventory(folder, out, false, func(output.Place, register.Entry) {})
	must(t, err)
	defer s.Close()
	return heap() - before
}

// heap is what is held in memory, in bytes.
func heap() int64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// A run with fewer workers than processors leaves the others to other programs, as `parallel` of the README counts on.
func TestWorkersTakeTheirProcessors(t *testing.T) {
	all := parallel.Processors
	defer func() { parallel.Processors = all }()
	parallel.Processors = 4
	for workers, want := range map[int]int{0: 8, 1: 1, 3: 3, 4: 8, 9: 8} {
		if got := (&writeCommand{Workers: workers}).threads(); got != want {
			t.Errorf("-j %d: %d threads, expected %d", workers, got, want)
		}
	}
}
