package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
)

// screen is what a running program has printed so far.
type screen struct {
	sync.Mutex
	text bytes.Buffer
}

func (o *screen) Write(p []byte) (int, error) {
	o.Lock()
	defer o.Unlock()
	return o.text.Write(p)
}

// after returns what was printed since some length.
func (o *screen) after(n int) string {
	o.Lock()
	defer o.Unlock()
	return o.text.String()[n:]
}

func (o *screen) length() int {
	o.Lock()
	defer o.Unlock()
	return o.text.Len()
}

// watching is a program that keeps watching, with a line and templates of its own.
type watching struct {
	t      testing.TB
	out    screen // results and everything else together
	stop   context.CancelFunc
	ended  chan int
	folder string
}

func startWatching(t testing.TB, sheet string) *watching {
	t.Helper()
	w := &watching{t: t, ended: make(chan int, 1), folder: t.TempDir()}
	t.Chdir(w.folder)
	ownFiles(t, "own")
	if err := os.Mkdir("sheets", 0o777); err != nil {
		t.Fatal(err)
	}
	w.save("sheets/one.yaml", sheet)
	var ctx context.Context
	ctx, w.stop = context.WithCancel(context.Background())
	t.Cleanup(w.stop)
	go func() {
		w.ended <- run(ctx, []string{"--line", "own/line", "--templates", "own/templates", "write", "--watch", "sheets"}, strings.NewReader(""), terminal.New(&w.out, &w.out))
	}()
	w.wait(0, "watching; Ctrl-C ends it")
	return w
}

const watchedSheet = `serial: BW-27-0900
vin: 1B9TD2024VM000900
model: tilt-20
model_year: 2027
built: 2026-11-12
issued: 2026-11-20
delivered: 2026-11-30
revision: A
options: [front-box]
`

// save puts a new file in the place of the old one, as many editors do.
func (w *watching) save(name, text string) {
	w.t.Helper()
	next := filepath.Join(filepath.Dir(name), ".next~")
	if err := os.WriteFile(next, []byte(text), 0o666); err != nil {
		w.t.Fatal(err)
	}
	if err := os.Rename(next, name); err != nil {
		w.t.Fatal(err)
	}
}

// wait until something is printed after what had been printed before, and returns it all.
func (w *watching) wait(since int, text string) string {
	w.t.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(2 * time.Millisecond) {
		if got := w.out.after(since); strings.Contains(got, text) {
			return got
		}
	}
	w.t.Fatalf("%q is not printed:\n%s", text, w.out.after(0))
	return ""
}

// change makes a change and returns what the program prints, up to its being
// ready for the next.
func (w *watching) change(f func()) string {
	w.t.Helper()
	since, start := w.out.length(), time.Now()
	f()
	got := w.wait(since, "watching; Ctrl-C ends it")
	w.t.Logf("%v after the change", time.Since(start).Round(time.Millisecond))
	return got
}

func edit(t testing.TB, name, old, new string) func() {
	return func() {
		t.Helper()
		data, err := os.ReadFile(name)
		if err != nil || !bytes.Contains(data, []byte(old)) {
			t.Fatalf("%s has no %q: %v", name, old, err)
		}
		if err := os.WriteFile(name, bytes.Replace(data, []byte(old), []byte(new), 1), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// holdMarks holds the draft's pages, and its record, against what a draft says.
func holdMarks(t *testing.T, words string) {
	t.Helper()
	for _, name := range []string{"guide.html", "calculations.html"} {
		page, err := os.ReadFile(filepath.Join("drafts/BW-27-0900", name))
		if err != nil || !bytes.Contains(page, []byte(`<p class="draft" role="note">`+words+"</p>")) {
			t.Errorf("%s does not say %q: %v", name, words, err)
		}
	}
	for _, name := range []string{"guide.pdf", "card.pdf"} {
		for i, p := range readPDF(t, filepath.Join("drafts/BW-27-0900", name)).Pages() {
			if !strings.Contains(p.Text(nil), words) {
				t.Errorf("page %d of %s does not say %q", i+1, name, words)
			}
		}
	}
	list, err := os.ReadFile("drafts/" + output.IndexFile)
	if err != nil || strings.Contains(string(list), "<small>not proved</small>") != strings.Contains(words, "not proved") {
		t.Errorf("the index does not say whether it is proved: %v", err)
	}
	h, err := output.OpenHistory("drafts/BW-27-0900")
	must(t, err)
	defer h.Close()
	if r := h.Current; !r.Draft || (r.Proof == "") != strings.Contains(words, "not proved") {
		t.Errorf("draft %t, proof %q: %s", r.Draft, r.Proof, words)
	}
}

// An author's hour: words, sheets and the line change, with slips in between.
func TestWatch(t *testing.T) {
	w := startWatching(t, watchedSheet)
	page := func() string {
		data, err := os.ReadFile("drafts/BW-27-0900/guide.html")
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	if strings.Contains(page(), "A word of our own.") {
		t.Fatal("it says so before")
	}
	holdMarks(t, "Draft: not to be handed over")

	// The unit is delivered, yet a draft of its guide may change.
	got := w.change(edit(t, "own/templates/en/sections/sway.md", "\n---\n", "\n---\nA word of our own.\n\n"))
	if !strings.Contains(got, "written drafts/BW-27-0900") || !strings.Contains(page(), "A word of our own.") {
		t.Errorf("the new words are not in the guide:\n%s", got)
	}

	// What is not proved says so on every page, and counts as delivered nowhere.
	if !strings.Contains(got, "drafts say on every page that they are not proved: the line own/line and the words own/templates are not proved as they stand") {
		t.Errorf("nobody is told that the words are not proved:\n%s", got)
	}
	holdMarks(t, "Draft: not to be handed over; line and words are not proved")

	// A slip in a template is told, and mending it is enough.
	got = w.change(edit(t, "own/templates/en/sections/sway.md", "A word of our own.", "A word of {tires.sise}."))
	if !strings.Contains(got, "own/templates/en/sections/sway.md:") || !strings.Contains(got, "did you mean {tires.size}?") {
		t.Errorf("the slip is not told:\n%s", got)
	}
	got = w.change(edit(t, "own/templates/en/sections/sway.md", "{tires.sise}", "{tires.size}"))
	if !strings.Contains(got, "written drafts/BW-27-0900") {
		t.Errorf("the mended words are not written:\n%s", got)
	}

	// A sheet saved by putting a new file in its place.
	got = w.change(func() { w.save("sheets/one.yaml", strings.Replace(watchedSheet, "front-box", "front-bx", 1)) })
	if !strings.Contains(got, "sheets/one.yaml:9:11: error: option \"front-bx\"") || !strings.Contains(got, "refused sheets/one.yaml") {
		t.Errorf("the slip of the sheet is not told:\n%s", got)
	}
	got = w.change(func() { w.save("sheets/one.yaml", strings.Replace(watchedSheet, "front-box", "front-box, spare", 1)) })
	if !strings.Contains(got, "written drafts/BW-27-0900") {
		t.Errorf("the mended sheet is not written:\n%s", got)
	}

	// A new sheet is made alone; one with the same number stops both, until it goes.
	second := strings.NewReplacer("BW-27-0900", "BW-27-0901", "1B9TD2024VM000900", "1B9TD2026VM000901").Replace(watchedSheet)
	got = w.change(func() { w.save("sheets/two.yaml", second) })
	if !strings.Contains(got, "written drafts/BW-27-0901") || strings.Contains(got, "BW-27-0900") {
		t.Errorf("not the new sheet alone is written:\n%s", got)
	}
	got = w.change(func() { w.save("sheets/two.yaml", strings.Replace(watchedSheet, "[front-box]", "[]", 1)) })
	if !strings.Contains(got, "serial-repeated") {
		t.Errorf("the number taken twice is not told:\n%s", got)
	}
	w.change(func() { w.save("sheets/two.yaml", second) })

	// The line.
	got = w.change(edit(t, "own/line/line.yaml", "name: Bramblewick Trailer Works", "name: Otherwick Trailer Works"))
	if !strings.Contains(got, "written drafts/BW-27-0900") || !strings.Contains(page(), "Otherwick Trailer Works") {
		t.Errorf("the new name is not in the guide:\n%s", got)
	}

	// A file that no guide is made from changes nothing.
	since := w.out.length()
	if err := os.WriteFile("sheets/notes.txt", nil, 0o666); err != nil {
		t.Fatal(err)
	}
	time.Sleep(5 * quiet)
	if got := w.out.after(since); got != "" {
		t.Errorf("a file nobody reads makes it say\n%s", got)
	}

	w.stop()
	if code := <-w.ended; code != exitClean {
		t.Errorf("exit %d", code)
	}
	if got := w.out.after(0); !strings.HasSuffix(got, "ownerguide: stopped; every guide on disk is whole\n") {
		t.Errorf("the end is\n%s", got[max(0, len(got)-200):])
	}
}

// BenchmarkChangeToWritten takes the time from a saved change to the longest guide
// of the samples made anew from it, the wait for a quiet moment included.
func BenchmarkChangeToWritten(b *testing.B) {
	sheet, err := os.ReadFile("../../testdata/sheets/BW-27-0163.yaml")
	if err != nil {
		b.Fatal(err)
	}
	for _, change := range []struct{ what, file, old, new string }{
		{"sheet", "sheets/one.yaml", "crossmember", "cross member"},
		{"template", "own/templates/en/sections/sway.md", "\n---\n", "\n---\nA word of our own.\n\n"},
		{"line", "own/line/line.yaml", "Bramblewick Trailer Works", "Otherwick Trailer Works"},
	} {
		b.Run(change.what, func(b *testing.B) {
			w := startWatching(b, string(sheet))
			there, back := edit(b, change.file, change.old, change.new), edit(b, change.file, change.new, change.old)
			for b.Loop() {
				if got := w.change(there); !strings.Contains(got, "written drafts/BW-27-0163") {
					b.Fatalf("no guide is written:\n%s", got)
				}
				there, back = back, there
			}
		})
	}
}
