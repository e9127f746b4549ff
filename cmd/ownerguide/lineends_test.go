package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// Files that an editor on Windows saved, with its line ends and its mark at the
// beginning, give the same guide as those of any other.
func TestLineEndsOfWindows(t *testing.T) {
	sheet, err := os.ReadFile("../../testdata/sheets/BW-27-0118.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	writeTree(t, ".", map[string]string{"plain/sheet.yaml": string(sheet), "windows/sheet.yaml": string(sheet)})
	for _, dir := range []string{"plain", "windows"} {
		ownFiles(t, dir+"/own")
	}
	err = filepath.WalkDir("windows", func(name string, e fs.DirEntry, err error) error {
		if ext := filepath.Ext(name); err != nil || ext != ".yaml" && ext != ".md" && ext != ".css" {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		return os.WriteFile(name, append([]byte("\xef\xbb\xbf"), bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))...), 0o644)
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{"plain", "windows"} {
		if code, _, stderr := program(t, "--line", dir+"/own", "write", "-o", dir+"/out", dir+"/sheet.yaml"); code != exitClean {
			t.Fatalf("%s: %s", dir, stderr)
		}
	}
	for _, file := range []string{"guide.html", "guide.pdf", "card.pdf"} {
		plain, err := os.ReadFile(filepath.Join("plain/out/BW-27-0118", file))
		windows, failed := os.ReadFile(filepath.Join("windows/out/BW-27-0118", file))
		if err != nil || failed != nil || !bytes.Equal(plain, windows) {
			t.Errorf("%s is another (%v, %v)", file, err, failed)
		}
	}
}
