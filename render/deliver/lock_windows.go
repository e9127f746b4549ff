package deliver

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// takeLock locks a file until it is closed or the process ends, for itself
// or for all who only read.
func takeLock(f *os.File, reading bool) error {
	how := uint32(windows.LOCKFILE_EXCLUSIVE_LOCK)
	if reading {
		how = 0
	}
	err := windows.LockFileEx(windows.Handle(f.Fd()), how|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &windows.Overlapped{})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return ErrBusy
	}
	return err
}

// syncFolder does nothing: this system has no way to sync a folder's names.
func syncFolder(*os.Root, string) error { return nil }
