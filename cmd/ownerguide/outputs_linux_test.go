package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"ownerguide/spec/testenv"
)

// Where nothing can be written, every command says so and what to do, and leaves
// nothing behind: an empty sheet would count as begun.
func TestPlacesThatTakeNothing(t *testing.T) {
	testenv.Heavy(t, "mounts a full and a read-only file system")
	sheet := fullPath(t, "../../testdata/sheets/BW-27-0142.yaml")
	t.Chdir(t.TempDir())
	writeTree(t, ".", map[string]string{"orders.csv": "serial,model\nBW-27-0901,utility-12\n", "full/filler": strings.Repeat("x", 4096), "readonly/filler": "x"})
	mount(t, "tmpfs", "full", "tmpfs", 0, "size=4k")
	writeTree(t, "full", map[string]string{"filler": strings.Repeat("x", 4096)})
	mount(t, "readonly", "readonly", "", syscall.MS_BIND, "")
	mount(t, "readonly", "readonly", "", syscall.MS_BIND|syscall.MS_REMOUNT|syscall.MS_RDONLY, "")
	for _, place := range []struct{ dir, said, hint string }{
		{"full", "no space left on device", "hint: make room on the disk"},
		{"readonly", "read-only file system", "hint: name a place that you may write to"},
	} {
		for _, args := range [][]string{
			{"begin", "utility-12", "--out", "new.yaml"}, {"begin", "utility-12", "--out", "new/folder/new.yaml"},
			{"begin", "--from", "orders.csv", "--out", "sheets"}, {"prove", "--sheets", "covering"}, {"unpack", "own"}, {"unpack", "new/own"},
			{"mail", sheet, "--out", "new.eml"}, {"write", sheet, "--out", "out"}, {"write", sheet, "--out", "elsewhere", "--together", "all.pdf"},
		} {
			args = slices.Clone(args)
			args[len(args)-1] = filepath.Join(place.dir, args[len(args)-1])
			t.Run(strings.Join(args[:1], " ")+" "+args[len(args)-1], func(t *testing.T) {
				code, _, stderr := program(t, args...)
				if code != exitErrors || !strings.Contains(stderr, place.said) || !strings.Contains(stderr, place.hint) {
					t.Errorf("exit %d, want %q and %q\n%s", code, place.said, place.hint, stderr)
				}
				left, err := os.ReadDir(place.dir)
				left = slices.DeleteFunc(left, func(e os.DirEntry) bool { return e.Name() == "filler" || e.Name() == "out" })
				if err != nil || len(left) > 0 {
					t.Errorf("left behind: %v (%v)", left, err)
				}
				if names, _ := filepath.Glob(filepath.Join(place.dir, "out", "[^.]*")); len(names) > 0 {
					t.Errorf("left behind: %v", names)
				}
			})
		}
	}
}
