//go:build !linux

package deliver

import "os"

// swap puts the staged folder in place with two renames.
func swap(root *os.Root, stage, target, parked string) error {
	return renameTwice(root, stage, target, parked)
}
