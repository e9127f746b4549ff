package render

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	gmtext "github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"ownerguide/render/doc"
	"ownerguide/spec/logic"
	"ownerguide/spec/source"
)

// piece is a compiled block of a template.
type piece struct {
	kind     pieceKind
	at       source.Pos
	when     logic.Condition
	level    int  // of a heading
	ordered  bool // of a list
	start    int  // first number of an ordered list
	tight    bool // of a list
	aligns   []doc.Align
	inlines  []inline
	children []piece
	fence    *fence
}

type pieceKind int

const (
	pieceParagraph pieceKind = iota
	pieceHeading
	pieceList
	pieceItem
	pieceTable
	pieceHeaderRow
	pieceRow
	pieceCell
	pieceFence
)

// fence is a block that the program fills.
type fence struct {
	kind string
	args []string
	body []fenceLine
}

// fenceLine is one line of a fence's body: an optional condition, an optional
// name before a colon, and text with placeholders.
type fenceLine struct {
	at    source.Pos
	when  logic.Condition
	name  string // "" when the line has no "name: " at its start
	label []inline
}

// inline is a compiled inline of a template.
type inline struct {
	kind     inlineKind
	at       source.Pos
	text     string // text, name of a placeholder, destination of a link
	level    int    // of emphasis: 1 or 2
	children []inline
}

type inlineKind int

const (
	inlineText inlineKind = iota
	inlinePlaceholder
	inlineEmphasis
	inlineLink
	inlineBox
	inlineBreak
)

// Limits that keep a template from taking the machine down: a Markdown parser
// takes a time that grows with the square of some texts. The longest section
// of the embedded templates has 3 kB, the longest sentence 300 bytes.
const (
	maxPieceDepth  = 12
	maxFenceLines  = 400
	maxMarkdown    = 32 << 10 // bytes in the file of a section or task
	maxLanguage    = 1 << 20  // bytes in all sections and tasks of a language; the embedded ones have 180 kB
	maxMarks       = 2000     // marks of emphasis, links, code and placeholders in a file
	maxSentence    = 4 << 10  // bytes in a sentence from a YAML file
	maxPlaceholder = 200      // bytes between { and }
)

// markdown is goldmark as the templates use it: CommonMark, tables, task
// lists, and the placeholder in braces.
var markdown = goldmark.New(
	goldmark.WithExtensions(extension.Table, extension.TaskList),
	goldmark.WithParserOptions(parser.WithInlineParsers(util.Prioritized(braceParser{}, 50))),
)

// brace is a placeholder or condition as it stands in the Markdown: the text
// between { and }.
type brace struct {
	ast.BaseInline
	inner string
	start int // byte offset of the opening brace
}

var kindBrace = ast.NewNodeKind("TemplateBrace")

func (*brace) Kind() ast.NodeKind           { return kindBrace }
func (b *brace) Dump(src []byte, level int) { ast.DumpHelper(b, src, level, nil, nil) }

// braceParser reads {name} and {?condition}. A backslash before the brace
// makes it an ordinary character, as everywhere in Markdown.
type braceParser struct{}

func (braceParser) Trigger() []byte { return []byte{'{'} }

func (braceParser) Parse(_ ast.Node, block gmtext.Reader, _ parser.Context) ast.Node {
	line, segment := block.PeekLine()
	end := bytes.IndexByte(line[:min(len(line), maxPlaceholder)], '}')
	if end < 0 {
		return nil
	}
	block.Advance(end + 1)
	return &brace{inner: string(line[1:end]), start: segment.Start}
}

// tooMuch says what of a Markdown file is beyond any that people write, or "".
func tooMuch(src []byte) string {
	if len(src) > maxMarkdown {
		return fmt.Sprintf("the file has %d bytes; a section or task has at most %d", len(src), maxMarkdown)
	}
	marks := 0
	for _, c := range src {
		if strings.IndexByte("[]{}*_`<&!", c) >= 0 {
			marks++
		}
	}
	if marks > maxMarks {
		return fmt.Sprintf("the file has %d of the characters [ ] { } * _ ` < & !; a section or task has at most %d", marks, maxMarks)
	}
	return ""
}

// compiler turns one Markdown text into pieces.
type compiler struct {
	place      func(offset int) source.Pos
	src        []byte
	exact      bool              // place knows each character
	conditions []logic.Condition // met so far
	findings   *source.Findings
}

// compileBody compiles a template file whose front matter has been blanked, so
// that byte offsets are those of the author's file. It also lists every
// condition in the text.
func compileBody(file string, src []byte, findings *source.Findings) ([]piece, []logic.Condition) {
	index := newLineIndex(file, src)
	c := &compiler{place: index.pos, exact: true, src: src, findings: findings}
	root := markdown.Parser().Parse(gmtext.NewReader(src))
	pieces := c.blocks(root, 0)
	return pieces, c.conditions
}

// compileInline compiles a single line of text from a YAML file; every
// position is that of the scalar.
func compileInline(s string, at source.Pos, findings *source.Findings) []inline {
	if len(s) > maxSentence {
		findings.Add(codeMarkup.At(at, "the text has %d bytes; expected one sentence or phrase of at most %d", len(s), maxSentence))
		return nil
	}
	c := &compiler{place: func(int) source.Pos { return at }, src: []byte(s), findings: findings}
	n := c.phrase()
	if n == nil {
		return nil
	}
	out := c.inlines(n)
	c.refuseConditions(out)
	return out
}

// compileLine compiles a single line that may begin with conditions, such as a
// remedy in a trouble entry.
func compileLine(s string, at source.Pos, findings *source.Findings) (piece, []logic.Condition) {
	c := &compiler{place: func(int) source.Pos { return at }, src: []byte(s), findings: findings}
	n := c.phrase()
	if n == nil {
		return piece{at: at}, nil
	}
	p, _ := c.block(n, 0)
	return p, c.conditions
}

// phrase parses a text that is one paragraph; nil when it is empty or, which is
// reported, more than that.
func (c *compiler) phrase() ast.Node {
	n := markdown.Parser().Parse(gmtext.NewReader(c.src)).FirstChild()
	if n != nil && (n.Kind() != ast.KindParagraph || n.NextSibling() != nil) {
		c.findings.Add(codeMarkup.At(c.place(0), "expected one plain sentence or phrase, without lists, headings or blank lines"))
		return nil
	}
	return n
}

func (c *compiler) at(n ast.Node) source.Pos {
	for m := n; m != nil; m = m.Parent() {
		if p := m.Pos(); p >= 0 {
			return c.place(p)
		}
	}
	return c.place(0)
}

func (c *compiler) refuse(n ast.Node, what string) {
	c.findings.Add(codeMarkup.At(c.at(n), "%s cannot be used in a guide", what))
}

func (c *compiler) blocks(parent ast.Node, depth int) []piece {
	if depth > maxPieceDepth {
		c.findings.Add(codeMarkup.At(c.at(parent), "nested more than %d levels deep", maxPieceDepth))
		return nil
	}
	var out []piece
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		if p, ok := c.block(n, depth); ok {
			out = append(out, p)
		}
	}
	return out
}

func (c *compiler) block(n ast.Node, depth int) (piece, bool) {
	p := piece{at: c.at(n)}
	switch n := n.(type) {
	case *ast.Paragraph, *ast.TextBlock:
		p.kind = pieceParagraph
		p.inlines = c.inlines(n)
		c.liftCondition(&p, &p.inlines)
	case *ast.Heading:
		if depth > 0 {
			c.refuse(n, "a heading inside a list")
			return p, false
		}
		p.kind, p.level = pieceHeading, n.Level
		p.inlines = c.inlines(n)
		c.liftCondition(&p, &p.inlines)
	case *ast.List:
		p.kind, p.ordered, p.start, p.tight = pieceList, n.IsOrdered(), n.Start, n.IsTight
		p.children = c.blocks(n, depth+1)
	case *ast.ListItem:
		p.kind = pieceItem
		p.children = c.blocks(n, depth+1)
		c.liftFromFirst(&p)
	case *extast.Table:
		p.kind, p.aligns = pieceTable, alignments(n.Alignments)
		p.children = c.blocks(n, depth+1)
	case *extast.TableHeader:
		p.kind = pieceHeaderRow
		p.children = c.blocks(n, depth+1)
		c.refuseInCells(p.children)
	case *extast.TableRow:
		p.kind = pieceRow
		p.children = c.blocks(n, depth+1)
		c.liftFromFirst(&p)
		c.refuseInCells(p.children)
	case *extast.TableCell:
		p.kind = pieceCell
		p.inlines = c.inlines(n)
		c.liftCondition(&p, &p.inlines)
	case *ast.FencedCodeBlock:
		p.kind, p.fence = pieceFence, c.fence(n)
		return p, p.fence != nil
	case *ast.CodeBlock:
		c.refuse(n, "indented text (a code block)")
		return p, false
	case *ast.HTMLBlock:
		c.refuse(n, "raw HTML")
		return p, false
	default:
		c.refuse(n, "Markdown of kind "+n.Kind().String())
		return p, false
	}
	return p, true
}

func alignments(list []extast.Alignment) []doc.Align {
	out := make([]doc.Align, len(list))
	for i, a := range list {
		switch a {
		case extast.AlignCenter:
			out[i] = doc.AlignCenter
		case extast.AlignRight:
			out[i] = doc.AlignEnd
		}
	}
	return out
}

// liftFromFirst moves a condition at the start of a list item or table row,
// where it stands in the first paragraph or cell, to the item or row itself.
func (c *compiler) liftFromFirst(p *piece) {
	if len(p.children) == 0 {
		return
	}
	first := &p.children[0]
	p.when, first.when = first.when, logic.Condition{}
}

// liftCondition takes conditions off the front of a block's inlines.
func (c *compiler) liftCondition(p *piece, inlines *[]inline) {
	list := *inlines
	box := len(list) > 0 && list[0].kind == inlineBox
	from := 0
	if box {
		from = 1
	}
	for len(list) > from && list[from].kind == inlinePlaceholder && strings.HasPrefix(list[from].text, "?") {
		c.condition(list[from].text[1:], list[from].at, &p.when)
		list = append(append([]inline{}, list[:from]...), list[from+1:]...)
		if len(list) > from && list[from].kind == inlineText {
			if list[from].text = strings.TrimLeft(list[from].text, " "); list[from].text == "" {
				list = slices.Delete(list, from, from+1)
			}
		}
	}
	*inlines = list
	c.refuseConditions(list)
}

// refuseInCells reports conditions that only a part of a row would have.
func (c *compiler) refuseInCells(cells []piece) {
	for _, cell := range cells {
		if !cell.when.Always() {
			c.findings.Add(codePlaceholder.At(cell.at, "a condition in a table must stand first in its row, and not in the head"))
		}
	}
}

func (c *compiler) refuseConditions(list []inline) {
	for _, in := range list {
		if in.kind == inlinePlaceholder && strings.HasPrefix(in.text, "?") {
			c.findings.Add(codePlaceholder.At(in.at, "the condition {%s} must stand first in its paragraph, list item, heading or table row", in.text))
		}
		c.refuseConditions(in.children)
	}
}

// valueKind is what conditions in a text may ask for beside features: that a
// value, or a word of sheet or line, exists.
const valueKind = "value"

// condition reads the inside of {?…}; at is the place of its brace.
func (c *compiler) condition(text string, at source.Pos, when *logic.Condition) {
	if c.exact {
		at.Column += len("{?")
	}
	own, err := logic.ParseCondition(text, valueKind)
	if err != nil {
		var syntax *logic.SyntaxError
		if errors.As(err, &syntax) && c.exact {
			at.Column += syntax.Column() - 1
		}
		c.findings.Add(codePlaceholder.At(at, "{?%s}: %v", text, err))
		return
	}
	own.Pos = at
	*when = when.And(own)
	c.conditions = append(c.conditions, own)
}

func (c *compiler) fence(n *ast.FencedCodeBlock) *fence {
	var words []string
	if n.Info != nil {
		words = strings.Fields(string(n.Info.Value(c.src)))
	}
	if len(words) == 0 {
		c.findings.Add(codeFence.At(c.at(n), "a fenced block must name its kind, such as ```caution unit-rolls"))
		return nil
	}
	f := &fence{kind: words[0], args: words[1:]}
	lines := n.Lines()
	if lines.Len() > maxFenceLines {
		c.findings.Add(codeFence.At(c.at(n), "the block has %d lines; at most %d are read", lines.Len(), maxFenceLines))
		return nil
	}
	for i := range lines.Len() {
		segment := lines.At(i)
		line := string(segment.Value(c.src))
		text := strings.TrimLeft(line, " \t")
		if at := segment.Start + len(line) - len(text); strings.TrimSpace(text) != "" {
			f.body = append(f.body, c.fenceLine(strings.TrimSpace(text), at))
		}
	}
	return f
}

// fenceLine reads a line that begins at a byte offset.
func (c *compiler) fenceLine(line string, offset int) fenceLine {
	at := c.place(offset)
	out := fenceLine{at: at}
	for whole := len(line); strings.HasPrefix(line, "{?"); {
		end := strings.IndexByte(line, '}')
		if end < 0 {
			c.findings.Add(codePlaceholder.At(at, "the condition is not closed with }"))
			return out
		}
		c.condition(line[2:end], c.place(offset+whole-len(line)), &out.when)
		line = strings.TrimSpace(line[end+1:])
	}
	if name, label, found := strings.Cut(line, ": "); found && valueName.MatchString(name) {
		out.name, line = name, label
	}
	out.label = compileInline(line, at, c.findings)
	return out
}

func (c *compiler) inlines(parent ast.Node) []inline {
	var out []inline
	add := func(in inline) {
		if last := len(out) - 1; in.kind == inlineText && last >= 0 && out[last].kind == inlineText {
			out[last].text += in.text
			return
		}
		out = append(out, in)
	}
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		in := inline{at: c.at(n)}
		switch n := n.(type) {
		case *ast.Text:
			in.at = c.place(n.Segment.Start)
			raw := n.Segment.Value(c.src)
			if i := looseBrace(raw); i >= 0 {
				c.findings.Add(codePlaceholder.At(c.place(n.Segment.Start+i), `a brace without its partner on the same line; write \%c for the character`, raw[i]))
			}
			in.text = unescape(raw)
			add(in)
			switch {
			case n.HardLineBreak():
				add(inline{kind: inlineBreak, at: in.at})
			case n.SoftLineBreak():
				add(inline{kind: inlineText, at: in.at, text: " "})
			}
		case *ast.String:
			in.text = string(n.Value)
			add(in)
		case *brace:
			in.kind, in.text, in.at = inlinePlaceholder, strings.TrimSpace(n.inner), c.place(n.start)
			add(in)
		case *ast.Emphasis:
			in.kind, in.level, in.children = inlineEmphasis, n.Level, c.inlines(n)
			add(in)
		case *ast.Link:
			in.kind, in.text, in.children = inlineLink, string(n.Destination), c.inlines(n)
			if first := n.FirstChild(); first != nil {
				in.at = c.firstPlace(first, in.at)
			}
			add(in)
		case *ast.AutoLink:
			in.kind, in.text = inlineLink, string(n.URL(c.src))
			in.children = []inline{{kind: inlineText, at: in.at, text: string(n.Label(c.src))}}
			add(in)
		case *extast.TaskCheckBox:
			in.kind = inlineBox
			add(in)
		case *ast.RawHTML:
			c.refuse(n, "raw HTML")
		default:
			c.refuse(n, "Markdown of kind "+n.Kind().String())
		}
	}
	return out
}

func (c *compiler) firstPlace(n ast.Node, otherwise source.Pos) source.Pos {
	if t, ok := n.(*ast.Text); ok {
		return c.place(t.Segment.Start)
	}
	return otherwise
}

// looseBrace finds a brace that is neither escaped nor part of a placeholder:
// it would be printed, most likely with the name of a value beside it. The
// result is its place, or -1.
func looseBrace(raw []byte) int {
	for i := 0; i < len(raw); i++ {
		switch raw[i] {
		case '\\':
			i++
		case '{', '}':
			return i
		}
	}
	return -1
}

// unescape resolves backslash escapes and character references, which
// goldmark leaves raw in its text nodes.
func unescape(raw []byte) string {
	return string(util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(raw))))
}

// lineIndex turns byte offsets into places.
type lineIndex struct {
	file   string
	src    []byte
	starts []int
}

func newLineIndex(file string, src []byte) *lineIndex {
	ix := &lineIndex{file: file, src: src, starts: []int{0}}
	for i, b := range src {
		if b == '\n' {
			ix.starts = append(ix.starts, i+1)
		}
	}
	return ix
}

func (ix *lineIndex) pos(offset int) source.Pos {
	offset = min(max(offset, 0), len(ix.src))
	low, high := 0, len(ix.starts)
	for high-low > 1 {
		if mid := (low + high) / 2; ix.starts[mid] <= offset {
			low = mid
		} else {
			high = mid
		}
	}
	column := len([]rune(string(ix.src[ix.starts[low]:offset]))) + 1
	return source.Pos{File: ix.file, Line: low + 1, Column: column}
}

// String helps in messages about fences.
func (f *fence) String() string { return fmt.Sprintf("```%s %s", f.kind, strings.Join(f.args, " ")) }
