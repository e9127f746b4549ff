package template

import (
	"bytes"
	"slices"
	"strings"
	"sync"

	"ownerguide/spec/proof"
	"ownerguide/spec/source"
)

// markdownFile is the Markdown of a section or job: a file, or a text in the file of a
// system. Errors are in its findings; one that cannot be used still counts as present, so
// that it is not reported as missing too.
type markdownFile[H heading] struct {
	id, layer string
	at        source.Pos // of the title, or of the file until the title is found
	data      []byte     // nil if it cannot be used
	head      *H         // set of a text in the file of a system, which begins below at
	indent    int        // of the lines of that text
	findings  source.Findings
}

// heading is the front matter of such a file.
type heading interface{ heading() word }

func (h sectionHead) heading() word { return h.Title }
func (h jobHead) heading() word     { return h.Title }

// markdownFiles reads the files of a folder and returns them by id, each compiled when it is
// first called, with the texts of systems beside them: of each id, that of the first layer that has it.
func markdownFiles[H heading, W any](l *loader, folder string, beside [][]*markdownFile[H], compile func(*markdownFile[H]) W) map[string]func() W {
	var files []*markdownFile[H]
	for _, name := range l.folder.Names(folder, ".md") {
		files = append(files, readMarkdown[H](l, folder, name))
	}
	for i, list := range beside {
		for _, f := range list {
			f.layer = l.layers[i]
			at := slices.IndexFunc(files, func(o *markdownFile[H]) bool { return o.id == f.id })
			switch {
			case at < 0:
				files = append(files, f)
			case files[at].layer == f.layer:
				l.add(CodeFile.At(f.at, "%q stands here a second time", f.id).WithRelated(files[at].at, "first here"))
			case slices.Index(l.layers, files[at].layer) > i:
				files[at] = f
			}
		}
	}
	out := map[string]func() W{}
	for _, f := range files {
		words := sync.OnceValue(func() W { return compile(f) })
		out[f.id] = words
		l.markdown = append(l.markdown, uncompiled{f.id, bytes.Contains(f.data, []byte(proof.Statement)), func() { words() }, &f.findings})
	}
	return out
}

func readMarkdown[H heading](l *loader, folder, name string) *markdownFile[H] {
	f := &markdownFile[H]{id: strings.TrimSuffix(name, ".md"), at: source.Pos{File: l.folder.Shown(folder + "/" + name), Line: 1, Column: 1}}
	file, ok := l.folder.Read(folder + "/" + name)
	if !ok {
		return f
	}
	f.at.File, f.layer = file.Shown(), file.Layer
	f.take(l, source.Text(file.Data))
	return f
}

// markdownIn returns a text in the file of a system. Its lines must stand as they are, so
// that findings have the places that the writer sees.
func markdownIn[H heading](l *loader, id string, head H, text word) *markdownFile[H] {
	f := &markdownFile[H]{id: id, at: head.heading().At, head: &head}
	at := slices.IndexFunc(l.folder.Files, func(file source.File) bool { return file.Shown() == text.At.File })
	if !head.heading().Set || !text.Set || at < 0 {
		return f
	}
	lines := append(strings.Split(string(source.Text(l.folder.Files[at].Data)), "\n"), "")[text.At.Line:]
	own := strings.Split(strings.TrimRight(text.Value, "\n"), "\n")
	f.indent = len(lines[0]) - len(own[0])
	stands := len(own) <= len(lines) && f.indent > 0
	for i := 0; stands && i < len(own); i++ {
		stands = own[i] == "" && strings.TrimSpace(lines[i]) == "" || lines[i] == strings.Repeat(" ", f.indent)+own[i]
	}
	if !stands {
		f.findings.Add(codeMarkup.At(text.At, "the Markdown of %s has to stand in lines of its own", id).WithHint("write text: | and the Markdown below it, indented"))
		return f
	}
	f.at = text.At
	f.take(l, []byte(text.Value))
	return f
}

// take sets the Markdown, unless it is too much.
func (f *markdownFile[H]) take(l *loader, data []byte) {
	if what := tooMuch(data); what != "" {
		f.findings.Add(CodeFile.At(f.at, "%s", what).WithHint("divide it into several"))
		return
	}
	if l.bytes += len(data); l.bytes > maxLanguage {
		f.findings.Add(CodeFile.At(f.at, "with this file the sections and tasks of the language have more than %d bytes", maxLanguage))
		return
	}
	f.data = data
}

// compile returns the front matter and the body; nil if the title is missing. Of proved ones what the words say is not checked again.
func (f *markdownFile[H]) compile(proved bool) (head H, body []Block) {
	if f.data == nil {
		return head, nil
	}
	if f.head != nil {
		text := f.at
		f.at = (*f.head).heading().At
		index := newLineIndex(text.File, f.data)
		return *f.head, compileBody(f.data, proved, func(offset int) source.Pos {
			p := index.pos(offset)
			return source.Pos{File: p.File, Line: p.Line + text.Line, Column: p.Column + f.indent}
		}, &f.findings)
	}
	if !bytes.HasPrefix(f.data, []byte("---\n")) {
		f.findings.Add(codeFrontMatter.At(f.at, "the file must begin with front matter between two lines ---"))
		return head, nil
	}
	end := bytes.Index(f.data, []byte("\n---\n"))
	if end < 0 {
		f.findings.Add(codeFrontMatter.At(f.at, "the front matter is not closed with a line ---"))
		return head, nil
	}
	// From the end of the opening line on, so that line numbers stay those of the source.
	root, findings := source.Parse(f.at.File, f.data[3:end+1], source.LineLimit)
	if root != nil {
		source.Decode(root, &head, &findings)
	}
	f.findings.Add(findings...)
	if !head.heading().Set {
		return head, nil
	}
	f.at = head.heading().At
	text := slices.Clone(f.data)
	for i := range end + 4 {
		if text[i] != '\n' {
			text[i] = ' '
		}
	}
	return head, compileBody(text, proved, newLineIndex(f.at.File, text).pos, &f.findings)
}

func (f *markdownFile[H]) inline(w word) []Inline { return compileInline(w.Value, w.At, &f.findings) }
