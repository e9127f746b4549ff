package render

import (
	"slices"
	"strings"
	"sync"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/proof"
)

// covering are the sheets that between them have every pair of options of each
// model in every way it can be ordered; full and bare ones take turns.
var covering = sync.OnceValue(func() []proof.CoveringSheet {
	sheets, _ := proof.Covering(embeddedFiles().line)
	return sheets
})

// madeGuide is a unit of the covering sheets with its guide, which no test changes.
type madeGuide struct {
	name   string
	build  *spec.Build
	values *derive.Values
	*assembly
	guide *doc.Guide
}

// covered are the units of the covering sheets; each is made once, when the first
// test asks for it.
var covered = sync.OnceValue(func() (units []func(*testing.T) *madeGuide) {
	kept := newKept() // no other unit has filled the blocks that these share
	for _, s := range covering() {
		var once sync.Once
		var made *madeGuide
		units = append(units, func(t *testing.T) *madeGuide {
			once.Do(func() {
				l, templates := embedded(t)
				b, vs := unit(t, l, readSheet(t, s.Name, s.Data))
				own := *templates
				own.kept = kept
				a, g := own.assemble(b, vs, nil)
				made = &madeGuide{s.Name, b, vs, a, g}
			})
			if made == nil || made.guide == nil {
				t.Fatalf("%s has no guide", s.Name)
			}
			return made
		})
	}
	return units
})

// Whole guides of units that between them have every pair of options in every
// way it can be ordered, made without findings and read back.
func TestCoveringUnits(t *testing.T) {
	l, templates := embedded(t)
	var mu sync.Mutex
	printed, used, steps, tells := map[string]bool{}, map[int]bool{}, map[int]bool{}, map[int]bool{}
	t.Run("units", func(t *testing.T) {
		for i, s := range covering() {
			t.Run(s.Name, func(t *testing.T) {
				t.Parallel()
				u := covered()[i](t)
				b, g := u.build, u.guide
				for _, f := range u.findings {
					if f.Code != codeStatement.ID {
						t.Errorf("%s: %s [%s]", f.Pos, f.Message, f.Code)
					}
				}
				for s := range doc.Sections(g.Sections) {
					if len(s.Blocks) == 0 {
						t.Errorf("the section %s has a heading and nothing below it", s.ID)
					}
				}
				readBack(t, g, read(templates, l, b.Has))
				mu.Lock()
				defer mu.Unlock()
				namesNoAbsentPart(t, g, b.Has, used)
				for name := range u.texts {
					printed[name], printed[derive.FamilyOf(name)] = true, true
				}
				for v := range doc.All[*doc.Value](g.Sections) {
					printed[v.Name], printed[derive.FamilyOf(v.Name)] = true, true
				}
				stepsInOrder(t, g, b.Has, steps)
				toldWhere(t, g, u.values, b.Has, tells)
			})
		}
	})
	t.Logf("%d units", len(covering()))
	if len(covering()) < 20 || len(printed) < 100 {
		t.Errorf("only %d units were made, with %d figures", len(covering()), len(printed))
	}
	for _, d := range derive.Declared() {
		if _, reason := silentFigures[d.Name]; d.Engineer || reason {
			continue
		}
		if !printed[d.Name] {
			t.Errorf("%s is declared for the owner and stands in no text or drawing: use it, or make it the engineer's", d.Name)
		}
	}
	for i, w := range partWords {
		if !used[i] {
			t.Errorf("no guide uses %s: take it out of partWords", w.word)
		}
	}
	for i, rule := range stepRules {
		if !steps[i] {
			t.Errorf("no unit with %s has a step like %s: take the rule away or mend it", rule.when, rule.step)
		}
	}
	toldIsUsed(t, tells)
	for name := range silentFigures {
		if printed[name] {
			t.Errorf("%s is printed: make no exception for it", name)
		}
	}
}

// silentFigures are for the owner of a unit that is not among those made here.
var silentFigures = map[string]string{
	"at_least":                "figures of a maker's own; TestHowTo prints them",
	"at_most":                 "likewise",
	"electrical.fuse.brakes":  "a brake feed with a fuse of its own",
	"electrical.fuse.lamps":   "a lamp feed with a fuse of its own",
	"electrical.fuse.reverse": "a feed with a fuse of its own to the valve that keeps the brakes off in reverse",
	"loading.even_load_off":   "a full load, spread evenly, that lies outside its band",
	"tires.replace_by":        "date codes of tires in the sheet",
}

// readBack checks a guide against its build and against what following the
// conditions alone says.
func readBack(t *testing.T, g *doc.Guide, r *reading) {
	var sections []doc.Entry
	contents, ids := []doc.Entry(nil), map[string]bool{}
	work, safety, full := map[string]bool{}, map[string]bool{}, map[string]string{}
	chapter, indexed := "", map[string]bool{}
	eachNode(g.Sections, func(in *doc.Section, n doc.Node) {
		for i, run := range runs(n) {
			c, brief := n.(*doc.Caution)
			brief = brief && c.Brief && i == 1 // a brief panel has no consequence
			if _, cell := n.(*doc.Cell); !cell && !brief && strings.TrimSpace(doc.PlainText(run...)) == "" && !holdsFigure(run) {
				t.Errorf("%s: an empty %T", in.Origin, n)
			}
		}
		if b, ok := n.(doc.Block); ok && b.Attr().ID != "" {
			if _, section := n.(*doc.Section); !section {
				ids[b.Attr().ID] = true // a job that a section tells
			}
		}
		switch n := n.(type) {
		case *doc.Section:
			if ids[n.ID] {
				t.Errorf("two sections %s", n.ID)
			}
			ids[n.ID] = true
			if n.Level == 1 {
				chapter = n.ID
			}
			if n.Level <= 2 && n.Role != doc.RoleCover && n.ID != "contents" {
				sections = append(sections, doc.Entry{Level: n.Level, Number: n.Number, Title: doc.PlainText(n.Heading), ID: n.ID})
			}
		case *doc.Contents:
			if in.ID == "contents" {
				for _, e := range n.Entries {
					contents = append(contents, doc.Entry{Level: e.Level, Number: e.Number, Title: e.Title, ID: e.ID})
				}
				break
			}
			for _, e := range n.Entries {
				indexed[e.ID] = true
			}
		case *doc.Caution:
			if chapter == "safety" && in.ID == "gravest" {
				safety[n.Name] = true
			} else {
				work[n.Name] = true
			}
			if len(n.Avoid) == 0 && (in.ID != "gravest" || n.Full == "") { // that is a line which leads to the panel
				t.Errorf("%s: caution %s does not say how to avoid it", n.Origin, n.Name)
			}
			if !n.Brief {
				full[n.Name] = doc.PlainText(n)
			}
		case *doc.Item:
			if len(n.Blocks) == 0 {
				t.Errorf("%s: an empty item", n.Origin)
			}
		case *doc.List:
			if len(n.Items) == 0 {
				t.Errorf("%s: an empty list", n.Origin)
			}
		case *doc.Table:
			checkTable(t, n)
		case *doc.Text:
			if strings.ContainsAny(n.Content, "{}") {
				t.Errorf("a brace is left in %q", n.Content)
			}
		}
	})
	if !slices.Equal(contents, sections) {
		t.Errorf("the contents differ from the sections:\n%v\n%v", contents, sections)
	}
	for _, e := range sections {
		if !indexed[e.ID] && e.Level > 1 { // chapters are in the contents
			t.Errorf("the index has nothing of %s", e.ID)
		}
	}
	doc.EachTrouble(g.Sections, func(_ *doc.Section, n *doc.Trouble) {
		if !indexed[n.ID] {
			t.Errorf("the index does not have the symptom %s", n.ID)
		}
	})
	sameSet(t, "cautions beside the work", work, r.work)
	sameSet(t, "cautions of the safety chapter", safety, r.safety)
	for id := range r.sections {
		if !ids[id] {
			t.Errorf("section %s is missing", id)
		}
	}
	for id := range r.tasks {
		if !ids[id] {
			t.Errorf("job %s is missing", id)
		}
	}
	warned(t, r, full)
}

// warned looks for the words against each hazard of the unit.
func warned(t *testing.T, r *reading, full map[string]string) {
	for i := range r.templates.Cautions {
		c := &r.templates.Cautions[i]
		if !c.When.Holds(r.has) {
			continue
		}
		words := r.templates.Language(template.Base).Cautions[c.ID.Value]
		if text := full[c.ID.Value]; !strings.Contains(text, words.Hazard[0].Text) || !strings.Contains(text, words.Avoid[0][0].Text) {
			t.Errorf("%s: the words against hazard %s are not in the guide", c.ID.At, c.ID.Value)
		}
	}
}

func holdsFigure(run []doc.Inline) bool {
	for n := range doc.Walk(run) {
		switch n.(type) {
		case *doc.Value, *doc.PointMark, *doc.Box:
			return true
		}
	}
	return false
}

func checkTable(t *testing.T, n *doc.Table) {
	rows := n.Rows
	if n.Head != nil {
		rows = append([]*doc.Row{n.Head}, rows...)
	}
	for _, row := range rows {
		if len(row.Cells) != len(rows[0].Cells) {
			t.Errorf("%s: a row has %d cells, the first %d", n.Origin, len(row.Cells), len(rows[0].Cells))
		}
	}
	if len(n.Rows) == 0 {
		t.Errorf("%s: a table without rows", n.Origin)
	}
}

func sameSet(t *testing.T, what string, got, want map[string]bool) {
	t.Helper()
	if a, b := keys(got), keys(want); !slices.Equal(a, b) {
		t.Errorf("%s are %v; by the conditions %v", what, a, b)
	}
}
