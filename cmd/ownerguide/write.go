package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
	"ownerguide/render/doc"
	"ownerguide/render/pdf"
	"ownerguide/render/record"
	"ownerguide/render/register"
	"ownerguide/spec/parallel"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

type writeCommand struct {
	guide.LineFlag
	Out      string   `short:"o" aliases:"output" placeholder:"DIR" complete:"folder" help:"Folder to write to; out, or that of the project, when left out (drafts while watching); each unit gets a folder of its own in it."`
	Force    bool     `short:"f" help:"Make guides anew even where nothing they are made from has changed, and write over files that are not as this program wrote them. Files the run reads are never written over."`
	DryRun   bool     `short:"n" help:"Make everything and write nothing: tells which units would be written, which stand unchanged and which are refused."`
	Watch    bool     `short:"w" help:"Stay, and make guides again when a sheet, the line or a template changes; Ctrl-C ends it."`
	Paper    string   `enum:"letter,a4," default:"" help:"Paper of the printed guide, letter or a4; the card is half a sheet of it. Letter, or that of the project, when left out."`
	Booklet  bool     `help:"Also write booklet.pdf, for printing on both sides and folding; it has no tags."`
	Together string   `placeholder:"FILE" complete:"file" help:"Also write all guides of the run into one PDF, for the print room."`
	Workers  int      `short:"j" aliases:"jobs" placeholder:"N" help:"Units made at the same time, each on one processor; one per processor when left out."`
	Format   string   `enum:"text,json" default:"text" help:"text, or json for one JSON object per line and unit."`
	Sheets   []string `arg:"" name:"sheet" complete:"sheet" help:"Build sheets: files, folders, patterns, or - for standard input."`

	drafts bool          // the output is drafts, in a folder of their own
	rules  deliver.Rules // for what is written
}

// howToFold is printed once after a run that made booklets.
const howToFold = "booklet.pdf: print on both sides, turned over the short edge; fold each signature in the middle, staple it there, lay the signatures on one another"

// result is the result for one sheet.
type result struct {
	Serial   string          `json:"serial"`
	Status   string          `json:"status"` // written, fresh, refused or wouldWrite
	Files    []string        `json:"files"`
	Pages    int             `json:"pages,omitempty"`
	Findings source.Findings `json:"findings"`
	sheet    string
	guide    *doc.Guide      // kept for the print room
	unit     output.UnitRead // what the register is to know
	from     string          // what the guide was made from, unless the register knows
	placed   <-chan error    // how putting the files in place ended; nil if nothing is to be put
	err      error
}

// Run writes the guides.
func (c *writeCommand) Run(cli *commands, ctx context.Context, t *terminal.Terminal, in io.Reader) error {
	if c.Workers < 0 {
		return terminal.Usagef("--workers %d: expected a number of workers from 1 up", c.Workers)
	}
	c.Paper = cmp.Or(c.Paper, cli.paper, string(pdf.Letter))
	if c.Watch && c.DryRun {
		return terminal.Usagef("--dry-run and --watch exclude each other; what --watch makes are drafts in a folder of their own")
	}
	if c.Watch && c.Together != "" {
		return terminal.Usagef("--together and --watch exclude each other; put the guides together when the drafts are done")
	}
	if c.Watch {
		c.drafts = true
		c.Out = cmp.Or(c.Out, "drafts")
		return c.watch(cli, ctx, t)
	}
	c.Out = cmp.Or(c.Out, cli.outFolder())
	largePages()
	sheets, unread := input.ReadSheets(c.Sheets, in)
	c.rules = cli.outputs(c.Force, namesOf(sheets)...)
	var d *guide.Delivery
	m, err := cli.load(t, func() error {
		// Reading a large folder takes as long as reading the line, so do both at once. A new
		// folder is not created for a line that may be refused.
		if _, err := os.Lstat(filepath.Join(c.Out, output.RegisterFile)); err == nil && len(sheets) > 0 {
			d, _ = c.open(sheets) // tried again below, which reports the error
		}
		return nil
	})
	if d != nil {
		defer d.Close()
	}
	if err == nil {
		err = cli.proveBefore(m)
	}
	if err == nil {
		err = t.SideFindings(unread)
	}
	if err == nil && d == nil && len(sheets) > 0 {
		if d, err = c.open(sheets); err == nil {
			defer d.Close()
		}
	}
	if err == nil && d != nil {
		input.Forget(sheets)
		err = c.batch(ctx, t, m, d, sheets)
	}
	if err == nil && unread.HasErrors() {
		return terminal.ErrFound
	}
	return err
}

// checkPlaces checks that the results of the run may be written, before they are
// made.
func (c *writeCommand) checkPlaces() error {
	err := c.rules.CheckFolder(c.Out)
	if err == nil {
		err = c.rules.Check(filepath.Join(c.Out, output.IndexFile), output.KindIndex)
	}
	if c.Together != "" {
		if bad := c.rules.Check(c.Together, kindTogether); bad != nil {
			err = errors.Join(err, fmt.Errorf("--together %w", bad))
		}
	}
	return err
}

// open opens the folder to which sheets are written.
func (c *writeCommand) open(sheets []input.SheetFile) (*guide.Delivery, error) {
	if err := c.checkPlaces(); err != nil {
		return nil, err
	}
	if c.DryRun {
		return guide.OpenDelivery(c.rules.Look, c.Out, sheets)
	}
	return guide.OpenDelivery(c.rules.Open, c.Out, sheets)
}

// batch writes the guides of sheets.
func (c *writeCommand) batch(ctx context.Context, t *terminal.Terminal, m *guide.Maker, d *guide.Delivery, sheets []input.SheetFile) error {
	made, err := guide.ProgramDigest()
	if err != nil {
		return err
	}
	makeRoom(min(len(sheets), cmp.Or(c.Workers, parallel.Processors)))
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(c.threads()))
	count := map[string]int{}
	var failure error
	var printRoom *pdf.Together
	if c.Together != "" && !c.DryRun {
		printRoom = pdf.NewTogether(pdf.Options{Paper: pdf.Paper(c.Paper)})
	}
	// Whatever stops the run, units in progress are completed, and every guide written
	// is counted and reported.
	going, stop := context.WithCancel(ctx)
	defer stop()
	var unheard error         // the results can no longer be printed
	var later source.Findings // warnings about guides that were written
	parallel.InOrder(sheets, c.Workers, func(f input.SheetFile) (result, error) {
		if going.Err() != nil {
			return result{}, nil
		}
		r := c.one(m, d, f, made)
		return r, r.err
	}, func(f input.SheetFile, r result, err error) bool {
		if r.Status == "" && err == nil { // it was not started
			return true
		}
		if r.placed != nil {
			err = <-r.placed
		}
		if err != nil {
			failure = errors.Join(failure, fmt.Errorf("%s: %w", f.Name, err))
			r = result{Serial: r.Serial, Status: refused, Files: []string{}, Findings: r.Findings, sheet: f.Name}
		}
		if r.Status != refused && c.Format == "text" {
			later.Add(r.Findings...)
			r.Findings = nil
		}
		count[r.Status]++
		if r.from != "" && !c.DryRun {
			d.Wrote(r.unit, made, r.from)
		}
		if r.guide != nil && printRoom != nil {
			if err := printRoom.Add(r.guide); err != nil {
				failure, printRoom = errors.Join(failure, fmt.Errorf("putting the guides together: %w", err)), nil
			}
			debug.SetMemoryLimit(debug.SetMemoryLimit(-1) + printMemory)
		}
		t.Bar(count[written]+count[wouldWrite]+count[fresh]+count[refused], len(sheets))
		if unheard == nil {
			if unheard = c.report(t, r); unheard != nil {
				stop()
			}
		}
		return true
	})
	t.Done()
	failure = errors.Join(failure, unheard, t.SideFindings(later))
	if !c.DryRun {
		failure = errors.Join(failure, d.Inventory.Save()) // of an interrupted run too: its guides are written
		if going.Err() == nil {
			failure = errors.Join(failure, c.putTogether(t, printRoom))
		}
	}
	d.Report(t)
	switch {
	case c.Format != "text":
	case c.DryRun:
		t.Note("dry run, nothing is written: %d to be written, %d unchanged, %d refused", count[wouldWrite], count[fresh], count[refused])
	default:
		if c.Booklet && count[written]+count[fresh] > 0 {
			failure = errors.Join(failure, t.Line("%s", howToFold))
		}
		t.Note("%d written, %d unchanged, %d refused", count[written], count[fresh], count[refused])
	}
	if failure == nil && count[refused] > 0 {
		return terminal.ErrFound
	}
	return failure
}

// threads returns how many threads are to work at the same time.
func (c *writeCommand) threads() int {
	if 0 < c.Workers && c.Workers < parallel.Processors {
		return c.Workers // the other processors are for other programs: nor does garbage collection take them
	}
	// A unit that waits for the disk keeps its processor until the runtime notices: with others for those, two workers write
	// 100 units in 2.05 s instead of 2.2.
	return 2 * parallel.Processors
}

// The results for a unit.
const (
	written = "written"
	fresh   = "fresh" // none of its inputs has changed
	refused = "refused"

	wouldWrite = "would-write" // in a dry run
)

func (c *writeCommand) one(m *guide.Maker, d *guide.Delivery, f input.SheetFile, made string) result {
	r := result{Status: refused, Files: []string{}, Serial: d.Serials[f.Name], sheet: f.Name}
	clash := d.Clash[f.Name]
	if f, r.err = f.Again(); r.err != nil {
		return r
	}
	if r.Serial == "" { // that of a faulty sheet may lead anywhere
		u := m.Read(f)
		u.Add(clash...)
		if r.Findings = u.Findings.Sorted(); u.Sheet != nil {
			r.Serial = u.Sheet.Serial.Value
		}
		return r
	}
	entry, current := d.Known[r.Serial], m
	if state := entry.State; !c.Force && c.Together == "" && len(clash) == 0 && state != "" && state == d.Inventory.StateOf(entry, c.from(m, f.Data, made)) {
		return c.done(r, fresh, entry.Pages, strings.Fields(entry.Files))
	}
	h, err := output.HistoryOf(filepath.Join(c.Out, r.Serial))
	if err != nil {
		r.err = terminal.WithHint(err, "put its files back from a copy; if this program did not write the folder, move it out of %s", filepath.ToSlash(c.Out))
		return r
	}
	defer h.Close()
	if c.drafts && h.Current != nil && !h.Current.Draft {
		r.err = terminal.WithHint(fmt.Errorf("%s holds a guide that is no draft", filepath.Join(c.Out, r.Serial)), "name a folder for drafts with --out")
		return r
	}
	s, found := sheet.Read(f.Name, f.Data)
	if !c.drafts {
		if m, r.err = c.LineFlag.Of(m, s.Identity(), h, entry.Letter); r.err != nil {
			return r
		}
	}
	since := m.Since(s.Identity(), current)
	if !c.Force && len(clash) == 0 && c.isFresh(m, h, f.Data, entry, made) {
		if c.Together != "" && !c.DryRun {
			again, err := m.Again(f, h)
			if err != nil {
				r.err = err
				return r
			}
			r.guide = again.Guide
		}
		r.Findings, r.unit, r.from = since, output.UnitRead{Name: r.Serial, Record: h.Current, Data: h.Data}, c.from(m, f.Data, made)
		return c.done(r, fresh, h.Current.Pages, h.Current.Names())
	}

	if name := h.Changed(); name != "" && !c.Force {
		r.err = terminal.WithHint(fmt.Errorf("%s was changed after it was written", filepath.ToSlash(filepath.Join(h.Folder, name))),
			"move it to another place and write again, or lose the change with --force")
		return r
	}

	u := m.Calculate(s, found)
	u.Add(clash...)
	var earlier *record.Record
	if !c.drafts { // a draft is not delivered, so there is nothing to report
		earlier, r.err = m.Before(u, h)
	}
	m.Assemble(u, earlier)
	keep := ""
	if u.Guide != nil {
		u.Record.Print = c.print()
		u.Record.Kept, keep = h.Kept(u.Record.Revision)
		if c.drafts {
			u.Draft()
		} else {
			u.CheckRevision(h, entry.Letter)
		}
	}
	var files []deliver.File
	if r.err == nil {
		files, r.err = m.Files(u)
	}
	m.InOwnLine(u, current)
	r.Findings = slices.Concat(u.Findings, since).Sorted()
	if r.err != nil || files == nil {
		return r
	}
	if c.DryRun {
		return c.done(r, wouldWrite, u.Record.Pages, u.Record.Names())
	}
	r.placed = d.Place(r.Serial, files, h.Files(), keep)
	r.unit, r.from = output.UnitRead{Name: r.Serial, Record: u.Record, Data: files[len(files)-1].Data}, c.from(m, f.Data, made)
	r = c.done(r, written, u.Record.Pages, u.Record.Names())
	if c.Together != "" {
		r.guide = u.Guide
	}
	return r
}

// putTogether writes the guides of a run into one file, if requested.
func (c *writeCommand) putTogether(t *terminal.Terminal, printRoom *pdf.Together) error {
	if printRoom == nil || printRoom.Guides() == 0 {
		return nil
	}
	data, report, err := printRoom.Finish()
	if err != nil {
		return fmt.Errorf("putting the guides together: %w", err)
	}
	if _, err := c.rules.Write(c.Together, kindTogether, data); err != nil {
		return err
	}
	if c.Format == "json" {
		return t.JSONLine(together{filepath.ToSlash(c.Together), printRoom.Guides(), report.Pages})
	}
	return t.Line("together %s (%s, %s)", filepath.ToSlash(c.Together), terminal.Counted(printRoom.Guides(), "guide"), terminal.Counted(report.Pages, "page"))
}

// together is the result for the print room's file, as JSON.
type together struct {
	File   string `json:"together"`
	Guides int    `json:"guides"`
	Pages  int    `json:"pages"`
}

// isFresh reports whether making a guide again would not change it. Entry is the register
// entry of the unit.
func (c *writeCommand) isFresh(m *guide.Maker, h *output.History, sheetData []byte, entry register.Entry, made string) bool {
	if h.Current == nil || entry.Made != made || entry.Digest != record.Digest(h.Data) {
		return false
	}
	inputs := m.Inputs
	inputs.Sheet = record.Digest(sheetData)
	return h.Current.Inputs == inputs && h.Current.Print == c.print() && h.Current.Draft == c.drafts && h.Current.Proof == m.Proof && h.Whole()
}

// print returns how the files are to be printed according to the command line.
func (c *writeCommand) print() record.Print {
	return record.Print{Paper: c.Paper, Booklet: c.Booklet}
}

// from returns what a guide is made from, as a text.
func (c *writeCommand) from(m *guide.Maker, sheetData []byte, made string) string {
	return fmt.Sprint(made, m.Inputs, record.Digest(sheetData), c.print(), c.drafts, m.Proof)
}

// done completes a result with the files now in place.
func (c *writeCommand) done(r result, status string, pages int, names []string) result {
	r.Status, r.Pages = status, pages
	for _, name := range append(names, record.File) {
		r.Files = append(r.Files, filepath.ToSlash(filepath.Join(c.Out, r.Serial, name)))
	}
	return r
}

func (c *writeCommand) report(t *terminal.Terminal, r result) error {
	if c.Format == "json" {
		if r.Findings == nil {
			r.Findings = source.Findings{}
		}
		return t.JSONLine(r)
	}
	t.Done()
	if err := t.SideFindings(r.Findings); err != nil {
		return err
	}
	if r.Status == refused {
		return t.Line("refused %s", r.sheet)
	}
	return t.Line("%s %s (%d pages)", word[r.Status], filepath.ToSlash(filepath.Join(c.Out, r.Serial)), r.Pages)
}

var word = map[string]string{written: "written", fresh: "unchanged", wouldWrite: "would write"}
