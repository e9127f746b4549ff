package main

import (
	"os"
	"path/filepath"
)

// traps are things that can be in place of a file or folder.
func traps() map[string]func(place, elsewhere string) error {
	return map[string]func(place, elsewhere string) error{
		"link to a file": func(place, elsewhere string) error { return os.Symlink(filepath.Join(elsewhere, "file"), place) },
	}
}
