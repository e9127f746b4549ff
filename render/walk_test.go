package render

import (
	"slices"

	"ownerguide/render/doc"
)

// eachNode visits every node together with its section.
func eachNode(sections []*doc.Section, visit func(in *doc.Section, n doc.Node)) {
	for n := range doc.Walk(sections) {
		s, ok := n.(*doc.Section)
		if !ok {
			continue
		}
		visit(s, s)
		own := []doc.Node{s.Heading}
		for _, b := range s.Blocks {
			if _, section := b.(*doc.Section); !section {
				own = append(own, b)
			}
		}
		for n := range doc.Walk(own) {
			visit(s, n)
		}
	}
}

// runs returns the running texts of a node, not those of nodes inside it.
func runs(n doc.Node) [][]doc.Inline {
	switch n := n.(type) {
	case *doc.Paragraph:
		return [][]doc.Inline{n.Inlines}
	case *doc.Heading:
		return [][]doc.Inline{n.Inlines}
	case *doc.Cell:
		return [][]doc.Inline{n.Inlines}
	case *doc.Caution:
		return append([][]doc.Inline{n.Hazard, n.Consequence}, n.Avoid...)
	case *doc.Trouble:
		return slices.Concat([][]doc.Inline{n.Symptom}, n.Causes, n.Remedies)
	}
	return nil
}
