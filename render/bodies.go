package render

import (
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/spec/derive"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// letter is a quantity of a free body: its letter in drawing and formula, its label, and
// its figure with the value it comes from, if any.
type letter struct {
	sign, label string
	name        string // name of the value; empty for what is calculated here
	figure      quantity.Quantity
}

// bodies draws the free-body diagrams on which the loads are based, with the formulas in
// letters and in numbers.
func (s *calculations) bodies(g *doc.Guide) {
	c := headed(1, doc.RoleChapter, "bodies", s.label("calc.bodies"))
	s.couplerBody(c)
	s.liftBody(c)
	if len(c.Blocks) > 0 {
		s.numbered++
		c.Number = strconv.Itoa(s.numbered)
		g.Sections = append(g.Sections, c)
	}
}

// exact returns figures of the unit before rounding; ok is false if it lacks one.
func (s *calculations) exact(names ...string) (figures []float64, ok bool) {
	for _, name := range names {
		v, found := s.assembly.values.Lookup(name)
		if !found {
			return nil, false
		}
		figures = append(figures, v.Exact.(quantity.Quantity).Base())
	}
	return figures, true
}

var (
	asMass   = quantity.Rounding{Step: 1, MetricStep: 1}
	asLength = quantity.Rounding{Step: 0.1, MetricStep: 1}
)

func (s *calculations) mass(x float64) string { return s.print.First(quantity.Mass(x), asMass) }

func (s *calculations) length(x float64) string { return s.print.First(quantity.Length(x), asLength) }

// couplerBody balances the loaded trailer about its axles, with the load at either end of
// its band.
func (s *calculations) couplerBody(c *doc.Section) {
	f, ok := s.exact("weights.empty", "weights.coupler_empty", "weights.coupler_least", "weights.cargo_capacity", "axles.center", "loading.deck_front", "loading.cg_band.100.front", "loading.cg_band.100.rear")
	if !ok {
		return
	}
	empty, coupler, least, cargo, axles := f[0], f[1], f[2], f[3], f[4]
	front, rear, center := f[5]+f[6], f[5]+f[7], axles*(1-coupler/empty)
	n := part(c, "body-coupler", s.label("calc.body.coupler"))
	end := max(axles, rear) * 1.12
	add(n, &doc.Figure{Name: "free-body-coupler", Alt: s.label("calc.body.coupler.alt"), Caption: s.label("calc.body.level"), Drawing: shapes.FreeBody(end,
		[]shapes.Force{{Letter: "K", At: 0, Up: true}, {Letter: "E", At: center}, {Letter: "P", At: front}, {Letter: "P", At: rear}, {Letter: "A", At: axles, Up: true}},
		[]shapes.Arm{{Letter: "e", To: center}, {Letter: "p₁", To: front}, {Letter: "p₂", To: rear}, {Letter: "a", To: axles}})})
	s.letters(n, []letter{
		{"E", s.label("calc.body.e"), "weights.empty", nil}, {"Kₑ", s.label("calc.body.ke"), "weights.coupler_empty", nil}, {"Kₗ", s.label("calc.body.kl"), "weights.coupler_least", nil},
		{"P", s.label("calc.body.p"), "weights.cargo_capacity", nil}, {"a", s.label("calc.body.a"), "axles.center", nil},
		{"e", s.label("calc.body.center"), "", quantity.Length(center)}, {"p₁", s.label("calc.body.p1"), "", quantity.Length(front)}, {"p₂", s.label("calc.body.p2"), "", quantity.Length(rear)},
	})
	lines := &doc.List{}
	say(n, text("K = Kₑ + P × (a − p) ÷ a;  A = E + P − K"))
	at := func(label string, own, p float64) (k, a float64) {
		k = own + cargo*(axles-p)/axles
		a = empty + cargo - k
		lines.Items = append(lines.Items, itemOf(text(label+": K = "+s.mass(own)+" + "+s.mass(cargo)+" × ("+s.length(axles)+" − "+s.length(p)+") ÷ "+s.length(axles)+" = "+s.mass(k)+"; A = "+s.mass(empty)+" + "+s.mass(cargo)+" − "+s.mass(k)+" = "+s.mass(a))))
		return k, a
	}
	most, _ := at(s.label("calc.body.front"), coupler, front)
	low, load := at(s.label("calc.body.rear"), least, rear)
	add(n, lines)
	held := s.newTable(doc.TablePlain, s.label("calc.body.held"), "calc.limit", "calc.needs", "calc.has", "calc.used")
	for _, h := range []struct {
		label, limit string
		needs        float64
		atLeast      bool
	}{{"calc.body.axles", "ratings.gawr.total", load, false}, {"calc.body.vertical", "ratings.coupler_vertical", most, false}, {"calc.body.high", "hitch.tongue_range.full.high", most, false}, {"calc.body.low", "hitch.tongue_range.full.low", low, true}} {
		limit, ok := s.exact(h.limit)
		if !ok {
			continue
		}
		needs, has := h.needs, limit[0]
		if h.atLeast {
			needs, has = has, needs
		}
		row(held, cellOf(text(s.label(h.label)+" "), s.name(h.limit)), endCell(text(s.mass(needs))), endCell(text(s.mass(has))), endCell(text(s.fraction(needs/has))))
	}
	endColumns(held)
	add(n, rowsOf(held, source.Pos{})...)
}

// liftBody balances what the cylinders lift about the hinge, at the weakest point of the
// stroke.
func (s *calculations) liftBody(c *doc.Section) {
	f, ok := s.exact("cylinder.force_at_relief", "lift.cylinder_arm", "lift.body_weight", "lift.body_arm", "lift.cargo_arm", "lift.capacity", "lift.limit")
	if !ok || f[4] <= 0 {
		return
	}
	force, arm, body, bodyArm, cargoArm, capacity, limit := f[0], f[1], f[2], f[3], f[4], f[5], f[6]
	n := part(c, "body-lift", s.label("calc.body.lift"))
	end := max(arm, bodyArm, cargoArm) * 1.1
	add(n, &doc.Figure{Name: "free-body-lift", Alt: s.label("calc.body.lift.alt"), Caption: s.label("calc.body.hinge"), Drawing: shapes.FreeBody(end,
		[]shapes.Force{{Letter: "H", At: end, Up: true}, {Letter: "F", At: end - arm, Up: true}, {Letter: "W", At: end - bodyArm}, {Letter: "P", At: end - cargoArm}},
		[]shapes.Arm{{Letter: "f", From: end - arm, To: end}, {Letter: "w", From: end - bodyArm, To: end}, {Letter: "p", From: end - cargoArm, To: end}})})
	s.letters(n, []letter{
		{"F", s.label("calc.body.f"), "cylinder.force_at_relief", nil}, {"f", s.label("calc.body.arm"), "lift.cylinder_arm", nil},
		{"W", s.label("calc.body.w"), "lift.body_weight", nil}, {"w", s.label("calc.body.arm"), "lift.body_arm", nil}, {"p", s.label("calc.body.arm"), "lift.cargo_arm", nil},
	})
	say(n, text("P = (0.85 × F × f − W × w) ÷ p"))
	say(n, text("P = (0.85 × "+s.mass(force)+" × "+s.length(arm)+" − "+s.mass(body)+" × "+s.length(bodyArm)+") ÷ "+s.length(cargoArm)+" = "+s.mass(capacity)))
	held := s.newTable(doc.TablePlain, s.label("calc.body.held"), "calc.limit", "calc.needs", "calc.has", "calc.used")
	row(held, cellOf(s.name("lift.limit")), endCell(text(s.mass(limit))), endCell(text(s.mass(capacity))), endCell(text(s.fraction(limit/capacity))))
	endColumns(held)
	add(n, rowsOf(held, source.Pos{})...)
}

// letters lists the quantities of a formula, with the basis of each figure.
func (s *calculations) letters(n *doc.Section, list []letter) {
	t := s.newTable(doc.TablePlain, s.label("calc.body.inputs"), "calc.body.sign", "calc.body.what", "table.figure", "calc.worth")
	for _, l := range list {
		figure, worth := "", s.label("calc.basis.arithmetic")
		what := cellOf(text(l.label))
		if v, ok := s.assembly.values.Lookup(l.name); ok {
			figure, worth = s.written(v), s.basis(v)
			what.Inlines = append(what.Inlines, text(", "), s.name(l.name))
		} else {
			figure = s.length(l.figure.Base())
		}
		row(t, cellOf(text(l.sign)), what, cellOf(text(figure)), cellOf(text(worth)))
	}
	add(n, rowsOf(t, source.Pos{})...)
}

// basis returns the basis of a figure's source in a word.
func (s *calculations) basis(v *derive.Value) string {
	words := [...]string{derive.Published: "published", derive.Stated: "stated", derive.Practice: "practice", derive.Memory: "memory", derive.Judgement: "judgement", derive.Arithmetic: "arithmetic"}
	return s.label("calc.basis." + words[v.Source.Basis])
}
