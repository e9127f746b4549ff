package pdf

import (
	"cmp"

	"ownerguide/render/doc"
	"ownerguide/spec/source"
)

// Uncovered lists the characters of a guide's text that the typeface lacks, in
// reading order, without laying the guide out: a check of many sheets is quick.
// Labels inside drawings and running heads are seen only by [Render].
func Uncovered(g *doc.Guide) []Missing {
	l := &layout{seen: map[Missing]bool{}}
	var block source.Pos // of the block around
	for n := range doc.Walk(g.Sections) {
		switch n := n.(type) {
		case *doc.Text:
			l.clean(n.Content, cmp.Or(n.Origin, block))
		case *doc.Value:
			l.clean(n.Printed, block)
		case doc.Part:
			block = cmp.Or(n.Attr().Origin, block)
		}
	}
	return l.missing
}
