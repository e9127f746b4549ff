package render

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/render/template"
	"ownerguide/spec/line"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

// listed reads a list of words of a language under testdata, which every embedded language has:
// an entry a line, # begins a comment.
func listed(t *testing.T, lang, name string) (entries []string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", lang, name))
	if err != nil {
		t.Fatal(err)
	}
	for entry := range strings.Lines(string(data)) {
		if entry = strings.TrimSpace(entry); entry != "" && !strings.HasPrefix(entry, "#") {
			entries = append(entries, entry)
		}
	}
	if len(entries) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return entries
}

// prose is a line that an owner reads. Placeholders are replaced by a dot, so
// that what stands beside one does not run together; addresses of links, heads
// of blocks, comments and YAML keys are taken out.
type prose struct {
	file string
	line int
	text string
}

var (
	inBraces   = regexp.MustCompile(`\{[^}]*\}`)
	linkTarget = regexp.MustCompile(`\]\([^)]*\)`)
	blockHead  = regexp.MustCompile("^\\s*```.*")
	valueHead  = regexp.MustCompile(`^[a-z0-9_]+(\.[a-z0-9_-]+)+: `)
	yamlKey    = regexp.MustCompile(`^\s*(- )?[a-z0-9_.-]+:( |$)`)
	yamlNote   = regexp.MustCompile(`(^|\s)#.*`)
	frontWords = regexp.MustCompile(`^(title|short|tools): `)
)

// proseOf reads Markdown and YAML files of a folder.
func proseOf(t *testing.T, files fs.FS, root string) (all []prose) {
	t.Helper()
	err := fs.WalkDir(files, root, func(name string, d fs.DirEntry, err error) error {
		ext := path.Ext(name)
		if err != nil || d.IsDir() || ext != ".md" && ext != ".yaml" {
			return err
		}
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return err
		}
		front := false
		for i, text := range strings.Split(string(data), "\n") {
			switch {
			case strings.HasPrefix(text, "calc."): // for the maker's engineer, who talks of units
				text = ""
			case ext == ".yaml":
				text = yamlKey.ReplaceAllString(yamlNote.ReplaceAllString(text, ""), "")
			case text == "---" && (i == 0 || front):
				front, text = !front, ""
			case front && !frontWords.MatchString(text):
				text = ""
			}
			text = valueHead.ReplaceAllString(text, "")
			text = blockHead.ReplaceAllString(text, "")
			text = linkTarget.ReplaceAllString(text, "]")
			text = inBraces.ReplaceAllString(text, "·")
			all = append(all, prose{name, i + 1, text})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// Units as words; the short ones make sense behind digits only.
const (
	longUnitWords = `(percent|degrees?|pounds?|tons?|psi|inch|inches|foot|feet|yards?|miles?|mph|volts?|amps?|amperes?|watts?|ohms?|gallons?|quarts?|liters?|` +
		`seconds?|minutes?|hours?|days?|weeks?|months?|years?|loads?|turns?|teeth|threads?)\b`
	unitWords = `(%|°|(lbs?|oz|kg|kPa|bar|in|ft|mm|cm|m|mi|km|km/h|V|A|Ah|W|gal|qt|°F|°C|lb-ft|ft-lb|N·m)\b|` + longUnitWords + `)`
)

var (
	figureWithUnit = regexp.MustCompile(`[0-9][0-9.,/]*[\s\x{a0}-]*` + unitWords)
	numberWithUnit = regexp.MustCompile(`(?i)\b(two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty|fifty|sixty|eighty|ninety|hundred|thousand)\b[\s-]+` + longUnitWords)
)

// typedOnPurpose are numbers that no value stands behind, and why.
var typedOnPurpose = map[string]string{
	"first two years":     "as far as visits are planned, for whatever unit",
	"two feet and a hand": "of the owner",
}

// A figure typed into prose is nobody's: no formula, no input, no source, and
// it stays behind when the unit changes. Prescribed texts are the law's.
func TestNoFiguresInProse(t *testing.T) {
	t.Parallel()
	for _, bad := range []string{"Fill to 65 psi.", "wait 24-hours", "1/2 in", "after two hours", "5 %"} {
		if !figureWithUnit.MatchString(bad) && !numberWithUnit.MatchString(bad) {
			t.Errorf("%q is not found", bad)
		}
	}
	met := map[string]bool{}
	for _, p := range proseOf(t, templates.Files, "en") {
		for _, phrase := range keys(typedOnPurpose) {
			met[phrase] = met[phrase] || strings.Contains(p.text, phrase)
			p.text = strings.ReplaceAll(p.text, phrase, "·")
		}
		for _, pattern := range []*regexp.Regexp{figureWithUnit, numberWithUnit} {
			if found := pattern.FindString(p.text); found != "" {
				t.Errorf("templates/%s:%d: %q is typed; expected a placeholder", p.file, p.line, found)
			}
		}
	}
	for _, phrase := range keys(typedOnPurpose) {
		if !met[phrase] {
			t.Errorf("%q does not stand in the templates any more", phrase)
		}
	}
}

// A guide is for one unit: it knows what is fitted.
func TestNothingHedges(t *testing.T) {
	t.Parallel()
	_, ts := embedded(t)
	pattern := anyOf(listed(t, template.Base, "hedges.txt"))
	if !pattern.MatchString("Raise it, If  equipped.") || pattern.MatchString("Equipped with a winch.") {
		t.Error("the pattern does not find what it is for")
	}
	for _, lang := range ts.Languages() {
		pattern := anyOf(listed(t, lang, "hedges.txt"))
		for _, p := range append(proseOf(t, templates.Files, "."), proseOf(t, line.Files, ".")...) {
			if found := pattern.FindString(p.text); found != "" && inLanguage(p.file, lang) {
				t.Errorf("%s:%d: %q; the program knows what this unit has: put a condition in front", p.file, p.line, found)
			}
		}
	}
}

// A guide counts nothing that nobody has counted: whoever says "most" of people
// or accidents needs a source, and prose has none.
func TestNothingClaimsACount(t *testing.T) {
	t.Parallel()
	_, ts := embedded(t)
	pattern := anyOf(listed(t, template.Base, "claims.txt"))
	if !pattern.MatchString("Most people hurt were tired.") || pattern.MatchString("Carry at most one.") {
		t.Error("the pattern does not find what it is for")
	}
	for _, lang := range ts.Languages() {
		pattern := anyOf(listed(t, lang, "claims.txt"))
		for _, p := range proseOf(t, templates.Files, ".") {
			if found := pattern.FindString(p.text); found != "" && inLanguage(p.file, lang) {
				t.Errorf("%s:%d: %q; say what is dangerous, without a count that has no source", p.file, p.line, found)
			}
		}
	}
}

// inLanguage reports whether a file of templates or line is in a language; what stands in no
// language's folder is in the base one.
func inLanguage(file, lang string) bool {
	folder, _, _ := strings.Cut(strings.TrimPrefix(file, "text/"), "/")
	folder = strings.TrimSuffix(folder, ".yaml")
	return folder == lang || lang == template.Base && !source.ValidLanguage(folder)
}

// anyOf finds phrases in whole words, in any case and spacing; of two that begin
// alike the longer one.
func anyOf(phrases []string) *regexp.Regexp {
	phrases = slices.SortedStableFunc(slices.Values(phrases), func(a, b string) int { return len(b) - len(a) })
	alternatives := make([]string, len(phrases))
	for i, phrase := range phrases {
		alternatives[i] = strings.ReplaceAll(regexp.QuoteMeta(phrase), " ", `[\s-]+`)
	}
	return regexp.MustCompile(`(?i)\b(` + strings.Join(alternatives, "|") + `)\b`)
}

// glossary reads the table of terms that writers keep to, where they read it:
// what to say for each thing that must not be said.
func glossary(t *testing.T) (preferred map[string]string, say []string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "templates", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, table, found := strings.Cut(string(data), "\n| say | not | why |\n| --- | --- | --- |\n")
	if !found {
		t.Fatal("templates/README.md has no table: say, not, why")
	}
	preferred = map[string]string{}
	for row := range strings.Lines(table) {
		if row == "\n" {
			break
		}
		cells := strings.Split(strings.Trim(strings.TrimSpace(row), "|"), " | ")
		if len(cells) != 3 {
			t.Fatalf("templates/README.md: %q; expected three cells", row)
		}
		term := strings.TrimSpace(cells[0])
		say = append(say, term)
		for other := range strings.SplitSeq(cells[1], ", ") {
			preferred[other] = term
		}
	}
	return preferred, say
}

// One thing has one name, in every chapter, and every name is in use.
func TestTerms(t *testing.T) {
	t.Parallel()
	preferred, say := glossary(t)
	if len(say) < 20 || preferred["safety bar"] != "body prop" {
		t.Errorf("%d terms were read: %v", len(say), preferred)
	}
	pattern, used := anyOf(keys(preferred)), map[string]bool{}
	ours := anyOf(say)
	// The owner may know it under its other name; said once, beside ours. A name of ours
	// may hold a word that is not enough by itself.
	besides := strings.NewReplacer("(tongue weight)", "", "afety glasses", "")
	for _, p := range append(proseOf(t, templates.Files, "en"), proseOf(t, line.Files, "text")...) {
		for _, found := range ours.FindAllString(p.text, -1) {
			used[strings.ToLower(found)] = true
		}
		if found := pattern.FindString(besides.Replace(p.text)); found != "" {
			plain := strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(found, "-", " ")), " "))
			t.Errorf("%s:%d: %q; expected %q", p.file, p.line, found, preferred[plain])
		}
	}
	for _, term := range say {
		if !used[term] {
			t.Errorf("templates/README.md: no template says %q", term)
		}
	}
}

// A panel says what can hurt, how badly, and what to do. Each thing to do begins
// with a verb, so that it can be done.
func TestCautionsSayWhatToDo(t *testing.T) {
	_, ts := embedded(t)
	for _, lang := range ts.Languages() {
		cautionsSayWhatToDo(t, lang, ts.Language(lang).Cautions, ts.Texts().Never[lang])
	}
}

func cautionsSayWhatToDo(t *testing.T, lang string, cautions map[string]*template.CautionWords, never []string) {
	verbs := listed(t, lang, "verbs.txt")
	used := map[string]bool{}
	for _, id := range keys(cautions) {
		c := cautions[id]
		for what, text := range map[string][]template.Inline{"hazard": c.Hazard, "consequence": c.Consequence} {
			if plain := sourceText(text); !strings.HasSuffix(plain, ".") || len(strings.Fields(plain)) < 3 {
				t.Errorf("%s: the %s of %s is %q; expected a sentence", c.At, what, id, plain)
			}
		}
		if len(c.Avoid) == 0 {
			t.Errorf("%s: %s does not say how to avoid it", c.At, id)
		}
		for _, way := range c.Avoid {
			plain := sourceText(way)
			for sentence := range strings.SplitSeq(strings.TrimSuffix(plain, "."), ". ") {
				first := strings.Fields(sentence + " ?")
				verb := strings.ToLower(strings.Trim(first[0], ","))
				if slices.Contains(never, verb) {
					verb = strings.Trim(first[1], ",")
				}
				used[verb] = true
				if !slices.Contains(verbs, verb) {
					t.Errorf("%s: %s: %q does not begin with a verb of verbs.txt, nor with a word that forbids and one", c.At, id, sentence)
				}
			}
		}
	}
	for _, verb := range verbs {
		if !used[verb] {
			t.Errorf("%s/verbs.txt: no caution uses %q any more", lang, verb)
		}
	}
}

// sourceText returns the words of an unfilled text; a placeholder is a dot.
func sourceText(list []template.Inline) string {
	var b strings.Builder
	for _, in := range list {
		switch in.Kind {
		case template.Text:
			b.WriteString(in.Text)
		case template.Placeholder:
			b.WriteString("·")
		default:
			b.WriteString(sourceText(in.Inlines))
		}
	}
	return b.String()
}

// A panel that closes a text comes after what it warns of, when it is too late.
func TestCautionsStandBeforeWhatTheyProtect(t *testing.T) {
	_, ts := embedded(t)
	base := ts.Language(template.Base)
	seen := 0
	last := func(body []template.Block) {
		for i, b := range body {
			if b.Call == nil || b.Call.Name != "caution" {
				continue
			}
			seen++
			if i+1 == len(body) {
				t.Errorf("%s: nothing follows the caution %s", b.At, b.Call.Arg(0))
			}
		}
	}
	for _, s := range ts.Sections() {
		if len(s.Parts) == 0 { // those of a chapter stand before its sections
			last(base.Sections[s.ID]().Body)
		}
	}
	for _, id := range keys(base.Jobs) {
		last(base.Jobs[id]().Body)
	}
	if seen < 80 {
		t.Errorf("only %d cautions were looked at", seen)
	}
}

var (
	hurtsPeople = regexp.MustCompile(`(?i)\b(you|your|people|anyone|anybody|someone|whoever|child|person|rider|fingers)\b|be killed`)
	willHurt    = regexp.MustCompile(`\bwill\b`)
	couldHurt   = regexp.MustCompile(`\b(can|could|may)\b`)
)

// The signal word is as grave as the words: danger says what will happen to
// somebody, warning and caution what can, notice speaks of things only. A word
// graver than its panel teaches people to pass over the next one (ANSI Z535.6,
// from memory).
func TestSignalWordsFitTheirWords(t *testing.T) {
	_, ts := embedded(t)
	for _, c := range ts.Cautions {
		words := ts.Language(template.Base).Cautions[c.ID.Value]
		consequence := sourceText(words.Consequence)
		fits := couldHurt.MatchString(consequence) && hurtsPeople.MatchString(consequence)
		switch c.Word.Value {
		case "danger":
			fits = willHurt.MatchString(consequence) && hurtsPeople.MatchString(consequence)
		case "notice":
			fits = !hurtsPeople.MatchString(consequence)
		}
		if !fits {
			t.Errorf("%s: %s is a %s, and its consequence is %q", words.At, c.ID.Value, c.Word.Value, consequence)
		}
		if c.Grave.Value && c.Word.Value != "danger" && c.Word.Value != "warning" {
			t.Errorf("%s: %s is grave and only a %s", c.ID.At, c.ID.Value, c.Word.Value)
		}
		if c.Word.Value == "danger" && !c.Grave.Value {
			t.Errorf("%s: %s is a danger and not in the safety chapter", c.ID.At, c.ID.Value)
		}
	}
}
