package derive

import (
	"cmp"
	"strings"
)

// declarationOf returns the declaration of a value, or that of its family; nil if it has none.
func declarationOf(name string) *declaration {
	if d, ok := declarations[name]; ok && d.members == nil {
		return d
	}
	return declarations[FamilyOf(name)]
}

// IsDeclared reports whether a value of this name, or the family it belongs to, can exist for
// some unit of some line.
func IsDeclared(name string) bool { return declarationOf(name) != nil }

// FamilyOf returns the family of a value, such as visit for visit.01.date; empty for a value
// that is not in a family.
func FamilyOf(name string) string {
	for end := strings.LastIndexByte(name, '.'); end > 0; end = strings.LastIndexByte(name[:end], '.') {
		if d, ok := declarations[name[:end]]; ok && d.members != nil {
			return name[:end]
		}
	}
	return ""
}

// ForEngineer reports whether the value of this name, or its family, is not shown to the
// owner.
func ForEngineer(name string) bool {
	d := cmp.Or(declarations[name], declarations[FamilyOf(name)])
	return d != nil && d.Engineer
}
