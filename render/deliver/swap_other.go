//go:build !linux

package deliver

import "os"

// swap replaces the current folder with the staged one by two renames.
func swap(root *os.Root, stage, target, parked string) error {
	return renameTwice(root, stage, target, parked)
}
