package main

import (
	"bytes"
	"crypto/sha256"
	varint "encoding/binary" // its own name is taken
	"io/fs"
	"path"
	"reflect"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

// storedTrees has the parsed form of the YAML files inside the program.
const storedTrees = "../../spec/source/stored.trees"

// yamlInside returns the YAML of the files inside the program, front matter too.
func yamlInside(t *testing.T) (list [][]byte) {
	list = [][]byte{product.BaseTasks()}
	for _, files := range []fs.FS{line.Files, templates.Files} {
		must(t, fs.WalkDir(files, ".", func(name string, _ fs.DirEntry, err error) error {
			if err != nil || path.Ext(name) != ".yaml" && path.Ext(name) != ".md" {
				return err
			}
			data, err := fs.ReadFile(files, name)
			data = source.Text(data)
			if front, whole := bytes.CutPrefix(data, []byte("---")); whole {
				front, _, _ = bytes.Cut(front, []byte("---\n"))
				list = append(list, front)
			} else if path.Ext(name) == ".yaml" {
				list = append(list, data)
			}
			return err
		}))
	}
	return list
}

// A stored tree is what parsing gives.
func TestStoredTrees(t *testing.T) {
	stored := readText(t, storedTrees)
	for _, data := range yamlInside(t) {
		if digest := sha256.Sum256(data); !strings.Contains(stored, string(digest[:])) {
			t.Errorf("no tree is stored of\n%s", data)
		}
		fromStore, _ := source.Parse("file.yaml", data, source.LineLimit)
		read, _ := parsed("file.yaml", data)
		if !reflect.DeepEqual(fromStore, read) {
			t.Errorf("the stored tree is another than that of\n%s", data)
		}
	}
}

// parsed returns the tree of a file, and not the one that is stored of it.
func parsed(file string, data []byte) (*source.Node, source.Findings) {
	return source.Parse(file, append(slices.Clip(data), "\n# read as text\n"...), source.LineLimit)
}

// treesOf returns the trees of files as they are stored.
func treesOf(files [][]byte) (all []byte) {
	for _, data := range files {
		if root, findings := parsed("", data); len(findings) == 0 {
			digest := sha256.Sum256(data)
			all = appendText(appendText(all, string(digest[:])), string(appendNode(nil, root)))
		}
	}
	return all
}

func appendNumbers(to []byte, list ...int) []byte {
	for _, n := range list {
		to = varint.AppendUvarint(to, uint64(n))
	}
	return to
}

func appendText(to []byte, text string) []byte { return append(appendNumbers(to, len(text)), text...) }

func appendNode(to []byte, n *source.Node) []byte {
	to = appendText(appendNumbers(to, int(n.Kind), n.At.Line, n.At.Column), n.Path)
	switch n.Kind {
	case source.Scalar:
		null := 0
		if n.Null {
			null = 1
		}
		to = appendText(appendNumbers(to, n.From.Line, n.From.Column, null), n.Text)
	case source.Sequence:
		to = appendNumbers(to, len(n.Items))
		for _, item := range n.Items {
			to = appendNode(to, item)
		}
	case source.Mapping:
		to = appendNumbers(to, len(n.Keys))
		for _, e := range n.Keys {
			to = appendNode(appendNumbers(appendText(to, e.Key), e.KeyAt.Line, e.KeyAt.Column), e.Value)
		}
	}
	return to
}
