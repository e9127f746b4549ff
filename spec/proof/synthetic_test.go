package proof_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/quantity"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

func says[T any](value T) source.Given[T] { return source.Given[T]{Value: value, Set: true} }

// synthetic makes a line of models that are the embedded tilt deck with options
// and rules drawn at random, the same for the same seed. Every option weighs
// something; the rules leave the empty order valid.
func synthetic(models, options, rules int, seed uint64) *product.Line {
	l, _ := embedded()
	own := *l
	own.Models = nil
	r := rand.New(rand.NewPCG(seed, 0))
	for m := range models {
		model := *l.Model("tilt-20")
		model.ID, model.Options, model.Rules = fmt.Sprintf("synthetic-%d", m+1), nil, nil
		id := func(i int) string { return fmt.Sprintf("option-%02d", i) }
		for i := range options {
			o := product.Option{Features: []word{says(fmt.Sprintf("feature-%02d", i))}}
			o.Weighs, o.Center = says(quantity.Pounds(float64(2+i*7%9+m))), says(quantity.Inches(float64(40+i*37%200)))
			model.Options = append(model.Options, source.Item[product.Option]{Key: id(i), Value: o, KeyAt: source.Pos{File: "synthetic", Line: 1 + i, Column: 1}})
		}
		addRules(&model, model.Options, r, rules)
		own.Models = append(own.Models, &model)
	}
	return &own
}

// addRules adds rules drawn at random over some options of a model; the empty order
// keeps them all.
func addRules(model *product.Model, over []source.Item[product.Option], r *rand.Rand, rules int) {
	for range rules {
		a, b, c := r.IntN(len(over)), r.IntN(len(over)), r.IntN(len(over))
		if a == b || a == c || b == c {
			continue
		}
		id := func(i int) word { return says(over[i].Key) }
		o := &over[a].Value
		switch r.IntN(4) {
		case 0:
			o.Requires = append(o.Requires, product.Demand{Option: id(b), Because: says("any")})
		case 1:
			o.Requires = append(o.Requires, product.Demand{AnyOf: []word{id(b), id(c)}, Because: says("any")})
		case 2:
			o.Excludes = append(o.Excludes, product.Demand{Option: id(b), Because: says("any")})
		default:
			model.Rules = append(model.Rules, product.Rule{AtMostOne: []word{id(a), id(b), id(c)}, Because: says("any")})
		}
	}
}

// The counts are held against listing every choice, written without package
// logic, below two to the sixteenth.
func TestBuildsAreCounted(t *testing.T) {
	for seed := range uint64(12) {
		l := synthetic(1, 13, 9, seed)
		m := l.Models[0]
		want := int64(0)
		for bits := range 1 << len(m.Options) {
			has := func(id string) bool {
				var n int
				_, _ = fmt.Sscanf(strings.TrimPrefix(id, "option-"), "%d", &n)
				return bits>>n&1 == 1
			}
			if allowed(m, has) {
				want++
			}
		}
		if got := l.Problem(m).Count(logic.CountSteps); got.String() != strconv.FormatInt(want, 10) {
			t.Errorf("seed %d: %s builds, listing gives %d", seed, got, want)
		}
	}
}

func allowed(m *product.Model, has func(string) bool) bool {
	some := func(words []word) (n int) {
		for _, w := range words {
			if has(w.Value) {
				n++
			}
		}
		return n
	}
	objects := func(d product.Demand) []word {
		if d.Option.Set {
			return []word{d.Option}
		}
		return d.AnyOf
	}
	for _, o := range m.Options {
		for _, d := range o.Value.Requires {
			if has(o.Key) && some(objects(d)) == 0 {
				return false
			}
		}
		for _, d := range o.Value.Excludes {
			if has(o.Key) && some(objects(d)) > 0 {
				return false
			}
		}
	}
	return !slices.ContainsFunc(m.Rules, func(r product.Rule) bool {
		return some(r.AtMostOne) > 1 || len(r.ExactlyOne) > 0 && some(r.ExactlyOne) != 1
	})
}

// Slips planted in rules are found, with the rules that make them.
func TestPlantedRules(t *testing.T) {
	plant := func(change func(m *product.Model)) *proof.Proof {
		l := synthetic(1, 5, 0, 1)
		change(l.Models[0])
		_, ts := embedded()
		return proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Limit: proof.DefaultLimit, Trade: func(string) bool { return true }})
	}
	demand := func(m *product.Model, i int, requires bool, objects ...string) {
		d := product.Demand{Because: says("any")}
		for _, o := range objects {
			d.AnyOf = append(d.AnyOf, source.Given[string]{Value: o, Set: true, At: source.Pos{File: "rule", Line: i + 1, Column: 1}})
		}
		if o := &m.Options[i].Value; requires {
			o.Requires = append(o.Requires, d)
		} else {
			o.Excludes = append(o.Excludes, d)
		}
	}
	tests := []struct {
		name    string
		change  func(m *product.Model)
		code    string
		related int // rules that are named
	}{
		{"nothing", func(*product.Model) {}, "", 0},
		{"an option barred by two rules of three", func(m *product.Model) {
			demand(m, 0, true, "option-01")
			demand(m, 1, true, "option-02")
			demand(m, 0, false, "option-01")
		}, "proof-option-barred", 2},
		{"an option forced", func(m *product.Model) {
			m.Rules = append(m.Rules, product.Rule{ExactlyOne: []word{says("option-00"), says("option-01")}, Because: says("any")})
			demand(m, 1, true, "option-02")
			demand(m, 1, false, "option-02")
		}, "proof-option-forced", 3},
		{"a rule implied", func(m *product.Model) {
			demand(m, 0, true, "option-01")
			demand(m, 1, true, "option-02")
			demand(m, 0, true, "option-02")
		}, "proof-rule-implied", 0},
		{"no order at all", func(m *product.Model) {
			m.Rules = append(m.Rules, product.Rule{ExactlyOne: []word{says("option-00"), says("option-01")}, Because: says("any")})
			for _, i := range []int{0, 1} {
				demand(m, i, true, "option-02")
			}
			demand(m, 2, false, "option-00", "option-01")
		}, "proof-model", 4},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			var met []string
			found := false
			for _, f := range plant(tt.change).Failures {
				if strings.Contains(f.Code, "option") || strings.Contains(f.Code, "rule") || strings.Contains(f.Code, "model") {
					met = append(met, f.Code)
				}
				found = found || f.Code == tt.code && len(f.Related) == tt.related
			}
			if (tt.code == "") != (len(met) == 0) || tt.code != "" && !found {
				t.Errorf("found %v, expected %s with %d rules", met, tt.code, tt.related)
			}
		})
	}
}

// Above the limit nothing is passed over in silence.
func TestLimitIsSaid(t *testing.T) {
	_, ts := embedded()
	l := synthetic(1, 40, 10, 3)
	for i := range l.Models[0].Options {
		if i%5 == 0 { // it says what stands on the label
			l.Models[0].Options[i].Value.GVWR = l.Models[0].GVWR
		}
	}
	p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Limit: 10, Trade: func(string) bool { return true }})
	said := slices.ContainsFunc(p.Failures, func(f proof.Failure) bool {
		return f.Code == "proof-unchecked" && strings.Contains(f.Message, "not settled with the figures of 10 orders")
	})
	if !said || !p.HasErrors() {
		t.Errorf("nobody says that orders were left out: %s", written(p.Findings()))
	}
}

// What options weigh is settled at the extremes, whatever the limit on choices.
func TestLargeLineIsSettled(t *testing.T) {
	models := 1
	if testenv.IsHeavy() {
		models = 10
	}
	_, ts := embedded()
	settle := func(l *product.Line) *proof.Proof {
		return proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Limit: proof.DefaultLimit, Trade: func(string) bool { return true }})
	}
	l := synthetic(models, 60, 200, 1)
	p := settle(l)
	for _, f := range p.Failures {
		if f.Code == "proof-unchecked" || f.Code == "proof-unsettled" || f.Code == "cg-uniform-load" {
			t.Error(f.Message)
		}
	}
	for _, m := range p.Models {
		if !m.Extremes || m.Worked < 2 || !m.Builds.Whole {
			t.Errorf("%s: %s builds, figures of %d, at the extremes: %t", m.ID, m.Builds, m.Worked, m.Extremes)
		}
	}
	// One option of one model, at the tail, too heavy together with another.
	option := &l.Models[models-1].Options[17].Value
	option.Weighs, option.Center = says(quantity.Pounds(1500)), says(quantity.Inches(270))
	met := slices.ContainsFunc(settle(l).Failures, func(f proof.Failure) bool {
		return f.Code == "cg-uniform-load" && f.Witness.Model == l.Models[models-1].ID && slices.Contains(f.Witness.Options, "option-17")
	})
	if !met {
		t.Error("nobody is told that 1500 lb at the tail move the band of the load off the middle")
	}
}

// The mends of a line of sixty options are as few changes as the solver finds.
func TestMendsOfALargeLine(t *testing.T) {
	l := synthetic(1, 60, 200, 5)
	p := l.Problem(l.Models[0])
	ordered := []string{"option-03", "option-17"}
	mends, _ := p.Mends(ordered, 3)
	if len(p.Violations(ordered)) == 0 || len(mends) == 0 || len(mends) > 3 {
		t.Fatalf("%d rules broken, mends %v", len(p.Violations(ordered)), mends)
	}
	for _, c := range mends {
		after := slices.Concat(c.Add, slices.DeleteFunc(slices.Clone(ordered), func(o string) bool { return slices.Contains(c.Remove, o) }))
		if broken := p.Violations(after); broken != nil {
			t.Errorf("%v leaves %v", c, broken)
		}
	}
}

// BenchmarkProve settles every claim on the embedded line.
func BenchmarkProve(b *testing.B) {
	l, ts := embedded()
	texts := ts.Texts()
	for b.Loop() {
		proof.Prove(proof.Subject{Line: l, Texts: texts, Inspect: ts.Pictures(), Limit: proof.DefaultLimit})
	}
}

// BenchmarkProveLarge settles a line of ten models, each with sixty options
// under two hundred rules.
func BenchmarkProveLarge(b *testing.B) {
	_, ts := embedded()
	texts := ts.Texts()
	l := synthetic(10, 60, 200, 1)
	for b.Loop() {
		p := proof.Prove(proof.Subject{Line: l, Texts: texts, Inspect: ts.Pictures(), Limit: proof.DefaultLimit, Trade: func(string) bool { return true }})
		b.Log(p.Models)
	}
	if status, err := os.ReadFile("/proc/self/status"); err == nil {
		_, peak, _ := strings.Cut(string(status), "VmHWM:")
		peak, _, _ = strings.Cut(peak, "kB")
		kilobytes, _ := strconv.ParseFloat(strings.TrimSpace(peak), 64)
		b.ReportMetric(kilobytes/1024, "MiB-peak")
	}
}

// BenchmarkProveOwn settles a model that has nine options with parts of its own beside
// fifty that weigh: 256 choices, each with all that those can weigh together.
func BenchmarkProveOwn(b *testing.B) {
	l, ts := embedded()
	own := *l
	model := *own.Model("car-20")
	model.Options = slices.Clone(model.Options)
	addWeighing(&model, rand.New(rand.NewPCG(5, 5)), 50, 30, 4)
	own.Models = []*product.Model{&model}
	for b.Loop() {
		p := proof.Prove(proof.Subject{Line: &own, Texts: ts.Texts(), Inspect: ts.Pictures(), Limit: proof.DefaultLimit, Trade: func(string) bool { return true }})
		b.Log(p.Models)
	}
}

// BenchmarkCount counts the orders of one such model.
func BenchmarkCount(b *testing.B) {
	var p logic.Problem
	l := synthetic(1, 60, 200, 1)
	p = l.Problem(l.Models[0])
	for b.Loop() {
		p.Count(logic.CountSteps)
	}
}
