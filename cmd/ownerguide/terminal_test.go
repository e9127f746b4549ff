package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"testing"
	"unicode"

	"ownerguide/cmd/ownerguide/internal/terminal"
)

// forged is text that passes for a finding of another sheet where it reaches a
// terminal as it is: it clears the line, begins a new one, turns the direction
// of writing round, and hides what follows.
const forged = "x\x1b[2K\r\nother.yaml:1:1: error: forged [forged]\u009b8m\u202e\u2028"

// written in YAML, as a key or a value.
const forgedYAML = `"x\e[2K\r\nother.yaml:1:1: error: forged [forged]\x9b8m\u202e\u2028"`

// Nothing from a file, a name, a record or the command line brings a line, an
// escape or a change of direction of its own, in text and in JSON.
func TestNothingReachesTheTerminalRaw(t *testing.T) {
	sheet, err := os.ReadFile("../../testdata/sheets/BW-27-0118.yaml")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	t.Chdir(dir)
	writeTree(t, ".", map[string]string{
		"good.yaml":                            string(sheet),
		"key.yaml":                             string(sheet) + forgedYAML + ": 1\n",
		"value.yaml":                           strings.Replace(string(sheet), "model: utility-12", "model: "+forgedYAML, 1),
		"serial.yaml":                          strings.Replace(string(sheet), "serial: BW-27-0118", "serial: "+forgedYAML, 1),
		"tag.yaml":                             string(sheet) + "notes: !<tag:x%1b[2K%0aother.yaml:1:1:%20error:%20forged> a\n",
		"buyer.yaml":                           strings.Replace(string(sheet), "serial:", "buyer: { name: "+forgedYAML+" }\nserial:", 1),
		"order.csv":                            "serial,model,\"" + forged + "\"\n\"" + forged + "\",\"" + forged + "\",1\n",
		"own/line.yaml":                        "id: " + forgedYAML + "\n" + forgedYAML + ": 1\n",
		"words/en/cautions.yaml":               forgedYAML + ": 1\n",
		"words/en/sections/" + "x\x1b[2K\n.md": "x",
		"records/BW-27-0118/record.json":       `{"serial":` + jsonString(forged) + `,"vin":` + jsonString(forged) + `,"buyer":` + jsonString(forged) + `,"revision":"A","parts":[{"place":` + jsonString(forged) + `,"kind":"tire","component":` + jsonString(forged) + `,"text":"3426"}]}`,
		"records/BW-27-0118/" + "x\x1b[2K\ny":  "stray",
		"named/" + "x\x1b[2K\nother.yaml":      string(sheet) + "nokey: 1\n",
	})
	quoted := 0
	for _, args := range [][]string{
		{"check", "key.yaml"}, {"check", "value.yaml"}, {"check", "serial.yaml"}, {"check", "tag.yaml"}, {"check", "buyer.yaml"}, {"check", "named"},
		{"check", "--format", "json", "key.yaml", "value.yaml", "serial.yaml", "tag.yaml", "named"},
		{"write", "key.yaml", "serial.yaml", "named"}, {"write", "--format", "json", "key.yaml", "serial.yaml", "named"},
		{"check", forged}, {"check", "--format", forged, "good.yaml"}, {forged}, {"check", "--" + forged}, {"write", "--workers", forged, "good.yaml"},
		{"explain", "good.yaml", forged}, {"explain", "value.yaml"}, {"options", forged}, {"codes", forged}, {"schema", forged}, {"help", forged},
		{"begin", forged}, {"begin", "tilt-20", "--options", forged}, {"begin", "--from", "order.csv"}, {"begin", "--from", "order.csv", "--format", "json"}, {"begin", "--from", forged},
		{"--line", "own", "options"}, {"--line", forged, "options"}, {"--templates", "words", "options"}, {"--templates", "words", "options", "--origins"},
		{"find", "x", "records"}, {"find", "--format", "json", "x", "records"}, {"find", forged, "records"}, {"verify", "records"}, {"verify", "--format", "json", "records"}, {"verify", forged},
		{"compare", "records/BW-27-0118", "records/BW-27-0118"}, {"compare", forged, forged}, {"index", forged},
		{"mail", "good.yaml", "--to", forged}, {"mail", forged}, {"unpack", forged, forged}, {"completion", forged}, {"complete", "--", "check", "named/"},
	} {
		code, stdout, stderr := program(t, args...)
		if code == exitClean && args[0] == "write" || strings.Contains(stderr, "internal error") {
			t.Errorf("%q: exit %d\n%s", args, code, stderr)
		}
		if strings.Contains(stdout+stderr, `other.yaml:1:1`) {
			quoted++
		}
		for line := range strings.Lines(stdout + stderr) {
			if strings.ContainsFunc(strings.TrimSuffix(line, "\n"), func(r rune) bool { return !unicode.IsGraphic(r) && (r != '\t' || args[0] != "complete") }) {
				t.Errorf("%q prints %q", args, line)
			}
			if strings.HasPrefix(line, "other.yaml") {
				t.Errorf("%q lets a line be forged: %q", args, line)
			}
		}
	}
	if quoted < 30 { // else this looks at little
		t.Errorf("%d of the commands said what they were given", quoted)
	}
}

func jsonString(s string) string {
	var b bytes.Buffer
	if err := terminal.New(&b, io.Discard).JSONLine(s); err != nil {
		panic(err)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// full is a device that takes nothing.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

// A result that could not be written is an error, whatever the command.
func TestResultsThatCannotBeWritten(t *testing.T) {
	for _, args := range [][]string{{"--version"}, {"--help"}, {"version"}, {"help"}, {"codes"}, {"schema"}, {"schema", "task"}, {"licences"}, {"options"}, {"completion", "bash"},
		{"check", "--format", "json", "../../testdata/sheets/BW-27-0118.yaml"}, {"explain", "../../testdata/sheets/BW-27-0118.yaml"}, {"begin", "tilt-20"}} {
		var said bytes.Buffer
		code := run(context.Background(), args, strings.NewReader(""), terminal.New(full{}, &said))
		if code != exitErrors || !strings.Contains(said.String(), "no space left on device") {
			t.Errorf("%q: exit %d, %s", args, code, said.String())
		}
	}
}
