package render

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"ownerguide/render/doc"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

// little is the least that templates can be: one section, one caution, one job.
// Labels are those of the program, so that every block can be tried.
func little(t testing.TB, files map[string]string) fstest.MapFS {
	t.Helper()
	labels, err := templates.Files.ReadFile("en/labels.yaml")
	if err != nil {
		t.Fatal(err)
	}
	m := fstest.MapFS{}
	put := func(name, text string) { m[name] = &fstest.MapFile{Data: []byte(text)} }
	put("style.css", "body { }\n")
	put("en/labels.yaml", string(labels))
	put("cautions.yaml", "- { id: rolls, word: warning, grave: true }\n- { id: drops, word: danger, when: dump }\n")
	put("en/cautions.yaml", "rolls:\n  hazard: It rolls.\n  consequence: It can crush you.\n  avoid: [Chock it., Never stand behind it.]\ndrops:\n  hazard: It drops.\n  consequence: It can kill you.\n  avoid: [Prop it.]\n")
	put("trouble.yaml", "- { id: dark, system: lamps }\n- { id: stuck, system: dump, when: dump }\n")
	put("en/trouble.yaml", "dark:\n  symptom: A lamp is dark\n  cause: [A bad bulb, A loose ground]\n  do: [\"{?braked} Unplug it\", Replace it, \"{?not value:brakes.count} Call\"]\n  stop: [\"{?unbraked} A stop lamp is dark\", \"{?dump} The box is up\"]\nstuck:\n  symptom: It sticks\n  cause: [Ice]\n  do: [Lower it]\n  stop: [It leans]\n")
	put("en/tasks/tire-pressure.md", "---\ntitle: Check the pressure\ntools: Gauge\n---\n1. Set {tires.cold_pressure}, {task.interval}.\n")
	put("en/sections/only.md", "---\ntitle: Only\nplace: 100\n---\nText.\n")
	for name, text := range files {
		put(name, text)
	}
	if _, given := files["outline.yaml"]; !given {
		put("outline.yaml", outlined(t, m))
	}
	return m
}

// outlined writes the outline of sections: what it says of one stands, in these
// tests, in its front matter, from where it is taken out. Place gives the order.
func outlined(t testing.TB, files fstest.MapFS) string {
	t.Helper()
	type section struct {
		id, in, place, entry string
	}
	var all []section
	for name, file := range files {
		id, is := strings.CutPrefix(name, "en/sections/")
		if !is || !strings.HasSuffix(id, ".md") {
			continue
		}
		id = strings.TrimSuffix(id, ".md")
		s := section{id: id, place: "000000", entry: "id: " + id}
		lines := strings.Split(string(file.Data), "\n")
		kept := lines[:1]
		for i := 1; i < len(lines); i++ {
			if lines[i] == "---" {
				kept = append(kept, lines[i:]...)
				break
			}
			key, value, _ := strings.Cut(lines[i], ": ")
			switch key {
			case "place":
				s.place = fmt.Sprintf("%6s", value)
			case "in":
				s.in = value
			case "stop":
				s.entry += ", point: " + value
			case "role", "when", "card", "leaf", "mail", "from":
				s.entry += ", " + key + ": " + value
			default:
				kept = append(kept, lines[i])
			}
		}
		s.entry = strings.Replace(strings.Replace(s.entry, ", role: stop", "", 1), ", role: chapter", "", 1)
		file.Data = []byte(strings.Join(kept, "\n"))
		all = append(all, s)
	}
	slices.SortFunc(all, func(a, b section) int { return strings.Compare(a.place+a.id, b.place+b.id) })
	var out strings.Builder
	var write func(in, indent string)
	write = func(in, indent string) {
		for _, s := range all {
			if s.in != in {
				continue
			}
			fmt.Fprintf(&out, "%s- %s\n", indent, strings.ReplaceAll(s.entry, ", ", "\n"+indent+"  "))
			if slices.ContainsFunc(all, func(part section) bool { return part.in == s.id }) {
				fmt.Fprintf(&out, "%s  sections:\n", indent)
				write(s.id, indent+"  ")
			}
		}
	}
	write("", "")
	return out.String()
}

// body is a section file with this text; its first line is line 5.
func body(text string) map[string]string {
	return map[string]string{"en/sections/only.md": "---\ntitle: Only\nshort: Only\n---\n" + text}
}

func loadLittle(t testing.TB, files map[string]string) (*Templates, source.Findings) {
	t.Helper()
	return LoadTemplates(source.Layer{Name: "own", Files: little(t, files)})
}

// guide assembles little templates for the plainest unit of a model.
func guide(t *testing.T, model string, full bool, files map[string]string) (*doc.Guide, source.Findings) {
	t.Helper()
	l, _ := embedded(t)
	return guideOf(t, l, sheetOf(t, l, order{l.Model(model), plainest[model]}, full), files)
}

// plainest has the fewest options that can be ordered, where it is not none.
var plainest = map[string][]string{"deck-28": {"fixed-deck"}}

func guideOf(t *testing.T, l *product.Line, s *sheet.Sheet, files map[string]string) (*doc.Guide, source.Findings) {
	t.Helper()
	ts, findings := loadLittle(t, files)
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	b, vs := unit(t, l, s)
	return ts.Assemble(b, vs, nil)
}

// lines returns findings a line each, as far as the message and the hints.
func lines(findings source.Findings) string {
	var out []string
	for _, f := range findings {
		line := fmt.Sprintf("%s: %s [%s]", f.Pos, f.Message, f.Code)
		for _, h := range f.Hints {
			line += " (" + h + ")"
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// What does not belong into a guide is refused when it is loaded, at the
// author's own line and column.
func TestRefusedAtLoad(t *testing.T) {
	for name, test := range map[string]struct{ text, want string }{
		"code span":           {"Press `up`.\n", "own/en/sections/only.md:5:7: Markdown of kind CodeSpan cannot be used in a guide [template-markup]"},
		"raw html":            {"A <b>bold</b> word.\n", "own/en/sections/only.md:5:3: raw HTML cannot be used in a guide [template-markup]\nown/en/sections/only.md:5:10: raw HTML cannot be used in a guide [template-markup]"},
		"html block":          {"Text.\n\n<div>\nx\n</div>\n", "own/en/sections/only.md:7:1: raw HTML cannot be used in a guide [template-markup]"},
		"indented code":       {"Text.\n\n    code\n", "own/en/sections/only.md:7:5: indented text (a code block) cannot be used in a guide [template-markup]"},
		"quote":               {"> One\n>\n> Two\n", "own/en/sections/only.md:5:1: a quotation of more than one paragraph (one says where to go no further) cannot be used in a guide [template-markup]"},
		"rule":                {"A\n\n---\n\nB\n", "own/en/sections/only.md:7:1: Markdown of kind ThematicBreak cannot be used in a guide [template-markup]"},
		"image":               {"See ![x](y.png).\n", "own/en/sections/only.md:5:5: Markdown of kind Image cannot be used in a guide [template-markup]"},
		"heading in a list":   {"- ### Head\n", "own/en/sections/only.md:5:3: a heading inside a list cannot be used in a guide [template-markup]"},
		"loose brace":         {"Set {tires.cold_pressure now.\n", "own/en/sections/only.md:5:5: a brace without its partner on the same line; write \\{ for the character [template-placeholder]"},
		"late condition":      {"Set it {?braked} now.\n", "own/en/sections/only.md:5:8: the condition {?braked} must stand first in its paragraph, list item, heading or table row [template-placeholder]"},
		"condition in a cell": {"| A | B |\n| --- | --- |\n| x | {?braked} y |\n", "own/en/sections/only.md:7:6: a condition in a table must stand first in its row, and not in the head [template-placeholder]"},
		"condition in a head": {"| {?braked} A | B |\n| --- | --- |\n| x | y |\n", "own/en/sections/only.md:5:2: a condition in a table must stand first in its row, and not in the head [template-placeholder]"},
		"bad condition":       {"{?braked and and dump} Text.\n", "own/en/sections/only.md:5:14: {?braked and and dump}: found \"and\", expected a feature [template-placeholder]"},
		"unknown value":       {"Set {tires.cold_presure}.\n", "own/en/sections/only.md:5:5: nothing is called {tires.cold_presure} [template-value] (did you mean {tires.cold_pressure}?)"},
		"unknown part":        {"Your {part.tyre}.\n", "own/en/sections/only.md:5:6: nothing is called {part.tyre} [template-value] (did you mean {part.tire}?)"},
		"unknown value asked": {"{?value:tires.agee} Text.\n", "own/en/sections/only.md:5:3: nothing is called {tires.agee} [template-value] (did you mean {tires.size}?)"},
		"value for engineers": {"It draws {wiring.brake_drop}.\n", "own/en/sections/only.md:5:10: {wiring.brake_drop} is for the engineer only, not for an owner to rely on [template-value]"},
		"interval, no job":    {"Do it {task.interval}.\n", "own/en/sections/only.md:5:7: {task.interval} can only stand in a job of tasks/ [template-placeholder]"},
		"unnamed block":       {"```\nx\n```\n", "own/en/sections/only.md:5:1: a fenced block must name its kind, such as ```caution unit-rolls [template-block]"},
		"unknown block":       {"```cuation rolls\n```\n", "own/en/sections/only.md:5:1: there is no block of kind \"cuation\" [template-block] (did you mean \"caution\"?)"},
		"unknown caution":     {"```caution rols\n```\n", "own/en/sections/only.md:5:1: there is no caution \"rols\" [template-caution] (did you mean \"rolls\"?)"},
		"caution with text":   {"```caution rolls\nMind this.\n```\n", "own/en/sections/only.md:6:1: a block of kind caution has no lines inside: this text would not be printed [template-block]"},
		"caution of nothing":  {"```caution\n```\n", "own/en/sections/only.md:5:1: 0 words stand behind caution; expected 1 to 2 [template-block]"},
		"unknown drawing":     {"```drawing side-vew\n```\n", "own/en/sections/only.md:5:1: there is no drawing \"side-vew\" [template-drawing] (did you mean \"side-view\"?)"},
		"unknown statement":   {"```statement recall\n```\n", "own/en/sections/only.md:5:1: there is no prescribed text \"recall\" in statements/ [template-block]"},
		"unknown schedule":    {"```schedule visit\n```\n", "own/en/sections/only.md:5:1: there is no schedule \"visit\" [template-block] (did you mean \"visits\"?)"},
		"unknown system":      {"```trouble lamp\n```\n", "own/en/sections/only.md:5:1: no trouble entry is filed under the system \"lamp\" [template-block] (did you mean \"lamps\"?)"},
		"unknown form":        {"```form registered-no 1\n```\n", "own/en/sections/only.md:5:1: label \"form.registered-no\" is missing from own/en/labels.yaml [template-label] (did you mean the label \"form.registered-on\"?)"},
		"form without number": {"```form damage many\n```\n", "own/en/sections/only.md:5:1: expected a number from 1 to 40, not \"many\" [template-block]"},
		"nameless value":      {"```values\nJust words\n```\n", "own/en/sections/only.md:6:1: expected \"name: label\", with the name of a value [template-block]"},
		"unknown value row":   {"```values\nwheels.torq: Torque\n```\n", "own/en/sections/only.md:6:1: nothing is called {wheels.torq} [template-value] (did you mean {wheels.torque}?)"},
		"unknown interval":    {"```numbers\ninterval.tire-presure: Tires\n```\n", "own/en/sections/only.md:6:1: there is no job \"tire-presure\" [template-task] (did you mean \"tire-pressure\"?)"},
		"jobs in a list":      {"- ```tasks tires\n  ```\n", "own/en/sections/only.md:5:3: tasks can only stand directly in a section [template-block]"},
		"link to nothing":     {"See [that](#onlly).\n", "own/en/sections/only.md:5:6: no guide has a section \"onlly\" [template-link] (did you mean \"only\"?)"},
		"link out":            {"See [that](http://example.com).\n", "own/en/sections/only.md:5:6: link to \"http://example.com\"; expected #section, https:, tel: or mailto:, without placeholders [template-link]"},
		"after accents":       {"Für Größe {tires.sise} prüfen.\n", "own/en/sections/only.md:5:11: nothing is called {tires.sise} [template-value] (did you mean {tires.size}?)"},
		"windows line ends":   {"One.\r\n\r\nTwo {tires.sise}.\r\n", "own/en/sections/only.md:7:5: nothing is called {tires.sise} [template-value] (did you mean {tires.size}?)"},
		"below other content": {"One\nparagraph.\n\n- a\n- b\n\n| A |\n| --- |\n| x |\n\n```caution rols\n```\n", "own/en/sections/only.md:15:1: there is no caution \"rols\" [template-caution] (did you mean \"rolls\"?)"},
		"caution in a list":   {"1. One.\n2. Two.\n\n   ```caution rols\n   ```\n", "own/en/sections/only.md:8:4: there is no caution \"rols\" [template-caution] (did you mean \"rolls\"?)"},
		"too deep":            {nested(7), "own/en/sections/only.md:11:13: nested more than 12 levels deep [template-markup]"},
	} {
		t.Run(name, func(t *testing.T) {
			_, findings := loadLittle(t, body(test.text))
			if got := lines(findings); got != test.want {
				t.Errorf("%q gives\n%s\nwant\n%s", test.text, got, test.want)
			}
		})
	}
}

// nested is a list in a list and so on; each counts for two levels.
func nested(lists int) string {
	var b strings.Builder
	for i := range lists {
		fmt.Fprintf(&b, "%s- item\n", strings.Repeat("  ", i))
	}
	return b.String()
}

// The files around the text are checked as well as the text.
func TestRefusedFiles(t *testing.T) {
	head := func(lines string) map[string]string {
		return map[string]string{"en/sections/only.md": "---\ntitle: Only\nplace: 100\n---\nText.\n", "en/sections/other.md": "---\n" + lines + "---\nText.\n"}
	}
	system := func(title, text string) map[string]string {
		return map[string]string{"systems/own.yaml": "outline:\n  - { id: other, after: only }\n", "en/systems/own.yaml": "sections:\n  other:\n    " + title + "\n    text: " + text + "\n"}
	}
	for name, test := range map[string]struct {
		files map[string]string
		want  string
	}{
		"no front matter":   {map[string]string{"en/sections/other.md": "Text.\n"}, "own/en/sections/other.md:1:1: the file must begin with front matter between two lines --- [template-front-matter]"},
		"open front matter": {map[string]string{"en/sections/other.md": "---\ntitle: x\n"}, "own/en/sections/other.md:1:1: the front matter is not closed with a line --- [template-front-matter]"},
		"unknown role":      {head("title: Other\nplace: 200\nrole: chaptre\n"), "own/outline.yaml:3:9: [1].role is \"chaptre\": expected one of cover, contents, statement, form [value-wrong]"},
		"no such feature":   {head("title: Other\nplace: 200\nwhen: Power Tilt\n"), "own/outline.yaml:3:9: [1].when is \"Power Tilt\": \"Power\" is no feature; expected small letters and digits joined by single hyphens, and between features and, or, not [value-wrong]"},
		"title":             {head("title: Other {tires.sise}\nplace: 200\n"), "own/en/sections/other.md:2:8: nothing is called {tires.sise} [template-value] (did you mean {tires.size}?)"},
		"signal word":       {map[string]string{"cautions.yaml": "- { id: rolls, word: beware }\n- { id: drops, word: danger }\n"}, "own/cautions.yaml:1:22: [0].word is \"beware\": expected one of danger, warning, caution, notice [value-wrong]"},
		"caution twice":     {map[string]string{"cautions.yaml": "- { id: rolls, word: danger }\n- { id: rolls, word: danger }\n- { id: drops, word: danger }\n"}, "own/cautions.yaml:2:9: \"rolls\" stands here a second time [template-caution]"},
		"caution, no words": {map[string]string{"cautions.yaml": "- { id: rolls, word: danger }\n- { id: drops, word: danger }\n- { id: sways, word: danger }\n"}, "own/cautions.yaml:3:9: caution \"sways\" has no words in en [template-caution]"},
		"caution, no id":    {map[string]string{"cautions.yaml": "- { id: rolls, word: danger }\n"}, "own/en/cautions.yaml:5:1: caution \"drops\" is not in cautions.yaml [template-caution]"},
		"nothing to avoid":  {map[string]string{"en/cautions.yaml": "rolls: { hazard: It rolls., consequence: It crushes., avoid: [] }\ndrops: { hazard: It drops., consequence: It kills., avoid: [Prop it.] }\n"}, "own/en/cautions.yaml:1:1: caution \"rolls\" has no avoid line [template-caution]"},
		"list in a caution": {map[string]string{"en/cautions.yaml": "rolls: { hazard: \"- It rolls.\", consequence: It crushes., avoid: [Chock it.] }\ndrops: { hazard: It drops., consequence: It kills., avoid: [Prop it.] }\n"}, "own/en/cautions.yaml:1:18: expected one plain sentence or phrase, without lists, headings or blank lines [template-markup]"},
		"late condition":    {map[string]string{"en/trouble.yaml": "dark: { symptom: Dark., cause: [Bulb.], do: [\"Replace {?braked} it.\"], stop: [\"{?value:brakes.cuont} Stop.\"] }\nstuck: { symptom: \"{?dump} Stuck.\", cause: [Ice.], do: [Wait.], stop: [Stop.] }\n"}, "own/en/trouble.yaml:1:46: the condition {?braked} must stand first in its paragraph, list item, heading or table row [template-placeholder]\nown/en/trouble.yaml:2:19: the condition {?dump} must stand first in its paragraph, list item, heading or table row [template-placeholder]\nown/en/trouble.yaml:1:79: nothing is called {brakes.cuont} [template-value] (did you mean {brakes.count}?)"},
		"trouble, no words": {map[string]string{"trouble.yaml": "- { id: dark, system: lamps }\n- { id: stuck, system: dump }\n- { id: flat, system: tires }\n"}, "own/trouble.yaml:3:9: trouble entry \"flat\" has no words in en [template-trouble]"},
		"trouble, no id":    {map[string]string{"trouble.yaml": "- { id: dark, system: lamps }\n"}, "own/en/trouble.yaml:6:1: trouble entry \"stuck\" is not in trouble.yaml [template-trouble]"},
		"misspelt folder":   {map[string]string{"en/section/only.md": "---\ntitle: x\nplace: 1\n---\n"}, "own/en/section/only.md: nothing reads this file [template-file] (did you mean \"en/sections/only.md\"?)"},
		"no template":       {map[string]string{"en/sections/what-the-writer-still-has-to-do.txt": "x", "README.md": "x", "en/sections/only.md~": "x", ".hidden/x": "x"}, "own/en/sections/what-the-writer-still-has-to-do.txt: nothing reads this file [template-file]"},
		"system":            {system("title: Other", "|\n      Text {tires.size}."), ""},
		"system, place":     {system("title: Other", "|\n\n      Text {tires.sise}."), "own/en/systems/own.yaml:4:11: the Markdown of other has to stand in lines of its own [template-markup] (write text: | and the Markdown below it, indented)"},
		"system, name":      {system("title: Other", "|\n      - a\n\n      - ö {tires.sise}"), "own/en/systems/own.yaml:7:11: nothing is called {tires.sise} [template-value] (did you mean {tires.size}?)"},
		"system, condition": {system("title: Other", "|\n      {?braked nd dump} Text."), "own/en/systems/own.yaml:5:16: {?braked nd dump}: found \"nd\", expected and, or, or the end [template-placeholder]"},
		"system, title":     {system("title: \"{tires.sise}\"", "|\n      Text."), "own/en/systems/own.yaml:3:12: nothing is called {tires.sise} [template-value] (did you mean {tires.size}?)"},
		"system, folded":    {system("title: Other", ">\n      - a\n      - b"), "own/en/systems/own.yaml:4:11: the Markdown of other has to stand in lines of its own [template-markup] (write text: | and the Markdown below it, indented)"},
		"system, long":      {system("title: Other", ">\n      a\n\n      b\n"), "own/en/systems/own.yaml:4:11: the Markdown of other has to stand in lines of its own [template-markup] (write text: | and the Markdown below it, indented)"},
		"system, quoted":    {system("title: Other", "\"Text.\""), "own/en/systems/own.yaml:4:11: the Markdown of other has to stand in lines of its own [template-markup] (write text: | and the Markdown below it, indented)"},
		"system, no text":   {map[string]string{"systems/own.yaml": "outline:\n  - { id: other, after: only }\n", "en/systems/own.yaml": "sections:\n  other:\n    title: Other\n"}, "own/en/systems/own.yaml:3:5: sections.other.text is missing [key-missing]"},
		"system, last line": {map[string]string{"systems/own.yaml": "outline:\n  - { id: other, after: only }\n", "en/systems/own.yaml": "sections:\n  other: { title: Other, text: Text }"}, "own/en/systems/own.yaml:2:32: the Markdown of other has to stand in lines of its own [template-markup] (write text: | and the Markdown below it, indented)"},
		"system twice":      {map[string]string{"en/systems/own.yaml": "sections:\n  only:\n    title: Only\n    text: |\n      Text.\n"}, "own/en/systems/own.yaml:4:11: \"only\" stands here a second time [template-file]"},
		"words twice":       {map[string]string{"en/systems/own.yaml": "cautions:\n  rolls: { hazard: It rolls., consequence: It crushes., avoid: [Chock it.] }\n"}, "own/en/systems/own.yaml:2:3: \"rolls\" stands here a second time [key-duplicate]"},
		"hazard twice":      {map[string]string{"systems/own.yaml": "cautions:\n  - { id: rolls, word: danger }\n"}, "own/systems/own.yaml:2:11: \"rolls\" stands here a second time [template-caution]"},
		"section twice":     {map[string]string{"systems/own.yaml": "outline:\n  - { id: only, after: only }\n"}, "own/systems/own.yaml:2:11: \"only\" stands here a second time [template-outline]\nown/systems/own.yaml:2:11: section only would stand in or behind itself [template-outline]"},
		"empty statement":   {map[string]string{"statements/empty.yaml": "title: Empty\ncitation: none\nbasis: read\n"}, "own/statements/empty.yaml:1:8: the prescribed text is empty: it has neither paragraphs nor steps [template-file]"},
	} {
		t.Run(name, func(t *testing.T) {
			_, findings := loadLittle(t, test.files)
			if got := lines(findings); got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
}
