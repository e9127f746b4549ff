package source

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

var folderCodes = FolderCodes{Unreadable: Code{ID: "unreadable"}, Stray: Code{ID: "stray"}}

// layered makes a reader of layers called own, base and so on from their files.
func layered(layers ...map[string]string) *Folder {
	var all []Layer
	for i, files := range layers {
		tree := fstest.MapFS{}
		for name, text := range files {
			tree[name] = &fstest.MapFile{Data: []byte(text)}
		}
		all = append(all, Layer{Name: []string{"own", "base"}[i], Files: tree})
	}
	return NewFolder("the files", folderCodes, all...)
}

func written(fs Findings) string {
	var b strings.Builder
	if err := fs.WriteText(&b); err != nil {
		return err.Error()
	}
	return b.String()
}

func TestFolderReadsTheFirstLayerThatHasAFile(t *testing.T) {
	f := layered(map[string]string{"a.md": "mine"}, map[string]string{"a.md": "theirs", "b.md": "below", "c/d.md": "x", "c/e.yaml": "y"})
	for name, want := range map[string]string{"a.md": "own/a.md mine", "b.md": "base/b.md below"} {
		if file, ok := f.Read(name); !ok || file.Shown()+" "+string(file.Data) != want {
			t.Errorf("%s: %s %s", name, file.Shown(), file.Data)
		}
	}
	if got := fmt.Sprint(f.Names(".", ".md"), f.Names("c", ".md"), f.Names("none", ".md"), f.Folders("."), f.Has("c"), f.Has("d")); got != "[a.md b.md] [d.md] [] [c] true false" {
		t.Error(got)
	}
	if _, ok := f.Read("none.md"); ok || written(f.Findings) != "own/none.md: error: the file is missing [unreadable]\n" {
		t.Error(written(f.Findings))
	}
	var files []string
	for _, file := range f.Files {
		files = append(files, file.Shown())
	}
	if slices.Sort(files); !slices.Equal(files, []string{"base/b.md", "own/a.md"}) {
		t.Errorf("read %v", files)
	}
}

// Entries count one by one; a slip in one layer leaves the others alone.
func TestFolderOverlaysEntries(t *testing.T) {
	f := layered(map[string]string{"map.yaml": "b: 20\nc: 30\n"}, map[string]string{"map.yaml": "a: 1\nb: 2\n"})
	all := ReadMap[Given[int]](f, "map.yaml", nil)
	var got []string
	for _, item := range all {
		got = append(got, fmt.Sprintf("%s=%d at %s", item.Key, item.Value.Value, item.KeyAt))
	}
	if want := []string{"a=1 at base/map.yaml:1:1", "b=20 at own/map.yaml:1:1", "c=30 at own/map.yaml:2:1"}; !slices.Equal(got, want) || len(f.Findings) > 0 {
		t.Errorf("got %v\n%s", got, written(f.Findings))
	}
	if got := fmt.Sprint(f.Files[0].Layer, f.Files[0].Entries, f.Files[1].Layer, f.Files[1].Entries); got != "base[a b]own[b c]" {
		t.Error(got)
	}

	type entry struct {
		ID    Given[string] `yaml:"id,required"`
		Count int           `yaml:"count"`
	}
	f = layered(map[string]string{"list.yaml": "- { id: b, count: 20 }\n- { id: b }\n"}, map[string]string{"list.yaml": "- { id: a }\n- { id: b, count: 2 }\n"})
	list := ReadList(f, "list.yaml", nil, Code{ID: "twice"}, func(e entry) Given[string] { return e.ID })
	if len(list) != 2 || list[1].ID.At.File != "own/list.yaml" {
		t.Errorf("got %v", list)
	}
	if got, want := written(f.Findings), "own/list.yaml:2:9: error: \"b\" stands here a second time [twice]\n  own/list.yaml:1:9: first here\n"; got != want {
		t.Errorf("got %s", got)
	}
	f = layered(nil, nil)
	if all := ReadMap[int](f, "map.yaml", nil); all != nil || written(f.Findings) != "own/map.yaml: error: the file is missing [unreadable]\n" {
		t.Errorf("%v %s", all, written(f.Findings))
	}
}

// A file that nothing reads is told with the name that was most likely meant.
func TestFolderTellsStrays(t *testing.T) {
	base := map[string]string{"en/sections/brakes.md": "", "en/tasks/adjust.md": ""}
	for name, want := range map[string]string{
		"en/sections/braks.md":      `did you mean "en/sections/brakes.md"?`,
		"en/section/own.md":         `did you mean "en/sections/own.md"?`,
		"models/other.yaml":         "list it",
		"notes.txt":                 "-",
		".hidden":                   "",
		".git/config":               "",
		"en/sections/brakes.md~":    "",
		"#en.md":                    "",
		"en/README.md":              "",
		"embed.go":                  "",
		"en/sections/embed.go":      "-",
		"en/sections/brakes.md.bak": `did you mean "en/sections/brakes.md"?`,
	} {
		f := layered(map[string]string{name: ""}, base)
		for read := range base {
			f.Read(read)
		}
		f.Strays(func(name string) (string, bool) { return "list it", strings.HasPrefix(name, "models/") })
		got := ""
		for _, x := range f.Findings {
			got = "-"
			if len(x.Hints) > 0 {
				got = x.Hints[0]
			}
			if x.Code != "stray" || x.Pos.File != "own/"+name {
				t.Errorf("%s: %v", name, x)
			}
		}
		if got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	many := map[string]string{}
	for i := range strayLimit + 10 {
		many[fmt.Sprintf("%d.jpg", i)] = ""
	}
	f := layered(many)
	f.Strays(nil)
	if n := len(f.Findings); n != strayLimit+1 || f.Findings[n-1].Code != "unreadable" {
		t.Errorf("%d findings", n)
	}
}

// What is read has bounds, and a pipe keeps nobody waiting.
func TestFolderLimits(t *testing.T) {
	large := strings.Repeat("x", LineLimit)
	f := layered(map[string]string{"ok.md": large, "long.md": large + "x", "3": large, "4": large, "5": large})
	if _, ok := f.Read("ok.md"); !ok || len(f.Findings) > 0 {
		t.Error(written(f.Findings))
	}
	if _, ok := f.Read("long.md"); ok || f.Findings[0].Code != codeTooLarge.ID || f.Findings[0].Pos.String() != "own/long.md:1:1" {
		t.Error(written(f.Findings))
	}
	f.Read("3")
	if _, ok := f.Read("4"); ok || !strings.Contains(written(f.Findings), "own/4:1:1: error: with this file the files have more than 16777216 bytes") {
		t.Error(written(f.Findings))
	}

	dir := t.TempDir()
	if err := os.MkdirAll(filepath.Join(dir, "folder.md"), 0o777); err != nil {
		t.Fatal(err)
	}
	f = NewFolder("the files", folderCodes, Layer{Name: "own", Files: os.DirFS(dir)})
	if _, ok := f.Read("folder.md"); ok || written(f.Findings) != "own/folder.md: error: this cannot be read: it is not a plain file [unreadable]\n" {
		t.Error(written(f.Findings))
	}
}

// broken is a folder that cannot be listed.
type broken struct{}

func (broken) Open(name string) (fs.File, error) {
	return nil, &fs.PathError{Op: "open", Path: "/somewhere/else/" + name, Err: fs.ErrPermission}
}

// Errors of the machine are told without paths that depend on it.
func TestFolderThatCannotBeRead(t *testing.T) {
	f := NewFolder("the files", folderCodes, Layer{Name: "own", Files: broken{}})
	f.Names("sections", ".md")
	f.Read("a.md")
	f.Strays(nil)
	if got, want := written(f.Findings), `own: error: this cannot be read: permission denied [unreadable]
own/a.md: error: this cannot be read: permission denied [unreadable]
own/sections: error: this cannot be read: permission denied [unreadable]
`; got != want {
		t.Errorf("got %s", got)
	}
}
