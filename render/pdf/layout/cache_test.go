package layout

import (
	"reflect"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/finish"
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
		"a section that is led to is gone":     func(_ *doc.Guide, s *setter) { delete(s.anchors, "tires") },
		"a block is led to":                    func(_ *doc.Guide, s *setter) { s.wanted["torque"] = true },
		"where it leads to has been told":      func(_ *doc.Guide, s *setter) { s.told["tires"] = true },
		"another chapter":                      func(_ *doc.Guide, s *setter) { s.chapter = "brakes" },
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
}
