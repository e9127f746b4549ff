package render

import (
	"fmt"
	"slices"
	"sync"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
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
	aboutWord                          // of sheet or line
	aboutAddress                       // where a link leads to
	aboutTask                          // being filled
	aboutBox                           // the next checkbox
	aboutBuild                         // all of it, see [spec.Build.Alike]
	aboutPoints                        // of the walk-around
	aboutDrawn                         // how often a drawing was used before
)

// answer has the fields set that the question is about.
type answer struct {
	holds bool
	text  string
	at    source.Pos
	exact any
}

// ask answers a question.
func (a *assembly) ask(q question) (to answer) {
	switch q.about {
	case aboutFact:
		to.holds = a.holds(q.name)
	case aboutExistence:
		to.holds = a.exists(q.name)
	case aboutFigure:
		to.text = a.figure(q.name)
	case aboutValue:
		if v, ok := a.values.Lookup(q.name); ok {
			to.exact = v.Exact
		}
	case aboutWord:
		w, _ := a.word(q.name)
		to.text, to.at = w.Value, w.At
	case aboutAddress:
		to.text = a.addressOf(q.name)
	case aboutTask:
		to.text = a.task
	case aboutBox:
		to.text, to.exact = a.filling.ID, a.boxes
	case aboutBuild:
		if a.alike == nil {
			a.alike = a.templates.kept.alike(a.build)
		}
		to.exact = a.alike
	case aboutPoints:
		if a.allPoints == "" {
			a.allPoints = fmt.Sprintf("%#v", a.points)
		}
		to.text = a.allPoints
	case aboutDrawn:
		to.exact = a.drawn[q.name]
	}
	return to
}

// note notes a question with its answer.
func (a *assembly) note(about questionKind, name string) {
	if a.noting {
		q := question{about, name}
		a.asked = append(a.asked, parallel.Asked[question, answer]{Question: q, Answer: a.ask(q)})
	}
}

// shared fills a block of a text or shares that of an earlier unit.
func (a *assembly) shared(in *doc.Section, b *template.Block) []doc.Block {
	if a.alone || b.Calls() && !(b.Kind == template.CallBlock && a.templates.shares[b.Call.Name]) {
		return a.blocks(in, b)
	}
	key, found := keptKey{b, a.beside, a.brief}, len(a.findings)
	kept, ok := a.templates.kept.Find(key, a.ask)
	if a.findings = a.findings[:found]; ok {
		a.boxes += kept.boxes
		for _, n := range kept.blocks {
			if pic, ok := n.(*doc.Figure); ok {
				a.drawn[pic.Name]++
			}
		}
		return kept.blocks
	}
	a.noting, a.asked, a.firstBox = true, nil, a.boxes
	out := a.blocks(in, b)
	if a.noting = false; len(a.findings) == found {
		for _, n := range out {
			doc.Share(n)
		}
		a.templates.kept.Keep(key, a.asked, keptBlock{out, a.boxes - a.firstBox})
	}
	return out
}
