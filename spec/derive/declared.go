package derive

import "strings"

// IsDeclared tells whether a value of this name, or a family it would belong
// to, can exist for some unit of some line.
func IsDeclared(name string) bool {
	if d, ok := declarations[name]; ok {
		return d.members == nil
	}
	for end := strings.LastIndexByte(name, '.'); end > 0; end = strings.LastIndexByte(name[:end], '.') {
		if d, ok := declarations[name[:end]]; ok && d.members != nil {
			return true
		}
	}
	return false
}
