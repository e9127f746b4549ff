package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is read at one sitting: a file, and a package without its tests, in lines of Go.
const (
	mostInFile    = 500
	mostInPackage = 3500
)

// largerPackages are the packages that may be larger, and why.
var largerPackages = map[string]string{
	"spec/derive": "a file for each system of a trailer, whose values read those of the other systems",
}

// TestSizes: no file and no package grows beyond what can be read at one sitting.
func TestSizes(t *testing.T) {
	packages := map[string]int{}
	err := filepath.WalkDir("../..", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && strings.HasPrefix(d.Name(), ".") && d.Name() != ".." {
			return fs.SkipDir
		}
		if filepath.Ext(name) != ".go" {
			return nil
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		lines := bytes.Count(data, []byte("\n"))
		if lines > mostInFile {
			t.Errorf("%s has %d lines; a file has %d at most", name, lines, mostInFile)
		}
		if !strings.HasSuffix(name, "_test.go") {
			dir, _ := filepath.Rel("../..", filepath.Dir(name))
			packages[filepath.ToSlash(dir)] += lines
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(packages) < 10 {
		t.Fatalf("%d packages were found", len(packages))
	}
	for name, lines := range packages {
		switch _, larger := largerPackages[name]; {
		case lines > mostInPackage && !larger:
			t.Errorf("package %s has %d lines without tests; a package has %d at most: divide it where it holds two things", name, lines, mostInPackage)
		case lines <= mostInPackage && larger:
			t.Errorf("package %s has %d lines and is no longer larger than others", name, lines)
		}
	}
	for name := range largerPackages {
		if packages[name] == 0 {
			t.Errorf("there is no package %s", name)
		}
	}
}
