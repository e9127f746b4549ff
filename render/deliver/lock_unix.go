//go:build unix

package deliver

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// takeLock locks a file until it is closed or the process ends.
func takeLock(f *os.File) error {
	err := unix.Flock(int(f.Fd()), unix.LOCK_EX|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return ErrBusy
	}
	return err
}

// syncFolder makes the names in a folder safe on disk.
func syncFolder(root *os.Root, name string) error {
	dir, err := root.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close())
}
