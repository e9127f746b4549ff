package record

import (
	"bytes"
	"slices"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

func TestCompareTellsWhy(t *testing.T) {
	of := func(weight, empty string, entries ...Input) *Record {
		c := &Contents{Counted: append([]Input{{Name: "weights.empty"}}, entries...), Values: []Value{
			{Name: "weights.cargo", Text: empty, Inputs: []int{0}},
			{Name: "weights.empty", Text: weight},
		}}
		for i := range entries {
			c.Values[1].Inputs = append(c.Values[1].Inputs, i+1)
		}
		return &Record{Serial: "S-1", Contents: c}
	}
	model := Input{Path: "model.empty_weight", Text: "900 lb"}
	c := Compare(of("900 lb", "2,090 lb", model), of("950 lb", "2,040 lb", model, Input{Path: "options.spare.weighs", Text: "50 lb"}))
	if c.None() || len(c.Values) != 2 {
		t.Fatalf("got %+v, want two values", c.Values)
	}
	if got, want := c.Values[0].Why, "weights.empty: 900 lb → 950 lb"; len(got) != 1 || got[0] != want {
		t.Errorf("cargo changed because %q, want %q", got, want)
	}
	if got, want := c.Values[1].Why, "options.spare.weighs is now counted: 50 lb"; len(got) != 1 || got[0] != want {
		t.Errorf("empty weight changed because %q, want %q", got, want)
	}
}

// Contents come from outside, too: an input that is not there must not end the program.
func TestContentsWithoutTheirInputs(t *testing.T) {
	for text, taken := range map[string]bool{"0": true, "1": false, "-1": false} {
		_, err := DecodeContents([]byte(`{"counted":[{"name":"a"}],"values":[{"name":"b","text":"1","inputs":[` + text + `]}]}`))
		if (err == nil) != taken {
			t.Errorf("input %s: %v", text, err)
		}
	}
}

func TestComparePagesAndSections(t *testing.T) {
	from := &Record{Contents: &Contents{PageDigests: []string{"a", "b", "c"}, Sections: []Section{{ID: "one", Blocks: []string{"1"}}, {ID: "two", Blocks: []string{"2"}}}}}
	to := &Record{Contents: &Contents{PageDigests: []string{"a", "x", "b", "y"}, Sections: []Section{{ID: "one", Blocks: []string{"1"}}, {ID: "two", Blocks: []string{"2", "3"}}, {ID: "new"}}}}
	c := Compare(from, to)
	if got := c.Pages.Changed; len(got) != 2 || got[0] != 2 || got[1] != 4 {
		t.Errorf("pages to print: %v, want 2 and 4", got)
	}
	if s := c.Sections; len(s.Changed) != 1 || s.Changed[0].ID != "two" || len(s.Added) != 1 || s.Added[0].ID != "new" || len(s.Removed) != 0 {
		t.Errorf("sections %+v", s)
	}
	if same := Compare(from, from); !same.None() || len(same.Pages.Changed) > 0 {
		t.Errorf("a record differs from itself: %+v", same)
	}
}

// sample is a record with something in every entry that is checked.
func sample() *Record {
	digest := Digest(nil)
	return &Record{
		Format: Format, Serial: "S-1", VIN: "1B9TD202XVM000142", Revision: "C", Issued: "2027-03-02", Delivered: "2027-03-04",
		Program: "ownerguide v1.0.0", Inputs: Inputs{Sheet: Digest([]byte("sheet")), Line: digest, Templates: digest}, Print: Print{Paper: "letter"},
		Content: digest, Looks: digest, Pages: 88,
		Files: []Delivered{FileOf("guide.html", []byte("x")), FileOf(sheet.CopyName, []byte("sheet")), FileOf(ContentsFile, []byte("{}")), FileOf(LineFile, []byte("zip"))},
		Kept:  []Kept{{"A", digest}, {"B", digest}},
		Notes: []Note{{"warning", "tire-age", 12, "a <tire> & \"more\""}},
		Parts: []Part{{"tire-left", "tire", "st-205", "BW-TR-2051", "ST205/75R15"}}, Fitted: []Mark{{"left", "tire", "3426"}},
	}
}

func encoded(t testing.TB, r *Record) []byte {
	t.Helper()
	data, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Whatever byte of a record is changed or lost: it is no longer taken for what
// was delivered. A changed program or digest of the inputs would otherwise turn
// off that the guide is made again.
func TestEveryChangedByteIsFound(t *testing.T) {
	data := encoded(t, sample())
	if _, err := Decode(data); err != nil {
		t.Fatal(err)
	}
	for i := range data {
		for _, bit := range []byte{1, ' '} { // the second changes capitals
			flipped := bytes.Clone(data)
			flipped[i] ^= bit
			if _, err := Decode(flipped); err == nil {
				t.Errorf("byte %d with %q for %q is taken", i, flipped[i], data[i])
			}
		}
		if _, err := Decode(data[:i]); err == nil {
			t.Errorf("cut off at byte %d it is taken", i)
		}
	}
	for _, other := range []string{" " + string(data), string(data) + " ", string(data) + "{}"} {
		if _, err := Decode([]byte(other)); err == nil {
			t.Error("something before or after it is taken")
		}
	}
}

// A record comes from outside: what becomes a path or is held against other
// units is what a sheet could have said, even in a record with a right digest.
func TestForgedRecordsAreRefused(t *testing.T) {
	for name, forge := range map[string]func(*Record){
		"shape":                 func(r *Record) { r.Format = Format + 1 },
		"no serial":             func(r *Record) { r.Serial = "" },
		"serial as a way out":   func(r *Record) { r.Serial = "../S-1" },
		"serial of a device":    func(r *Record) { r.Serial = "con" },
		"vin":                   func(r *Record) { r.VIN = "1B9TD202XVM00014" },
		"revision as a way out": func(r *Record) { r.Revision = "../../../usr" },
		"revision I":            func(r *Record) { r.Revision = "I" },
		"no day":                func(r *Record) { r.Issued = "2027-02-30" },
		"delivered some day":    func(r *Record) { r.Delivered = "soon" },
		"content":               func(r *Record) { r.Content = "x" },
		"looks":                 func(r *Record) { r.Looks = "" },
		"another sheet":         func(r *Record) { r.Inputs.Sheet = Digest(nil) },
		"file as a way out":     func(r *Record) { r.Files[0].Name = "../guide.html" },
		"file in a folder":      func(r *Record) { r.Files[0].Name = "revisions/guide.html" },
		"file twice":            func(r *Record) { r.Files[0].Name = ContentsFile },
		"its own file":          func(r *Record) { r.Files[0].Name = File },
		"no contents":           func(r *Record) { r.Files = r.Files[:2] },
		"no sheet":              func(r *Record) { r.Files = slices.Delete(r.Files, 1, 2) },
		"size":                  func(r *Record) { r.Files[0].Size = -1 },
		"digest of a file":      func(r *Record) { r.Files[0].SHA256 = "x" },
		"kept as a way out":     func(r *Record) { r.Kept[0].Revision = "../../A" },
		"kept twice":            func(r *Record) { r.Kept[0].Revision = "B" },
		"kept and in force":     func(r *Record) { r.Kept[1].Revision = "C" },
		"kept without a digest": func(r *Record) { r.Kept[1].SHA256 = "" },
	} {
		r := sample()
		forge(r)
		if _, err := Decode(encoded(t, r)); err == nil {
			t.Errorf("%s: the record is taken", name)
		}
	}
}

// A guide that reads, looks or is printed otherwise is not the one that was
// delivered; the record says in what it differs.
func TestPromise(t *testing.T) {
	was := sample()
	for name, change := range map[string]func(*Record){
		"content": func(r *Record) { r.Content = Digest([]byte("other")) },
		"looks":   func(r *Record) { r.Looks = Digest([]byte("other")) },
		"paper":   func(r *Record) { r.Print.Paper = "a4" },
	} {
		now := sample()
		change(now)
		if was.Other(now) == "" || was.Promise() == now.Promise() {
			t.Errorf("another %s is the same promise", name)
		}
	}
	now := sample()
	now.Print.Booklet, now.Program, now.Notes = true, "ownerguide v2.0.0", nil
	if other := was.Other(now); other != "" || was.Promise() != now.Promise() {
		t.Errorf("the same guide %s", other)
	}
}

// What a sheet and the files of a line are called changes no record: verify
// makes guides again from a copy of the sheet under another name.
func TestNotesHangOnNoFileName(t *testing.T) {
	of := func(sheetName, lineName string) []Note {
		code := source.Code{ID: "tire-age", Severity: source.Warning}
		var r Record
		r.Note(source.Findings{
			code.At(source.Pos{File: sheetName, Line: 9}, "of the sheet"), code.At(source.Pos{File: lineName, Line: 3}, "of the line"),
			code.At(source.Pos{File: lineName, Line: 3}, "of the line"), code.At(source.Pos{File: sheetName, Line: 3}, "of the line"),
		})
		return r.Notes
	}
	first := of("sheets/a.yaml", "own/line/line.yaml")
	if second := of("out/A-1/sheet.yaml", "own/line/line.yaml"); !slices.Equal(first, second) || len(first) != 2 {
		t.Errorf("%v and %v", first, second)
	}
}

// What is no record is refused; what is one survives being written and read.
func FuzzDecode(f *testing.F) {
	for _, seed := range []string{string(encoded(f, sample())), "", "{}", "[]", `{"record":2,"serial":"S","revision":"A"}`, `{"record":1}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Decode(data)
		if err != nil {
			return
		}
		if again := encoded(t, r); !bytes.Equal(data, again) {
			t.Errorf("changed on the way:\n%s\n%s", data, again)
		}
	})
}

// A style sheet, logo or color of another kind is another look: a style sheet
// can hide a caution.
func TestLooks(t *testing.T) {
	guide := func(change func(*doc.Guide, *doc.Logo)) *doc.Guide {
		logo := &doc.Logo{Alt: "Maker", Width: 2, Height: 1, Drawing: &doc.Drawing{Width: 2, Height: 1}}
		g := &doc.Guide{Sections: []*doc.Section{{Blocks: []doc.Block{logo}}}}
		change(g, logo)
		return g
	}
	same := func(*doc.Guide, *doc.Logo) {}
	was := looksOf(guide(same), "css")
	if looksOf(guide(same), "css") != was {
		t.Error("the same looks differ")
	}
	for name, now := range map[string]string{
		"style sheet": looksOf(guide(same), "css .caution { display: none }"),
		"field":       looksOf(guide(func(g *doc.Guide, _ *doc.Logo) { g.Field++ }), "css"),
		"on field":    looksOf(guide(func(g *doc.Guide, _ *doc.Logo) { g.OnField++ }), "css"),
		"drawing":     looksOf(guide(func(_ *doc.Guide, l *doc.Logo) { l.Drawing = &doc.Drawing{Width: 3, Height: 1} }), "css"),
		"picture":     looksOf(guide(func(_ *doc.Guide, l *doc.Logo) { l.PNG = []byte("png") }), "css"),
		"size":        looksOf(guide(func(_ *doc.Guide, l *doc.Logo) { l.Width = 3 }), "css"),
		"no logo":     looksOf(guide(func(g *doc.Guide, _ *doc.Logo) { g.Sections = nil }), "css"),
	} {
		if now == was {
			t.Errorf("another %s has the same looks", name)
		}
	}
}
