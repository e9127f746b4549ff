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
	"sync"
	"sync/atomic"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/spec/parallel"
)

// kept caches sections and blocks, set: most are the same in the next guide of a batch. A guide has almost a thousand of them; with less
// room than one guide needs, none would be found again. With twice the room, the garbage collector, which has to go through what is kept, takes
// more time than is saved: 70 guides that differ in options take a fifth longer.
var (
	kept     = parallel.Cache[*setBlock]{Most: 600}
	chapters = parallel.Cache[*setBlock]{Most: 24}
)

// setBlock is a chapter, a section or another block, set. Neither it nor its boxes are modified, see [change].
type setBlock struct {
	boxes    []*box
	elements []*finish.Element
	told     map[string]bool // the links whose page numbers have been printed when it is set

	// Of a chapter, see [setBlock.measure].
	once   sync.Once
	digest parallel.Digest // of what is shared out
	to     []string        // anchors whose page numbers are in it
	again  atomic.Bool     // it has been on pages before
	last   atomic.Pointer[onPages]
}

// fromCache sets a section or a block of the given content, unless the same one has been set for this guide or another.
func (s *setter) fromCache(content parallel.Digest, names []string, st setting, set func(*setter, setting) []*box) []*box {
	b := s.find(content, names, st, set)
	if b == nil {
		return set(s, st)
	}
	maps.Copy(s.told, b.told)
	st.parent.Children = append(st.parent.Children, b.elements...)
	return slices.Clone(b.boxes)
}

// find returns what is in the cache or, if it is not there, is set for it; nil for what is to be set anew: because something is wrong, to
// be reported with its position, or because it occurs a second time in its section, and each needs elements of its own.
func (s *setter) find(content parallel.Digest, names []string, st setting, set func(*setter, setting) []*box) *setBlock {
	key := s.blockKey(content, names, &st)
	if s.seen[key] {
		return nil
	}
	s.seen[key] = true
	cache := &kept
	if st.within == "" {
		cache = &chapters
	}
	if b, found := cache.Find(key); found {
		return b
	}
	return cache.Get(key, func() *setBlock {
		own := &setter{shared: s.shared, Ruler: s.Ruler, told: map[string]bool{}, seen: s.seen}
		for _, id := range names {
			if id = strings.TrimPrefix(id, "#"); s.told[id] {
				own.told[id] = true
			}
		}
		st.parent = &finish.Element{}
		b := own.made(set(own, st), st.parent)
		if own.fault != nil || len(own.Missing) > 0 {
			return nil
		}
		for i := range b.boxes {
			if !b.boxes[i].shared {
				b.boxes[i].shared = true
			}
		}
		return b
	})
}

// made returns boxes with elements below one.
func (s *setter) made(boxes []*box, above *finish.Element) *setBlock {
	for _, b := range boxes { // they are final, except where page numbers are to be filled in
		if !b.settled {
			b.items, b.open = s.Settle(b.items)
			b.settled = true
		}
	}
	return &setBlock{boxes: boxes, elements: above.Children, told: s.told}
}

// blockKey returns the cache key of what is set: a digest of all that its boxes depend on.
func (s *setter) blockKey(content parallel.Digest, names []string, st *setting) parallel.Digest {
	key := append(append(append(s.buffer[:0], s.common[:]...), content[:]...), st.within...)
	for _, l := range [...]float64{st.left, st.width, st.indent, st.leading, st.full, float64(st.depth), float64(st.origin.Line), float64(st.origin.Column)} {
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(l))
	}
	for _, l := range [...]page.Look{st.text, st.table, st.caption} {
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(l.Size))
		key = binary.BigEndian.AppendUint64(key, math.Float64bits(l.Spacing))
		key = append(key, byte(l.Style), l.Ink.R, l.Ink.G, l.Ink.B)
	}
	for _, is := range [...]bool{st.outer, st.first, st.fresh, st.next != nil, isSchedule(st.next)} {
		key = strconv.AppendBool(key, is)
	}
	key = append(append(append(key, st.role...), 0), st.origin.File...)
	for _, id := range names {
		id = strings.TrimPrefix(id, "#")
		to := s.sections[id]
		for _, is := range [...]bool{to != nil, s.wanted[id], s.told[id]} {
			key = strconv.AppendBool(key, is)
		}
		if to != nil {
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
