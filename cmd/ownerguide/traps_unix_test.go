//go:build unix

package main

import (
	"os"
	"path/filepath"
	"syscall"
)

// traps are things that can be in place of a file or folder: each makes
// one at a place; elsewhere holds what was not given to the program.
func traps() map[string]func(place, elsewhere string) error {
	return map[string]func(place, elsewhere string) error{
		"link to a file":   func(place, elsewhere string) error { return os.Symlink(filepath.Join(elsewhere, "file"), place) },
		"link to a folder": func(place, elsewhere string) error { return os.Symlink(filepath.Join(elsewhere, "folder"), place) },
		"link to nothing":  func(place, elsewhere string) error { return os.Symlink(filepath.Join(elsewhere, "absent"), place) },
		"link in a circle": func(place, _ string) error { return os.Symlink(filepath.Base(place), place) },
		"link to a device": func(place, _ string) error { return os.Symlink("/dev/zero", place) },
		"pipe":             func(place, _ string) error { return syscall.Mkfifo(place, 0o644) },
	}
}
