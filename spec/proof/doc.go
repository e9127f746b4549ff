// Package proof settles claims about every build that can be ordered, before
// any is: that hazards are covered, that texts name what is there, that ratings
// hold. It is given what the words use ([Texts]) and never opens templates.
//
// How the solver sees a build. Facts are the options of a model and what a
// build sheet may say. Rules are formulas over options (package logic); features
// and fitted parts are formulas over them too ([spec.Variants]), also those that
// follow from ratings and sizes: which of the stated figures counts depends on
// the options that state one, so a threshold on it is a formula over those. What
// exists as a value follows from its declared condition; where that is not the
// whole truth, because a formula finds an entry missing, its existence is learnt
// as a formula over options from the figures of all builds.
//
// Figures are no matter for a solver: they are worked out. Where the options that bear on them
// leave few choices, each is. Else whatever is worked out of a build, a value, a limit, a drawing, or what a limit says of
// one part, notes which options decide the answers it gets from the build ([spec.Watch]). On all orders that agree on
// those it asks the same, is answered the same and comes to the same; they are a cube. Orders are worked out until the
// solver finds none outside of the cubes of some claim. That the notes are whole is tried on orders
// drawn at random.
//
// All options that weigh enter the figures by two sums, of weights W and of
// weights times where they act M. A limit that rests
// on W and M is kept in one of some ways, each at a convex set of sums
// ([derive.Verdict] says why of each). All sums that orders of a cube reach lie in the convex hull of
// the reachable ones, whose corners are the sums of valid orders
// ([logic.Problem.Extremes]); so a way that is kept at all corners is kept by every
// order, and a limit with one way fails nowhere but where a corner fails. Where each corner is
// kept in another way the orders are parted, by the option that moves the sums
// most, and each half has corners of its own. What asks for more options at a corner has a smaller cube. A value may be absent between two
// sums at which it is there only if its declaration says so (Gaps); then it is left open whether it is.
// Where a unit is too heavy for its label empty, or no place for its load is right,
// that is told, and what other limits say of such orders may not be. A polygon of
// few sides around the hull is tried first, with builds that nobody can order: what is kept at its
// corners is kept within, and what is not proves nothing. With other sums only what looked at the weights is worked out
// anew ([derive.Judged]).
// A limit that an order of the model is known to break, in the same place, asks for no other order. What is
// not settled with the figures of so many orders as a stated limit allows is named and fails.
//
// Terms: a claim is what is to hold; it is settled for each thing and model it
// speaks of. A witness is the smallest list of options, and what the sheet must
// say, that breaks a claim. A gate is a condition somebody wrote. The package
// reads no file and prints nothing.
//
// # Claims
//
//   - proof-model, proof-option-barred, proof-option-idle, proof-option-forced,
//     proof-rule-implied: rules leave something to order, every option is a choice, no rule
//     is idle; else the smallest set of rules that clash
//   - proof-component-idle: every component is on some build
//   - proof-hazard, proof-caution-grave, proof-caution-unshown: the caution of a hazard that
//     is there stands beside the work, a grave one in the safety chapter too, each is shown
//     to somebody
//   - proof-value, proof-word, template-drawing, proof-link: what a text names is there
//     whenever the text is
//   - proof-value-untold: a figure that some text tells is told to everyone who has it,
//     unless its declaration says Aside
//   - proof-condition, proof-condition-always: the condition of a section, caution or trouble
//     entry can be met, and can fail; the program's own texts are spared beside another
//     maker's line, and so is a feature all units have or none
//   - proof-condition-contrary: no condition in a text contradicts those around it
//   - proof-stop, proof-stop-idle, proof-care: what a part brings has its stop and a job,
//     unless the component says no_stop or no_care with the reason; a stop points at
//     something
//   - proof-job, proof-job-figure, proof-interval, proof-service, proof-trouble: a job that
//     is due is described, with its figure; jobs and the service entries of parts ask for
//     each other; trouble entries that apply are shown
//   - proof-rating-roomy: of each rating of a component that a limit looks at, some build
//     asks at least half, or what Roomy says at the limit
//   - proof-snapshot: all that snapshot.txt beside the words lists is still said, as often, in its order
//     and under the same conditions; prove --snapshot makes that list anew, and its diff
//     shows what owners read about safety before and after
//   - proof-switched-off, proof-switched-idle: what the maker switched off is told with its
//     reason and the smallest build that lacks it; some build would have it
//   - proof-language: every language has words for the same ids, naming the same figures,
//     cautions and pictures; proof-language-unfinished: one that lacks words is noted, and
//     left out of all other claims, since no guide is made in it
//   - proof-unchecked: no build's figures were left out
//   - proof-unsettled: the solver came to the end of what it was asked about a model within
//     its steps
//
// Who rewrites a condition in front of plain words looks at the golden guides: no claim
// can say whom a sentence without figure, caution, part or link is for.
package proof
