package pdftest

import (
	"encoding/binary"
	"math"
	"regexp"
	"strings"
	"unicode/utf16"
)

// Page is the visible text of one page.
type Page struct {
	Width, Height float64 // points
	Runs          []Run   // in painting order
	pieces        map[int]string
}

// Run is text painted by one operator.
type Run struct {
	Text string
	Font string  // without the prefix of a subset
	Size float64 // points on paper
	Top  float64 // of its baseline, from the upper edge; points
	part int     // number of the marked content on the page; text outside of it has a part for each baseline
}

// Text returns the text of the runs that keep accepts, or all if keep is nil. Each part
// begins a new line.
func (p Page) Text(keep func(Run) bool) string {
	var b strings.Builder
	last := -1
	for _, r := range p.Runs {
		if keep != nil && !keep(r) {
			continue
		}
		if b.Len() > 0 && r.part != last {
			b.WriteByte('\n')
		}
		last = r.part
		b.WriteString(r.Text)
	}
	return b.String()
}

// pageRefs returns the pages in order.
func (f *File) pageRefs() (refs []Ref) {
	var walk func(ref Ref)
	walk = func(ref Ref) {
		node := f.Dict(ref)
		if node["Type"] == Name("Page") {
			refs = append(refs, ref)
			return
		}
		for _, kid := range f.List(node["Kids"]) {
			walk(kid.(Ref))
		}
	}
	walk(f.Dict(f.Trailer["Root"])["Pages"].(Ref))
	return refs
}

// Pages returns the pages with their text.
func (f *File) Pages() (pages []Page) {
	f.tb.Helper()
	defer f.unreadable()
	fonts := map[Ref]*font{}
	for _, ref := range f.pageRefs() {
		pages = append(pages, f.page(ref, fonts))
	}
	return pages
}

func (f *File) page(ref Ref, fonts map[Ref]*font) Page {
	node := f.Dict(ref)
	box := f.List(f.inherited(node, "MediaBox"))
	p := Page{Width: box[2].(float64) - box[0].(float64), Height: box[3].(float64) - box[1].(float64), pieces: map[int]string{}}
	named := map[string]*font{}
	for name, at := range f.Dict(f.Dict(f.inherited(node, "Resources"))["Font"]) {
		at := at.(Ref)
		if fonts[at] == nil {
			fonts[at] = f.font(f.Dict(at))
		}
		named[name] = fonts[at]
	}
	forms := map[string][]byte{}
	for name, at := range f.Dict(f.Dict(f.inherited(node, "Resources"))["XObject"]) {
		if f.Dict(at)["Subtype"] == Name("Form") {
			forms[name] = f.Streams[int(at.(Ref))]
		}
	}
	c := content{lexer: lexer{data: f.Streams[int(node["Contents"].(Ref))]}, page: &p, fonts: named, forms: forms, state: state{matrix: identity}, piece: -1, line: math.NaN()}
	c.read()
	return p
}

// inherited returns an entry of a page, possibly inherited from a parent.
func (f *File) inherited(node Dict, key string) any {
	for node[key] == nil && node["Parent"] != nil {
		node = f.Dict(node["Parent"])
	}
	return node[key]
}

// font maps codes of one byte, below 80 hexadecimal, or two to characters.
type font struct {
	name  string
	chars map[string]string
}

var (
	mapped     = regexp.MustCompile(`(?m)^<([0-7][0-9A-F]|[89A-F][0-9A-F]{3})><([0-9A-F]+)>$`)
	subsetMark = regexp.MustCompile(`^[A-Z]{6}\+`)
)

func (f *File) font(d Dict) *font {
	base, _ := d["BaseFont"].(Name)
	made := &font{name: subsetMark.ReplaceAllString(string(base), ""), chars: map[string]string{}}
	if table, ok := d["ToUnicode"].(Ref); ok {
		for _, m := range mapped.FindAllStringSubmatch(string(f.Streams[int(table)]), -1) {
			made.chars[unhex(m[1])] = utf16Text(unhex(m[2]))
		}
	}
	return made
}

func (o *font) text(codes string) string {
	var b strings.Builder
	for len(codes) > 0 {
		n := min(1+int(codes[0]>>7), len(codes))
		c, ok := o.chars[codes[:n]]
		if codes = codes[n:]; !ok {
			c = "\ufffd"
		}
		b.WriteString(c)
	}
	return b.String()
}

func unhex(digits string) string { return Value("<" + digits + "> ").(string) }

func utf16Text(s string) string {
	units := make([]uint16, len(s)/2)
	for i := range units {
		units[i] = binary.BigEndian.Uint16([]byte(s[2*i : 2*i+2]))
	}
	return string(utf16.Decode(units))
}

// Text decodes a text string.
func Text(v any) string {
	s, _ := v.(string)
	if rest, ok := strings.CutPrefix(s, "\xfe\xff"); ok {
		return utf16Text(rest)
	}
	return s
}

// matrix maps x, y to a·x+c·y+e, b·x+d·y+f.
type matrix [6]float64

var identity = matrix{1, 0, 0, 1, 0, 0}

func (m matrix) after(n matrix) matrix { // n is applied first
	return matrix{
		n[0]*m[0] + n[1]*m[2], n[0]*m[1] + n[1]*m[3], n[2]*m[0] + n[3]*m[2], n[2]*m[1] + n[3]*m[3],
		n[4]*m[0] + n[5]*m[2] + m[4], n[4]*m[1] + n[5]*m[3] + m[5],
	}
}

// state is the graphics state saved by q and restored by Q.
type state struct {
	matrix matrix
	font   *font
	size   float64
}

// content interprets the content stream of a page.
type content struct {
	lexer
	page  *Page
	fonts map[string]*font
	forms map[string][]byte // content of forms
	state
	kept  []state
	text  matrix  // of the text object
	piece int     // marked content, -1 outside
	marks int     // nested marks
	part  int     // number of the current part, see Run
	line  float64 // baseline of the last text outside of marked content
}

func (c *content) read() {
	var operands []any
	for c.white(); c.at < len(c.data); c.white() {
		if strings.IndexByte("+-.0123456789[<(/", c.data[c.at]) >= 0 {
			operands = append(operands, c.value())
			continue
		}
		c.do(c.word(), operands)
		operands = operands[:0]
	}
}

func (c *content) do(operator string, operands []any) {
	number := func(i int) float64 { return operands[i].(float64) }
	six := func() (m matrix) {
		for i := range m {
			m[i] = number(i)
		}
		return m
	}
	switch operator {
	case "":
		c.fail("no operator")
	case "q":
		c.kept = append(c.kept, c.state)
	case "Q":
		c.state, c.kept = c.kept[len(c.kept)-1], c.kept[:len(c.kept)-1]
	case "cm":
		c.matrix = c.matrix.after(six())
	case "BT":
		c.text = identity
	case "Td", "TD":
		c.text = c.text.after(matrix{1, 0, 0, 1, number(0), number(1)})
	case "Tm":
		c.text = six()
	case "Tf":
		c.font, c.size = c.fonts[string(operands[0].(Name))], number(1)
	case "Do":
		form := *c
		form.lexer = lexer{data: c.forms[string(operands[0].(Name))]}
		form.read()
		c.part, c.line = form.part, form.line
	case "BDC", "BMC":
		c.marks++
		c.part++
		if d, ok := operands[len(operands)-1].(Dict); ok {
			if id, ok := d["MCID"].(float64); ok {
				c.piece = int(id)
			}
		}
	case "EMC":
		c.marks--
		c.part++
		c.piece, c.line = -1, math.NaN()
	case "Tj", "TJ":
		c.show(operands[0])
	}
}

func (c *content) show(shown any) {
	var b strings.Builder
	pieces, ok := shown.([]any)
	if !ok {
		pieces = []any{shown}
	}
	for _, p := range pieces {
		if glyphs, ok := p.(string); ok {
			b.WriteString(c.font.text(glyphs))
		}
	}
	at := c.matrix.after(c.text)
	if c.marks == 0 && at[5] != c.line {
		c.part++
		c.line = at[5]
	}
	c.page.Runs = append(c.page.Runs, Run{
		Text: b.String(), Font: c.font.name, Size: c.size * math.Hypot(at[2], at[3]), Top: c.page.Height - at[5], part: c.part,
	})
	if c.piece >= 0 {
		c.page.pieces[c.piece] += b.String()
	}
}
