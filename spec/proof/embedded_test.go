package proof_test

import (
	"fmt"
	"slices"
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
	t, _ := render.LoadTemplates(source.Layer{Name: "templates", Files: templates.Files})
	return l, t
})

// written returns findings as a person sees them.
func written(findings source.Findings) string {
	var b strings.Builder
	_ = findings.WriteText(&b)
	return b.String()
}

// Whatever can be ordered of the embedded line gets a whole and safe guide. The
// quick tier works out the figures of some builds of the largest models, and of all
// of the others.
func TestEmbeddedLineIsProved(t *testing.T) {
	l, ts := embedded()
	limit := 20
	if testenv.IsHeavy() {
		limit = proof.DefaultLimit
	}
	p := proof.Prove(proof.Subject{Line: l, Texts: ts.Texts(), Snapshot: ts.Snapshot(), Inspect: ts.Pictures(), Limit: limit})
	found := slices.DeleteFunc(p.Findings(), func(f source.Finding) bool { return !testenv.IsHeavy() && f.Code == "proof-unchecked" })
	if found.HasErrors() {
		t.Error(written(found))
	} else if len(found) > 0 {
		t.Log(written(found)) // for who changes words: no guide is wrong
	}
	for i, m := range p.Models {
		builds := 0
		l.Problem(l.Models[i]).Each(-1, func([]string) bool { builds++; return true })
		if m.Builds.String() != strconv.Itoa(builds) || m.Worked == 0 {
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

// The snapshot of the embedded words holds all that they say: whoever changes them
// sees in one file what an owner reads about safety before and after.
func TestSnapshotIsWhole(t *testing.T) {
	_, ts := embedded()
	kept := strings.Split(strings.TrimSpace(string(ts.Snapshot().Data)), "\n")
	for i, line := range ts.Texts().Snapshot() {
		if i >= len(kept) || kept[i] != line {
			t.Fatalf("templates/snapshot.txt:%d is not %q; when the change is meant:\ngo run ./cmd/ownerguide --templates templates prove --snapshot > templates/snapshot.txt", i+1, line)
		}
	}
}

// What drops out of a text is an error until the snapshot is made again.
func TestSnapshotTellsWhatIsLost(t *testing.T) {
	l, ts := embedded()
	texts := *ts.Texts()
	dropped := slices.IndexFunc(texts.Passages, func(p proof.Passage) bool { return strings.HasPrefix(p.Kind, "```caution") })
	texts.Passages = slices.Delete(slices.Clone(texts.Passages), dropped, dropped+1)
	p := ts.Texts().Passages[dropped]
	found := proof.Prove(proof.Subject{Line: l, Texts: &texts, Snapshot: ts.Snapshot(), Limit: 1}).Findings()
	want := fmt.Sprintf("%s no longer says %q", p.In, p.Kind)
	if !slices.ContainsFunc(found, func(f source.Finding) bool { return f.Code == "proof-snapshot" && strings.Contains(f.Message, want) }) {
		t.Errorf("nobody is told that %q is gone:\n%s", want, written(found))
	}
}
