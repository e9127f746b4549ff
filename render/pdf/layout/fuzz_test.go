package layout

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/pdf/paper"
)

// tree grows a guide from bytes. Each word is new, so that the order in which they are heard can be held against the tree.
type tree struct {
	data  []byte
	n     int
	want  []string // the words in the order of the tree
	depth int
}

// take returns the next number below n; 0 when the bytes are used up.
func (g *tree) take(n int) int {
	if len(g.data) == 0 {
		return 0
	}
	b := g.data[0]
	g.data = g.data[1:]
	return int(b) % n
}

func (g *tree) word() string {
	g.n++
	w := fmt.Sprintf("w%dx", g.n)
	g.want = append(g.want, w)
	if g.take(16) == 15 {
		w += strings.Repeat("y", 150) // one long word
	}
	return w
}

// text is a few words with all kinds of space between them.
func (g *tree) text() string {
	var b strings.Builder
	for i := range 1 + g.take(9) {
		if i > 0 {
			b.WriteString([]string{" ", "\u00a0", "  ", "\u200b", " - ", "\n"}[g.take(6)])
		}
		b.WriteString(g.word())
	}
	return b.String()
}

func (g *tree) inlines() []any {
	var out []any
	for range 1 + g.take(5) {
		switch g.take(8) {
		case 0, 1:
			out = append(out, g.text()+" ")
		case 2:
			out = append(out, value(g.word()+"\u00a0mi"))
		case 3:
			out = append(out, mark(g.take(200)), " ")
		case 4:
			out = append(out, &doc.Box{})
		case 5:
			out = append(out, &doc.Break{})
		case 6:
			out = append(out, strong(g.text()))
		case 7:
			out = append(out, linkTo("#s1", g.text()))
		}
	}
	return out
}

func (g *tree) row() []any {
	var out []any
	for range 1 + g.take(5) {
		if g.take(6) == 0 {
			out = append(out, "")
			continue
		}
		out = append(out, &doc.Emphasis{Inlines: inlines(g.inlines())})
	}
	return out
}

func (g *tree) blocks() []doc.Block {
	g.depth++
	defer func() { g.depth-- }()
	var out []doc.Block
	for range 1 + g.take(4) {
		kind := g.take(8)
		if g.depth > 6 {
			kind = 0
		}
		switch kind {
		case 0, 1:
			out = append(out, p(g.inlines()...))
		case 2:
			var items []any
			for range 1 + g.take(4) {
				items = append(items, g.blocks())
			}
			out = append(out, list(g.take(2) == 1, false, items))
		case 3:
			var head []any
			if g.take(2) == 1 {
				head = g.row()
			}
			var rows [][]any
			for range g.take(30) {
				rows = append(rows, g.row())
			}
			role := []doc.TableRole{doc.TablePlain, doc.TableNumbers, doc.TableValues, doc.TableSchedule, doc.TableLog}[g.take(5)]
			out = append(out, table(role, head, rows...))
		case 4:
			word := []doc.Word{doc.Danger, doc.Warning, doc.Care, doc.Notice}[g.take(4)]
			signal := g.word()
			c := caution(word, "c", g.text(), g.text(), g.text(), g.text())
			c.Signal = signal
			out = append(out, c)
		case 5:
			d := &doc.Drawing{Width: float64(1 + g.take(600)), Height: float64(1 + 8*g.take(200)),
				Shapes: []doc.Shape{&doc.Label{Text: strings.TrimRight(g.word(), "y"), Size: 9, Ink: doc.Full, Turn: float64(g.take(360))}}}
			out = append(out, &doc.Figure{Name: "d", Alt: "x", Drawing: d, Wide: g.take(2) == 1, Caption: g.word()})
		case 6:
			out = append(out, &doc.Form{Label: g.text(), Rules: g.take(50)})
		case 7:
			out = append(out, fillerLines(g.take(60)))
		}
	}
	return out
}

func (g *tree) section(level int) *doc.Section {
	id := fmt.Sprintf("s%d", g.n+1)
	role := []doc.Role{doc.RolePlain, doc.RoleChapter, doc.RoleCover, doc.RoleStop, doc.RoleTask, doc.RoleStatement, doc.RoleForm}[g.take(7)]
	s := sec(level, role, "", g.word())
	s.ID, s.Short = id, ""
	s.Blocks = g.blocks()
	if level < 3 {
		for range g.take(3) {
			s.Blocks = append(s.Blocks, g.section(level+1))
		}
	}
	return s
}

var freshWord = regexp.MustCompile(`w\d+x`)

// Whatever the tree: no panic, no hang, nothing off the paper, and each word is heard once, in the order of the tree.
func FuzzLay(f *testing.F) {
	for i := range 40 {
		seed := make([]byte, 60+i*20)
		state := uint32(i + 1)
		for k := range seed {
			state = state*1664525 + 1013904223 // a linear congruential generator, so that seeds are the same everywhere
			seed[k] = byte(state >> 24)
		}
		f.Add(seed)
	}
	sheets := []paper.Size{paper.Letter, paper.A4, paper.HalfLetter, paper.A5}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 3000 {
			return
		}
		g := &tree{data: data}
		var sections []*doc.Section
		for range 1 + g.take(4) {
			sections = append(sections, g.section(1))
		}
		f, _ := sheets[g.take(len(sheets))].Format()
		if g.take(8) == 7 && !f.Card {
			f = f.Booklet()
		}
		b, err := Lay(testGuide(sections...), f)
		if err != nil {
			// What no page can hold is refused by name; with words as these only panels and narrow labels can be that tall.
			if strings.Contains(err.Error(), "but a page holds") {
				return
			}
			t.Fatal(err)
		}
		checkInside(t, b, f)
		got := freshWord.FindAllString(heard(b), -1)
		want := g.want
		if !slices.Equal(got, want) {
			for i := range min(len(got), len(want)) {
				if got[i] != want[i] {
					t.Fatalf("word %d is %s, expected %s (%d words, expected %d)", i, got[i], want[i], len(got), len(want))
				}
			}
			t.Fatalf("%d words are heard, expected %d", len(got), len(want))
		}
	})
}
