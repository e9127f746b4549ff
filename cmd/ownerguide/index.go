package main

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"ownerguide/render/deliver"
	"ownerguide/render/record"
)

// indexFile lists every unit of an output folder.
const indexFile = "index.html"

//go:embed index.html
var indexPage string

//go:embed index.css
var indexStyle string

//go:embed index.js
var indexScript string

type indexCommand struct {
	forceFlag
	Dir string `arg:"" optional:"" complete:"folder" help:"Output folder of write; out, or that of the project, when left out."`
}

// Help implements kong's help provider.
func (indexCommand) Help() string {
	return `write does this at its end; on its own the command serves after folders of units
were taken away or copied in.

Example:

  ownerguide index out`
}

// Run writes the index anew.
func (c *indexCommand) Run(cli *commands, t *terminal) error {
	c.Dir = cmp.Or(c.Dir, cli.outFolder())
	if info, err := os.Stat(c.Dir); err != nil || !info.IsDir() {
		return usagef("%s is not a folder", c.Dir)
	}
	rules := cli.outputs(c.Force)
	if err := rules.Check(filepath.Join(c.Dir, indexFile), kindIndex); err != nil {
		return err
	}
	folder, err := rules.Open(c.Dir)
	if err != nil {
		return err
	}
	defer folder.Close()
	if err := writeIndex(folder, c.Dir); err != nil {
		return err
	}
	return t.line("%s", filepath.ToSlash(filepath.Join(c.Dir, indexFile)))
}

// indexRow is one unit as the index shows it.
type indexRow struct {
	*record.Record
	Address string // of its folder, as a link
	Kept    []string
}

// Has tells whether the unit was delivered with a file.
func (r indexRow) Has(name string) bool {
	return slices.ContainsFunc(r.Files, func(f record.Delivered) bool { return f.Name == name })
}

// writeIndex lists the units that stand in a folder. What has no record is not listed.
func writeIndex(folder *deliver.Folder, dir string) error {
	units, err := unitsIn(dir)
	if err != nil {
		return err
	}
	rows := make([]indexRow, 0, len(units))
	for _, name := range units {
		h, err := historyOf(filepath.Join(dir, name))
		if err != nil {
			return err
		}
		row := indexRow{Record: h.current, Address: name}
		for _, r := range h.earlier {
			row.Kept = append(row.Kept, r.Revision)
		}
		rows = append(rows, row)
	}
	page, err := template.New(indexFile).Parse(indexPage)
	if err != nil {
		return fmt.Errorf("index: %w", err)
	}
	var b bytes.Buffer
	err = page.Execute(&b, map[string]any{
		"Rows":  rows,
		"Style": template.CSS(indexStyle), "StyleHash": contentHash(indexStyle),
		"Script": template.JS(indexScript), "ScriptHash": contentHash(indexScript),
	})
	if err != nil {
		return fmt.Errorf("index: %w", err)
	}
	return folder.Put(deliver.File{Name: indexFile, Data: deliver.Seal(b.Bytes(), "<!-- ", " -->")})
}

// contentHash names a style or script in a content security policy.
func contentHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// unitsIn names the folders that hold a unit's guide, sorted.
func unitsIn(dir string) ([]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", dir, plainError(err))
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if _, err := os.Lstat(filepath.Join(dir, e.Name(), record.File)); err == nil {
			out = append(out, e.Name())
		} else if !errors.Is(err, fs.ErrNotExist) {
			return nil, fmt.Errorf("reading %s: %w", dir, plainError(err))
		}
	}
	return out, nil
}
