package derive

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ownerguide/spec"
	"ownerguide/spec/line"
	"ownerguide/spec/quantity"
	"ownerguide/spec/testenv"
)

// sources is this package as it is written, tests and all.
type sources struct {
	funcs  map[string]*ast.FuncDecl // by name; methods as .name
	leaves map[string]bool          // of them those that are arithmetic alone: they get nothing of a unit
	sites  []site
	tests  []*ast.File
}

// site is a place where values are declared, one or many of one formula.
type site struct {
	names *regexp.Regexp // of the values
	node  ast.Node       // formula and all
}

func readSources(t *testing.T) *sources {
	t.Helper()
	s := &sources{funcs: map[string]*ast.FuncDecl{}, leaves: map[string]bool{}}
	names, _ := filepath.Glob("*.go")
	var code []*ast.File
	for _, name := range names {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.SkipObjectResolution)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(name, "_test.go") {
			s.tests = append(s.tests, f)
		} else {
			code = append(code, f)
		}
	}
	for _, f := range code {
		for _, d := range f.Decls {
			if d, ok := d.(*ast.FuncDecl); ok {
				name := d.Name.Name
				if d.Recv != nil {
					name = "." + name
				}
				if d.Recv != nil && ast.IsExported(d.Name.Name) {
					continue // such as Name and Print, which work nothing out
				}
				s.funcs[name], s.leaves[name] = d, !strings.Contains(typesOf(d), "Eval") && !declares(d)
			}
		}
	}
	for _, f := range code {
		for _, d := range f.Decls {
			s.addSites(d)
		}
	}
	return s
}

// typesOf gives receiver and parameters of a function as text.
func typesOf(d *ast.FuncDecl) (text string) {
	for _, list := range []*ast.FieldList{d.Recv, d.Type.Params} {
		if list == nil {
			continue
		}
		for _, field := range list.List {
			ast.Inspect(field.Type, func(n ast.Node) bool {
				if id, ok := n.(*ast.Ident); ok {
					text += id.Name + " "
				}
				return true
			})
		}
	}
	return text
}

// pattern is what names an expression can give: any, for what is not written there.
func pattern(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.BasicLit:
		text, _ := strconv.Unquote(e.Value)
		return regexp.QuoteMeta(text)
	case *ast.BinaryExpr:
		return pattern(e.X) + pattern(e.Y)
	}
	return ".+"
}

const anyName = ".+"

// addSites finds the declarations of values in one declaration of the package: what
// is given to declare, to family or to a function that calls them, and names that
// are put together before.
func (s *sources) addSites(in ast.Decl) {
	add := func(name ast.Expr, node ast.Node) {
		if p := pattern(name); p != anyName {
			s.sites = append(s.sites, site{regexp.MustCompile("^" + p + "$"), node})
		}
	}
	ast.Inspect(in, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.AssignStmt:
			if len(n.Lhs) == len(n.Rhs) && nameOf(n.Lhs[0]) == "Name" {
				add(n.Rhs[0], in)
			}
		case *ast.BasicLit: // a table of names
			add(n, in)
		case *ast.CallExpr:
			name := nameOf(n.Fun)
			if lit, ok := firstArg(n).(*ast.CompositeLit); ok && (name == "declare" || name == "family") {
				for _, e := range lit.Elts {
					if kv, ok := e.(*ast.KeyValueExpr); ok && nameOf(kv.Key) == "Name" {
						add(kv.Value, n)
					}
				}
			} else if f := s.funcs[name]; f != nil && declares(f) {
				for _, arg := range n.Args {
					add(arg, n)
				}
			}
		}
		return true
	})
}

func firstArg(call *ast.CallExpr) ast.Expr {
	if len(call.Args) == 0 {
		return nil
	}
	return call.Args[0]
}

// declares tells whether a function declares values for those who call it.
func declares(f *ast.FuncDecl) bool { return calls(f, "declare") || calls(f, "family") }

func calls(f *ast.FuncDecl, name string) (found bool) {
	ast.Inspect(f, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		found = found || ok && nameOf(call.Fun) == name
		return true
	})
	return found
}

// nameOf gives the last name of an expression: f of f, x.f and f[T].
func nameOf(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.SelectorExpr:
		return e.Sel.Name
	case *ast.IndexExpr:
		return nameOf(e.X)
	}
	return ""
}

// arithmetic gives the functions of arithmetic that a piece of code calls, itself
// or through such as read the unit for it.
func (s *sources) arithmetic(n ast.Node, into, seen map[string]bool) map[string]bool {
	ast.Inspect(n, func(n ast.Node) bool {
		var name string
		switch n := n.(type) {
		case *ast.Ident:
			name = n.Name
		case *ast.SelectorExpr:
			s.arithmetic(n.X, into, seen)
			return false
		case *ast.CallExpr:
			method, ok := n.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			s.arithmetic(method.X, into, seen)
			for _, arg := range n.Args {
				s.arithmetic(arg, into, seen)
			}
			name = "." + method.Sel.Name
		default:
			return true
		}
		switch f := s.funcs[name]; {
		case f == nil || seen[name]:
		case s.leaves[name]:
			into[name] = true
		default:
			seen[name] = true
			s.arithmetic(f, into, seen)
		}
		return false
	})
	return into
}

// closer tells whether a place names a value more closely than another, or with less around it.
func closer(a, b *site) bool {
	if d := letters(a.names) - letters(b.names); d != 0 {
		return d > 0
	}
	return a.node.End()-a.node.Pos() < b.node.End()-b.node.Pos()
}

func letters(names *regexp.Regexp) int { return len(strings.ReplaceAll(names.String(), anyName, "")) }

// formulas are the names of values by the place that declares them.
func (s *sources) formulas(t *testing.T) map[*site][]string {
	out := map[*site][]string{}
	for _, d := range Declared() {
		var best *site
		for i := range s.sites {
			if x := &s.sites[i]; x.names.MatchString(d.Name) && (best == nil || closer(x, best)) {
				best = x
			}
		}
		if best == nil {
			t.Errorf("nothing in the sources declares %s", d.Name)
			continue
		}
		out[best] = append(out[best], d.Name)
	}
	return out
}

// checkedByKind counts the published checks by the functions of arithmetic that
// answer them. What is merely remembered or usual does not count.
func (s *sources) checkedByKind(t *testing.T) map[string]int {
	helpers := map[string]ast.Node{} // functions of the tests, and those kept in variables
	answers := map[string]ast.Node{}
	for _, f := range s.tests {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.FuncDecl:
				helpers[n.Name.Name] = n
			case *ast.AssignStmt:
				if at, ok := n.Lhs[0].(*ast.IndexExpr); ok && nameOf(at.X) == "kinds" {
					answers[pattern(at.Index)] = n.Rhs[0]
				} else if _, ok := n.Rhs[0].(*ast.FuncLit); ok {
					helpers[nameOf(n.Lhs[0])] = n.Rhs[0]
				}
			}
			return true
		})
	}
	by := map[string]map[string]bool{}
	for kind, answer := range answers {
		reached := s.arithmetic(answer, map[string]bool{}, map[string]bool{})
		ast.Inspect(answer, func(n ast.Node) bool {
			if id, ok := n.(*ast.Ident); ok && helpers[id.Name] != nil && s.funcs[id.Name] == nil {
				s.arithmetic(helpers[id.Name], reached, map[string]bool{})
			}
			return true
		})
		by[kind] = reached
	}
	count := map[string]int{}
	for _, topic := range readPublished(t) {
		for _, c := range topic.Checks {
			if c.Known == "read" || c.Known == "computed" {
				if c.Kind == "figure" {
					count[c.In[2]]++
					continue
				}
				for f := range by[regexp.QuoteMeta(c.Kind)] {
					count[f]++
				}
			}
		}
	}
	return count
}

// checkedByRow counts the rows of tests that give a value its figure: a literal of
// the value's name beside others that hold a digit.
func (s *sources) checkedByRow() map[string]int {
	count := map[string]int{}
	text := func(e ast.Expr) string {
		if lit, ok := e.(*ast.BasicLit); ok {
			return strings.Trim(lit.Value, "\"`")
		}
		return ""
	}
	for _, f := range s.tests {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.KeyValueExpr:
				if name := text(n.Key); name != "" && strings.ContainsAny(text(n.Value), "0123456789") {
					count[name]++
				}
			case *ast.CompositeLit:
				for i, e := range n.Elts {
					if name := text(e); name != "" && slices.ContainsFunc(n.Elts[i+1:], func(e ast.Expr) bool { return strings.ContainsAny(text(e), "0123456789") }) {
						count[name]++
					}
				}
			}
			return true
		})
	}
	return count
}

// figureOfUnit works out a figure of a whole unit. In: a model of one of the small
// lines or of the embedded one, further entries of its sheet, the value, its unit;
// then texts of the line, each followed by what stands for it.
func figureOfUnit(t *testing.T, in []string) (string, error) {
	model, entries, name, symbol := in[0], in[1]+"\n", in[2], in[3]
	var swap [][2]string
	var edits []edit
	for pair := range slices.Chunk(in[4:], 2) {
		swap, edits = append(swap, [2]string{pair[0], pair[1]}), append(edits, edit{pair[0], pair[1]})
	}
	var vs *Values
	switch model {
	case "hand-20", "neck-28", "one-12", "car-18", "box-16":
		vs, _ = unit{model, entries, swap}.evaluated(t)
	case "tilt-16", "box-12":
		vs, _ = Evaluate(rising(t, bareSheet(model)+entries, edits...))
	default:
		files := testenv.Files(line.Files)
		for _, s := range swap {
			if !testenv.Replace(files, s[0], s[1]) {
				t.Fatalf("the line does not hold %q", s[0])
			}
		}
		l, findings := spec.LoadLine(files, "line")
		if l == nil {
			t.Fatal(findings)
		}
		options := strings.Trim(strings.TrimPrefix(in[1], "options: "), "[]")
		b, _ := spec.Resolve(l, orderable(t, l, l.Model(model), strings.Fields(options)))
		vs, _ = Evaluate(b)
	}
	v, ok := vs.Lookup(name)
	if !ok {
		return none, nil
	}
	q, ok := v.Exact.(quantity.Quantity)
	if !ok {
		return fmt.Sprint(v.Exact), nil
	}
	one, ok := readAs(q, "1 "+symbol)
	if !ok {
		return "", fmt.Errorf("%s is not in %s", name, symbol)
	}
	return strconv.FormatFloat(q.Base()/one, 'g', -1, 64), nil
}

// plain tells whether a figure is no more than one of those it was worked out
// from, how many they are, their sum or their product; a word, whether it is made of
// theirs, or stands in a table that is from memory and says so.
func plain(vs *Values, v *Value) bool {
	own, number := baseOf(v.Exact)
	if !number {
		of := fmt.Sprint(v.Exact)
		return v.Source.Basis == Memory || !slices.ContainsFunc(v.Inputs, func(in Input) bool { return !strings.Contains(of, in.Text) })
	}
	var sum, product, count float64 = 0, 1, 0
	equal := func(x float64) bool { return math.Abs(x-own) <= same*math.Abs(own) }
	for _, in := range v.Inputs {
		x, ok := 0.0, false
		if from, known := vs.Lookup(in.Name); known {
			x, ok = baseOf(from.Exact)
		} else {
			x, ok = readAs(v.Exact, in.Text)
		}
		if ok {
			sum, product, count = sum+x, product*x, count+1
			if equal(x) {
				return true
			}
		}
	}
	return equal(float64(len(v.Inputs))) || count > 0 && (equal(sum) || equal(product)) || len(v.Inputs) == 0
}

func baseOf(exact any) (float64, bool) {
	x, _ := figure{exact: exact}.number()
	return x, !math.IsNaN(x)
}

// readAs reads an entry as a figure of the kind another one is of, or as a plain number.
func readAs(like any, text string) (float64, bool) {
	if p, ok := reflect.New(reflect.TypeOf(like)).Interface().(interface {
		ParseScalar(string) error
		Base() float64
	}); ok && p.ParseScalar(text) == nil {
		return p.Base(), true
	}
	x, err := strconv.ParseFloat(text, 64)
	return x, err == nil
}

// Each formula that is more than a copy, a sum or a product of what it rests on is
// held by two figures at least that this program did not make: published, or
// worked out by hand.
func TestEachFormulaIsCheckedTwice(t *testing.T) {
	s := readSources(t)
	worked := map[string]bool{}
	look := func(vs *Values) {
		for _, v := range vs.All() {
			name := cmp.Or(FamilyOf(v.Name), v.Name)
			worked[name] = worked[name] || !plain(vs, v)
		}
	}
	l, _ := embedded(t)
	for _, m := range l.Models {
		b, _ := spec.Resolve(l, orderable(t, l, m, anOrder(l.Problem(m).Each)))
		vs, _ := Evaluate(b)
		look(vs)
	}
	files, _ := filepath.Glob("../../testdata/sheets/*.yaml")
	for _, file := range files {
		vs, _ := slippedValues(t, strings.TrimSuffix(strings.TrimPrefix(filepath.Base(file), "BW-27-"), ".yaml"), slip{}, slip{})
		look(vs)
	}
	byKind, byRow := s.checkedByKind(t), s.checkedByRow()
	for x, names := range s.formulas(t) {
		count, works := 0, false
		for f := range s.arithmetic(x.node, map[string]bool{}, map[string]bool{}) {
			count += byKind[f]
		}
		for _, name := range names {
			works = works || worked[name]
			for _, by := range []map[string]int{byKind, byRow} {
				for row, n := range by {
					if row == name || declarations[name].members != nil && strings.HasPrefix(row, name+".") {
						count += n
					}
				}
			}
		}
		if works && count < 2 {
			t.Errorf("%s: %d figures from outside this program; expected at least 2 in testdata/published", strings.Join(names, ", "), count)
		}
	}
}
