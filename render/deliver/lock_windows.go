package deliver

import (
	"errors"
	"os"

	"golang.org/x/sys/windows"
)

// takeLock locks a file until it is closed or the process ends. The lock is exclusive,
// or shared if reading is set.
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

// syncFolder does nothing: Windows has no way to sync directory entries.
func syncFolder(*os.Root, string) error { return nil }
