package record

import (
	"bytes"
	"testing"
)

func TestCompareTellsWhy(t *testing.T) {
	of := func(weight, empty string, inputs ...Input) *Record {
		return &Record{Serial: "S-1", Values: []Value{
			{Name: "weights.cargo", Text: empty, Inputs: []Input{{Name: "weights.empty"}}},
			{Name: "weights.empty", Text: weight, Inputs: inputs},
		}}
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

func TestComparePagesAndSections(t *testing.T) {
	from := &Record{Pages: []string{"a", "b", "c"}, Sections: []Section{{ID: "one", Blocks: []string{"1"}}, {ID: "two", Blocks: []string{"2"}}}}
	to := &Record{Pages: []string{"a", "x", "b", "y"}, Sections: []Section{{ID: "one", Blocks: []string{"1"}}, {ID: "two", Blocks: []string{"2", "3"}}, {ID: "new"}}}
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

// What is no record is refused; what is one survives being written and read.
func FuzzDecode(f *testing.F) {
	whole, err := (&Record{Format: Format, Serial: "S-1", Revision: "A", Files: []Delivered{FileOf("guide.html", []byte("x"))}}).Encode()
	if err != nil {
		f.Fatal(err)
	}
	for _, seed := range []string{string(whole), "", "{}", "[]", `{"record":2,"serial":"S","revision":"A"}`, `{"record":1}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Decode(data)
		if err != nil {
			return
		}
		once, err := r.Encode()
		if err != nil {
			t.Fatal(err)
		}
		again, err := Decode(once)
		if err != nil {
			t.Fatal(err)
		}
		if twice, _ := again.Encode(); !bytes.Equal(once, twice) {
			t.Errorf("changed on the way:\n%s\n%s", once, twice)
		}
	})
}
