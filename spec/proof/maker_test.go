package proof_test

import (
	"fmt"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ownerguide/spec"
	"ownerguide/spec/line"
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

// writtenLine writes a line as a maker does: the models of the embedded line, each in some lengths that extend the
// first, with sixty options that all weigh. To those of the model come a second make of what it is built with,
// in its place: coupler, jack, axle, tire, lamps, deck, pump, and so on. The rest only weighs, and is written once for all. There are two hundred
// rules to a model.
func writtenLine(lengths int) fstest.MapFS {
	l, _ := embedded()
	files := testenv.Files(line.Files)
	groups := map[string]string{} // by component
	for name, f := range files {
		if strings.HasPrefix(name, "components/") {
			group := ""
			for text := range strings.Lines(string(f.Data)) {
				id, _, is := strings.Cut(text, ":")
				switch {
				case is && strings.Trim(id, "abcdefghijklmnopqrstuvwxyz_") == "":
					group = id
				case is && strings.HasPrefix(id, "  ") && strings.Trim(id[2:], "abcdefghijklmnopqrstuvwxyz0123456789-") == "":
					groups[id[2:]] = group
				}
			}
		}
	}
	r := rand.New(rand.NewPCG(3, 14))
	var shared, words, names strings.Builder
	second, told := map[string]map[string]bool{}, map[string]bool{}
	var ids []string
	for _, m := range l.Models {
		var options strings.Builder
		offered := m.Options.Names()
		for _, p := range m.Parts {
			use := p.Value.Use.Value
			if group := groups[use]; len(offered) < 60 && group != "others" && group != "circuits" {
				if second[group] == nil {
					second[group] = map[string]bool{}
				}
				second[group][use] = true
				center := 120.0
				if p.Value.At != nil {
					center = float64(p.Value.At.X.Value)
				}
				id := "second-" + p.Key
				fmt.Fprintf(&options, "  %s: { weighs: %d lb, center: %.0f in, source: invented, parts: { %s: { use: second-%s } } }\n", id, 1+len(offered)%4, max(20, center), p.Key, use)
				if offered = append(offered, id); !told[id] {
					told[id] = true
					fmt.Fprintf(&words, "  %s: { name: Second %s, describe: Another make of it. }\n", id, p.Key)
				}
			}
		}
		own := len(offered)
		for i := 0; len(offered) < 60; i++ {
			id := fmt.Sprintf("extra-%02d", i)
			fmt.Fprintf(&options, "  %s: { extends: %s, weighs: %d lb }\n", id, id, 1+r.IntN(6))
			if offered = append(offered, id); !told[id] {
				told[id] = true
				fmt.Fprintf(&shared, "%s: { weighs: %d lb, center: %d in, source: invented }\n", id, 2+i*5%9, 60+i*31%100)
				fmt.Fprintf(&words, "  %s: { name: Extra %d, describe: Something that weighs. }\n", id, i)
			}
		}
		rules := "rules:\n"
		for range 200 - len(m.Rules) {
			a, b, c := r.IntN(len(offered)-own), r.IntN(len(offered)-own), r.IntN(len(offered))
			if x, y, z := offered[own+a], offered[own+b], offered[c]; x != y && y != z && x != z {
				rules += fmt.Sprintf("  - { at_most_one: [%s, %s, %s], because: one-way-up }\n", x, y, z)
			}
		}
		file := files["models/"+m.ID+".yaml"]
		text := string(file.Data)
		if strings.Contains(text, "\nrules:\n") {
			text = strings.Replace(text, "\nrules:\n", "\n"+options.String()+rules, 1)
		} else {
			text += options.String() + rules
		}
		files["models/"+m.ID+".yaml"] = &fstest.MapFile{Data: []byte(text)}
		ids = append(ids, m.ID)
		for length := 2; length <= lengths; length++ {
			id := fmt.Sprintf("%s-%d", m.ID, length)
			ids = append(ids, id)
			longer := fmt.Sprintf("extends: %s\nvin_code: %s%d\n", m.ID, m.VINCode.Value[:4], 4+length)
			if !strings.Contains(text, "\nlonger:") { // the weight stands there
				longer += fmt.Sprintf("empty_weight: %.0f lb\n", float64(m.Empty.Value)+float64(20*length))
			}
			files["models/"+id+".yaml"] = &fstest.MapFile{Data: []byte(longer)}
			fmt.Fprintf(&names, "  %s: { name: %s, summary: Another length. }\n", id, id)
		}
	}
	var made strings.Builder
	for group, components := range second {
		fmt.Fprintf(&made, "%s:\n", group)
		for id := range components {
			fmt.Fprintf(&made, "  second-%s: { extends: %s, part_number: S-%s }\n", id, id, id)
		}
	}
	files["options/extras.yaml"] = &fstest.MapFile{Data: []byte(shared.String())}
	files["components/second.yaml"] = &fstest.MapFile{Data: []byte(made.String())}
	text := string(files["text/en.yaml"].Data)
	text = strings.Replace(strings.Replace(text, "\nmodels:\n", "\nmodels:\n"+names.String(), 1), "\noptions:\n", "\noptions:\n"+words.String(), 1)
	files["text/en.yaml"] = &fstest.MapFile{Data: []byte(text)}
	text = string(files["line.yaml"].Data)
	at := strings.Index(text, "\nmodels:")
	end := at + 1 + strings.Index(text[at+1:], "\n\n")
	files["line.yaml"] = &fstest.MapFile{Data: []byte(text[:at] + "\nmodels: [" + strings.Join(ids, ", ") + "]\n" + text[end:])}
	return files
}

// A line as makers have it, written as they write it, is settled whole: ten models in four lengths, sixty
// options each, sixteen or so of which bring parts of kinds that figures are worked out from. The quick tier takes one
// model. BenchmarkProveMaker tells how long all of them take.
func TestMakersLineIsSettled(t *testing.T) {
	lengths := 1
	if testenv.IsHeavy() {
		lengths = 4
	}
	l, findings := spec.LoadLine(writtenLine(lengths), "line")
	if l == nil || findings.HasErrors() {
		t.Fatal(written(findings))
	}
	if lengths == 1 {
		l.Models = slices.DeleteFunc(l.Models, func(m *product.Model) bool { return m.ID != "boat-18" })
	}
	_, ts := embedded()
	runtime.GC()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	most, done := uint64(0), make(chan bool)
	go func() {
		defer close(done)
		for {
			select {
			case done <- true:
				return
			case <-time.After(20 * time.Millisecond):
				var now runtime.MemStats
				runtime.ReadMemStats(&now)
				most = max(most, now.HeapAlloc)
			}
		}
	}()
	p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Inspect: ts.Pictures(), Limit: proof.DefaultLimit, Trade: func(string) bool { return true }})
	<-done
	runtime.ReadMemStats(&after)
	codes := map[string]int{}
	for _, f := range p.Failures {
		codes[f.Code]++
		if f.Code == "proof-unchecked" || f.Code == "proof-unsettled" {
			t.Error(f.Message)
		}
	}
	worked := 0
	for i, m := range l.Models {
		bring := 0
		for _, o := range m.Options {
			if len(o.Value.Parts) > 0 {
				bring++
			}
		}
		t.Logf("%s: %d options, %d bring parts, %d rules: %v", m.ID, len(m.Options), bring, len(l.Problem(m).Rules), p.Models[i])
		if worked += p.Models[i].Worked; !p.Models[i].Extremes || len(m.Options) < 60 || bring < 15 {
			t.Errorf("%s of %d options, %d of which bring parts: %v", m.ID, len(m.Options), bring, p.Models[i])
		}
	}
	t.Logf("%d models, figures of %d orders and sums, %.0f MB allocated, at most %d MB in use; %v", len(p.Models), worked, float64(after.TotalAlloc-before.TotalAlloc)/1e6, most/1e6, codes)
}

// BenchmarkProveMaker settles a maker's line of ten models in four lengths.
func BenchmarkProveMaker(b *testing.B) {
	l, findings := spec.LoadLine(writtenLine(4), "line")
	if l == nil || findings.HasErrors() {
		b.Fatal(written(findings))
	}
	_, ts := embedded()
	for b.Loop() {
		p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Inspect: ts.Pictures(), Limit: proof.DefaultLimit, Trade: func(string) bool { return true }})
		b.Log(p.Models)
	}
}
