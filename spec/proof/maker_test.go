package proof_test

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"

	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/quantity"
	"ownerguide/spec/testenv"
)

// makersLine makes a line of the size makers have: every model of the embedded line, each in
// lengths that weigh 150 lb more than the one before, with sixty options. Those of the model are
// kept, with their parts, ratings and rules; the others weigh up to so many pounds, under two
// hundred rules drawn at random.
func makersLine(models []string, lengths int, heavy float64) *product.Line {
	l, _ := embedded()
	own := *l
	own.Models = nil
	for i, m := range l.Models {
		if len(models) > 0 && !slices.Contains(models, m.ID) {
			continue
		}
		for length := range lengths {
			model := *m
			model.ID = fmt.Sprintf("%s-%d", m.ID, length+1)
			model.Empty.Value += quantity.Pounds(float64(150 * length))
			model.Options, model.Rules = slices.Clone(m.Options), slices.Clone(m.Rules)
			addWeighing(&model, rand.New(rand.NewPCG(uint64(i), 41)), 60-len(m.Options), 200, heavy)
			own.Models = append(own.Models, &model)
		}
	}
	return &own
}

// Models of sixty options, some of which bring parts and all of which weigh, are settled whole, for
// each choice of the parts with the figures of some sums: the others follow from those.
func TestMakersLineIsSettled(t *testing.T) {
	models, lengths := []string{"boat-18"}, 1
	if testenv.IsHeavy() {
		models, lengths = []string{"deck-32", "deck-36", "boat-18", "cargo-14", "stock-16"}, 4
	}
	_, ts := embedded()
	l := makersLine(models, lengths, 8)
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts, Inspect: ts.Pictures(), Limit: proof.DefaultLimit, Trade: func(string) bool { return true }})
	runtime.ReadMemStats(&after)
	for _, f := range p.Failures {
		if f.Code == "proof-unchecked" || f.Code == "proof-unsettled" {
			t.Error(f.Message)
		}
	}
	for i, m := range l.Models {
		if p.Models[i].ID != m.ID || !p.Models[i].Extremes || len(m.Options) != 60 {
			t.Errorf("%s of %d options: %v", m.ID, len(m.Options), p.Models[i])
		}
	}
	worked := 0
	for _, m := range p.Models {
		worked += m.Worked
	}
	t.Logf("%d models, figures of %d orders and sums, %.0f MB allocated", len(p.Models), worked, float64(after.TotalAlloc-before.TotalAlloc)/1e6)
}
