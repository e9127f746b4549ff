package source

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Limits on input.
const (
	SheetLimit = 1 << 20 // bytes in one build sheet
	LineLimit  = 4 << 20 // bytes in one file of a product line or of the templates
	depthLimit = 24      // levels of nesting; the deepest real file uses six

	// FolderLimit is the limit on all files of a product line or of the templates together.
	FolderLimit = 16 << 20
	// bytesPerEntry limits the number of entries in a file: at least this many bytes of the
	// size limit for each. In memory an entry takes some hundred times its length. Only
	// comments and long texts make a file reach the size limit.
	bytesPerEntry = 64
	leastEntries  = 256
)

// Codes of the findings about YAML.
var (
	codeTooLarge  = codes.Error("file-too-large", "a file far beyond any real one would take the machine down with it")
	codeEncoding  = codes.Error("file-encoding", "text in an unknown encoding would print wrong letters and numbers")
	codeSyntax    = codes.Error("yaml-syntax", "a file that cannot be read as meant must not become a guide")
	codeSplit     = codes.Error("number-split", "a comma between braces or brackets ends a value, so 7,000 lb would be read as 7")
	codeForbidden = codes.Error("yaml-forbidden", "anchors, aliases, tags, merge keys and second documents hide what a sheet says from the person who signs it")
	codeDuplicate = codes.Error("key-duplicate", "of two entries with one name, one would be silently ignored")
	codeUnknown   = codes.Error("key-unknown", "a misspelt key would be silently ignored")
	codeMissing   = codes.Error("key-missing", "the guide cannot be right without this entry")
	codeShape     = codes.Error("value-shape", "a list where a word belongs, or the reverse, is a slip that changes meaning")
	codeValue     = codes.Error("value-wrong", "a figure without its unit, or a word outside the allowed ones, would be guessed at")
)

// Codes returns the codes of the findings this package can report.
func Codes() []Code { return codes }

var codes CodeList

// Kind is the kind of a node.
type Kind int

// The three kinds of YAML data.
const (
	Scalar Kind = iota
	Mapping
	Sequence
)

// String returns the kind in words for a person who edits the file.
func (k Kind) String() string { return [...]string{"a single value", "a set of keys", "a list"}[k] }

// Node is a YAML node with its position. Scalars keep the text as written: they are
// not converted to numbers, dates or booleans here, so that "no", "0o17" and "12:30"
// stay what was typed.
type Node struct {
	Kind  Kind
	At    Pos
	Path  string // such as fitted.tires[1].dot
	Text  string // of a scalar
	From  Pos    // position of the first character of Text, after a quote
	Null  bool   // a scalar left empty, "~" or "null" without quotes
	Keys  []Entry
	Items []*Node
}

// Entry is one key of a mapping with its value.
type Entry struct {
	Key   string
	KeyAt Pos
	Value *Node
}

// Get returns the value of a key, or nil.
func (n *Node) Get(key string) *Node {
	for _, e := range n.Keys {
		if e.Key == key {
			return e.Value
		}
	}
	return nil
}

var yamlLine = Pattern(`line (\d+): `)

// Parse parses one YAML document of at most limit bytes. It returns nil if the text
// cannot be used at all; findings say why. Line numbers are those of data.
func Parse(file string, data []byte, limit int) (*Node, Findings) {
	whole := Pos{File: file, Line: 1, Column: 1}
	if len(data) > limit {
		return nil, Findings{codeTooLarge.At(whole, "the file has %d bytes; at most %d are read", len(data), limit)}
	}
	if root := stored(file, data); root != nil {
		return root, nil
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if f, bad := checkEncoding(file, data); bad {
		return nil, Findings{f}
	}
	if most := max(limit/bytesPerEntry, leastEntries); entries(data) > most {
		return nil, Findings{codeTooLarge.At(whole, "the file has more than %d entries", most)}
	}
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	var document yaml.Node
	switch err := decoder.Decode(&document); {
	case errors.Is(err, io.EOF):
		return nil, Findings{codeSyntax.At(whole, "the file is empty")}
	case err != nil:
		return nil, Findings{syntaxFinding(file, data, err)}
	}
	r := reader{file: file}
	root := r.convert(document.Content[0], "", 0)
	var second yaml.Node
	switch err := decoder.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		r.findings.Add(syntaxFinding(file, data, err))
	default:
		r.findings.Add(codeForbidden.At(Pos{file, second.Line, max(second.Column, 1)}, "a second document starts here; one file holds one document").WithHint("put each unit in a file of its own"))
	}
	return root, r.findings
}

// entries returns an upper bound of the number of keys and values, without parsing
// the YAML.
func entries(data []byte) (n int) {
	for line := range bytes.Lines(data) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 || line[0] == '#' {
			continue
		}
		n++
		for i, c := range line {
			switch c {
			case ',', '[', '{', '}', ']':
				n++
			case ':', '-', '?': // these begin an entry only before a space
				if i+1 == len(line) || line[i+1] == ' ' || line[i+1] == '\t' {
					n++
				}
			}
		}
	}
	return n
}

func checkEncoding(file string, data []byte) (Finding, bool) {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return codeEncoding.At(Pos{file, 1, 1}, "the file is UTF-16").WithHint("save it as UTF-8"), true
	}
	line, column := 1, 1
	for i := 0; i < len(data); {
		r, size := utf8.DecodeRune(data[i:])
		at := Pos{file, line, column}
		if r == utf8.RuneError && size == 1 {
			return codeEncoding.At(at, "byte 0x%02X is not UTF-8", data[i]).WithHint("save the file as UTF-8"), true
		}
		if isControl(r) && !(r == '\r' && bytes.HasPrefix(data[i+size:], []byte("\n"))) {
			return codeEncoding.At(at, "control character U+%04X", r).WithHint("delete it"), true
		}
		if r == '\n' {
			line, column = line+1, 0
		}
		column++
		i += size
	}
	return Finding{}, false
}

// isControl reports whether a character is not needed in any text file. This includes
// the rare line breaks: YAML would count a line where the user sees none.
func isControl(r rune) bool {
	return unicode.IsControl(r) && r != '\n' && r != '\t' || r == '\u2028' || r == '\u2029'
}

// syntaxFinding turns an error of the library into a finding. The library returns a
// line at best, and often that of the enclosing block, so the line is searched for: the
// first one with which the text can no longer be parsed.
func syntaxFinding(file string, data []byte, err error) Finding {
	text := yamlLine().ReplaceAllString(strings.TrimPrefix(err.Error(), "yaml: "), "")
	f := codeSyntax.At(firstUnreadable(file, data), "this is not valid YAML here or just above: %s", text)
	if strings.Contains(text, "cannot start any token") || strings.Contains(text, "tab character") {
		return f.WithHint("indent with spaces, never with tabs, and put quotes round a text that begins with a sign")
	}
	for what, hint := range syntaxHints {
		if strings.Contains(text, what) {
			return f.WithHint("%s", hint)
		}
	}
	return f
}

// syntaxHints maps messages of the YAML library to hints on the usual cause.
var syntaxHints = map[string]string{
	"did not find expected key": "what belongs together begins in the same column: look how far this line and those above it are indented",
	"did not find expected '-'": "what belongs together begins in the same column: look how far this line and those above it are indented",
	"mapping values are not":    "look how far this line is indented; a text with a colon and a space in it needs quotes",
	"expected ',' or":           "close every bracket and quote; a text with a colon, comma or bracket in it needs quotes",
	"unexpected end of stream":  "close every bracket and quote",
}

// Limits of the search for a syntax error: the lines it looks ahead for the end of a
// value that spans several lines, since a text cut off inside one cannot be parsed
// either; and the bytes it parses in all.
const (
	spanLimit   = 8
	searchLimit = 64 << 20
)

// firstUnreadable returns the first character of the line after the longest prefix of
// data that can be parsed, by bisection.
func firstUnreadable(file string, data []byte) Pos {
	lines := bytes.SplitAfter(data, []byte("\n"))
	ends := make([]int, len(lines)+1) // ends[n] is the end of the first n lines
	for i, line := range lines {
		ends[i+1] = ends[i] + len(line)
	}
	good, bad, read := 0, len(lines), 0
	for bad-good > 1 && read < searchLimit {
		middle, ok := (good+bad)/2, false
		for n := middle; n < min(bad, middle+spanLimit) && !ok; n++ {
			if ok = readable(data[:ends[n]]); ok {
				good = n
			}
			read += ends[n]
		}
		if !ok {
			bad = middle
		}
	}
	line := strings.TrimRight(string(lines[good]), "\r\n")
	return Pos{file, good + 1, 1 + len(line) - len(strings.TrimLeft(line, " "))}
}

// readable reports whether all of a text is YAML.
func readable(data []byte) bool {
	decoder := yaml.NewDecoder(bytes.NewReader(data))
	for {
		var document yaml.Node
		if err := decoder.Decode(&document); err != nil {
			return errors.Is(err, io.EOF)
		}
	}
}

type reader struct {
	file     string
	findings Findings
}

func (r *reader) forbid(y *yaml.Node, what string) {
	r.findings.Add(codeForbidden.At(r.at(y), "%s", what).WithHint("write the value out in full"))
}

func (r *reader) at(y *yaml.Node) Pos { return Pos{r.file, y.Line, y.Column} }

func (r *reader) convert(y *yaml.Node, path string, depth int) *Node {
	n := &Node{At: r.at(y), Path: path}
	if depth > depthLimit {
		r.findings.Add(codeForbidden.At(n.At, "nested more than %d levels deep", depthLimit))
		return n
	}
	if y.Anchor != "" {
		r.forbid(y, fmt.Sprintf("anchor &%s", y.Anchor))
	}
	if y.Style&yaml.TaggedStyle != 0 {
		r.forbid(y, fmt.Sprintf("tag %s", y.Tag))
	}
	switch y.Kind {
	case yaml.AliasNode:
		r.forbid(y, fmt.Sprintf("alias *%s", y.Value))
		n.Text = "*" + y.Value // so that it is not reported as an empty entry too
	case yaml.ScalarNode:
		n.Text, n.From, n.Null = Composed(y.Value), n.At, y.Tag == "!!null"
		if y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0 {
			n.From.Column++
		}
	case yaml.SequenceNode:
		n.Kind = Sequence
		for i, item := range r.joinItems(y) {
			n.Items = append(n.Items, r.convert(item, fmt.Sprintf("%s[%d]", path, i), depth+1))
		}
	case yaml.MappingNode:
		n.Kind = Mapping
		r.convertKeys(n, y, depth)
	}
	return n
}

func (r *reader) convertKeys(n *Node, y *yaml.Node, depth int) {
	seen := map[string]Pos{}
	content := r.joinEntries(y)
	for i := 0; i+1 < len(content); i += 2 {
		key, value := content[i], content[i+1]
		if key.Kind != yaml.ScalarNode {
			r.findings.Add(codeShape.At(r.at(key), "a key must be a single word"))
			continue
		}
		if key.Tag == "!!merge" {
			r.forbid(key, "merge key <<")
			continue
		}
		if key.Anchor != "" || key.Style&yaml.TaggedStyle != 0 {
			r.forbid(key, "anchor or tag on a key")
		}
		if first, twice := seen[key.Value]; twice {
			r.findings.Add(codeDuplicate.At(r.at(key), "key %q stands here a second time", key.Value).
				WithRelated(first, "first here").WithHint("keep one of the two"))
			continue
		}
		seen[key.Value] = r.at(key)
		n.Keys = append(n.Keys, Entry{key.Value, r.at(key), r.convert(value, joinPath(n.Path, key.Value), depth+1)})
	}
}

var (
	numberHead = Pattern(`^[+-]?[0-9]{1,3}$`)
	numberTail = Pattern(`^[0-9]{3}(?:[^0-9].*)?$`)
)

// joinItems rejoins figures such as 7,000 lb, which YAML splits at the comma between
// brackets, and reports them, so that the rest of the file is read as intended.
func (r *reader) joinItems(y *yaml.Node) (items []*yaml.Node) {
	for _, item := range y.Content {
		if n := len(items); n > 0 && strings.Contains(item.Value, " ") && cutByComma(y, items[n-1], item) {
			items[n-1] = r.join(items[n-1], item)
			continue
		}
		items = append(items, item)
	}
	return items
}

// joinEntries does the same between braces, where the second part of a figure looks
// like a key without a value.
func (r *reader) joinEntries(y *yaml.Node) (content []*yaml.Node) {
	for i := 0; i+1 < len(y.Content); i += 2 {
		key, value := y.Content[i], y.Content[i+1]
		if n := len(content); n > 0 && value.Value == "" && value.Tag == "!!null" && cutByComma(y, content[n-1], key) {
			content[n-1] = r.join(content[n-1], key)
			continue
		}
		content = append(content, key, value)
	}
	return content
}

// cutByComma reports whether two plain scalars in flow style have only a comma between
// them and together read as one figure.
func cutByComma(in, head, tail *yaml.Node) bool {
	return in.Style&yaml.FlowStyle != 0 && head.Kind == yaml.ScalarNode && tail.Kind == yaml.ScalarNode &&
		head.Style == 0 && tail.Style == 0 && numberHead().MatchString(head.Value) && numberTail().MatchString(tail.Value) &&
		head.Line == tail.Line && head.Column+len(head.Value)+1 == tail.Column
}

func (r *reader) join(head, tail *yaml.Node) *yaml.Node {
	whole := *head
	whole.Value += "," + tail.Value
	whole.Tag = "!!str"
	r.findings.Add(codeSplit.At(r.at(head), "the comma in %s cuts the figure in two here", clip(whole.Value)).
		WithHint("write %s, or put quotes round the figure", strings.ReplaceAll(clip(whole.Value), ",", "")))
	return &whole
}
