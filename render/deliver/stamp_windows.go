package deliver

import (
	"fmt"
	"os"
)

// Stamps tells stamps of files in one folder. Close it.
type Stamps struct{ root *os.Root }

// StampsIn opens a folder for them.
func StampsIn(root *os.Root) (*Stamps, error) {
	folder, err := root.OpenRoot(".")
	return &Stamps{folder}, err
}

// Close lets go of the folder.
func (s *Stamps) Close() error { return s.root.Close() }

// Of is a text that changes when the file does: size and time. It is empty where
// there is no plain file.
func (s *Stamps) Of(name string) string {
	info, err := s.root.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return ""
	}
	return fmt.Sprintf("%d.%d", info.Size(), info.ModTime().UnixNano())
}
