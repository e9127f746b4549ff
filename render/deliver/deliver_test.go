package deliver

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func open(t *testing.T, dir string) *Folder {
	t.Helper()
	f, err := Rules{}.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	return f
}

func textOf(text string) func(*os.File) error {
	return func(file *os.File) error { _, err := file.WriteString(text); return err }
}

func tree(t *testing.T, dir string) (names []string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(dir, path)
			data, _ := os.ReadFile(path)
			names = append(names, filepath.ToSlash(rel)+"="+string(data))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// A file of the earlier guide that the new one no longer has must go: an owner
// would otherwise read a card with the old torque.
func TestReplaceLeavesNothingOfTheEarlierGuide(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	for _, files := range [][]File{
		{{"guide.html", []byte("old")}, {"card.pdf", []byte("old card")}},
		{{"guide.html", []byte("new")}},
	} {
		if err := f.Replace("A-1", files, []string{"guide.html", "card.pdf"}, ""); err != nil {
			t.Fatal(err)
		}
	}
	want := []string{".lock=", "A-1/guide.html=new"}
	if got := tree(t, dir); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestReplaceKeepsRevisions(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	for _, step := range []struct{ content, keep string }{{"a", ""}, {"b", "A"}, {"b again", ""}, {"c", "B"}} {
		if err := f.Replace("S-1", []File{{"guide.html", []byte(step.content)}}, []string{"guide.html"}, step.keep); err != nil {
			t.Fatal(err)
		}
	}
	want := []string{".lock=", "S-1/guide.html=c", "S-1/revisions/A/guide.html=a", "S-1/revisions/B/guide.html=b again"}
	if got := tree(t, dir); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestPutReplacesAFile(t *testing.T) {
	dir := t.TempDir()
	f := open(t, dir)
	for _, content := range []string{"one", "two"} {
		if err := f.Put("index.html", textOf(content)); err != nil {
			t.Fatal(err)
		}
	}
	if got, want := tree(t, dir), []string{".lock=", "index.html=two"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestSecondRunIsTurnedAway(t *testing.T) {
	dir := t.TempDir()
	open(t, dir)
	if _, err := (Rules{}).Open(dir); !errors.Is(err, ErrBusy) {
		t.Errorf("second run got %v, want ErrBusy", err)
	}
}

func TestOpenPutsAParkedGuideBack(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{stagePrefix + "old-A-1", stagePrefix + "old-B-2", "B-2", stagePrefix + "new-C-3"} {
		if err := os.Mkdir(filepath.Join(dir, name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name, "guide.html"), []byte(name), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	open(t, dir)
	want := []string{".lock=", "A-1/guide.html=" + stagePrefix + "old-A-1", "B-2/guide.html=B-2"}
	if got := tree(t, dir); !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestReplaceRefusesALinkInItsPlace(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	f := open(t, dir)
	if err := os.Symlink(elsewhere, filepath.Join(dir, "A-1")); err != nil {
		t.Skip("this system makes no symbolic links: ", err)
	}
	if err := f.Replace("A-1", []File{{"guide.html", nil}}, nil, ""); err == nil {
		t.Error("a guide was written through a symbolic link")
	}
	if entries, _ := os.ReadDir(elsewhere); len(entries) > 0 {
		t.Error("files appeared behind the link")
	}
}

func TestRenameTwice(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	stage := filepath.Join(dir, "s")
	for _, content := range []string{"one", "two"} {
		if err := os.Mkdir(stage, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(stage, "f"), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := renameTwice(root, "s", "t", "p"); err != nil {
			t.Fatal(err)
		}
		if got := tree(t, dir); !slices.Equal(got, []string{"t/f=" + content}) {
			t.Errorf("after %s: %q", content, got)
		}
	}
}

// What stands in the output folder may have been put there by somebody else:
// no link in it leads a write or a read outside.
func TestLinksInTheOutputFolderLeadNowhere(t *testing.T) {
	for _, link := range []string{".lock", ".ownerguide", ".ownerguide/notes", stagePrefix + "new-A-1", stagePrefix + "old-B-2", stagePrefix + "file-index.html", stagePrefix + "file-notes", "A-1", "A-1/revisions", "index.html"} {
		t.Run(link, func(t *testing.T) {
			dir, elsewhere := t.TempDir(), t.TempDir()
			const secret = "not given to this program"
			for _, name := range []string{"file", "folder/A-1", "folder/guide.html"} {
				name = filepath.Join(elsewhere, name)
				if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(name, []byte(secret), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			before := tree(t, elsewhere)
			for _, target := range []string{"folder", "file", "absent"} {
				place := filepath.Join(dir, link)
				if err := os.MkdirAll(filepath.Dir(place), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.Symlink(filepath.Join(elsewhere, target), place); err != nil {
					t.Skip("this system makes no symbolic links: ", err)
				}
				if f, err := (Rules{}).Open(dir); err == nil {
					_ = f.Replace("A-1", []File{{"guide.html", []byte("new")}}, []string{"guide.html"}, "A")
					_ = f.Put("index.html", textOf("index"))
					_ = f.Put(DataFolder+"/notes", textOf("notes"))
					_ = f.Close()
				}
				if got := tree(t, elsewhere); !slices.Equal(got, before) {
					t.Errorf("%s → %s changed what is outside: %q", link, target, got)
				}
				for _, line := range tree(t, dir) {
					if strings.HasSuffix(line, "guide.html="+secret) && !strings.HasPrefix(line, link) {
						t.Errorf("%s → %s: a file outside was copied: %s", link, target, line)
					}
				}
				if err := os.RemoveAll(dir); err != nil {
					t.Fatal(err)
				}
			}
		})
	}
}

// Who reads waits for nobody and keeps nobody from reading; while a run writes,
// it is told so.
func TestWhileUnlocked(t *testing.T) {
	dir := t.TempDir()
	runs := 0
	look := func() error { runs++; return nil }
	if err := WhileUnlocked(dir, func() error { return WhileUnlocked(dir, look) }); err != nil || runs != 1 {
		t.Errorf("where nobody wrote: %d, %v", runs, err)
	}
	if entries, _ := os.ReadDir(dir); len(entries) > 0 {
		t.Errorf("looking made %v", entries)
	}
	f := open(t, dir)
	if err := WhileUnlocked(dir, look); !errors.Is(err, ErrBusy) || runs != 1 {
		t.Errorf("beside a run: %d, %v", runs, err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if err := WhileUnlocked(dir, func() error { return WhileUnlocked(dir, look) }); err != nil || runs != 2 {
		t.Errorf("after the run: %d, %v", runs, err)
	}
}

// A stamp changes when a file is changed, or replaced by another.
func TestStamps(t *testing.T) {
	dir := t.TempDir()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	stamps, err := StampsIn(root)
	if err != nil {
		t.Fatal(err)
	}
	defer stamps.Close()
	name := filepath.Join(dir, "record.json")
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(name, "first")
	first := stamps.Of("record.json")
	if first == "" || first != stamps.Of("record.json") {
		t.Errorf("%q of a file that stays as it is", first)
	}
	write(name, "longer than before")
	second := stamps.Of("record.json")
	if second == first {
		t.Error("another size has the same stamp")
	}
	write(name+".new", "longer than before")
	if err := os.Rename(name+".new", name); err != nil {
		t.Fatal(err)
	}
	if stamps.Of("record.json") == second {
		t.Error("another file has the same stamp")
	}
	if got := stamps.Of("absent"); got != "" {
		t.Errorf("%q for a file that is not there", got)
	}
	if got := stamps.Of("."); got != "" {
		t.Errorf("%q for a folder", got)
	}
}
