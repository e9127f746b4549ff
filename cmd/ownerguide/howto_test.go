package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// The forms in which the how-to says what is to be done with a file; the block
// that follows is what is written. Each names a file and, but for the first, a
// line that has to be there once, whole or by its beginning.
var howToEdits = []struct {
	form *regexp.Regexp
	once func(text, line string) bool
	edit func(text, line, block string) string
}{
	{regexp.MustCompile("^[Ww]rite `([^`]+)`()"), nil, func(_, _, block string) string { return block }},
	{regexp.MustCompile("^At the end of `([^`]+)`, put()"), nil, func(text, _, block string) string { return text + block }},
	{regexp.MustCompile("^[Ii]n `([^`]+)`, put before the line `([^`]+)`"), hasLine, func(text, line, block string) string {
		return strings.Replace(text, line+"\n", block+line+"\n", 1)
	}},
	{regexp.MustCompile("^[Ii]n `([^`]+)`, put after the line `([^`]+)`"), hasLine, func(text, line, block string) string {
		return strings.Replace(text, line+"\n", line+"\n"+block, 1)
	}},
	{regexp.MustCompile("^[Ii]n `([^`]+)`, write the line that begins with `([^`]+)` as"), hasBeginning, func(text, line, block string) string {
		begin := strings.Index("\n"+text, "\n"+line)
		end := begin + strings.IndexByte(text[begin:], '\n') + 1
		return text[:begin] + block + text[end:]
	}},
}

func hasLine(text, line string) bool      { return strings.Count("\n"+text, "\n"+line+"\n") == 1 }
func hasBeginning(text, head string) bool { return strings.Count("\n"+text, "\n"+head) == 1 }

var (
	howToCut   = regexp.MustCompile("In `([^`]+)`, replace all above the line `([^`]+)` with:$")
	howToEdit  = regexp.MustCompile("(?:^|[.*] )((?:Write|In|At the end of) `[^`]+`[^.]*):$")
	howToCount = regexp.MustCompile(`^\*\*\d+\. .* takes? (\d+) edits in (\d+) files`)
	howToBlock = regexp.MustCompile("(?s)^```(console|yaml|markdown|xml)\n(.*?)```\n")
	howToLong  = regexp.MustCompile("(?s)^````(markdown|yaml)\n(.*?)````\n") // with blocks inside
)

// What the how-to says works as it is written: whoever follows it word for word
// gets from unpack to a proved line of two lengths and a guide, in as many edits as
// it says.
func TestHowTo(t *testing.T) {
	testenv.Heavy(t, "proves a line several times")
	text := readText(t, "../../spec/line/README.md") // unpack writes it beside the line
	t.Chdir(t.TempDir())
	edit, commands, edits := "", 0, 0 // edit is the sentence before a block
	var step []string                 // the sentence that says how many edits it takes, and in how many files
	changed, counted := map[string]int{}, 0
	for text != "" && !t.Failed() {
		block := howToBlock.FindStringSubmatch(text)
		if block == nil {
			block = howToLong.FindStringSubmatch(text)
		}
		if block != nil {
			text = text[len(block[0]):]
			if block[1] == "console" {
				commands += followCommands(t, block[2])
				continue
			}
			changed[followEdit(t, edit, block[2])]++
			edits++
			continue
		}
		line, rest, _ := strings.Cut(text, "\n")
		text = rest
		if line != "" {
			edit = line
		}
		if !strings.HasPrefix(line, "**") { // a step begins
			continue
		}
		if step != nil {
			made := 0
			for _, n := range changed {
				made += n
			}
			if said := fmt.Sprint(made, len(changed)); said != step[1]+" "+step[2] {
				t.Errorf("%s: it took %s", step[0], said)
			}
			counted++
		}
		step, changed = howToCount.FindStringSubmatch(line), map[string]int{}
	}
	if counted < 6 {
		t.Errorf("the edits of %d steps are counted", counted)
	}
	if commands < 9 || edits < 20 {
		t.Errorf("only %d commands and %d edits were followed", commands, edits)
	}
	page := readText(t, "out/HT-0001/guide.html")
	for word, there := range map[string]bool{"Hollin Trailers": true, "Mesh sides": true, "It can crush your foot.": true, "Look over the rope of the crane": true, "A hand crane that lifts": true, "It can knock you down": true, "its arm swung over the deck": true, "the upright tube": true, "#22384f": true, "Bramblewick": false, "BW-": false, "555-0142": false} {
		if strings.Contains(page, word) != there {
			t.Errorf("the guide has %q: %t", word, !there)
		}
	}
}

// followEdit edits a file as the sentence says, and returns its name.
func followEdit(t *testing.T, sentence, block string) string {
	t.Helper()
	if m := howToCut.FindStringSubmatch(sentence); m != nil {
		text := readText(t, m[1])
		if !hasLine(text, m[2]) {
			t.Fatalf("%s has no line %q, or several", m[1], m[2])
		}
		_, kept, _ := strings.Cut(text, "\n"+m[2]+"\n")
		writeText(t, m[1], block+m[2]+"\n"+kept)
		return m[1]
	}
	said := howToEdit.FindStringSubmatch(sentence)
	if said == nil {
		t.Fatalf("nothing says what to do with\n%safter %q", block, sentence)
	}
	for _, e := range howToEdits {
		m := e.form.FindStringSubmatch(said[1])
		if m == nil {
			continue
		}
		text := ""
		if sentence := said[1]; !strings.HasPrefix(sentence, "Write") {
			text = readText(t, m[1])
		}
		if e.once != nil && !e.once(text, m[2]) {
			t.Fatalf("%s has no line %q, or several", m[1], m[2])
		}
		if err := os.MkdirAll(filepath.Dir(m[1]), 0o777); err != nil {
			t.Fatal(err)
		}
		writeText(t, m[1], e.edit(text, m[2], block))
		return m[1]
	}
	t.Fatalf("what does %q ask for?", said[1])
	return ""
}

func readText(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func writeText(t *testing.T, name, text string) {
	t.Helper()
	if err := os.WriteFile(filepath.FromSlash(name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// followCommands types the commands of a block and compares what they print.
func followCommands(t *testing.T, block string) (n int) {
	t.Helper()
	for _, one := range strings.Split("\n"+block, "\n$ ")[1:] {
		n++
		line, want, _ := strings.Cut(one, "\n")
		fields := strings.Fields(line)
		got := ""
		if fields[0] == "ownerguide" {
			code, stdout, stderr := program(t, fields[1:]...)
			if got = stderr + stdout; strings.Contains(want, "error:") != (code == exitErrors) {
				t.Fatalf("%s: exit %d\n%s", line, code, got)
			}
		} else if err := shell(fields); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		if err := printed(got, want); err != nil {
			t.Fatalf("%s: %v; it prints\n%s", line, err, got)
		}
	}
	return n
}

// shell does what a shell would with the few commands of the how-to.
func shell(fields []string) error {
	switch command, args := fields[0], fields[1:]; {
	case command == "mv" && len(args) == 2:
		return os.Rename(args[0], args[1])
	case command == "mkdir" && len(args) > 1 && args[0] == "-p":
		for _, dir := range args[1:] {
			if err := os.MkdirAll(dir, 0o777); err != nil {
				return err
			}
		}
		return nil
	case command == "rm" && len(args) > 0:
		for _, name := range args {
			if err := os.Remove(name); err != nil {
				return err
			}
		}
		return nil
	}
	return fmt.Errorf("the how-to knows mv, mkdir -p and rm only")
}

// printed reports whether an output is as shown: line by line, where a line of …
// stands for any number of others.
func printed(got, shown string) error {
	lines := strings.Split(strings.TrimSuffix(got, "\n"), "\n")
	skipping := false
	for _, want := range strings.Split(strings.TrimSuffix(shown, "\n"), "\n") {
		if want == "…" {
			skipping = true
			continue
		}
		at := 0
		if skipping {
			at = slices.Index(lines, want)
		}
		if at < 0 || at >= len(lines) || lines[at] != want {
			return fmt.Errorf("no line %q where it is shown", want)
		}
		lines, skipping = lines[at+1:], false
	}
	if len(lines) > 0 && !skipping {
		return fmt.Errorf("line %q is not shown", lines[0])
	}
	return nil
}
