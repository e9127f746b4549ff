package proof_test

import (
	"strconv"
	"strings"
	"sync"
	"testing"

	"ownerguide/render"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

// embedded is the line and templates inside the program, read once.
var embedded = sync.OnceValues(func() (*product.Line, *render.Templates) {
	l, _ := spec.LoadLine(line.Files, "line")
	t, _ := render.LoadTemplates(render.Layer{Name: "templates", Files: templates.Files})
	return l, t
})

// written gives findings as a person sees them.
func written(findings source.Findings) string {
	var b strings.Builder
	_ = findings.WriteText(&b)
	return b.String()
}

// Whatever can be ordered of the embedded line gets a whole and safe guide.
func TestEmbeddedLineIsProved(t *testing.T) {
	testenv.Heavy(t, "works out the figures of every build")
	l, ts := embedded()
	p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Inspect: ts.Pictures(), Limit: proof.DefaultLimit})
	if p.HasErrors() {
		t.Error(written(p.Findings()))
	} else if len(p.Failures) > 0 {
		t.Log(written(p.Findings())) // for who changes words: no guide is wrong
	}
	for i, m := range p.Models {
		builds := 0
		l.Problem(l.Models[i]).Each(-1, func([]string) bool { builds++; return true })
		if m.Builds.String() != strconv.Itoa(builds) || m.Worked != builds {
			t.Errorf("%s: %s builds, figures of %d; listing them gives %d", m.ID, m.Builds, m.Worked, builds)
		}
	}
	settled := 0
	for _, s := range p.Claims {
		settled += s.Claims
	}
	if settled < 2000 {
		t.Errorf("only %d claims were settled", settled)
	}
}
