package source

import "slices"

// Over lays a node over another: between two sets of keys each key counts for
// itself, at any depth, those of the one below first; everything else takes the
// place of what is below. Both stay as they are, and every piece keeps the place
// where it was written.
func (n *Node) Over(below *Node) *Node {
	if n.Kind != Mapping || below.Kind != Mapping {
		return n
	}
	out := *n
	out.Keys = slices.Clone(below.Keys)
	for _, e := range n.Keys {
		i := slices.IndexFunc(out.Keys, func(b Entry) bool { return b.Key == e.Key })
		if i < 0 {
			out.Keys = append(out.Keys, e)
			continue
		}
		e.Value = e.Value.Over(out.Keys[i].Value)
		out.Keys[i] = e
	}
	return &out
}

// Without returns a set of keys without one of them, or with the steps to it
// through sets of keys.
func (n *Node) Without(steps ...string) *Node {
	out := *n
	out.Keys = nil
	for _, e := range n.Keys {
		if e.Key == steps[0] {
			if len(steps) == 1 {
				continue
			}
			e.Value = e.Value.Without(steps[1:]...)
		}
		out.Keys = append(out.Keys, e)
	}
	return &out
}

// With returns a set of keys with another value at one that it has.
func (n *Node) With(key string, value *Node) *Node {
	out := *n
	out.Keys = slices.Clone(n.Keys)
	for i := range out.Keys {
		if out.Keys[i].Key == key {
			out.Keys[i].Value = value
		}
	}
	return &out
}
