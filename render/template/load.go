package template

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"ownerguide/render/doc"
	"ownerguide/spec/parallel"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// Load reads and compiles all templates. A Markdown file, a prescribed text or the style
// sheet is taken from the first layer that has it; other YAML files are merged entry by
// entry, so that a layer contains only the entries it adds or changes. If the findings
// include errors, the templates must not be used.
//
// Proved, which may be nil, reports whether these are files that passed a proof, which includes
// all checks made here. Then they are not checked again, and a section or job is compiled when it
// is first used.
func Load(program Program, proved func([]source.File) bool, layers ...source.Layer) (*Templates, source.Findings) {
	l := &loader{
		folder:    source.NewFolder("the templates", source.FolderCodes{Unreadable: CodeFile, Stray: CodeFile}, layers...),
		program:   layers[len(layers)-1],
		templates: &Templates{languages: map[string]*Language{}, texts: &proof.Texts{Never: map[string][]string{}}, program: program, prepared: &sync.Once{}},
	}
	for _, layer := range layers {
		l.layers = append(l.layers, layer.Name)
	}
	t := l.templates
	systems := source.ReadFolder[systemFile](l.folder, SystemsFolder)
	t.Cautions = l.cautions(beside(systems, func(s systemFile) []Caution { return s.Cautions }))
	t.Troubles = l.troubles(beside(systems, func(s systemFile) []Trouble { return s.Trouble }))
	l.outline(beside(systems, func(s systemFile) []chapterEntry { return s.Outline }))
	if style, ok := l.folder.Read("style.css"); ok {
		l.style(style)
	}
	for _, ending := range []string{".svg", ".png"} {
		for _, name := range l.folder.Names(PictureFolder, ending) {
			if file, ok := l.folder.Read(PictureFolder + "/" + name); ok {
				t.Pictures = append(t.Pictures, file)
			}
		}
	}
	for _, name := range l.folder.Folders(".") {
		if source.ValidLanguage(name) {
			l.language(name)
		}
	}
	t.Files = slices.Clone(l.folder.Files)
	t.Snapshot = sync.OnceValue(func() source.File { return l.snapshot(layers[0]) }) // not among Files: guides do not depend on it
	t.complete, t.Prescribed = sync.OnceFunc(l.complete), sync.OnceValue(t.findPrescribed)
	if t.Proved = proved != nil && proved(t.Files); t.Proved {
		return t, l.folder.Findings
	}
	t.Snapshot()
	t.complete()
	l.folder.Strays(nil)
	return t, holesToTell(l.folder.Findings)
}

// complete compiles what is not compiled yet, checks everything, and lists what the texts name.
func (l *loader) complete() {
	t := l.templates
	parallel.Each(len(l.markdown), func(i int) { l.markdown[i].compile() })
	for _, m := range l.markdown {
		l.add(*m.findings...)
	}
	if t.languages[Base] == nil {
		l.add(CodeFile.At(source.Pos{File: l.folder.Shown(Base)}, "the folder with the %s words is missing", Base))
		return
	}
	l.checkWords()
	if len(l.layers) > 1 && !l.folder.Findings.HasErrors() {
		l.notWeaker(l.program)
	}
	l.checkOpeningPanels()
	l.add(t.collect()...)
	l.add(t.checkNames()...)
	l.checkPicturesShown()
	t.noteUnusedLabels(l.folder.Files, l.program.Name)
}

// PictureFolder is the folder of the maker's own pictures.
const PictureFolder = "pictures"

// checkPicturesShown reports pictures that no text shows: they would make the templates
// of every guide larger, and were made for a purpose.
func (l *loader) checkPicturesShown() {
	shown := map[string]bool{}
	for _, r := range l.templates.texts.References {
		if r.Kind == proof.Picture {
			shown[PictureFolder+"/"+r.Name] = true
		}
	}
	for _, f := range l.templates.Pictures {
		if !shown[f.Name] {
			l.add(CodePicture.At(source.Pos{File: f.Shown()}, "no text shows this picture").WithHint("delete it, or put a block ```picture %s into a section", strings.TrimPrefix(f.Name, PictureFolder+"/")))
		}
	}
}

type loader struct {
	folder    *source.Folder
	layers    []string     // their names
	program   source.Layer // the lowest
	markdown  []uncompiled // sections and jobs of all languages
	bytes     int          // in those of the language
	templates *Templates
}

// uncompiled is a section or job that may not be compiled yet.
type uncompiled struct {
	id         string
	statements bool   // it has the word statement, and so may have a prescribed text
	compile    func() // at most once
	findings   *source.Findings
}

// beside returns the entries of one kind in the files of systems, by layer.
func beside[F any, S ~[]E, E any](systems [][]F, of func(F) S) []S {
	out := make([]S, len(systems))
	for layer, files := range systems {
		for _, f := range files {
			out[layer] = append(out[layer], of(f)...)
		}
	}
	return out
}

func (l *loader) cautions(beside [][]Caution) []Caution {
	return source.ReadList(l.folder, "cautions.yaml", beside, codeCaution, func(c Caution) word { return c.ID })
}

func (l *loader) troubles(beside [][]Trouble) []Trouble {
	return source.ReadList(l.folder, "trouble.yaml", beside, codeTrouble, func(e Trouble) word { return e.ID })
}

func (l *loader) add(findings ...source.Finding) { l.folder.Findings.Add(findings...) }

// SnapshotFile is a file of the templates that lists what they said when they were last
// accepted; see [proof.Subject].
const SnapshotFile = "snapshot.txt"

// snapshot reads the snapshot of the first layer: one of a lower layer does not describe the
// templates of the maker.
func (l *loader) snapshot(first source.Layer) (file source.File) {
	if slices.Contains(l.folder.Names(".", ".txt"), SnapshotFile) {
		file, _ = l.folder.Read(SnapshotFile)
	}
	if file.Layer != first.Name {
		return source.File{}
	}
	return file
}

// style reads the style sheet. It is inserted into the page unchanged, so it must not be
// able to end its element or to load anything.
func (l *loader) style(file source.File) {
	for i, line := range strings.Split(string(source.Text(file.Data)), "\n") {
		for _, what := range []string{"<", "@import", "url(", "image-set(", "\\"} {
			if at := strings.Index(strings.ToLower(line), what); at >= 0 {
				l.add(CodeFile.At(source.Pos{File: file.Shown(), Line: i + 1, Column: utf8.RuneCountInString(line[:min(at, len(line))]) + 1}, "%s cannot stand in the style sheet: the page fetches nothing and ends where it says", what))
			}
		}
	}
	l.templates.Style = string(source.Text(file.Data))
}

func (l *loader) language(name string) {
	l.bytes = 0
	first := len(l.markdown)
	lang := &Language{Name: name, Cautions: map[string]*CautionWords{},
		Troubles: map[string]*TroubleWords{}, Labels: map[string]source.Given[string]{}, Statements: map[string]*Statement{}, statements: map[string]bool{}}
	l.templates.languages[name] = lang
	lang.LabelsFile = l.folder.Shown(name + "/labels.yaml")
	systems := source.ReadFolder[systemWords](l.folder, name+"/"+SystemsFolder)
	for _, item := range wordsOf(l, name, "labels.yaml", beside(systems, func(s systemWords) source.Map[word] { return s.Labels })) {
		lang.Labels[item.Key] = item.Value
	}
	l.readForms(lang)
	for _, item := range wordsOf(l, name, "cautions.yaml", beside(systems, func(s systemWords) source.Map[cautionFile] { return s.Cautions })) {
		if len(item.Value.Avoid) == 0 {
			l.add(codeCaution.At(item.KeyAt, "caution %q has no avoid line", item.Key))
		}
		v := item.Value
		words := &CautionWords{At: item.KeyAt, Hazard: l.inline(v.Hazard), Consequence: l.inline(v.Consequence), Avoid: l.inlineList(v.Avoid)}
		if v.Short.Value != "" {
			words.Short = l.inline(v.Short)
		}
		lang.Cautions[item.Key] = words
	}
	for _, item := range wordsOf(l, name, "trouble.yaml", beside(systems, func(s systemWords) source.Map[troubleFile] { return s.Trouble })) {
		v := item.Value
		words := &TroubleWords{At: item.KeyAt, Symptom: l.inline(v.Symptom), Cause: l.lines(v.Cause), Do: l.lines(v.Do), Stop: l.lines(v.Stop)}
		if v.Short.Value != "" {
			words.Short = l.inline(v.Short)
		}
		lang.Troubles[item.Key] = words
	}
	l.glossary(lang, beside(systems, func(s systemWords) source.Map[termFile] { return s.Glossary }))
	section := func(f *markdownFile[sectionHead]) *SectionWords {
		head, body := f.compile(l.templates.Proved)
		return &SectionWords{f.at, f.inline(head.Title), head.Short.Value, append(l.openingPanels(f.id), body...)}
	}
	job := func(f *markdownFile[jobHead]) *JobWords {
		head, body := f.compile(l.templates.Proved)
		return &JobWords{f.at, f.inline(head.Title), f.inline(head.Tools), head.At, append(l.openingPanels(f.id), body...)}
	}
	lang.Sections = markdownFiles(l, name+"/sections", beside(systems, func(s systemWords) (list []*markdownFile[sectionHead]) {
		for _, e := range s.Sections {
			list = append(list, markdownIn(l, e.Key, e.Value.sectionHead, e.Value.Text))
		}
		return list
	}), section)
	lang.Jobs = markdownFiles(l, name+"/tasks", beside(systems, func(s systemWords) (list []*markdownFile[jobHead]) {
		for _, e := range s.Tasks {
			list = append(list, markdownIn(l, e.Key, e.Value.jobHead, e.Value.Text))
		}
		return list
	}), job)
	for _, m := range l.markdown[first:] {
		lang.statements[m.id] = lang.statements[m.id] || m.statements
	}
	for _, file := range l.folder.Names("statements", ".yaml") {
		l.statement(lang, file)
	}
}

// wordsOf reads a file of texts. It may be missing in any language but the base.
func wordsOf[T any](l *loader, lang, file string, beside []source.Map[T]) source.Map[T] {
	name := lang + "/" + file
	if lang != Base && !l.folder.Has(name) && len(slices.Concat(beside...)) == 0 {
		return nil
	}
	return source.ReadMap(l.folder, name, beside)
}

// readForms reads the plural rules and unit notation of a language.
func (l *loader) readForms(lang *Language) {
	lang.Units = map[string]string{}
	for _, key := range keys(lang.Labels) {
		if symbol, ok := strings.CutPrefix(key, UnitLabel); ok {
			lang.Units[symbol] = lang.Labels[key].Value
		}
	}
	l.templates.texts.Never[lang.Name] = strings.Fields(strings.ToLower(lang.Labels[NeverLabel].Value))
	for _, class := range doc.PluralClasses {
		if rule, ok := lang.Labels[pluralLabel+class]; ok {
			if err := lang.Plurals.Add(class, rule.Value); err != nil {
				l.add(CodeLabel.At(rule.At, "the rule for counts: %v", err))
			}
		}
	}
}

// Prefixes of the keys of labels that not every language needs: plural rules, and names of months.
const (
	pluralLabel = "plural."
	monthLabel  = "month."
)

// CountLabel is the prefix of the keys of labels that print a count with its noun: "{n} years".
const CountLabel = "count."

// NeverLabel is the key of the label with the words, separated by spaces, that express a
// prohibition.
const NeverLabel = "never"

// AlphabetLabel is the key of the label with the alphabet of the language.
const AlphabetLabel = "alphabet"

// checkForms checks a language against the base: a label with a plural form there must have all
// plural forms here; signal words and signs of numbers must be distinct.
func (l *loader) checkForms(lang *Language) {
	base := l.templates.languages[Base]
	for _, id := range keys(base.Labels) {
		of, class, _ := cutLast(id)
		if !base.Labels[of].Set || !slices.Contains(doc.PluralClasses, class) {
			continue
		}
		for _, class := range lang.Plurals.Classes() {
			if form := of + "." + class; lang.Labels[of].Set && !lang.Labels[form].Set {
				l.add(CodeLabel.At(lang.Labels[of].At, "label %q is missing: the language tells that class of counts apart", form))
			}
		}
	}
	for _, pair := range [][2]string{{"number.group", "number.decimal"}, {"signal.danger", "signal.warning"}, {"signal.danger", "signal.caution"}, {"signal.danger", "signal.notice"},
		{"signal.warning", "signal.caution"}, {"signal.warning", "signal.notice"}, {"signal.caution", "signal.notice"}} {
		a, b := lang.Labels[pair[0]], lang.Labels[pair[1]]
		if a.Set && b.Set && a.Value == b.Value {
			l.add(CodeLabel.At(b.At, "%s and %s are both %q: nobody could tell them apart", pair[0], pair[1], a.Value))
		}
	}
}

// cutLast splits an id at its last dot.
func cutLast(id string) (before, after string, found bool) {
	at := strings.LastIndexByte(id, '.')
	if at < 0 {
		return id, "", false
	}
	return id[:at], id[at+1:], true
}

// openingPanels returns the panels that a section or job begins with: those of the cautions
// that list it, in the order of the cautions file.
func (l *loader) openingPanels(id string) (panels []Block) {
	for _, c := range l.templates.Cautions {
		for _, in := range c.In {
			if in.Value == id {
				panels = append(panels, Block{Kind: CallBlock, Call: &Call{Name: string(proof.Panel), Args: []string{c.ID.Value}}, At: in.At})
			}
		}
	}
	return panels
}

// checkOpeningPanels checks that they are sections and jobs.
func (l *loader) checkOpeningPanels() {
	base := l.templates.languages[Base]
	for _, c := range l.templates.Cautions {
		for _, in := range c.In {
			if base.Sections[in.Value] == nil && base.Jobs[in.Value] == nil {
				l.add(codeCaution.At(in.At, "caution %q opens %q, which is no section and no job", c.ID.Value, in.Value).DidYouMean(in.Value, append(keys(base.Sections), keys(base.Jobs)...), ""))
			}
		}
	}
}

func (l *loader) inline(w word) []Inline { return compileInline(w.Value, w.At, &l.folder.Findings) }

func (l *loader) inlineList(list []word) [][]Inline {
	out := make([][]Inline, len(list))
	for i, w := range list {
		out[i] = l.inline(w)
	}
	return out
}

func (l *loader) lines(list []word) (out []Block) {
	for _, w := range list {
		out = append(out, compileLine(w.Value, w.At, &l.folder.Findings))
	}
	return out
}

func (l *loader) statement(lang *Language, file string) {
	var s statementFile
	if l.folder.Decode("statements/"+file, &s) == nil {
		return
	}
	if len(s.Paragraphs)+len(s.Steps) == 0 {
		l.add(CodeFile.At(s.Title.At, "the prescribed text is empty: it has neither paragraphs nor steps"))
	}
	lang.Statements[strings.TrimSuffix(file, ".yaml")] = &Statement{
		s.Title.At, cmp.Or(s.Language.Value, Base), s.Title.Value, s.Citation.Value, s.Basis.Value, l.prescribed(s.Paragraphs), l.prescribed(s.Steps)}
}

// checkWords checks every language against the language-independent files: each text has
// an id there, and in the base language each id has a text. Another language may be
// unfinished; then no guide is made in it, see [proof.Language].
func (l *loader) checkWords() {
	t := l.templates
	sections := mapped(t.Sections(), func(s *Section) word { return word{Value: s.ID, At: s.At} })
	cautions := mapped(t.Cautions, func(c Caution) word { return c.ID })
	troubles := mapped(t.Troubles, func(e Trouble) word { return e.ID })
	for _, name := range t.Languages() {
		lang, whole := t.languages[name], name == Base
		sameIDs(l, codeOutline, "section", "outline.yaml", name, sections, lang.Sections, func(w func() *SectionWords) source.Pos { return w().At }, whole)
		sameIDs(l, codeCaution, "caution", "cautions.yaml", name, cautions, lang.Cautions, func(w *CautionWords) source.Pos { return w.At }, whole)
		sameIDs(l, codeTrouble, "trouble entry", "trouble.yaml", name, troubles, lang.Troubles, func(w *TroubleWords) source.Pos { return w.At }, whole)
		l.checkForms(lang)
		for _, key := range t.program.Labels {
			if _, ok := lang.Labels[key]; !ok && whole {
				l.add(CodeLabel.At(source.Pos{File: lang.LabelsFile}, "label %q is missing", key))
			}
		}
	}
}

// sameIDs compares ids with the texts that a language has for them: every text must have
// an id and, if whole is set, every id a text.
func sameIDs[W any](l *loader, code source.Code, what, file, lang string, ids []word, words map[string]W, at func(W) source.Pos, whole bool) {
	known := map[string]bool{}
	for _, id := range ids {
		known[id.Value] = true
		if _, ok := words[id.Value]; !ok && whole {
			l.add(code.At(id.At, "%s %q has no words in %s", what, id.Value, lang))
		}
	}
	for _, id := range keys(words) {
		if !known[id] {
			l.add(code.At(at(words[id]), "%s %q is not in %s", what, id, file).DidYouMean(id, keys(known), ""))
		}
	}
}

// suggestNearest adds a hint with the nearest known name.
func suggestNearest(f source.Finding, name string, known []string, hint string) source.Finding {
	if nearest, ok := source.Nearest(name, known); ok {
		return f.WithHint(hint, nearest)
	}
	return f
}
