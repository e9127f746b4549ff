// Package complete completes the last word of a command line.
package complete

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/usage"
	"ownerguide/render/record"
	"ownerguide/spec/derive"
	"ownerguide/spec/product"
	"ownerguide/spec/sheet"
	"ownerguide/spec/source"
)

// candidate is a completion of a word.
type candidate struct{ Text, Describe string }

// Known are functions that return the names known to the rest of the program.
type Known struct {
	Line  func(folder string) *product.Line // the line in use; nil if it is refused
	Codes func() []source.Code
	Files func() []source.FileShape
}

// Words returns the candidates for the last of some words. The values of a flag or an
// argument are given by its tag: enum, or complete with one of the kinds in the switch in
// candidates.
func Words(root *kong.Node, known Known, words []string) []candidate {
	words = joinEquals(words)
	if len(words) == 0 {
		words = []string{""}
	}
	typed, last := words[:len(words)-1], words[len(words)-1]
	if last == `""` {
		last = ""
	}
	at := typedSoFar{root: root, node: root, known: known}
	for i := 0; i < len(typed); i++ {
		i += at.take(typed[i:])
	}
	if at.open != nil {
		return at.candidates(at.open, last)
	}
	if name, value, ok := strings.Cut(last, "="); ok && usage.FlagOf(at.node, name) != nil {
		found := at.candidates(usage.FlagOf(at.node, name).Value, value)
		for i := range found {
			found[i].Text = name + "=" + found[i].Text
		}
		return found
	}
	if strings.HasPrefix(last, "-") {
		return at.flags(last)
	}
	if len(at.node.Children) > 0 {
		return commandsOf(at.node, last)
	}
	if n := len(at.node.Positional); n > 0 {
		return at.candidates(at.node.Positional[min(len(at.arguments), n-1)], last)
	}
	return nil
}

// commandsOf returns the commands that begin with a word.
func commandsOf(root *kong.Node, word string) (found []candidate) {
	for _, c := range root.Children {
		if !c.Hidden {
			found = append(found, candidate{c.Name, c.Help})
		}
	}
	return beginning(found, word)
}

// joinEquals rejoins what bash splits: --line = own.
func joinEquals(words []string) (out []string) {
	for i, w := range words {
		if w == "=" && i == len(words)-1 {
			w = "" // complete the value after it
		} else if w == "=" {
			continue
		}
		out = append(out, w)
	}
	return out
}

// typedSoFar is the state after the words before the last one.
type typedSoFar struct {
	known     Known
	root      *kong.Node
	node      *kong.Node
	open      *kong.Value // a flag whose value is expected
	line      string      // the value of --line
	arguments []string
}

// take consumes the next word and returns how many more it consumed.
func (s *typedSoFar) take(words []string) (more int) {
	word := words[0]
	if strings.HasPrefix(word, "-") && word != "-" {
		name, value, given := strings.Cut(word, "=")
		flag := usage.FlagOf(s.node, name)
		switch {
		case flag == nil || flag.IsBool():
			return 0
		case !given && len(words) == 1:
			s.open = flag.Value
			return 0
		case !given:
			value, more = words[1], 1
		}
		if flag.Name == "line" {
			s.line = value
		}
		return more
	}
	for _, c := range s.node.Children {
		if c.Name == word {
			s.node = c
			return 0
		}
	}
	s.arguments = append(s.arguments, word)
	return 0
}

func (s *typedSoFar) flags(last string) []candidate {
	var found []candidate
	for _, group := range s.node.AllFlags(true) {
		for _, f := range group {
			found = append(found, candidate{"--" + f.Name, f.Help})
		}
	}
	return beginning(found, last)
}

// beginning returns the candidates that begin with a word.
func beginning(all []candidate, word string) []candidate {
	return slices.DeleteFunc(all, func(c candidate) bool { return !strings.HasPrefix(c.Text, word) })
}

// candidates returns the possible values of a flag or an argument.
func (s *typedSoFar) candidates(v *kong.Value, word string) (found []candidate) {
	for _, each := range v.EnumSlice() {
		if each != "" {
			found = append(found, candidate{Text: each})
		}
	}
	switch v.Tag.Get("complete") {
	case "model":
		found = s.models()
	case "options":
		done, part := "", word
		if i := strings.LastIndexByte(word, ','); i >= 0 {
			done, part = word[:i+1], word[i+1:]
		}
		found = beginning(s.options(strings.Split(done, ",")), part)
		for i := range found {
			found[i].Text = done + found[i].Text
		}
		return found
	case "value":
		found = s.values()
	case "command":
		return commandsOf(s.root, word)
	case "code":
		for _, code := range s.known.Codes() {
			found = append(found, candidate{code.ID, code.Protects})
		}
	case "schema":
		for _, f := range s.known.Files() {
			found = append(found, candidate{f.Name, f.Where})
		}
	case "sheet":
		return append(paths(word, ".yaml", ".yml"), sheetsOf(word)...)
	case "unit":
		return append(paths(word, ".yaml", ".yml"), unitsOf(word)...)
	case "folder":
		return paths(word)
	case "file":
		return paths(word, "")
	}
	return beginning(found, word)
}

func (s *typedSoFar) models() (found []candidate) {
	if l := s.known.Line(s.line); l != nil {
		for _, m := range l.Models {
			text, _ := l.ModelText(source.BaseLanguage, m.ID)
			found = append(found, candidate{m.ID, text.Name.Value})
		}
	}
	return found
}

// options returns those of the model that was typed, or of all models, without those
// typed already.
func (s *typedSoFar) options(chosen []string) (found []candidate) {
	l := s.known.Line(s.line)
	if l == nil {
		return nil
	}
	for _, m := range l.Models {
		if len(s.arguments) > 0 && m.ID != s.arguments[0] {
			continue
		}
		for _, id := range m.Options.Names() {
			text, _ := l.OptionText(source.BaseLanguage, id)
			c := candidate{id, text.Name.Value}
			if !slices.Contains(chosen, id) && !slices.Contains(found, c) {
				found = append(found, c)
			}
		}
	}
	return found
}

// values returns the figures of the unit whose sheet was typed, or all figures that can
// exist.
func (s *typedSoFar) values() (found []candidate) {
	if l := s.known.Line(s.line); l != nil && len(s.arguments) > 0 {
		if data, err := input.ReadCapped(s.arguments[0], strings.NewReader("")); err == nil {
			if u := (&guide.Maker{Line: l}).Read(input.SheetFile{Name: s.arguments[0], Data: data}); u.Values != nil {
				for _, v := range u.Values.All() {
					found = append(found, candidate{v.Name, v.Formula})
				}
				return found
			}
		}
	}
	for _, d := range derive.Declared() {
		found = append(found, candidate{d.Name, d.Formula})
	}
	return found
}

// paths returns folders, and files with one of some extensions, that begin with a word.
func paths(word string, endings ...string) (found []candidate) {
	folder, begin := filepath.Split(word)
	entries, err := os.ReadDir(filepath.Join(".", folder))
	if filepath.IsAbs(folder) {
		entries, err = os.ReadDir(folder)
	}
	if err != nil {
		return nil
	}
	for _, e := range entries {
		name := e.Name()
		switch {
		case !strings.HasPrefix(name, begin) || strings.HasPrefix(name, ".") && begin == "":
		case e.IsDir():
			found = append(found, candidate{Text: folder + name + "/"})
		case slices.ContainsFunc(endings, func(end string) bool { return strings.HasSuffix(name, end) }):
			found = append(found, candidate{Text: folder + name})
		}
	}
	return found
}

// sheetLimit limits the number of sheets that are read while the user waits.
const sheetLimit = 2000

// isSheetCopy reports whether a file is the copy of a sheet in the folder of a unit's
// guide, which users do not edit.
func isSheetCopy(name string) bool {
	_, err := os.Stat(filepath.Join(filepath.Dir(name), record.File))
	return err == nil && filepath.Base(name) == sheet.CopyName
}

// sheetsOf returns build sheets in the folders below the current one by the beginning of
// their serial number, whatever the names of their files.
func sheetsOf(word string) (found []candidate) {
	if word == "" || strings.ContainsAny(word, "/\\") {
		return nil
	}
	var names []string
	for _, pattern := range []string{"*.y*ml", "*/*.y*ml", "*/*/*.y*ml"} {
		files, _ := filepath.Glob(pattern) // the pattern is valid
		names = append(names, slices.DeleteFunc(files, isSheetCopy)...)
	}
	for _, name := range names[:min(len(names), sheetLimit)] {
		if strings.HasPrefix(name, word) {
			continue // offered by its path
		}
		data, err := input.ReadCapped(name, nil)
		if err != nil {
			continue
		}
		if s, _ := sheet.Read(name, data); s != nil && s.VIN.Set && strings.HasPrefix(s.Serial.Value, word) {
			found = append(found, candidate{filepath.ToSlash(name), s.Serial.Value})
		}
	}
	return found
}

// unitsOf returns the folders of written units by the beginning of their serial
// number.
func unitsOf(word string) (found []candidate) {
	if word == "" || strings.ContainsAny(word, "/\\") {
		return nil
	}
	records, _ := filepath.Glob("*/" + word + "*/record.json") // an invalid pattern matches nothing
	for _, name := range records {
		found = append(found, candidate{filepath.ToSlash(filepath.Dir(name)), filepath.Base(filepath.Dir(name))})
	}
	return found
}
