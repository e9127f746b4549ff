package product

import (
	"slices"

	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// Longer derives a longer model from the one it extends: a piece is inserted into the
// frame. Anything behind it moves to the rear; anything across it becomes longer.
// Weights cannot be derived and are written.
type Longer struct {
	By        length           `yaml:"by,required" doc:"How much longer it is. The shortest model is the one that is written out."`
	Behind    length           `yaml:"behind,required" doc:"Where the piece is let in, measured from the coupler on the shorter model: what lies there or behind moves to the rear, what reaches over it grows."`
	Empty     mass             `yaml:"empty_weight,required" doc:"The weight of the longer one without load and without any option."`
	OnCoupler mass             `yaml:"coupler_weight,required" doc:"The part of that weight that the coupler carries."`
	Use       source.Map[word] `yaml:"use" doc:"Components that are others on the longer one, by the id of the one on the shorter, such as a deck. Options follow."`
}

// lengthening makes one model longer. Figures in the file with the key longer, or in files
// that extend it, are those of the longer model already and are not changed.
type lengthening struct {
	*Line
	model    *Model
	own      []string        // those files
	used     map[string]bool // ids of replaced components that occurred
	findings source.Findings
}

// lengthen makes a model longer, after everything it inherits is merged.
func (l *Line) lengthen(m *Model, own []string) source.Findings {
	longer := m.Longer
	if longer == nil || !m.Extends.Set || !longer.By.Set || !longer.Behind.Set || longer.By.Value < 0 {
		return nil // reported elsewhere
	}
	if longer.By.Value == 0 {
		return source.Findings{codeLineLonger.At(longer.By.At, "%s is longer by nothing", m.ID).WithHint("leave longer out, or say by how much")}
	}
	g := &lengthening{Line: l, model: m, own: own, used: map[string]bool{}}
	for _, w := range []struct {
		key string
		of  *mass
		by  mass
	}{{"empty_weight", &m.Empty, longer.Empty}, {"coupler_weight", &m.OnCoupler, longer.OnCoupler}} {
		if g.stays(w.of.At) {
			g.findings.Add(codeLineLonger.At(w.of.At, "%s of the longer model stands under longer", w.key).WithRelated(w.by.At, "here").WithHint("keep the one there"))
		}
		*w.of = w.by
	}
	g.move(&m.Hinge.X)
	g.move(&m.CylinderFoot.X)
	g.move(&m.CylinderHead.X)
	m.Overall = *g.overall(&m.Overall)
	m.Parts = g.parts(m.Parts, nil)
	for i := range m.Options {
		o := &m.Options[i].Value
		g.move(&o.Center)
		o.Overall = g.overall(o.Overall)
		o.Parts = g.parts(o.Parts, m.Parts)
	}
	for _, u := range longer.Use {
		if !g.used[u.Key] && u.KeyAt.File == m.At.File {
			g.findings.Add(codeLineLonger.At(u.KeyAt, "no part of %s, nor of an option of it, is a %s", m.Extends.Value, u.Key).
				DidYouMean(u.Key, componentIDs(l), ""))
		}
	}
	return g.findings
}

func componentIDs(l *Line) (ids []string) {
	for _, c := range l.Components.All() {
		ids = append(ids, c.ID)
	}
	return ids
}

// stays reports whether a figure is written for the longer model.
func (g *lengthening) stays(at source.Pos) bool { return slices.Contains(g.own, at.File) }

func (g *lengthening) grow(x *length) {
	if x.Set && !g.stays(x.At) {
		x.Value += g.model.Longer.By.Value
		x.Text += " + " + g.model.Longer.By.Text
	}
}

func (g *lengthening) move(x *length) {
	if x.Set && x.Value >= g.model.Longer.Behind.Value {
		g.grow(x)
	}
}

func (g *lengthening) overall(s *Size) *Size {
	if s == nil {
		return nil
	}
	grown := *s
	g.grow(&grown.Long)
	return &grown
}

// parts returns the parts in their places on the longer model. A part that replaces
// another and has no place of its own gets the place of that part in under.
func (g *lengthening) parts(parts, under source.Map[Part]) source.Map[Part] {
	behind := g.model.Longer.Behind.Value
	out := slices.Clone(parts)
	for i := range out {
		p := &out[i].Value
		place := p.At
		if below := under.Get(out[i].Key); place == nil && below != nil {
			place = below.At
		}
		g.use(p, place)
		if p.At == nil {
			continue
		}
		if at := *p.At; p.Size != nil && at.X.Value < behind && at.X.Value+p.Size.Long.Value > behind {
			size := *p.Size
			g.grow(&size.Long)
			p.Size = &size
		}
		at := *p.At
		g.move(&at.X)
		p.At = &at
	}
	return out
}

// use replaces a component that the longer model cannot have, because its own figures
// contain a length or the center of what rises.
func (g *lengthening) use(p *Part, place *Point) {
	longer := g.model.Longer
	if other := longer.Use.Get(p.Use.Value); other != nil {
		g.used[p.Use.Value] = true
		p.Use = *other
		return
	}
	c, known := g.Component(p.Use.Value)
	if !known || place == nil || g.stays(p.Use.At) {
		return
	}
	long, center := floor(c)
	if end := place.X.Value + long; long == 0 || end <= longer.Behind.Value || place.X.Value >= longer.Behind.Value && !center {
		return
	}
	g.findings.Add(codeLineLonger.At(longer.Behind.At, "%s has figures of its own that are others on the longer model: it lies here or behind", c.ID).
		WithRelated(p.Use.At, "used here").
		WithHint("describe it as it is there in components, such as %s-long: { extends: %s } with what differs, and say so under longer: use: { %s: %s-long }", c.ID, c.ID, c.ID, c.ID))
}

// floor returns the length of a load floor according to its own figures, 0 for other
// components, and whether they contain the center of its weight.
func floor(c Component) (long quantity.Length, center bool) {
	switch d := c.Data.(type) {
	case *Deck:
		return d.Fixed.Value + d.Tilting.Value + d.Dovetail.Value, d.TiltCenter.Set
	case *DumpBox:
		return d.Long.Value, d.Center.Set
	case *Cradle:
		return d.Long.Value, false
	}
	return 0, false
}
