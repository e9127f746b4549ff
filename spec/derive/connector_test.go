package derive

import (
	"slices"
	"strings"
	"testing"
)

// roundPlug is the seven-pin round plug of heavy trucks in place of a seven-way blade,
// one of its contacts wired for something else.
func roundPlug(place, function string) slip {
	plug := `kind: seven-round
    pins:
      - { place: "1", function: ground, color: white }
      - { place: "2", function: markers, color: black }
      - { place: "3", function: left-turn, color: yellow }
      - { place: "4", function: stop, color: red }
      - { place: "5", function: right-turn, color: green }
      - { place: "6", function: tail-plate, color: brown }
      - { place: "7", function: auxiliary, color: blue }
`
	if place != "" {
		before, after, _ := strings.Cut(plug, `place: "`+place+`", function: `)
		_, after, _ = strings.Cut(after, ",")
		plug = before + `place: "` + place + `", function: ` + function + "," + after
	}
	return slip{coupling, `kind: seven-blade # SAE J2863, seen looking into the socket of the tow vehicle
    pins:
      - { place: "1 o'clock", function: charge, color: black }
      - { place: "3 o'clock", function: right, color: green }
      - { place: "5 o'clock", function: brake, color: blue }
      - { place: "7 o'clock", function: ground, color: white }
      - { place: "9 o'clock", function: left, color: yellow }
      - { place: "11 o'clock", function: tail, color: brown }
      - { place: center, function: reverse, color: purple }
`, plug}
}

// tradePlug is a round plug that no standard lays out, on a livestock trailer.
func tradePlug(kind, pins string) slip {
	from := `kind: six-round # no standard: common practice, the marks moulded in the plug
    pins:
      - { place: GD, function: ground, color: white }
      - { place: TM, function: tail, color: brown }
      - { place: LT, function: left, color: yellow }
      - { place: RT, function: right, color: green }
      - { place: S, function: brake, color: blue }
      - { place: A, function: charge, color: black }
`
	to := "kind: " + kind + "\n    pins:\n"
	for _, pin := range strings.Fields(pins) {
		place, function, _ := strings.Cut(pin, "=")
		to += "      - { place: \"" + place + "\", function: " + function + ", color: " + function + " }\n"
	}
	return slip{coupling, from, to}
}

// Round plugs of four to six contacts go by what is common; a braked trailer is
// refused one that carries no brake circuit.
func TestTradePlugs(t *testing.T) {
	const four = "GD=ground TM=tail LT=left RT=right "
	for _, test := range []struct{ kind, pins, want string }{
		{"six-round", four + "S=brake A=charge", ""},
		{"six-round", four + "S=brake A=reverse", "charge-pin-missing"},
		{"six-round", four + "S=charge A=brake", "connector-layout"},
		{"six-round", four + "S=brake 12V=charge", "connector-layout"},
		{"five-round", four + "A=brake", "charge-pin-missing"},
		{"five-round", "1=ground 2=tail 3=left 4=right 5=brake", "charge-pin-missing"},
		{"five-round", "1=ground 2=tail 3=left 3=right 5=brake", "charge-pin-missing connector-pins"},
		{"five-round", "1=ground 2=tail 3=left 4=right center=brake", "charge-pin-missing connector-layout"},
		{"five-round", four + "A=reverse", "brake-pin-missing"},
		{"four-round", four, "brake-pin-missing"},
		{"four-flat", "1=ground 2=tail 3=left 4=right", "brake-pin-missing"},
	} {
		var codes []string
		for _, f := range slipped(t, "0201", slip{}, tradePlug(test.kind, test.pins)) {
			codes = append(codes, f.Code)
			if f.Code == "brake-pin-missing" && len(f.Hints) == 0 {
				t.Errorf("%s: nobody says which plug to fit", test.kind)
			}
		}
		slices.Sort(codes)
		if got := strings.Join(slices.Compact(codes), " "); got != test.want {
			t.Errorf("%s %s: %s; expected %s", test.kind, test.pins, got, test.want)
		}
	}
}

// The seven-pin round plug of heavy trucks is held contact by contact against its
// standard. It has none for brakes, charge or reverse: who wires brakes to the
// auxiliary one is warned that a truck may keep it live.
func TestRoundPlug(t *testing.T) {
	for _, test := range []struct{ place, function, want string }{
		{"", "", "brake-pin-missing"},
		{"7", "brake", "charge-pin-missing connector-auxiliary-live"},
		{"4", "auxiliary", "brake-pin-missing connector-layout connector-pins"},
		{"3", "right-turn", "brake-pin-missing connector-layout connector-pins"},
		{"6", "markers", "brake-pin-missing connector-layout connector-pins"},
	} {
		var codes []string
		for _, f := range slipped(t, "0142", slip{}, roundPlug(test.place, test.function)) {
			codes = append(codes, f.Code)
		}
		slices.Sort(codes)
		if got := strings.Join(slices.Compact(codes), " "); got != test.want {
			t.Errorf("contact %q wired for %q: %s; expected %s", test.place, test.function, got, test.want)
		}
	}
}
