package layout

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
	"ownerguide/render/pdf/page"
	"ownerguide/render/pdf/typeset"
	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// A block from the cache must be the one that would be set here: whatever its boxes depend on changes its key.
func TestBlockKeyHoldsAllThatABlockDependsOn(t *testing.T) {
	n := &doc.Paragraph{Attributes: doc.Attributes{ID: "torque"}, Inlines: []doc.Inline{&doc.Link{To: "#tires", Inlines: []doc.Inline{words("Tires")}}}}
	in := &doc.Section{Attributes: doc.Attributes{ID: "wheels"}, Level: 2, Blocks: []doc.Block{n}}
	to := &doc.Section{Attributes: doc.Attributes{ID: "tires"}, Level: 1, Short: "Tires"}
	key := func(st setting, change func(g *doc.Guide, s *setter)) parallel.Digest {
		t.Helper()
		g := testGuide(in, to)
		sh, err := newShared(g, letter)
		if err != nil {
			t.Fatal(err)
		}
		s := &setter{shared: sh, Ruler: typeset.NewRuler(2), told: map[string]bool{}}
		change(g, s)
		sh.common = sh.commonKey()
		return s.blockKey(doc.Key(n), doc.Names(n), &st)
	}
	same := func(*doc.Guide, *setter) {}
	st := (&setter{shared: &shared{format: letter}}).outermost(&finish.Element{})
	before := key(st, same)
	if before != key(st, same) {
		t.Fatal("the key of the same block differs")
	}
	for what, change := range map[string]func(g *doc.Guide, s *setter){
		"a section that is led to is gone":     func(_ *doc.Guide, s *setter) { delete(s.sections, "tires") },
		"a block is led to":                    func(_ *doc.Guide, s *setter) { s.wanted["torque"] = true },
		"where it leads to has been told":      func(_ *doc.Guide, s *setter) { s.told["tires"] = true },
		"a section that is led to has a title": func(*doc.Guide, *setter) { to.Short = "Tires and rims" },
		"other words of the reader":            func(g *doc.Guide, _ *setter) { g.Words = map[string]string{"see-page": "(p. {n})"} },
		"more digits":                          func(_ *doc.Guide, s *setter) { s.digits++ },
		"another first part":                   func(_ *doc.Guide, s *setter) { s.firstPart += "x" },
		"another paper":                        func(_ *doc.Guide, s *setter) { s.format.ColumnWidth++ },
		"other content":                        func(*doc.Guide, *setter) { n.Inlines = append(n.Inlines, words("more")) },
	} {
		inlines, short := n.Inlines, to.Short
		if key(st, change) == before {
			t.Errorf("%s: the key is the same", what)
		}
		n.Inlines, to.Short = inlines, short
	}
	without := map[string]string{"parent": "the block is put there when it is known"}
	for i := range reflect.TypeFor[setting]().NumField() {
		name := reflect.TypeFor[setting]().Field(i).Name
		change, ok := settingChanges[name]
		if without[name] == "" != ok {
			t.Errorf("setting.%s: say here how to change it, or why the key does without", name)
		}
		if changed := st; ok {
			if change(&changed); key(changed, same) == before {
				t.Errorf("setting.%s: the key is the same", name)
			}
		}
	}
}

var settingChanges = map[string]func(*setting){
	"left":    func(st *setting) { st.left++ },
	"width":   func(st *setting) { st.width++ },
	"indent":  func(st *setting) { st.indent++ },
	"text":    func(st *setting) { st.text.Spacing++ },
	"table":   func(st *setting) { st.table.Size++ },
	"caption": func(st *setting) { st.caption.Ink.G++ },
	"leading": func(st *setting) { st.leading++ },
	"outer":   func(st *setting) { st.outer = !st.outer },
	"full":    func(st *setting) { st.full++ },
	"depth":   func(st *setting) { st.depth++ },
	"role":    func(st *setting) { st.role += "x" },
	"origin":  func(st *setting) { st.origin = source.Pos{File: "f", Line: 1, Column: 1} },
	"next":    func(st *setting) { st.next = p("below") },
	"first":   func(st *setting) { st.first = !st.first },
	"fresh":   func(st *setting) { st.fresh = !st.fresh },
	"within":  func(st *setting) { st.within += "x" },
}

// Guides that differ in one place share what is set. Each is the one that it would be without a cache, and no element is twice in it.
func TestSharedIsAsIfSetAnew(t *testing.T) {
	alone := letter
	alone.Joined = true // nothing is shared
	check := func(what string, g *doc.Guide) {
		t.Helper()
		got, err := Lay(g, letter)
		want, err2 := Lay(g, alone)
		if err != nil || err2 != nil {
			t.Fatal(what, err, err2)
		}
		elements := map[*finish.Element]int{}
		count(elements, got.Root)
		for e, n := range elements {
			if n > 1 {
				t.Errorf("%s: an element %s is in the tree %d times", what, e.Role, n)
			}
		}
		is := strings.Split(spelled(got), "\n")
		for i, line := range strings.Split(spelled(want), "\n") {
			if i >= len(is) || is[i] != line {
				t.Fatalf("%s: line %d is %s\nnot %s", what, i, is[min(i, len(is)-1)], line)
			}
		}
	}
	check("as it is", wholeGuide())
	for what, change := range map[string]func(*doc.Guide){
		"serial number": func(g *doc.Guide) { g.Serial += "x" }, "revision": func(g *doc.Guide) { g.Revision += "x" }, "day": func(g *doc.Guide) { g.IssuedOn += "x" },
		"maker": func(g *doc.Guide) { g.Maker += "x" }, "model": func(g *doc.Guide) { g.Model += "x" }, "title": func(g *doc.Guide) { g.Title += "x" },
		"draft": func(g *doc.Guide) { g.Draft += "x" },
	} {
		g := wholeGuide()
		change(g)
		check(what, g)
	}
	i := 0
	for n := range doc.Walk(wholeGuide().Sections) {
		g, k := wholeGuide(), 0
		for m := range doc.Walk(g.Sections) {
			if p, ok := m.(doc.Part); ok && k == i {
				p.Attr().Changed = true
			}
			if w, ok := m.(*doc.Text); ok && k == i {
				w.Content += strings.Repeat(" and more", 1+i%40)
			}
			k++
		}
		if i++; i%17 == 0 {
			check(fmt.Sprintf("node %d, %T", i, n), g)
		}
	}
}

// spelled returns what is on the pages of a book, and its elements, as text.
func spelled(b *Book) string {
	var out strings.Builder
	for _, p := range b.Pages {
		for it := range p.All() {
			switch it := it.(type) {
			case *page.Text:
				fmt.Fprintln(&out, p.Number, it.X, it.Y, it.Words, it.Look, it.Turn, it.Form, it.Element != nil)
			case *page.Link:
				fmt.Fprintln(&out, p.Number, it.Box, it.To, it.Words)
			case *page.Shape:
				fmt.Fprintln(&out, p.Number, it.Steps, it.Width)
			default:
				fmt.Fprintf(&out, "%d %T\n", p.Number, it)
			}
		}
	}
	var tree func(e *finish.Element)
	tree = func(e *finish.Element) {
		fmt.Fprintln(&out, e.Role, e.Alt, e.ActualText, len(e.Children))
		for _, c := range e.Children {
			tree(c)
		}
	}
	tree(b.Root)
	return out.String()
}

func count(elements map[*finish.Element]int, e *finish.Element) {
	elements[e]++
	for _, c := range e.Children {
		count(elements, c)
	}
}
