package input

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A sheet whose data were given up is read again, and refused if it is no longer the same; standard input stays.
func TestForgottenSheetsAreReadAgain(t *testing.T) {
	dir := t.TempDir()
	same, changed, gone := filepath.Join(dir, "a.yaml"), filepath.Join(dir, "b.yaml"), filepath.Join(dir, "c.yaml")
	for _, name := range []string{same, changed, gone} {
		if err := os.WriteFile(name, []byte("serial: "+filepath.Base(name)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	sheets, found := ReadSheets([]string{"-", dir}, strings.NewReader("serial: typed"))
	if len(sheets) != 4 || found != nil {
		t.Fatal(len(sheets), found)
	}
	Forget(sheets)
	if err := os.WriteFile(changed, []byte("serial: B.yaml"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(gone); err != nil {
		t.Fatal(err)
	}
	for i, want := range []string{"serial: typed", "serial: a.yaml"} {
		if f, err := sheets[i].Again(); err != nil || string(f.Data) != want {
			t.Errorf("%q, %v; expected %q", f.Data, err, want)
		}
	}
	for _, f := range sheets[2:] {
		if f.Data != nil {
			t.Errorf("%s is held", f.Name)
		}
		if _, err := f.Again(); err == nil {
			t.Errorf("%s is not what it was, and nobody is told", f.Name)
		}
	}
}
