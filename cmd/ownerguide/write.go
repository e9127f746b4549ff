package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"

	"ownerguide/render/deliver"
	"ownerguide/spec"
	"ownerguide/spec/source"
)

type writeCommand struct {
	Out     string   `default:"out" placeholder:"DIR" help:"Folder to write to; each unit gets a folder of its own in it."`
	Workers int      `placeholder:"N" help:"Units made at the same time; one per processor when left out."`
	Format  string   `enum:"text,json" default:"text" help:"text, or json for one JSON object per line and unit."`
	Sheets  []string `arg:"" name:"sheet" help:"Build sheets: files, folders, patterns, or - for standard input."`
}

// Help implements kong's help provider.
func (writeCommand) Help() string {
	return `Every unit without errors gets its guide; one with errors gets none, and the
guide it had before stays. The findings go to standard error.

Example:

  ownerguide write testdata/sheets/BW-27-0142.yaml`
}

// result is what became of one sheet.
type result struct {
	Serial   string          `json:"serial"`
	Status   string          `json:"status"` // written or refused
	Files    []string        `json:"files"`
	Pages    int             `json:"pages,omitempty"`
	Findings source.Findings `json:"findings"`
	sheet    string
	err      error
}

// Run writes the guides.
func (c *writeCommand) Run(cli *commands, ctx context.Context, t *terminal, in io.Reader) error {
	if c.Workers < 0 {
		return usagef("--workers %d: expected a number of workers from 1 up", c.Workers)
	}
	sheets, problems := readSheets(c.Sheets, in)
	m, err := cli.load(t.err)
	if err != nil {
		return err
	}
	clash := serialClashes(sheets)
	folder, err := deliver.Open(c.Out)
	if err != nil {
		return err
	}
	defer folder.Close()
	// A batch makes much garbage of one size: collecting it less often saves
	// a third of the time and costs some tens of megabytes.
	defer debug.SetGCPercent(debug.SetGCPercent(400))

	written, refused := 0, 0
	var failure error
	eachInOrder(sheets, c.Workers, func(f sheetFile) result {
		if ctx.Err() != nil {
			return result{err: ctx.Err()}
		}
		return c.one(m, folder, f, clash)
	}, func(f sheetFile, r result) bool {
		if ctx.Err() != nil {
			return false
		}
		if r.err != nil {
			failure = errors.Join(failure, fmt.Errorf("%s: %w", f.name, r.err))
		}
		if r.Status == "written" {
			written++
		} else {
			refused++
		}
		t.progress("%d of %d", written+refused, len(sheets))
		if err := c.report(t, r); err != nil {
			failure = errors.Join(failure, err)
			return false
		}
		return true
	})
	t.done()
	if c.Format == "text" {
		t.note("%d written, %d refused", written, refused)
	}
	if err := errors.Join(problems, failure); err != nil {
		return err
	}
	if refused > 0 {
		return errFound
	}
	return nil
}

// serialClashes finds sheets of one run that would write to the same folder.
func serialClashes(sheets []sheetFile) map[string]source.Findings {
	var read []*spec.Sheet
	for _, f := range sheets {
		if s, _ := spec.ReadSheet(f.name, f.data); s != nil {
			read = append(read, s)
		}
	}
	out := map[string]source.Findings{}
	for _, f := range spec.CheckRun(read) {
		out[f.Pos.File] = append(out[f.Pos.File], f)
		for _, r := range f.Related { // neither of the two is written: which one is right is not ours to say
			if r.Pos.File != f.Pos.File {
				other := f
				other.Pos, other.Related = r.Pos, []source.Related{{Pos: f.Pos, Message: "here too"}}
				out[r.Pos.File] = append(out[r.Pos.File], other)
			}
		}
	}
	return out
}

func (c *writeCommand) one(m *maker, folder *deliver.Folder, f sheetFile, clash map[string]source.Findings) result {
	u := m.read(f)
	u.findings.Add(clash[f.name]...)
	m.assemble(u)
	r := result{Status: "refused", Files: []string{}, sheet: f.name}
	if u.sheet != nil {
		r.Serial = u.sheet.Serial.Value
	}
	files, pages, err := m.files(u)
	r.Findings = u.findings.Sorted()
	if err != nil || files == nil {
		r.err = err
		return r
	}
	if r.err = folder.Replace(r.Serial, files); r.err != nil {
		return r
	}
	r.Status, r.Pages = "written", pages
	for _, file := range files {
		r.Files = append(r.Files, filepath.ToSlash(filepath.Join(c.Out, r.Serial, file.Name)))
	}
	return r
}

func (c *writeCommand) report(t *terminal, r result) error {
	if c.Format == "json" {
		if r.Findings == nil {
			r.Findings = source.Findings{}
		}
		data, err := json.Marshal(r)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintf(t.out, "%s\n", data)
		return err
	}
	t.done()
	if err := r.Findings.WriteText(t.err); err != nil {
		return err
	}
	if r.Status != "written" {
		_, err := fmt.Fprintf(t.out, "refused %s\n", r.sheet)
		return err
	}
	_, err := fmt.Fprintf(t.out, "written %s (%d pages)\n", filepath.ToSlash(filepath.Join(c.Out, r.Serial)), r.Pages)
	return err
}
