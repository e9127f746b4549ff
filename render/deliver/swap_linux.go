package deliver

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// swap exchanges the staged folder with the one in place in one step.
func swap(stage, target, parked string) error {
	if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(stage, target)
	}
	err := unix.Renameat2(unix.AT_FDCWD, stage, unix.AT_FDCWD, target, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) { // a file system that cannot exchange
		return renameTwice(stage, target, parked)
	}
	return err
}
