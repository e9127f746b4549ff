package logic

import (
	"fmt"
	"slices"
	"strings"

	"ownerguide/spec/source"
)

// Literal is one feature that must be there, or with Negated must not.
type Literal struct {
	Feature string
	Negated bool
}

// Clause holds when at least one of its literals does; an empty one never holds.
type Clause []Literal

// Condition holds when every clause does. The zero Condition always holds.
type Condition struct {
	Clauses []Clause
	Pos     source.Pos // where it is written; zero for an inline one until its reader sets it
}

// SyntaxError says where an inline condition cannot be read.
type SyntaxError struct {
	Column  int // in the condition's text, from 1, in characters
	Message string
}

// Error gives the column and what was expected there.
func (e *SyntaxError) Error() string { return fmt.Sprintf("column %d: %s", e.Column, e.Message) }

// Requirement is a condition as people write it beside what it is for.
type Requirement struct {
	Needs  []source.Given[string] `yaml:"needs" doc:"Features that must all be there."`
	Any    []source.Given[string] `yaml:"any" doc:"Features of which at least one must be there."`
	Unless []source.Given[string] `yaml:"unless" doc:"Features of which none may be there."`
}

// At gives the condition as one that stands at a place.
func (r Requirement) At(at source.Pos) Condition {
	c := New(source.Values(r.Needs), source.Values(r.Any), source.Values(r.Unless))
	c.Pos = at
	return c
}

// New returns the condition that all of needs, at least one of any (when given)
// and none of unless are there. Names are taken as they are: the reader of the
// file checks them with ValidName, so that it can point at the one at fault.
func New(needs, any, unless []string) Condition {
	var c Condition
	for _, name := range needs {
		c.Clauses = append(c.Clauses, Clause{{Feature: name}})
	}
	if len(any) > 0 {
		var either Clause
		for _, name := range any {
			either = append(either, Literal{Feature: name})
		}
		c.Clauses = append(c.Clauses, either)
	}
	for _, name := range unless {
		c.Clauses = append(c.Clauses, Clause{{Feature: name, Negated: true}})
	}
	return c
}

// ValidName tells whether text can name a feature or an option: groups of
// digits and small letters a to z, joined by single hyphens.
func ValidName(text string) bool {
	for part := range strings.SplitSeq(text, "-") {
		if part == "" || strings.ContainsFunc(part, func(r rune) bool { return !nameLetter(r) }) {
			return false
		}
	}
	return true
}

func nameLetter(r rune) bool { return 'a' <= r && r <= 'z' || '0' <= r && r <= '9' }

// Parse reads the inline spelling: a comma is "and", a bar is "or" and binds
// closer, "!" is "not" and binds closest; spaces are free between them. Blank
// text is the condition that always holds. The error is a *SyntaxError.
func Parse(text string) (Condition, error) {
	p := parser{text: []rune(text)}
	p.skipSpaces()
	if p.at == len(p.text) {
		return Condition{}, nil
	}
	var c Condition
	for clause := (Clause)(nil); ; {
		literal, err := p.literal()
		if err != nil {
			return Condition{}, err
		}
		clause = append(clause, literal)
		switch p.next() {
		case '|':
			continue
		case ',':
			c.Clauses, clause = append(c.Clauses, clause), nil
		case end:
			c.Clauses = append(c.Clauses, clause)
			return c, nil
		default:
			p.at--
			return Condition{}, p.expected(`"," or "|" after ` + literal.Feature)
		}
	}
}

// end stands for the end of the text where a character is asked for.
const end rune = -1

type parser struct {
	text []rune
	at   int
}

func (p *parser) skipSpaces() {
	for p.at < len(p.text) && (p.text[p.at] == ' ' || p.text[p.at] == '\t') {
		p.at++
	}
}

// next passes over spaces and one character and returns it.
func (p *parser) next() rune {
	p.skipSpaces()
	if p.at == len(p.text) {
		return end
	}
	p.at++
	return p.text[p.at-1]
}

func (p *parser) literal() (Literal, error) {
	p.skipSpaces()
	negated := p.at < len(p.text) && p.text[p.at] == '!'
	if negated {
		p.at++
		p.skipSpaces()
	}
	start := p.at
	// Everything up to a sign is taken as the name meant, so that a wrong one is
	// shown whole.
	for p.at < len(p.text) && !strings.ContainsRune(" \t,|!", p.text[p.at]) {
		p.at++
	}
	name := string(p.text[start:p.at])
	if name == "" {
		return Literal{}, p.expected("a feature name")
	}
	if !ValidName(name) {
		return Literal{}, &SyntaxError{start + 1,
			fmt.Sprintf("%q is no feature name, expected small letters and digits joined by single hyphens", name)}
	}
	return Literal{name, negated}, nil
}

// expected reports the character at the parser's place.
func (p *parser) expected(what string) error {
	found := "nothing"
	if p.at < len(p.text) {
		found = fmt.Sprintf("%q", p.text[p.at])
	}
	return &SyntaxError{p.at + 1, fmt.Sprintf("found %s, expected %s", found, what)}
}

// Holds tells whether the condition is true of something that has the features
// has reports.
func (c Condition) Holds(has func(feature string) bool) bool {
	for _, clause := range c.Clauses {
		if !slices.ContainsFunc(clause, func(l Literal) bool { return has(l.Feature) != l.Negated }) {
			return false
		}
	}
	return true
}

// And returns the condition that both hold. It keeps the place of c, or that of
// d when c has none.
func (c Condition) And(d Condition) Condition {
	both := Condition{Clauses: slices.Concat(c.Clauses, d.Clauses), Pos: c.Pos}
	if c.Pos == (source.Pos{}) {
		both.Pos = d.Pos
	}
	return both
}

// Features returns the names the condition reads, sorted, each once.
func (c Condition) Features() []string {
	var names []string
	for _, clause := range c.Clauses {
		for _, literal := range clause {
			names = append(names, literal.Feature)
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// String returns the spelling Parse reads; the condition that always holds is
// empty.
func (c Condition) String() string {
	clauses := make([]string, len(c.Clauses))
	for i, clause := range c.Clauses {
		literals := make([]string, len(clause))
		for j, literal := range clause {
			literals[j] = literal.Feature
			if literal.Negated {
				literals[j] = "!" + literal.Feature
			}
		}
		clauses[i] = strings.Join(literals, "|")
	}
	return strings.Join(clauses, ",")
}

// Always tells whether the condition asks for nothing.
func (c Condition) Always() bool { return len(c.Clauses) == 0 }
