package layout

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/spec/parallel"
)

// kept caches blocks and headings, set: most are the same in the next guide of a batch. One has some 3 kB, and a guide some thousand of them.
var kept = parallel.Cache[*setBlock]{Most: 1500}

// setBlock is a block or a heading, set. It is not modified.
type setBlock struct {
	boxes    []box
	elements []*finish.Element
	told     map[string]bool // the links whose page numbers have been printed when it is set
}

// fromCache sets a block or a heading of the given content, unless the same one has been set for this guide or another. One that occurs twice in
// a chapter is set twice, because each needs elements of its own.
func (s *setter) fromCache(content parallel.Digest, names []string, st setting, set func(*setter, setting) []*box) []*box {
	key := s.blockKey(content, names, &st)
	if s.seen[key] {
		return set(s, st)
	}
	s.seen[key] = true
	b, found := kept.Find(key)
	if !found {
		b = s.keep(key, names, st, set)
	}
	if b == nil { // to be reported with its position
		return set(s, st)
	}
	maps.Copy(s.told, b.told)
	st.parent.Children = append(st.parent.Children, b.elements...)
	copies, out := slices.Clone(b.boxes), make([]*box, len(b.boxes))
	for i := range copies { // what is around a block changes its boxes: where a page may end, what leads to it
		out[i] = &copies[i]
	}
	return out
}

// keep sets a block or a heading for the cache; nil if something is wrong with it.
func (s *setter) keep(key parallel.Digest, names []string, st setting, set func(*setter, setting) []*box) *setBlock {
	return kept.Get(key, func() *setBlock {
		own := &setter{shared: s.shared, Ruler: s.Ruler, told: map[string]bool{}}
		for _, id := range names {
			if id = strings.TrimPrefix(id, "#"); s.told[id] {
				own.told[id] = true
			}
		}
		st.parent = &finish.Element{}
		boxes := set(own, st)
		own.settle(boxes)
		if own.fault != nil || len(own.Missing) > 0 {
			return nil
		}
		b := &setBlock{make([]box, len(boxes)), st.parent.Children, own.told}
		for i := range boxes {
			b.boxes[i] = *boxes[i]
		}
		return b
	})
}

// blockKey returns the cache key of a block or a heading: a digest of all that its boxes depend on.
func (s *setter) blockKey(content parallel.Digest, names []string, st *setting) parallel.Digest {
	key := append(append(append(s.buffer[:0], s.common[:]...), content[:]...), s.chapter...)
	for _, l := range [...]float64{st.left, st.width, st.indent, st.leading, st.full, float64(st.depth), float64(st.origin.Line), float64(st.origin.Column)} {
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(l))
	}
	for _, l := range [...]page.Look{st.text, st.table, st.caption} {
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(l.Size))
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(l.Spacing))
		key = append(key, byte(l.Style), l.Ink.R, l.Ink.G, l.Ink.B)
	}
	for _, is := range [...]bool{st.outer, st.first, st.next != nil, isSchedule(st.next)} {
		key = strconv.AppendBool(key, is)
	}
	key = append(append(append(key, st.role...), 0), st.origin.File...)
	for _, id := range names {
		id = strings.TrimPrefix(id, "#")
		for _, of := range [...]map[string]bool{s.anchors, s.wanted, s.told} {
			key = strconv.AppendBool(key, of[id])
		}
		if to := s.sections[id]; to != nil {
			key = append(append(key, to.Short...), 0)
		}
	}
	s.buffer = key
	return sha256.Sum256(key)
}

// commonKey returns a digest of what all blocks of a guide depend on.
func (sh *shared) commonKey() parallel.Digest {
	key := fmt.Appendf(nil, "%v %d %q", sh.format, sh.digits, sh.firstPart)
	for _, id := range doc.ReaderWords {
		key = append(append(key, sh.guide.Words[id]...), 0)
	}
	return sha256.Sum256(key)
}
