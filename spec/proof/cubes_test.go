package proof_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
)

// What a claim is said to hang on is all that it hangs on: an order that differs in no such option has
// the same figures, limits that find the same, and the same drawings that can be made. No rule keeps orders
// apart here, and nothing weighs, so that claims on weights are tried too.
func TestClaimsHangOnWhatTheySay(t *testing.T) {
	tries := 2
	if testenv.IsHeavy() {
		tries = 60
	}
	_, ts := embedded()
	r := rand.New(rand.NewPCG(5, 17))
	alike, unlike := 0, 0
	for round := range 2 {
		l, _ := embedded()
		if round == 1 {
			l = makersLine(nil, 1, 0)
		}
		for _, m := range l.Models {
			model := *m
			model.Options, model.Rules = slices.Clone(m.Options), nil
			for i := range model.Options {
				o := &model.Options[i].Value
				o.Requires, o.Excludes, o.Weighs.Value = nil, nil, quantity.Pounds(0)
			}
			own := *l
			own.Models = []*product.Model{&model}
			dependencies := spec.NewDependencies(spec.NewVariants(&own, &model))
			look := func(order []string, full bool) *derive.Assessment {
				read, findings := sheet.Read("sheet", proof.Sheet(&own, &model, nil, full, 1))
				if read == nil {
					t.Fatal(findings)
				}
				for _, o := range order {
					read.Options = append(read.Options, source.Given[string]{Value: o, Text: o, Set: true})
				}
				b, findings := spec.Resolve(&own, read)
				if b == nil {
					t.Fatal(findings)
				}
				plain := outcomes(derive.Assess(b))
				b = b.Watched(dependencies)
				j := derive.Assess(b)
				if !maps.Equal(plain, outcomes(j)) {
					t.Errorf("%s with %v: watched, it comes to something else", m.ID, order)
				}
				j.Findings.Add(ts.Pictures()(b, j.Values, nil)...)
				return j
			}
			for range tries {
				var order, other []string
				for i := range model.Options {
					id := model.Options[i].Key
					has, flips := r.IntN(3) == 0, r.IntN(len(model.Options)) < 2
					if has {
						order = append(order, id)
					}
					if has != flips {
						other = append(other, id)
					}
				}
				differ := map[string]bool{}
				for _, id := range slices.Concat(order, other) {
					differ[id] = slices.Contains(order, id) != slices.Contains(other, id)
				}
				for _, full := range []bool{false, true} {
					first, second := look(order, full), look(other, full)
					one, two := outcomes(first), outcomes(second)
					hangs := map[string]bool{} // by value, limit or drawing
					for name, on := range first.Claims() {
						main, _ := derive.MainClaim(name)
						for i := range model.Options {
							hangs[main] = hangs[main] || on.Has(i) && differ[model.Options[i].Key]
						}
					}
					for name, is := range hangs {
						if is {
							unlike++
							continue
						}
						alike++
						if one[name] != two[name] {
							t.Errorf("%s: %s hangs on none of what differs, and is\n%s\nwith %v\n%s\nwith %v", m.ID, name, one[name], order, two[name], other)
						}
					}
				}
			}
		}
	}
	if alike < unlike || unlike < 1000 {
		t.Errorf("%d claims on orders alike, %d on others", alike, unlike)
	}
}

// outcomes tells by claim how it fared.
func outcomes(j *derive.Assessment) map[string]string {
	says := map[string]string{}
	for _, v := range j.Values.All() {
		name := v.Name
		if family := derive.FamilyOf(name); family != "" {
			name = family
		}
		if !strings.HasPrefix(name, "vin.") { // the number of a unit is another each time
			if says[name] += v.Name + "\n"; name != "visit" { // of which nothing is claimed but how many there are
				says[name] += fmt.Sprint(v.Exact, "\n")
			}
		}
	}
	for _, m := range j.Values.Margins() {
		says[derive.LimitClaim+m.Code.ID] += fmt.Sprint(m.Have.Exact, m.Order, m.Need.Exact, m.Spare, "\n")
	}
	var lines []string
	for _, f := range j.Findings {
		_, drawing, is := strings.Cut(f.Message, `drawing "`)
		if name, _, _ := strings.Cut(drawing, `"`); strings.Contains(f.Message, "a stop points at") {
			// proof-stop-idle says whether one does
		} else if is {
			says[proof.DrawingClaim+name] += f.Message
		} else if f.Code != derive.PartIgnored {
			lines = append(lines, f.Code+" "+f.Pos.String()+"\n")
		}
	}
	slices.Sort(lines)
	for _, line := range lines {
		code, _, _ := strings.Cut(line, " ")
		says[derive.LimitClaim+code] += line
	}
	for name, text := range says { // a build that is watched looks at its parts in another order
		lines := strings.Split(text, "\n")
		slices.Sort(lines)
		says[name] = strings.Join(lines, "\n")
	}
	return says
}
