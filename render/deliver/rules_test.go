package deliver

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var list = Kind{"a list", []string{".txt", ".text"}, Sealed}

// layout makes a folder with one of everything a path may lead to, and makes it
// the working folder.
func layout(t *testing.T) Rules {
	t.Helper()
	t.Chdir(t.TempDir())
	for name, data := range map[string]string{
		"input.txt": "read by the run", "line/line.yaml": "the line", "line/models/a.yaml": "a model",
		"out/A-1/record.json": "{}", "out/A-1/guide.txt": "delivered", "out/A-1/revisions/A/guide.txt": "delivered before",
		"foreign.txt": "a letter", "own.txt": string(Seal([]byte("as written\n"), "# ", "")), "file": "plain",
		"changed.txt": string(Seal([]byte("as written\n"), "# ", "")) + "and a line more\n",
		"full/a.txt":  "something", "elsewhere/a.txt": "behind a link",
		"elsewhere/own.txt": string(Seal([]byte("as written\n"), "# ", "")),
	} {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(os.Mkdir("empty", 0o755), os.Mkdir("folder.txt", 0o755), os.Link("input.txt", "same.txt")); err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{"link.txt": "elsewhere/own.txt", "link": "elsewhere", "dangling.txt": "nowhere", "dangling": "nowhere", "circle.txt": "circle.txt", "to-unit": "out/A-1"} {
		if err := os.Symlink(to, link); err != nil {
			t.Skip("this system makes no symbolic links: ", err)
		}
	}
	return Rules{Inputs: []string{"./input.txt", "line", "nowhere.txt"}, Unit: func(folder string) bool {
		_, err := os.Lstat(filepath.Join(folder, "record.json"))
		return err == nil
	}}
}

// wantRefused compares an error with what it has to say, and the files with
// what they were.
func wantRefused(t *testing.T, err error, problem string, before []string) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) || !strings.Contains(err.Error(), problem) || e.Hint() == "" {
		t.Errorf("got %v (%+v), want %q and what to do", err, e, problem)
	}
	if after := tree(t, "."); !slices.Equal(after, before) {
		t.Errorf("something was changed: %q", after)
	}
}

func TestFilesThatAreNotWritten(t *testing.T) {
	for _, c := range []struct {
		name, problem string
		force         bool // with --force it is written
	}{
		{"input.txt", "this run reads it", false},
		{"line/../input.txt", "this run reads it", false},
		{"same.txt", "this run reads it", false},
		{"line/new.txt", "it lies in line, which this run reads", false},
		{"line/models/new/new.txt", "it lies in line, which this run reads", false},
		{"out/A-1/new.txt", "the folder of one unit", false},
		{"out/A-1/guide.txt", "the folder of one unit", false},
		{"out/A-1/revisions/A/guide.txt", "the folder of one unit", false},
		{"out/A-1/deep/down/new.txt", "the folder of one unit", false},
		{"to-unit/new.txt", "to-unit is a symbolic link", false},
		{"link.txt", "this is a symbolic link", false},
		{"dangling.txt", "this is a symbolic link", false},
		{"circle.txt", "this is a symbolic link", false},
		{"link/new.txt", "link is a symbolic link", false},
		{"link/a.txt", "link is a symbolic link", false},
		{"empty/../link/new.txt", "link is a symbolic link", false},
		{"dangling/new.txt", "dangling is a symbolic link", false},
		{"folder.txt", "this is a folder", false},
		{"file/new.txt", "a directory", false},
		{"new.pdf", "expected the name of a list", false},
		{"new", "expected the name of a list", false},
		{"foreign.txt", "a file is there", true},
		{"changed.txt", "a file is there", true},
	} {
		for _, force := range []bool{false, true} {
			t.Run(c.name, func(t *testing.T) {
				r := layout(t)
				r.Force = force
				before := tree(t, ".")
				full, err := filepath.Abs(c.name)
				if err != nil {
					t.Fatal(err)
				}
				for _, name := range []string{c.name, full} {
					wantRefused(t, r.WriteNew(name, list, []byte("new")), c.problem, before)
					if !force || !c.force {
						wantRefused(t, r.Check(name, list), c.problem, before)
						_, err := r.Write(name, list, []byte("new"))
						wantRefused(t, err, c.problem, before)
					}
				}
				if !force || !c.force {
					return
				}
				replaced, err := r.Write(c.name, list, []byte("new"))
				if data, _ := os.ReadFile(c.name); err != nil || !replaced || string(data) != "new" {
					t.Errorf("replaced %t, %v; the file holds %q", replaced, err, data)
				}
			})
		}
	}
}

func TestFilesThatAreWritten(t *testing.T) {
	for _, c := range []struct {
		name     string
		replaces bool
	}{
		{"new.txt", false}, {"NEW.TEXT", false}, {"empty/new.txt", false}, {"not/there/yet/new.txt", false}, {"out/new.txt", false}, {"own.txt", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := layout(t)
			before := tree(t, ".")
			if err := r.Check(c.name, list); err != nil {
				t.Fatal(err)
			}
			if after := tree(t, "."); !slices.Equal(after, before) {
				t.Error("looking changed something")
			}
			if err := r.WriteNew(c.name, list, []byte("new")); errors.Is(err, fs.ErrExist) != c.replaces || !c.replaces && err != nil {
				t.Errorf("as a new file: %v", err)
			}
			if c.replaces {
				if err := os.Chmod(c.name, 0o600); err != nil {
					t.Fatal(err)
				}
				if replaced, err := r.Write(c.name, list, []byte("new")); err != nil || !replaced {
					t.Errorf("replaced %t, %v", replaced, err)
				}
				if info, err := os.Stat(c.name); err != nil || info.Mode().Perm()&0o077 != 0 && runtime.GOOS != "windows" {
					t.Errorf("others may read it now: %v, %v", info.Mode(), err)
				}
			}
			before = slices.DeleteFunc(before, func(line string) bool { return strings.HasPrefix(line, c.name+"=") })
			want := slices.Sorted(slices.Values(append(before, c.name+"=new")))
			if after := slices.Sorted(slices.Values(tree(t, "."))); !slices.Equal(after, want) {
				t.Errorf("got %q", after)
			}
		})
	}
}

func TestFoldersThatAreNotWrittenInto(t *testing.T) {
	for _, c := range []struct {
		name, problem string
		tree          bool // only for a tree, which wants a folder of its own
	}{
		{"input.txt", "this run reads it", false},
		{"line", "this run reads line", false},
		{"line/models", "it lies in line, which this run reads", false},
		{"line/new/new", "it lies in line, which this run reads", false},
		{"out/A-1", "the folder of one unit", false},
		{"out/A-1/revisions", "the folder of one unit", false},
		{"out/A-1/new", "the folder of one unit", false},
		{"to-unit", "this is a symbolic link", false},
		{"link", "this is a symbolic link", false},
		{"link/new", "link is a symbolic link", false},
		{"dangling", "this is a symbolic link", false},
		{"foreign.txt", "this is a file", false},
		{"file/new", "not a directory", false},
		{"full", "this folder is not empty", true},
		{".", "this folder is not empty", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := layout(t)
			r.Force = true
			before := tree(t, ".")
			wantRefused(t, r.WriteTree(c.name, []File{{"a.txt", []byte("new")}}), c.problem, before)
			if !c.tree {
				_, err := r.Open(c.name)
				wantRefused(t, err, c.problem, before)
			}
		})
	}
}

func TestWriteTree(t *testing.T) {
	for _, dir := range []string{"new", "new/deeper", "empty"} {
		layout(t)
		if err := (Rules{}).WriteTree(dir, []File{{"a/b/c.txt", []byte("c")}, {"a/d.txt", []byte("d")}, {"e.txt", []byte("e")}}); err != nil {
			t.Fatal(err)
		}
		if got, want := tree(t, dir), []string{"a/b/c.txt=c", "a/d.txt=d", "e.txt=e"}; !slices.Equal(got, want) {
			t.Errorf("%s: %q", dir, got)
		}
	}
	// What cannot be written as a whole is not there at all, nor is its folder.
	layout(t)
	before := tree(t, ".")
	for _, dir := range []string{"new/deeper", "empty"} {
		err := Rules{}.WriteTree(dir, []File{{"a/b.txt", nil}, {"a/b.txt/c", nil}})
		if err == nil || !slices.Equal(tree(t, "."), before) {
			t.Errorf("%s: %v; %q", dir, err, tree(t, "."))
		}
	}
	if _, err := os.Stat("new"); !errors.Is(err, fs.ErrNotExist) {
		t.Error("the folder stays: ", err)
	}
}

// What a stopped run left staged is cleared away; what a run is writing is not.
func TestStagedFiles(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "a.txt")
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	var staged string
	if err := putIn(dir, "a.txt", []byte("x"), func(_ *os.Root, s, _ string) error {
		staged = s
		_, err := Rules{}.Write(name, list, []byte("at the same time"))
		if !errors.Is(err, ErrBusy) {
			t.Errorf("a second run writes the same file: %v", err)
		}
		return errors.New("a fault")
	}); err == nil || len(tree(t, dir)) > 0 {
		t.Errorf("%v; left behind: %q", err, tree(t, dir))
	}
	if err := os.WriteFile(filepath.Join(dir, staged), []byte("half a fi"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := (Rules{}).Write(name, list, []byte("whole")); err != nil {
		t.Fatal(err)
	}
	if got := tree(t, dir); !slices.Equal(got, []string{"a.txt=whole"}) {
		t.Errorf("%q", got)
	}
	long := strings.Repeat("x", 251) + ".txt"
	if _, err := (Rules{}).Write(filepath.Join(dir, long), list, nil); err != nil {
		t.Errorf("a name as long as may be: %v", err)
	}
}

// What somebody puts into a unit's folder is not the program's: it stays when
// the guide is replaced, and is never lost.
func TestReplaceKeepsWhatIsNotItsOwn(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	write := func(name, data string) {
		t.Helper()
		name = filepath.Join(dir, "A-1", name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o755), os.WriteFile(name, []byte(data), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	guide := func(text string) []File {
		return []File{{"guide.html", []byte(text)}, {"record.json", []byte(text)}}
	}
	was := []string{"guide.html", "card.pdf", "record.json"}
	if err := f.Replace("A-1", append(guide("a"), File{"card.pdf", []byte("a")}), nil, ""); err != nil {
		t.Fatal(err)
	}
	write("photo.jpg", "a photo")
	write("mine/deep/note.txt", "a note")
	if err := f.Replace("A-1", guide("b"), was, "A"); err != nil {
		t.Fatal(err)
	}
	want := []string{".lock=", "A-1/guide.html=b", "A-1/mine/deep/note.txt=a note", "A-1/photo.jpg=a photo", "A-1/record.json=b",
		"A-1/revisions/A/card.pdf=a", "A-1/revisions/A/guide.html=a", "A-1/revisions/A/record.json=a"}
	if got := tree(t, dir); !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}

	write("booklet.pdf", "a booklet of one's own")
	before := tree(t, dir)
	wantKept := func(files []File, problem string) {
		t.Helper()
		err := f.Replace("A-1", files, was, "B")
		var e *Error
		if !errors.As(err, &e) || !strings.Contains(e.Problem, problem) || e.Hint() == "" {
			t.Errorf("got %v, want %q and what to do", err, problem)
		}
		if after := tree(t, dir); !slices.Equal(after, before) {
			t.Errorf("something was changed: %q", after)
		}
	}
	wantKept(append(guide("c"), File{"booklet.pdf", []byte("c")}), "the guide has a file of that name")
	write("card.pdf/mine.txt", "a folder where the card was")
	before = tree(t, dir)
	wantKept(guide("c"), "this stands in the place of a file of the guide")
	if err := os.RemoveAll(filepath.Join(dir, "A-1", "card.pdf")); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("photo.jpg", filepath.Join(dir, "A-1", "mine", "link")); err != nil {
		t.Skip("this system makes no symbolic links: ", err)
	}
	before = tree(t, dir)
	wantKept(guide("c"), "this is neither a plain file nor a folder")
}

// A long text is sealed while it is written, and comes out as if it were whole;
// where its pieces end does not count.
func TestSealWhileWriting(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	for _, pieces := range [][]string{{}, {""}, {"one\r", "\ntwo"}, {"one\r", "two\n"}, {"a", "\r"}, {"\r", "\r", "\n", "\n"}} {
		write := func(w io.Writer) error {
			for _, p := range pieces {
				if _, err := io.WriteString(w, p); err != nil {
					return err
				}
			}
			return nil
		}
		if err := f.Put("index.html", Sealing(write, "<!-- ", " -->")); err != nil {
			t.Fatal(err)
		}
		want := Seal([]byte(strings.Join(pieces, "")), "<!-- ", " -->")
		if got, err := os.ReadFile(filepath.Join(dir, "index.html")); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%q: got %q, want %q, %v", pieces, got, want, err)
		}
		if line, err := SealOf(write, "<!-- ", " -->"); err != nil || !bytes.HasPrefix(want, []byte(line)) || !Sealed(bytes.NewReader(want)) {
			t.Errorf("%q: the seal is %q: %v", pieces, line, err)
		}
	}
}

func TestSeal(t *testing.T) {
	for _, text := range []string{"", "one line", "two\nlines\n", "one\r\ntwo\r\n"} {
		for _, marks := range [][2]string{{"# ", ""}, {"<!-- ", " -->"}, {"X-Digest: ", "\r"}} {
			sealed := Seal([]byte(text), marks[0], marks[1])
			dos := bytes.ReplaceAll(bytes.ReplaceAll(sealed, []byte("\r\n"), []byte("\n")), []byte("\n"), []byte("\r\n"))
			if !Sealed(bytes.NewReader(sealed)) || !Sealed(bytes.NewReader(dos)) {
				t.Errorf("%q is not as it was written", sealed)
			}
			if Sealed(strings.NewReader(text)) || Sealed(bytes.NewReader(append(sealed, ' '))) || Sealed(bytes.NewReader(append([]byte("a line\n"), sealed...))) {
				t.Errorf("a change of %q is not seen", sealed)
			}
		}
	}
}
