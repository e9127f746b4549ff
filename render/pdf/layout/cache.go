package layout

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/spec/parallel"
)

// sections caches sections of chapters, and chapters without sections: four in five are the same in the next guide of a batch. One has some
// 20 kB, and a guide some two hundred of them.
var sections = parallel.Cache[*setSection]{Most: 200}

// setSection is a section, set. It is not modified.
type setSection struct {
	boxes   []*box
	element *finish.Element
}

// sectionFromCache sets a section, unless the same one has been set for this guide or another.
func (s *setter) sectionFromCache(n *doc.Section, st setting) []*box {
	set := sections.Get(s.sectionKey(n, st), func() *setSection {
		own := &setter{shared: s.shared, Ruler: s.Ruler}
		in, above := st, &finish.Element{}
		in.parent = above
		boxes := own.setSection(n, in)
		own.settle(boxes)
		if own.fault != nil || len(own.Missing) > 0 {
			return nil
		}
		return &setSection{boxes, above.Children[0]}
	})
	if set == nil { // to be reported with its position
		return s.setSection(n, st)
	}
	s.told = map[string]bool{}
	st.parent.Children = append(st.parent.Children, set.element)
	copies, out := make([]box, len(set.boxes)), make([]*box, len(set.boxes))
	for i, b := range set.boxes { // what is around a section changes its boxes: where a page may end, what leads to it
		copies[i], out[i] = *b, &copies[i]
	}
	return out
}

// sectionKey returns the cache key of a section: a digest of all that its boxes depend on.
func (s *setter) sectionKey(n *doc.Section, st setting) parallel.Digest {
	content := doc.Key(n)
	key := append(append(s.buffer[:0], s.common[:]...), content[:]...)
	number := func(lengths ...float64) {
		for _, l := range lengths {
			key = binary.BigEndian.AppendUint64(key, math.Float64bits(l))
		}
	}
	number(st.left, st.width, st.indent, st.leading, st.full, float64(st.depth))
	for _, l := range [...]page.Look{st.text, st.table, st.caption} {
		number(l.Size, l.Spacing)
		key = append(key, byte(l.Style), l.Ink.R, l.Ink.G, l.Ink.B)
	}
	key = fmt.Appendf(key, "%t %t %q %q %d %d", st.outer, st.first, st.role, st.origin.File, st.origin.Line, st.origin.Column)
	for _, id := range s.leads[n] {
		key = strconv.AppendBool(strconv.AppendBool(key, s.anchors[id]), s.wanted[id])
		if to := s.sections[id]; to != nil {
			key = strconv.AppendQuote(key, to.Short)
		}
	}
	s.buffer = key
	return sha256.Sum256(key)
}

// commonKey returns a digest of what all sections of a guide depend on.
func (sh *shared) commonKey() parallel.Digest {
	return sha256.Sum256(fmt.Appendf(nil, "%v %d %q %q", sh.format, sh.digits, sh.firstPart, sh.guide.Words))
}
