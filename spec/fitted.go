package spec

import (
	"slices"
	"strings"

	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// axleWords returns the names of the unit's axles as used in the plant, front first: single;
// front, rear; front, middle, rear; front, second, third, rear.
func (b *Build) axleWords() []string {
	switch n := len(All[*product.Axle](b)); n {
	case 1:
		return []string{"single"}
	case 2:
		return []string{"front", "rear"}
	case 3:
		return []string{"front", "middle", "rear"}
	case 4:
		return []string{"front", "second", "third", "rear"}
	}
	return nil
}

// wheelWords returns the names of all wheel positions of the unit, front axle first, left
// before right: "left front", on a single axle "left"; with dual wheels "left front outer"
// and "left front inner"; "spare" last.
func (b *Build) wheelWords() (words []string) {
	dual := slices.ContainsFunc(All[*product.Wheel](b), func(w Placed[*product.Wheel]) bool { return w.Data.Dual.Value })
	for _, axle := range b.axleWords() {
		for _, side := range []string{"left", "right"} {
			place := side
			if axle != "single" {
				place += " " + axle
			}
			if dual {
				words = append(words, place+" outer", place+" inner")
			} else {
				words = append(words, place)
			}
		}
	}
	if _, ok := First[*product.Spare](b); ok {
		words = append(words, "spare")
	}
	return words
}

// AxleAndTirePlaces returns the places that axles and tires of any unit can have.
func AxleAndTirePlaces() (axles, tires []string) {
	axles = []string{"single", "front", "middle", "second", "third", "rear"}
	for _, axle := range axles {
		for _, side := range []string{"left", "right"} {
			place := strings.TrimSuffix(side+" "+axle, " single")
			tires = append(tires, place, place+" outer", place+" inner")
		}
	}
	return axles, append(tires, "spare")
}

// FittedPlaces returns the places that some unit of the line can have, for each list under
// fitted, in the order of walking around the unit.
func FittedPlaces(l *product.Line) map[string][]string {
	axles, tires := AxleAndTirePlaces()
	var parts []string
	for _, m := range l.Models {
		for _, p := range m.EveryPart() {
			if !slices.Contains(parts, p.Key) {
				parts = append(parts, p.Key)
			}
		}
	}
	return map[string][]string{"axles": axles, "tires": tires, "parts": parts}
}

// checkFitted checks the places of fitted parts against those of the unit.
func (b *Build) checkFitted() (findings source.Findings) {
	check := func(place word, known []string) {
		if !place.Set || slices.Contains(known, place.Value) {
			return
		}
		findings.Add(codeFittedPlace.At(place.At, "place %q is not on this unit", place.Value).WithPath(place.Path).
			WithHint("places here: %s", strings.Join(known, ", ")))
	}
	var places []string
	for _, p := range b.parts {
		places = append(places, p.Place)
	}
	fitted, wheels := b.Sheet.Fitted, b.wheelWords()
	for _, a := range fitted.Axles {
		check(a.Place, b.axleWords())
	}
	for _, p := range fitted.Parts {
		check(p.Place, places)
	}
	for _, t := range fitted.Tires {
		check(t.Place, wheels)
	}
	running := len(without(wheels, "spare"))
	if n := len(fitted.Tires); n > 0 && n < running && fitted.Tires[0].Place.Set {
		findings.Add(codeFittedTires.At(fitted.Tires[0].Place.At, "fitted.tires lists %d of the %d tires the unit runs on", n, running).WithPath("fitted.tires"))
	}
	return findings
}
