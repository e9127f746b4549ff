package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render"
	"ownerguide/render/html"
	"ownerguide/render/pdf"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/line"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/vin"
)

// fullest is the unit that every step is timed with: a gooseneck with all options
// that go together. Its guide has the most pages of the samples.
const fullest = "../../testdata/sheets/BW-27-0163.yaml"

func fullestSheet(tb testing.TB) input.SheetFile {
	tb.Helper()
	data, err := os.ReadFile(fullest)
	must(tb, err)
	return input.SheetFile{Name: fullest, Data: data}
}

// fullestUnit is that unit as far as its documents.
func fullestUnit(tb testing.TB, m *guide.Maker) *guide.Unit {
	tb.Helper()
	u := m.Read(fullestSheet(tb))
	if m.Assemble(u, nil); u.Guide == nil {
		tb.Fatal(u.Findings)
	}
	return u
}

func whole(found source.Findings) error {
	if found.HasErrors() {
		return terminal.ErrFound
	}
	return nil
}

// BenchmarkStep takes the time of each step on the way from a sheet to its files,
// on one goroutine or on as many as the step uses by itself. Only the first round of
// layout, pdf and unit does all of the work: later ones find blocks, pages and fonts
// as those of the guide before, as the units of a run do that have the same options.
func BenchmarkStep(b *testing.B) {
	m := loaded(b)
	file, u := fullestSheet(b), fullestUnit(b, m)
	for _, step := range []struct {
		name string
		do   func() error
	}{
		{"sheet", func() error {
			s, _ := sheet.Read(file.Name, file.Data)
			_, found := spec.Resolve(m.Line, s)
			return whole(found)
		}},
		{"derive", func() error {
			_, found := derive.Evaluate(u.Build)
			return whole(found)
		}},
		{"assemble", func() error {
			_, found := m.Templates.Assemble(u.Build, u.Values, nil)
			return whole(found)
		}},
		{"html", func() error { _, err := html.Write(u.Guide, m.Templates.Style); return err }},
		{"layout", func() error { _, err := pdf.Measure(u.Guide, pdf.Options{}); return err }},
		{"pdf", func() error { _, _, err := pdf.Render(u.Guide, pdf.Options{}); return err }}, // layout, paint and finish
		{"unit", func() error {
			u := m.Read(input.SheetFile{Name: file.Name, Data: file.Data})
			m.Assemble(u, nil)
			_, err := m.Files(u)
			return err
		}},
		{"check", func() error {
			_, _, err := m.Check([]input.SheetFile{input.SheetFile{Name: file.Name, Data: file.Data}})
			return err
		}},
	} {
		b.Run(step.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := step.do(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkLoad reads what is in the program, as each process does once.
func BenchmarkLoad(b *testing.B) {
	for _, of := range []string{"", "-proved"} { // with all checks, and as what ships proved
		proved := func([]source.File) bool { return of != "" }
		b.Run("line"+of, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if l, found := spec.LoadProved(line.Files, embedded.Line, proved); l == nil {
					b.Fatal(found)
				}
			}
		})
		b.Run("templates"+of, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if t, found := render.LoadProved(proved, embedded.Layer); found.HasErrors() {
					b.Fatal(t, found)
				}
			}
		})
	}
	b.Run("together", func(b *testing.B) {
		m := loaded(b)
		b.ReportAllocs()
		for b.Loop() {
			m.Templates.CheckAgainst(m.Line)
		}
	})
}

// BenchmarkStart runs the built program on one unit; cpu-ns is the processor time of the process.
func BenchmarkStart(b *testing.B) {
	name, err := built()
	must(b, err)
	for _, args := range [][]string{{"--help"}, {"check", fullest}, {"write", "--force", "-o", b.TempDir(), fullest}} {
		b.Run(strings.TrimLeft(args[0], "-"), func(b *testing.B) {
			var used int64
			for b.Loop() {
				cmd := exec.Command(name, args...)
				must(b, cmd.Run())
				used += int64(cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime())
			}
			b.ReportMetric(float64(used)/float64(b.N), "cpu-ns/op")
		})
	}
}

// generated writes sheets that differ from a sample in their numbers, and in what differ changes unless it is nil.
func generated(tb testing.TB, units int, differ func(i int, text string) string) (dir string) {
	tb.Helper()
	from := string(fullestSheet(tb).Data)
	dir = tb.TempDir()
	for i := range units {
		serial := fmt.Sprintf("BW-91-%05d", i)
		number := fmt.Sprintf("1B9GD2820VM0%05d", i)
		check, err := vin.CheckDigit(number)
		must(tb, err)
		number = number[:8] + string(check) + number[9:]
		text := strings.NewReplacer("BW-27-0163", serial, "1B9GD282XVM000163", number).Replace(from)
		if differ != nil {
			text = differ(i, text)
		}
		must(tb, os.WriteFile(filepath.Join(dir, serial+".yaml"), []byte(text), 0o644))
	}
	return dir
}

// differing gives 64 sheets in turn other options, and each other weights and another use.
func differing(i int, text string) string {
	left := 0
	for bit, lines := range []string{`  - headache-rack\n`, `  - underbody-box\n`, `  - radio-remote\n`, `  - deck-lock\n`, `  - spare\n|.*place: spare.*\n`, `  - winch\n|.*place: winch.*\n`} {
		if i>>bit%2 == 1 {
			text = regexp.MustCompile(lines).ReplaceAllString(text, "")
			left++
		}
	}
	return strings.NewReplacer("10,640 lb", fmt.Sprintf("%d lb", 10640-150*left-i%97), "2,840 lb", fmt.Sprintf("%d lb", 2840-60*left-i%41),
		"1,800 mi", fmt.Sprintf("%d mi", 1000+i%7*200)).Replace(text)
}

// BenchmarkWrite writes units into an empty folder: a thousand with the same options, and 128 that differ.
func BenchmarkWrite(b *testing.B) {
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(-1))
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	collectLate()
	for _, run := range []struct {
		name   string
		units  int
		differ func(int, string) string
	}{{"same", 1000, nil}, {"differing", 128, differing}} {
		sheets := generated(b, run.units, run.differ)
		for _, workers := range []int{1, 2} {
			b.Run(fmt.Sprintf("%s/workers=%d", run.name, workers), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if code, _, stderr := program(b, "write", "-q", "-j", fmt.Sprint(workers), "-o", filepath.Join(b.TempDir(), "out"), sheets); code != exitClean {
						b.Fatal(stderr)
					}
				}
				b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N*run.units), "ms/unit")
			})
		}
	}
}
