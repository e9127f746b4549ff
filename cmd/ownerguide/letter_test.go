package main

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/testenv"
)

// inMail is a sheet with everything a mail needs.
const inMail = `serial: BW-27-0118
vin: 1B9UT1215VM000118
model: utility-12
model_year: 2027
built: 2026-10-06
issued: 2026-10-08
revision: A
buyer: { name: Pat Example, email: pat@example.com }
`

const delivered = inMail + "delivered: 2026-10-20\n"

// edited is the same sheet with other words.
func edited(sheet string) string { return sheet + "notes: The left lamp was replaced.\n" }

// saying runs something with a terminal and gives back what it said.
func saying(run func(t *terminal.Terminal) error) (said string, err error) {
	var out bytes.Buffer
	t := terminal.New(&out, &out)
	if err = run(t); err != nil && !errors.Is(err, terminal.ErrFound) {
		t.Problem(err)
	}
	return out.String(), err
}

// writeSheet writes the guide of a sheet as the command does.
func writeSheet(m *guide.Maker, c writeCommand, sheet string) (string, error) {
	c.Format = "text"
	if c.Paper == "" {
		c.Paper = "letter"
	}
	sheets := []input.SheetFile{input.SheetFile{Name: "sheet.yaml", Data: []byte(sheet)}}
	return saying(func(t *terminal.Terminal) error {
		d, err := c.open(sheets)
		if err != nil {
			return err
		}
		defer d.Close()
		return c.batch(context.Background(), t, m, d, sheets)
	})
}

func mailSheet(m *guide.Maker, out, sheet string) (string, error) {
	c := mailCommand{Guides: out}
	return saying(func(t *terminal.Terminal) error {
		return c.draft(m, t, deliver.Rules{Unit: output.IsUnit}, input.SheetFile{Name: "sheet.yaml", Data: []byte(sheet)}, "letter")
	})
}

// anew makes an index as the command does.
func (c *indexCommand) anew(t *terminal.Terminal) error {
	return c.index(t, deliver.Rules{Unit: output.IsUnit})
}

func verifyFolder(m *guide.Maker, strict bool, dir string) (string, error) {
	c := verifyCommand{Format: "text", Strict: strict}
	units, one, err := output.UnitsAt(dir)
	if err != nil {
		return err.Error(), err
	}
	return saying(func(t *terminal.Terminal) error {
		return c.verify(context.Background(), m, t, []outputFolder{{dir, units, one}})
	})
}

// guides are output folders that tests copy: made once.
var guides = map[string]func() (string, error){
	"delivered": sync.OnceValues(func() (string, error) { return makeOnce(delivered) }),
	"before":    sync.OnceValues(func() (string, error) { return makeOnce(inMail) }),
	"edited":    sync.OnceValues(func() (string, error) { return makeOnce(edited(delivered)) }),
	"two":       sync.OnceValues(twoUnits),
	"revised": sync.OnceValues(func() (string, error) {
		return makeOnce(delivered, strings.Replace(edited(delivered), "revision: A", "revision: B", 1))
	}),
}

func makeOnce(sheets ...string) (string, error) {
	m, err := loadedOnce()
	if err != nil {
		return "", err
	}
	dir, err := os.MkdirTemp("", "ownerguide-test-")
	if err != nil {
		return "", err
	}
	for _, sheet := range sheets {
		if said, err := writeSheet(m, writeCommand{Out: dir}, sheet); err != nil {
			return "", &buildError{said, err}
		}
	}
	copiedFrom = append(copiedFrom, dir)
	return dir, nil
}

// copiedFrom are cleared away at the end.
var copiedFrom []string

// madeOnce is an output folder to copy. A run sets limits of the whole process, so
// tests that work side by side have it made before.
func madeOnce(t testing.TB, which string) string {
	t.Helper()
	dir, err := guides[which]()
	must(t, err)
	return dir
}

// guidesIn copies an output folder.
func guidesIn(t testing.TB, which string) string {
	t.Helper()
	dir := madeOnce(t, which)
	out := filepath.Join(t.TempDir(), "out")
	if err := os.CopyFS(out, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	return out
}

func must(t testing.TB, errs ...error) {
	t.Helper()
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
}

const unitName = "BW-27-0118"

// Two guides that differ never carry one letter, whatever was done to the folder
// in between: the owner could not tell which of them is the right one.
func TestDeliveredLetterHolds(t *testing.T) {
	m := loaded(t)
	away := func(t *testing.T, out string) {
		must(t, os.Rename(filepath.Join(out, unitName), filepath.Join(filepath.Dir(out), "away")))
	}
	lost := func(t *testing.T, out string) { must(t, os.Remove(filepath.Join(out, unitName, record.File))) }
	edit := func(old, new string) func(*testing.T, string) {
		return func(t *testing.T, out string) {
			name := filepath.Join(out, unitName, record.File)
			data, err := os.ReadFile(name)
			if err != nil || !bytes.Contains(data, []byte(old)) {
				t.Fatalf("%s has no %q: %v", name, old, err)
			}
			must(t, os.WriteFile(name, bytes.Replace(data, []byte(old), []byte(new), 1), 0o644))
		}
	}
	reindex := func(t *testing.T, out string) {
		c := indexCommand{Dir: out}
		if said, err := saying(c.anew); err != nil {
			t.Fatal(said)
		}
	}
	mailed := func(t *testing.T, out string) {
		if said, err := mailSheet(m, out, inMail); err != nil {
			t.Fatal(said)
		}
	}
	nothing := func(*testing.T, string) {}
	withStyle := *m
	words, texts := *m.Templates, *m.Templates.Templates
	words.Templates = &texts
	words.Style += "\n.caution { display: none; }\n"
	withStyle.Templates, withStyle.Inputs.Templates = &words, record.Digest([]byte(words.Style))
	cases := []struct {
		name, folder string
		before       func(t *testing.T, out string)
		maker        *guide.Maker
		paper        string
		sheet        string
		mail         bool
		want         string
	}{
		{"other words", "delivered", nothing, m, "letter", edited(delivered), false, "[revision-due]"},
		{"other words in a mail", "delivered", nothing, m, "letter", edited(delivered), true, "[revision-due]"},
		{"a style sheet that hides cautions", "delivered", nothing, &withStyle, "letter", delivered, false, "look different"},
		{"other paper", "delivered", nothing, m, "a4", delivered, false, "is on letter paper, not a4"},
		{"a sheet that no longer says it was delivered", "delivered", nothing, m, "letter", inMail, false, "write delivered: 2026-10-20"},
		{"the record is lost", "delivered", lost, m, "letter", edited(delivered), false, "put its files back from a copy"},
		{"the record is lost, in a mail", "delivered", lost, m, "letter", edited(delivered), true, "record.json: no such file"},
		{"the hint is followed", "delivered", func(t *testing.T, out string) { lost(t, out); away(t, out) }, m, "letter", edited(delivered), false, "revision A was delivered on 2026-10-20"},
		{"the folder is gone", "delivered", away, m, "letter", edited(delivered), false, "[revision-due]"},
		{"gone, and indexed", "delivered", func(t *testing.T, out string) { away(t, out); reindex(t, out) }, m, "letter", edited(delivered), false, "[revision-due]"},
		{"gone, in a mail", "delivered", away, m, "letter", edited(delivered), true, "[revision-due]"},
		{"the later one is gone", "revised", away, m, "letter", delivered, false, "[revision-back]"},
		{"delivery taken out of the record", "delivered", edit(` "delivered": "2026-10-20",`+"\n", ""), m, "letter", edited(delivered), false, "changed after it was written"},
		{"content taken out of the record", "delivered", edit(`"content": "`, `"content": "0`), m, "letter", edited(delivered), false, "not a record"},
		{"another unit in its folder", "delivered", func(t *testing.T, out string) {
			must(t, os.Rename(filepath.Join(out, unitName), filepath.Join(out, "BW-27-0119")))
			must(t, os.Mkdir(filepath.Join(out, unitName), 0o755))
		}, m, "letter", edited(delivered), false, "[revision-due]"},
		{"the vin under another serial", "before", nothing, m, "letter", strings.Replace(inMail, unitName, "BW-27-0119", 1), false, "[vin-taken]"},
		{"the vin of a unit whose record is lost", "before", lost, m, "letter", strings.Replace(inMail, unitName, "BW-27-0119", 1), false, "[vin-taken]"},
		{"the vin in a mail", "before", nothing, m, "letter", strings.Replace(inMail, unitName, "BW-27-0119", 1), true, "[vin-taken]"},
		{"the serial in other capitals", "before", nothing, m, "letter", strings.Replace(inMail, unitName, "bw-27-0118", 1), false, "write serial: BW-27-0118"},
		{"mailed, and mailed again", "before", mailed, m, "letter", edited(inMail), true, "revision A was mailed"},
		{"mailed, and written", "before", mailed, m, "letter", edited(inMail), false, "revision A was mailed"},
		{"mailed without a guide in the folder", "before", func(t *testing.T, out string) { away(t, out); mailed(t, out) }, m, "letter", edited(inMail), false, "revision A was mailed"},
	}
	for _, c := range testenv.Sample(t, cases, 9) {
		t.Run(c.name, func(t *testing.T) {
			out := guidesIn(t, c.folder)
			c.before(t, out)
			was, _ := os.ReadFile(filepath.Join(out, unitName, "guide.html"))
			var err error
			var said string
			if c.mail {
				said, err = mailSheet(c.maker, out, c.sheet)
			} else {
				said, err = writeSheet(c.maker, writeCommand{Out: out, Paper: c.paper}, c.sheet)
			}
			if err == nil || !strings.Contains(said, c.want) {
				t.Errorf("%v, want %q in\n%s", err, c.want, said)
			}
			if is, _ := os.ReadFile(filepath.Join(out, unitName, "guide.html")); !bytes.Equal(was, is) {
				t.Error("the guide that was there is another one now")
			}
		})
	}
}

// What is asked for is always a way out: the next letter, and the guide that was
// there is kept.
func TestNextLetterKeepsTheGuide(t *testing.T) {
	m := loaded(t)
	out := guidesIn(t, "delivered")
	was, err := os.ReadFile(filepath.Join(out, unitName, "guide.pdf"))
	must(t, err)
	next := strings.Replace(delivered, "revision: A", "revision: B", 1)
	if said, err := writeSheet(m, writeCommand{Out: out, Paper: "a4"}, next); err != nil {
		t.Fatal(said)
	}
	kept, err := os.ReadFile(filepath.Join(out, unitName, deliver.Revisions, "A", "guide.pdf"))
	if err != nil || !bytes.Equal(was, kept) {
		t.Errorf("the guide of revision A is not kept: %v", err)
	}
	if said, err := verifyFolder(m, true, out); err != nil {
		t.Error(said)
	}
}

// What needs no other letter is written under the one there is.
func TestSameGuideKeepsItsLetter(t *testing.T) {
	m := loaded(t)
	out := guidesIn(t, "delivered")
	for name, sheet := range map[string]string{"a comment": "# nothing new\n" + delivered, "the day of delivery": strings.Replace(delivered, "10-20", "10-21", 1)} {
		if said, err := writeSheet(m, writeCommand{Out: out}, sheet); err != nil || !strings.Contains(said, "1 written") {
			t.Errorf("%s: %s", name, said)
		}
	}
	if said, err := mailSheet(m, out, delivered); err != nil {
		t.Error(said)
	}
}

// A draft was given to nobody; a guide that was is not replaced by one.
func TestDraftsHaveNoLetter(t *testing.T) {
	m := loaded(t)
	out := filepath.Join(t.TempDir(), "drafts")
	for _, sheet := range []string{delivered, edited(delivered)} {
		if said, err := writeSheet(m, writeCommand{Out: out, drafts: true}, sheet); err != nil {
			t.Fatal(said)
		}
	}
	if said, err := verifyFolder(m, true, out); err != nil {
		t.Error(said)
	}
	if said, err := writeSheet(m, writeCommand{Out: out}, delivered); err != nil || !strings.Contains(said, "1 written") {
		t.Errorf("a guide in the place of a draft: %s", said)
	}
	if said, err := writeSheet(m, writeCommand{Out: out, drafts: true}, edited(delivered)); err == nil || !strings.Contains(said, "holds a guide that is no draft") {
		t.Errorf("a draft in the place of a guide: %s", said)
	}
}
