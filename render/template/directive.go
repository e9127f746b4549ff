package template

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/proof"
)

// Directive is the declaration of a kind of fenced block that the program fills in:
// everything needed to check a call.
type Directive struct {
	Name  string
	Args  []Argument // arguments after the name, optional ones last
	Lines Lines      // what the block may contain
	Parts bool       // it makes sections, so it must be directly in one
	NotOn []string   // documents beside the guide that cannot hold it: [Card], [Leaf], [Mail]
	// Refers returns the references of a call beyond its arguments and lines, each with
	// its condition; nil if there are none.
	Refers func(t *Templates, call *Call) []proof.Reference
}

// Documents beside the guide.
const (
	Card = "the card"
	Leaf = "the hand-over leaf"
	Mail = "the mail"
)

// Argument is one argument of a directive.
type Argument struct {
	Names    proof.Kind // the argument names a thing of this kind; empty if not
	Label    string     // this prefix and the argument are the id of a label
	OneOf    []string   // the allowed words; nil if any
	Most     int        // it is a number from 1 to Most; 0 for words
	Optional bool
}

// Lines is what a call may contain.
type Lines int

// The kinds of lines.
const (
	NoLines   Lines = iota
	Described       // sentences that describe what is to be seen, at least one
	Sentences       // sentences, each with an optional condition
	Figures         // "name: label" with the name of a value, a word, or interval.JOB
	Intervals       // "interval.JOB: label"
)

// intervalOf returns the job in the name of a line about an interval.
func intervalOf(name string) (job string, is bool) { return strings.CutPrefix(name, "interval.") }

// call checks a call against its directive and records its references.
func (c *collector) call(b *Block, where logic.Condition, top bool) {
	call := b.Call
	d := c.templates.program.directive(call.Name)
	if d == nil {
		names := mapped(c.templates.program.Directives, func(d Directive) string { return d.Name })
		c.report(codeCall.At(b.At, "there is no block of kind %q", call.Name).DidYouMean(call.Name, names, ""))
		return
	}
	least := len(slices.DeleteFunc(slices.Clone(d.Args), func(a Argument) bool { return a.Optional }))
	if len(call.Args) < least || len(call.Args) > len(d.Args) {
		c.report(codeCall.At(b.At, "%d words stand behind %s; expected %d to %d", len(call.Args), call.Name, least, len(d.Args)))
		return
	}
	if d.Parts && !top {
		c.report(codeCall.At(b.At, "%s can only stand directly in a section", call.Name))
	}
	for _, beside := range c.documents {
		if slices.Contains(d.NotOn, beside) {
			c.report(codeCall.At(b.At, "a section for %s cannot hold a block of kind %s", beside, call.Name))
		}
	}
	for i, arg := range call.Args {
		c.argument(b, d.Args[i], arg, where)
	}
	if d.Refers != nil {
		for _, r := range d.Refers(c.templates, call) {
			r.When, r.At = where.And(r.When), b.At
			c.refer(r)
		}
	}
	if len(call.Lines) > 0 && d.Lines == NoLines {
		c.report(codeCall.At(call.Lines[0].At, "a block of kind %s has no lines inside: this text would not be printed", call.Name))
	}
	if len(call.Lines) == 0 && d.Lines == Described {
		c.report(codeCall.At(b.At, "nothing is said to who cannot see the %s; expected a sentence inside the block that says what it shows", call.Name))
	}
	for i := range call.Lines {
		c.line(&call.Lines[i], call.Name, d.Lines, where)
	}
}

func (c *collector) argument(b *Block, a Argument, text string, where logic.Condition) {
	if a.Most > 0 {
		if n, err := strconv.Atoi(text); err != nil || n < 1 || n > a.Most {
			c.report(codeCall.At(b.At, "expected a number from 1 to %d, not %q", a.Most, text))
		}
	}
	if a.OneOf != nil && !slices.Contains(a.OneOf, text) {
		what := string(a.Names)
		if what == "" {
			what = fmt.Sprintf("%s of that kind:", b.Call.Name)
		}
		c.report(c.code(a.Names).At(b.At, "there is no %s %q", what, text).DidYouMean(text, a.OneOf, ""))
		return
	}
	if caution := c.templates.Caution(text); a.Names == proof.Panel && caution != nil {
		where = where.And(caution.When) // it is omitted if the caution does not apply
	}
	if a.Names != "" {
		c.refer(proof.Reference{Kind: a.Names, Name: text, When: where, At: b.At})
	}
	if a.Label != "" {
		c.refer(proof.Reference{Kind: proof.Label, Name: a.Label + text, When: where, At: b.At})
	}
}

// line checks a line inside a call and records its references. A line is omitted for a
// unit without its figure or job.
func (c *collector) line(line *Line, call string, kind Lines, where logic.Condition) {
	own := c.gate(line.When, where)
	job, interval := intervalOf(line.Name)
	switch {
	case kind == Intervals && !interval:
		c.report(codeCall.At(line.At, `expected "interval.job: label" in a block of kind %s`, call))
	case kind == Figures && line.Name == "":
		c.report(codeCall.At(line.At, `expected "name: label", with the name of a value`))
	case (kind == Sentences || kind == Described) && line.Name != "":
		c.report(codeCall.At(line.At, "a sentence here cannot begin with %q", line.Name+":"))
	case kind == Sentences || kind == Described || kind == NoLines:
	case interval:
		own = own.And(atom(proof.Task, job))
		c.refer(proof.Reference{Kind: proof.Task, Name: job, When: own, At: line.At})
	default:
		own = own.And(atom(proof.Value, line.Name))
		c.named(line.Name, own, line.At)
	}
	c.passage(strings.TrimSpace("line "+line.Name), line.When.String(), line.At, line.Inlines)
	c.inlines(line.Inlines, own)
}
