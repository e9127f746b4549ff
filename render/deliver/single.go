package deliver

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteFile puts one file in place, whole or not at all, and tells whether
// another one had that name before. A folder that is not there is made.
func WriteFile(name string, data []byte) (replaced bool, err error) {
	info, err := os.Stat(name)
	switch {
	case err == nil && !info.Mode().IsRegular():
		return false, fmt.Errorf("%s is not a plain file", name)
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return false, fmt.Errorf("looking for %s: %w", name, err)
	}
	replaced = err == nil
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return false, fmt.Errorf("making the folder of %s: %w", name, err)
	}
	root, err := os.OpenRoot(filepath.Dir(name))
	if err != nil {
		return false, fmt.Errorf("opening the folder of %s: %w", name, err)
	}
	defer root.Close()
	base := filepath.Base(name)
	staged := stagePrefix + "file-" + base
	err = root.RemoveAll(staged) // of a run that was stopped
	if err == nil {
		err = writeSynced(root, staged, data)
	}
	if err == nil {
		err = root.Rename(staged, base)
	}
	if err != nil {
		return false, fmt.Errorf("putting %s in place: %w", name, errors.Join(err, root.RemoveAll(staged)))
	}
	return replaced, syncFolder(root, ".")
}
