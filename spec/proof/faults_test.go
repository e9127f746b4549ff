package proof_test

import (
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"ownerguide/render"
	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/line"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

// Faults are made mechanically, one at a time: every rule, condition, rating,
// caution, task, stop, figure and translation there is. All of them take half an
// hour; without the flag every so-many-th fault is tried, and the log says so.
var faultsLike = flag.String("faults", "", "try every seeded fault that matches this `pattern`, as survivors.txt spells them, . for all; without it a part of them")

// part is which share of the faults a run without the flag tries.
const part = 199

// fault is one slip, made in the files or in what was read from them.
type fault struct {
	kind, what string
	line       map[string]string   // files of the line that change
	words      map[string]string   // files of the templates that change; "" deletes one
	change     func(*product.Line) // for what stands inside the program
	figures    bool                // it can show in figures alone
	languages  bool                // it can show between languages alone
}

// tree gives every file of a folder.
func tree(files fs.FS) fstest.MapFS {
	all := fstest.MapFS{}
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			var data []byte
			data, err = fs.ReadFile(files, name)
			all[name] = &fstest.MapFile{Data: data}
		}
		return err
	})
	if err != nil {
		panic(err)
	}
	return all
}

func changed(files fstest.MapFS, change map[string]string) fstest.MapFS {
	files = maps.Clone(files)
	for name, text := range change {
		delete(files, name)
		if text != "" {
			files[name] = &fstest.MapFile{Data: []byte(text)}
		}
	}
	return files
}

// bench is what faults are tried on.
type bench struct {
	line, words fstest.MapFS
	learned     proof.Learned
	sheets      []proof.CoveringSheet
	known       map[string]bool // findings without any fault
	read        map[string]bool // what owners read without any
}

func newBench(t *testing.T) *bench {
	l, ts := embedded()
	sheets, _ := proof.Covering(l)
	b := &bench{line: tree(line.Files), words: tree(templates.Files), sheets: sheets}
	b.learned = proof.Learn(proof.Subject{Line: l, Texts: ts.Texts, Limit: proof.DefaultLimit})
	b.known = map[string]bool{}
	for id := range b.find(fault{}) {
		b.known[id] = true
	}
	for id := range b.find(fault{figures: true}) {
		b.known[id] = true
	}
	b.read = b.reads(fault{})
	if len(b.read) < 500 {
		t.Fatalf("owners read only %d things", len(b.read))
	}
	return b
}

func (b *bench) load(f fault) (*product.Line, *render.Templates, source.Findings) {
	l, findings := embeddedOr(f.line == nil && f.change == nil, func() (*product.Line, source.Findings) {
		return spec.LoadLine(changed(b.line, f.line), "line")
	})
	if l != nil && f.change != nil {
		f.change(l)
	}
	ts, more := wordsOr(f.words == nil, func() (*render.Templates, source.Findings) {
		return render.LoadTemplates(source.Layer{Name: "templates", Files: changed(b.words, f.words)})
	})
	findings.Add(more...)
	return l, ts, findings
}

func embeddedOr(plain bool, load func() (*product.Line, source.Findings)) (*product.Line, source.Findings) {
	if !plain {
		return load()
	}
	l, _ := embedded()
	return l, nil
}

func wordsOr(plain bool, load func() (*render.Templates, source.Findings)) (*render.Templates, source.Findings) {
	if !plain {
		return load()
	}
	_, ts := embedded()
	return ts, nil
}

// find gives what is found with a fault, by code and words. Figures are worked
// out for the covering builds only: a proof, which takes every build, finds at
// least as much.
func (b *bench) find(f fault) map[string]source.Finding {
	found := map[string]source.Finding{}
	add := func(list ...source.Finding) {
		for _, x := range list {
			id := x.Code + " " + x.Pos.File + " " + x.Message
			if f.figures { // figures in messages differ by build
				id = x.Code + " " + x.Pos.String()
			}
			found[id] = x
		}
	}
	l, ts, findings := b.load(f)
	add(findings...)
	if findings.HasErrors() {
		return found
	}
	if !f.figures {
		add(ts.CheckAgainst(l)...)
		s := proof.Subject{Line: l, Texts: ts.Texts, Snapshot: ts.Snapshot}
		settle := func() []proof.Failure { return proof.SettleWords(s, b.learned) }
		if f.languages {
			settle = func() []proof.Failure { return proof.Languages(s.Line, s.Texts) }
		}
		for _, x := range settle() {
			add(x.Finding)
		}
	}
	if f.line != nil || f.change != nil || f.figures {
		var all []*derive.Values
		for _, covering := range b.sheets {
			if build := buildOf(l, covering); build != nil {
				vs, findings := derive.Evaluate(build)
				add(findings...)
				all = append(all, vs)
			}
		}
		add(proof.Roomy(all)...)
	}
	return found
}

func buildOf(l *product.Line, covering proof.CoveringSheet) *spec.Build {
	s, _ := sheet.Read(covering.Name, covering.Data)
	build, _ := spec.Resolve(l, s)
	return build
}

// caught gives the codes that find a fault.
func (b *bench) caught(f fault) (codes []string) {
	for id, x := range b.find(f) {
		if !b.known[id] {
			codes = append(codes, x.Code)
		}
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// reads gives what the owners of the covering builds read about safety: which
// cautions and figures stand in which section, which jobs there are and how
// often each is due, and the stops.
func (b *bench) reads(f fault) map[string]bool {
	read := map[string]bool{}
	l, ts, findings := b.load(f)
	if findings.HasErrors() {
		return read
	}
	for _, covering := range b.sheets {
		build := buildOf(l, covering)
		if build == nil {
			continue
		}
		vs, _ := derive.Evaluate(build)
		g, _ := ts.Assemble(build, vs, nil)
		if g == nil {
			continue
		}
		section := ""
		note := func(what ...string) { read[covering.Name+" "+section+" "+strings.Join(what, " ")] = true }
		for n := range doc.Walk(g.Sections) {
			if s, ok := n.(*doc.Section); ok {
				section = s.ID
			}
			switch n := n.(type) {
			case *doc.Section:
				note("section")
			case *doc.Caution:
				note("caution", n.Name, doc.PlainText(n))
			case *doc.Value:
				note("figure", n.Name, n.Printed)
			case *doc.PointMark:
				note("stop", fmt.Sprint(n.Number))
			}
		}
	}
	return read
}

// Of all faults that change what an owner reads about safety, the claims catch
// nearly all; those that slip through are listed with the reason.
func TestSeededFaults(t *testing.T) {
	testenv.Heavy(t, "makes the same line wrong again and again")
	b := newBench(t)
	faults := b.faults()
	made := len(faults)
	wanted := regexp.MustCompile(*faultsLike)
	var some []fault
	for i, f := range faults {
		if *faultsLike == "" && i%part == 0 || *faultsLike != "" && wanted.MatchString(f.kind+": "+f.what) {
			some = append(some, f)
		}
	}
	if faults = some; len(faults) < made {
		t.Logf("a part only: %d of %d faults; -faults . tries all", len(faults), made)
	}
	type verdict struct {
		codes []string
		safe  bool // what owners read about safety stays the same
	}
	verdicts := make([]verdict, len(faults))
	next := make(chan int)
	var running sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		running.Go(func() {
			for i := range next {
				verdicts[i].codes = b.caught(faults[i])
				if len(verdicts[i].codes) == 0 {
					verdicts[i].safe = maps.Equal(b.reads(faults[i]), b.read)
					if !verdicts[i].safe {
						t.Logf("survived: %s: %s", faults[i].kind, faults[i].what)
					}
				}
			}
		})
	}
	for i := range faults {
		next <- i
	}
	close(next)
	running.Wait()

	type count struct{ made, caught, harmless int }
	counts := map[string]*count{}
	total := &count{}
	var survived []string
	for i, f := range faults {
		if counts[f.kind] == nil {
			counts[f.kind] = &count{}
		}
		for _, c := range []*count{counts[f.kind], total} {
			c.made++
			switch v := verdicts[i]; {
			case len(v.codes) > 0:
				c.caught++
			case v.safe:
				c.harmless++
			case c == total:
				survived = append(survived, f.kind+": "+f.what)
			}
		}
	}
	share := func(c *count) float64 { return 100 * float64(c.caught) / float64(max(1, c.made-c.harmless)) }
	for _, kind := range slices.Sorted(maps.Keys(counts)) {
		c := counts[kind]
		t.Logf("%-28s %4d made, %4d caught, %4d change nothing about safety, %4d survived: %.1f %%", kind, c.made, c.caught, c.harmless, c.made-c.caught-c.harmless, share(c))
	}
	t.Logf("%-28s %4d made, %4d caught, %4d change nothing about safety, %4d survived: %.1f %%", "all", total.made, total.caught, total.harmless, total.made-total.caught-total.harmless, share(total))
	known := excused(t)
	for _, what := range survived {
		if !known[what] {
			t.Errorf("survived, and testdata/survivors.txt does not say why: %s", what)
		}
	}
	for what := range known {
		if *faultsLike != "" && wanted.MatchString(what) && !slices.Contains(survived, what) {
			t.Errorf("testdata/survivors.txt lists what is caught, or is not tried: %s", what)
		}
	}
	least := float64(leastCaught)
	if len(faults) < made {
		least -= 15 // one fault of a small part weighs several percent
	}
	if share(total) < least {
		t.Errorf("%.1f %% of the faults that change what an owner reads about safety are caught; expected at least %g %%", share(total), least)
	}
}

// excused reads which faults are known to survive: under a heading with why no
// claim can catch them.
func excused(t *testing.T) map[string]bool {
	text, err := os.ReadFile("testdata/survivors.txt")
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for row := range strings.Lines(string(text)) {
		if row = strings.TrimSpace(row); row != "" && !strings.HasPrefix(row, "#") {
			known[row] = true
		}
	}
	return known
}

// leastCaught is the share of all faults that have to be caught, in percent.
const leastCaught = 95

// faults makes every fault there is.
func (b *bench) faults() (all []fault) {
	all = append(all, b.rules()...)
	all = append(all, b.baseConditions()...)
	all = append(all, b.ratings()...)
	for _, name := range slices.Sorted(maps.Keys(b.words)) {
		text := string(b.words[name].Data)
		switch {
		case path.Ext(name) == ".md":
			all = append(all, conditionFaults(name, text)...)
			all = append(all, useFaults(name, text)...)
			all = append(all, b.fenceFaults(name, text)...)
		case name == "outline.yaml" || name == "cautions.yaml" || name == "trouble.yaml":
			all = append(all, conditionFaults(name, text)...)
		case name == "en/cautions.yaml" || name == "en/trouble.yaml":
			all = append(all, useFaults(name, text)...)
		}
	}
	all = append(all, b.deletions()...)
	return append(all, b.translations()...)
}

// rules drops each rule in turn.
func (b *bench) rules() (all []fault) {
	l, _ := embedded()
	for mi, m := range l.Models {
		for oi, o := range m.Options {
			for di, d := range o.Value.Requires {
				all = append(all, fault{kind: "rule dropped", what: m.ID + ": " + o.Key + " requires, " + d.Because.Value, change: func(l *product.Line) {
					own := &l.Models[mi].Options[oi].Value
					own.Requires = slices.Delete(slices.Clone(own.Requires), di, di+1)
				}})
			}
			for di, d := range o.Value.Excludes {
				all = append(all, fault{kind: "rule dropped", what: m.ID + ": " + o.Key + " excludes, " + d.Because.Value, change: func(l *product.Line) {
					own := &l.Models[mi].Options[oi].Value
					own.Excludes = slices.Delete(slices.Clone(own.Excludes), di, di+1)
				}})
			}
		}
		for ri, r := range m.Rules {
			all = append(all, fault{kind: "rule dropped", what: m.ID + ": group, " + r.Because.Value, change: func(l *product.Line) {
				l.Models[mi].Rules = slices.Delete(slices.Clone(l.Models[mi].Rules), ri, ri+1)
			}})
		}
	}
	return all
}

type word = source.Given[string]

// baseConditions negates each word in the conditions of tasks.
func (b *bench) baseConditions() (all []fault) {
	l, _ := embedded()
	negations := func(kind, id string, of func(*product.Line) *logic.Condition) {
		for _, name := range of(l).Facts() {
			all = append(all, fault{kind: kind + " negated", what: id + ", " + name, change: func(l *product.Line) {
				c := of(l)
				*c = logic.Condition{Pos: c.Pos, Formula: c.Over(func(fact string) logic.Formula {
					if fact == name {
						return logic.Not(logic.Fact(fact))
					}
					return logic.Fact(fact)
				})}
			}})
		}
	}
	for i, h := range l.Tasks {
		negations("task", h.ID.Value, func(l *product.Line) *logic.Condition { return &l.Tasks[i].When })
	}
	return all
}

// ratingKeys are the keys of what a part can take, carry or give, and of what
// stands on the label. Sizes, weights, places and intervals are no ratings.
const ratingKeys = `gvwr|gawr|speed_limit|lift_limit|beam|spring|hub|rating|u_bolt_torque|single|dual|cold_pressure|load|max_pressure|torque|` +
	`gross|vertical|breaking|tab_breaking|lift|static|battery|fuse|ampacity|working_load|load_limit|pull|current|rope_breaking|hook_breaking|` +
	`relief|motor_current|capacity|fitting_rating|output|pair_rating`

var (
	rated    = regexp.MustCompile(`\b(` + ratingKeys + `): \[?(-?[0-9][0-9,.]*)( (?:lb-ft|lb/ft³|lb|psi|in|ft|mi|A|V|Ah|ohm|gpm|gal|qt|min|h|mph|percent|deg|cSt|months?|years?)\b)?`)
	geometry = regexp.MustCompile(`(\{ x:| y:| z:| at:|size:|overall:|hinge|cylinder_foot|cylinder_head)`)
)

// ratings halves and doubles each rating of components, models and options.
func (b *bench) ratings() (all []fault) {
	for _, name := range slices.Sorted(maps.Keys(b.line)) {
		if !strings.HasPrefix(name, "components/") && !strings.HasPrefix(name, "models/") {
			continue
		}
		text := string(b.line[name].Data)
		start := 0
		for row := range strings.Lines(text) {
			at := start
			start += len(row)
			if strings.HasPrefix(name, "models/") && geometry.MatchString(row) {
				continue
			}
			if comment := strings.Index(row, " #"); comment >= 0 {
				row = row[:comment]
			}
			for _, m := range rated.FindAllStringSubmatchIndex(row, -1) {
				figure := row[m[4]:m[5]]
				var x float64
				if _, err := fmt.Sscanf(strings.ReplaceAll(figure, ",", ""), "%g", &x); err != nil || x == 0 {
					continue
				}
				for _, by := range []float64{0.5, 2} {
					own := text[:at+m[4]] + fmt.Sprint(x*by) + text[at+m[5]:]
					all = append(all, fault{kind: fmt.Sprintf("rating times %g", by), what: name + ": " + strings.TrimSpace(row[m[0]:m[1]]) + " in " + strings.TrimSpace(row[:min(len(row)-1, 60)]),
						line: map[string]string{name: own}, figures: true})
				}
			}
		}
	}
	return all
}

var (
	inlineCondition = regexp.MustCompile(`\{\?([^}]*)\}`)
	named           = regexp.MustCompile(`(not )?\b([a-z0-9]+[a-z0-9:._-]*)`)
	front           = regexp.MustCompile(`(?m)\bwhen: ([^\n,}]*[^\n,} ])`)
)

// negated gives a condition with each of its names negated in turn.
func negated(condition string) (all map[string]string) {
	all = map[string]string{}
	for _, m := range named.FindAllStringSubmatchIndex(condition, -1) {
		name := condition[m[4]:m[5]]
		if name == "and" || name == "or" || name == "not" {
			continue
		}
		other := "not " + name
		if m[2] >= 0 {
			other = name
		}
		all[condition[m[0]:m[5]]] = condition[:m[0]] + other + condition[m[1]:]
	}
	return all
}

// conditionFaults negates each word of each condition of a file.
func conditionFaults(name, text string) (all []fault) {
	add := func(kind, what string, from, to int) {
		condition := text[from:to]
		other := negated(condition)
		for _, word := range slices.Sorted(maps.Keys(other)) {
			all = append(all, fault{kind: kind, what: fmt.Sprintf(what, condition, word), words: map[string]string{name: text[:from] + other[word] + text[to:]}})
		}
	}
	for _, m := range inlineCondition.FindAllStringSubmatchIndex(text, -1) {
		add("text condition negated", name+": {?%s}, %s, "+around(text, m[0], m[1]), m[2], m[3])
	}
	head := len(text) // the condition of a section stands in its front matter
	if path.Ext(name) == ".md" {
		head = strings.Index(text[4:], "\n---\n") + 4
	}
	for _, m := range front.FindAllStringSubmatchIndex(text[:head], -1) {
		line := text[strings.LastIndexByte(text[:m[0]], '\n')+1 : m[0]]
		if !strings.HasPrefix(line, "#") {
			id := ""
			if at := strings.LastIndex(text[:m[0]], "id: "); at >= 0 && path.Ext(name) == ".yaml" {
				id = " " + strings.TrimRight(strings.Fields(text[at+len("id: "):])[0], ",")
			}
			add("front condition negated", name+id+": %s, %s", m[2], m[3])
		}
	}
	return all
}

var placeholder = regexp.MustCompile(`\{([a-z][a-z0-9_.-]*)\}`)

// around gives the words before and after a place: a line number would be
// another after the next change of the file.
func around(text string, from, to int) string {
	words := func(s string) []string { return strings.Fields(strings.ReplaceAll(s, "```", " ")) }
	before, after := words(text[:from]), words(text[to:])
	return "after “" + strings.Join(before[max(0, len(before)-4):], " ") + "” before “" + strings.Join(after[:min(4, len(after))], " ") + "”"
}

// useFaults deletes each use of a figure, in a sentence or as a row of a block.
func useFaults(name, text string) (all []fault) {
	drop := func(from, to int, what string) {
		all = append(all, fault{kind: "figure dropped", what: fmt.Sprintf("%s: %s, %s", name, what, around(text, from, to)),
			words: map[string]string{name: text[:from] + text[to:]}})
	}
	for _, m := range placeholder.FindAllStringSubmatchIndex(text, -1) {
		if derive.IsDeclared(text[m[2]:m[3]]) {
			drop(m[0], m[1], text[m[0]:m[1]])
		}
	}
	start, inside := 0, false
	for row := range strings.Lines(text) {
		if strings.HasPrefix(row, "```") {
			inside = !inside && regexp.MustCompile("^```(values|numbers)").MatchString(row)
		} else if inside {
			drop(start, start+len(row), strings.TrimSpace(row))
		}
		start += len(row)
	}
	return all
}

var cautionFence = regexp.MustCompile("```caution ([a-z-]+)\n```\n")

// fenceFaults deletes each caution where it stands.
func (b *bench) fenceFaults(name, text string) (all []fault) {
	for _, m := range cautionFence.FindAllStringSubmatchIndex(text, -1) {
		all = append(all, fault{kind: "caution dropped once", what: name + ": " + text[m[2]:m[3]], words: map[string]string{name: text[:m[0]] + text[m[1]:]}})
	}
	return all
}

// deletions takes out each caution, task and stop with all that names it.
func (b *bench) deletions() (all []fault) {
	l, _ := embedded()
	everywhere := func(change func(name, text string) string) map[string]string {
		words := map[string]string{}
		for name, f := range b.words {
			if own := change(name, string(f.Data)); own != string(f.Data) {
				words[name] = own
			}
		}
		return words
	}
	for _, m := range regexp.MustCompile(`(?m)^- \{ id: ([a-z-]+),`).FindAllStringSubmatch(string(b.words["cautions.yaml"].Data), -1) {
		all = append(all, fault{kind: "caution deleted", what: m[1], words: everywhere(func(name, text string) string {
			switch name {
			case "cautions.yaml":
				return regexp.MustCompile(`(?m)^- \{ id: `+m[1]+`,.*\n`).ReplaceAllString(text, "")
			case "en/cautions.yaml":
				return regexp.MustCompile(`(?m)^`+m[1]+`:\n(?:  .*\n)*`).ReplaceAllString(text, "")
			}
			return strings.ReplaceAll(text, "```caution "+m[1]+"\n```\n", "")
		})})
	}
	for i, task := range l.Tasks {
		id := task.ID.Value
		all = append(all, fault{kind: "task deleted", what: id, words: map[string]string{"en/tasks/" + id + ".md": ""},
			change: func(l *product.Line) { l.Tasks = slices.Delete(slices.Clone(l.Tasks), i, i+1) }})
	}
	for _, name := range slices.Sorted(maps.Keys(b.words)) {
		if strings.Contains(string(b.words[name].Data), "\nrole: stop\n") {
			all = append(all, fault{kind: "stop deleted", what: name, words: map[string]string{name: ""}})
		}
	}
	return all
}

// otherWords makes texts that are no copy of the first language: what begins with a capital
// letter ends with another one. Ids, names of figures and conditions are small.
func otherWords(file, text string) string {
	text = capitalized.ReplaceAllString(text, "${0}é")
	if file == "labels.yaml" {
		text = strings.Replace(text, "\nnever: never\n", "\nnever: never neveré\n", 1)
	}
	return text
}

var capitalized = regexp.MustCompile(`\b[A-Z][a-z]+\b`)

// translations makes a second language with the texts of the first, and takes out
// each of its texts and figures.
func (b *bench) translations() (all []fault) {
	second := map[string]string{}
	for name, f := range b.words {
		rest, is := strings.CutPrefix(name, "en/")
		if !is {
			continue
		}
		text := string(f.Data)
		if strings.HasPrefix(rest, "sections/") {
			head := strings.Index(text[4:], "\n---\n") + 4
			kept := ""
			for row := range strings.Lines(text[4:head]) {
				if strings.HasPrefix(row, "title:") || strings.HasPrefix(row, "short:") {
					kept += strings.TrimSpace(row) + "\n"
				}
			}
			text = "---\n" + kept + "---\n" + text[head+5:]
		}
		second["es/"+rest] = otherWords(rest, text)
	}
	add := func(what, name, text string) {
		words := maps.Clone(second)
		words[name] = text
		all = append(all, fault{kind: "translation dropped", what: what, words: words, languages: true})
	}
	for _, name := range slices.Sorted(maps.Keys(second)) {
		text := second[name]
		if path.Ext(name) == ".md" {
			add(name, name, "")
			for _, f := range useFaults(name, text) {
				add(f.what, name, f.words[name])
			}
			for _, f := range b.fenceFaults(name, text) {
				add(f.what, name, f.words[name])
			}
			continue
		}
		for _, m := range regexp.MustCompile(`(?m)^([a-z0-9_.-]+):.*\n(?:  .*\n)*`).FindAllStringSubmatchIndex(text, -1) {
			add(name+": "+text[m[2]:m[3]], name, text[:m[0]]+text[m[1]:])
		}
	}
	return all
}
