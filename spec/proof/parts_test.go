package proof_test

import (
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/proof"
)

// A feature that nobody wrote is told at every kind of part that goes with it.
func TestForgottenFeaturesAreTold(t *testing.T) {
	_, ts := embedded()
	for _, c := range []struct{ feature, want string }{
		{"gooseneck", "coupler-gooseneck is of kind coupler and goes with the feature gooseneck without bumper-pull"},
		{"bumper-pull", "coupler-2 is of kind coupler and goes with the feature bumper-pull without gooseneck"},
		{"decked", "deck-utility is of kind deck and goes with the feature decked"},
		{"tilting", "deck-tilt is of kind deck and goes with the feature tilting"},
		{"gravity-tilt", "deck-tilt is of kind deck and goes with the feature power-tilt or gravity-tilt"},
		{"dump", "dump-box is of kind dump-box and goes with the feature dump"},
		{"hydraulics", "is of kind power-unit and goes with the feature hydraulics"},
		{"deep-cycle-battery", "is of kind battery and goes with the feature deep-cycle-battery"},
		{"winch", "winch-5 is of kind winch and goes with the feature winch"},
		{"ramps", "is of kind ramp and goes with the feature ramps"},
		{"spare", "is of kind spare and goes with the feature spare"},
		{"body-prop", "is of kind prop and goes with the feature body-prop"},
		{"d-rings", "is of kind anchor and goes with the feature d-rings or stake-pockets or rub-rails"},
	} {
		t.Run(c.feature, func(t *testing.T) {
			word := regexp.MustCompile(`((?:features|drops): \[(?:[^\]]*, )?)` + c.feature + `(?:, |(\]))`)
			files := tree(line.Files)
			for name, file := range files {
				if strings.HasPrefix(name, "components/") || strings.HasPrefix(name, "models/") {
					files[name] = &fstest.MapFile{Data: word.ReplaceAll(file.Data, []byte("$1$2"))}
				}
			}
			l, findings := spec.LoadLine(files, "line")
			if findings.HasErrors() {
				t.Fatal(written(findings))
			}
			p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Limit: 1})
			found := false
			for _, f := range p.Findings() {
				found = found || f.Code == "proof-part" && strings.Contains(f.Message, c.want+";")
			}
			if !found {
				t.Errorf("it is not told that %q:\n%s", c.want, written(p.Findings()))
			}
		})
	}
}
