package testenv

import (
	"io/fs"
	"strings"
	"testing/fstest"
)

// Files returns a copy of a folder, for a test that changes files in it.
func Files(folder fs.FS) fstest.MapFS {
	files := fstest.MapFS{}
	err := fs.WalkDir(folder, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(folder, name)
		files[name] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		panic(err)
	}
	return files
}

// Replace replaces all occurrences of a text in all files and reports whether there are
// any.
func Replace(files fstest.MapFS, from, to string) (found bool) {
	for _, file := range files {
		if text := string(file.Data); strings.Contains(text, from) {
			found, file.Data = true, []byte(strings.ReplaceAll(text, from, to))
		}
	}
	return found
}

// Edited replaces the entry of a sheet with the same key, or appends the entry.
func Edited(sheet, entry string) string {
	key, _, _ := strings.Cut(entry, ":")
	lines := strings.Split(strings.TrimSuffix(sheet, "\n"), "\n")
	for i, line := range lines {
		if strings.HasPrefix(line, key+":") {
			lines[i] = entry
			return strings.Join(lines, "\n") + "\n"
		}
	}
	return sheet + entry + "\n"
}
