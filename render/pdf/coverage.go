package pdf

import (
	"github.com/yuin/goldmark/ast"

	"ownerguide/render/doc"
)

// Uncovered lists the characters of a guide's text that the typeface lacks, in
// reading order, without laying the guide out: a check of many sheets is quick.
// Labels inside drawings and running heads are seen only by [Render].
func Uncovered(g *doc.Guide) []Missing {
	l := &layout{seen: map[Missing]bool{}}
	_ = ast.Walk(g.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			switch n := n.(type) {
			case *doc.Text:
				l.clean(n.Content, origin(n))
			case *doc.Value:
				l.clean(n.Printed, origin(n))
			}
		}
		return ast.WalkContinue, nil
	})
	return l.missing
}
