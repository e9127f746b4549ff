// Package input reads the arguments of a command line: build sheets, folders, patterns and
// standard input.
package input

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/source"
)

// Folder opens a folder so that no link in it leads outside.
func Folder(dir string) (fs.FS, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("opening %s: %w", dir, terminal.PlainError(err))
	}
	return root.FS(), nil
}

// ReadCapped reads at most one byte more than the size limit of a sheet, so that a huge
// file takes no memory and is still refused.
func ReadCapped(name string, in io.Reader) ([]byte, error) {
	if name == "-" {
		data, err := io.ReadAll(io.LimitReader(in, source.SheetLimit+1))
		return data, reading("standard input", err)
	}
	return ReadPlain(name, source.SheetLimit+1)
}

// ReadPlain reads up to limit bytes of a regular file. A pipe or a device could block the
// run for ever.
func ReadPlain(name string, limit int64) ([]byte, error) {
	if info, err := os.Stat(name); err != nil || !info.Mode().IsRegular() {
		return nil, reading(name, cmp.Or(err, ErrNotPlain))
	}
	file, err := os.Open(name)
	if err != nil {
		return nil, reading(name, err)
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, limit))
	return data, reading(name, err)
}

var ErrNotPlain = errors.New("it is not a plain file")

// reading says what was read when an error occurred; nil if none did.
func reading(what string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("reading %s: %w", what, terminal.PlainError(err))
}
