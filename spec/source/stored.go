package source

import (
	"crypto/sha256"
	_ "embed" // the trees
	"sync"
)

// The trees of the YAML files in the program: to parse them takes a third of the time that a check of one sheet takes.
// A tree is found by the digest of the bytes that it was parsed from, so a file that has changed is parsed.
// TestEmbeddedIsProved writes them and keeps them up to date.
//
//go:embed stored.trees
var storedTrees string

// storedByDigest returns the stored trees by the SHA-256 of their files.
var storedByDigest = sync.OnceValue(func() map[string]string {
	byDigest := map[string]string{}
	for r := (treeReader{rest: storedTrees}); r.rest != ""; {
		digest := r.text()
		byDigest[digest] = r.text()
	}
	return byDigest
})

// stored returns the stored tree of a file; nil if there is none.
func stored(file string, data []byte) *Node {
	digest := sha256.Sum256(data)
	tree, ok := storedByDigest()[string(digest[:])]
	if !ok {
		return nil
	}
	r := treeReader{rest: tree, file: file}
	return r.node()
}

// treeReader reads what cmd/ownerguide/storedtrees_test.go wrote. Texts are parts of it, not copies.
type treeReader struct {
	rest, file string
	nodes      []Node // allocated, not used yet
}

func (r *treeReader) number() (n int) {
	for shift := 0; ; shift += 7 {
		b := r.rest[0]
		r.rest = r.rest[1:]
		if n |= int(b&0x7f) << shift; b < 0x80 {
			return n
		}
	}
}

func (r *treeReader) text() (text string) {
	n := r.number()
	text, r.rest = r.rest[:n], r.rest[n:]
	return text
}

func (r *treeReader) pos() Pos { return Pos{r.file, r.number(), r.number()} }

func (r *treeReader) node() *Node {
	if len(r.nodes) == 0 {
		r.nodes = make([]Node, min(64, 1+len(r.rest)/32)) // front matter has few
	}
	n := &r.nodes[0]
	r.nodes = r.nodes[1:]
	n.Kind, n.At, n.Path = Kind(r.number()), r.pos(), r.text()
	switch n.Kind {
	case Scalar:
		n.From, n.Null, n.Text = r.pos(), r.number() == 1, r.text()
	case Sequence:
		n.Items = make([]*Node, r.number())
		for i := range n.Items {
			n.Items[i] = r.node()
		}
	case Mapping:
		n.Keys = make([]Entry, r.number())
		for i := range n.Keys {
			n.Keys[i] = Entry{r.text(), r.pos(), r.node()}
		}
	}
	return n
}
