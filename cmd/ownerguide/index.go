package main

import (
	"bufio"
	"bytes"
	"cmp"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"errors"
	"fmt"
	"html"
	"html/template"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/deliver"
	"ownerguide/render/register"
	"ownerguide/spec/source"
)

// indexFile lists every unit of an output folder.
const indexFile = "index.html"

// The seal of an index is a remark.
const (
	sealBefore = "<!-- "
	sealAfter  = " -->"
)

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
	return c.index(t, cli.outputs(c.Force))
}

func (c *indexCommand) index(t *terminal, rules deliver.Rules) error {
	if info, err := os.Stat(c.Dir); err != nil || !info.IsDir() {
		return usagef("%s is not a folder", c.Dir)
	}
	if err := rules.Check(filepath.Join(c.Dir, indexFile), kindIndex); err != nil {
		return err
	}
	folder, err := rules.Open(c.Dir)
	if err != nil {
		return err
	}
	defer folder.Close()
	var found source.Findings
	counted := newCensus()
	s, err := takeStock(folder, c.Dir, true, func(p place, e register.Entry) {
		if p.absent {
			found.Add(gone(c.Dir, e))
		} else if e.Stamp != "" {
			found.Add(counted.add(c.Dir, e.Serial, e.VIN)...)
			found.Add(letterReused(c.Dir, e)...)
		}
	})
	if err != nil {
		return err
	}
	defer s.close()
	for _, u := range s.unread {
		found.Add(unreadUnit(c.Dir, u.name, u.err))
	}
	if s.damaged {
		t.note("%s", registerLost)
	}
	if err := errors.Join(s.settle(), t.sideFindings(found)); err != nil {
		return err
	}
	if err := t.line("%s", filepath.ToSlash(filepath.Join(c.Dir, indexFile))); err != nil {
		return err
	}
	if found.HasErrors() {
		return errFound
	}
	return nil
}

// index is the page that lists units, being written.
type index struct {
	out  *bufio.Writer
	tail []byte
}

// beginIndex writes what stands before the rows of so many units.
func beginIndex(w io.Writer, units int) (*index, error) {
	page, err := template.New(indexFile).Parse(indexPage)
	if err != nil {
		return nil, fmt.Errorf("index: %w", err)
	}
	var b bytes.Buffer
	err = page.Execute(&b, map[string]any{
		"Units": units,
		"Style": template.CSS(indexStyle), "StyleHash": contentHash(indexStyle),
		"Script": template.JS(indexScript), "ScriptHash": contentHash(indexScript),
	})
	if err != nil {
		return nil, fmt.Errorf("index: %w", err)
	}
	const rows = "<tbody>\n"
	before, after, _ := bytes.Cut(b.Bytes(), []byte(rows))
	out := bufio.NewWriterSize(w, 64<<10)
	_, _ = out.Write(before) // an error stays until the end
	_, _ = out.WriteString(rows)
	return &index{out, after}, nil
}

// end writes what stands after the rows, and tells whether all could be written.
func (x *index) end() error {
	_, _ = x.out.Write(x.tail)
	return x.out.Flush()
}

// linked are the files of a unit that its row leads to.
var linked = []struct{ name, text, label string }{
	{"guide.pdf", "PDF", "guide of %s as PDF"}, {"card.pdf", "card", "card of %s"}, {"service.ics", "dates", "service dates of %s"},
	{"calculations.html", "calculations", "calculations of %s"}, {"record.json", "record", "record of %s"},
}

// row lists one unit. A serial number has nothing that an address would have to
// write otherwise; a place without a record is named and leads nowhere.
func (x *index) row(p place, e register.Entry) {
	if e.Stamp == "" {
		x.write("<tr><th scope=\"row\">", html.EscapeString(p.name), "</th><td>no record that can be read</td>", strings.Repeat("<td></td>", 7), "</tr>\n")
		return
	}
	name := html.EscapeString(e.Serial)
	x.write("<tr><th scope=\"row\"><a href=\"", name, "/guide.html\">", name, "</a></th><td>", html.EscapeString(e.Model), "</td><td>", html.EscapeString(e.Buyer), "</td><td>", e.Revision)
	for _, k := range strings.Fields(e.Kept) {
		k, _, _ = strings.Cut(k, ":")
		x.write(" <a href=\"", name, "/revisions/", k, "/guide.html\" aria-label=\"revision ", k, " of ", name, "\">", k, "</a>")
	}
	x.write("</td><td class=\"date\">", e.Issued, "</td><td class=\"date\">", e.Delivered, "</td><td class=\"number\">", strconv.Itoa(e.Notes), "</td><td class=\"number\">", strconv.Itoa(e.Pages), "</td><td>")
	files := append(strings.Fields(e.Files), "record.json")
	for _, l := range linked {
		if slices.Contains(files, l.name) {
			x.write("<a href=\"", name, "/", l.name, "\" aria-label=\"", strings.Replace(l.label, "%s", name, 1), "\">", l.text, "</a> ")
		}
	}
	x.write("</td></tr>\n")
}

func (x *index) write(texts ...string) {
	for _, text := range texts {
		_, _ = x.out.WriteString(text)
	}
}

// contentHash names a style or script in a content security policy.
func contentHash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}
