package derive

import (
	"maps"
	"strings"

	"ownerguide/spec"
)

// A claim is a result calculated from a build: a value or a family by its name, a limit as
// "limit ID", or a subclaim of it about one thing as "limit ID/thing". For a watched build the
// options that each claim depends on are recorded.

// LimitClaim is the prefix of claims of limits.
const LimitClaim = "limit "

// MainClaim returns the claim of which another is a subclaim; it decides whether the subclaim
// is made. ok is false if the claim is not a subclaim.
func MainClaim(claim string) (main string, ok bool) {
	main, _, ok = strings.Cut(claim, spec.Within)
	return main, ok
}

// ClaimOf returns the claim that decides whether a value exists.
func ClaimOf(value string) string {
	family := FamilyOf(value)
	if declarations[value] != nil || family == "" {
		return value
	}
	thing, _, _ := strings.Cut(strings.TrimPrefix(value, family+"."), ".")
	return family + spec.Within + thing
}

// Claims returns the claims of a watched build with the options they depend on. The schedule is not a claim: the
// values taken from it include its dependencies.
func (a *Assessment) Claims() map[string]spec.OptionSet {
	claims := maps.Clone(a.run.dependsOn)
	maps.Copy(claims, a.run.build.Claims())
	delete(claims, carePlan)
	return claims
}

// MustSettle reports whether a claim must be settled. A claim of a value must be settled only if it is in values,
// because nothing depends on the existence of the others.
func MustSettle(claim string, values map[string]bool) bool {
	main, _ := MainClaim(claim)
	return declarations[main] == nil || values[claim]
}

// DependsOn returns the options that a claim depends on. If it was not made, these are the options that decided that.
func (a *Assessment) DependsOn(claim string) spec.OptionSet {
	main, _ := MainClaim(claim)
	for _, name := range []string{claim, main} {
		if set, own := a.run.dependsOn[name]; own {
			return set
		}
		if set, own := a.run.build.Claims()[name]; own {
			return set
		}
	}
	return spec.OptionSet{}
}

// Readers returns the claims that read the part in each place.
func (a *Assessment) Readers() map[string][]string {
	readers := map[string][]string{}
	for p, claims := range a.run.readBy {
		readers[p.Place] = claims
	}
	return readers
}

// existenceDependsOn returns the options that decide whether a value exists.
func (r *run) existenceDependsOn(name string) spec.OptionSet {
	claim := ClaimOf(name)
	for ; r != nil; r = r.from {
		if set, own := r.dependsOn[claim]; own {
			return set
		}
		if set, own := r.build.Claims()[claim]; own {
			return set
		}
		if main, is := MainClaim(claim); is && r.from == nil {
			return r.dependsOn[main]
		}
	}
	return spec.OptionSet{}
}
