package draw

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"ownerguide/render/doc"
	"ownerguide/render/draw/shapes"
	"ownerguide/render/template"
	"ownerguide/spec"
	"ownerguide/spec/derive"
	"ownerguide/spec/line"
	"ownerguide/spec/product"
	"ownerguide/spec/quantity"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
	"ownerguide/templates"
)

const sheets = "../../testdata/sheets"

// drawnFor says for which units each drawing can be made; they are the
// conditions under which the words of the guide ask for it, or wider ones.
var drawnFor = map[string]string{
	"side-view": "", "unit-view": "", "plan-view": "", "plan-stops": "", "coupling": "", "connector-face": "",
	"torque-order": "", "jack": "", "coupler-weight-chart": "",
	"raised-deck": "tilting or dump", "raised-open": "tilting or dump", "tiedown": "d-rings",
	"deck-lock": "deck-lock", "power-block": "deep-cycle-battery", "hub-oil": "hubs-oil-bath",
}

// words are the embedded English labels, read once.
var words = sync.OnceValues(func() (map[string]string, error) {
	data, err := os.ReadFile("../../templates/en/labels.yaml")
	if err != nil {
		return nil, err
	}
	node, findings := source.Parse("labels.yaml", data, 1<<20)
	var labels source.Map[source.Given[string]]
	if node != nil {
		source.Decode(node, &labels, &findings)
	}
	if findings.HasErrors() {
		return nil, fmt.Errorf("labels.yaml: %v", findings)
	}
	out := map[string]string{}
	for _, item := range labels {
		out[item.Key] = item.Value.Value
	}
	return out, nil
})

// embeddedLine is the line inside the program, read once; nothing changes it.
var embeddedLine = sync.OnceValues(func() (*product.Line, source.Findings) { return spec.LoadLine(line.Files, "line") })

func embedded(t *testing.T) *product.Line {
	t.Helper()
	l, findings := embeddedLine()
	if l == nil || findings.HasErrors() {
		t.Fatal(findings)
	}
	return l
}

// worked are the units worked out before, by their sheets: most tests look at the same.
var worked = map[string]*Subject{}

// unitOf builds the unit of a sheet. Words that the language lacks fail the test.
func unitOf(t *testing.T, name string, data []byte) *Subject {
	t.Helper()
	known := worked[string(data)]
	if known == nil {
		products := embedded(t)
		s, findings := sheet.Read(name, data)
		if s == nil || findings.HasErrors() {
			t.Fatal(findings)
		}
		build, findings := spec.Resolve(products, s)
		if build == nil || findings.HasErrors() {
			t.Fatal(findings)
		}
		values, _ := derive.Evaluate(build)
		known = &Subject{Build: build, Values: values, Stops: stopsOf(t, build)}
		worked[string(data)] = known
	}
	build, values := known.Build, known.Values
	labels, err := words()
	if err != nil {
		t.Fatal(err)
	}
	return &Subject{
		Build: build, Values: values, Stops: known.Stops,
		Label: func(key string) string {
			if labels[key] == "" {
				t.Errorf("label %q is missing", key)
			}
			return labels[key]
		},
		Figure: func(name string) string {
			v, ok := values.Lookup(name)
			if !ok {
				return ""
			}
			if word, ok := v.Exact.(derive.Text); ok && labels["enum."+string(word)] != "" {
				return labels["enum."+string(word)]
			}
			return v.Print(quantity.English)
		},
		Exact: func(name string) any {
			if v, ok := values.Lookup(name); ok {
				return v.Exact
			}
			return nil
		},
	}
}

// embeddedTemplates are the templates inside the program, compiled once without
// anything to fill them.
var embeddedTemplates = sync.OnceValue(func() *template.Templates {
	t, _ := template.Load(template.Program{}, nil, source.Layer{Name: "templates", Files: templates.Files})
	return t
})

// stopsOf lists the stops of the walk-around, as the outline of the guide has them.
func stopsOf(t *testing.T, b *spec.Build) (stops []Stop) {
	t.Helper()
	for _, s := range embeddedTemplates().Sections() {
		if !s.Point.Set || !s.When.Holds(b.Has) {
			continue
		}
		title := ""
		for _, in := range embeddedTemplates().Language(template.Base).Sections[s.ID]().Title {
			title += in.Text
		}
		stops = append(stops, Stop{Number: len(stops) + 1, Part: s.Point.Value, Title: title})
	}
	if len(stops) < 5 {
		t.Fatalf("only %d stops were found", len(stops))
	}
	return stops
}

// eachUnit runs a check for the unit of every good sheet.
func eachUnit(t *testing.T, check func(t *testing.T, s *Subject)) {
	t.Helper()
	files, err := filepath.Glob(sheets + "/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no sheets in %s: %v", sheets, err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(file), func(t *testing.T) { check(t, unitOf(t, file, data)) })
	}
}

func labelsOf(d *doc.Drawing) (out []*doc.Label) {
	for _, shape := range d.Shapes {
		if l, ok := shape.(*doc.Label); ok {
			out = append(out, l)
		}
	}
	return out
}

// area is a rectangle on the sheet, y down.
type area struct{ left, right, top, bottom float64 }

func (a area) meets(b area) bool {
	return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom
}

// areaOf is the room a label takes, from its highest to its lowest letter.
// Texts lie level: a turned one is hard to read on a phone.
func areaOf(l *doc.Label) area {
	w := shapes.TextWidth(l.Text, l.Size)
	left := map[doc.Anchor]float64{doc.Start: l.At.X, doc.Center: l.At.X - w/2, doc.End: l.At.X - w}[l.Anchor]
	return area{left, left + w, l.At.Y - 0.74*l.Size, l.At.Y + 0.2*l.Size}
}

// extentOf returns the room a shape takes; curves lie within their controls.
func extentOf(shape doc.Shape) area {
	a := area{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	take := func(x, y float64) {
		a = area{min(a.left, x), max(a.right, x), min(a.top, y), max(a.bottom, y)}
	}
	switch s := shape.(type) {
	case *doc.Circle:
		take(s.Center.X-s.Radius, s.Center.Y-s.Radius)
		take(s.Center.X+s.Radius, s.Center.Y+s.Radius)
	case *doc.Label:
		return areaOf(s)
	case *doc.Path:
		from := s.From
		take(from.X, from.Y)
		for _, g := range s.Segments {
			take(g.To.X, g.To.Y)
			for i := 1; g.Curve && i < 16; i++ {
				u := float64(i) / 16
				at := func(p0, p1, p2, p3 float64) float64 {
					v := 1 - u
					return v*v*v*p0 + 3*v*v*u*p1 + 3*v*u*u*p2 + u*u*u*p3
				}
				take(at(from.X, g.C1.X, g.C2.X, g.To.X), at(from.Y, g.C1.Y, g.C2.Y, g.To.Y))
			}
			from = g.To
		}
	}
	return a
}

// styleOf returns how a shape is drawn; ok is false for text.
func styleOf(shape doc.Shape) (s doc.Style, ok bool) {
	switch shape := shape.(type) {
	case *doc.Path:
		return shape.Style, true
	case *doc.Circle:
		return shape.Style, true
	}
	return s, false
}

// numbered returns the positions of the labels that are bare whole numbers.
func numbered(d *doc.Drawing) map[int][]doc.Point {
	out := map[int][]doc.Point{}
	for _, l := range labelsOf(d) {
		if n, err := strconv.Atoi(l.Text); err == nil {
			out[n] = append(out[n], l.At)
		}
	}
	return out
}

// signed returns the positions of the labels that are one capital letter.
func signed(d *doc.Drawing) map[string][]doc.Point {
	out := map[string][]doc.Point{}
	for _, l := range labelsOf(d) {
		if len(l.Text) == 1 && "A" <= l.Text && l.Text <= "Z" {
			out[l.Text] = append(out[l.Text], l.At)
		}
	}
	return out
}

// TestTorqueOrder holds the picture of the wheel to the value: the numbers are
// the studs clockwise from the top, and the arrows run from stud to stud in
// the order of wheels.sequence.
func TestTorqueOrder(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		d, _, err := Draw("torque-order", *s)
		if err != nil {
			t.Fatal(err)
		}
		sequence := strings.Split(s.Figure("wheels.sequence"), "-")
		at := numbered(d)
		if studs := s.Figure("wheels.studs"); studs != strconv.Itoa(len(at)) {
			t.Fatalf("%d numbers are drawn; the wheel has %s studs", len(at), studs)
		}
		var middle doc.Point
		for n := 1; n <= len(at); n++ {
			if len(at[n]) != 1 {
				t.Fatalf("stud %d is drawn %d times", n, len(at[n]))
			}
			middle.X += at[n][0].X / float64(len(at))
			middle.Y += at[n][0].Y / float64(len(at))
		}
		for n := 1; n <= len(at); n++ {
			p := at[n][0]
			got := math.Mod(math.Atan2(p.X-middle.X, middle.Y-p.Y)*180/math.Pi+360, 360)
			if want := float64(n-1) * 360 / float64(len(at)); math.Abs(math.Mod(got-want+540, 360)-180) > 2 {
				t.Errorf("stud %d stands at %.0f degrees clockwise from the top; expected %.0f", n, got, want)
			}
		}
		// The star in the order it was drawn, each line by the studs it lies between.
		var order []string
		nearest := func(p doc.Point) string {
			best, least := 0, math.Inf(1)
			for n := range at {
				q := at[n][0]
				if gap := math.Hypot(p.X-q.X, p.Y-q.Y+4.5); gap < least {
					best, least = n, gap
				}
			}
			return strconv.Itoa(best)
		}
		for _, shape := range d.Shapes {
			if p, ok := shape.(*doc.Path); ok && !p.Closed && len(p.Segments) == 1 && len(p.Dash) == 0 && !p.Segments[0].Curve {
				if len(order) == 0 {
					order = append(order, nearest(p.From))
				}
				if order[len(order)-1] != nearest(p.From) {
					t.Errorf("an arrow begins at stud %s; expected %s", nearest(p.From), order[len(order)-1])
				}
				order = append(order, nearest(p.Segments[0].To))
			}
		}
		if !slices.Equal(order, sequence) {
			t.Errorf("the arrows run %v; wheels.sequence is %v", order, sequence)
		}
		if !slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return strings.HasSuffix(l.Text, s.Figure("wheels.torque")) }) {
			t.Errorf("the final torque %s is not in the picture", s.Figure("wheels.torque"))
		}
	})
}

// TestConnectorFace holds the picture of the plug to the line: one entry for each
// contact with its function and color, and for the seven-way blade the places
// of SAE J2863 seen into the socket (ground 7, brakes 5, left turn 9, right
// turn 3, charge 1 and lamps 11 o'clock; the layout from memory).
func TestConnectorFace(t *testing.T) {
	hours := map[string]float64{"charge": 1, "right": 3, "brake": 5, "ground": 7, "left": 9, "tail": 11}
	eachUnit(t, func(t *testing.T, s *Subject) {
		d, alt, err := Draw("connector-face", *s)
		if err != nil {
			t.Fatal(err)
		}
		plug, _ := spec.First[*product.Connector](s.Build)
		moulded := strings.HasSuffix(plug.Data.Kind.Value, "-round")
		sign := func(i int) string {
			if moulded {
				return plug.Data.Pins[i].Place.Value
			}
			return string(rune('A' + i))
		}
		whole := ""
		for _, l := range labelsOf(d) {
			whole += " " + l.Text
		}
		at := signed(d)
		if len(numbered(d)) > 0 {
			t.Error("a contact has a number of ours, which the standard may give to another")
		}
		for i, pin := range plug.Data.Pins {
			function, color := s.Label("enum."+pin.Function.Value), s.Label("enum."+pin.Color.Value)
			for _, word := range []string{function, color} {
				if !strings.Contains(whole, word) || !strings.Contains(alt, word) {
					t.Errorf("contact %d: %q is not in the picture and its text", i+1, word)
				}
			}
			hour, round := hours[pin.Function.Value]
			if plug.Data.Kind.Value != "seven-blade" || !round {
				continue
			}
			// Twice on the faces, once in the list below them.
			if len(at[sign(i)]) != 3 {
				t.Fatalf("contact %d is drawn %d times; expected on both faces and in the list", i+1, len(at[sign(i)]))
			}
			center := at[sign(len(plug.Data.Pins)-1)]
			for n, want := range []float64{12 - hour, hour} { // plug, then socket
				dx, dy := at[sign(i)][n].X-center[n].X, at[sign(i)][n].Y-center[n].Y
				got := math.Mod(math.Atan2(dx, -dy)*6/math.Pi+12, 12)
				if math.Abs(got-want) > 0.1 {
					t.Errorf("%s stands at %.1f o'clock on face %d; expected %.0f", pin.Function.Value, got, n+1, want)
				}
			}
		}
		for i := range plug.Data.Pins {
			if !slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return l.Text == sign(i) }) {
				t.Errorf("contact %s is not drawn", sign(i))
			}
		}
		if n := len(plug.Data.Pins); len(at) != n && !moulded {
			t.Errorf("%d contacts are drawn; the plug has %d", len(at), n)
		}
	})
}

// TestCouplingByBuild: a unit without brakes has no lanyard, and one with
// brakes has.
func TestCouplingByBuild(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		asked := map[string]bool{}
		counted := *s
		counted.Label = func(key string) string { asked[key] = true; return s.Label(key) }
		d, alt, err := Draw("coupling", counted)
		if err != nil {
			t.Fatal(err)
		}
		lanyard, chains := "draw.lanyard", "draw.chains-crossed"
		if s.Build.Has("gooseneck") {
			lanyard, chains = "draw.lanyard-bed", "draw.chains-bed"
		}
		if s.Build.Has("pintle") {
			lanyard = "draw.lanyard-pintle"
		}
		if s.Build.Has("kingpin") {
			lanyard = "draw.lanyard-kingpin"
		}
		if asked[lanyard] != s.Build.Has("braked") || strings.Contains(alt, "lanyard") != s.Build.Has("braked") {
			t.Errorf("lanyard drawn: %v, told: %v; brakes: %v", asked[lanyard], strings.Contains(alt, "lanyard"), s.Build.Has("braked"))
		}
		if asked[chains] != s.Build.Has("safety-chains") || strings.Contains(alt, "chains") != asked[chains] {
			t.Errorf("no %s in a drawing of %d shapes", chains, len(d.Shapes))
		}
	})
}

// turns tells how the first curved open path of a drawing that ends in an
// arrow head runs: the sign of the area it sweeps, y down, is positive clockwise.
func turns(d *doc.Drawing) (clockwise, found bool) {
	for i, shape := range d.Shapes {
		p, ok := shape.(*doc.Path)
		if !ok || p.Closed || len(p.Segments) == 0 || !p.Segments[0].Curve || i+1 == len(d.Shapes) {
			continue
		}
		head, ok := d.Shapes[i+1].(*doc.Path)
		end := p.Segments[len(p.Segments)-1].To
		if !ok || !head.Closed || math.Hypot(head.From.X-end.X, head.From.Y-end.Y) > 0.01 {
			continue
		}
		first := p.Segments[0]
		cross := (first.C1.X-p.From.X)*(first.To.Y-p.From.Y) - (first.C1.Y-p.From.Y)*(first.To.X-p.From.X)
		// The head lies back along the way the line came.
		back := head.Segments[0].To
		last := p.Segments[len(p.Segments)-1]
		ahead := (end.X-last.C2.X)*(end.X-back.X)+(end.Y-last.C2.Y)*(end.Y-back.Y) > 0
		return cross > 0, ahead
	}
	return false, false
}

// TestJackTurns holds the arrow at the jack's handle to jack.direction.
func TestJackTurns(t *testing.T) {
	seen := map[bool]bool{}
	eachUnit(t, func(t *testing.T, s *Subject) {
		if s.Build.Has("jack-powered") {
			return // no handle
		}
		d, alt, err := Draw("jack", *s)
		if err != nil {
			t.Fatal(err)
		}
		clockwise, found := turns(d)
		want := s.Figure("jack.direction") == "clockwise"
		if !found || clockwise != want {
			t.Errorf("arrow found: %v, clockwise: %v; jack.direction is %s", found, clockwise, s.Figure("jack.direction"))
		}
		if !strings.Contains(alt, " "+s.Figure("jack.direction")) {
			t.Errorf("the text %q does not say %s", alt, s.Figure("jack.direction"))
		}
		seen[want] = true
	})
	if len(seen) != 2 {
		t.Error("the sheets have no jacks of both directions; the check proves little")
	}
}

// TestChartCorners: the chart names the limits at full weight, as the values do.
func TestChartCorners(t *testing.T) {
	eachUnit(t, func(t *testing.T, s *Subject) {
		d, alt, err := Draw("coupler-weight-chart", *s)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{"hitch.tongue_range.full.low", "hitch.tongue_range.full.high"} {
			figure := s.Figure(name)
			drawn := slices.ContainsFunc(labelsOf(d), func(l *doc.Label) bool { return l.Text == s.brief(figure) })
			if !drawn || !strings.Contains(alt, figure) {
				t.Errorf("%s, %s, is not in the chart and its text", name, figure)
			}
		}
	})
}
