package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/testenv"
)

// otherName is the second unit of the folder "two".
const otherName = "BW-27-0124"

func twoUnits() (string, error) {
	data, err := os.ReadFile("../../testdata/sheets/" + otherName + ".yaml")
	if err != nil {
		return "", err
	}
	return makeOnce(delivered, string(data))
}

func rewrite(t testing.TB, name string, change func([]byte) []byte) {
	t.Helper()
	data, err := os.ReadFile(name)
	must(t, err)
	must(t, os.Remove(name), os.WriteFile(name, change(data), 0o644))
}

// swapNames exchanges what two names stand for.
func swapNames(t testing.TB, a, b string) {
	t.Helper()
	must(t, os.Rename(a, a+".x"), os.Rename(b, a), os.Rename(a+".x", b))
}

// forge writes a record with other entries and the right digest, as somebody
// who knows the program could.
func forge(t testing.TB, unit string, change func(*record.Record)) {
	t.Helper()
	rewrite(t, filepath.Join(unit, record.File), func(data []byte) []byte {
		r, err := record.Decode(data)
		must(t, err)
		change(r)
		data, err = r.Encode()
		must(t, err)
		return data
	})
}

// asked is what verify works with. To make every unit again takes time, so in the
// quick tier it has another line, which makes none.
func asked(t *testing.T) *guide.Maker {
	m := *loaded(t)
	if !testenv.IsHeavy() {
		m.Inputs.Line = record.Digest(nil)
	}
	return &m
}

// A unit whose record cannot be read is named by all who go through a folder,
// each with exit code 1, and hides no other unit: a recall would miss it.
func TestBadUnitsAreNamedAndHideNone(t *testing.T) {
	m := asked(t)
	madeOnce(t, "two")
	for _, c := range []struct {
		name  string
		spoil func(t *testing.T, out string)
		at    string   // what is named
		want  string   // what is said of it
		still []string // units that are found all the same
	}{
		{"no record", func(t *testing.T, out string) { must(t, os.Remove(filepath.Join(out, unitName, record.File))) },
			unitName, "record.json: no such file", []string{otherName}},
		{"no JSON", func(t *testing.T, out string) {
			rewrite(t, filepath.Join(out, unitName, record.File), func([]byte) []byte { return []byte("{") })
		}, unitName, "not a record", []string{otherName}},
		{"another program in the record", func(t *testing.T, out string) {
			rewrite(t, filepath.Join(out, unitName, record.File), func(data []byte) []byte {
				return bytes.Replace(data, []byte(`"program": "o`), []byte(`"program": "p`), 1)
			})
		}, unitName, "changed after it was written", []string{otherName}},
		{"a record that is a folder", func(t *testing.T, out string) {
			name := filepath.Join(out, unitName, record.File)
			must(t, os.Remove(name), os.Mkdir(name, 0o755))
		}, unitName, "not a plain file", []string{otherName}},
		{"a link", func(t *testing.T, out string) {
			away := filepath.Join(filepath.Dir(out), unitName)
			must(t, os.Rename(filepath.Join(out, unitName), away))
			if err := os.Symlink(away, filepath.Join(out, unitName)); err != nil {
				t.Skip("this system makes no symbolic links: ", err)
			}
		}, unitName, "it is a link", []string{otherName}},
		{"an empty folder", func(t *testing.T, out string) { must(t, os.Mkdir(filepath.Join(out, "empty"), 0o755)) },
			"empty", "it is empty", []string{unitName, otherName}},
		{"a folder of something else", func(t *testing.T, out string) {
			must(t, os.CopyFS(filepath.Join(out, "archive", unitName), os.DirFS(filepath.Join(out, unitName))))
		}, "archive", "record.json: no such file", []string{unitName, otherName}},
		{"two folders swapped", func(t *testing.T, out string) {
			swapNames(t, filepath.Join(out, unitName), filepath.Join(out, otherName))
		}, unitName, "it holds the guide of " + otherName, nil},
		{"a copy under another name", func(t *testing.T, out string) {
			must(t, os.CopyFS(filepath.Join(out, "A-1"), os.DirFS(filepath.Join(out, unitName))))
		}, "A-1", "it holds the guide of " + unitName, []string{unitName, otherName}},
		{"a vin that two units have", func(t *testing.T, out string) {
			must(t, os.CopyFS(filepath.Join(out, "Z-1"), os.DirFS(filepath.Join(out, unitName))))
			forge(t, filepath.Join(out, "Z-1"), func(r *record.Record) { r.Serial, r.VIN = "Z-1", strings.ToLower(r.VIN) })
		}, "Z-1/record.json", "[vin-taken]", []string{unitName, otherName}},
		{"a serial in other capitals", func(t *testing.T, out string) {
			other := filepath.Join(out, strings.ToLower(unitName))
			if os.CopyFS(other, os.DirFS(filepath.Join(out, unitName))) != nil {
				t.Skip("this file system does not tell capitals apart")
			}
			forge(t, other, func(r *record.Record) { r.Serial, r.VIN = strings.ToLower(unitName), "1B9UT1215VM000119" })
		}, strings.ToLower(unitName) + "/record.json", "[serial-taken]", []string{unitName, otherName}},
		{"a guide parked by a run that was stopped", func(t *testing.T, out string) {
			must(t, os.Rename(filepath.Join(out, unitName), filepath.Join(out, ".ownerguide-stage-old-"+unitName)))
		}, ".ownerguide-stage-old-" + unitName, "left the guide of " + unitName, []string{otherName}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			out := guidesIn(t, "two")
			c.spoil(t, out)
			at := filepath.ToSlash(filepath.Join(out, c.at)) + ": error: "
			look := findCommand{Text: "BW-", Dir: out, Format: "text"}
			said, err := saying(look.find)
			if err == nil || !strings.Contains(said, at) || !strings.Contains(said, c.want) {
				t.Errorf("find: %v, want %q of %s\n%s", err, c.want, at, said)
			}
			for _, unit := range c.still {
				if !strings.Contains("\n"+said, "\n"+unit+"  ") {
					t.Errorf("find misses %s\n%s", unit, said)
				}
			}
			said, err = verifyFolder(m, false, out)
			if err == nil || !strings.Contains(said, at) || !strings.Contains(said, c.want) || strings.Contains(said, " 0 damaged") {
				t.Errorf("verify: %v, want %q of %s\n%s", err, c.want, at, said)
			}
			again := indexCommand{Dir: out}
			said, err = saying(again.anew)
			if parked := strings.HasPrefix(c.at, "."); parked {
				if err != nil {
					t.Errorf("index does not put it back: %s", said)
				}
				return
			}
			if err == nil || !strings.Contains(said, at) || !strings.Contains(said, c.want) {
				t.Errorf("index: %v, want %q of %s\n%s", err, c.want, at, said)
			}
			page, err := os.ReadFile(filepath.Join(out, output.IndexFile))
			must(t, err)
			for _, unit := range c.still {
				if !bytes.Contains(page, []byte(`<a href="`+unit+`/guide.html">`)) {
					t.Errorf("the index misses %s", unit)
				}
			}
			if strings.Contains(c.want, "[") {
				return // both units can be read
			}
			if !bytes.Contains(page, []byte(`<th scope="row">`+c.at+`</th><td>no record that can be read</td>`)) {
				t.Errorf("the index does not name %s", c.at)
			}
		})
	}
}

// What verify says of a unit whose files are not those that were delivered.
func TestVerifyFindsDamage(t *testing.T) {
	m := asked(t)
	kept := filepath.Join(unitName, deliver.Revisions)
	for _, which := range []string{"delivered", "edited", "revised"} {
		madeOnce(t, which)
	}
	appended := func(data []byte) []byte { return append(data, ' ') }
	for _, c := range []struct {
		name, folder string
		spoil        func(t *testing.T, out string)
		at, want     string
	}{
		{"a guide", "revised", func(t *testing.T, out string) { rewrite(t, filepath.Join(out, unitName, "guide.html"), appended) },
			unitName + "/guide.html", "[file-damaged]"},
		{"contents", "revised", func(t *testing.T, out string) {
			rewrite(t, filepath.Join(out, unitName, record.ContentsFile), func(data []byte) []byte { return bytes.Replace(data, []byte("lb"), []byte("kg"), 1) })
		}, unitName + "/contents.json", "[file-damaged]"},
		{"a kept guide", "revised", func(t *testing.T, out string) { rewrite(t, filepath.Join(out, kept, "A", "guide.html"), appended) },
			kept + "/A/guide.html", "[file-damaged]"},
		{"a kept revision deleted", "revised", func(t *testing.T, out string) { must(t, os.RemoveAll(filepath.Join(out, kept, "A"))) },
			kept + "/A", "[file-damaged]"},
		{"all kept revisions deleted", "revised", func(t *testing.T, out string) { must(t, os.RemoveAll(filepath.Join(out, kept))) },
			kept + "/A", "[file-damaged]"},
		{"a kept revision exchanged for another guide of the same letter", "revised", func(t *testing.T, out string) {
			must(t, os.RemoveAll(filepath.Join(out, kept, "A")), os.CopyFS(filepath.Join(out, kept, "A"), os.DirFS(filepath.Join(guidesIn(t, "edited"), unitName))))
		}, kept + "/A/record.json", "not the record of the revision that was kept"},
		{"a revision that was never delivered among those kept", "revised", func(t *testing.T, out string) {
			must(t, os.CopyFS(filepath.Join(out, kept, "AA"), os.DirFS(filepath.Join(out, kept, "A"))))
		}, kept + "/AA", "knows no such revision"},
		{"a kept revision that is a link", "revised", func(t *testing.T, out string) {
			away := filepath.Join(filepath.Dir(out), "A")
			must(t, os.Rename(filepath.Join(out, kept, "A"), away))
			if err := os.Symlink(away, filepath.Join(out, kept, "A")); err != nil {
				t.Skip("this system makes no symbolic links: ", err)
			}
		}, kept + "/A", "it is a link"},
		{"the revision in force taken back to the one that was kept", "revised", func(t *testing.T, out string) {
			must(t, os.Rename(filepath.Join(out, kept, "A"), filepath.Join(out, "x")), os.RemoveAll(filepath.Join(out, unitName)), os.Rename(filepath.Join(out, "x"), filepath.Join(out, unitName)))
		}, unitName + "/record.json", "[revision-reused]"},
		{"another guide of the same letter in its place", "delivered", func(t *testing.T, out string) {
			must(t, os.RemoveAll(filepath.Join(out, unitName)), os.CopyFS(filepath.Join(out, unitName), os.DirFS(filepath.Join(guidesIn(t, "edited"), unitName))))
		}, unitName + "/record.json", "[revision-reused]"},
		{"a guide that its sheet does not give", "delivered", func(t *testing.T, out string) {
			page := filepath.Join(out, unitName, "guide.html")
			rewrite(t, page, appended)
			data, err := os.ReadFile(page)
			must(t, err)
			forge(t, filepath.Join(out, unitName), func(r *record.Record) { r.Files[0] = record.FileOf("guide.html", data) })
		}, unitName + "/guide.html", "[remade-differs]"},
		{"the index", "delivered", func(t *testing.T, out string) {
			rewrite(t, filepath.Join(out, output.IndexFile), func(data []byte) []byte { return bytes.Replace(data, []byte("2026-10-20"), []byte("2026-10-21"), 1) })
		}, "index.html", "[index-differs]"},
		{"the register", "delivered", func(t *testing.T, out string) {
			rewrite(t, filepath.Join(out, output.RegisterFile), func(data []byte) []byte { return bytes.Replace(data, []byte("2026-10-20"), []byte("2026-10-21"), 1) })
		}, output.RegisterFile, "[register-damaged]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			out := guidesIn(t, c.folder)
			c.spoil(t, out)
			m := m
			if c.want == "[remade-differs]" {
				m = loaded(t)
			}
			said, err := verifyFolder(m, false, out)
			if at := filepath.ToSlash(filepath.Join(out, c.at)) + ": error: "; err == nil || !strings.Contains(said, at) || !strings.Contains(said, c.want) {
				t.Errorf("%v, want %q of %s\n%s", err, c.want, at, said)
			}
		})
	}
}

// A unit that was delivered and whose folder is gone is named: a recall would
// miss it without a word.
func TestGoneUnitsAreNamed(t *testing.T) {
	out := guidesIn(t, "two")
	must(t, os.RemoveAll(filepath.Join(out, unitName)))
	want := filepath.ToSlash(filepath.Join(out, unitName)) + ": warning: revision A was delivered on 2026-10-20, and the folder of the unit is not here [unit-gone]"
	for range 2 { // the index does not make it forgotten
		look := findCommand{Text: "utility", Dir: out, Format: "text"}
		if said, _ := saying(look.find); !strings.Contains(said, want) {
			t.Errorf("find does not say it:\n%s", said)
		}
		again := indexCommand{Dir: out}
		if said, err := saying(again.anew); err != nil || !strings.Contains(said, want) {
			t.Errorf("index: %v\n%s", err, said)
		}
	}
}

// What was not made again is neither whole nor damaged: it is counted apart,
// with the reason, and an error for who asks for it.
func TestVerifyTellsWhatItDidNotMakeAgain(t *testing.T) {
	for name, c := range map[string]struct {
		other func(m *guide.Maker, r *record.Record)
		why   string
	}{
		"base":      {func(m *guide.Maker, _ *record.Record) { m.Inputs.Line = record.Digest(nil) }, "hazards and jobs that come with the program were other ones"},
		"templates": {func(m *guide.Maker, _ *record.Record) { m.Inputs.Templates = record.Digest(nil) }, "its templates were other ones"},
		"program":   {func(_ *guide.Maker, r *record.Record) { r.Program = "ownerguide v0.1.0" }, "it was made by ownerguide v0.1.0, and this is ownerguide"},
	} {
		t.Run(name, func(t *testing.T) {
			out := guidesIn(t, "delivered")
			m := *loaded(t)
			forge(t, filepath.Join(out, unitName), func(r *record.Record) { c.other(&m, r) })
			for _, strict := range []bool{false, true} {
				said, err := verifyFolder(&m, strict, out)
				if (err != nil) != strict || !strings.Contains(said, "not made again: "+c.why) || !strings.Contains(said, "1 unit: 0 whole, 1 not made again, 0 damaged") {
					t.Errorf("strict %t: %v\n%s", strict, err, said)
				}
			}
		})
	}
}

// Verify raises no alarm beside a run that writes, and beside one that has
// written units and not yet the index.
func TestVerifyBesideARun(t *testing.T) {
	m := *loaded(t)
	m.Inputs.Line = record.Digest(nil) // so that nothing takes time to be made again
	dir := guidesIn(t, "delivered")
	var versions [2][]deliver.File
	var names []string
	for i, which := range []string{"delivered", "before"} {
		root := filepath.Join(guidesIn(t, which), unitName)
		entries, err := os.ReadDir(root)
		must(t, err)
		for _, e := range entries {
			data, err := os.ReadFile(filepath.Join(root, e.Name()))
			must(t, err)
			versions[i], names = append(versions[i], deliver.File{Name: e.Name(), Data: data}), append(names, e.Name())
		}
	}
	folder, err := (deliver.Rules{}).Open(dir)
	must(t, err)
	defer folder.Close()
	stop, done := make(chan struct{}), make(chan error, 1)
	var swapped atomic.Int64
	go func() {
		for {
			select {
			case <-stop:
				done <- nil
				return
			default:
			}
			if err := folder.Replace(unitName, versions[swapped.Add(1)%2], names, ""); err != nil {
				done <- err
				return
			}
		}
	}()
	least := 8
	if testenv.IsHeavy() {
		least = 20
	}
	for runs := 0; runs < least || swapped.Load() < int64(2*least); runs++ {
		if said, err := verifyFolder(&m, false, dir); err != nil {
			t.Fatalf("after %d swaps, run %d: %s", swapped.Load(), runs, said)
		}
		select {
		case err := <-done:
			t.Fatalf("after %d swaps: %v", swapped.Load(), err)
		default:
		}
	}
	close(stop)
	must(t, <-done)
}

// While somebody works on the program, its builds bear one version: a guide that
// another build made is not damaged for coming out otherwise, now and as a
// revision that is kept.
func TestAnotherBuildOfOneVersion(t *testing.T) {
	if !guide.Unreleased() {
		t.Skip("this program has a version of its own")
	}
	m := *loaded(t)
	words, texts := *m.Templates, *m.Templates.Templates // those of the other tests stay as they are
	words.Templates = &texts
	words.Style += "\n.other { color: red; }\n" // comes out otherwise from the same inputs
	m.Templates = &words
	for _, which := range []string{"delivered", "revised"} {
		out := guidesIn(t, which)
		if said, err := verifyFolder(&m, false, out); err == nil || !strings.Contains(said, "1 damaged") {
			t.Errorf("%s: made by this build: %v\n%s", which, err, said)
		}
		folder, err := (deliver.Rules{}).Open(out)
		must(t, err)
		s, err := output.ReadInventory(folder, out, false, func(output.Place, register.Entry) {})
		must(t, err)
		e := s.Anew[unitName] // a copied folder has other stamps
		e.Made, e.Kept = "another build", strings.ReplaceAll(e.Kept, guide.ProgramDigestOrEmpty(), "another")
		s.Put(output.Place{Name: unitName}, e)
		must(t, s.Save(), folder.Close())
		s.Close()
		if said, err := verifyFolder(&m, false, out); err != nil || !strings.Contains(said, "made by another build of "+guide.Version()) {
			t.Errorf("%s: made by another build: %v\n%s", which, err, said)
		}
	}
}

// In the layout a maker works in, every unit of the samples is whole, from
// whichever folder verify is called: what files are called is in no record.
func TestSampleUnitsAreWhole(t *testing.T) {
	testenv.Heavy(t, "makes guides of all sheets twice")
	dir := t.TempDir()
	units := len(goodSheets(t))
	whole := fmt.Sprintf("%d units: %d whole", units, units)
	must(t, os.CopyFS(filepath.Join(dir, "sheets"), os.DirFS("../../testdata/sheets")), os.RemoveAll(filepath.Join(dir, "sheets", "bad")))
	t.Chdir(dir)
	run := func(args ...string) string {
		t.Helper()
		code, stdout, stderr := program(t, args...)
		if code != exitClean {
			t.Fatalf("%q: exit %d\n%s%s", args, code, stdout, stderr)
		}
		return stderr
	}
	run("unpack", "own")
	run("--line", "own/line", "--templates", "own/templates", "write", "sheets")
	if said := run("--line", "own/line", "--templates", "own/templates", "verify", "--strict", "out"); !strings.Contains(said, whole) {
		t.Error(said)
	}
	t.Chdir("out")
	if said := run("--line", filepath.Join(dir, "own", "line"), "--templates", "../own/templates", "verify", "--strict", "."); !strings.Contains(said, whole) {
		t.Error(said)
	}
}
