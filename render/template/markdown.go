package template

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"sync"

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

// Limits that keep a template from hanging the program: a Markdown parser takes
// quadratic time for some texts. The longest section of the embedded templates has
// 3 kB, the longest sentence 300 bytes.
const (
	maxDepth       = 12
	maxCallLines   = 400
	maxMarkdown    = 32 << 10 // bytes in the file of a section or task
	maxLanguage    = 1 << 20  // bytes in all sections and tasks of a language; the embedded ones have 180 kB
	maxMarks       = 2000     // marks of emphasis, links, code and placeholders in a file
	maxSentence    = 4 << 10  // bytes in a sentence from a YAML file
	maxPlaceholder = 200      // bytes between { and }
)

// markdown is the parser: CommonMark, tables, task lists, and placeholders in
// braces.
var markdown = sync.OnceValue(func() parser.Parser {
	return goldmark.New(
		goldmark.WithExtensions(extension.Table, extension.TaskList),
		goldmark.WithParserOptions(parser.WithInlineParsers(util.Prioritized(braceParser{}, 50))),
	).Parser()
})

// brace is a placeholder or condition in the Markdown: the text between { and }.
type brace struct {
	ast.BaseInline
	inner string
	start int // byte offset of the opening brace
}

var kindBrace = ast.NewNodeKind("TemplateBrace")

func (*brace) Kind() ast.NodeKind           { return kindBrace }
func (b *brace) Dump(src []byte, level int) { ast.DumpHelper(b, src, level, nil, nil) }

// braceParser parses {name} and {?condition}. A backslash before the brace
// escapes it, as everywhere in Markdown.
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

// tooMuch returns which limit a Markdown file exceeds, or "".
func tooMuch(src []byte) string {
	if len(src) > maxMarkdown {
		return fmt.Sprintf("the file has %d bytes; a section or task has at most %d", len(src), maxMarkdown)
	}
	marks := 0
	for _, mark := range []string{"[", "]", "{", "}", "*", "_", "`", "<", "&", "!"} {
		marks += bytes.Count(src, []byte(mark)) // the fastest way, since each is rare
	}
	if marks > maxMarks {
		return fmt.Sprintf("the file has %d of the characters [ ] { } * _ ` < & !; a section or task has at most %d", marks, maxMarks)
	}
	return ""
}

// compiler compiles one Markdown text into blocks.
type compiler struct {
	place    func(offset int) source.Pos
	exact    bool // place returns exact positions
	proved   bool // figures, holes and places of conditions are not checked
	src      []byte
	findings *source.Findings
}

// compileBody compiles the Markdown of a section or job; place returns the position of a byte.
func compileBody(src []byte, proved bool, place func(offset int) source.Pos, findings *source.Findings) []Block {
	c := &compiler{place: place, exact: true, proved: proved, src: src, findings: findings}
	return c.blocks(markdown().Parse(gmtext.NewReader(src)), 0)
}

// compileInline compiles a phrase from a YAML file; all positions are that of the
// scalar.
func compileInline(s string, at source.Pos, findings *source.Findings) []Inline {
	if len(s) > maxSentence {
		findings.Add(codeMarkup.At(at, "the text has %d bytes; expected one sentence or phrase of at most %d", len(s), maxSentence))
		return nil
	}
	c := &compiler{place: func(int) source.Pos { return at }, src: []byte(s), findings: findings}
	if unmarked(s) {
		return c.unmarked()
	}
	n := c.phrase()
	if n == nil {
		return nil
	}
	out := c.inlines(n)
	c.finish(out)
	return out
}

// unmarked reports whether a phrase is plain text for Markdown and templates alike. Most
// phrases are, and a parser for each takes a fifth of the time of loading all
// templates.
func unmarked(s string) bool {
	letter := func(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }
	return s != "" && letter(s[0]) && s[len(s)-1] != ' ' && !strings.ContainsAny(s, "\\`*_{}[]<>&!|\t\r\n\x00")
}

// unmarked compiles such a phrase.
func (c *compiler) unmarked() []Inline {
	out := []Inline{{At: c.place(0), Text: string(c.src)}}
	c.figure(0, c.src)
	c.finish(out)
	return out
}

// compileLine compiles a phrase that may begin with a condition, such as a remedy in
// a trouble entry.
func compileLine(s string, at source.Pos, findings *source.Findings) Block {
	c := &compiler{place: func(int) source.Pos { return at }, src: []byte(s), findings: findings}
	if unmarked(s) {
		return Block{At: at, Inlines: c.unmarked()}
	}
	n := c.phrase()
	if n == nil {
		return Block{At: at}
	}
	b, _ := c.block(n, 0)
	return b
}

// phrase parses a text that is one paragraph. It returns nil if the text is empty, or if
// it is more than that, which is reported.
func (c *compiler) phrase() ast.Node {
	n := markdown().Parse(gmtext.NewReader(c.src)).FirstChild()
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

func (c *compiler) blocks(parent ast.Node, depth int) []Block {
	if depth > maxDepth {
		c.findings.Add(codeMarkup.At(c.at(parent), "nested more than %d levels deep", maxDepth))
		return nil
	}
	out := make([]Block, 0, parent.ChildCount())
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		if b, ok := c.block(n, depth); ok {
			out = append(out, b)
		}
	}
	return out
}

func (c *compiler) block(n ast.Node, depth int) (Block, bool) {
	b := Block{At: c.at(n)}
	switch n := n.(type) {
	case *ast.Paragraph, *ast.TextBlock:
		c.line(&b, Paragraph, n)
	case *ast.Blockquote:
		only, ok := n.FirstChild().(*ast.Paragraph)
		if !ok || only.NextSibling() != nil {
			c.refuse(n, "a quotation of more than one paragraph (one says where to go no further)")
			return b, false
		}
		c.line(&b, Limit, only)
	case *ast.Heading:
		if depth > 0 {
			c.refuse(n, "a heading inside a list")
			return b, false
		}
		b.Level = n.Level
		c.line(&b, Heading, n)
	case *ast.List:
		b.Kind, b.Ordered, b.Start, b.Tight = List, n.IsOrdered(), 1, n.IsTight // steps moved under another heading count from 1, whatever their numbers in the file
		b.Blocks = c.blocks(n, depth+1)
	case *ast.ListItem:
		b.Kind = Item
		b.Blocks = c.blocks(n, depth+1)
		liftFromFirst(&b)
	case *extast.Table:
		b.Kind, b.Aligns = Table, alignments(n.Alignments)
		b.Blocks = c.blocks(n, depth+1)
	case *extast.TableHeader:
		b.Kind = HeadRow
		b.Blocks = c.blocks(n, depth+1)
		c.refuseInCells(b.Blocks)
	case *extast.TableRow:
		b.Kind = Row
		b.Blocks = c.blocks(n, depth+1)
		liftFromFirst(&b)
		c.refuseInCells(b.Blocks)
	case *extast.TableCell:
		c.line(&b, Cell, n)
	case *ast.FencedCodeBlock:
		b.Kind, b.Call = CallBlock, c.call(n)
		return b, b.Call != nil
	case *ast.CodeBlock:
		c.refuse(n, "indented text (a code block)")
		return b, false
	case *ast.HTMLBlock:
		c.refuse(n, "raw HTML")
		return b, false
	default:
		c.refuse(n, "Markdown of kind "+n.Kind().String())
		return b, false
	}
	return b, true
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

// line compiles the running text of a block and removes the condition at its beginning,
// which may follow a checkbox.
func (c *compiler) line(b *Block, kind BlockKind, n ast.Node) {
	b.Kind = kind
	list := c.inlines(n)
	from := 0
	if len(list) > 0 && list[0].Kind == Box {
		from = 1
	}
	if len(list) > from && isCondition(list[from]) {
		b.When = c.condition(list[from].Text[1:], list[from].At)
		rest := list[from+1:]
		list = append([]Inline{}, list[:from]...)
		if len(rest) > 0 && rest[0].Kind == Text {
			if rest[0].Text = strings.TrimLeft(rest[0].Text, " "); rest[0].Text == "" {
				rest = rest[1:]
			}
		}
		list = append(list, rest...)
		if len(list) > from && isCondition(list[from]) {
			c.findings.Add(CodePlaceholder.At(list[from].At, "a second condition stands here: join the two by and"))
			list = append(list[:from], list[from+1:]...)
		}
	}
	b.Inlines = list
	c.finish(list)
}

func isCondition(in Inline) bool { return in.Kind == Placeholder && strings.HasPrefix(in.Text, "?") }

// liftFromFirst moves a condition at the beginning of a list item or table row from its
// first paragraph or cell to the item or row.
func liftFromFirst(b *Block) {
	if len(b.Blocks) > 0 {
		b.When, b.Blocks[0].When = b.Blocks[0].When, logic.Condition{}
	}
}

// refuseInCells reports conditions on single cells of a row.
func (c *compiler) refuseInCells(cells []Block) {
	for _, cell := range cells {
		if !cell.When.Always() {
			c.findings.Add(CodePlaceholder.At(cell.At, "a condition in a table must stand first in its row, and not in the head"))
		}
	}
}

// finish checks a complete line.
func (c *compiler) finish(list []Inline) {
	if c.proved {
		return
	}
	c.refuseConditions(list)
	if hole, found := holeIn(list); found {
		c.findings.Add(hole)
	}
}

func (c *compiler) refuseConditions(list []Inline) {
	for _, in := range list {
		if isCondition(in) {
			c.findings.Add(CodePlaceholder.At(in.At, "the condition {%s} must stand first in its paragraph, list item, heading or table row", in.Text))
		}
		c.refuseConditions(in.Inlines)
	}
}

// Exists is the kind of names in conditions, written value:NAME, that test whether a
// value, or a word of sheet or line, exists.
const Exists = "value"

// condition parses the text of {?…}; at is the position of its brace.
func (c *compiler) condition(text string, at source.Pos) logic.Condition {
	if c.exact {
		at.Column += len("{?")
	}
	when, err := logic.ParseCondition(text, Exists)
	if err != nil {
		var syntax *logic.SyntaxError
		if errors.As(err, &syntax) && c.exact {
			at.Column += syntax.Column() - 1
		}
		c.findings.Add(CodePlaceholder.At(at, "{?%s}: %v", text, err))
	}
	when.Pos = at
	return when
}

func (c *compiler) call(n *ast.FencedCodeBlock) *Call {
	var words []string
	if n.Info != nil {
		words = strings.Fields(string(n.Info.Value(c.src)))
	}
	if len(words) == 0 {
		c.findings.Add(codeCall.At(c.at(n), "a fenced block must name its kind, such as ```caution unit-rolls"))
		return nil
	}
	call := &Call{Name: words[0], Args: words[1:]}
	lines := n.Lines()
	if lines.Len() > maxCallLines {
		c.findings.Add(codeCall.At(c.at(n), "the block has %d lines; at most %d are read", lines.Len(), maxCallLines))
		return nil
	}
	for i := range lines.Len() {
		segment := lines.At(i)
		line := string(segment.Value(c.src))
		text := strings.TrimLeft(line, " \t")
		if at := segment.Start + len(line) - len(text); strings.TrimSpace(text) != "" {
			call.Lines = append(call.Lines, c.callLine(strings.TrimSpace(text), at))
		}
	}
	return call
}

var valueName = source.Pattern(`^[a-z][a-z0-9_]*(\.[a-z0-9_-]+)*$`)

// callLine parses a line inside a call that begins at a byte offset.
func (c *compiler) callLine(text string, offset int) Line {
	out := Line{At: c.place(offset)}
	if strings.HasPrefix(text, "{?") {
		end := strings.IndexByte(text, '}')
		if end < 0 {
			c.findings.Add(CodePlaceholder.At(out.At, "the condition is not closed with }"))
			return out
		}
		out.When = c.condition(text[2:end], out.At)
		text = strings.TrimSpace(text[end+1:])
	}
	if name, label, found := strings.Cut(text, ": "); found && valueName().MatchString(name) {
		out.Name, text = name, label
	}
	out.Inlines = compileInline(text, out.At, c.findings)
	return out
}

// external matches a link out of the guide.
var external = source.Pattern(`^(https|tel|mailto):[^\s]+$`)

func (c *compiler) inlines(parent ast.Node) []Inline {
	out := make([]Inline, 0, parent.ChildCount())
	add := func(in Inline) {
		if last := len(out) - 1; in.Kind == Text && last >= 0 && out[last].Kind == Text {
			out[last].Text += in.Text
			return
		}
		out = append(out, in)
	}
	for n := parent.FirstChild(); n != nil; n = n.NextSibling() {
		in := Inline{At: c.at(n)}
		switch n := n.(type) {
		case *ast.Text:
			in.At = c.place(n.Segment.Start)
			raw := n.Segment.Value(c.src)
			if i := looseBrace(raw); i >= 0 {
				c.findings.Add(CodePlaceholder.At(c.place(n.Segment.Start+i), `a brace without its partner on the same line; write \%c for the character`, raw[i]))
			}
			c.figure(n.Segment.Start, raw)
			in.Text = unescape(raw)
			add(in)
			switch {
			case n.HardLineBreak():
				add(Inline{Kind: Break, At: in.At})
			case n.SoftLineBreak():
				add(Inline{Kind: Text, At: in.At, Text: " "})
			}
		case *ast.String:
			in.Text = string(n.Value)
			add(in)
		case *brace:
			in.Kind, in.Text, in.At = Placeholder, strings.TrimSpace(n.inner), c.place(n.start)
			add(in)
		case *ast.Emphasis:
			in.Kind, in.Strong, in.Inlines = Emphasis, n.Level == 2, c.inlines(n)
			add(in)
		case *ast.Link:
			in.Kind, in.Text, in.Inlines = Link, string(n.Destination), c.inlines(n)
			if first, ok := n.FirstChild().(*ast.Text); ok {
				in.At = c.place(first.Segment.Start)
			}
			c.link(in)
			add(in)
		case *ast.AutoLink:
			in.Kind, in.Text = Link, string(n.URL(c.src))
			in.Inlines = []Inline{{Kind: Text, At: in.At, Text: string(n.Label(c.src))}}
			c.link(in)
			add(in)
		case *extast.TaskCheckBox:
			in.Kind = Box
			add(in)
		case *ast.RawHTML:
			c.refuse(n, "raw HTML")
		default:
			c.refuse(n, "Markdown of kind "+n.Kind().String())
		}
	}
	return out
}

// link refuses addresses that are not allowed. Those inside the guide are references,
// checked with the others.
func (c *compiler) link(in Inline) {
	if !strings.HasPrefix(in.Text, "#") && (!external().MatchString(in.Text) || strings.ContainsAny(in.Text, "{}")) {
		c.findings.Add(CodeLink.At(in.At, "link to %q; expected #section, https:, tel: or mailto:, without placeholders", in.Text))
	}
}

// looseBrace returns the position of a brace that is neither escaped nor part of a
// placeholder, or -1: it would be printed, most likely next to the name of a value.
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

// unescape resolves backslash escapes and character references, which goldmark leaves in
// its text nodes.
func unescape(raw []byte) string {
	return string(util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(raw))))
}
