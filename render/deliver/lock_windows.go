package deliver

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// takeLock locks a file until it is closed or the process ends.
func takeLock(f *os.File) error {
	err := windows.LockFileEx(windows.Handle(f.Fd()), windows.LOCKFILE_EXCLUSIVE_LOCK|windows.LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &windows.Overlapped{})
	if errors.Is(err, windows.ERROR_LOCK_VIOLATION) {
		return ErrBusy
	}
	return err
}

// syncFolder does nothing: this system has no way to sync a folder's names.
func syncFolder(*os.Root, string) error { return nil }
