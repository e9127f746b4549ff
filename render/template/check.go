package template

import (
	"slices"
	"strings"

	"ownerguide/spec/derive"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// Templates are checked completely when they are loaded, including text that no unit
// of the day shows: an error in it must not wait for the first owner it affects.

// checkNames reports references to names that do not exist. It covers the base language only,
// because another language may be unfinished. Names of options and places depend on the
// line: see [Templates.CheckAgainst].
func (t *Templates) checkNames() (findings source.Findings) {
	for _, r := range t.texts.References {
		if f, wrong := t.checkName(r); wrong {
			findings.Add(f)
		}
	}
	return findings
}

// shown returns the systems whose jobs or trouble entries some section shows.
func (t *Templates) shown(kind proof.Kind) (systems []string) {
	for _, r := range t.texts.References {
		if r.Kind == kind && r.Lang == Base {
			systems = append(systems, r.Name)
		}
	}
	slices.Sort(systems)
	return slices.Compact(systems)
}

func (t *Templates) checkName(r proof.Reference) (f source.Finding, wrong bool) {
	base := t.languages[Base]
	unless := func(there bool, code source.Code, format string, ids func() []string) (source.Finding, bool) {
		if there {
			return f, false
		}
		return code.At(r.At, format, r.Name).DidYouMean(r.Name, ids(), ""), true
	}
	switch r.Kind {
	case proof.Value, proof.Word, proof.Asked:
		switch {
		case !t.known(r.Name):
			return suggestNearest(CodeValue.At(r.At, "nothing is called {%s}", r.Name), r.Name, t.names(), "did you mean {%s}?"), true
		case r.Kind != proof.Asked && derive.ForEngineer(r.Name):
			return CodeValue.At(r.At, "{%s} is for the engineer only, not for an owner to rely on", r.Name), true
		}
	case proof.Link:
		there := base.Jobs[r.Name] != nil || base.Sections[r.Name] != nil
		return unless(there, CodeLink, "no guide has a section %q", func() []string { return append(keys(base.Jobs), keys(base.Sections)...) })
	case proof.Task:
		return unless(base.Jobs[r.Name] != nil, CodeTask, "there is no job %q", func() []string { return keys(base.Jobs) })
	case proof.Panel:
		return unless(t.Caution(r.Name) != nil, codeCaution, "there is no caution %q", func() []string { return mapped(t.Cautions, func(c Caution) string { return c.ID.Value }) })
	case proof.Troubles:
		systems := mapped(t.Troubles, func(e Trouble) string { return e.System.Value })
		return unless(slices.Contains(systems, r.Name), codeCall, "no trouble entry is filed under the system %q", func() []string { return systems })
	case proof.Picture:
		return unless(slices.ContainsFunc(t.Pictures, func(f source.File) bool { return f.Name == PictureFolder+"/"+r.Name }), CodePicture, "there is no picture %q in pictures/", func() []string {
			return mapped(t.Pictures, func(f source.File) string { return strings.TrimPrefix(f.Name, PictureFolder+"/") })
		})
	case proof.Statement:
		return unless(base.Statements[r.Name] != nil, codeCall, "there is no prescribed text %q in statements/", func() []string { return keys(base.Statements) })
	case proof.Label:
		if _, there := base.Labels[r.Name]; !there {
			f := CodeLabel.At(r.At, "label %q is missing from %s", r.Name, base.LabelsFile)
			return suggestNearest(f, r.Name, keys(base.Labels), "did you mean the label %q?"), true
		}
	}
	return f, false
}

// code returns the code of a finding about an unknown name of a kind.
func (c *collector) code(kind proof.Kind) source.Code {
	if kind == proof.Drawing {
		return CodeDrawing
	}
	return codeCall
}

// labelOf returns the labels of which one must exist for a word that is printed by a
// label; nil for other words.
func labelOf(name string) []string {
	switch kind, rest, _ := strings.Cut(name, "."); kind {
	case "part":
		return []string{"kind." + rest, "place." + rest}
	case "label":
		return []string{rest}
	}
	return nil
}

// known reports whether a name is that of a value or word that some unit has.
func (t *Templates) known(name string) bool {
	if derive.IsDeclared(name) || slices.Contains(t.program.Words, name) || strings.HasPrefix(name, "option.") {
		return true
	}
	return slices.ContainsFunc(labelOf(name), func(key string) bool { _, there := t.languages[Base].Labels[key]; return there })
}

// names returns the names that a placeholder can have.
func (t *Templates) names() []string {
	names := append(slices.Clone(t.program.Words), mapped(derive.Declared(), func(d derive.Decl) string { return d.Name })...)
	for _, key := range keys(t.languages[Base].Labels) {
		kind, rest, _ := strings.Cut(key, ".")
		if kind == "kind" || kind == "place" {
			names = append(names, "part."+rest)
		}
		names = append(names, "label."+key)
	}
	return names
}

// noteUnusedLabels records the maker's own labels that neither the program's labels nor
// a text use.
func (t *Templates) noteUnusedLabels(files []source.File, last string) {
	program := map[string]bool{} // labels that the program itself uses
	for _, f := range files {
		if f.Layer == last && f.Name == Base+"/labels.yaml" {
			for _, id := range f.Entries {
				program[id] = true
			}
		}
	}
	asked := map[string]bool{}
	for _, r := range t.texts.References {
		switch r.Kind {
		case proof.Label:
			asked[r.Lang+" "+r.Name] = true
		case proof.Word, proof.Asked:
			for _, key := range labelOf(r.Name) {
				asked[r.Lang+" "+key] = true
			}
		}
	}
	for _, name := range t.Languages() {
		lang := t.languages[name]
		for _, key := range keys(lang.Labels) {
			if !program[key] && !asked[name+" "+key] {
				t.unusedLabels = append(t.unusedLabels, proof.Reference{Kind: proof.Label, Name: key, At: lang.Labels[key].At})
			}
		}
	}
}
