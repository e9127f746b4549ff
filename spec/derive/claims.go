package derive

import (
	"maps"
	"strings"

	"ownerguide/spec"
)

// A claim is a result calculated from a build: a value or a family by its name, a limit as
// "limit ID", or a subclaim of it about one thing as "limit ID/thing". For a watched build the
// options that each claim depends on are recorded.

const (
	// LimitClaim is the prefix of claims of limits.
	LimitClaim = "limit "
	within     = "/"
)

// MainClaim returns the claim of which another is a subclaim; it decides whether the subclaim
// is made. ok is false if the claim is not a subclaim.
func MainClaim(claim string) (main string, ok bool) {
	main, _, ok = strings.Cut(claim, within)
	return main, ok
}

// ClaimOf returns the claim that decides whether a value exists.
func ClaimOf(value string) string {
	family := FamilyOf(value)
	if declarations[value] != nil || family == "" {
		return value
	}
	thing, _, _ := strings.Cut(strings.TrimPrefix(value, family+"."), ".")
	return family + within + thing
}

// Claims returns the claims of a watched build with the options they depend on. The schedule is not a claim: the
// values taken from it include its dependencies.
func (j *Judged) Claims() map[string]spec.OptionSet {
	claims := maps.Clone(j.run.hangsOn)
	maps.Copy(claims, j.run.build.Claims())
	delete(claims, carePlan)
	return claims
}

// IsAsked reports whether a claim must be settled. Claims of values must be settled only if they are asked for, because nothing
// else depends on the existence of the others.
func IsAsked(claim string, values map[string]bool) bool {
	main, _ := MainClaim(claim)
	return declarations[main] == nil || values[claim]
}

// HangsOn returns the options that a claim depends on. If it was not made, these are the options that decided so.
func (j *Judged) HangsOn(claim string) spec.OptionSet {
	main, _ := MainClaim(claim)
	for _, name := range []string{claim, main} {
		if set, own := j.run.hangsOn[name]; own {
			return set
		}
		if set, own := j.run.build.Claims()[name]; own {
			return set
		}
	}
	return spec.OptionSet{}
}

// Lookers returns for each place the claims that read the part there.
func (j *Judged) Lookers() map[string][]string {
	lookers := map[string][]string{}
	for p, claims := range j.run.lookedBy {
		lookers[p.Place] = claims
	}
	return lookers
}

// hangsOnValue returns the options that decide whether a value exists.
func (r *run) hangsOnValue(name string) spec.OptionSet {
	claim := ClaimOf(name)
	for ; r != nil; r = r.from {
		if set, own := r.hangsOn[claim]; own {
			return set
		}
		if set, own := r.build.Claims()[claim]; own {
			return set
		}
		if main, is := MainClaim(claim); is && r.from == nil {
			return r.hangsOn[main]
		}
	}
	return spec.OptionSet{}
}
