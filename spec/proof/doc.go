// Package proof checks claims about every build that can be ordered, before any is ordered:
// that hazards are covered, that texts refer to what is there, that ratings hold. Its input
// is a product line and what the templates refer to ([Texts]); it opens no file and prints
// nothing.
//
// # Conditions
//
// Claims about conditions are decided by a solver. Its facts are the options of a model and
// what a build sheet may say. Rules are formulas over options (package logic); features and
// fitted parts are formulas over them too ([spec.Variants]), including features that follow
// from ratings and sizes: which stated figure counts depends on the options that state one,
// so a threshold on it is a formula over those options. The existence of a value follows
// from its declared condition. If that is not sufficient, because a formula finds an entry
// missing, the existence is learned as a formula over options from the calculated builds.
//
// # Figures
//
// Claims about figures cannot be decided by a solver, so the figures are calculated. If the
// options that affect them leave few choices, all choices are calculated. Otherwise each
// result (a value, a limit, a drawing, or what a limit says of one part) is recorded with
// the options that decide what its calculation reads of the build ([spec.Watch]). All orders that
// agree on those options have the same result; they are called a cube. Orders are
// calculated until, for every result, the solver finds no order outside its cubes; of each
// order, only the results that have no cube with it. That the recorded dependencies are
// complete is tested on random orders.
//
// A drawing fails if a value is missing and, with few exceptions, for nothing else about the
// value. So its cube depends on its own reads only, and it relies on the existence of the values. If
// the solver finds an order of the cube without one of them, the cube is dropped, and the
// drawing then depends on all that the value depends on.
//
// # Weights
//
// The weights of all options enter the figures only as two sums: W of the weights, and M
// of weight times position. A limit that depends on W and M can be kept in one of several
// ways, each of which holds for a convex set of sums ([derive.Verdict] gives the reasons).
// The sums of all orders of a cube lie in their convex hull, whose vertices are the sums of
// valid orders ([logic.Problem.Extremes]). So a way that holds at all vertices holds for every
// order, and a limit with a single way fails for some order only if it fails at a vertex. If
// no way holds at all vertices, the cube is split by the option that changes the sums most,
// and each half has vertices of its own. A result that depends on more options at a vertex
// holds for a smaller cube. A value whose declaration says
// in which Ways it comes and goes with the weights exists for some orders of a cube and not for others. Its existence is
// left open there until a witness rests on it: then that order is calculated, and what it shows is kept for
// the orders around it for whose vertices it shows the same. If a unit is too
// heavy for its label when empty, or has no valid position for its load, that is reported, and
// findings of other limits about such orders may be omitted.
//
// A polygon with few sides around the hull is tried first, with builds that nobody can
// order: limits kept at its vertices are kept inside, and a
// rating that is too large there is too large inside; nothing follows from others. For
// other sums only what depends on the weights is calculated again ([derive.Assessment]). A limit
// that an order of the model is known to violate, at the same position, is not searched for
// further orders. If figures cannot be settled within the limit on the number of orders, that is
// reported and the proof fails.
//
// Terms: a claim must hold; it is checked for each thing and model it concerns. A witness is
// the smallest list of options, and what the sheet must say, that violates a claim. A gate is
// a condition in line or templates.
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
//     asks at least half, or the ratio MaxReserve of the limit
//   - proof-snapshot: the texts say what snapshot.txt beside the words lists, word for word, in its order
//     and under the same conditions, and nothing between; prove --snapshot makes that list
//     anew, and its diff shows what owners read before and after
//   - proof-switched-off, proof-switched-idle: what the maker switched off is told with its
//     reason and the smallest build that lacks it; some build would have it
//   - proof-language: every language has words for the same ids, naming the same figures,
//     cautions and pictures; proof-language-unfinished: one that lacks words is noted, and
//     left out of all other claims, since no guide is made in it
//   - proof-unchecked: no build's figures were left out
//   - proof-unsettled: the solver came to the end of what it was asked about a model within
//     its steps
//
// Whether a sentence is right no claim can say: the snapshot sees to it that no other one
// takes its place unread.
package proof
