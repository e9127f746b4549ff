package render

import (
	"cmp"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// testdata/kept.txt lists what the guides of the samples and of the covering
// sheets held at commit 7dfc129, before they were set in half the pages. It is
// never made from a later state: check that commit out in a worktree of its own,
// put this file there as it was when it was added, and run
//
//	go test ./render -run TestNothingIsLost -keep /path/to/render/testdata/kept.txt
var keep = flag.String("keep", "", "write the list of what guides hold to this `file` instead of reading it")

const keptFile = "testdata/kept.txt"

// keptUnit is a unit whose guide was listed.
type keptUnit struct {
	name   string // of the sample's file, or model, full or bare, and options
	build  *spec.Build
	values *derive.Values
}

// keptUnits makes the units by their names; those that cannot be ordered any more
// are nil.
func keptUnits(t *testing.T, l *product.Line, names []string) (out []*keptUnit) {
	t.Helper()
	for _, name := range names {
		var data []byte
		file := name
		if words := strings.Fields(name); len(words) == 1 {
			file = "../testdata/sheets/" + name
			var err error
			if data, err = os.ReadFile(file); err != nil {
				t.Fatal(err)
			}
		} else {
			i := slices.IndexFunc(l.Models, func(m *product.Model) bool { return m.ID == words[0] })
			if i < 0 {
				out = append(out, nil)
				continue
			}
			data = proof.Sheet(l, l.Models[i], words[2:], words[1] == "full", 901)
		}
		s := readSheet(t, file, data)
		b, findings := spec.Resolve(l, s)
		if b == nil || findings.HasErrors() {
			out = append(out, nil)
			continue
		}
		vs, findings := derive.Evaluate(b)
		if findings.HasErrors() {
			out = append(out, nil)
			continue
		}
		out = append(out, &keptUnit{name, b, vs})
	}
	return out
}

// TestNothingIsLost holds every unit's documents against the list of what they
// held: hazards, cautions in full with their lines, jobs, trouble, figures and
// pictures. What was taken out on purpose stands in testdata/kept-not.txt with
// the reason.
func TestNothingIsLost(t *testing.T) {
	l, templates := embedded(t)
	if *keep != "" {
		writeKept(t, l, templates)
		return
	}
	data, err := os.ReadFile(keptFile)
	if err != nil {
		t.Fatal(err)
	}
	names, items := parseKept(t, string(data))
	gone := goneOnPurpose(t)
	lost, used := newTally(), map[string]bool{}
	made, refused := 0, 0
	for i, u := range keptUnits(t, l, names) {
		if u == nil {
			refused++
			continue
		}
		if !heavyKept(names[i]) {
			continue
		}
		made++
		holds := heldBy(t, l, templates, u)
		for _, item := range items {
			if item.units[i] != '1' {
				continue
			}
			instead, excused := gone[item.what]
			if _, holds := holds[instead]; excused && (instead == "" || holds) {
				used[item.what] = true
				continue
			}
			switch got, there := holds[item.what]; {
			case !there:
				lost.add(source.Pos{File: u.name}, "%s is lost", item.what)
			case got < item.lines:
				lost.add(source.Pos{File: u.name}, "%s had %d lines and has %d", item.what, item.lines, got)
			}
		}
	}
	lost.report(t)
	for what := range gone {
		if !used[what] {
			t.Errorf("kept-not.txt: no unit that held %s is excused: take the line away", what)
		}
	}
	t.Logf("%d units held against %d items, %d cannot be ordered any more", made, len(items), refused)
	if refused*10 > len(names) {
		t.Errorf("%d of %d listed units cannot be ordered any more", refused, len(names))
	}
}

// keptItem is something that guides held, with the units that held it.
type keptItem struct {
	what  string // kind and id
	lines int    // of how to avoid the hazard, for a caution
	units string // 1 or 0 for each unit
}

func parseKept(t *testing.T, text string) (names []string, items []keptItem) {
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		kind, rest, _ := strings.Cut(line, " ")
		switch kind {
		case "", "#":
		case "unit":
			names = append(names, rest)
		default:
			f := strings.Fields(rest)
			lines, err := strconv.Atoi(f[1])
			if err != nil || len(f) != 3 || len(f[2]) != len(names) {
				t.Fatalf("%s: %q is no item", keptFile, line)
			}
			items = append(items, keptItem{kind + " " + f[0], lines, f[2]})
		}
	}
	return names, items
}

// goneOnPurpose reads what was taken out, with the reason. What is behind "for"
// has to be held instead; a unit without that is not excused.
func goneOnPurpose(t *testing.T) (instead map[string]string) {
	data, err := os.ReadFile("testdata/kept-not.txt")
	if err != nil {
		t.Fatal(err)
	}
	instead = map[string]string{}
	for line := range strings.Lines(string(data)) {
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		what, why, ok := strings.Cut(line, ": ")
		if !ok || why == "" {
			t.Fatalf("kept-not.txt: %q has no reason", line)
		}
		what, other, _ := strings.Cut(what, " for ")
		instead[what] = other
	}
	return instead
}

// heldBy lists what the documents of a unit hold, as kind and id; a caution has
// the number of its lines, all else 0.
func heldBy(t *testing.T, l *product.Line, templates *Templates, u *keptUnit) map[string]int {
	t.Helper()
	g, findings := templates.Assemble(u.build, u.values, nil)
	if g == nil {
		t.Fatalf("%s: %s", u.name, written(findings))
	}
	holds := map[string]int{}
	for _, d := range documentsOf(g) {
		eachNode(d.Sections, func(in *doc.Section, n doc.Node) {
			switch n := n.(type) {
			case *doc.Section:
				if n.Role == doc.RoleTask {
					holds["job "+n.ID] = 0
				}
			case *doc.Caution:
				if what := "caution " + n.Name; !n.Brief {
					holds[what] = max(holds[what], len(n.Avoid))
				}
			case *doc.Value:
				if in == nil || in.ID != "provenance" {
					holds["figure "+keptFigure(n.Name)] = 0
				}
			case *doc.Figure:
				holds["picture "+n.Name] = 0
			}
			if p, ok := n.(doc.Part); ok {
				if slices.ContainsFunc(l.Tasks, func(task product.Task) bool { return task.ID.Value == p.Attr().ID }) {
					holds["job "+p.Attr().ID] = 0 // told where its part is
				}
				if id, is := strings.CutPrefix(p.Attr().ID, "sign-"); is && templates.troubleOf(id) != nil {
					holds["trouble "+id] = 0
				}
			}
		})
	}
	for _, c := range templates.Cautions {
		if _, full := holds["caution "+c.ID.Value]; full && c.When.Holds(u.build.Has) {
			holds["hazard "+cmp.Or(dividedHazards[c.ID.Value], c.ID.Value)] = 0
		}
	}
	return holds
}

// dividedHazards are those that were one hazard with two cautions at that commit,
// with its name.
var dividedHazards = map[string]string{"chains-wrong-place-bed": "chains-wrong-place", "child-at-latch": "child-at-controls"}

// keptFigure takes the number of a visit off its figures: how many there are
// depends on how the unit is used.
func keptFigure(name string) string {
	if parts := strings.Split(name, "."); parts[0] == "visit" && len(parts) == 3 {
		return "visit." + parts[2]
	}
	return name
}

// documentsOf are those of a unit that go to its owner.
func documentsOf(g *doc.Guide) []*doc.Guide {
	list := []*doc.Guide{g, g.Card, g.Leaf}
	return slices.DeleteFunc(list, func(d *doc.Guide) bool { return d == nil })
}

// troubleOf finds a trouble entry by its id.
func (t *Templates) troubleOf(id string) *template.Trouble {
	for i := range t.Troubles {
		if e := &t.Troubles[i]; e.ID.Value == id {
			return e
		}
	}
	return nil
}

// writeKept writes the list of the state it runs in. There trouble entries had no
// ids, so that which a unit has follows from their conditions.
func writeKept(t *testing.T, l *product.Line, templates *Templates) {
	files, err := filepath.Glob("../testdata/sheets/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no samples", err)
	}
	var names []string
	for _, f := range files {
		names = append(names, filepath.Base(f))
	}
	sheets, _ := proof.Covering(l)
	turn, of := 0, ""
	for _, s := range sheets {
		if turn++; s.Model != of {
			turn, of = 0, s.Model
		}
		names = append(names, strings.Join(append([]string{s.Model, [...]string{"full", "bare"}[turn%2]}, s.Options...), " "))
	}
	var items []string
	lines, units := map[string]int{}, map[string][]byte{}
	for i, u := range keptUnits(t, l, names) {
		holds := heldBy(t, l, templates, u)
		for j := range templates.Troubles {
			if e := &templates.Troubles[j]; e.When.Holds(u.build.Has) {
				holds["trouble "+e.ID.Value] = 0
			}
		}
		for what, n := range holds {
			if units[what] == nil {
				items = append(items, what)
				units[what] = []byte(strings.Repeat("0", len(names)))
			}
			units[what][i] = '1'
			lines[what] = max(lines[what], n)
		}
	}
	slices.Sort(items)
	var out strings.Builder
	out.WriteString("# What the guides of these units held at commit 7dfc129; see kept_test.go. Kind, id, lines of a caution, then 1 for each unit that held it.\n")
	for _, name := range names {
		fmt.Fprintf(&out, "unit %s\n", name)
	}
	for _, what := range items {
		fmt.Fprintf(&out, "%s %d %s\n", what, lines[what], units[what])
	}
	if err := os.WriteFile(*keep, []byte(out.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// heavyKept reports whether a unit is held against the list in this run: the quick
// tier has the samples.
func heavyKept(name string) bool { return testenv.IsHeavy() || !strings.Contains(name, " ") }
