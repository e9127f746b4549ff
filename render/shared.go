package render

import (
	"fmt"
	"slices"
	"sync"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/parallel"
	"ownerguide/spec/quantity"
)

// A block of a text says the same for most units of a run. It is kept with all that was asked of the unit while it was
// filled, and the next unit that gives the same answers shares it: it is neither filled nor digested nor written again.

// keptBlocks are the blocks of texts as recent units had them.
type keptBlocks struct {
	parallel.Kept[keptKey, question, answer, keptBlock]
	mu     sync.Mutex
	builds []*spec.Build // no two are alike
}

func newKept() *keptBlocks {
	k := &keptBlocks{}
	k.Most = 4
	return k
}

// mostBuilds limits the builds held; when there are more, all are dropped.
const mostBuilds = 16

// alike returns one build for all that are alike.
func (k *keptBlocks) alike(b *spec.Build) *spec.Build {
	k.mu.Lock()
	defer k.mu.Unlock()
	if i := slices.IndexFunc(k.builds, b.Alike); i >= 0 {
		return k.builds[i]
	}
	if len(k.builds) == mostBuilds {
		k.builds = nil
	}
	k.builds = append(k.builds, b)
	return b
}

type keptKey struct {
	text          *template.Block
	beside, brief bool
	about, like   string // a job, or of the calculations a figure and the one with whose words it stands, or a limit
	first         string // id of the first block, if it is not its own
	lang          *template.Language
	system        quantity.System
}

type keptBlock struct {
	blocks []doc.Block
	boxes  int // number of checkboxes in them
}

// question is one that filling a text asks of the unit or of the place in its document.
type question struct {
	about questionKind
	name  string
}

type questionKind int

const (
	aboutFact      questionKind = iota // whether it holds, see [assembly.has]
	aboutExistence                     // of a value or word
	aboutFigure                        // as printed
	aboutValue                         // before rounding
	aboutInputs                        // of a figure: entries, as the calculations write them
	aboutLimit                         // its comparisons
	aboutWord                          // of sheet or line
	aboutAddress                       // where a link leads to
	aboutBuild                         // all of it, see [spec.Build.Alike]
	aboutPoints                        // of the walk-around
	aboutTask                          // being filled
	aboutBox                           // the next checkbox
	aboutDrawn                         // how often a drawing was used before
)

// answer has what the question is about.
type answer struct {
	text  string
	exact any // comparable
}

// answer answers a question; what is about the place in the document changes while it is filled.
func (a *assembly) answer(q question) (to answer, lasting bool) {
	switch q.about {
	case aboutFact:
		to.exact = a.holds(q.name)
	case aboutExistence:
		to.exact = a.exists(q.name)
	case aboutFigure:
		if v, ok := a.values.Lookup(q.name); ok {
			to.text, to.exact = a.written(v), true
		}
	case aboutValue:
		if v, ok := a.values.Lookup(q.name); ok {
			to.exact = v.Exact
		}
	case aboutInputs:
		if v, ok := a.values.Lookup(q.name); ok {
			to.exact = v.InputsTold(a.build.Sheet.File)
		}
	case aboutLimit:
		to.exact = derive.ComparedTold(a.compared[q.name], a.build.Sheet.File)
	case aboutWord:
		w, _ := a.word(q.name)
		to.text, to.exact = w.Value, w.At
	case aboutAddress:
		to.text = a.addressOf(q.name)
	case aboutBuild:
		to.exact = a.templates.kept.alike(a.build)
	case aboutPoints:
		to.text = fmt.Sprintf("%#v", a.points)
	case aboutTask:
		to.text = a.task
	case aboutBox:
		to.text, to.exact = a.filling.ID, a.boxes
	case aboutDrawn:
		to.exact = a.drawn[q.name]
	}
	return to, q.about < aboutTask
}

// note notes a question with its answer.
func (a *assembly) note(about questionKind, name string) {
	if a.noting {
		a.templates.kept.Note(question{about, name}, &a.answers)
	}
}

// shared fills a block of a text or shares that of an earlier unit.
func (a *assembly) shared(in *doc.Section, b *template.Block) (out []doc.Block) {
	first := a.first
	fill := func() []doc.Block {
		out := a.blocks(in, b)
		if first != "" && len(out) > 0 {
			out[0].Attr().ID = first
		}
		return out
	}
	if b.Calls() && !(b.Kind == template.CallBlock && a.templates.rows[b.Call.Name].shared) {
		out = fill()
	} else {
		out = a.share(keptKey{text: b, beside: a.beside, brief: a.brief, first: first}, fill)
	}
	if len(out) > 0 {
		a.first = ""
	}
	return out
}

// share makes blocks or shares those of an earlier unit.
func (a *assembly) share(key keptKey, fill func() []doc.Block) []doc.Block {
	if a.alone {
		return fill()
	}
	key.lang, key.system = a.lang, a.print.System // labels are in no answer
	found := len(a.findings)
	kept, ok := a.templates.kept.Find(key, &a.answers)
	if a.findings = a.findings[:found]; ok {
		a.boxes += kept.boxes
		for _, n := range kept.blocks {
			if pic, ok := n.(*doc.Figure); ok {
				a.drawn[pic.Name]++
			}
		}
		return kept.blocks
	}
	a.noting, a.firstBox = true, a.boxes
	a.answers.Begin()
	out := fill()
	if a.noting = false; len(a.findings) == found {
		for _, n := range out {
			doc.Share(n)
		}
		a.templates.kept.Keep(key, &a.answers, keptBlock{out, a.boxes - a.firstBox})
	}
	return out
}
