package main

import (
	"bytes"
	"context"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render/deliver"
)

// everything lists what is below the working folder: files with what they
// hold, folders, and links with where they lead.
func everything(t *testing.T) (out []string) {
	t.Helper()
	err := filepath.WalkDir(".", func(name string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		line := filepath.ToSlash(name)
		switch {
		case e.Type()&fs.ModeSymlink != 0:
			to, err := os.Readlink(name)
			out = append(out, line+" -> "+to)
			return err
		case e.Type().IsRegular():
			data, err := os.ReadFile(name)
			out = append(out, line+"="+string(data))
			return err
		}
		out = append(out, line+"/")
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Whatever path a command is told to write to, nothing that is there is lost,
// and the error says what to do instead.
func TestNothingOfAUsersIsWrittenOver(t *testing.T) {
	good, err := os.ReadFile("../../testdata/sheets/BW-27-0118.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	const export = "serial,model\nBW-27-0901,utility-12\n"
	files := map[string]string{
		"sheet.yaml": string(good), "orders.csv": export, "map.yaml": "columns: { serial: serial, model: model }\n",
		"letter.pdf": "foreign", "letter.eml": "foreign", "letter.yaml": "foreign", "file": "foreign", "full/letter.txt": "foreign",
		"out/BW-1/record.json": `{"record": 1, "serial": "BW-1", "revision": "A"}`, "out/BW-1/guide.html": "delivered", "out/BW-1/guide.pdf": "delivered", "out/BW-1/sheet.yaml": "delivered",
		"indexed/index.html": "foreign", "covering/utility-12-001.yaml": "foreign",
		"edited/utility-12-001.yaml": string(deliver.Seal([]byte("serial: A\n"), "# ", "")) + "notes: mine\n",
		"elsewhere/a.txt":            "foreign", "mails/letter.txt": "foreign",
	}
	writeTree(t, ".", files)
	ownFiles(t, "own")
	for _, name := range []string{"folder.pdf", "folder.eml", "folder.yaml", "mails/BW-27-0118.eml", "boxes/index.html", "boxes/utility-12-001.yaml", "begun/BW-27-0901.yaml"} {
		if err := os.MkdirAll(name, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	// The sheet and the column map under names that a PDF, a mail and a sheet could have.
	if err := errors.Join(os.Link("sheet.yaml", "sheet.pdf"), os.Link("sheet.yaml", "sheet.eml"), os.Link("map.yaml", "other.yaml")); err != nil {
		t.Skip("this system makes no hard links: ", err)
	}
	for link, to := range map[string]string{"link.pdf": "letter.pdf", "link.eml": "letter.eml", "link.yaml": "letter.yaml", "dangling.pdf": "nowhere", "dangling.eml": "nowhere", "dangling.yaml": "nowhere", "link": "elsewhere", "to-unit": "out/BW-1"} {
		if err := os.Symlink(to, link); err != nil {
			t.Skip("this system makes no symbolic links: ", err)
		}
	}

	together := []string{"--line", "own/line", "--templates", "own/templates", "write", "sheet.yaml", "--out", "new", "--together"}
	write := []string{"--line", "own/line", "--templates", "own/templates", "write", "sheet.yaml", "--out"}
	mail := []string{"--line", "own/line", "--templates", "own/templates", "mail", "sheet.yaml", "--out"}
	prove := []string{"--line", "own/line", "--templates", "own/templates", "prove", "--sheets"}
	one := []string{"--line", "own/line", "begin", "utility-12", "--out"}
	many := []string{"--line", "own/line", "begin", "--from", "orders.csv", "--columns", "map.yaml", "--out"}
	const (
		reads, link, unit = "this run reads", "is a symbolic link", "the folder of one unit"
		there, folder     = "a file is there", "this is a folder"
	)
	before := everything(t)
	for _, c := range []struct {
		args    []string
		targets map[string]string // and what is said of each
		force   bool              // the same with --force
	}{
		{together, map[string]string{"sheet.yaml": reads, "sheet.pdf": reads, "other.yaml": "expected the name of a PDF", "own/line/new.pdf": reads, "own/templates/en/new.pdf": reads,
			"out/BW-1/guide.pdf": unit, "out/BW-1/new.pdf": unit, "to-unit/new.pdf": link, "link.pdf": link, "dangling.pdf": link, "link/new.pdf": link, "folder.pdf": folder, "full": "expected the name", "file/new.pdf": "not a directory"}, true},
		{together, map[string]string{"letter.pdf": there}, false},
		{write, map[string]string{"sheet.yaml": reads, "own/line": reads, "own/templates/new": reads, "out/BW-1": unit, "out/BW-1/new": unit, "to-unit": link, "link": link, "link/new": link, "letter.pdf": "this is a file", "file/new": "not a directory"}, true},
		{write, map[string]string{"indexed": there}, false},
		{write, map[string]string{"boxes": folder}, true},
		{mail, map[string]string{"sheet.yaml": reads, "sheet.eml": reads, "other.yaml": "expected the name of a mail", "own/line/new.eml": reads,
			"out/BW-1/guide.pdf": unit, "out/BW-1/new.eml": unit, "link.eml": link, "dangling.eml": link, "link/new.eml": link, "folder.eml": folder, "file/new.eml": "not a directory"}, true},
		{mail, map[string]string{"letter.eml": there}, false},
		{[]string{"mail", "sheet.yaml", "--to", "owner@example.com", "--guides"}, map[string]string{"link": link, "mails": folder}, true},
		{prove, map[string]string{"own/line": reads, "own/line/new": reads, "out/BW-1": unit, "link": link, "letter.pdf": "this is a file", "boxes": folder}, true},
		{prove, map[string]string{"covering": there, "edited": there}, false},
		{one, map[string]string{"own/line/models/utility-12.yaml": reads, "own/line/new.yaml": reads, "letter.yaml": there, "letter.pdf": "expected the name of a build sheet", "out/BW-1/sheet.yaml": unit, "out/BW-1/new.yaml": unit,
			"link.yaml": link, "dangling.yaml": link, "link/new.yaml": link, "folder.yaml": folder, "file/new.yaml": "not a directory"}, false},
		{many, map[string]string{"own/line": reads, "out/BW-1": unit, "link": link, "begun": folder, "letter.pdf": "not a directory"}, false},
		{[]string{"unpack"}, map[string]string{"full": "this folder is not empty", ".": "this folder is not empty", "own": "this folder is not empty", "out/BW-1": unit, "out/BW-1/new": unit, "link": link, "link/new": link, "letter.pdf": "this is a file", "file/new": "not a directory"}, false},
		{[]string{"index"}, map[string]string{"out/BW-1": unit, "link": link, "boxes": folder}, true},
		{[]string{"index"}, map[string]string{"indexed": there}, false},
	} {
		for target, problem := range c.targets {
			for _, force := range [][]string{nil, {"--force"}} {
				if force != nil && !c.force {
					continue
				}
				args := slices.Concat(c.args, []string{target}, force)
				t.Run(strings.Join(args, " "), func(t *testing.T) {
					code, stdout, stderr := program(t, args...)
					if code != exitErrors || !strings.Contains(stderr, problem) || !strings.Contains(stderr, "hint: ") || stdout != "" {
						t.Errorf("exit %d, want %q and what to do; printed %q\n%s", code, problem, stdout, stderr)
					}
				})
			}
		}
		t.Run(strings.Join(c.args, " ")+" leaves all as it was", func(t *testing.T) { before = wantSame(t, before) })
	}
}

// wantSame compares everything in the working folder with its previous content, and lists it.
func wantSame(t *testing.T, before []string) (after []string) {
	t.Helper()
	after = everything(t)
	if slices.Equal(before, after) {
		return after
	}
	for _, line := range before {
		if !slices.Contains(after, line) {
			t.Errorf("it was changed: %.100q", line)
		}
	}
	for _, line := range after {
		if !slices.Contains(before, line) {
			t.Errorf("it is new: %.100q", line)
		}
	}
	return after
}

// Nothing is made, written, moved or taken away but by package deliver, which
// keeps to its rules.
func TestOnlyDeliverWrites(t *testing.T) {
	inDeliver := 0
	for _, root := range []string{"../../spec", "../../render", "../../templates", "."} {
		err := filepath.WalkDir(root, func(name string, e fs.DirEntry, err error) error {
			if err != nil || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") || strings.Contains(filepath.ToSlash(name), "spec/testenv/") {
				return err
			}
			uses := writesIn(t, name)
			if strings.Contains(filepath.ToSlash(name), "render/deliver/") {
				inDeliver += len(uses)
			} else if len(uses) > 0 {
				t.Errorf("%s uses %s: ask render/deliver", name, strings.Join(uses, ", "))
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if inDeliver < 10 {
		t.Errorf("render/deliver itself is seen to write %d times only", inDeliver)
	}
}

// writesIn names what a Go file uses that changes files.
func writesIn(t *testing.T, name string) (uses []string) {
	t.Helper()
	writes := []string{"Chmod", "Chown", "Chtimes", "CopyFS", "Create", "CreateTemp", "Lchown", "Link", "Mkdir", "MkdirAll", "MkdirTemp",
		"NewFile", "OpenFile", "Remove", "RemoveAll", "Rename", "Symlink", "Truncate", "WriteFile"}
	file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	imported := map[string]string{} // name in the file → path
	for _, i := range file.Imports {
		path, err := strconv.Unquote(i.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		short := path[strings.LastIndex(path, "/")+1:]
		if i.Name != nil {
			short = i.Name.Name
		}
		imported[short] = path
		if path == "io/ioutil" || path == "os" && short == "." {
			uses = append(uses, path)
		}
	}
	ast.Inspect(file, func(n ast.Node) bool {
		s, ok := n.(*ast.SelectorExpr)
		if !ok || !slices.Contains(writes, s.Sel.Name) {
			return true
		}
		// Behind anything but a package it is a method, and few have one of these names but an opened folder.
		x, _ := s.X.(*ast.Ident)
		method := x == nil || imported[x.Name] == ""
		if method && !slices.Contains([]string{"Link", "Remove"}, s.Sel.Name) || !method && slices.Contains([]string{"os", "syscall"}, imported[x.Name]) {
			uses = append(uses, s.Sel.Name)
		}
		return true
	})
	return uses
}

// stopping is standard output that ends the run, or fails, at the first result.
type stopping struct {
	bytes.Buffer
	stop func()
	fail error
}

func (s *stopping) Write(data []byte) (int, error) {
	s.stop()
	if s.fail != nil {
		return 0, s.fail
	}
	return s.Buffer.Write(data)
}

// A run that is stopped says of every guide that it is in place, and of no other.
func TestStoppedRunCountsWhatIsInPlace(t *testing.T) {
	sheets := goodSheets(t)
	for name, fail := range map[string]error{"interrupted": nil, "results cannot be told": errors.New("no space left on device")} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			out, said, want := &stopping{stop: cancel, fail: fail}, &bytes.Buffer{}, exitInterrupted
			if fail != nil {
				out.stop, want = func() {}, exitErrors
			}
			args := slices.Concat([]string{"write", "--workers", "2", "--out", dir}, sheets)
			if code := run(ctx, args, strings.NewReader(""), terminal.New(out, said)); code != want {
				t.Errorf("exit %d, want %d\n%s", code, want, said)
			}
			units, err := filepath.Glob(filepath.Join(dir, "BW-*"))
			if err != nil || len(units) == 0 || len(units) == len(sheets) {
				t.Fatalf("%d units (%v): the run was not stopped in its midst", len(units), err)
			}
			if count := strconv.Itoa(len(units)) + " written, 0 unchanged, 0 refused"; !strings.Contains(said.String(), count) {
				t.Errorf("want %q\n%s", count, said)
			}
			index, err := os.ReadFile(filepath.Join(dir, output.IndexFile))
			for _, unit := range units {
				if fail == nil && !strings.Contains(out.String(), "written "+filepath.ToSlash(unit)+" ") {
					t.Errorf("%s is in place and was not told", unit)
				}
				if err != nil || !bytes.Contains(index, []byte(filepath.Base(unit)+"/guide.html")) {
					t.Errorf("%s is in place and not in the index (%v)", unit, err)
				}
			}
		})
	}
}
