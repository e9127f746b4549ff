package render

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// Base is the language that carries the conditions; every other one only
// translates.
const Base = "en"

// Layer is one folder of templates. The first layer that has a text wins: a file of
// Markdown, a prescribed text or the style sheet is taken whole; in the other YAML
// files each entry counts for itself, so that a layer gives only those it adds or changes.
type Layer struct {
	Name  string // how positions in its files begin, such as "templates"
	Files fs.FS
}

// Templates are all templates of a run, parsed once. They are never changed
// afterwards and may be used by several goroutines.
type Templates struct {
	Files     []TemplateFile // every file read, in order
	Style     string         // style sheet of the page
	languages map[string]*language
	cautions  []caution
	troubles  []trouble
	work      workFile
	last      string   // name of the layer behind all others
	unasked   []asking // labels of a layer above the last that no text asks for and the last has not
}

// TemplateFile is one file that was read, and from which layer.
type TemplateFile struct {
	Name    string // inside the templates
	Layer   string // name of the layer it was read from
	Data    []byte
	Entries []string // ids of its entries, where each counts for itself
}

type language struct {
	labelsFile string // where its labels stand, for findings
	name       string
	sections   []*section // by place
	tasks      map[string]*taskText
	cautions   map[string]*cautionText
	troubles   map[string]*troubleText
	labels     map[string]source.Given[string]
	statements map[string]*statement
}

// section is one Markdown file of a guide.
type section struct {
	id     string
	at     source.Pos
	title  []inline
	short  string
	place  int
	parent string
	role   doc.Role
	when   logic.Condition
	stop   word   // kind or place of the part that carries the stop's number
	card   string // also, only, or "" where the card has nothing of it
	mail   string // the same for the mail
	body   []piece
	// conditions are all that stand in the body.
	conditions []logic.Condition
}

type word = source.Given[string]

type sectionHead struct {
	Title word              `yaml:"title,required"`
	Short word              `yaml:"short"`
	Place source.Given[int] `yaml:"place"`
	In    word              `yaml:"in"`
	Role  word              `yaml:"role" oneof:"cover contents chapter stop task statement form plain"`
	logic.Conditional
	Stop word `yaml:"stop"`
	Card word `yaml:"card" oneof:"also only"` // see also
	Mail word `yaml:"mail" oneof:"also only"`
}

// taskText is the words of one maintenance job.
type taskText struct {
	id    string
	at    source.Pos
	title []inline
	tools []inline
	body  []piece

	conditions []logic.Condition
}

type taskHead struct {
	Title word `yaml:"title,required"`
	Tools word `yaml:"tools"`
}

// caution is the language-free part of a caution.
type caution struct {
	ID      word               `yaml:"id,required"`
	Hazards []word             `yaml:"hazards,required"`
	Word    word               `yaml:"word,required" oneof:"danger warning caution notice"`
	Grave   source.Given[bool] `yaml:"grave"`
	logic.Conditional
}

// caution finds a caution; the templates were checked, so that it is there.
func (t *Templates) caution(id string) *caution {
	i := slices.IndexFunc(t.cautions, func(c caution) bool { return c.ID.Value == id })
	return &t.cautions[i]
}

type cautionText struct {
	at          source.Pos
	hazard      []inline
	consequence []inline
	avoid       [][]inline
}

type cautionWords struct {
	Hazard      word   `yaml:"hazard,required"`
	Consequence word   `yaml:"consequence,required"`
	Avoid       []word `yaml:"avoid,required"`
}

// trouble is the language-free part of a trouble entry.
type trouble struct {
	ID     word `yaml:"id,required"`
	System word `yaml:"system,required"`
	logic.Conditional
}

// troubleText is the words of a trouble entry. Each line may hang on conditions
// of its own.
type troubleText struct {
	at      source.Pos
	symptom []inline
	cause   []piece
	do      []piece
	stop    []piece

	conditions []logic.Condition
}

type troubleWords struct {
	Symptom word   `yaml:"symptom,required"`
	Cause   []word `yaml:"cause,required"`
	Do      []word `yaml:"do,required"`
	Stop    []word `yaml:"stop,required"`
}

// statement is a text that the law prescribes.
type statement struct {
	at         source.Pos
	title      string
	citation   string
	basis      string // how the wording is known
	paragraphs [][]inline
	steps      [][]inline
}

type statementFile struct {
	Title      word   `yaml:"title,required"`
	Citation   word   `yaml:"citation,required"`
	Basis      word   `yaml:"basis,required" oneof:"memory read"` // how the wording is known
	Paragraphs []word `yaml:"paragraphs"`
	Steps      []word `yaml:"steps"`
}

func values(words []word) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = w.Value
	}
	return out
}

// newHoles leaves out the holes in files with refused markup: what was refused
// is missing there, and that is told already.
func (l *loader) newHoles(found source.Findings) source.Findings {
	refused := map[string]bool{}
	for _, f := range l.findings {
		if f.Code == codeMarkup.ID {
			refused[f.Pos.File] = true
		}
	}
	return slices.DeleteFunc(found, func(f source.Finding) bool { return f.Code == codeHole.ID && refused[f.Pos.File] })
}

// LoadTemplates reads and compiles all templates. With errors among the
// findings the templates must not be used.
func LoadTemplates(layers ...Layer) (*Templates, source.Findings) {
	l := &loader{layers: layers, templates: &Templates{languages: map[string]*language{}, last: layers[len(layers)-1].Name}}
	l.cautions()
	l.troubles()
	l.works()
	style, shown, ok := l.read("style.css")
	if !ok {
		l.findings.Add(codeFile.At(source.Pos{File: shown}, "the style sheet is missing"))
	}
	l.style(source.Text(style), shown)
	for _, name := range l.folders(".") {
		if languageTag.MatchString(name) {
			l.language(name)
		}
	}
	if l.templates.languages[Base] == nil {
		l.findings.Add(codeFile.At(source.Pos{File: l.layers[0].Name + "/" + Base}, "the folder with the %s words is missing", Base))
	} else {
		l.checkTexts()
		l.findings.Add(l.templates.checkWork()...)
		l.findings.Add(l.newHoles(l.templates.validate())...)
	}
	l.strays()
	return l.templates, l.findings
}

// style takes the style sheet. It stands in the page as it is, so it must not be
// able to end its own element, nor to fetch anything.
func (l *loader) style(css []byte, shown string) {
	for i, line := range strings.Split(string(css), "\n") {
		for _, what := range []string{"<", "@import", "url(", "image-set(", "\\"} {
			if at := strings.Index(strings.ToLower(line), what); at >= 0 {
				l.findings.Add(codeFile.At(source.Pos{File: shown, Line: i + 1, Column: utf8.RuneCountInString(line[:min(at, len(line))]) + 1}, "%s cannot stand in the style sheet: the page fetches nothing and ends where it says", what))
			}
		}
	}
	l.templates.Style = string(css)
}

// strayLimit bounds the walk through a folder that holds no templates at all.
const strayLimit = 2000

// strays reports files that nothing reads: under a wrong name, words of the
// maker's own would be left out and the program's printed in their place.
// Hidden files, copies that editors keep and the text for readers are left alone.
func (l *loader) strays() {
	known, folders := map[string]bool{}, map[string]bool{}
	for _, f := range l.templates.Files {
		known[f.Name], folders[path.Dir(f.Name)] = true, true
	}
	for _, layer := range l.layers {
		seen := 0
		err := fs.WalkDir(layer.Files, ".", func(name string, entry fs.DirEntry, err error) error {
			base := path.Base(name)
			switch hidden := strings.HasPrefix(base, ".") && name != "."; {
			case err != nil:
				return err
			case hidden && entry.IsDir():
				return fs.SkipDir
			case hidden, entry.IsDir(), strings.HasSuffix(base, "~"), strings.HasPrefix(base, "#"), base == "README.md", name == "embed.go", known[name]:
				return nil
			}
			if seen++; seen > strayLimit {
				return fs.SkipAll
			}
			f := codeFile.At(source.Pos{File: layer.Name + "/" + name}, "nothing reads this file")
			if folder, ok := source.Nearest(path.Dir(name), keys(folders)); ok && !folders[path.Dir(name)] {
				f = f.WithHint("did you mean %q?", folder+"/"+base)
			} else {
				f = near(f, name, keys(known), "did you mean %q?")
			}
			l.findings.Add(f)
			return nil
		})
		if err != nil {
			l.findings.Add(codeFile.At(source.Pos{File: layer.Name}, "this folder cannot be read to its end"))
		}
	}
}

var (
	languageTag = regexp.MustCompile(`^[a-z]{2,3}(-[A-Z]{2})?$`)
	valueName   = regexp.MustCompile(`^[a-z][a-z0-9_]*(\.[a-z0-9_-]+)*$`)
)

type loader struct {
	layers    []Layer
	bytes     int // read so far
	markdown  int // of these, in sections and tasks of the language
	templates *Templates
	findings  source.Findings
}

// read returns a file from the first layer that has it. A file larger than
// the limit is a finding, not a read.
func (l *loader) read(name string) (data []byte, shown string, ok bool) {
	for _, layer := range l.layers {
		if file, there := l.readFrom(layer, name); there {
			return file.Data, layer.Name + "/" + name, file.Data != nil
		}
	}
	return nil, l.layers[0].Name + "/" + name, false
}

// readFrom reads a file of one layer, where it is there; it has no data when it
// cannot be read, which is reported.
func (l *loader) readFrom(layer Layer, name string) (file *TemplateFile, there bool) {
	info, err := fs.Stat(layer.Files, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, false
	}
	if err == nil && (!info.Mode().IsRegular() || info.Size() > source.LineLimit) {
		err = fmt.Errorf("it is not a plain file of at most %d bytes", source.LineLimit)
	}
	file = &TemplateFile{Name: name, Layer: layer.Name}
	if err == nil {
		file.Data, err = fs.ReadFile(layer.Files, name)
	}
	if l.bytes += len(file.Data); err == nil && l.bytes > source.FolderLimit {
		err = fmt.Errorf("with this file the templates have more than %d bytes", source.FolderLimit)
	}
	if err != nil {
		l.findings.Add(codeFile.At(source.Pos{File: layer.Name + "/" + name}, "cannot be read: %v", err))
		return &TemplateFile{}, true
	}
	if file.Data == nil {
		file.Data = []byte{}
	}
	l.templates.Files = append(l.templates.Files, *file)
	return &l.templates.Files[len(l.templates.Files)-1], true
}

// names lists a folder over all layers, sorted.
func (l *loader) names(folder string, keep func(fs.DirEntry) bool) []string {
	var out []string
	for _, layer := range l.layers {
		entries, err := fs.ReadDir(layer.Files, folder)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			l.findings.Add(codeFile.At(source.Pos{File: layer.Name + "/" + folder}, "cannot be read: %v", err))
		}
		for _, e := range entries {
			if keep(e) {
				out = append(out, e.Name())
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (l *loader) folders(folder string) []string {
	return l.names(folder, fs.DirEntry.IsDir)
}

func (l *loader) files(folder, ext string) []string {
	return l.names(folder, func(e fs.DirEntry) bool { return !e.IsDir() && path.Ext(e.Name()) == ext })
}

// yaml reads a YAML file into dst; false when it is not there or not usable.
func (l *loader) yaml(name string, dst any) bool {
	data, shown, ok := l.read(name)
	if !ok {
		l.findings.Add(codeFile.At(source.Pos{File: shown}, "the file is missing"))
		return false
	}
	root, findings := source.Parse(shown, data, source.LineLimit)
	if root != nil {
		source.Decode(root, dst, &findings)
	}
	l.findings.Add(findings...)
	return root != nil
}

// entries reads a YAML file of every layer that has it, the last layer first. Decode
// takes what one of them holds and tells the ids of its entries.
func (l *loader) entries(name string, decode func(root *source.Node, findings *source.Findings) (ids []string)) {
	found := false
	for _, layer := range slices.Backward(l.layers) {
		file, there := l.readFrom(layer, name)
		found = found || there
		if !there || file.Data == nil {
			continue
		}
		root, findings := source.Parse(layer.Name+"/"+name, file.Data, source.LineLimit)
		if root != nil {
			file.Entries = decode(root, &findings)
		}
		l.findings.Add(findings...)
	}
	if !found {
		l.findings.Add(codeFile.At(source.Pos{File: l.layers[0].Name + "/" + name}, "the file is missing"))
	}
}

// overlay lays the entries of one layer over those of the layers below: one of the
// same id takes its place, the others follow.
func overlay[S ~[]E, E any](below, above S, id func(E) string) S {
	place := map[string]int{}
	for i, e := range below {
		place[id(e)] = i
	}
	out := slices.Clone(below)
	for _, e := range above {
		if i, there := place[id(e)]; there {
			out[i] = e
		} else {
			out = append(out, e)
		}
	}
	return out
}

// readMap reads a YAML file that maps ids to something.
func readMap[T any](l *loader, name string) source.Map[T] {
	var all source.Map[T]
	l.entries(name, func(root *source.Node, findings *source.Findings) []string {
		var own source.Map[T]
		source.Decode(root, &own, findings)
		all = overlay(all, own, keyOf[T])
		return own.Names()
	})
	return all
}

func keyOf[T any](item source.Item[T]) string { return item.Key }

// readList reads a YAML file that lists what has an id each. No id stands twice in
// one layer.
func readList[T any](l *loader, name string, twice source.Code, id func(T) word) []T {
	var all []T
	l.entries(name, func(root *source.Node, findings *source.Findings) (ids []string) {
		var own []T
		source.Decode(root, &own, findings)
		seen := map[string]source.Pos{}
		for _, e := range own {
			w := id(e)
			if first, again := seen[w.Value]; again {
				findings.Add(twice.At(w.At, "%q stands here a second time", w.Value).WithRelated(first, "first here"))
			}
			seen[w.Value] = w.At
			ids = append(ids, w.Value)
		}
		all = overlay(all, own, func(e T) string { return id(e).Value })
		return ids
	})
	return all
}

func (l *loader) cautions() {
	l.templates.cautions = readList(l, "cautions.yaml", codeCaution, func(c caution) word { return c.ID })
}

// signalWords gives the order of gravity.
var signalWords = map[doc.Word]int{doc.Danger: 0, doc.Warning: 1, doc.Care: 2, doc.Notice: 3}

func (l *loader) troubles() {
	l.templates.troubles = readList(l, "trouble.yaml", codeTrouble, func(t trouble) word { return t.ID })
}

// works reads what belongs to each text; no layer need have such a file.
func (l *loader) works() {
	if l.names(".", func(e fs.DirEntry) bool { return e.Name() == "work.yaml" }) == nil {
		return
	}
	l.entries("work.yaml", func(root *source.Node, findings *source.Findings) (ids []string) {
		var own workFile
		source.Decode(root, &own, findings)
		all := l.templates.work.groups()
		for i, group := range own.groups() {
			*all[i].texts = overlay(*all[i].texts, *group.texts, keyOf[duty])
			for _, id := range group.texts.Names() {
				ids = append(ids, group.of+" "+id)
			}
		}
		return ids
	})
}

// workFile is the file work.yaml: what belongs to each text, by its id.
type workFile struct {
	Sections source.Map[duty] `yaml:"sections"`
	Jobs     source.Map[duty] `yaml:"jobs"`
	Cautions source.Map[duty] `yaml:"cautions"`
	Troubles source.Map[duty] `yaml:"troubles"`
}

// workGroup are the duties of the texts of one kind.
type workGroup struct {
	of    string // what the kind is called in findings
	texts *source.Map[duty]
}

func (w *workFile) groups() [4]workGroup {
	return [4]workGroup{{"section", &w.Sections}, {"job", &w.Jobs}, {"caution", &w.Cautions}, {"trouble entry", &w.Troubles}}
}

// duty is what a text has to say where it is there.
type duty struct {
	For      []word             `yaml:"for"`      // features of which each brings the text, and nothing else does
	Everyone source.Given[bool] `yaml:"everyone"` // every unit has it
	Hazards  []word             `yaml:"hazards"`  // it warns of
	Figures  []word             `yaml:"figures"`  // it tells
}

func (l *loader) language(name string) {
	l.markdown = 0
	lang := &language{name: name, tasks: map[string]*taskText{}, cautions: map[string]*cautionText{},
		troubles: map[string]*troubleText{}, labels: map[string]source.Given[string]{}, statements: map[string]*statement{}}
	l.templates.languages[name] = lang
	labels := readMap[word](l, name+"/labels.yaml")
	lang.labelsFile = l.layers[0].Name + "/" + name + "/labels.yaml"
	for _, f := range l.templates.Files {
		if f.Name == name+"/labels.yaml" {
			lang.labelsFile = f.Layer + "/" + f.Name
		}
	}
	for _, item := range labels {
		lang.labels[item.Key] = item.Value
	}
	l.cautionTexts(lang)
	l.troubleTexts(lang)
	for _, file := range l.files(name+"/sections", ".md") {
		if s := l.section(name, file); s != nil {
			lang.sections = append(lang.sections, s)
		}
	}
	for _, file := range l.files(name+"/tasks", ".md") {
		if t := l.task(name, file); t != nil {
			lang.tasks[t.id] = t
		}
	}
	for _, file := range l.files("statements", ".yaml") {
		l.statement(lang, file)
	}
	slices.SortStableFunc(lang.sections, func(a, b *section) int {
		return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(a.id, b.id))
	})
	l.checkSections(lang)
}

func (l *loader) cautionTexts(lang *language) {
	for _, item := range readMap[cautionWords](l, lang.name+"/cautions.yaml") {
		if len(item.Value.Avoid) == 0 {
			l.findings.Add(codeCaution.At(item.KeyAt, "caution %q has no avoid line", item.Key))
		}
		lang.cautions[item.Key] = &cautionText{item.KeyAt, l.inline(item.Value.Hazard), l.inline(item.Value.Consequence), l.inlineList(item.Value.Avoid)}
	}
}

func (l *loader) troubleTexts(lang *language) {
	for _, item := range readMap[troubleWords](l, lang.name+"/trouble.yaml") {
		t := &troubleText{at: item.KeyAt, symptom: l.inline(item.Value.Symptom)}
		lines := func(list []word) (out []piece) {
			for _, w := range list {
				p, conditions := compileLine(w.Value, w.At, &l.findings)
				out, t.conditions = append(out, p), append(t.conditions, conditions...)
			}
			return out
		}
		t.cause, t.do, t.stop = lines(item.Value.Cause), lines(item.Value.Do), lines(item.Value.Stop)
		lang.troubles[item.Key] = t
	}
}

func (l *loader) inline(w word) []inline { return compileInline(w.Value, w.At, &l.findings) }

func (l *loader) inlineList(list []word) [][]inline {
	out := make([][]inline, len(list))
	for i, w := range list {
		out[i] = l.inline(w)
	}
	return out
}

func (l *loader) statement(lang *language, file string) {
	var s statementFile
	if !l.yaml("statements/"+file, &s) {
		return
	}
	if len(s.Paragraphs)+len(s.Steps) == 0 {
		l.findings.Add(codeFile.At(s.Title.At, "the prescribed text is empty: it has neither paragraphs nor steps"))
	}
	lang.statements[strings.TrimSuffix(file, ".yaml")] = &statement{
		s.Title.At, s.Title.Value, s.Citation.Value, s.Basis.Value, l.inlineList(s.Paragraphs), l.inlineList(s.Steps)}
}

// markdownFile splits a file into front matter, decoded into head, and a body
// of the same length as the file, the front matter blanked.
func (l *loader) markdownFile(name string, head any) (body []byte, shown string, ok bool) {
	data, shown, found := l.read(name)
	if !found {
		return nil, shown, false
	}
	data = source.Text(data)
	start := source.Pos{File: shown, Line: 1, Column: 1}
	if what := tooMuch(data); what != "" {
		l.findings.Add(codeFile.At(start, "%s", what).WithHint("divide it into several"))
		return nil, shown, false
	}
	if l.markdown += len(data); l.markdown > maxLanguage {
		l.findings.Add(codeFile.At(start, "with this file the sections and tasks of the language have more than %d bytes", maxLanguage))
		return nil, shown, false
	}
	if !bytes.HasPrefix(data, []byte("---\n")) {
		l.findings.Add(codeFrontMatter.At(start, "the file must begin with front matter between two lines ---"))
		return nil, shown, false
	}
	end := bytes.Index(data, []byte("\n---\n"))
	if end < 0 {
		l.findings.Add(codeFrontMatter.At(start, "the front matter is not closed with a line ---"))
		return nil, shown, false
	}
	// The opening line becomes an empty one: line numbers stay the author's.
	root, findings := source.Parse(shown, append([]byte("   "), data[3:end+1]...), source.LineLimit)
	if root == nil {
		l.findings.Add(findings...)
		return nil, shown, false
	}
	source.Decode(root, head, &findings)
	l.findings.Add(findings...)
	body = slices.Clone(data)
	for i := range end + 4 {
		if body[i] != '\n' {
			body[i] = ' '
		}
	}
	return body, shown, !findings.HasErrors()
}

func (l *loader) section(lang, file string) *section {
	var head sectionHead
	body, shown, ok := l.markdownFile(lang+"/sections/"+file, &head)
	if !ok {
		return nil
	}
	s := &section{
		id: strings.TrimSuffix(file, ".md"), at: head.Title.At, title: l.inline(head.Title), short: head.Short.Value,
		place: head.Place.Value, parent: head.In.Value, role: doc.Role(head.Role.Value), stop: head.Stop, card: head.Card.Value, mail: head.Mail.Value,
		when: head.When,
	}
	s.body, s.conditions = compileBody(shown, body, &l.findings)
	if !logic.ValidName(s.id) {
		l.findings.Add(codeFile.At(source.Pos{File: shown}, "the file name is the section's address; use small letters, digits and hyphens only"))
	}
	if s.role == "" {
		s.role = doc.RolePlain
		if s.parent == "" {
			s.role = doc.RoleChapter
		}
	}
	l.checkBeside(s)
	if (s.role == doc.RoleStop) != s.stop.Set && lang == Base {
		l.findings.Add(codeFrontMatter.At(head.Title.At, "a section of role stop names under stop the part that carries its number; no other section does"))
	}
	if lang == Base && !head.Place.Set {
		l.findings.Add(codeFrontMatter.At(head.Title.At, "place is missing: the number that gives the section's order in the guide"))
	}
	if lang != Base && (head.Place.Set || head.In.Set || head.Role.Set || head.Card.Set || head.Mail.Set || !head.When.Always()) {
		l.findings.Add(codeFrontMatter.At(head.Title.At, "a translation gives only title and short; the %s file gives place and conditions", Base))
	}
	return s
}

func (l *loader) task(lang, file string) *taskText {
	var head taskHead
	body, shown, ok := l.markdownFile(lang+"/tasks/"+file, &head)
	if !ok {
		return nil
	}
	t := &taskText{id: strings.TrimSuffix(file, ".md"), at: head.Title.At, title: l.inline(head.Title), tools: l.inline(head.Tools)}
	t.body, t.conditions = compileBody(shown, body, &l.findings)
	return t
}

// checkSections holds parents and places against each other.
func (l *loader) checkSections(lang *language) {
	byID, places := map[string]*section{}, map[int]*section{}
	var ids []string
	for _, s := range lang.sections {
		byID[s.id] = s
		ids = append(ids, s.id)
		if other := places[s.place]; other != nil && lang.name == Base {
			l.findings.Add(codeFrontMatter.At(s.at, "place %d is taken by section %s", s.place, other.id).WithRelated(other.at, "there"))
		}
		places[s.place] = s
	}
	for _, s := range lang.sections {
		depth := 1
		for p := s; p.parent != ""; depth++ {
			parent := byID[p.parent]
			if parent == nil {
				f := codeFrontMatter.At(p.at, "section %s is in %q, which does not exist", p.id, p.parent)
				if near, ok := source.Nearest(p.parent, ids); ok {
					f = f.WithHint("did you mean %q?", near)
				}
				l.findings.Add(f)
				break
			}
			if depth > 3 {
				l.findings.Add(codeFrontMatter.At(s.at, "section %s is nested more than three deep, or in itself", s.id))
				break
			}
			p = parent
		}
	}
}

// checkTexts holds every language against the language-free lists: each id has
// its words and each word its id.
func (l *loader) checkTexts() {
	for _, name := range slices.Sorted(maps.Keys(l.templates.languages)) {
		lang := l.templates.languages[name]
		known := map[string]bool{}
		for _, c := range l.templates.cautions {
			known[c.ID.Value] = true
			if lang.cautions[c.ID.Value] == nil {
				l.findings.Add(codeCaution.At(c.ID.At, "caution %q has no words in %s", c.ID.Value, name))
			}
		}
		for _, id := range slices.Sorted(maps.Keys(lang.cautions)) {
			if !known[id] {
				l.findings.Add(near(codeCaution.At(lang.cautions[id].at, "caution %q is not in cautions.yaml", id), id, keys(known), "did you mean %q?"))
			}
		}
		known = map[string]bool{}
		for _, t := range l.templates.troubles {
			known[t.ID.Value] = true
			if lang.troubles[t.ID.Value] == nil {
				l.findings.Add(codeTrouble.At(t.ID.At, "trouble entry %q has no words in %s", t.ID.Value, name))
			}
		}
		for _, id := range slices.Sorted(maps.Keys(lang.troubles)) {
			if !known[id] {
				l.findings.Add(near(codeTrouble.At(lang.troubles[id].at, "trouble entry %q is not in trouble.yaml", id), id, keys(known), "did you mean %q?"))
			}
		}
		for _, key := range doc.ReaderWords {
			if _, ok := lang.labels[key]; !ok {
				l.findings.Add(codeLabel.At(source.Pos{File: lang.labelsFile}, "label %q is missing", key))
			}
		}
	}
}

// Languages lists the languages there are words for, sorted.
func (t *Templates) Languages() []string { return slices.Sorted(maps.Keys(t.languages)) }
