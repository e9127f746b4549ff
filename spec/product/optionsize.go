package product

import (
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
)

// sizePlay is how far the overall size with an option may reach beyond the parts, because of
// brackets and lamps. Judgement.
const sizePlay = quantity.Length(4)

// optionSize compares the overall size with an option with that of the model and with where its
// parts are: it is larger only if a part protrudes, and smaller only if a part is removed.
func (c *lineCheck) optionSize(m *Model, key string, o *Option) {
	if o.Overall == nil {
		return
	}
	brings, goes := o.Parts, len(o.Without) > 0
	for _, d := range o.Requires {
		for _, id := range d.objects() {
			if with := m.Options.Get(id.Value); with != nil {
				brings = append(brings[:len(brings):len(brings)], with.Parts...)
			}
		}
	}
	placed := len(brings) > 0
	for _, p := range brings {
		goes = goes || m.Parts.Get(p.Key) != nil
		placed = placed && p.Value.At != nil && p.Value.Size != nil
	}
	own, before := o.Overall, m.Overall
	for _, side := range []struct {
		what         string
		own, before  length
		near, beyond func(*Part) quantity.Length
	}{
		{"long", own.Long, before.Long, func(p *Part) quantity.Length { return p.At.X.Value }, func(p *Part) quantity.Length { return p.At.X.Value + p.Size.Long.Value }},
		{"wide", own.Wide, before.Wide, func(p *Part) quantity.Length { return p.At.Y.Value }, func(p *Part) quantity.Length { return p.At.Y.Value + p.Size.Wide.Value }},
		{"high", own.High, before.High, func(*Part) quantity.Length { return 0 }, func(p *Part) quantity.Length { return p.At.Z.Value + p.Size.High.Value }},
	} {
		if side.own.Value < side.before.Value && !goes {
			c.add(codeLinePlausible.At(side.own.At, "with %s the unit is said to be %s %s; without it %s, and the option takes nothing away", key, side.own.Text, side.what, side.before.Text).
				WithRelated(side.before.At, "the size of the model"))
		}
		if !placed {
			continue // the parts may be anywhere
		}
		var near, far quantity.Length
		for _, parts := range []source.Map[Part]{m.Parts, brings} {
			for i := range parts {
				if p := &parts[i].Value; p.At != nil && p.Size != nil {
					near, far = min(near, side.near(p)), max(far, side.beyond(p))
				}
			}
		}
		if most := max(side.before.Value, far-near) + sizePlay; side.own.Value > most {
			c.add(codeLinePlausible.At(side.own.At, "with %s the unit is said to be %s %s; its parts and those of the option take up %.0f in, and the model is said to be %s", key, side.own.Text, side.what, float64(far-near), side.before.Text).
				WithRelated(side.before.At, "the size of the model"))
		}
	}
}
