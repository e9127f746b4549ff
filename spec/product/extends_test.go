package product

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// Models, options and components that extend others, with the findings where
// something is wrong with that. Each case is written over a base.
func TestExtends(t *testing.T) {
	const shared = "rack: { weighs: 10 lb, center: 40 in, parts: { rack: { use: holder } }, requires: [{ option: front-box, because: plate-on-box }] }\n"
	const words = "text/en.yaml"
	base := map[string]string{
		"line.yaml":           strings.Replace(read(t, "line.yaml"), "deck-28]", "deck-28, tilt-22]", 1),
		"options/all.yaml":    shared,
		"models/tilt-20.yaml": strings.Replace(read(t, "models/tilt-20.yaml"), "options:\n", "options:\n  rack: { extends: rack, weighs: 12 lb }\n", 1),
		"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\n",
		words: strings.Replace(strings.Replace(read(t, words), "options:\n", "options:\n  rack: { name: Rack, describe: A rack for tests. }\n", 1),
			"models:\n", "models:\n  tilt-22: { name: Tilt 22, summary: A longer one. }\n", 1),
	}
	tests := []struct {
		name string
		add  map[string]string
		want string // findings, as in TestLineChecks with the hints behind
	}{
		{"sound", nil, ""},
		{"unknown model", map[string]string{"models/tilt-22.yaml": "extends: tilt-2O\nvin_code: TD222\n"},
			`models/tilt-22.yaml:1:10 line-extends [did you mean "tilt-20"?]`},
		{"itself", map[string]string{"models/tilt-22.yaml": "extends: tilt-22\n"},
			"models/tilt-22.yaml:1:10 line-extends [one of them has to be written out, without extends]"},
		{"round", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\n", "models/tilt-20.yaml": "extends: deck-28\n", "models/deck-28.yaml": "vin_code: GD282\nextends: tilt-22\n"},
			"models/tilt-22.yaml:1:10 line-extends [one of them has to be written out, without extends]"},
		{"no shared option of that name", map[string]string{"options/all.yaml": strings.Replace(shared, "rack:", "rank:", 1)},
			`models/tilt-20.yaml:22:20 line-extends [did you mean "rank"?]`},
		{"option of another model", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\noptions: { own: { extends: front-box } }\n"},
			"models/tilt-22.yaml:3:28 line-extends [there are rack]"},
		{"a key no option has", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\noptions: { rack: { wieghs: 9 lb } }\n"},
			`models/tilt-22.yaml:3:20 key-unknown [did you mean "weighs"?]`},
		{"a wrong value of a shared option is told once", map[string]string{"options/all.yaml": strings.Replace(shared, "40 in", "40 lb", 1)},
			"options/all.yaml:1:32 value-wrong []"},
		{"a place nothing is put in", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\noptions: { rack: { parts: { rakc: { on: left } } } }\n"},
			"models/tilt-22.yaml:3:35 key-missing []"},
		{"shared and of its own", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\nomits: [options.rack]\noptions: { rack: { weighs: 9 lb, center: 1 in } }\n"},
			"models/tilt-22.yaml:4:12 line-repeated [write extends: rack with what differs, or give it another id]"},
		{"shared twice", map[string]string{"options/more.yaml": shared}, "options/more.yaml:1:1 line-repeated []"},
		{"shared and not offered", map[string]string{"options/more.yaml": "hook: {}\n"},
			"options/more.yaml:1:1 line-option [write hook: { extends: hook } under options of a model, or delete it]"},
		{"leaves out what is not there", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\nomits: [options.rakc]\n"},
			`models/tilt-22.yaml:3:9 line-extends [did you mean "options.rack"?]`},
		{"leaves out what it needs", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\nomits: [gvwr]\n"},
			"models/tilt-22.yaml:1:1 key-missing []"},
		{"leaves out of nothing", map[string]string{"options/all.yaml": "rack: { omits: [weighs] }\n"},
			"options/all.yaml:1:16 line-extends [delete it]"},
		{"the same number", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\n"}, "models/tilt-20.yaml:1:11 line-vin []"},
		{"not a list of words", map[string]string{"models/tilt-22.yaml": "extends: [tilt-20]\nvin_code: TD222\ngvwr: 1 lb\n"}, "models/tilt-22.yaml:1:10 line-extends [write the id of one, or delete it]"},
		{"a set where a value belongs", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\ngvwr: { at: 1 lb }\n"}, "models/tilt-22.yaml:3:7 value-shape []"},
		{"an option's code of the wrong length", map[string]string{"options/all.yaml": strings.Replace(shared, "weighs", "vin_code: ..3, weighs", 1)}, "options/all.yaml:1:19 line-vin []"},
		{"an option's code that makes another model's", map[string]string{"options/all.yaml": strings.Replace(shared, "weighs", "vin_code: ...2., weighs", 1)},
			"models/tilt-22.yaml:2:11 line-vin []"},
		{"two options that make two codes", map[string]string{"models/tilt-22.yaml": "extends: tilt-20\nvin_code: TD222\noptions: { rack: { vin_code: ....3 }, spare: { vin_code: ....4 } }\n"},
			"models/tilt-22.yaml:3:58 line-vin []"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			files := smallFiles()
			for _, all := range []map[string]string{base, tt.add} {
				for name, text := range all {
					files[name] = &fstest.MapFile{Data: []byte(text)}
				}
			}
			line, findings := Load(files, "", derived, nil)
			var got []string
			for _, f := range findings {
				got = append(got, fmt.Sprint(f.Pos, " ", f.Code, " ", f.Hints))
			}
			if text := strings.Join(got, "; "); text != tt.want {
				t.Errorf("got  %s\nwant %s\n%v", text, tt.want, findings)
			}
			if (line == nil) != (tt.want != "") {
				t.Errorf("with findings %v the line is %v", got, line)
			}
		})
	}
}

// What an entry takes over from another one, and where it says it was written.
func TestExtendsTakesOver(t *testing.T) {
	files := smallFiles()
	edit := func(name, old, new string) {
		text := string(files[name].Data)
		if !strings.Contains(text, old) {
			t.Fatalf("%s has no %q", name, old)
		}
		files[name] = &fstest.MapFile{Data: []byte(strings.Replace(text, old, new, 1))}
	}
	add := func(name, text string) { files[name] = &fstest.MapFile{Data: []byte(text)} }
	edit("line.yaml", "deck-28]", "deck-28, tilt-22, tilt-22-heavy]")
	edit("text/en.yaml", "options:\n", "options:\n  rack: { name: Rack, describe: A rack. }\n")
	edit("text/en.yaml", "models:\n", "models:\n  tilt-22: { name: Tilt 22, summary: A longer one. }\n  tilt-22-heavy: { name: Tilt 22 H, summary: A heavy one. }\n")
	edit("models/tilt-20.yaml", "options:\n", "options:\n  rack:\n    extends: rack\n    parts: { rack: { at: { x: 100 in } } }\n")
	add("options/all.yaml", "rack: { weighs: 10 lb, center: 130 in, vin_code: ....7, parts: { rack: { use: holder, at: { x: 1 in, y: 2 in, z: 3 in } } } }\n")
	add("components/long.yaml", "decks: { deck-long: { extends: deck-flat, fixed: 18 ft }, deck-long-tilt: { extends: deck-tilt, tilting: 18 ft } }\n")
	add("models/tilt-22.yaml", `extends: tilt-20
vin_code: TD222
longer: { by: 2 ft, behind: 120 in, empty_weight: 2150 lb, coupler_weight: 265 lb, use: { deck-flat: deck-long, deck-tilt: deck-long-tilt } }
`)
	add("models/tilt-22-heavy.yaml", `extends: tilt-22
vin_code: TH222
gawr: [5000 lb, 5000 lb, 5000 lb]
omits: [options.light-duty, options.spare]
parts: { axle-3: { use: axle-plain, at: { x: 230 in, z: 14 in } } }
`)
	line, findings := Load(files, "", derived, nil)
	if line == nil {
		t.Fatal(findings)
	}
	long, heavy := line.Model("tilt-22"), line.Model("tilt-22-heavy")
	rack := long.Options.Get("rack")
	for _, c := range []struct{ what, got, want string }{
		{"rating of the one below", fmt.Sprint(long.GVWR.Value, long.GVWR.At), "6900 models/tilt-20.yaml:4:7"},
		{"weight of the longer", fmt.Sprint(long.Empty.Value, long.Empty.At), "2150 models/tilt-22.yaml:3:51"},
		{"overall", fmt.Sprint(long.Overall.Long.Value, " ", long.Overall.Long.Text), "264 20 ft + 2 ft"},
		{"ahead of the piece", fmt.Sprint(long.Parts.Get("deck").At.X.Value), "48"},
		{"over it", fmt.Sprint(long.Parts.Get("deck").Size.Long.Value), "216"},
		{"the floor of its own", long.Parts.Get("deck").Use.Value, "deck-long"},
		{"and of an option", long.Options.Get("light-duty").Parts.Get("deck").Use.Value, "deck-long-tilt"},
		{"an option's size", fmt.Sprint(long.Options.Get("light-duty").Overall.Long.Value), "252"},
		{"behind it", fmt.Sprintf("%v (%s)", long.Parts.Get("axle-1").At.X.Value, long.Parts.Get("axle-1").At.X.Text), "164 (140 in + 2 ft)"},
		{"the shorter one stays", fmt.Sprint(line.Model("tilt-20").Parts.Get("axle-1").At.X.Value, line.Model("tilt-20").Overall.Long.Value), "140 240"},
		{"where an option weighs", fmt.Sprint(rack.Center.Value, rack.Center.At), "154 options/all.yaml:1:32"},
		{"a part of a shared option, moved by the model", fmt.Sprint(rack.Parts.Get("rack").At.X.Value, rack.Parts.Get("rack").At.Y.Value, rack.Parts.Get("rack").At.X.At), "100 2 models/tilt-20.yaml:24:31"},
		{"component of another", fmt.Sprint(line.Components.Decks.Get("deck-long").Fixed.Text, " ", line.Components.Decks.Get("deck-long").Inside.Text), "18 ft " + line.Components.Decks.Get("deck-flat").Inside.Text},
		{"axles", fmt.Sprint(len(heavy.GAWR), heavy.Parts.Get("axle-3").At.X.Value, heavy.Parts.Get("axle-2").At.X.Value), "3 230 198"},
		{"options left out", strings.Join(heavy.Options.Names(), " "), "rack front-box winch-plate headboard"},
		{"and kept below", strings.Join(long.Options.Names(), " "), "rack front-box winch-plate headboard spare light-duty"},
		{"code", long.VINCodeWith(nil) + " " + long.VINCodeWith([]string{"rack"}), "TD222 TD227"},
	} {
		if c.got != c.want {
			t.Errorf("%s: got %s, want %s", c.what, c.got, c.want)
		}
	}
	if name, _ := line.ComponentName("en", "deck-long"); name == "" {
		t.Error("a component that extends another has no name")
	}
}

// What makes no sense as a longer model.
func TestLongerRefuses(t *testing.T) {
	const longer = "longer: { by: 2 ft, behind: 120 in, empty_weight: 2150 lb, coupler_weight: 265 lb, use: { deck-flat: deck-long, deck-tilt: deck-long } }\n"
	tests := []struct{ name, model, want string }{
		{"sound", "extends: tilt-20\n" + longer, ""},
		{"than nothing", longer, "longer without extends"},
		{"no weights", "extends: tilt-20\nlonger: { by: 2 ft, behind: 120 in }\n", "longer.empty_weight is missing"},
		{"weights twice", "extends: tilt-20\nempty_weight: 2100 lb\n" + longer, "stands under longer"},
		{"by nothing", "extends: tilt-20\n" + strings.Replace(longer, "2 ft", "0 ft", 1), "longer by nothing"},
		{"shorter", "extends: tilt-20\n" + strings.Replace(longer, "2 ft", "-2 ft", 1), "expected"},
		{"the floor of the shorter", "extends: tilt-20\n" + strings.Replace(longer, "deck-flat: deck-long, ", "", 1), "deck-flat has figures of its own"},
		{"another of what is not there", "extends: tilt-20\n" + strings.Replace(longer, "deck-flat:", "deck-falt:", 1), "is a deck-falt"},
		{"another that is not there", "extends: tilt-20\n" + strings.Replace(longer, "deck-flat: deck-long", "deck-flat: deck-lang", 1), `component "deck-lang" is not known`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			files := smallFiles()
			files["line.yaml"].Data = []byte(strings.Replace(string(files["line.yaml"].Data), "deck-28]", "deck-28, tilt-22]", 1))
			files["text/en.yaml"].Data = []byte(strings.Replace(string(files["text/en.yaml"].Data), "models:\n", "models:\n  tilt-22: { name: Tilt 22, summary: A longer one. }\n", 1))
			files["components/long.yaml"] = &fstest.MapFile{Data: []byte("decks: { deck-long: { extends: deck-flat, fixed: 18 ft } }\n")}
			files["models/tilt-22.yaml"] = &fstest.MapFile{Data: []byte("vin_code: TD222\n" + tt.model)}
			_, findings := Load(files, "", derived, nil)
			var told []string
			for _, f := range findings {
				told = append(told, f.Message)
			}
			if all := strings.Join(told, "; "); tt.want == "" && all != "" || !strings.Contains(all, tt.want) {
				t.Errorf("got %s, want %s", all, tt.want)
			}
		})
	}
}
