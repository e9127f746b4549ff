package main

import (
	"crypto/sha256"
	"fmt"
	"io/fs"
	"sync"

	"ownerguide/render"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// remembered is what was read of the last few folders, by name and digest of their
// files.
type remembered[T any] struct {
	mu   sync.Mutex
	keys []string // the oldest first
	all  map[string]func() (T, source.Findings)
}

// read reads a folder unless one of that name was read that had the same files.
// A folder with anything but files that can be read is always read.
func (r *remembered[T]) read(layer source.Layer, read func() (T, source.Findings)) (T, source.Findings) {
	sum := sha256.New()
	err := fs.WalkDir(layer.Files, ".", func(name string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		if !e.Type().IsRegular() {
			return fs.ErrInvalid
		}
		data, err := fs.ReadFile(layer.Files, name)
		fmt.Fprintf(sum, "%q %d\n%s", name, len(data), data)
		return err
	})
	if err != nil {
		return read()
	}
	key := fmt.Sprintf("%s %x", layer.Name, sum.Sum(nil))
	r.mu.Lock()
	once := r.all[key]
	if once == nil {
		once = sync.OnceValues(read)
		r.all[key] = once
		if r.keys = append(r.keys, key); len(r.keys) > 6 {
			delete(r.all, r.keys[0])
			r.keys = r.keys[1:]
		}
	}
	r.mu.Unlock()
	found, findings := once()
	return found, append(source.Findings(nil), findings...)
}

// rememberReading has tests share the lines and templates that the program reads
// for them; nothing changes those afterwards.
func rememberReading() {
	lines := remembered[*product.Line]{all: map[string]func() (*product.Line, source.Findings){}}
	words := remembered[*render.Templates]{all: map[string]func() (*render.Templates, source.Findings){}}
	load, compile := readLine, readTemplates
	readLine = func(files fs.FS, name string) (*product.Line, source.Findings) {
		return lines.read(source.Layer{Name: name, Files: files}, func() (*product.Line, source.Findings) { return load(files, name) })
	}
	readTemplates = func(layers ...source.Layer) (*render.Templates, source.Findings) {
		return words.read(layers[0], func() (*render.Templates, source.Findings) { return compile(layers...) })
	}
}
