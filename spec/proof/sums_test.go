package proof_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// weighing makes a line of one model of the embedded line with options drawn at
// random that only weigh, beside a few of its own, under rules. Heavy says how much
// they may weigh.
func weighing(seed uint64, options, rules int, heavy float64) *product.Line {
	r := rand.New(rand.NewPCG(seed, 7))
	l := withPlainPart()
	own, model := *l, *l.Models[int(seed)%len(l.Models)]
	model.Options, model.Rules = slices.Clone(model.Options[:min(2, int(seed/5)%3)]), nil
	for i := range model.Options {
		model.Options[i].Value.Requires, model.Options[i].Value.Excludes = nil, nil
	}
	addWeighing(&model, r, options, rules, heavy)
	for i := range model.Options {
		o := &model.Options[i]
		if strings.HasPrefix(o.Key, "weighs-") && (i+int(seed))%3 == 0 { // brings a part that no figure is worked out from
			o.Value.Parts = source.Map[product.Part]{{Key: "place-" + o.Key, Value: product.Part{Use: says("plain-part")}, KeyAt: o.KeyAt}}
		}
	}
	own.Models = []*product.Model{&model}
	return &own
}

// withPlainPart is the embedded line with a component that the program knows nothing of.
var withPlainPart = sync.OnceValue(func() *product.Line {
	files := testenv.Files(line.Files)
	files["components/plain.yaml"] = &fstest.MapFile{Data: []byte("others:\n  plain-part: { part_number: X-1, service: { frame-inspection: { months: 3 } } }\n")}
	if !testenv.Replace(files, "\ncomponents:\n", "\ncomponents:\n  plain-part: Plain part\n") {
		panic("the texts have no components")
	}
	l, findings := spec.LoadLine(files, "line")
	if l == nil {
		panic(written(findings))
	}
	return l
})

func addWeighing(model *product.Model, r *rand.Rand, options, rules int, heavy float64) {
	own := len(model.Options)
	id := func(i int) string { return fmt.Sprintf("weighs-%02d", i) }
	for i := range options {
		o := product.Option{}
		o.Weighs = says(quantity.Pounds(float64(r.IntN(100)-15) / 85 * heavy))
		o.Center = says(quantity.Inches(float64(30 + r.IntN(230))))
		o.Features = []word{says("brings-" + id(i))}
		model.Options = append(model.Options, source.Item[product.Option]{Key: id(i), Value: o, KeyAt: source.Pos{File: "synthetic", Line: 1 + i, Column: 1}})
	}
	addRules(model, model.Options[own:], r, rules)
}

// The extremes of weight settle what listing every choice settles, and their
// witnesses fail.
func TestSumsAgreeWithListing(t *testing.T) {
	_, ts := embedded()
	seeds, options := uint64(8), 4
	if testenv.IsHeavy() {
		seeds, options = 60, 7
	}
	failing, fewer := 0, 0
	for seed := range seeds {
		heavy := []float64{20, 150, 600, 1500}[seed/2%4]
		s := proof.Subject{Line: weighing(seed, options, 5, heavy), Texts: ts.Texts(), Limit: proof.DefaultLimit, Inspect: needy}
		known := func(failures []proof.Failure) (list []string) {
			for _, f := range failures {
				list = append(list, f.Code+" "+f.Pos.String())
			}
			slices.Sort(list)
			return slices.Compact(list)
		}
		listed := known(proof.ByListing(s))
		failures, orders, settled := proof.BySums(s)
		got := known(failures)
		if slices.ContainsFunc(listed, func(f string) bool {
			return (strings.HasPrefix(f, "rating-cargo ") || strings.HasPrefix(f, "cg-band-empty ")) && slices.Contains(got, f)
		}) { // other limits say nothing of such orders
			listed = slices.DeleteFunc(listed, func(f string) bool { return !slices.Contains(got, f) })
		}
		if !settled || !slices.Equal(got, listed) {
			for _, f := range failures {
				t.Log(f.Message)
			}
			t.Errorf("seed %d, %s: settled %t\n%s\nlisting gives\n%s", seed, s.Line.Models[0].ID, settled, strings.Join(got, "\n"), strings.Join(listed, "\n"))
		}
		for _, f := range failures {
			if f.Witness != nil && !proof.Shows(s, f) {
				t.Errorf("seed %d: %v does not show %s", seed, f.Witness, f.Message)
			}
		}
		if slices.ContainsFunc(listed, func(f string) bool { return !strings.HasPrefix(f, "needs ") }) {
			failing++
		}
		if orders < 1<<options/2 {
			fewer++
		}
	}
	t.Logf("%d of %d lines fail, %d took fewer than half of the orders", failing, seeds, fewer)
	if failing < int(seeds)/4 || failing > int(seeds)*9/10 || fewer == 0 {
		t.Errorf("%d of %d lines fail, %d took fewer than half of the orders", failing, seeds, fewer)
	}
}

// needy makes up drawings that need one value each, whether the unit has it or not.
func needy(b *spec.Build, vs *derive.Values, which func(drawing string) bool) (findings source.Findings) {
	for _, name := range []string{"stabilizers.load", "raised.height", "tiedown.full.count", "wheels.sequence", "spare.cold_pressure", "winch.duty_on", "jack.load", "boat.winch_pull"} {
		if which == nil || which(name) {
			b.Claim(proof.DrawingClaim+name, func() {
				if _, there := vs.Lookup(name); !there {
					findings.Add(source.Finding{Code: "needs " + name, Severity: source.Error, Pos: b.Model.At})
				}
			})
		}
	}
	return findings
}

// What is said of limits and values for sums between others holds: of two weights of
// one build at which a way is kept, or a value is there, none between is otherwise.
func TestWaysAreConvex(t *testing.T) {
	l, _ := embedded()
	gaps := map[string]bool{}
	for _, d := range derive.Declared() {
		gaps[d.Name] = d.Ways != nil
	}
	tries := 5
	if testenv.IsHeavy() {
		tries = 400
	}
	r := rand.New(rand.NewPCG(3, 3))
	onSums := map[string]bool{}
	for _, m := range l.Models {
		full := []string{}
		l.Problem(m).Each(-1, func(chosen []string) bool {
			if len(chosen) > len(full) {
				full = chosen
			}
			return len(full) < 5
		})
		read, _ := sheet.Read("sheet", proof.Sheet(l, m, full, false, 1))
		build, _ := spec.Resolve(l, read)
		at := func(sums [2]float64) (*derive.Values, []derive.Verdict) {
			model, b := *build.Model, *build
			model.Empty.Value += quantity.Mass(sums[0])
			model.OnCoupler.Value += quantity.Mass(sums[1])
			b.Model = &model
			j := derive.Assess(&b)
			return j.Values, j.Verdicts
		}
		draw := func() [2]float64 { return [2]float64{r.Float64()*3000 - 1000, r.Float64()*2000 - 800} }
		for range tries {
			p, q, part := draw(), draw(), r.Float64()
			between := [2]float64{p[0] + part*(q[0]-p[0]), p[1] + part*(q[1]-p[1])}
			values, verdicts := at(p)
			otherValues, others := at(q)
			if lacks := func(v derive.Verdict) bool {
				return (v.Code.ID == "rating-cargo" || v.Code.ID == "cg-band-empty") && !v.Ways[0]
			}; slices.ContainsFunc(verdicts, lacks) || slices.ContainsFunc(others, lacks) {
				continue
			}
			midValues, mids := at(between)
			for i, v := range verdicts {
				if !v.Sums {
					continue
				}
				onSums[v.Code.ID] = true
				if v.Ways == nil {
					t.Fatalf("%s rests on what options weigh together, and does not say in which ways it is kept", v.Code.ID)
				}
				for w := range v.Ways {
					if v.Ways[w] && others[i].Ways[w] && !mids[i].Ways[w] {
						t.Errorf("%s, way %d, is kept by %s at %v and %v, and not at %v", v.Code.ID, w, m.ID, p, q, between)
					}
				}
			}
			for _, v := range values.All() {
				_, too := otherValues.Lookup(v.Name)
				if _, mid := midValues.Lookup(v.Name); too && !mid && !gaps[v.Name] {
					t.Errorf("%s has %s at %v and %v, and not at %v", m.ID, v.Name, p, q, between)
				}
			}
			for _, v := range midValues.All() {
				_, before := values.Lookup(v.Name)
				if _, after := otherValues.Lookup(v.Name); !before && !after && !strings.HasPrefix(v.Name, "loading.cg_band.") {
					t.Errorf("%s lacks %s at %v and %v, and not at %v", m.ID, v.Name, p, q, between)
				}
			}
		}
	}
	if len(onSums) < 7 {
		t.Errorf("only %v rest on what options weigh", onSums)
	}
}

// The polygon that is tried before the hull holds every point, and has no more sides than asked.
func TestOutlineHoldsAll(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 11))
	for range 300 {
		points := make([][2]float64, 6+r.IntN(60))
		for i := range points {
			points[i] = [2]float64{r.NormFloat64() * 40, r.NormFloat64() * 9000}
		}
		around := proof.Outline(points, 5)
		if len(around) < 3 || len(around) > 5 {
			t.Fatalf("%d corners around %v", len(around), points)
		}
		for _, p := range points {
			for i, a := range around {
				b := around[(i+1)%len(around)]
				if side := (b[0]-a[0])*(p[1]-a[1]) - (b[1]-a[1])*(p[0]-a[0]); side < -1e-3 {
					t.Fatalf("%v lies outside of %v by %g", p, around, side)
				}
			}
		}
	}
	if line := proof.Outline([][2]float64{{0, 0}, {1, 2}, {2, 4}}, 5); len(line) != 2 {
		t.Errorf("%v around points of one line", line)
	}
}
