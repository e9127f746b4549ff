package render

import (
	"fmt"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"unicode"

	"gopkg.in/yaml.v3"

	"ownerguide/render/doc"
	"ownerguide/render/html"
	"ownerguide/render/pdf"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/proof"
	"ownerguide/spec/source"
	"ownerguide/spec/testenv"
	"ownerguide/templates"
)

// A language made by machine: every word of English has accents and is a third longer, counts have a class more, days, lists and
// figures are written otherwise. No line of Go knows it.
const madeUp = "qps"

var accents = strings.NewReplacer("a", "á", "e", "é", "i", "í", "o", "ó", "u", "ú", "y", "ÿ", "A", "Á", "E", "É", "I", "Í", "O", "Ó", "U", "Ú")

// foreign puts a text into the made-up language: words get accents and grow, and joining signs are others, so that
// a sign or word that the program glues in shows.
func foreign(text string) string {
	text = inWords.ReplaceAllStringFunc(text, func(word string) string {
		changed := accents.Replace(word)
		if changed == word {
			changed += "é" // no vowel
		}
		return changed + strings.Repeat("ö", (len(word)+2)/3)
	})
	text = endOfSentence.ReplaceAllString(text, "$1…$2")
	text = strings.ReplaceAll(text, "… ", "… – ")
	return strings.NewReplacer(", ", " ~ ", ": ", " = ", "; ", " + ", " (", " ‹").Replace(text)
}

// twoSentences is where another sentence follows, and the language does not say how.
var twoSentences = regexp.MustCompile(`(\pL\.|…) \pL`)

// loadRange is the letter behind a tire's size, the same in every language.
var loadRange = regexp.MustCompile(` \([A-Z]\)`)

// endOfSentence is where a sentence ends.
var endOfSentence = regexp.MustCompile(`(\pL|^)\.( |$)`)

var (
	inWords = regexp.MustCompile(`[A-Za-z]+`)
	// spared is what of a text of the templates is no words: conditions, placeholders, addresses, marks.
	spared = regexp.MustCompile(`\{[^}]*\}|\]\([^)]*\)|\[[ x]\]|<[^>]*>`)
)

// foreignText is foreign outside placeholders and addresses.
func foreignText(text string) string {
	out, at := "", 0
	for _, m := range spared.FindAllStringIndex(text, -1) {
		out += foreign(text[at:m[0]]) + text[m[0]:m[1]]
		at = m[1]
	}
	return out + foreign(text[at:])
}

var (
	frontKey  = regexp.MustCompile(`^(title|short|tools): (.*)$`)
	fenceName = regexp.MustCompile(`^((?:\{\?[^}]*\} )?(?:[a-z0-9_.-]+: )?)(.*)$`)
)

// foreignMarkdown is a section or job in the made-up language.
func foreignMarkdown(text string) string {
	var out []string
	marks, fenced := 0, false
	for _, row := range strings.Split(text, "\n") {
		switch {
		case row == "---" && marks < 2:
			marks++
		case strings.HasPrefix(row, "```"):
			fenced = !fenced
		case marks < 2:
			if m := frontKey.FindStringSubmatch(row); m != nil {
				var plain string
				if err := yaml.Unmarshal([]byte(m[2]), &plain); err != nil {
					panic(err)
				}
				row = m[1] + ": " + strconv.Quote(foreignText(plain))
			}
		case fenced:
			m := fenceName.FindStringSubmatch(row)
			row = m[1] + foreignText(m[2])
		default:
			row = foreignText(row)
		}
		out = append(out, row)
	}
	return strings.Join(out, "\n")
}

// foreignYAML changes every text of a file of words.
func foreignYAML(t *testing.T, data []byte) []byte {
	t.Helper()
	var root yaml.Node
	if err := yaml.Unmarshal(data, &root); err != nil {
		t.Fatal(err)
	}
	var walk func(n *yaml.Node)
	walk = func(n *yaml.Node) {
		for i, c := range n.Content {
			if n.Kind == yaml.MappingNode && i%2 == 0 {
				continue
			}
			if c.Kind == yaml.ScalarNode {
				c.Value = foreignText(c.Value)
			}
			walk(c)
		}
	}
	walk(&root)
	out, err := yaml.Marshal(&root)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// forms are what the made-up language has of its own.
var forms = map[string]string{
	"number.group": ".", "number.decimal": ",", "number.mixed": "{whole} & {fraction}", "number.both": "{first} ‹{second}›", "plural.one": "i = 1 and v = 0", "plural.few": "i % 10 = 2..4",
	"date": "{d}. {name} {year}", "alphabet": "aábcdefghijklmnopqrstuvwxyz", "list.comma": "{a} ~ {b}", "list.semicolon": "{a} + {b}", "list.and": "{a} ét {b}", "list.or": "{a} óu {b}", "list.colon": "{a} = {b}", "list.sentences": "{a} – {b}",
}

// madeUpWords are the folder of the made-up language, and its words of the line.
func madeUpWords(t *testing.T) (words fstest.MapFS, ofLine []byte) {
	t.Helper()
	_, ts := embedded(t)
	words = fstest.MapFS{}
	err := fs.WalkDir(templates.Files, template.Base, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(templates.Files, name)
		if err != nil {
			return err
		}
		switch filepath.Ext(name) {
		case ".md":
			data = []byte(foreignMarkdown(string(data)))
		case ".yaml":
			data = foreignYAML(t, data)
		}
		words[madeUp+strings.TrimPrefix(name, template.Base)] = &fstest.MapFile{Data: data}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	labels := map[string]string{}
	for key, l := range ts.Language(template.Base).Labels {
		labels[key] = strings.ReplaceAll(foreignText(l.Value), "} {", "} – {")
		if of, is := strings.CutSuffix(key, ".one"); is && of != "plural" {
			labels[of+".few"] = foreignText(ts.Language(template.Base).Labels[of].Value) + "ß"
		}
	}
	maps.Copy(labels, forms)
	for i := 1; i <= 12; i++ {
		labels[fmt.Sprintf("month.%d", i)] = fmt.Sprintf("möñth%d", i)
	}
	if words[madeUp+"/labels.yaml"].Data, err = yaml.Marshal(labels); err != nil {
		t.Fatal(err)
	}
	data, err := fs.ReadFile(line.Files, "text/en.yaml")
	if err != nil {
		t.Fatal(err)
	}
	return words, foreignYAML(t, data)
}

// madeUpLine loads the line with its words in the made-up language.
func madeUpLine(t *testing.T, ofLine []byte) *product.Line {
	t.Helper()
	l, findings := spec.LoadLine(withFile{line.Files, "text/" + madeUp + ".yaml", ofLine}, "line")
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	return l
}

// madeUpTemplates loads the words with those of the made-up language.
func madeUpTemplates(words fstest.MapFS) (*Templates, source.Findings) {
	return LoadTemplates(source.Layer{Name: "own", Files: words}, source.Layer{Name: "templates", Files: templates.Files})
}

// withFile is a folder with one file more.
type withFile struct {
	fs.FS
	name string
	data []byte
}

func (w withFile) Open(name string) (fs.File, error) {
	if name == w.name {
		return fstest.MapFS{name: {Data: w.data}}.Open(name)
	}
	return w.FS.Open(name)
}

func (w withFile) ReadDir(name string) ([]fs.DirEntry, error) {
	list, err := fs.ReadDir(w.FS, name)
	if dir, file := filepath.Split(w.name); err == nil && filepath.Clean(dir) == name {
		entries, err := fs.ReadDir(fstest.MapFS{file: {Data: w.data}}, ".")
		if err != nil {
			return nil, err
		}
		list = append(list, entries...)
	}
	return list, err
}

// Every sample is written in a language that the program does not know: nothing of English is left in it but what sheet, law and
// maker say, no sign is put between words but those of the language, and a third more room is there.
func TestALanguageNeedsNoProgram(t *testing.T) {
	t.Parallel()
	words, ofLine := madeUpWords(t)
	l := madeUpLine(t, ofLine)
	ts, findings := madeUpTemplates(words)
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	left := map[string]string{}
	var all strings.Builder
	for _, file := range testenv.Sample(t, samples(t), 3) {
		s := readSheet(t, file.name, file.data)
		s.Language = source.Given[string]{Value: madeUp, Set: true}
		b, vs := unit(t, l, s)
		g, findings := ts.Assemble(b, vs, nil)
		if g == nil || len(findings) > 0 {
			t.Fatal(written(findings))
		}
		own := ownWords(string(file.data), l, ts)
		all.WriteString(strings.ReplaceAll(doc.PlainText(g.Sections...), "\u00a0", " "))
		noteTexts(g, func(text string) {
			text = spared.ReplaceAllString(text, "") // braces that the readers fill
			text = loadRange.ReplaceAllString(text, "")
			for _, line := range append(source.Values(l.Maker.Address), s.Notes.Value) {
				text = strings.ReplaceAll(text, line, "")
			}
			for _, w := range strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) }) {
				if len(w) > 1 && inWords.FindString(w) == w && !own[w] {
					left[w] = s.Serial.Value + ": " + text
				}
			}
			for _, glue := range []string{", ", ": ", "; ", " (", twoSentences.FindString(text)} {
				if glue != "" && strings.Contains(text, glue) && !own[text] {
					left[glue] = s.Serial.Value + ": " + text
				}
			}
		})
		page, err := html.Write(g, ts.Style)
		if err != nil {
			t.Error(s.Serial.Value, err)
		}
		if !strings.Contains(string(page), `<div lang="en">`) {
			t.Errorf("%s: the page does not say that the prescribed texts are English", s.Serial.Value)
		}
		for _, g := range []*doc.Guide{g, g.Card} {
			opt := pdf.Options{Paper: pdf.Letter}
			if g.Serial == "" {
				continue
			}
			if _, err := pdf.Measure(g, opt); err != nil {
				t.Error(s.Serial.Value, err)
			}
		}
	}
	for _, w := range slices.Sorted(maps.Keys(left)) {
		t.Errorf("%q is left in %q", w, left[w])
	}
	for _, want := range []string{
		"2 " + foreign("chains") + "ß", // a count of the class few
		"8 " + foreign("studs"),
		"3/8 " + foreign("in"), // the nominal size of a chain
	} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("nothing says %q", want)
		}
	}
}

// Which system of units comes first is for the reader to say.
func TestTheOwnerChoosesTheUnits(t *testing.T) {
	t.Parallel()
	l, ts := embedded(t)
	file := samples(t)[0]
	for units, want := range map[string]string{"": "50 psi (345 kPa)", "us": "50 psi (345 kPa)", "metric": "345 kPa (50 psi)"} {
		s := readSheet(t, file.name, file.data)
		s.Units = source.Given[string]{Value: units, Set: units != ""}
		b, vs := unit(t, l, s)
		v, ok := vs.Lookup("tires.cold_pressure")
		if got := v.Print(ts.Print(b)); !ok || got != want {
			t.Errorf("units %q: %s, want %s", units, got, want)
		}
	}
}

// ownWords are words, and texts, that stand in a guide as somebody wrote them in any language: those of the sheet, of the
// maker and of prescribed texts.
func ownWords(ofSheet string, l *product.Line, ts *Templates) map[string]bool {
	own := map[string]bool{}
	add := func(texts ...string) {
		for _, text := range texts {
			own[text] = true
			for _, w := range inWords.FindAllString(text, -1) {
				own[w] = true
			}
		}
	}
	m := l.Maker
	add(ofSheet, m.Name.Value, m.Web.Value, m.Email.Value, m.ID.Value)
	add(source.Values(m.Address)...)
	axles, tires := spec.AxleAndTirePlaces()
	for _, place := range append(axles, tires...) { // the sheet names them by ids, the language in words
		for _, w := range strings.Fields(place) {
			delete(own, w)
		}
	}
	add("DOT", "ISO VG", "SAE", "ST") // standards, and the letters of a tire's size
	for _, c := range l.Components.All() {
		if plug, is := c.Data.(*product.Connector); is {
			for _, pin := range plug.Pins {
				add(pin.Place.Value) // molded in the plug
			}
		}
	}
	for _, s := range ts.Language(template.Base).Statements {
		var all strings.Builder
		for _, p := range slices.Concat(s.Paragraphs, s.Steps) {
			for _, in := range p {
				all.WriteString(in.Text)
				add(in.Text)
			}
		}
		add(all.String(), s.Title)
	}
	return own
}

// Each thing that a translation can lose is told at its file and line.
func TestLossesOfATranslationAreTold(t *testing.T) {
	t.Parallel()
	whole, ofLine := madeUpWords(t)
	l := madeUpLine(t, ofLine)
	told := func(words fstest.MapFS) string {
		ts, findings := madeUpTemplates(words)
		if findings.HasErrors() {
			return written(findings)
		}
		for _, f := range proof.Language(l, ts.Texts(), madeUp) {
			findings.Add(f.Finding)
		}
		return written(findings)
	}
	if got := told(whole); got != "" {
		t.Fatalf("nothing is lost, and it is told:\n%.2000s", got)
	}
	losses := []struct{ name, file, old, new, want string }{
		{"copy", "sections/stop-wheels.md", "", "", `is not translated`},
		{"placeholder", "sections/stop-wheels.md", "{wheels.studs studs}", "stúdsöö", "{wheels.studs} stands in en and not in qps"},
		{"placeholder of a label", "labels.yaml", "{direction}", "", "{direction} stands in en and not in qps"},
		{"condition", "sections/stop-wheels.md", "{?clamping-ring} ", "", "the condition {?clamping-ring} of this line of a list is lost in qps"},
		{"condition turned round", "sections/stop-wheels.md", "{?clamping-ring} ", "{?not clamping-ring} ", "is {?clamping-ring} in en and {?not clamping-ring} in qps"},
		{"step", "tasks/grease-hubs.md", "", "", "steps stands in qps where en has a list of"},
		{"never", "cautions.yaml", foreign("Never"), "Xéx", `en says "never"`},
		{"figure", "labels.yaml", "911", "112", "the figure 911 stands in en and not in qps"},
		{"link", "sections/stop-wheels.md", "(#change-wheel)", "(#lug-torque)", "the link to #change-wheel stands in en and not in qps"},
		{"class of counts", "labels.yaml", "screen.jobs.few:", "screen.jobs.gone:", `label "screen.jobs.few" is missing`},
		{"signal word", "labels.yaml", "signal.warning: " + foreign("WARNING"), "signal.warning: " + foreign("DANGER"), "nobody could tell them apart"},
	}
	for _, c := range testenv.Sample(t, losses, 3) {
		t.Run(c.name, func(t *testing.T) {
			words := maps.Clone(whole)
			name := madeUp + "/" + c.file
			if words[name] == nil {
				t.Fatal("no file", name)
			}
			text := string(words[name].Data)
			switch {
			case c.name == "copy":
				english, err := fs.ReadFile(templates.Files, template.Base+"/"+c.file)
				if err != nil {
					t.Fatal(err)
				}
				text = string(english)
			case c.name == "step":
				text = regexp.MustCompile(`(?m)^2\. .*\n`).ReplaceAllString(text, "")
			case !strings.Contains(text, c.old):
				t.Fatalf("%s has no %s", name, c.old)
			default:
				text = strings.Replace(text, c.old, c.new, 1)
			}
			words[name] = &fstest.MapFile{Data: []byte(text)}
			got := told(words)
			if !regexp.MustCompile(`(?m)^own/` + regexp.QuoteMeta(name) + `:\d+:\d+: .*` + regexp.QuoteMeta(c.want)).MatchString(got) {
				t.Errorf("not told: %s\n%.1500s", c.want, got)
			}
		})
	}
}
