package proof_test

import (
	"flag"
	"fmt"
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
	"ownerguide/spec/parallel"
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
	components map[string]bool     // in the file of components that changes; nil for any
	figures    bool                // it is in figures of the line, which differ by build
	languages  bool                // it can show between languages alone
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
	units       []unit
	known       map[string]bool // findings without any fault
}

// unit is a covering build without any fault: what a fault cannot reach is not made again.
type unit struct {
	sheet    proof.CoveringSheet
	build    *spec.Build
	values   *derive.Values
	findings source.Findings
	read     map[string]bool // what its owner reads about safety
}

// newBench makes the bench, once for all tests; nothing changes it afterwards.
func newBench(t *testing.T) *bench {
	t.Helper()
	b, err := madeBench()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

var madeBench = sync.OnceValues(func() (*bench, error) {
	l, ts := embedded()
	sheets, _ := proof.Covering(l)
	b := &bench{line: testenv.Files(line.Files), words: testenv.Files(templates.Files), units: make([]unit, len(sheets))}
	b.learned = proof.Learn(proof.Subject{Line: l, Texts: ts.Texts(), Limit: proof.DefaultLimit})
	read := 0
	for i, s := range sheets {
		u := unit{sheet: s, build: buildOf(l, s)}
		u.values, u.findings = derive.Evaluate(u.build)
		u.read = reads(ts, u.build, u.values)
		b.units[i] = u
		read += len(u.read)
	}
	if read < 500 {
		return nil, fmt.Errorf("owners read only %d things", read)
	}
	b.known = map[string]bool{}
	for _, f := range []fault{{}, {figures: true}} {
		for id, x := range b.find(f) {
			if x.Severity == source.Error {
				return nil, fmt.Errorf("without a fault: %s: %s [%s]", x.Pos, x.Message, x.Code)
			}
			b.known[id] = true
		}
	}
	return b, nil
})

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

// find returns what is found with a fault, by code and words.
func (b *bench) find(f fault) map[string]source.Finding {
	found := map[string]source.Finding{}
	b.each(f, func(id string, x source.Finding) bool {
		found[id] = x
		return true
	})
	return found
}

// refuses reports whether a fault leads to an error that is not there without it.
func (b *bench) refuses(f fault) (refused bool) {
	b.each(f, func(id string, x source.Finding) bool {
		refused = x.Severity == source.Error && !b.known[id]
		return !refused
	})
	return refused
}

// wrongLine makes the fault of one text of the line replaced. A component is tried on
// the units that have it: none of the others can be refused for it. Where the lines of
// the file move, all are, since ratings are told apart by their places.
func (b *bench) wrongLine(file, from, to string) fault {
	text := string(b.line[file].Data)
	f := fault{line: map[string]string{file: strings.ReplaceAll(text, from, to)}, figures: true}
	if !strings.HasPrefix(file, "components/") || strings.Count(from, "\n") != strings.Count(to, "\n") {
		return f
	}
	f.components = map[string]bool{}
	for at := 0; ; at += len(from) {
		i := strings.Index(text[at:], from)
		if i < 0 {
			return f
		}
		at += i
		for _, place := range []int{at, at + len(from) - 1} {
			maps.Copy(f.components, b.family(file, place))
		}
	}
}

// wrong is one edit of an unpacked line or of the words, as somebody in a hurry makes it.
type wrong = struct{ what, file, from, to string }

// refusesAll holds that each edit of files is refused.
func (b *bench) refusesAll(t *testing.T, all []wrong, files fstest.MapFS, as func(w wrong) fault) {
	t.Helper()
	parallel.Each(len(all), func(i int) {
		w := all[i]
		if !strings.Contains(string(files[w.file].Data), w.from) {
			t.Errorf("%s: %s does not hold %q", w.what, w.file, w.from)
		} else if !b.refuses(as(w)) {
			t.Errorf("%s passes", w.what)
		}
	})
}

// each passes on what is found with a fault until yield is false. Figures are worked
// out for the covering builds only: a proof, which takes every build, finds at
// least as much.
func (b *bench) each(f fault, yield func(id string, x source.Finding) bool) {
	more := true
	add := func(list ...source.Finding) {
		for _, x := range list {
			id := x.Code + " " + x.Pos.File + " " + x.Message
			if f.figures { // figures in messages differ by build
				id = x.Code + " " + x.Pos.String()
			}
			more = more && yield(id, x)
		}
	}
	l, ts, findings := b.load(f)
	add(findings...)
	if findings.HasErrors() {
		return
	}
	add(ts.CheckAgainst(l)...)
	if f.line != nil || f.change != nil || f.figures {
		var all []*derive.Values
		for _, u := range b.units {
			if !more {
				return
			}
			if u = u.with(f, l); u.build != nil {
				add(u.findings...)
				all = append(all, u.values)
			}
		}
		add(proof.Roomy(all)...)
	}
	if !more {
		return
	}
	s := proof.Subject{Line: l, Texts: ts.Texts(), Snapshot: ts.Snapshot()}
	settle := func() []proof.Failure { return proof.SettleWords(s, b.learned) }
	if f.languages {
		settle = func() []proof.Failure { return proof.Language(s.Line, s.Texts, "es") }
	}
	for _, x := range settle() {
		add(x.Finding)
	}
}

// with makes a unit of the line with a fault, where the fault can reach it.
func (u unit) with(f fault, l *product.Line) unit {
	if !f.reaches(u.build) {
		return u
	}
	if u.build = buildOf(l, u.sheet); u.build != nil {
		u.values, u.findings = derive.Evaluate(u.build)
	}
	return u
}

// reaches reports whether a fault can change the figures of a build. One in a model is for units
// of that model, and one in a component for those that have it.
func (f fault) reaches(b *spec.Build) bool {
	if f.line == nil {
		return f.change != nil
	}
	for name := range f.line {
		folder, file := path.Split(name)
		switch {
		case folder == "models/" && strings.TrimSuffix(file, ".yaml") != b.Model.ID && !b.Model.Extends.Set,
			folder == "components/" && f.components != nil && !slices.ContainsFunc(b.Parts(), func(p *spec.Fitting) bool { return f.components[p.Component] }):
		default:
			return true
		}
	}
	return false
}

func buildOf(l *product.Line, covering proof.CoveringSheet) *spec.Build {
	s, _ := sheet.Read(covering.Name, covering.Data)
	build, _ := spec.Resolve(l, s)
	return build
}

// caught returns the codes that find a fault.
func (b *bench) caught(f fault) (codes []string) {
	for id, x := range b.find(f) {
		if !b.known[id] {
			codes = append(codes, x.Code)
		}
	}
	slices.Sort(codes)
	return slices.Compact(codes)
}

// safe reports whether the owners of all covering builds read the same about safety with a fault.
func (b *bench) safe(f fault) bool {
	l, ts, findings := b.load(f)
	return !findings.HasErrors() && !slices.ContainsFunc(b.units, func(u unit) bool {
		if f.words == nil && !f.reaches(u.build) {
			return false // it is made of what it was made of before
		}
		with := u.with(f, l)
		return with.build == nil || !maps.Equal(reads(ts, with.build, with.values), u.read)
	})
}

// reads returns what the owner of a build reads about safety: which
// cautions and figures stand in which section, which jobs there are and how
// often each is due, and the stops.
func reads(ts *render.Templates, build *spec.Build, vs *derive.Values) map[string]bool {
	read := map[string]bool{}
	g, _ := ts.Assemble(build, vs, nil)
	if g == nil {
		return read
	}
	section := ""
	note := func(what ...string) { read[section+" "+strings.Join(what, " ")] = true }
	for n := range doc.Walk(g.Sections) {
		if s, ok := n.(*doc.Section); ok {
			section = s.ID
		}
		switch n := n.(type) {
		case *doc.Section:
			note("section")
		case *doc.Caution:
			note("caution", n.Name, n.Signal, doc.PlainText(n))
		case *doc.Value:
			note("figure", n.Name, n.Printed)
		case *doc.PointMark:
			note("stop", fmt.Sprint(n.Number))
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
	of := map[string]int{} // of each kind, so many
	for _, f := range faults {
		i := of[f.kind]
		of[f.kind]++
		if *faultsLike == "" && i%part == part/2 || *faultsLike != "" && wanted.MatchString(f.kind+": "+f.what) {
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
					verdicts[i].safe = b.safe(faults[i])
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
	total, sizes := &count{}, &count{}
	var survived []string
	for i, f := range faults {
		if counts[f.kind] == nil {
			counts[f.kind] = &count{}
		}
		all := total
		if strings.HasPrefix(f.kind, "size ") {
			all = sizes
		}
		for _, c := range []*count{counts[f.kind], all} {
			c.made++
			switch v := verdicts[i]; {
			case len(v.codes) > 0:
				c.caught++
			case v.safe:
				c.harmless++
			case c == all:
				survived = append(survived, f.kind+": "+f.what)
			}
		}
	}
	share := func(c *count) float64 { return 100 * float64(c.caught) / float64(max(1, c.made-c.harmless)) }
	for _, kind := range slices.Sorted(maps.Keys(counts)) {
		c := counts[kind]
		t.Logf("%-28s %4d made, %4d caught, %4d change nothing about safety, %4d survived: %.1f %%", kind, c.made, c.caught, c.harmless, c.made-c.caught-c.harmless, share(c))
	}
	t.Logf("%-28s %4d made, %4d caught, %4d change nothing about safety, %4d survived: %.1f %%", "all but sizes", total.made, total.caught, total.harmless, total.made-total.caught-total.harmless, share(total))
	known := excused(t)
	for _, what := range survived {
		if !slices.ContainsFunc(known, func(k *regexp.Regexp) bool { return k.MatchString(what) }) {
			t.Errorf("survived, and testdata/survivors.txt does not say why: %s", what)
		}
	}
	for _, k := range known {
		if *faultsLike == "." && !slices.ContainsFunc(survived, k.MatchString) {
			t.Errorf("testdata/survivors.txt lists what is caught, or is not tried: %s", k)
		}
	}
	for _, c := range []struct {
		*count
		least float64
	}{{total, leastCaught}, {sizes, leastOfSizes}} {
		least := c.least
		if len(faults) < made {
			least -= max(15, 200/float64(max(1, c.made))) // two faults of a small part weigh much
		}
		if c.made > 0 && share(c.count) < least {
			t.Errorf("%.1f %% of the faults that change what an owner reads about safety are caught; expected at least %g %%", share(c.count), least)
		}
	}
}

// excused reads which faults are known to survive: under a heading with why no
// claim can catch them. A star stands for any words.
func excused(t *testing.T) (known []*regexp.Regexp) {
	text, err := os.ReadFile("testdata/survivors.txt")
	if err != nil {
		t.Fatal(err)
	}
	for row := range strings.Lines(string(text)) {
		if row = strings.TrimSpace(row); row != "" && !strings.HasPrefix(row, "#") {
			known = append(known, regexp.MustCompile("^"+strings.ReplaceAll(regexp.QuoteMeta(row), `\*`, ".*")+"$"))
		}
	}
	return known
}

// The shares that have to be caught, in percent: of all faults, and of those in sizes and weights, of which
// most are the maker's own to know.
const leastCaught, leastOfSizes = 97, 50

// faults makes every fault there is.
func (b *bench) faults() (all []fault) {
	all = append(all, b.rules()...)
	all = append(all, b.baseConditions()...)
	all = append(all, b.ratings()...)
	all = append(all, b.lineFaults()...)
	for _, name := range slices.Sorted(maps.Keys(b.words)) {
		text := string(b.words[name].Data)
		switch {
		case path.Ext(name) == ".md":
			all = append(all, conditionFaults(name, text)...)
			all = append(all, useFaults(name, text)...)
			all = append(all, b.fenceFaults(name, text)...)
			all = append(all, itemFaults(name, text)...)
		case name == "outline.yaml" || name == "cautions.yaml" || name == "trouble.yaml":
			all = append(all, conditionFaults(name, text)...)
		case name == "en/cautions.yaml" || name == "en/trouble.yaml":
			all = append(all, useFaults(name, text)...)
			all = append(all, itemFaults(name, text)...)
		}
	}
	all = append(all, b.deletions()...)
	all = append(all, b.lowered()...)
	return append(all, b.translations()...)
}
