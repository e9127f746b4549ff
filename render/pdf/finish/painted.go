package finish

import (
	"crypto/sha256"
	"maps"
	"slices"

	"ownerguide/spec/parallel"
)

// Painted is what painting a part of a page came to, so that it need not be painted again where it stands alike. It is not modified. Instead of
// the content it has a digest, because the content of pages is kept compressed.
type Painted struct {
	digest        parallel.Digest
	height        float64 // of the page
	before, after graphics
	first, behind int // number of its first piece on the page, and that of the piece behind it
	contents      []ownContent
	links         []link
	anchors       map[string]place
	frames        map[*Element]Box
	used          []characters
}

// ownContent is a content with its element.
type ownContent struct {
	*Element
	content
}

// part is a part of the content of a page.
type part struct {
	from, to int // where it is in the content not yet compressed, unless it is to be painted
	painted  *Painted
	paint    func(*Pages)
}

// Fits reports whether a part stands where the current page ends so far as where it was painted.
func (k *Painted) Fits(p *Pages) bool {
	return k != nil && k.first == p.marked && k.height == p.height && k.before == p.graphics
}

// Painted has a part painted to stand where the current page ends so far. Pictures and forms may not be in it, because their numbers are those of
// the document.
func (p *Pages) Painted(paint func(*Pages)) *Painted {
	k := &Painted{height: p.height, before: p.graphics, first: p.marked}
	own := p.apart(k, paint)
	defer own.release(&partPages)
	if own.open || len(own.saved) > 0 || own.pictures > 0 || len(own.forms) > 0 {
		own.fail("a part is not complete in itself")
	}
	if p.err == nil {
		p.err = own.err
	}
	k.digest, k.after, k.behind = sha256.Sum256(own.out), own.graphics, own.marked
	k.links, k.anchors, k.frames, k.used = slices.Clone(own.links), maps.Clone(own.anchors), maps.Clone(own.frames), slices.Clone(own.used)
	for i := range k.links {
		k.links[i].boxes = slices.Clip(slices.Clone(k.links[i].boxes))
	}
	for i := range k.used {
		k.used[i].others = slices.Clone(k.used[i].others)
	}
	elements := make([]*Element, len(own.owners))
	for e, n := range own.index {
		elements[n] = e
	}
	k.contents = make([]ownContent, len(own.contents)-1)
	for i, c := range own.contents[1:] {
		k.contents[i] = ownContent{elements[c.owner], c}
	}
	p.endPart()
	p.out, p.fresh = append(p.out, own.out...), k
	return k
}

// partPages holds the memory of parts that have been painted, to be used again.
var partPages = parallel.Spare[*Pages]{New: empty}

// apart paints a part by itself.
func (p *Pages) apart(k *Painted, paint func(*Pages)) *Pages {
	own := partPages.Get()
	own.begin(p.width, k.height)
	own.count, own.marked, own.graphics = p.count, k.first, k.before
	paint(own)
	own.endText()
	return own
}

// Place puts a part that fits on the current page. Paint is the function it was painted with, which may be called later on another goroutine. Within
// is written before the names of its anchors and of the targets of links.
func (p *Pages) Place(k *Painted, within string, paint func(*Pages)) {
	if p.open || !k.Fits(p) {
		p.fail("a part does not fit")
		return
	}
	if k == p.fresh { // its content is there
		p.parts = append(p.parts, part{from: p.from, to: len(p.out), painted: k})
		p.from, p.fresh = len(p.out), nil
	} else {
		p.endPart()
		p.parts = append(p.parts, part{painted: k, paint: paint})
	}
	links := len(p.links)
	for _, c := range k.contents {
		if c.link {
			c.id += int32(links)
		}
		p.own(c.Element, c.content)
	}
	for _, l := range k.links {
		if l.page = p.count - 1; l.inside {
			l.to = within + l.to
		}
		p.links = append(p.links, l)
	}
	for name, at := range k.anchors {
		p.Anchor(within+name, p.height-at.y)
	}
	maps.Copy(p.frames, k.frames)
	for font, u := range k.used {
		p.use(font, u)
	}
	p.marked, p.graphics = k.behind, k.after
}

// endPart ends the part that has been painted on the current page, if any.
func (p *Pages) endPart() {
	p.endText()
	if len(p.out) > p.from {
		p.parts = append(p.parts, part{from: p.from, to: len(p.out)})
		p.from = len(p.out)
	}
}

// pack compresses the parts of a page, unless that has been done for another document.
func (p *Pages) pack(parts []part) []byte {
	var room [4 * len(parallel.Digest{})]byte
	key := room[:0]
	for _, part := range parts {
		digest := parallel.Digest{}
		if part.painted != nil {
			digest = part.painted.digest
		} else {
			digest = sha256.Sum256(p.out[part.from:part.to])
		}
		key = append(key, digest[:]...)
	}
	return deflated.Get(sha256.Sum256(key), func() []byte {
		contents := make([][]byte, len(parts))
		for i, part := range parts {
			contents[i] = p.out[part.from:part.to]
			if part.paint != nil {
				own := p.apart(part.painted, part.paint)
				defer own.release(&partPages)
				contents[i] = own.out
			}
		}
		return compress(contents...)
	})
}
