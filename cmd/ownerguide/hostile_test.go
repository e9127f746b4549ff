package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec/line"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

const hostile = "../../testdata/hostile"

// What a sheet, a line or templates may never bring about: a panic, a run
// without end, more memory than memoryCap, a file outside the output folder.
const memoryCap = 256 << 20 // bytes for one unit

// tame runs the program on something hostile and holds it against what it
// promises whatever it is given.
func tame(t *testing.T, dir string, args ...string) outcome {
	t.Helper()
	o := ran(t, dir, args...)
	if !slices.Contains([]int{exitClean, exitErrors, exitUsage}, o.code) {
		t.Errorf("exit %d\n%s", o.code, head(o.stderr))
	}
	if strings.Contains(o.stderr, "internal error") || strings.Contains(o.stderr, "goroutine ") {
		t.Errorf("it fell over:\n%s", head(o.stderr))
	}
	if o.code != exitClean && o.stderr+o.stdout == "" {
		t.Errorf("exit %d without a word", o.code)
	}
	if o.peak > memoryCap {
		t.Errorf("it took %d MiB of memory", o.peak>>20)
	}
	return o
}

func head(s string) string { return s[:min(len(s), 1500)] }

// expectedFindings reads testdata/hostile/expected.txt: sheet → codes.
func expectedFindings(t *testing.T) map[string][]string {
	t.Helper()
	file, err := os.Open(filepath.Join(hostile, "expected.txt"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	want := map[string][]string{}
	for lines := bufio.NewScanner(file); lines.Scan(); {
		if name, codes, ok := strings.Cut(lines.Text(), ": "); ok && !strings.HasPrefix(name, "#") {
			want[name] = strings.Fields(codes)
		}
	}
	return want
}

// Every sheet of the corpus is refused for the reason that is written beside
// it, all in one run of the program as people use it.
func TestHostileSheetsAreRefusedByName(t *testing.T) {
	want := expectedFindings(t)
	sheets, _ := filepath.Glob(filepath.Join(hostile, "sheets", "*.yaml"))
	if len(sheets) != len(want) {
		t.Errorf("%d sheets, and of %d is written what is wrong with them", len(sheets), len(want))
	}
	sheets = testenv.Sample(t, sheets, 25)
	o := tame(t, ".", append([]string{"check", "--format", "json"}, sheets...)...)
	var findings []struct{ File, Severity, Code, Message string }
	if err := json.Unmarshal([]byte(o.stdout), &findings); err != nil {
		t.Fatalf("%v\n%s", err, head(o.stderr))
	}
	got := map[string][]string{}
	for _, f := range findings {
		// The sheets of the corpus share serial number and vin: that is not what is asked here.
		if f.Severity != "note" && f.Code != "serial-repeated" && f.Code != "vin-repeated" {
			name := strings.TrimSuffix(filepath.Base(f.File), ".yaml")
			got[name] = append(got[name], f.Code)
		}
		if f.Code == "glyph-missing" && !strings.Contains(f.Message, "U+") {
			t.Errorf("%s: which character is missing? %s", f.File, f.Message)
		}
	}
	for _, sheet := range sheets {
		name := strings.TrimSuffix(filepath.Base(sheet), ".yaml")
		codes := slices.Sorted(slices.Values(got[name]))
		if codes = slices.Compact(codes); len(codes) == 0 {
			codes = []string{"clean"}
		}
		if !slices.Equal(codes, want[name]) {
			t.Errorf("%s: %q, want %q", name, codes, want[name])
		}
	}
}

// Text with markup in it is text: the page of a hostile unit has the elements
// and attributes of the same unit with plain words, and shows the text as typed.
func TestHostileTextStaysText(t *testing.T) {
	plain := skeleton(t, writtenPage(t, "text-one-long-word"))
	texts := map[string]string{
		"text-script": "<script>alert(1)</script>", "text-attribute": `" onmouseover="alert(1)" x="`, "text-image": "<img src=x onerror=alert(1)>",
		"text-entity": "&lt;script&gt; &#60;b&#62; &amp;", "text-style": "</style><style>*{display:none}</style>", "text-comment": "--> <!-- ]]>",
		"text-close": "</title></body></html>", "text-svg": "<svg onload=alert(1)>", "text-braces": "{tires.cold_pressure} {sheet.serial} {?braked} {{.}} {% x %} ${x}",
		"text-markdown": "# a **b** [c](javascript:alert(1)) ![d](http://example.com/x) `e`", "text-pdf": `) Tj ET (x \\ endstream endobj %%EOF`,
	}
	for _, name := range testenv.Sample(t, slices.Sorted(maps.Keys(texts)), 3) {
		t.Run(name, func(t *testing.T) {
			page := writtenPage(t, name)
			if got := skeleton(t, page); got.tags != plain.tags {
				t.Error("the text brought elements or attributes into the page")
			} else if !strings.Contains(got.text, texts[name]) {
				t.Errorf("the page does not show %q", texts[name])
			}
		})
	}
}

// writtenPage is the guide of one sheet of the corpus; the only files are in
// the output folder.
func writtenPage(t *testing.T, name string) []byte {
	t.Helper()
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	if code, _, stderr := program(t, "write", "--out", out, filepath.Join(hostile, "sheets", name+".yaml")); code != exitClean {
		t.Fatalf("exit %d\n%s", code, stderr)
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 1 {
		t.Errorf("files outside the output folder: %v", entries)
	}
	page, err := os.ReadFile(filepath.Join(out, "HOSTILE-1", "guide.html"))
	if err != nil {
		t.Fatal(err)
	}
	return page
}

type pageParts struct{ tags, text string }

// skeleton takes a page apart with the standard library's reader.
func skeleton(t *testing.T, page []byte) pageParts {
	t.Helper()
	var tags, text strings.Builder
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		token, err := d.Token()
		switch {
		case errors.Is(err, io.EOF):
			return pageParts{tags.String(), text.String()}
		case err != nil:
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			fmt.Fprintf(&tags, "<%s", token.Name.Local)
			for _, a := range token.Attr {
				fmt.Fprintf(&tags, " %s", a.Name.Local)
			}
		case xml.EndElement:
			fmt.Fprintf(&tags, ">")
		case xml.CharData:
			text.Write(token)
		}
	}
}

// Sheets too large to keep in the project.
func TestHugeSheets(t *testing.T) {
	const mebibyte = 1 << 20
	good, err := os.ReadFile("../../testdata/sheets/BW-27-0118.yaml")
	if err != nil {
		t.Fatal(err)
	}
	upTo := func(n int, what string) string { return strings.Repeat(what, n/len(what)) }
	padded := string(good) + upTo(mebibyte-len(good), "# nothing here\n")
	var bomb, chain strings.Builder
	for i := range 30000 {
		fmt.Fprintf(&bomb, "k%d: &b%d [*b0, *b0]\n", i, i)
		fmt.Fprintf(&chain, "k%d: v\n", i)
	}
	for _, c := range []struct{ name, data, want string }{
		{"as large as may be", padded, ""},
		{"one byte more", padded + strings.Repeat("#", mebibyte-len(padded)+1), "file-too-large"},
		{"a hundred megabytes", upTo(100*mebibyte, "notes: again and again\n"), "file-too-large"},
		{"a list without end", "options: [" + upTo(mebibyte-20, "a,") + "]", "file-too-large"},
		{"lines of a list", "options:\n" + upTo(mebibyte-20, "- a\n"), "file-too-large"},
		{"keys without end", chain.String(), "file-too-large"},
		{"an alias bomb", bomb.String(), "file-too-large"},
		{"lists in lists", "a: " + upTo(mebibyte-20, "["), "file-too-large"},
		{"lists in lists, fewer", "a: " + strings.Repeat("[", 9000), "yaml-syntax"},
		{"keys in keys", "a: " + strings.Repeat("{a: ", 4000), "yaml-syntax"},
		{"steps of a list", strings.Repeat("- ", 7000), "yaml-"},
		{"questions", strings.Repeat("? ", 7000), "a key must be a single word"},
		{"one long word", "notes: " + upTo(mebibyte-20, "w"), "text-too-long"},
		{"one long quoted text", `notes: "` + upTo(mebibyte-20, `\n`) + `"`, "text-too-long"},
		{"one long key", upTo(mebibyte-20, "w") + ": a", "yaml-syntax"},
		{"nothing but spaces", upTo(mebibyte, " "), "yaml-syntax"},
		{"nothing but quotes", upTo(mebibyte, `"`), "yaml-"},
		{"comments that open nothing", upTo(mebibyte, "#"), "yaml-syntax"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			name := filepath.Join(t.TempDir(), "sheet.yaml")
			if err := os.WriteFile(name, []byte(c.data), 0o644); err != nil {
				t.Fatal(err)
			}
			o := tame(t, ".", "check", name)
			if clean := o.code == exitClean; clean != (c.want == "") || !strings.Contains(o.stdout, c.want) {
				t.Errorf("exit %d, want the finding %q\n%s%s", o.code, c.want, head(o.stdout), head(o.stderr))
			}
			if len(o.stdout) > 8*mebibyte {
				t.Errorf("%d bytes of findings", len(o.stdout))
			}
		})
	}
}

// section is the file of one hostile section.
func section(body string) map[string]string {
	return map[string]string{"en/sections/hostile.md": "---\ntitle: Hostile\n---\n" + body}
}

// sections are many of them.
func sections(n int, body string) map[string]string {
	files := map[string]string{}
	for i := range n {
		files[fmt.Sprintf("en/sections/hostile-%d.md", i)] = "---\ntitle: Hostile\n---\n" + body
	}
	return files
}

// outlined adds an outline that has every section of the files at its end.
func outlined(files map[string]string) map[string]string {
	files = maps.Clone(files)
	var outline strings.Builder
	for _, name := range slices.Sorted(maps.Keys(files)) {
		if id, is := strings.CutPrefix(name, "en/sections/"); is {
			fmt.Fprintf(&outline, "- { id: %s, in: parts }\n", strings.TrimSuffix(id, ".md"))
		}
	}
	if outline.Len() > 0 {
		files["outline.yaml"] = outline.String()
	}
	return files
}

// Templates hold no program; what is huge, deep or turns in a circle is
// stopped by name.
func TestHostileTemplates(t *testing.T) {
	fill := func(what string) string { return strings.Repeat(what, 30000/len(what)) }
	marks := func(what string, n int) string { return strings.Repeat(what, n) }
	large := strings.Repeat("A plain word.\n\n", (4<<20)/15-10)
	cases := []struct {
		name  string
		files map[string]string
		want  string // what stands in the findings; empty: the guide is written
	}{
		{"script element", section("<script>alert(1)</script>\n"), "raw HTML"},
		{"inline element", section("a <img src=x onerror=alert(1)> b\n"), "raw HTML"},
		{"script address", section("[a](javascript:alert(1))\n"), "template-"},
		{"data address", section("[a](data:text/html,x)\n"), "template-"},
		{"file address", section("[a](file:///etc/passwd)\n"), "template-"},
		{"picture", section("![a](http://example.com/a.png)\n"), "template-markup"},
		{"address in brackets", section("<http://example.com>\n"), "template-link"},
		{"program in braces", section("{tires.cold_pressure * 2} {{.Exec}}\n"), "template-placeholder"},
		{"path in braces", section("{sheet.../../etc/passwd}\n"), "nothing is called"},
		{"unknown block", section("```exec ls\n```\n"), "template-block"},
		{"drawing by path", section("```drawing ../../etc/passwd\nx\n```\n"), "template-drawing"},
		{"in itself", map[string]string{"outline.yaml": "- { id: road, in: road }\n"}, "would stand in or behind itself"},
		{"in a circle", map[string]string{"outline.yaml": "- { id: road, in: driving }\n"}, "would stand in or behind itself"},
		{"no front matter", map[string]string{"en/sections/hostile.md": "A.\n"}, "template-front-matter"},
		{"front matter without end", map[string]string{"en/sections/hostile.md": "---\ntitle: A\n"}, "template-front-matter"},
		{"alias in the front matter", map[string]string{"en/sections/hostile.md": "---\ntitle: &a A\nshort: *a\n---\nA.\n"}, "yaml-forbidden"},
		{"style that ends itself", map[string]string{"style.css": "</style><script>alert(1)</script>"}, "cannot stand in the style sheet"},
		{"style that fetches", map[string]string{"style.css": "@import 'http://example.com/x.css';"}, "cannot stand in the style sheet"},
		{"style with pictures", map[string]string{"style.css": "a { background: url(http://example.com/x) }"}, "cannot stand in the style sheet"},
		{"right to left", section("A \u202eb.\n"), "U+202E"},
		{"no glyph", section("A \U0001F69C b.\n"), "U+1F69C"},
		{"not UTF-8", section("A \xff b.\n"), "U+FFFD"},
		{"NUL", section("A \x00 b.\n"), "U+0000"},
		{"larger than a file may be", section(strings.Repeat("A plain word.\n\n", (4<<20)/14)), "file-too-large"},
		{"as large as a file may be", section(large), "at most 32768"},
		{"braces", section(fill("{")), "at most 2000"},
		{"brackets", section(fill("[")), "at most 2000"},
		{"quotes in quotes", section(fill("> ")), "template-markup"},
		{"lists in lists", section(fill("- ")), "template-markup"},
		{"lists in lists, indented", section(func() (s string) {
			for i := range 150 {
				s += strings.Repeat("  ", i) + "- a\n"
			}
			return s
		}()), "template-markup"},
		{"open brackets", section(marks("[", 1990)), ""},
		{"open pictures", section(marks("![", 990)), ""},
		{"stars", section(marks("*a **a ", 650)), "template-hole"},
		{"links", section(marks("[a](#hostile) ", 990)), ""},
		{"serial numbers", section(marks("{sheet.serial}\n\n", 990)), ""},
		{"a long table", section("| a | b |\n| --- | --- |\n" + fill("| a | b |\n")), ""},
		{"one word", section(fill("w")), ""},
		{"a wide table", section(marks("|a", 5000) + "|\n" + marks("|-", 5000) + "|\n"), ""},
		{"many long sections", sections(6, fill("A plain word.\n\n")), ""},
		{"more sections than a guide holds", sections(22, fill("A plain word.\n\n")), "at most 40000 are printed"},
		{"too many long sections", sections(60, fill("A plain word.\n\n")), "more than 1048576 bytes"},
		{"many long tables", sections(22, "| a | b |\n| --- | --- |\n"+fill("| a | b |\n")), "at most 40000 are printed"},
		{"too many drawings", sections(22, fill("```drawing wheel-order\nx\n```\n\n")), "template-"},
	}
	for _, c := range testenv.Sample(t, cases, 6) {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			writeTree(t, filepath.Join(dir, "templates"), outlined(c.files))
			_ = takeAsProved(dir, "--templates", "templates") // what cannot be read cannot be proved either
			o := tame(t, dir, "--templates", "templates", "write", "--out", "out", fullPath(t, "../../testdata/sheets/BW-27-0118.yaml"))
			switch said := o.stdout + o.stderr; {
			case c.want == "" && o.code != exitClean:
				t.Errorf("exit %d\n%s", o.code, head(said))
			case c.want != "" && (o.code != exitErrors || !strings.Contains(said, c.want)):
				t.Errorf("exit %d, want %q\n%s", o.code, c.want, head(said))
			}
			if c.want != "" {
				if _, err := os.Stat(filepath.Join(dir, "out", "BW-27-0118")); !errors.Is(err, fs.ErrNotExist) {
					t.Errorf("a guide was written all the same (%v)", err)
				}
			}
		})
	}
}

func fullPath(t *testing.T, name string) string {
	t.Helper()
	full, err := filepath.Abs(name)
	if err != nil {
		t.Fatal(err)
	}
	return full
}

func writeTree(t *testing.T, dir string, files map[string]string) {
	t.Helper()
	for name, text := range files {
		name = filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// ownLine copies the embedded line into a folder, to be spoilt there.
func ownLine(t *testing.T, dir string) string {
	t.Helper()
	folder := filepath.Join(dir, "line")
	if err := os.CopyFS(folder, line.Files); err != nil {
		t.Fatal(err)
	}
	return folder
}

// ownFiles copies embedded line and words into a folder, as unpack does with more beside them.
func ownFiles(t testing.TB, dir string) {
	t.Helper()
	must(t, os.CopyFS(filepath.Join(dir, "line"), line.Files), os.CopyFS(filepath.Join(dir, "templates"), templates.Files))
}

// A line that is hostile is refused, whatever is wrong with it.
func TestHostileLines(t *testing.T) {
	swap := func(file, old, new string) func(*testing.T, string) {
		return func(t *testing.T, folder string) {
			name := filepath.Join(folder, filepath.FromSlash(file))
			text, err := os.ReadFile(name)
			if err != nil || !strings.Contains(string(text), old) {
				t.Fatalf("%s has no %q: %v", file, old, err)
			}
			writeTree(t, folder, map[string]string{file: strings.Replace(string(text), old, new, 1)})
		}
	}
	add := func(files map[string]string) func(*testing.T, string) {
		return func(t *testing.T, folder string) { writeTree(t, folder, files) }
	}
	many := map[string]string{}
	for i := range 8 {
		many[fmt.Sprintf("components/z%d.yaml", i)] = strings.Repeat("# nothing here\n", (4<<20)/15)
	}
	const utility = "models/utility-12.yaml"
	cases := []struct {
		name  string
		spoil func(*testing.T, string)
		want  string
	}{
		{"not a number", swap(utility, "gvwr: 2990 lb", "gvwr: .nan lb"), "value-wrong"},
		{"infinite", swap(utility, "gvwr: 2990 lb", "gvwr: .inf lb"), "value-wrong"},
		{"huge", swap(utility, "gvwr: 2990 lb", "gvwr: 1e300 lb"), "value-wrong"},
		{"negative", swap(utility, "gvwr: 2990 lb", "gvwr: -2990 lb"), "error"},
		{"zero", swap(utility, "gvwr: 2990 lb", "gvwr: 0 lb"), "error"},
		{"beyond every road", swap(utility, "gvwr: 2990 lb", "gvwr: 900000000 lb"), "error"},
		{"model by path", swap("line.yaml", "- utility-12", "- ../../etc/passwd"), "error"},
		{"model by full path", swap("line.yaml", "- utility-12", "- /etc/passwd"), "error"},
		{"model of two lines", swap("line.yaml", "- utility-12", `- "a\nb"`), "error"},
		{"markup in a name", swap("line.yaml", "Bramblewick Trailer Works", "<script>alert(1)</script>"), ""},
		{"aliases", swap("line.yaml", "units: us", "units: &u us\nweb: *u"), "yaml-forbidden"},
		{"an empty file", add(map[string]string{"components/axles.yaml": ""}), "yaml-syntax"},
		{"a file too large", add(map[string]string{"components/z.yaml": strings.Repeat("#", 4<<20+1)}), "file-too-large"},
		{"too many entries", add(map[string]string{"components/z.yaml": strings.Repeat("a: [b, c]\n", 300000)}), "file-too-large"},
		{"as many entries as may be", add(map[string]string{"components/z.yaml": strings.Repeat("a: b\n", 32000)}), "error"},
		{"too many bytes", add(many), "more than 16777216 bytes"},
		{"a stray program", add(map[string]string{"run.sh": "rm -rf /"}), "line-stray"},
		{"no line at all", func(t *testing.T, folder string) {
			if err := os.Remove(filepath.Join(folder, "line.yaml")); err != nil {
				t.Fatal(err)
			}
		}, "error"},
	}
	for _, c := range testenv.Sample(t, cases, 6) {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			c.spoil(t, ownLine(t, dir))
			_ = takeAsProved(dir, "--line", "line")
			o := tame(t, dir, "--line", "line", "write", "--out", "out", fullPath(t, "../../testdata/sheets/BW-27-0118.yaml"))
			said := o.stdout + o.stderr
			if c.want == "" && o.code != exitClean || c.want != "" && (o.code != exitErrors || !strings.Contains(said, c.want)) {
				t.Errorf("exit %d, want %q\n%s", o.code, c.want, head(said))
			}
		})
	}
}

// Links and pipes in folders: nothing outside is read, nothing waits for ever.
func TestFoldersWithLinksAndPipes(t *testing.T) {
	const secret = "not-given-to-this-program"
	sheet := fullPath(t, "../../testdata/sheets/BW-27-0118.yaml")
	cases := []struct {
		name, place string // of the link or pipe
		args        []string
	}{
		{"line file", "line/line.yaml", []string{"--line", "line", "check", sheet}},
		{"model", "line/models/utility-12.yaml", []string{"--line", "line", "check", sheet}},
		{"text", "line/text/en.yaml", []string{"--line", "line", "check", sheet}},
		{"stray file", "line/components/z.yaml", []string{"--line", "line", "check", sheet}},
		{"section", "templates/en/sections/hostile.md", []string{"--templates", "templates", "check", sheet}},
		{"labels", "templates/en/labels.yaml", []string{"--templates", "templates", "check", sheet}},
		{"style sheet", "templates/style.css", []string{"--templates", "templates", "check", sheet}},
		{"sheet among sheets", "sheets/a.yaml", []string{"check", "sheets"}},
		{"order export", "orders.csv", []string{"begin", "--from", "orders.csv"}},
		{"workbook", "orders.xlsx", []string{"begin", "--from", "orders.xlsx"}},
		{"record of a unit", "out/BW-27-0118/record.json", []string{"write", "--out", "out", sheet}},
		{"unit", "out/BW-27-0118", []string{"write", "--out", "out", sheet}},
		{"revisions", "out/BW-27-0118/revisions", []string{"write", "--out", "out", sheet}},
		{"lock", "out/.lock", []string{"write", "--out", "out", sheet}},
		{"record looked for", "out/BW-27-0118/record.json", []string{"find", "a", "out"}},
		{"record verified", "out/BW-27-0118/record.json", []string{"verify", "out"}},
		{"record in the index", "out/BW-27-0118/record.json", []string{"index", "out"}},
		{"unit looked for", "out/BW-27-0118", []string{"find", "a", "out"}},
		{"unit verified", "out/BW-27-0118", []string{"verify", "out"}},
		{"unit in the index", "out/BW-27-0118", []string{"index", "out"}},
		{"register", "out/.ownerguide/register", []string{"write", "--out", "out", sheet}},
		{"folder of the register", "out/.ownerguide", []string{"write", "--out", "out", sheet}},
	}
	for _, c := range testenv.Sample(t, cases, 8) {
		for what, make := range traps() {
			t.Run(c.name+", "+what, func(t *testing.T) {
				t.Parallel()
				dir, elsewhere := t.TempDir(), t.TempDir()
				ownLine(t, dir)
				writeTree(t, elsewhere, map[string]string{"file": secret, "folder/guide.html": secret})
				place := filepath.Join(dir, filepath.FromSlash(c.place))
				if err := errors.Join(os.MkdirAll(filepath.Dir(place), 0o755), os.RemoveAll(place), make(place, elsewhere)); err != nil {
					t.Skip("this system makes no such thing: ", err)
				}
				o := tame(t, dir, c.args...)
				if strings.Contains(o.stdout+o.stderr, secret) {
					t.Errorf("a file that was not given was read:\n%s%s", head(o.stdout), head(o.stderr))
				}
				if c.name == "sheet among sheets" && what != "pipe" {
					return // a link to a sheet is a sheet that was given
				}
				if o.code == exitClean {
					t.Errorf("exit 0\n%s%s", head(o.stdout), head(o.stderr))
				}
				entries, _ := os.ReadDir(elsewhere)
				kept, _ := os.ReadFile(filepath.Join(elsewhere, "file"))
				inside, _ := os.ReadDir(filepath.Join(elsewhere, "folder"))
				if len(entries) != 2 || len(inside) != 1 || string(kept) != secret {
					t.Errorf("something outside was changed: %v %v %q", entries, inside, kept)
				}
			})
		}
	}
}
