package source

import "slices"

// Over merges a node over another. Mappings are merged key by key, at any depth, with
// the keys of the node below first; anything else replaces what is below. Both
// arguments are unchanged, and every part keeps its position.
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

// Without returns a copy of a mapping without the key at a path of keys.
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

// With returns a copy of a mapping with the value of an existing key replaced.
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
