package page

import "ownerguide/render/pdf/finish"

// Prune removes elements without content from the tree, so that a screen reader does not announce them. Cells are kept
// if their table has any content, because their position in the row matters.
func Prune(root *finish.Element, pages []*Page) {
	used := map[*finish.Element]bool{}
	for _, p := range pages {
		for _, it := range p.Items {
			switch it := it.(type) {
			case *Text:
				used[it.Element] = true
			case *Shape:
				used[it.Element] = true
			case *Image:
				used[it.Element] = true
			}
		}
	}
	keepUsed(root, used)
}

// keepUsed removes children without content and reports whether the element has any.
func keepUsed(e *finish.Element, used map[*finish.Element]bool) bool {
	content := used[e]
	var kept []*finish.Element
	for _, c := range e.Children {
		full := keepUsed(c, used)
		content = content || full
		if alone := onlyParagraph(c); alone != nil && !used[c] {
			alone.Role = finish.RoleLBody // a nested paragraph would add nothing
			c = alone
		}
		if full || c.Role == finish.RoleTD || c.Role == finish.RoleTH || c.Role == finish.RoleTR {
			kept = append(kept, c)
		}
	}
	e.Children = kept
	return content
}

// onlyParagraph returns the paragraph that is the only child of a list item's body; nil for any other element.
func onlyParagraph(e *finish.Element) *finish.Element {
	if e.Role != finish.RoleLBody || len(e.Children) != 1 || e.Children[0].Role != finish.RoleP {
		return nil
	}
	return e.Children[0]
}
