package deliver

import (
	"fmt"
	"os"
)

// Stamps returns stamps of files in one folder. It must be closed.
type Stamps struct{ root *os.Root }

// StampsIn returns the Stamps of a folder.
func StampsIn(root *os.Root) (*Stamps, error) {
	folder, err := root.OpenRoot(".")
	return &Stamps{folder}, err
}

// Close closes the folder.
func (s *Stamps) Close() error { return s.root.Close() }

// Of returns a text that changes when the file is changed: size and time. It is empty if
// there is no regular file.
func (s *Stamps) Of(name string) string {
	info, err := s.root.Lstat(name)
	if err != nil || !info.Mode().IsRegular() {
		return ""
	}
	return fmt.Sprintf("%d.%d", info.Size(), info.ModTime().UnixNano())
}
