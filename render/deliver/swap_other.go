//go:build !linux

package deliver

// swap puts the staged folder in place with two renames.
func swap(stage, target, parked string) error { return renameTwice(stage, target, parked) }
