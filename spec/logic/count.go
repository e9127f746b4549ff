package logic

import (
	"math/big"
	"slices"
)

// Valid choices are counted and listed by way of clauses: each rule becomes
// lists of literals of which at least one must be true. Listing the choices to
// count them does not scale, thirty free options alone make a thousand million.
// But clauses fall apart into pieces that share no option, the counts of pieces
// multiply, and a piece met again is not counted again.

// literal is an option's number times two, plus one when it must not be chosen.
type literal int

func with(option int) literal    { return literal(2 * option) }
func without(option int) literal { return literal(2*option + 1) }
func (l literal) not() literal   { return l ^ 1 }
func (l literal) option() int    { return int(l / 2) }

// Count returns the exact number of valid choices of the model's options; the
// empty choice counts if it is valid. Sixty options under two hundred rules take
// some hundredths of a second. In the worst case, where rules tie every option
// to most others in no order, the time doubles with every few options.
func (p Problem) Count() *big.Int {
	names := distinct(p.Options)
	c := counter{known: map[string]*big.Int{}}
	return c.count(clauses(p.number(names)), len(names))
}

// Each calls yield with every valid choice until yield returns false or it has
// had limit choices; a negative limit sets none. The order is that of binary
// numbers with the first option as the highest digit, so the empty choice comes
// first, if valid. Every choice is a list of its own, in the order of the options.
func (p Problem) Each(limit int, yield func(chosen []string) bool) {
	if p.Count().Sign() == 0 {
		return
	}
	names := distinct(p.Options)
	l := lister{names: names, has: make([]bool, len(names)), left: limit, yield: yield}
	l.list(0, clauses(p.number(names)))
}

// clauses turns rules into clauses that hold for the same choices.
func clauses(rules []numbered) [][]literal {
	var all [][]literal
	for _, r := range rules {
		var any []literal
		for _, object := range r.objects {
			any = append(any, with(object))
		}
		switch r.kind {
		case Requires:
			if r.subject >= 0 {
				all = append(all, append(any, without(r.subject)))
			}
		case Excludes:
			for _, object := range r.objects {
				if r.subject >= 0 {
					all = append(all, []literal{without(r.subject), without(object)})
				}
			}
		case ExactlyOne:
			all = append(append(all, any), pairs(r.objects)...)
		case AtMostOne:
			all = append(all, pairs(r.objects)...)
		default:
			all = append(all, nil) // never holds, see RuleKind
		}
	}
	for i, c := range all {
		slices.Sort(c)
		all[i] = slices.Compact(c)
	}
	return all
}

// pairs says of every two options that they are not both chosen.
func pairs(options []int) (all [][]literal) {
	for i, a := range options {
		for _, b := range options[:i] {
			all = append(all, []literal{without(a), without(b)})
		}
	}
	return all
}

// assume returns what is left of clauses once a literal is true. A clause that
// is left empty cannot hold.
func assume(clauses [][]literal, l literal) [][]literal {
	left := make([][]literal, 0, len(clauses))
	for _, c := range clauses {
		switch i := slices.Index(c, l.not()); {
		case slices.Contains(c, l):
		case i >= 0:
			left = append(left, slices.Concat(c[:i], c[i+1:]))
		default:
			left = append(left, c)
		}
	}
	return left
}

// settle assumes every literal that stands alone in its clause until none does.
// It is not ok when a clause cannot hold.
func settle(clauses [][]literal) (left [][]literal, settled []literal, ok bool) {
	for {
		i := slices.IndexFunc(clauses, func(c []literal) bool { return len(c) < 2 })
		switch {
		case i < 0:
			return clauses, settled, true
		case len(clauses[i]) == 0:
			return nil, nil, false
		}
		settled = append(settled, clauses[i][0])
		clauses = assume(clauses, clauses[i][0])
	}
}

// counter counts; known holds what pieces came to, by their clauses.
type counter struct{ known map[string]*big.Int }

// count returns in how many ways so many options can be chosen that the clauses
// hold; the clauses may leave some of the options free.
func (c *counter) count(clauses [][]literal, options int) *big.Int {
	left, settled, ok := settle(clauses)
	if !ok {
		return new(big.Int)
	}
	free := options - len(settled)
	total := big.NewInt(1)
	for _, p := range pieces(left) {
		free -= p.options
		total.Mul(total, c.piece(p))
	}
	return total.Lsh(total, uint(free))
}

// piece counts for clauses that hang together: with the option that stands in
// most of them, and without it.
func (c *counter) piece(p piece) *big.Int {
	k := p.key()
	if n, ok := c.known[k]; ok {
		return n
	}
	option := p.busiest()
	n := c.count(assume(p.clauses, with(option)), p.options-1)
	n.Add(n, c.count(assume(p.clauses, without(option)), p.options-1))
	c.known[k] = n
	return n
}

// piece is clauses that hang together, and the number of options they speak of.
type piece struct {
	clauses [][]literal
	options int
}

// pieces splits clauses into those that share options, however indirectly.
func pieces(clauses [][]literal) []piece {
	leader := map[int]int{} // of each option; options of one piece end at one leader
	find := func(option int) int {
		for leader[option] != option {
			leader[option] = leader[leader[option]]
			option = leader[option]
		}
		return option
	}
	for _, c := range clauses {
		for _, l := range c {
			if _, met := leader[l.option()]; !met {
				leader[l.option()] = l.option()
			}
			leader[find(l.option())] = find(c[0].option())
		}
	}
	var all []piece
	place := map[int]int{}
	for _, c := range clauses {
		first := find(c[0].option())
		at, met := place[first]
		if !met {
			at = len(all)
			place[first] = at
			all = append(all, piece{})
		}
		all[at].clauses = append(all[at].clauses, c)
	}
	for option := range leader {
		all[place[find(option)]].options++
	}
	return all
}

// key returns the clauses as a map key, the same for any order of them.
func (p piece) key() string {
	slices.SortFunc(p.clauses, slices.Compare)
	var numbers []int
	for _, c := range p.clauses {
		numbers = append(numbers, len(c))
		for _, l := range c {
			numbers = append(numbers, int(l))
		}
	}
	return key(numbers)
}

// busiest returns the option that stands in most clauses, the first of equals.
func (p piece) busiest() int {
	times := map[int]int{}
	for _, c := range p.clauses {
		for _, l := range c {
			times[l.option()]++
		}
	}
	best := p.clauses[0][0].option()
	for option, n := range times {
		if n > times[best] || n == times[best] && option < best {
			best = option
		}
	}
	return best
}

// lister walks over all valid choices.
type lister struct {
	names []string
	has   []bool
	left  int // choices still to give; negative for no limit
	yield func([]string) bool
}

// list decides the options from one on and reports whether to go further.
func (l *lister) list(option int, clauses [][]literal) (more bool) {
	if l.left == 0 {
		return false
	}
	if option == len(l.names) {
		l.left--
		return l.yield(l.choice())
	}
	for _, decided := range []literal{without(option), with(option)} {
		left, settled, ok := settle(assume(clauses, decided))
		if !ok {
			continue
		}
		// Settled literals stay as clauses, to be met again at their own turn.
		for _, s := range settled {
			left = append(left, []literal{s})
		}
		l.has[option] = decided == with(option)
		if !l.list(option+1, left) {
			return false
		}
	}
	return true
}

func (l *lister) choice() []string {
	names := []string{}
	for i, name := range l.names {
		if l.has[i] {
			names = append(names, name)
		}
	}
	return names
}
