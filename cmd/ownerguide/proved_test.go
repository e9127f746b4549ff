package main

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ownerguide/cmd/ownerguide/internal/embedded"
	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/cmd/ownerguide/internal/proved"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/render"
	"ownerguide/render/deliver"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/proof"
	"ownerguide/spec/testenv"
)

// cacheOfTests is the user's cache folder while tests run.
var cacheOfTests string

// takeAsProved keeps a proof of line and words that nobody has made: tests about
// something else need not wait for it. Args are flags that name them.
func takeAsProved(dir string, args ...string) error {
	said, err := takenAsProved(dir, args...)
	if err != nil {
		return &buildError{said, err}
	}
	return nil
}

// takenAsProved also tells what is said of it.
func takenAsProved(dir string, args ...string) (said string, err error) {
	// The program as built has a digest of its own; it is built from the folder of these tests.
	program, err := built()
	if err != nil {
		return "", err
	}
	return saying(func(t *terminal.Terminal) error {
		return standingIn(dir, func() error {
			var c commands
			for i := 0; i+1 < len(args); i += 2 {
				*map[string]*string{"--line": &c.Line, "--templates": &c.Templates}[args[i]] = args[i+1]
			}
			if err := c.settle(t); err != nil {
				return err
			}
			m, err := c.load(t)
			if err != nil {
				return err
			}
			if err := c.keepProof(t, m, deliver.Rules{}); err != nil || !testenv.IsHeavy() {
				return err // in the quick tier the program is these tests
			}
			p, shipped, err := c.toProve(m)
			if err != nil || shipped {
				return err
			}
			if p.Build, err = guide.DigestOfProgram(program); err != nil {
				return err
			}
			name, err := proofInCache(p)
			if err != nil {
				return err
			}
			if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
				return err
			}
			return os.WriteFile(name, p.File(), 0o644)
		})
	})
}

// The program's own line and words ship proved, and are read without the checks that other
// files have to pass; here they pass them. With -update they are proved, and what they are
// is noted, unless a claim fails.
func TestEmbeddedIsProved(t *testing.T) {
	l, wrong := spec.LoadLine(line.Files, embedded.Line)
	words, more := render.LoadTemplates(embedded.Layer)
	if wrong = slices.Concat(wrong, more); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	if wrong = words.CheckAgainst(l); len(wrong) > 0 {
		t.Fatal(wrong)
	}
	m := guide.NewMaker(l, words, embedded.Line)
	p, err := proved.Of(m, embedded.Line, shippedProof)
	must(t, err)
	p.Program, p.Build = "", ""
	now := deliver.Seal([]byte(p.Text()), "# Line and words that prove passed on when this file was made, by go test ./cmd/ownerguide -run TestEmbeddedIsProved -update: ", "")
	if *update { // else TestEmbeddedLineIsProved of spec/proof does in the heavy tier
		found := proof.Prove(proof.Subject{Line: m.Line, Texts: m.Templates.Texts(), Snapshot: m.Templates.Snapshot(), Inspect: m.Templates.Pictures(), Limit: proof.DefaultLimit}).Findings()
		if found.HasErrors() {
			var b strings.Builder
			_ = found.WriteText(&b)
			t.Fatal(b.String())
		}
	}
	trees := treesOf(yamlInside(t))
	if *update {
		must(t, os.WriteFile("embedded.proof", now, 0o644))
		must(t, os.WriteFile(storedTrees, trees, 0o644))
	}
	if kept, err := os.ReadFile(storedTrees); err != nil || !bytes.Equal(kept, trees) {
		t.Errorf("the trees of the YAML files inside the program are stored as they were before a change (%v); when the change is meant:\ngo test ./cmd/ownerguide -run TestEmbeddedIsProved -update", err)
	}
	if kept, err := os.ReadFile("embedded.proof"); err != nil || !bytes.Equal(bytes.ReplaceAll(kept, []byte("\r\n"), []byte("\n")), now) {
		t.Errorf("line or words inside the program have changed since they were proved (%v); when the change is meant:\ngo test ./cmd/ownerguide -run TestEmbeddedIsProved -update", err)
	}
}

// ownProject is a folder with a small line, its words, a sheet, and a project
// file that names them; it is the working directory, and the cache is separate.
func ownProject(t *testing.T) (cache string) {
	t.Helper()
	from, err := filepath.Abs("../../testdata/quillmere")
	must(t, err)
	t.Chdir(t.TempDir())
	must(t, os.CopyFS(".", os.DirFS(from)))
	writeText(t, "ownerguide.yaml", "line: line\ntemplates: templates\n")
	cache, before := filepath.Join(t.TempDir(), "cache"), userCache
	userCache = func() (string, error) { return cache, nil }
	t.Cleanup(func() { userCache = before })
	return cache
}

const ownSheet = "sheets/QM-0001.yaml"

// Guides are made of what was proved as it stands, and of nothing else.
func TestProofBeforePrint(t *testing.T) {
	ownProject(t)
	refuses := func(want, hint string, args ...string) {
		t.Helper()
		code, stdout, stderr := program(t, append(args, ownSheet)...)
		if code != exitErrors || stdout != "" || !strings.Contains(stderr, "not proved as they stand: "+want) || !strings.Contains(stderr, "hint: "+hint+"\n") {
			t.Errorf("%v: exit %d, want %q and %q in\n%s%s", args, code, want, hint, stdout, stderr)
		}
	}
	passes := func(want string, args ...string) {
		t.Helper()
		if code, stdout, stderr := program(t, append(args, ownSheet)...); code != exitClean || !strings.Contains(stdout, want) {
			t.Errorf("%v: exit %d\n%s%s", args, code, stdout, stderr)
		}
	}
	refuses("no proof of this state is kept in ", "ownerguide prove", "write")
	refuses("no proof of this state is kept in ", "ownerguide prove", "write", "--dry-run")
	refuses("no proof of this state is kept in ", "ownerguide prove", "mail", "--to", "a@example.com")
	if _, err := os.Stat("out"); err == nil {
		t.Error("something is written")
	}

	// What fails is not kept; what passes is, with the project.
	code, _, _ := program(t, "prove", "--limit", "1")
	if _, err := os.Stat(proofFile); code != exitErrors || err == nil {
		t.Errorf("exit %d, and a proof that fails is kept: %v", code, err)
	}
	if code, _, stderr := program(t, "prove"); code != exitClean || !strings.HasSuffix(stderr, "proved as they stand; that is kept in ownerguide.proof\n") {
		t.Fatalf("exit %d\n%s", code, stderr)
	}
	passes("written out/QM-0001", "write")
	passes("unchanged out/QM-0001", "write")
	passes("written out/QM-0001.eml", "mail", "--to", "a@example.com")
	h, err := output.OpenHistory("out/QM-0001")
	must(t, err)
	kept, err := os.ReadFile(proofFile)
	must(t, err)
	p, whole := proved.Read(kept)
	if !whole || h.Current.Proof == "" || h.Current.Proof != p.Digest() {
		t.Errorf("the record names the proof %q, which is %q", h.Current.Proof, p.Digest())
	}
	h.Close()
	passes("unchanged out/QM-0001", "write", "--line", "line", "--templates", "templates")

	// Whatever is another way than it was then has to be proved again.
	for _, c := range []struct{ file, old, new, want string }{
		{"line/line.yaml", "name: ", "name: New ", "the line changed since (ownerguide.proof)"},
		{"templates/outline.yaml", "\n", "\n# A remark.\n", "the words changed since (ownerguide.proof)"},
	} {
		edit(t, c.file, c.old, c.new)()
		refuses(c.want, "ownerguide prove", "write")
		refuses(c.want, "ownerguide --line line --templates templates prove", "write", "--line", "line", "--templates", "templates")
		edit(t, c.file, c.new, c.old)()
		passes("unchanged out/QM-0001", "write")
	}
	again := func(change func(p *proved.State)) []byte {
		p := p
		change(&p)
		return p.File()
	}
	for _, c := range []struct {
		what       string
		file       []byte
		want, hint string
	}{
		{"of an earlier version", again(func(p *proved.State) { p.Program = "ownerguide v0.1.0" }), "it was ownerguide v0.1.0 that proved them, and this is ", "ownerguide prove"},
		{"of another build", again(func(p *proved.State) { p.Build = "1" }), "it was another build of ", "ownerguide prove"},
		{"edited", bytes.Replace(kept, []byte("line: "), []byte("line: 0"), 1), "ownerguide.proof is not as prove wrote it", "ownerguide prove --force"},
		{"cut off", kept[:len(kept)/2], "ownerguide.proof is not as prove wrote it", "ownerguide prove --force"},
		{"empty", nil, "ownerguide.proof is not as prove wrote it", "ownerguide prove --force"},
	} {
		must(t, os.WriteFile(proofFile, c.file, 0o644))
		refuses(c.want, c.hint, "write")
	}
	// A file somebody edited stays, and the proof goes to the cache.
	said, err := takenAsProved(".")
	must(t, err)
	if !strings.Contains(said, "the proof is not kept beside the project file: ownerguide.proof: a file is there that is not a proof as this program wrote it") {
		t.Error(said)
	}
	passes("unchanged out/QM-0001", "write")
	must(t, takeAsProved("."), os.Remove(proofFile))
	passes("unchanged out/QM-0001", "write")
}

// Without a project file the proof is in the user's cache, which may be lost, or
// not be there at all.
func TestProofInTheCache(t *testing.T) {
	cache := ownProject(t)
	must(t, os.Remove("ownerguide.yaml"))
	flags := []string{"--line", "line", "--templates", "templates"}
	write := append(flags, "write", ownSheet)
	must(t, takeAsProved(".", flags...))
	if code, _, stderr := program(t, write...); code != exitClean {
		t.Fatalf("exit %d\n%s", code, stderr)
	}
	if _, err := os.Stat(proofFile); err == nil {
		t.Error("a proof lies beside the line")
	}
	must(t, os.RemoveAll(cache))
	if code, _, stderr := program(t, write...); code != exitErrors || !strings.Contains(stderr, "no proof of this state is kept in ") {
		t.Errorf("exit %d\n%s", code, stderr)
	}

	// Two at once leave one whole proof.
	ended := make(chan error)
	c := commands{Line: "line", Templates: "templates", typedFlags: flags}
	m, err := c.load(terminal.New(io.Discard, io.Discard))
	must(t, err)
	for range 8 {
		go func() {
			ended <- c.keepProof(terminal.New(io.Discard, io.Discard), m, deliver.Rules{})
		}()
	}
	for range 8 {
		must(t, <-ended)
	}
	if code, _, stderr := program(t, write...); code != exitClean {
		t.Errorf("exit %d\n%s", code, stderr)
	}

	userCache = func() (string, error) { return "", errors.New("neither $XDG_CACHE_HOME nor $HOME are defined") }
	if code, _, stderr := program(t, write...); code != exitErrors || !strings.Contains(stderr, "the system names no folder for the user's cache: neither $XDG_CACHE_HOME nor $HOME are defined\n  hint: set HOME, or XDG_CACHE_HOME") {
		t.Errorf("exit %d\n%s", code, stderr)
	}
	if err := c.keepProof(terminal.New(io.Discard, io.Discard), m, deliver.Rules{}); err == nil || !strings.Contains(err.Error(), "all claims hold, but the proof cannot be kept: the system names no folder") {
		t.Error(err)
	}
}

// An unpacked line is proved as long as nobody changes it, and so is one that a
// program for Windows unpacked.
func TestUnpackedIsProved(t *testing.T) {
	ownProject(t)
	if code, _, stderr := program(t, "unpack", "own"); code != exitClean {
		t.Fatal(stderr)
	}
	for _, args := range [][]string{{"--line", "own"}, {"--line", "own/line"}, {"--templates", "own/templates"}} {
		c := commands{}
		for i := 0; i+1 < len(args); i += 2 {
			*map[string]*string{"--line": &c.Line, "--templates": &c.Templates}[args[i]] = args[i+1]
		}
		terminal := terminal.New(io.Discard, io.Discard)
		must(t, os.Rename("ownerguide.yaml", "aside.yaml"), c.settle(terminal), os.Rename("aside.yaml", "ownerguide.yaml"))
		m, err := c.load(terminal)
		must(t, err, c.proveBefore(m))
	}
}
