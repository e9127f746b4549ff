package derive

import "strings"

// IsDeclared tells whether a value of this name, or a family it would belong
// to, can exist for some unit of some line.
func IsDeclared(name string) bool {
	d, ok := declarations[name]
	return ok && d.members == nil || FamilyOf(name) != ""
}

// FamilyOf gives the family a value of this name belongs to, such as visit for
// visit.01.date; empty for a value that stands by itself.
func FamilyOf(name string) string {
	for end := strings.LastIndexByte(name, '.'); end > 0; end = strings.LastIndexByte(name[:end], '.') {
		if d, ok := declarations[name[:end]]; ok && d.members != nil {
			return name[:end]
		}
	}
	return ""
}

// ForEngineer tells whether the value of this name, or its family, is kept from
// the owner.
func ForEngineer(name string) bool {
	d, ok := declarations[name]
	if !ok {
		d, ok = declarations[FamilyOf(name)]
	}
	return ok && d.Engineer
}
