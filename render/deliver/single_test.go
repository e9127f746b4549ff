package deliver

import (
	"os"
	"path/filepath"
	"testing"
)

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "new", "draft.eml")
	for i, text := range []string{"first", "second"} {
		replaced, err := WriteFile(name, []byte(text))
		if err != nil || replaced != (i > 0) {
			t.Fatalf("%s: replaced %t, %v", text, replaced, err)
		}
		if got, err := os.ReadFile(name); err != nil || string(got) != text {
			t.Fatalf("%q, %v", got, err)
		}
	}
	if entries, err := os.ReadDir(filepath.Dir(name)); err != nil || len(entries) != 1 {
		t.Errorf("%v, %v: something is left beside the file", entries, err)
	}
	if _, err := WriteFile(filepath.Dir(name), nil); err == nil {
		t.Error("a folder was replaced by a file")
	}
	if _, err := WriteFile(filepath.Join(name, "under.eml"), nil); err == nil {
		t.Error("a file was taken for a folder")
	}
}
