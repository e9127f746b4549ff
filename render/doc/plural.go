package doc

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// PluralClasses are the plural categories of Unicode CLDR that a language can have besides
// "other".
var PluralClasses = []string{"zero", "one", "two", "few", "many"}

// Plurals are the plural rules of a language. The zero value has only the category "other".
type Plurals struct {
	rules []pluralRule
}

type pluralRule struct {
	class string
	any   [][]relation // a disjunction of conjunctions
}

// relation compares the count, or its remainder modulo by, with ranges.
type relation struct {
	operand string // n: the count, i: its integer part, v: its number of decimals
	by      float64
	not     bool
	ranges  [][2]float64
}

// Add adds a category with its rule, in the syntax of Unicode TR 35, part 3: relations of n, i
// and v such as "n % 10 = 2..4 and n % 100 != 12..14", joined by and, which binds closer, and or.
func (p *Plurals) Add(class, rule string) error {
	if !slices.Contains(PluralClasses, class) {
		return fmt.Errorf("%q is no class of counts; expected one of %s", class, strings.Join(PluralClasses, ", "))
	}
	r := pluralRule{class: class}
	for part := range strings.SplitSeq(rule, " or ") {
		var all []relation
		for text := range strings.SplitSeq(part, " and ") {
			one, err := parseRelation(text)
			if err != nil {
				return err
			}
			all = append(all, one)
		}
		r.any = append(r.any, all)
	}
	p.rules = append(p.rules, r)
	return nil
}

func parseRelation(text string) (r relation, err error) {
	left, right, found := strings.Cut(text, "=")
	if !found {
		return r, fmt.Errorf("%q compares nothing; expected such as \"n = 1\"", strings.TrimSpace(text))
	}
	left, r.not = strings.CutSuffix(strings.TrimSpace(left), "!")
	operand, by, divided := strings.Cut(left, "%")
	if r.operand = strings.TrimSpace(operand); !slices.Contains([]string{"n", "i", "v"}, r.operand) {
		return r, fmt.Errorf("%q is no operand; expected n, i or v", r.operand)
	}
	if divided {
		if r.by, err = strconv.ParseFloat(strings.TrimSpace(by), 64); err != nil || r.by <= 0 {
			return r, fmt.Errorf("%q is no divisor", strings.TrimSpace(by))
		}
	}
	for list := range strings.SplitSeq(right, ",") {
		low, high, isRange := strings.Cut(strings.TrimSpace(list), "..")
		if !isRange {
			high = low
		}
		from, err := strconv.ParseFloat(low, 64)
		to, err2 := strconv.ParseFloat(high, 64)
		if err != nil || err2 != nil || from > to {
			return r, fmt.Errorf("%q is no number and no range", strings.TrimSpace(list))
		}
		r.ranges = append(r.ranges, [2]float64{from, to})
	}
	return r, nil
}

// Classes returns the categories of the language, without "other".
func (p Plurals) Classes() (list []string) {
	for _, r := range p.rules {
		list = append(list, r.class)
	}
	return list
}

// Key returns the key of the words for a count: id, a dot and the category if there is such a
// key, or else id.
func (p Plurals) Key(id string, n float64, there func(id string) bool) string {
	for _, r := range p.rules {
		holds := slices.ContainsFunc(r.any, func(all []relation) bool {
			return !slices.ContainsFunc(all, func(one relation) bool { return !one.holds(n) })
		})
		if holds {
			if key := id + "." + r.class; there(key) {
				return key
			}
			break
		}
	}
	return id
}

func (r relation) holds(n float64) bool {
	n = math.Abs(n)
	x := n
	switch r.operand {
	case "i":
		x = math.Trunc(n)
	case "v":
		_, decimals, _ := strings.Cut(strconv.FormatFloat(n, 'f', -1, 64), ".")
		x = float64(len(decimals))
	}
	if r.by > 0 {
		x = math.Mod(x, r.by)
	}
	in := slices.ContainsFunc(r.ranges, func(span [2]float64) bool {
		return span[0] <= x && x <= span[1] && (x == math.Trunc(x) || span[0] != span[1])
	})
	return in != r.not
}
