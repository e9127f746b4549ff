package derive

import (
	"cmp"
	"encoding/binary"
	"hash/maphash"
	"math"
	"slices"

	"ownerguide/spec/quantity"
)

// Comparison is a margin with its utilization.
type Comparison struct {
	*Margin
	Utilization float64 // what is needed as a fraction of what there is; NaN if not meaningful
}

// Comparisons returns all of a unit: first those that are violated, then by what is left,
// then those without a fraction.
func (vs *Values) Comparisons() (list []Comparison) {
	for _, m := range vs.Margins() {
		list = append(list, Comparison{m, m.Used()})
	}
	slices.SortStableFunc(list, func(x, y Comparison) int {
		rank := func(c Comparison) int {
			switch {
			case !c.Kept:
				return 0
			case math.IsNaN(c.Utilization):
				return 2
			}
			return 1
		}
		return cmp.Or(cmp.Compare(rank(x), rank(y)), cmp.Compare(y.Utilization, x.Utilization))
	})
	return list
}

// Exactly reports whether a comparison leaves nothing by design: a rating taken from the
// label, a count, a figure calculated from its limit.
func (c Comparison) Exactly() bool { return c.Kept && math.Abs(c.Utilization-1) < 1e-6 }

// Group returns the group of a comparison: counts say nothing about the strength of a
// structure.
func (c Comparison) Group() string {
	switch c.Of {
	case quantity.DimMass, quantity.DimTorque:
		return "load"
	case quantity.DimPressure, quantity.DimVolume, quantity.DimFlowRate:
		return "pressure"
	case quantity.DimCurrent, quantity.DimVoltage, quantity.DimCharge, quantity.DimResistance:
		return "electric"
	case quantity.DimLength, quantity.DimAngle:
		return "size"
	case quantity.DimCount:
		return "count"
	}
	return "rest"
}

// Groups are in the order of the document.
var Groups = []string{"load", "pressure", "electric", "size", "count", "rest"}

// Strength reports whether something may break or burn.
func (c Comparison) Strength() bool { return slices.Contains(Groups[:3], c.Group()) }

// SameWords reports whether two figures have the same formula and source.
func (v *Value) SameWords(other *Value) bool {
	return v.Formula == other.Formula && v.Source == other.Source
}

// InputsTold returns a digest, for this process, of all that can be told of the inputs of a figure: values by name;
// entries with their texts and positions, where the sheet has no name.
func (v *Value) InputsTold(sheet string) (digest [2]uint64) {
	told := make([]byte, 0, 4096)
	for _, in := range v.Inputs {
		if in.Name != "" {
			in = Input{Name: in.Name}
		}
		told = in.tell(told, sheet)
	}
	return digestTold(told)
}

// ComparedTold returns such a digest of comparisons.
func ComparedTold(list []Comparison, sheet string) (digest [2]uint64) {
	told := make([]byte, 0, 4096)
	for _, c := range list {
		told = c.Need.tell(c.Have.tell(told, sheet), sheet)
		kept := byte(0)
		if c.Kept {
			kept = 1
		}
		told = append(told, byte(c.Order), kept)
		told = binary.AppendUvarint(told, math.Float64bits(c.Utilization))
	}
	return digestTold(told)
}

// tell appends texts, each ended by a zero, and a position.
func (in Input) tell(told []byte, sheet string) []byte {
	if in.At.File == sheet {
		in.At.File = "."
	}
	for _, text := range [...]string{in.Name, in.Path, in.Text, in.At.File} {
		told = append(append(told, text...), 0)
	}
	return binary.AppendVarint(binary.AppendVarint(told, int64(in.At.Line)), int64(in.At.Column))
}

func digestTold(told []byte) (digest [2]uint64) {
	for i, seed := range toldBy {
		digest[i] = maphash.Bytes(seed, told)
	}
	return digest
}

var toldBy = [2]maphash.Seed{maphash.MakeSeed(), maphash.MakeSeed()}
