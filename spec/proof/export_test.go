package proof

import (
	"slices"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// Learned is what the figures of every build say about which values exist, by
// model.
type Learned map[string]map[string]logic.Formula

// Learn works out the figures of every build once, for [SettleWords].
func Learn(s Subject) Learned {
	all := make([]map[string]logic.Formula, len(s.Line.Models))
	views := viewsOf(s)
	parallel.Each(len(views), func(i int) {
		views[i].figures(s.Limit, nil)
		all[i] = views[i].exists
	})
	learned := Learned{}
	for i, m := range s.Line.Models {
		learned[m.ID] = all[i]
	}
	return learned
}

// SettleWords settles all claims but those on figures, for which it takes what was
// learnt before.
func SettleWords(s Subject, learned Learned) []Failure {
	views := viewsOf(s)
	for _, v := range views {
		if l := learned[v.model.ID]; l != nil {
			v.exists = l
		}
	}
	_, outcomes := settleAll(s, views, func(*view) ([]outcome, int, bool) { return nil, 0, false })
	_, failures := join(outcomes)
	return failures
}

// Changes returns what has changed in texts since their snapshot was made.
func Changes(t *Texts, snapshot source.File) source.Findings {
	_, failures := join([][]outcome{t.changes(snapshot)})
	return (&Proof{Failures: failures}).Findings()
}

// Roomy settles that some of the builds asks for a good part of each rating.
func Roomy(all []*derive.Values) source.Findings {
	least := map[source.Pos]derive.Reserve{}
	for _, vs := range all {
		keepSmallest(least, vs.Reserves(nil))
	}
	_, failures := join([][]outcome{ratingsNeeded(least, 1)})
	return (&Proof{Failures: failures}).Findings()
}

// ByListing settles what figures and limits have to say of the first model by every
// choice, and BySums by the extremes of weight.
func ByListing(s Subject) []Failure {
	v := viewsOf(s)[0]
	f := newFiguring(v, s.Inspect)
	bear := bearing(v.model)
	orders, _ := v.orderable(bear, len(bear), s.Limit)
	for _, order := range orders {
		f.evaluate(order)
	}
	return failuresOf(f)
}

// BySums also gives of how many orders the figures were worked out.
func BySums(s Subject) (failures []Failure, orders int, settled bool) {
	f := newFiguring(viewsOf(s)[0], s.Inspect)
	newCover(f, s.Limit).settle()
	failures = failuresOf(f)
	settled = !slices.ContainsFunc(failures, func(f Failure) bool { return f.Code == codeUnchecked.ID })
	return failures, len(f.orders), settled
}

func failuresOf(f *figuring) []Failure {
	_, failures := join([][]outcome{f.outcomes()})
	sortByPlace(failures)
	return failures
}

// Shows reports whether a failure's witness shows it, on an order that is valid.
func Shows(s Subject, failure Failure) bool {
	v := viewsOf(s)[0]
	f := newFiguring(v, s.Inspect)
	_, is := f.reproduces(findingKey{failure.Code, failure.Pos}, failure.Witness.Options)
	return is && v.problem.Violations(failure.Witness.Options) == nil
}

// Outline returns the corners of a polygon of few sides around points.
func Outline(points [][2]float64, sides int) [][2]float64 { return circumscribe(points, sides) }

// Weighed is a build with something more on it that only weighs.
func Weighed(b *spec.Build, weight, moment float64) *spec.Build { return withWeight(b, weight, moment) }

// LeastReserves returns for each rating the least reserve over every choice, as a part of the
// greatest it may have.
func LeastReserves(s Subject) map[source.Pos]float64 {
	v := viewsOf(s)[0]
	f := newFiguring(v, nil)
	bear := bearing(v.model)
	orders, _ := v.orderable(bear, len(bear), s.Limit)
	for _, order := range orders {
		f.evaluate(order)
	}
	least := map[source.Pos]float64{}
	for at, r := range f.reserves {
		if isRating(at, r) {
			least[at] = r.Factor / r.Max
		}
	}
	return least
}

// RoomyBySums returns the ratings that are too large by the extremes of weight, where the greatest
// reserve is scaled.
func RoomyBySums(s Subject, scale float64) map[source.Pos]bool {
	f := newFiguring(viewsOf(s)[0], nil)
	f.scale = scale
	newCover(f, s.Limit).settle()
	roomy := map[source.Pos]bool{}
	for _, o := range f.outcomes() {
		if o.code.ID == codeRoomy.ID {
			roomy[o.at] = !o.held
		}
	}
	return roomy
}

// NamesByListing returns by place, for each figure that is named where it is missing, the smallest build, by
// every choice; NamesBySums by the extremes of weight.
func NamesByListing(s Subject) map[source.Pos]Missing {
	v := viewsOf(s)[0]
	f := newFiguring(v, nil)
	orders, _ := v.orderable(v.problem.Options, len(v.problem.Options), s.Limit)
	for _, order := range orders {
		f.evaluate(order)
	}
	f.outcomes()
	return v.namesMissing()
}

func NamesBySums(s Subject) map[source.Pos]Missing {
	v := viewsOf(s)[0]
	f := newFiguring(v, nil)
	newCover(f, s.Limit).settle()
	f.outcomes()
	return v.namesMissing()
}

// Missing is a figure that a build lacks; it is not sure that it does where not all builds were settled.
type Missing struct {
	*Witness
	Sure bool
}

func (v *view) namesMissing() map[source.Pos]Missing {
	missing := map[source.Pos]Missing{}
	for _, o := range v.names() {
		if o.code.ID == codeValue.ID && !o.held {
			missing[o.at] = Missing{o.witness, o.hint == ""}
		}
	}
	return missing
}
