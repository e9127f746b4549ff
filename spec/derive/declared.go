package derive

import (
	"slices"
	"strings"
)

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

// asked are the features that formulas ask for in code, and drawings too.
var asked = []string{"body-prop", "braked", "bulk-hauler", "bumper-pull", "dated", "deck-lock", "dual-wheels", "dump",
	"equipment-hauler", "full-tilt", "gooseneck", "power-tilt", "single-axle", "tilting", "vehicle-hauler"}

// Reads lists every feature that a figure, a limit or a drawing can turn on,
// sorted: a build's other features change its words alone.
func Reads() []string {
	all := slices.Clone(asked)
	for _, d := range declarations {
		all = append(all, d.When.Features()...)
	}
	for _, l := range limits {
		all = append(all, l.When.Features()...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}
