package derive

import (
	"maps"
	"strings"

	"ownerguide/spec"
)

// A claim is what is worked out of a build by itself: a value or a family by its name, a limit as
// "limit ID", a subclaim of it about some thing as "limit ID/thing". Claims of a build that is watched
// are known with the options they hang on.

const (
	// LimitClaim stands before the id of a limit.
	LimitClaim = "limit "
	within     = "/"
)

// MainClaim gives the claim that another is a subclaim of, which decides whether it is made; ok is
// false where there is none.
func MainClaim(claim string) (main string, ok bool) {
	main, _, ok = strings.Cut(claim, within)
	return main, ok
}

// ClaimOf gives the claim that tells whether there is a value.
func ClaimOf(value string) string {
	family := FamilyOf(value)
	if declarations[value] != nil || family == "" {
		return value
	}
	thing, _, _ := strings.Cut(strings.TrimPrefix(value, family+"."), ".")
	return family + within + thing
}

// Claims gives all claims of a build that is watched, each with what it hangs on. The care that is laid out is none:
// what is told of it notes what that hangs on.
func (j *Judged) Claims() map[string]spec.OptionSet {
	claims := maps.Clone(j.run.hangsOn)
	maps.Copy(claims, j.run.build.Claims())
	delete(claims, carePlan)
	return claims
}

// IsAsked tells whether a claim is to be settled: of values only those that are asked for, for nothing else hangs on
// whether there are the others.
func IsAsked(claim string, values map[string]bool) bool {
	main, _ := MainClaim(claim)
	return declarations[main] == nil || values[claim]
}

// HangsOn gives what a claim hangs on; one that was not come to, on what decided that.
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

// Lookers gives for each place the claims that looked at the part there.
func (j *Judged) Lookers() map[string][]string {
	lookers := map[string][]string{}
	for p, claims := range j.run.lookedBy {
		lookers[p.Place] = claims
	}
	return lookers
}

// hangsOnValue gives what it hangs on that there is a value.
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
