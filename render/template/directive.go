package template

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ownerguide/spec/logic"
	"ownerguide/spec/proof"
)

// Directive is a kind of fenced block that the program fills: all that has to be
// known of it before it is filled.
type Directive struct {
	Name  string
	Args  []Argument // what stands behind the name, those that may be left out last
	Lines Lines      // what stands inside
	Parts bool       // it makes sections, so it stands directly in one
	NotOn []string   // documents beside the guide that cannot hold it: [Card], [Leaf], [Mail]
	// Refers lists what a call brings into its text beyond what its arguments and
	// lines name, each with the condition under which it does; nil for nothing.
	Refers func(t *Templates, call *Call) []proof.Reference
}

// Documents beside the guide.
const (
	Card = "the card"
	Leaf = "the hand-over leaf"
	Mail = "the mail"
)

// Argument is one word behind a directive's name.
type Argument struct {
	Names    proof.Kind // the word names a thing of this kind; empty where it names none
	Label    string     // the word, behind this, is the id of a label
	OneOf    []string   // it is one of these; nil where the list is open
	Most     int        // it is a number from 1 to this; 0 for words
	Optional bool
}

// Lines says what may stand inside a call.
type Lines int

// What may stand inside a call.
const (
	NoLines   Lines = iota
	Described       // sentences that say what is to be seen, at least one
	Sentences       // sentences, each under a condition of its own
	Figures         // "name: label" with the name of a value, a word, or interval.JOB
	Intervals       // "interval.JOB: label"
)

// intervalOf returns the job of a line that says how often one is due.
func intervalOf(name string) (job string, is bool) { return strings.CutPrefix(name, "interval.") }

// call checks a call against its directive and notes what it names.
func (c *collector) call(b *Block, where logic.Condition, top bool) {
	call := b.Call
	d := c.templates.program.directive(call.Name)
	if d == nil {
		var names []string
		for _, d := range c.templates.program.Directives {
			names = append(names, d.Name)
		}
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
		where = where.And(caution.When) // it is left out where it does not apply
	}
	if a.Names != "" {
		c.refer(proof.Reference{Kind: a.Names, Name: text, When: where, At: b.At})
	}
	if a.Label != "" {
		c.refer(proof.Reference{Kind: proof.Label, Name: a.Label + text, When: where, At: b.At})
	}
}

// line checks a line inside a call and notes what it names. One whose figure or
// job the unit lacks is left out.
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
