//go:build unix

package deliver

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// takeLock locks a file until it is closed or the process ends. The lock is exclusive,
// or shared if reading is set.
func takeLock(f *os.File, reading bool) error {
	how := unix.LOCK_EX
	if reading {
		how = unix.LOCK_SH
	}
	err := unix.Flock(int(f.Fd()), how|unix.LOCK_NB)
	if errors.Is(err, unix.EWOULDBLOCK) {
		return ErrBusy
	}
	return err
}

// syncFolder syncs the directory entries of a folder to disk.
func syncFolder(root *os.Root, name string) error {
	dir, err := root.Open(name)
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close())
}
