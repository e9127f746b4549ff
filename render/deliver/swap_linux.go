package deliver

import (
	"errors"
	"io/fs"
	"os"

	"golang.org/x/sys/unix"
)

// swap atomically exchanges the staged folder with the current one.
func swap(root *os.Root, stage, target, parked string) error {
	if _, err := root.Lstat(target); errors.Is(err, fs.ErrNotExist) {
		return root.Rename(stage, target)
	}
	folder, err := root.Open(".")
	if err != nil {
		return err
	}
	defer folder.Close()
	at := int(folder.Fd())
	err = unix.Renameat2(at, stage, at, target, unix.RENAME_EXCHANGE)
	if errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) { // the file system does not support it
		return renameTwice(root, stage, target, parked)
	}
	return err
}
