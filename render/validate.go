package render

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"ownerguide/render/draw"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/logic"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// Templates are checked whole when they are loaded, the text no unit of the
// day shows included: a slip in it must not wait for the first owner it hits.

// passage is one text of a language as far as it was compiled.
type passage struct {
	job        bool // of a maintenance job: only there {task.interval} can stand
	lines      [][]inline
	body       []piece
	conditions []logic.Condition
}

// passages lists every text of a language, in a fixed order.
func (lang *language) passages() []passage {
	var out []passage
	for _, s := range lang.sections {
		out = append(out, passage{false, [][]inline{s.title}, s.body, s.conditions})
	}
	for _, id := range keys(lang.tasks) {
		t := lang.tasks[id]
		out = append(out, passage{true, [][]inline{t.title, t.tools}, t.body, t.conditions})
	}
	for _, id := range keys(lang.cautions) {
		c := lang.cautions[id]
		out = append(out, passage{lines: append([][]inline{c.hazard, c.consequence}, c.avoid...)})
	}
	for _, id := range keys(lang.troubles) {
		t := lang.troubles[id]
		out = append(out, passage{lines: [][]inline{t.symptom}, body: slices.Concat(t.cause, t.do, t.stop), conditions: t.conditions})
	}
	for _, id := range keys(lang.statements) {
		s := lang.statements[id]
		out = append(out, passage{lines: slices.Concat(s.paragraphs, s.steps)})
	}
	return out
}

// eachPiece visits blocks at every depth; top is true for those directly in a section.
func eachPiece(body []piece, top bool, visit func(p *piece, top bool)) {
	for i := range body {
		visit(&body[i], top)
		eachPiece(body[i].children, false, visit)
	}
}

// eachInline visits inlines at every depth.
func eachInline(list []inline, visit func(*inline)) {
	for i := range list {
		visit(&list[i])
		eachInline(list[i].children, visit)
	}
}

// eachInline visits the inlines of everything in the passage.
func (p *passage) eachInline(visit func(*inline)) {
	for _, line := range p.lines {
		eachInline(line, visit)
	}
	eachPiece(p.body, true, func(b *piece, _ bool) {
		eachInline(b.inlines, visit)
		if b.fence != nil {
			for i := range b.fence.body {
				eachInline(b.fence.body[i].label, visit)
			}
		}
	})
}

// eachLine visits the lines of everything in the passage, whole.
func (p *passage) eachLine(visit func([]inline)) {
	for _, line := range p.lines {
		visit(line)
	}
	eachPiece(p.body, true, func(b *piece, _ bool) {
		visit(b.inlines)
		if b.fence != nil {
			for i := range b.fence.body {
				visit(b.fence.body[i].label)
			}
		}
	})
}

// hole is what a figure taken out of a sentence leaves: two spaces, one at an
// end or before a mark, brackets or asterisks around nothing.
var hole = regexp.MustCompile(`  |^ | $| [.,;:)](?: |$)|^[.,;:]|\( *\)|\*\*`)

// suspect tells whether a text can match hole at all: nearly none can, and the
// expression takes long to say so.
func suspect(text string) bool {
	if text == "" {
		return false
	}
	for i, c := range []byte(text) {
		switch next := text[min(i+1, len(text)-1)]; {
		case i == 0 && strings.IndexByte(" .,;:", c) >= 0, c == ' ' && strings.IndexByte(" .,;:)", next) >= 0, c == '(', c == '*':
			return true
		}
	}
	return false
}

// holes looks for places where something is missing from a line.
func (v *validator) holes(line []inline) {
	if text := outline(line); suspect(text) && hole.MatchString(text) {
		v.findings.Add(codeHole.At(line[0].at, "something is missing from %q", excerpt(strings.ReplaceAll(text, filled, "…"))))
	}
}

// excerpt is as much of a text as a finding quotes.
func excerpt(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// filled stands for what is filled in later.
const filled = "\ufffc"

// outline gives the text of inlines, with a mark for each that is filled in.
func outline(line []inline) string {
	var b strings.Builder
	for i := range line {
		switch in := &line[i]; in.kind {
		case inlineText:
			b.WriteString(in.text)
		case inlineEmphasis, inlineLink:
			b.WriteString(outline(in.children))
		default:
			b.WriteString(filled)
		}
	}
	return b.String()
}

// fenceShape is what may stand behind a block's kind and inside it.
type fenceShape struct {
	least, most int  // words behind the kind
	body        bool // lines inside
}

// fenceShapes has an entry for each of fences.
var fenceShapes = map[string]fenceShape{
	"caution": {1, 1, false}, "drawing": {1, 1, true}, "logo": {0, 0, false}, "values": {0, 1, true}, "numbers": {0, 1, true}, "due": {0, 1, true},
	"schedule": {1, 1, false}, "tasks": {1, 1, false}, "trouble": {1, 1, false}, "statement": {1, 1, false}, "form": {1, 2, false},
	"safety": {}, "contents": {}, "as-built": {}, "changes": {}, "fitted": {}, "stops": {}, "handover": {}, "log": {}, "provenance": {},
}

// validator checks the texts of one language.
type validator struct {
	templates *Templates
	lang      *language
	base      *language
	asked     map[string]bool // labels that a text asks for
	findings  source.Findings
}

// asking is a label, or another word, and where it was written.
type asking struct {
	name string
	at   source.Pos
}

func (t *Templates) validate() source.Findings {
	var findings source.Findings
	program := map[string]bool{} // labels that the program itself knows how to use
	for _, f := range t.Files {
		if f.Layer == t.last && f.Name == Base+"/labels.yaml" {
			program = set(f.Entries)
		}
	}
	for _, name := range t.Languages() {
		v := &validator{templates: t, lang: t.languages[name], base: t.languages[Base], asked: map[string]bool{}}
		for _, c := range t.cautions {
			if c.Word.Set { // a word that is none is already reported
				v.label("signal."+c.Word.Value, c.Word.At)
			}
		}
		for _, p := range v.lang.passages() {
			v.passage(&p)
		}
		findings.Add(v.findings...)
		for _, key := range keys(v.lang.labels) {
			if !program[key] && !v.asked[key] {
				t.unasked = append(t.unasked, asking{key, v.lang.labels[key].At})
			}
		}
	}
	return findings
}

func set(list []string) map[string]bool {
	out := map[string]bool{}
	for _, s := range list {
		out[s] = true
	}
	return out
}

// checkWork holds the list of duties against the texts there are.
func (t *Templates) checkWork() (out source.Findings) {
	base := t.languages[Base]
	var sections []string
	for _, s := range base.sections {
		sections = append(sections, s.id)
	}
	texts := [4][]string{sections, keys(base.tasks), keys(base.cautions), keys(base.troubles)}
	for i, group := range t.work.groups() {
		for _, item := range *group.texts {
			if !slices.Contains(texts[i], item.Key) {
				out.Add(near(codeWork.At(item.KeyAt, "there is no %s %q", group.of, item.Key), item.Key, texts[i], "did you mean %q?"))
			}
		}
	}
	return out
}

func (v *validator) passage(p *passage) {
	p.eachInline(func(in *inline) {
		switch in.kind {
		case inlinePlaceholder:
			if !strings.HasPrefix(in.text, "?") { // reported by the compiler
				v.placeholder(in, p.job)
			}
		case inlineLink:
			v.link(in)
		}
	})
	p.eachLine(v.holes)
	for _, c := range p.conditions {
		for _, name := range c.Facts() {
			if value, is := strings.CutPrefix(name, valueKind+":"); is && !v.known(value) {
				v.findings.Add(v.unknown(value, c.At(name)))
			}
		}
	}
	eachPiece(p.body, true, func(b *piece, top bool) {
		if b.fence != nil {
			v.fence(b, top)
		}
	})
}

// known tells whether a name is that of a value or word of some unit. Names of
// options and places depend on the line: see [Templates.CheckAgainst].
func (v *validator) known(name string) bool {
	if _, word := words[name]; word || derive.IsDeclared(name) {
		return true
	}
	switch kind, rest, _ := strings.Cut(name, "."); kind {
	case "part":
		return v.has("kind."+rest) || v.has("place."+rest)
	case "option":
		return rest != ""
	case "label":
		return v.has(rest)
	}
	return false
}

func (v *validator) has(label string) bool {
	v.asked[label] = true
	_, ok := v.lang.labels[label]
	return ok
}

func (v *validator) unknown(name string, at source.Pos) source.Finding {
	f := codeValue.At(at, "nothing is called {%s}", name)
	names := keys(words)
	for _, d := range derive.Declared() {
		names = append(names, d.Name)
	}
	for _, key := range keys(v.lang.labels) {
		kind, rest, _ := strings.Cut(key, ".")
		if kind == "kind" || kind == "place" {
			names = append(names, "part."+rest)
		}
		names = append(names, "label."+key)
	}
	return near(f, name, names, "did you mean {%s}?")
}

// near adds the nearest of the known names as a hint.
func near(f source.Finding, name string, known []string, hint string) source.Finding {
	if nearest, ok := source.Nearest(name, known); ok {
		return f.WithHint(hint, nearest)
	}
	return f
}

func (v *validator) placeholder(in *inline, job bool) {
	switch {
	case in.text == "task.interval":
		if !job {
			v.findings.Add(codePlaceholder.At(in.at, "{task.interval} can only stand in a job of tasks/"))
		}
	case !v.known(in.text):
		v.findings.Add(v.unknown(in.text, in.at))
	case derive.ForEngineer(in.text):
		v.findings.Add(codeValue.At(in.at, "{%s} is for the engineer only, not for an owner to rely on", in.text))
	}
}

// innerHeading is the address of a heading inside a section's text.
var innerHeading = regexp.MustCompile(`^(.+)-[0-9]+$`)

func (v *validator) link(in *inline) {
	target, internal := strings.CutPrefix(in.text, "#")
	if !internal {
		if !outside.MatchString(in.text) || strings.ContainsAny(in.text, "{}") {
			v.findings.Add(codeLink.At(in.at, "link to %q; expected #section, https:, tel: or mailto:, without placeholders", in.text))
		}
		return
	}
	ids := keys(v.base.tasks)
	for _, s := range v.base.sections {
		ids = append(ids, s.id)
	}
	if slices.Contains(ids, target) {
		return
	}
	if m := innerHeading.FindStringSubmatch(target); m != nil && slices.Contains(ids, m[1]) {
		return
	}
	v.findings.Add(near(codeLink.At(in.at, "no guide has a section %q", target), target, ids, "did you mean %q?"))
}

// label reports a label that is missing, at the text that asks for it.
func (v *validator) label(key string, at source.Pos) {
	if v.has(key) {
		return
	}
	f := codeLabel.At(at, "label %q is missing from %s", key, v.lang.labelsFile)
	v.findings.Add(near(f, key, keys(v.lang.labels), "did you mean the label %q?"))
}

func (v *validator) fence(p *piece, top bool) {
	kind, args := p.fence.kind, p.fence.args
	shape, known := fenceShapes[kind]
	if !known {
		v.findings.Add(near(codeFence.At(p.at, "there is no block of kind %q", kind), kind, keys(fenceShapes), "did you mean %q?"))
		return
	}
	if len(args) < shape.least || len(args) > shape.most {
		v.findings.Add(codeFence.At(p.at, "%d words stand behind %s; expected %d to %d", len(args), kind, shape.least, shape.most))
		return
	}
	if len(p.fence.body) > 0 && !shape.body {
		v.findings.Add(codeFence.At(p.fence.body[0].at, "a block of kind %s has no lines inside: this text would not be printed", kind))
	}
	one := func(code source.Code, what string, ids []string) {
		if !slices.Contains(ids, args[0]) {
			v.findings.Add(near(code.At(p.at, "there is no %s %q", what, args[0]), args[0], ids, "did you mean %q?"))
		}
	}
	switch kind {
	case "caution":
		var ids []string
		for _, c := range v.templates.cautions {
			ids = append(ids, c.ID.Value)
		}
		one(codeCaution, "caution", ids)
	case "drawing":
		one(codeDrawing, "drawing", draw.IDs())
	case "statement":
		one(codeFence, "prescribed text in statements/", keys(v.lang.statements))
	case "schedule":
		one(codeFence, "schedule", []string{"dated", "rules", "table"})
	case "tasks":
		if !top {
			v.findings.Add(codeFence.At(p.at, "tasks can only stand directly in a section"))
		}
		v.label("system."+args[0], p.at)
	case "trouble":
		v.label("system."+args[0], p.at)
	case "form":
		v.label("form."+args[0], p.at)
		if len(args) > 1 {
			if _, ok := ruledLines(args[1]); !ok {
				v.findings.Add(codeFence.At(p.at, "expected a number of lines from 1 to %d, not %q", maxRules, args[1]))
			}
		}
	case "values", "numbers", "due":
		if len(args) > 0 {
			v.label("table."+args[0], p.at)
		}
		for i := range p.fence.body {
			line := &p.fence.body[i]
			if kind == "due" && line.name != "" && !strings.HasPrefix(line.name, "interval.") {
				v.findings.Add(codeFence.At(line.at, `expected "interval.job: label" in a block of kind due`))
				continue
			}
			v.valueLine(line)
		}
	}
}

// valueLine checks one "name: label" of a block of figures.
func (v *validator) valueLine(line *fenceLine) {
	task, interval := strings.CutPrefix(line.name, "interval.")
	switch {
	case line.name == "":
		v.findings.Add(codeFence.At(line.at, `expected "name: label", with the name of a value`))
	case interval:
		if v.base.tasks[task] == nil {
			v.findings.Add(near(codeTask.At(line.at, "there is no job %q", task), task, keys(v.base.tasks), "did you mean %q?"))
		}
	case !v.known(line.name):
		v.findings.Add(v.unknown(line.name, line.at))
	case derive.ForEngineer(line.name):
		v.findings.Add(codeValue.At(line.at, "%s is for the engineer only, not for an owner to rely on", line.name))
	}
}

// CheckAgainst holds templates against a line: what conditions speak of must
// be something that a unit can have, every hazard must have its caution and
// every job its words. A feature of the maker's own that nothing speaks of is an
// error: it was meant to bring something.
func (t *Templates) CheckAgainst(l *product.Line) source.Findings {
	m := &match{templates: t, line: l, asked: map[string]bool{}, vocabulary: spec.Vocabulary(l)}
	m.options = options(l)
	_, findings := logoOf(l)
	m.findings.Add(findings...)
	m.cautions()
	m.tasks()
	for _, name := range t.Languages() {
		lang := t.languages[name]
		for _, s := range lang.sections {
			m.condition(s.when)
			m.stop(s.stop, lang)
		}
		for _, p := range lang.passages() {
			m.passage(&p)
		}
	}
	for _, e := range t.troubles {
		m.condition(e.When)
	}
	m.labels()
	m.idle()
	return m.findings
}

// labels reports labels that neither the program nor a text asks for and that are
// no word of the line: its places and the words of its parts have labels too.
func (m *match) labels() {
	known := keys(m.templates.languages[Base].labels)
	for _, l := range m.templates.unasked {
		kind, word, _ := strings.Cut(l.name, ".")
		if (kind == "place" || kind == "enum") && m.line.Says(word) {
			continue
		}
		f := codeLabel.At(l.at, "nothing asks for a label %q", l.name)
		others := slices.DeleteFunc(slices.Clone(known), func(k string) bool { return k == l.name })
		m.findings.Add(near(f, l.name, others, "did you mean %q?"))
	}
}

// idle reports features written in the line that no condition of a text, a hazard
// or a job asks for.
func (m *match) idle() {
	asked := keys(m.asked)
	for _, h := range m.line.Hazards {
		asked = append(asked, h.When.Facts()...)
	}
	for _, t := range m.line.Tasks {
		asked = append(asked, t.When.Facts()...)
	}
	for _, w := range m.line.Provided() {
		if slices.Contains(asked, w.Value) {
			continue
		}
		f := codeIdle.At(w.At, "nothing asks for the feature %q", w.Value)
		if nearest, ok := source.Nearest(w.Value, slices.DeleteFunc(slices.Clone(m.vocabulary), func(known string) bool { return known == w.Value })); !ok {
			f = f.WithHint("delete it, or give it a hazard, a job or a text")
		} else if when, derived := spec.DerivedFeatures()[nearest]; derived {
			f = f.WithHint("delete it if you mean %q: a unit has that when %s", nearest, when)
		} else {
			f = f.WithHint("did you mean %q?", nearest)
		}
		m.findings.Add(f)
	}
}

// match holds templates against a line.
type match struct {
	templates  *Templates
	line       *product.Line
	vocabulary []string
	options    []string
	asked      map[string]bool // features of the vocabulary that the templates speak of
	findings   source.Findings
}

func options(l *product.Line) []string {
	ids := map[string]bool{}
	for _, model := range l.Models {
		for _, id := range model.Options.Names() {
			ids[id] = true
		}
	}
	return slices.Sorted(maps.Keys(ids))
}

// stop checks that a walk-around stop points at a kind of part, at a place of
// the line or of the trade, or at a landmark of the drawings.
func (m *match) stop(part word, lang *language) {
	if !part.Set {
		return
	}
	known := draw.Landmarks()
	for _, key := range keys(lang.labels) {
		if kind, rest, _ := strings.Cut(key, "."); kind == "kind" || kind == "place" {
			known = append(known, rest)
		}
	}
	for _, model := range m.line.Models {
		known = append(known, model.Parts.Names()...)
		for _, o := range model.Options {
			known = append(known, o.Value.Parts.Names()...)
		}
	}
	if !slices.Contains(known, part.Value) {
		m.findings.Add(near(codeFrontMatter.At(part.At, "the stop points at %q, which is no part of any unit", part.Value), part.Value, known, "did you mean %q?"))
	}
}

func (m *match) condition(c logic.Condition) {
	for _, name := range c.Facts() {
		if value, is := strings.CutPrefix(name, valueKind+":"); is {
			m.name(value, c.At(name))
		} else {
			m.feature(name, c.At(name))
		}
	}
}

func (m *match) feature(name string, at source.Pos) {
	_, found := slices.BinarySearch(m.vocabulary, name)
	if found {
		m.asked[name] = true
	} else {
		m.findings.Add(near(codeFeature.At(at, "no model, option or component brings the feature %q", name), name, m.vocabulary, "did you mean %q?"))
	}
}

func (m *match) passage(p *passage) {
	for _, c := range p.conditions {
		m.condition(c)
	}
	p.eachInline(func(in *inline) {
		if in.kind == inlinePlaceholder {
			m.name(in.text, in.at)
		}
	})
	eachPiece(p.body, true, func(b *piece, _ bool) {
		if b.fence == nil {
			return
		}
		for i := range b.fence.body {
			m.name(b.fence.body[i].name, b.fence.body[i].at)
		}
	})
}

// name checks the names that only the line can know.
func (m *match) name(name string, at source.Pos) {
	if id, ok := strings.CutPrefix(name, "option."); ok && !slices.Contains(m.options, id) {
		m.findings.Add(near(codeValue.At(at, "no model has an option %q", id), id, m.options, "did you mean {option.%s}?"))
	}
}

// cautions: a hazard without a caution leaves somebody unwarned; a caution for
// a hazard that does not exist is a slip in one of the two.
func (m *match) cautions() {
	var hazards []string
	for _, h := range m.line.Hazards {
		hazards = append(hazards, h.ID.Value)
	}
	covered := map[string]bool{}
	for _, c := range m.templates.cautions {
		m.condition(c.When)
		if len(c.Hazards) == 0 {
			m.findings.Add(codeCaution.At(c.ID.At, "caution %q names no hazard", c.ID.Value))
		}
		for _, h := range c.Hazards {
			covered[h.Value] = true
			if h.Set && !slices.Contains(hazards, h.Value) {
				m.findings.Add(near(codeCaution.At(h.At, "caution %q is for the hazard %q, which does not exist", c.ID.Value, h.Value), h.Value, hazards, "did you mean %q?"))
			}
		}
	}
	for _, h := range m.line.Hazards {
		if !covered[h.ID.Value] {
			m.findings.Add(codeCaution.At(h.ID.At, "hazard %q has no caution in cautions.yaml", h.ID.Value))
		}
	}
}

// tasks: each job of the line has its words, each text its job.
func (m *match) tasks() {
	var ids []string
	for _, task := range m.line.Tasks {
		ids = append(ids, task.ID.Value)
		for _, value := range task.Values {
			if !derive.IsDeclared(value.Value) {
				m.findings.Add(codeTask.At(value.At, "job %q names the value %q, which does not exist", task.ID.Value, value.Value))
			}
		}
	}
	for _, name := range m.templates.Languages() {
		lang := m.templates.languages[name]
		for _, task := range m.line.Tasks {
			if lang.tasks[task.ID.Value] == nil {
				m.findings.Add(codeTask.At(task.ID.At, "job %q has no words in %s/tasks", task.ID.Value, name))
			}
		}
		for _, id := range keys(lang.tasks) {
			if !slices.Contains(ids, id) {
				m.findings.Add(near(codeTask.At(lang.tasks[id].at, "there is no job %q", id), id, ids, "did you mean %q?"))
			}
		}
	}
}
