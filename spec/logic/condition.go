package logic

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"ownerguide/spec/source"
)

// Condition is a condition over the features of a unit, as written in a file: names
// joined by and, or, not and parentheses. The zero Condition always holds.
type Condition struct {
	Formula
	Pos  source.Pos // position of its first character; zero for a condition made by the program
	text string     // from there
}

// SyntaxError is an error in the text of a condition.
type SyntaxError struct {
	column  int
	Message string
}

// Column returns the column in the condition's text, in characters from 1.
func (e *SyntaxError) Column() int { return e.column }

// Conditional is embedded in types whose values apply only under a condition.
type Conditional struct {
	When Condition `yaml:"when" doc:"The features it takes, joined by and, or, not and parentheses, such as: braked and not gooseneck."`
}

// Error returns what was found and what was expected.
func (e *SyntaxError) Error() string { return e.Message }

// The operators, which cannot be names of features or options.
const (
	wordAnd = "and"
	wordOr  = "or"
	wordNot = "not"
)

// ValidName reports whether text can name a feature or an option: groups of
// digits and letters a to z, joined by single hyphens, and not an operator.
func ValidName(text string) bool {
	if text == wordAnd || text == wordOr || text == wordNot {
		return false
	}
	for part := range strings.SplitSeq(text, "-") {
		if part == "" || strings.ContainsFunc(part, func(r rune) bool { return !nameLetter(r) }) {
			return false
		}
	}
	return true
}

func nameLetter(r rune) bool { return 'a' <= r && r <= 'z' || '0' <= r && r <= '9' }

// ParseCondition parses a condition such as "braked and not gooseneck". Not binds
// closest; and mixed with or needs parentheses, because people disagree about which
// binds closer. Besides features, a condition may name things of the given kinds,
// written kind:name, such as value:tires.cold_pressure. The error is a
// *SyntaxError.
func ParseCondition(text string, kinds ...string) (Condition, error) {
	p := parser{text: text, kinds: kinds}
	p.next()
	f, err := p.expression()
	if err == nil && p.word != "" {
		err = p.expected("and, or, or the end")
	}
	if err != nil {
		return Condition{}, err
	}
	return Condition{Formula: f, text: text}, nil
}

// ParseScalar implements [source.ScalarParser].
func (c *Condition) ParseScalar(text string) (err error) {
	*c, err = ParseCondition(text)
	return err
}

// SetPlace sets the position at which the text of the condition begins.
func (c *Condition) SetPlace(at source.Pos) { c.Pos = at }

// At returns the position of the first occurrence of a name in the condition.
func (c Condition) At(name string) source.Pos {
	at := c.Pos
	p := parser{text: c.text}
	for p.next(); p.word != ""; p.next() {
		if p.word == name {
			at.Column += p.column() - 1
			break
		}
	}
	return at
}

// parser splits a text into words; a parenthesis is a word of its own.
type parser struct {
	text  string
	kinds []string
	end   int    // end of the current word
	word  string // the current word; empty at the end of the text
}

// column returns the column of the current word.
func (p *parser) column() int { return utf8.RuneCountInString(p.text[:p.end-len(p.word)]) + 1 }

func (p *parser) next() {
	at := p.end
	for at < len(p.text) && space(p.text[at]) {
		at++
	}
	p.end = at
	for p.end < len(p.text) && !space(p.text[p.end]) {
		if c := p.text[p.end]; c == '(' || c == ')' {
			if p.end == at {
				p.end++
			}
			break
		}
		p.end++
	}
	p.word = p.text[at:p.end]
}

func space(c byte) bool { return c == ' ' || c == '\t' || c == '\n' }

// expression parses operands joined by and, or by or.
func (p *parser) expression() (Formula, error) {
	first, err := p.operand()
	if err != nil {
		return Formula{}, err
	}
	join, all := p.word, []Formula{first}
	for join == wordAnd || join == wordOr {
		if p.word != join {
			if p.word != wordAnd && p.word != wordOr {
				break
			}
			return Formula{}, p.error("%q stands beside %q: put parentheses round what belongs together", p.word, join)
		}
		p.next()
		f, err := p.operand()
		if err != nil {
			return Formula{}, err
		}
		all = append(all, f)
	}
	if join == wordOr {
		return Any(all...), nil
	}
	return All(all...), nil
}

func (p *parser) operand() (Formula, error) {
	switch p.word {
	case wordNot:
		p.next()
		f, err := p.operand()
		return Not(f), err
	case "(":
		p.next()
		f, err := p.expression()
		if err == nil && p.word != ")" {
			err = p.expected("a closing parenthesis")
		}
		p.next()
		return f, err
	case "", ")", wordAnd, wordOr:
		return Formula{}, p.expected("a feature")
	}
	name := p.word
	if kind, rest, is := strings.Cut(name, ":"); !ValidName(name) && !(is && slices.Contains(p.kinds, kind) && validReference(rest)) {
		return Formula{}, p.error("%q is no feature; expected small letters and digits joined by single hyphens, and between features and, or, not", name)
	}
	p.next()
	return Fact(name), nil
}

// validReference reports whether text can be the name after a kind.
func validReference(text string) bool {
	return text != "" && !strings.ContainsFunc(text, func(r rune) bool { return !nameLetter(r) && !strings.ContainsRune("._-", r) })
}

func (p *parser) error(format string, args ...any) error {
	return &SyntaxError{p.column(), fmt.Sprintf(format, args...)}
}

func (p *parser) expected(what string) error {
	if p.word == "" {
		return p.error("nothing stands here; expected %s", what)
	}
	return p.error("found %q, expected %s", p.word, what)
}

// And returns the conjunction of c and d. It has the position of c, or that of
// d if c has none.
func (c Condition) And(d Condition) Condition {
	both := Condition{Formula: All(append(c.conjuncts(), d.conjuncts()...)...), Pos: c.Pos, text: c.text}
	if c.Pos == (source.Pos{}) {
		both.Pos, both.text = d.Pos, d.text
	}
	return both
}

// Always reports whether the condition is constantly true.
func (c Condition) Always() bool {
	holds, known := c.Constant()
	return holds && known
}

// ImpliedBy reports whether d implies c.
func (c Condition) ImpliedBy(d Condition) bool {
	s := NewSolver(SolverStepsEach(100))
	return !s.Possible(d.Substitute(Fact), Not(c.Substitute(Fact))) && !s.Spent()
}
