package product

import (
	"maps"
	"slices"
	"strings"

	"ownerguide/spec/logic"
)

// vinCodes checks the codes of a model and of its options: no code is that of two
// models, and no two options contradict each other.
func (c *lineCheck) vinCodes(m *Model) {
	codes := m.VINCodes()
	for _, other := range c.Models {
		if other == m {
			break
		}
		others := other.VINCodes()
		for _, code := range slices.Sorted(maps.Keys(codes)) {
			if with, same := others[code]; same {
				c.add(codeLineVIN.At(m.VINCode.At, "vin_code %s of %s is also that of %s", code, modelWith(m, codes[code]), modelWith(other, with)).WithRelated(other.VINCode.At, "here"))
				break
			}
		}
	}
	for i, o := range m.Options {
		own := o.Value.VINCode
		if !own.Set {
			continue
		}
		if !optionCode().MatchString(own.Value) || own.Value == "....." {
			c.add(codeLineVIN.At(own.At, "vin_code is %q; expected five characters as in the model's, with a dot for each that the option leaves as it is", own.Value))
			continue
		}
		for _, other := range m.Options[:i] {
			if j := clash(own.Value, other.Value.VINCode.Value); j >= 0 && c.compatible(m, o.Key, other.Key) {
				c.add(codeLineVIN.At(own.At, "%s and %s can be ordered together, and each puts another character at position %d of the vin", other.Key, o.Key, j+4).
					WithRelated(other.Value.VINCode.At, "the other one"))
			}
		}
	}
}

// compatible reports whether a unit can have both options.
func (c *lineCheck) compatible(m *Model, a, b string) bool {
	solver := logic.NewSolver(logic.SolverStepsEach(len(c.Models)), c.Problem(m).Formulas()...)
	return solver.Possible(logic.Fact(a), logic.Fact(b)) || solver.Spent()
}

// clash returns the first position at which two codes of options differ; -1 if there is none.
func clash(a, b string) int {
	for i := range min(len(a), len(b)) {
		if a[i] != '.' && b[i] != '.' && a[i] != b[i] {
			return i
		}
	}
	return -1
}

// VINCodeWith returns positions 4 to 8 of the numbers of units with these options.
func (m *Model) VINCodeWith(options []string) string {
	code := []byte(m.VINCode.Value)
	for _, id := range options {
		if o := m.Options.Get(id); o != nil {
			for i := range min(len(code), len(o.VINCode.Value)) {
				if o.VINCode.Value[i] != '.' {
					code[i] = o.VINCode.Value[i]
				}
			}
		}
	}
	return string(code)
}

// vinCodesLimit limits the number of codes of one model.
const vinCodesLimit = 4096

// VINCodes returns every code that numbers of a model can have, each with options that
// lead to it. Whether the options can be combined is not checked.
func (m *Model) VINCodes() map[string][]string {
	codes := map[string][]string{m.VINCode.Value: nil}
	for _, o := range m.Options {
		if !o.Value.VINCode.Set {
			continue
		}
		for _, code := range slices.Sorted(maps.Keys(codes)) {
			with := append(slices.Clone(codes[code]), o.Key)
			if code := m.VINCodeWith(with); codes[code] == nil && code != m.VINCode.Value && len(codes) < vinCodesLimit {
				codes[code] = with
			}
		}
	}
	return codes
}

// modelWith returns the name of a model with options.
func modelWith(m *Model, options []string) string {
	return strings.Join(append([]string{m.ID}, options...), " with ")
}
