package render

import (
	"strings"
	"testing"
	"testing/fstest"

	"ownerguide/render/doc"
	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/source"
)

// What a text becomes for the plainest unit: a utility trailer with one axle,
// without brakes, lift, buyer or dates.
func TestAssembled(t *testing.T) {
	for name, test := range map[string]struct{ text, want string }{
		"escapes":            {`Not \*bold\*, \{not.a.value\}, 3 \< 4, \_x\_, a \\ stroke.`, `Not *bold*, {not.a.value}, 3 < 4, _x_, a \ stroke.`},
		"entities":           {"Nuts &amp; bolts, 5 &lt; 6, &#8804; &eacute;", "Nuts & bolts, 5 < 6, ≤ é"},
		"emphasis":           {"A *b* **c** ***d***.", "A *b* **c** ***d***."},
		"joined lines":       {"One\ntwo  \nthree\\\nfour", "One two⏎three⏎four"},
		"value":              {"Set {tires.cold_pressure}.", "Set ‹tires.cold_pressure=50␣psi (345␣kPa)›."},
		"value in emphasis":  {"Set **{hitch.ball}** now.", "Set **‹hitch.ball=2␣in (50.8␣mm)›** now."},
		"words":              {"{model.name} {sheet.serial} of {maker.name}: {part.coupler}", "Utility 12 utility-12-901 of Bramblewick Trailer Works: Ball coupler with lever latch"},
		"links":              {"[here](#only), [call](tel:5550177), <https://example.com/a_b>", "[here](#only), [call](tel:5550177), [https://example.com/a_b](https://example.com/a_b)"},
		"condition":          {"{?braked} Brakes.\n\n{?unbraked} None.\n\n{?not braked and single-axle} One axle.\n\n{?dump or unbraked} Either.", "None.\nOne axle.\nEither."},
		"two conditions":     {"{?unbraked and dump} Both.\n\n{?unbraked and single-axle} Both.\n\n{?unbraked and value:brakes.count} Both.", "Both."},
		"value there":        {"{?value:tires.cold_pressure} There.\n\n{?value:brakes.count} Not there.\n\n{?value:sheet.buyer.name} Nobody.\n\n{?value:part.winch} None.\n\n{?value:part.tire} Tires.", "There.\nTires."},
		"value not there":    {"{?not value:brakes.count} None.\n\n{?not value:tires.cold_pressure} Airless.\n\n{?unbraked and not value:part.winch} No winch.\n\n{?braked and not value:part.winch} Neither.", "None.\nNo winch."},
		"items":              {"- {?braked} a\n- {?unbraked} b\n- c", "list -, start 0, tight true\n  item: b\n  item: c"},
		"loose item":         {"1. a\n\n   more\n2. {?braked} b\n\n   more", "list ., start 1, tight false\n  item\n    a\n    more"},
		"check list":         {"- [ ] {?braked} Brakes\n- [ ] {?unbraked} Plug\n- [x] Chocks", "list -, start 0, tight true\n  item: [ ]tick-only-1Plug\n  item: [ ]tick-only-2Chocks"},
		"emptied list":       {"Before\n\n- {?braked} a\n- {?dump} b\n\nAfter", "Before\nAfter"},
		"emptied inner list": {"- a\n  - {?braked} b\n- c", "list -, start 0, tight true\n  item: a\n  item: c"},
		"rows":               {"| A | B |\n| --- | --- |\n| {?braked} x | y |\n| {?dump or unbraked} z | {hitch.ball} |", "table, plain, caption \"\"\n  head: A | B\n  row: z | ‹hitch.ball=2␣in (50.8␣mm)›"},
		"bar in a cell":      {"| A |\n| --- |\n| this \\| that |", "table, plain, caption \"\"\n  head: A\n  row: this | that"},
		"emptied table":      {"| A | B |\n| --- | --- |\n| {?braked} x | y |", ""},
		"headings": {"### One\n\nText.\n\n#### Inner\n\nDeep.\n\n### Two\n\n{?braked} Gone.\n\n### {?braked} Three\n\nAll of it.\n\n#### Inner\n\nGone too.\n\n### {?unbraked} Four\n\nThere.",
			"section only-1, level 2, plain, number \"\", short \"One\"\n  heading: One\n  Text.\n  section only-1-1, level 3, plain, number \"\", short \"Inner\"\n    heading: Inner\n    Deep.\nsection only-4, level 2, plain, number \"\", short \"Four\"\n  heading: Four\n  There."},
		"caution":       {"```caution rolls\n```\n\n```caution drops\n```", "caution rolls, warning, signal WARNING, brief false\n  It rolls.\n  It can crush you.\n  list -, start 0, tight true\n    item: Chock it.\n    item: Never stand behind it."},
		"caution again": {"```caution rolls\n```\n\n- a\n\n  ```caution rolls\n  ```", "caution rolls, warning, signal WARNING, brief false\n  It rolls.\n  It can crush you.\n  list -, start 0, tight true\n    item: Chock it.\n    item: Never stand behind it.\nlist -, start 0, tight false\n  item\n    a\n    caution rolls, warning, signal WARNING, brief true\n      It rolls.\n      Never stand behind it."},
		"figures": {"```values\ntires.cold_pressure: Tires\n{?braked} wheels.torque: Nuts\nbrakes.count: Brakes\nsheet.serial: Serial\nsheet.buyer.name: Buyer\n{?unbraked} hitch.ball: Ball, *marked*\n```",
			"table, values, caption \"\"\n  row: Tires | ‹tires.cold_pressure=50␣psi (345␣kPa)›\n  row: Serial | utility-12-901\n  row: Ball, *marked* | ‹hitch.ball=2␣in (50.8␣mm)›"},
		"no figure":         {"```values\nbrakes.count: Brakes\n```", ""},
		"big figures":       {"```numbers\ninterval.tire-pressure: Tires\n```", "table, numbers, caption \"\"\n  row: Tires | Before each trip"},
		"form":              {"```form damage 4\n```", "form, label \"Damage, missing parts and remarks\", rules 4"},
		"trouble":           {"```trouble lamps\n```\n\n```trouble dump\n```", "trouble: A lamp is dark\n  cause: A bad bulb · A loose ground\n  remedy: Replace it\n  remedy: Call\n  limit: A stop lamp is dark"},
		"windows line ends": {"One\r\ntwo.\r\n\r\n- a\r\n- {?braked} b\r\n", "One two.\nlist -, start 0, tight true\n  item: a"},
	} {
		t.Run(name, func(t *testing.T) {
			g, findings := guide(t, "utility-12", false, body(test.text+"\n"))
			if len(findings) > 0 {
				t.Fatal(lines(findings))
			}
			if got := unindented(t, g); got != test.want {
				t.Errorf("%q becomes\n%s\nwant\n%s", test.text, got, test.want)
			}
		})
	}
}

// unindented is the text of the one section, without its heading.
func unindented(t *testing.T, g *doc.Guide) string {
	t.Helper()
	all := strings.Split(strings.TrimSpace(dump(g.Sections...)), "\n")
	if len(all) < 2 || !strings.HasPrefix(all[1], "  heading: ") {
		t.Fatalf("not a section: %q", all)
	}
	for i := range all {
		all[i] = strings.TrimPrefix(all[i], "  ")
	}
	return strings.Join(all[2:], "\n")
}

// A unit that lacks what a text needs gets no guide: the finding names the
// author's line.
func TestNotForThisUnit(t *testing.T) {
	for name, test := range map[string]struct {
		files map[string]string
		want  string
	}{
		"no figure": {body("One.\n\nBrakes: {brakes.count}.\n"),
			"own/en/sections/only.md:7:9: {brakes.count} has no figure: not for this build (braked) [template-value]"},
		"no word": {body("Buyer: {sheet.buyer.name}.\n"),
			"own/en/sections/only.md:5:8: {sheet.buyer.name} has nothing to print for this unit [template-placeholder] (put the condition under which it is there in front of this text)"},
		"no part": {body("- a\n- Your {part.winch}.\n"),
			"own/en/sections/only.md:6:8: {part.winch} has nothing to print for this unit [template-placeholder] (put the condition under which it is there in front of this text)"},
		"noun behind no count": {body("It holds {ratings.gvwr years}.\n"),
			"own/en/sections/only.md:5:10: {ratings.gvwr} counts nothing, and cannot stand with a noun [template-placeholder]"},
		"link to a section this unit lacks": {map[string]string{
			"en/sections/only.md":  "---\ntitle: Only\nplace: 100\n---\nSee [it](#other).\n",
			"en/sections/other.md": "---\ntitle: Other\nplace: 200\nwhen: dump\n---\nText.\n"},
			"own/en/sections/only.md:4:6: this guide has no section \"other\" [template-link] (that section is not for this unit; put the condition under which it is there in front of this paragraph)"},
		"link to a section of a chapter this unit lacks": {map[string]string{
			"en/sections/only.md":  "---\ntitle: Only\nplace: 100\n---\nSee [it](#inner).\n",
			"en/sections/other.md": "---\ntitle: Other\nplace: 200\nwhen: dump\n---\nText.\n",
			"en/sections/inner.md": "---\ntitle: Inner\nplace: 210\nin: other\n---\nText.\n"},
			"own/en/sections/only.md:4:6: this guide has no section \"inner\" [template-link] (that section is not for this unit; put the condition under which it is there in front of this paragraph)"},
	} {
		t.Run(name, func(t *testing.T) {
			_, findings := guide(t, "utility-12", false, test.files)
			if got := lines(findings); got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
}

// Chapters and stops are numbered over the sections this unit has.
func TestNumbers(t *testing.T) {
	g, findings := guide(t, "utility-12", false, map[string]string{
		"en/sections/a.md":    "---\ntitle: Cover\nplace: 1\nrole: cover\n---\nText.\n",
		"en/sections/b.md":    "---\ntitle: Contents\nplace: 2\nrole: contents\n---\n```contents\n```\n",
		"en/sections/c.md":    "---\ntitle: Dump\nplace: 3\nwhen: dump\n---\nText.\n",
		"en/sections/d.md":    "---\ntitle: In dump\nplace: 4\nin: c\n---\nText.\n",
		"en/sections/e.md":    "---\ntitle: Walk\nplace: 5\n---\n```stops\n```\n\n```handover\n```\n",
		"en/sections/f.md":    "---\ntitle: Ramps\nplace: 6\nin: e\nrole: stop\nstop: ramps\nwhen: ramps\n---\nText.\n",
		"en/sections/g.md":    "---\ntitle: Coupler\nplace: 7\nin: e\nrole: stop\nstop: coupler\n---\nText.\n",
		"en/sections/h.md":    "---\ntitle: Tires of {model.name}\nshort: Tires\nplace: 8\nin: e\nrole: stop\nstop: tire\n---\nText.\n",
		"en/sections/i.md":    "---\ntitle: Deep\nplace: 9\nin: h\n---\nText.\n",
		"en/sections/only.md": "---\ntitle: Last\nplace: 100\nwhen: (dump or unbraked) and not braked\n---\nText.\n",
	})
	if len(findings) > 0 {
		t.Fatal(lines(findings))
	}
	want := `section a, level 1, cover, number "", short "Cover"
  heading: Cover
  Text.
section b, level 1, contents, number "", short "Contents"
  heading: Contents
  contents
    level 1, number "1": Walk (#e)
    level 2, number "": Coupler (#g)
    level 2, number "": Tires of Utility 12 (#h)
    level 1, number "2": Last (#only)
section e, level 1, chapter, number "1", short "Walk"
  heading: Walk
  list -, start 0, tight true
    item: (1) [Coupler](#g)
    item: (2) [Tires of Utility 12](#h)
  list -, start 0, tight true
    item: [ ]tick-e-1(1) [Coupler](#g)
    item: [ ]tick-e-2(2) [Tires of Utility 12](#h)
  section g, level 2, stop, number "", short "Coupler"
    heading: (1) Coupler
    Text.
  section h, level 2, stop, number "", short "Tires"
    heading: (2) Tires of Utility 12
    Text.
    section i, level 3, plain, number "", short "Deep"
      heading: Deep
      Text.
section only, level 1, chapter, number "2", short "Last"
  heading: Last
  Text.
`
	if got := dump(g.Sections...); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// The jobs of a system are sections with when, tools and who; only there the
// interval can be named.
func TestJobs(t *testing.T) {
	files := body("```tasks tires\n```\n\n```tasks battery\n```\n")
	files["en/tasks/tire-wear.md"] = "---\ntitle: Look at the {tires.size}\n---\n```caution rolls\n```\n\nDo it {task.interval}.\n\n### More\n\n- {?braked} x\n- y\n"
	files["en/tasks/replace-tires.md"] = "---\ntitle: Replace\ntools: Truck\n---\n{?braked} Nothing.\n"
	g, findings := guide(t, "utility-12", false, files)
	if len(findings) > 0 {
		t.Fatal(lines(findings))
	}
	want := `section tire-pressure, level 2, task, number "", short "Check the pressure"
  heading: Check the pressure
  job: who , when Before each trip, tools Gauge
  list ., start 1, tight true
    item: Set ‹tires.cold_pressure=50␣psi (345␣kPa)›, *before each trip*.
section tire-wear, level 2, task, number "", short "Look at the ST205/75R14"
  heading: Look at the ‹tires.size=ST205/75R14›
  job: who , when Every ‹service.tire-wear.distance=3,000␣mi (4,828␣km)› or every ‹service.tire-wear.months=3› months, tools 
  caution rolls, warning, signal WARNING, brief false
    It rolls.
    It can crush you.
    list -, start 0, tight true
      item: Chock it.
      item: Never stand behind it.
  Do it *every ‹service.tire-wear.distance=3,000␣mi (4,828␣km)› or every ‹service.tire-wear.months=3› months, whichever comes first*.
  section tire-wear-1, level 3, plain, number "", short "More"
    heading: More
    list -, start 0, tight true
      item: y
section replace-tires, level 2, task, number "", short "Replace"
  heading: Replace
  job: who , when Every ‹service.replace-tires.years=6› years, tools Truck`
	if got := unindented(t, g); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	delete(files, "en/tasks/tire-wear.md")
	_, findings = guide(t, "utility-12", false, files)
	if got := lines(findings); !strings.Contains(got, `job tire-wear has no words in en [template-language]`) {
		t.Errorf("got %s", got)
	}
}

// A buyer's name is data: whatever it looks like, it is printed as it stands.
func TestDataIsNeverRead(t *testing.T) {
	l, _ := embedded(t)
	for _, name := range []string{
		"**Bold** & <b>Sons</b>", "{tires.cold_pressure}", "{?dump} Pat", "[x](#nowhere)", "`code` \\* &amp; &#64;", "- item", "# head", "```caution rolls",
		"a | b", "<script>alert(1)</script>", "![i](https://example.com/x.png)", "María Núñez 李", "1. one",
	} {
		s := sheetOf(t, l, order{l.Model("utility-12"), nil}, true)
		s.Buyer.Name.Value, s.Notes.Value = name, name
		g, findings := guideOf(t, l, s, map[string]string{
			"en/sections/only.md": "---\ntitle: Of {sheet.buyer.name}\nplace: 100\n---\n{sheet.buyer.name}\n\n- {sheet.notes}\n\n| A |\n| --- |\n| {sheet.buyer.name} |\n\n```values\nsheet.buyer.name: Buyer\n```\n"})
		if len(findings) > 0 {
			t.Fatalf("%q: %s", name, lines(findings))
		}
		want := "heading: Of " + name + "\n" + name + "\nlist -, start 0, tight true\n  item: " + name +
			"\ntable, plain, caption \"\"\n  head: A\n  row: " + name + "\ntable, values, caption \"\"\n  row: Buyer | " + name
		if got := "heading: Of " + name + "\n" + unindented(t, g); got != want || !strings.Contains(dump(g.Sections...), "  heading: Of "+name+"\n") {
			t.Errorf("got\n%s\nwant\n%s", got, want)
		}
	}
}

// The same text in another language: places and conditions are those of the
// base language, words the translation's.
func TestTranslation(t *testing.T) {
	files := little(t, map[string]string{
		"en/sections/only.md":  "---\ntitle: Only\nplace: 100\n---\nText.\n",
		"en/sections/other.md": "---\ntitle: Other\nplace: 200\nwhen: dump\n---\nText.\n",
	})
	for name, file := range files {
		if rest, ok := strings.CutPrefix(name, "en/"); ok {
			files["fr/"+rest] = &fstest.MapFile{Data: file.Data}
		}
	}
	files["fr/sections/only.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Seul\n---\nTexte.\n")}
	files["fr/sections/other.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Autre\n---\nTexte.\n")}
	ts, findings := LoadTemplates(source.Layer{Name: "own", Files: files})
	if len(findings) > 0 {
		t.Fatal(lines(findings))
	}
	l, _ := embedded(t)
	s := sheetOf(t, l, order{l.Model("utility-12"), nil}, false)
	s.Language = source.Given[string]{Value: "fr", Set: true, At: source.Pos{File: "sheet.yaml", Line: 9, Column: 11}}
	b, vs := unit(t, l, s)
	g, findings := ts.Assemble(b, vs, nil)
	if g == nil || g.Lang != "fr" || !strings.Contains(dump(g.Sections...), "  heading: Seul\n  Texte.\n") || strings.Contains(dump(g.Sections...), "Autre") {
		t.Errorf("%s\n%s", lines(findings), dump(g.Sections...))
	}
	s.Language.Value = "fr-Latn-CA" // of which there is no folder
	if g, _ := ts.Assemble(b, vs, nil); g == nil || g.Lang != "fr" {
		t.Errorf("no words of fr stand in for fr-Latn-CA: %v", g)
	}
	s.Language.Value = "de"
	if g, findings := ts.Assemble(b, vs, nil); g != nil || lines(findings) != `sheet.yaml:9:11: there are no words in "de" [template-language] (languages: en, fr)` {
		t.Errorf("%v %s", g, lines(findings))
	}
	files["fr/sections/only.md"] = &fstest.MapFile{Data: []byte("---\ntitle: Seul\nwhen: dump\n---\nTexte.\n")}
	_, findings = LoadTemplates(source.Layer{Name: "own", Files: files})
	if want := `own/fr/sections/only.md:3:1: unknown key "when" [key-unknown] (keys allowed here: title, short)`; lines(findings) != want {
		t.Errorf("got\n%s\nwant\n%s", lines(findings), want)
	}
}

// A maker's own file goes before the program's, and a finding in it names it.
func TestLayers(t *testing.T) {
	base := source.Layer{Name: "base", Files: little(t, nil)}
	own := source.Layer{Name: "dealer", Files: fstest.MapFS{"en/sections/only.md": {Data: []byte("---\ntitle: Mine\n---\n{tires.sise}\n")}}}
	ts, findings := LoadTemplates(own, base)
	if want := `dealer/en/sections/only.md:4:1: nothing is called {tires.sise} [template-value] (did you mean {tires.size}?)`; lines(findings) != want {
		t.Errorf("got\n%s\nwant\n%s", lines(findings), want)
	}
	layers := map[string]string{}
	for _, f := range ts.Files {
		layers[f.Name] = f.Layer
	}
	if layers["en/sections/only.md"] != "dealer" || layers["en/labels.yaml"] != "base" {
		t.Errorf("layers are %v", layers)
	}
}

// Templates are held against the line: what no unit can have is no condition,
// and jobs and their words match one to one.
func TestCheckAgainst(t *testing.T) {
	l, findings := spec.LoadLine(line.Files, "line")
	if len(findings) > 0 {
		t.Fatal(written(findings))
	}
	var jobs []product.Task
	for _, task := range l.Tasks {
		if task.ID.Value == "tire-pressure" {
			jobs = append(jobs, task)
		}
	}
	l.Tasks = jobs
	for name, test := range map[string]struct {
		files map[string]string
		want  string
	}{
		"sound":         {nil, ""},
		"section":       {map[string]string{"en/sections/only.md": "---\ntitle: Only\nplace: 100\nwhen: power-tlt\n---\nText.\n"}, `own/outline.yaml:2:9: no model, option or component brings the feature "power-tlt" [template-feature] (did you mean "power-tilt"?)`},
		"text":          {body("- a\n- {?brakd} b\n"), `own/en/sections/only.md:6:5: no model, option or component brings the feature "brakd" [template-feature] (did you mean "braked"?)`},
		"row":           {body("| A |\n| --- |\n| {?dump or brakd} x |\n"), `own/en/sections/only.md:7:13: no model, option or component brings the feature "brakd" [template-feature] (did you mean "braked"?)`},
		"line of block": {body("```values\nhitch.ball: Ball\n{?brakd} wheels.torque: Nuts\n```\n"), `own/en/sections/only.md:7:3: no model, option or component brings the feature "brakd" [template-feature] (did you mean "braked"?)`},
		"job":           {map[string]string{"en/tasks/tire-pressure.md": "---\ntitle: Check\n---\n{?brakd} Text.\n"}, `own/en/tasks/tire-pressure.md:4:3: no model, option or component brings the feature "brakd" [template-feature] (did you mean "braked"?)`},
		"trouble":       {map[string]string{"trouble.yaml": "- { id: dark, system: lamps }\n- { id: stuck, system: dump, when: not brakd }\n"}, `own/trouble.yaml:2:40: no model, option or component brings the feature "brakd" [template-feature] (did you mean "braked"?)`},
		"option":        {body("Your {option.winch-plat}.\n"), `own/en/sections/only.md:5:6: no model has an option "winch-plat" [template-value] (did you mean {option.winch-plate}?)`},
		"option asked":  {body("{?value:option.winch-plat} Text.\n"), `own/en/sections/only.md:5:3: no model has an option "winch-plat" [template-value] (did you mean {option.winch-plate}?)`},
		"stop":          {map[string]string{"en/sections/only.md": "---\ntitle: Only\nplace: 100\nrole: stop\nstop: cuopler\n---\nText.\n"}, `own/outline.yaml:2:10: the point is at "cuopler", which is no part of any unit [template-outline] (did you mean "coupler"?)`},
		"caution":       {map[string]string{"cautions.yaml": "- { id: rolls, word: warning }\n- { id: drops, word: danger, when: dmp }\n"}, "own/cautions.yaml:2:36: no model, option or component brings the feature \"dmp\" [template-feature] (did you mean \"dump\"?)"},
		"words, no job": {map[string]string{"en/tasks/tire-presure.md": "---\ntitle: Check\n---\nText.\n"}, `own/en/tasks/tire-presure.md:2:8: there is no job "tire-presure" [template-task] (did you mean "tire-pressure"?)`},
	} {
		t.Run(name, func(t *testing.T) {
			ts, findings := loadLittle(t, test.files)
			if len(findings) > 0 {
				t.Fatal(lines(findings))
			}
			if got := lines(ts.CheckAgainst(l)); got != test.want {
				t.Errorf("got\n%s\nwant\n%s", got, test.want)
			}
		})
	}
	files := little(t, nil)
	delete(files, "en/tasks/tire-pressure.md")
	ts, findings := LoadTemplates(source.Layer{Name: "own", Files: files})
	if got := lines(append(findings, ts.CheckAgainst(l)...)); !strings.Contains(got, `job "tire-pressure" has no words in en/tasks [template-task]`) {
		t.Errorf("got %s", got)
	}

	// A feature misspelt in the line leaves out everything that depends on it, and no other
	// check can see it.
	ts, _ = loadLittle(t, nil)
	at := source.Pos{File: "line/models/tilt-20.yaml", Line: 54, Column: 16}
	model := l.Model("tilt-20")
	model.Features = append(model.Features, word{Value: "powertilt", At: at, Set: true}, word{Value: "of-our-own", At: at, Set: true})
	want := `line/models/tilt-20.yaml:54:16: nothing asks for the feature "of-our-own" [feature-idle] (delete it, or give it a caution, a job or a text)
line/models/tilt-20.yaml:54:16: nothing asks for the feature "powertilt" [feature-idle] (delete it if you mean "power-tilt": a unit has that when its deck tilts and it has a lift cylinder)`
	if got := lines(ts.CheckAgainst(l).Sorted()); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	ts, _ = loadLittle(t, body("{?powertilt} Text.\n\n{?of-our-own} Text.\n"))
	if got := ts.CheckAgainst(l); len(got) > 0 {
		t.Errorf("a feature that a text asks for is refused: %s", lines(got))
	}
}
