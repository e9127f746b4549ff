package template

import (
	"bytes"
	"slices"
	"strings"

	"ownerguide/spec/parallel"
	"ownerguide/spec/source"
)

// markdownFile is a Markdown file of a section or job. Errors are in its findings; a file
// that cannot be used still counts as present, so that it is not reported as missing
// too.
type markdownFile struct {
	at       source.Pos // of the title, or of the file until the title is found
	data     []byte     // nil if the file cannot be used
	findings source.Findings
}

// markdownFiles reads and compiles the files of a folder in parallel and returns them by
// id.
func markdownFiles[W any](l *loader, folder string, compile func(*markdownFile) W) map[string]W {
	names := l.folder.Names(folder, ".md")
	files, words := make([]*markdownFile, len(names)), make([]W, len(names))
	for i, name := range names {
		files[i] = l.readMarkdown(folder + "/" + name)
	}
	parallel.Each(len(files), func(i int) { words[i] = compile(files[i]) })
	out := map[string]W{}
	for i, name := range names {
		out[strings.TrimSuffix(name, ".md")] = words[i]
		l.add(files[i].findings...)
	}
	return out
}

func (l *loader) readMarkdown(name string) *markdownFile {
	f := &markdownFile{at: source.Pos{File: l.folder.Shown(name), Line: 1, Column: 1}}
	file, ok := l.folder.Read(name)
	if !ok {
		return f
	}
	data := source.Text(file.Data)
	f.at.File = file.Shown()
	if what := tooMuch(data); what != "" {
		f.findings.Add(CodeFile.At(f.at, "%s", what).WithHint("divide it into several"))
		return f
	}
	if l.markdown += len(data); l.markdown > maxLanguage {
		f.findings.Add(CodeFile.At(f.at, "with this file the sections and tasks of the language have more than %d bytes", maxLanguage))
		return f
	}
	f.data = data
	return f
}

// compile reads the front matter into head and returns the body; nil if the title is
// missing.
func (f *markdownFile) compile(head any, title *word) []Block {
	if f.data == nil {
		return nil
	}
	if !bytes.HasPrefix(f.data, []byte("---\n")) {
		f.findings.Add(codeFrontMatter.At(f.at, "the file must begin with front matter between two lines ---"))
		return nil
	}
	end := bytes.Index(f.data, []byte("\n---\n"))
	if end < 0 {
		f.findings.Add(codeFrontMatter.At(f.at, "the front matter is not closed with a line ---"))
		return nil
	}
	// The opening line is blanked, so that line numbers stay those of the source.
	root, findings := source.Parse(f.at.File, append([]byte("   "), f.data[3:end+1]...), source.LineLimit)
	if root != nil {
		source.Decode(root, head, &findings)
	}
	f.findings.Add(findings...)
	if !title.Set {
		return nil
	}
	f.at = title.At
	text := slices.Clone(f.data)
	for i := range end + 4 {
		if text[i] != '\n' {
			text[i] = ' '
		}
	}
	return compileBody(f.at.File, text, &f.findings)
}

func (f *markdownFile) inline(w word) []Inline { return compileInline(w.Value, w.At, &f.findings) }
