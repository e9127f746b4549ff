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
	stage, err := os.MkdirTemp(filepath.Dir(name), stagePrefix)
	if err != nil {
		return false, fmt.Errorf("staging %s: %w", name, err)
	}
	defer os.RemoveAll(stage)
	staged := filepath.Join(stage, filepath.Base(name))
	if err := writeSynced(staged, data); err != nil {
		return false, fmt.Errorf("staging %s: %w", name, err)
	}
	if err := os.Rename(staged, name); err != nil {
		return false, fmt.Errorf("putting %s in place: %w", name, err)
	}
	return replaced, syncFolder(filepath.Dir(name))
}
