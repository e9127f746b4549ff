package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"ownerguide/render/deliver"
	"ownerguide/render/record"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

type verifyCommand struct {
	Format  string   `enum:"text,json" default:"text" help:"text, or json for one array of what is wrong."`
	Folders []string `arg:"" optional:"" name:"dir" complete:"unit" help:"Folders of units, or the output folder that holds them; out, or that of the project, when left out."`
}

// Help implements kong's help provider.
func (verifyCommand) Help() string {
	return `Every file is held against the record beside it, the earlier revisions too. Where
line, templates and program are those of the record, the guide is made again
from the copy of its sheet and must come out the same, byte for byte; where they
are not, a note says so.

Example:

  ownerguide verify out`
}

// What verify can find.
var (
	codeFileDamaged = source.Code{ID: "file-damaged", Severity: source.Error, Protects: "a guide that was changed by hand or cut short may give a wrong figure"}
	codeFileStray   = source.Code{ID: "file-stray", Severity: source.Warning, Protects: "a file that no record knows may pass for part of the guide"}
	codeRemade      = source.Code{ID: "remade-differs", Severity: source.Error, Protects: "a guide that its own inputs do not give cannot be trusted to follow from them"}
	codeOtherInputs = source.Code{ID: "other-inputs", Severity: source.Note, Protects: "only the program, line and templates of a record can make its guide again"}
)

func verifyCodes() []source.Code {
	return []source.Code{codeFileDamaged, codeFileStray, codeRemade, codeOtherInputs}
}

// Run verifies units and prints what is wrong with them.
func (c *verifyCommand) Run(cli *commands, ctx context.Context, t *terminal) error {
	if len(c.Folders) == 0 {
		c.Folders = []string{cli.outFolder()}
	}
	var folders []string
	for _, dir := range c.Folders {
		found, err := unitFolders(dir)
		if err != nil {
			return err
		}
		folders = append(folders, found...)
	}
	m, err := cli.load(t)
	if err != nil {
		return err
	}
	var all source.Findings
	count := 0
	eachInOrder(folders, 0, func(folder string) source.Findings {
		if ctx.Err() != nil {
			return nil
		}
		return m.verify(folder)
	}, func(_ string, found source.Findings) bool {
		all.Add(found...)
		count++
		t.bar(count, len(folders))
		return ctx.Err() == nil
	})
	t.done()
	if c.Format == "json" {
		if all == nil {
			all = source.Findings{}
		}
		err = t.json(all.Sorted())
	} else {
		if err = t.findings(all); err == nil {
			t.note("%d units verified, %d with something wrong", count, unitsWithErrors(all, folders))
		}
	}
	if err == nil && all.HasErrors() {
		return errFound
	}
	return err
}

// unitsWithErrors counts the folders that an error lies in.
func unitsWithErrors(all source.Findings, folders []string) (n int) {
	for _, folder := range folders {
		if slices.ContainsFunc(all, func(f source.Finding) bool {
			return f.Severity == source.Error && strings.HasPrefix(f.Pos.File, filepath.ToSlash(folder)+"/")
		}) {
			n++
		}
	}
	return n
}

// unitFolders is the folder itself when it holds a unit, or the units in it.
func unitFolders(dir string) ([]string, error) {
	if _, err := os.Stat(filepath.Join(dir, record.File)); err == nil {
		return []string{filepath.Clean(dir)}, nil
	}
	names, err := unitsIn(dir)
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%s: no %s here or in the folders in it; expected what write made", dir, record.File)
	}
	for i, name := range names {
		names[i] = filepath.Join(dir, name)
	}
	return names, nil
}

// verify holds one unit's folder, and every revision kept in it, against their records.
func (m *maker) verify(folder string) (found source.Findings) {
	h, err := historyOf(folder)
	if err != nil {
		found.Add(codeFileDamaged.At(source.Pos{File: path.Join(filepath.ToSlash(folder), record.File)}, "%v", err))
		return found
	}
	found.Add(m.verifyOne(folder, h.current, h)...)
	for _, r := range h.earlier {
		found.Add(m.verifyOne(filepath.Join(folder, deliver.Revisions, r.Revision), r, h)...)
	}
	return found
}

func (m *maker) verifyOne(folder string, r *record.Record, h *history) (found source.Findings) {
	at := func(name string) source.Pos { return source.Pos{File: path.Join(filepath.ToSlash(folder), name)} }
	for _, f := range r.Files {
		if problem := damaged(folder, f); problem != "" {
			found.Add(codeFileDamaged.At(at(f.Name), "the file %s", problem))
		}
	}
	found.Add(strays(folder, r)...)
	if found.HasErrors() {
		return found
	}
	sheetData, err := readAtMost(filepath.Join(folder, sheet.CopyName), source.SheetLimit)
	if err != nil {
		found.Add(codeFileDamaged.At(at(sheet.CopyName), "%v", err))
		return found
	}
	inputs := m.inputs
	inputs.Sheet = record.Digest(sheetData)
	if r.Inputs != inputs || r.Program != version() {
		found.Add(codeOtherInputs.At(at(record.File), "made by %s with %s and other words or figures than these; its files were held against the record only", r.Program, r.Line))
		return found
	}
	return append(found, m.remake(folder, r, sheetData, h)...)
}

// strays are files in a unit's folder that its record does not know.
func strays(folder string, r *record.Record) (found source.Findings) {
	known := map[string]bool{record.File: true}
	for _, f := range r.Files {
		known[f.Name] = true
	}
	_ = fs.WalkDir(os.DirFS(folder), ".", func(name string, e fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case name == deliver.Revisions:
			return fs.SkipDir
		case !e.IsDir() && !known[name]:
			found.Add(codeFileStray.At(source.Pos{File: path.Join(filepath.ToSlash(folder), name)}, "the record does not know this file"))
		}
		return nil
	})
	return found
}

// remake makes a guide again from the copy of its sheet and compares every file.
func (m *maker) remake(folder string, r *record.Record, sheetData []byte, h *history) (found source.Findings) {
	at := func(name string) source.Pos { return source.Pos{File: path.Join(filepath.ToSlash(folder), name)} }
	u := m.read(sheetFile{at(sheet.CopyName).File, sheetData})
	m.assemble(u)
	m.follow(u, &history{folder: folder, current: h.before(r.Revision)})
	files, err := m.files(u, r.Print)
	if err != nil || files == nil {
		found.Add(codeRemade.At(at(sheet.CopyName), "the guide cannot be made again from this sheet: %v", err))
		return append(found, u.findings...)
	}
	for _, f := range files {
		stands, err := os.ReadFile(filepath.Join(folder, f.Name))
		if err != nil || !bytes.Equal(stands, f.Data) {
			found.Add(codeRemade.At(at(f.Name), "made again from its sheet, this file comes out differently"))
		}
	}
	return found
}
