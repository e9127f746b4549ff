package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"

	"ownerguide/spec/testenv"
)

// offers returns what is offered for the last of some words, without descriptions.
func offers(t *testing.T, words ...string) []string {
	t.Helper()
	code, stdout, stderr := program(t, append([]string{"complete", "--"}, words...)...)
	if code != exitClean || stderr != "" {
		t.Errorf("%q: exit %d\n%s", words, code, stderr)
	}
	var out []string
	for line := range strings.Lines(stdout) {
		text, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
		out = append(out, text)
	}
	return out
}

func TestComplete(t *testing.T) {
	t.Chdir("../..")
	for _, c := range []struct{ name, words, want string }{
		{"commands", "op", "options"},
		{"not the hidden one", "complet", "completion"},
		{"commands after a flag", "--line spec/line che", "check"},
		{"flags of a command", "write --wor", "--workers"},
		{"flags of the program", "write --li", "--line"},
		{"after a short flag with its value", "write -o out testdata/sheets/BW-27-0118", "testdata/sheets/BW-27-0118.yaml"},
		{"commands to be helped with", "help ver", "verify version"},
		{"an empty word as PowerShell says it", `completion ""`, "bash zsh fish powershell"},
		{"words of a closed list", "options --format j", "json"},
		{"the same in one word", "options --format=j", "--format=json"},
		{"the same as bash takes it apart", "options --format = j", "json"},
		{"models", "options til", "tilt-20"},
		{"models of another line", "--line testdata/lines/small options ", "tilt-20 deck-28"},
		{"options", "begin --options steel", "steel-deck"},
		{"further options", "begin --options front-box,winch", "front-box,winch-plate front-box,winch"},
		{"options that are there already", "begin --options tarp,tar", ""},
		{"values of a unit", "explain testdata/sheets/BW-27-0142.yaml hitch.ball_", "hitch.ball_height_high hitch.ball_height_low"},
		{"values a unit has not", "explain testdata/sheets/BW-27-0142.yaml dump.", ""},
		{"values without a unit", "explain nowhere.yaml dump.ang", "dump.angle"},
		{"codes", "codes option-req", "option-requires"},
		{"kinds of schemas", "schema ta", "task"},
		{"shells", "completion z", "zsh"},
		{"sheets by path", "check testdata/sheets/BW-27-014", "testdata/sheets/BW-27-0142.yaml testdata/sheets/BW-27-0149.yaml"},
		{"sheets by serial number", "check BW-27-014", "testdata/sheets/BW-27-0142.yaml testdata/sheets/BW-27-0149.yaml"},
		{"a second sheet", "check testdata/sheets/BW-27-0142.yaml BW-27-0149", "testdata/sheets/BW-27-0149.yaml"},
		{"folders", "--line spec/li", "spec/line/"},
		{"files", "begin --from READ", "README.md"},
		{"nothing", "codes option-requires no-such", ""},
		{"a line that is refused", "--line nowhere options ", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := strings.Join(offers(t, strings.Split(c.words, " ")...), " "); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// The copy of a sheet beside a guide that was written is not offered for the
// sheet itself, which people go on editing.
func TestSheetCopiesAreNotOffered(t *testing.T) {
	sheet, err := os.ReadFile("../../testdata/sheets/BW-27-0118.yaml")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	writeTree(t, ".", map[string]string{
		"order.yaml":                 string(sheet),
		"out/BW-27-0118/sheet.yaml":  string(sheet),
		"out/BW-27-0118/record.json": "{}",
		"own/sheet.yaml":             string(sheet),
	})
	if got := offers(t, "check", "BW-27"); !slices.Equal(got, []string{"order.yaml", "own/sheet.yaml"}) {
		t.Errorf("got %q", got)
	}
}

// Whatever takes a file, a folder or a word that somebody could know has
// candidates.
func TestEveryArgumentCompletes(t *testing.T) {
	parser, err := kong.New(&commands{}, kong.Vars{"version": ""})
	if err != nil {
		t.Fatal(err)
	}
	for _, command := range parser.Model.Children {
		values := slices.Clone(command.Positional)
		for _, f := range command.Flags {
			if slices.Contains([]string{"DIR", "FILE", "PATH", "ID"}, f.PlaceHolder) {
				values = append(values, f.Value)
			}
		}
		for _, v := range values {
			if v.Enum == "" && v.Tag.Get("complete") == "" && !command.Hidden {
				t.Errorf("%s: nothing completes %s", command.Name, v.Name)
			}
		}
	}
}

// Units that were written are offered by their serial number.
func TestCompleteUnits(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.MkdirAll("out/BW-27-0900", 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("out/BW-27-0900/record.json", nil, 0o666); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(offers(t, "verify", "BW-27"), " "); got != "out/BW-27-0900" {
		t.Errorf("got %q", got)
	}
}

// The scripts work in the shells they are for.
func TestShellsComplete(t *testing.T) {
	testenv.Outside(t, "bash", "zsh", "fish")
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	bin := t.TempDir()
	if err := os.Symlink(self, filepath.Join(bin, "ownerguide")); err != nil { // under this name the test is the program
		t.Skip("this system has no symbolic links")
	}
	t.Setenv("PATH", bin+string(os.PathListSeparator)+os.Getenv("PATH"))
	t.Chdir("../..")
	for _, c := range []struct{ shell, flag, script string }{
		{"bash", "-c", `source <(ownerguide completion bash)
ask() { COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _ownerguide; printf '%s\n' "${COMPREPLY[@]}"; }
complete -p ownerguide | grep -c _ownerguide
ask ownerguide options til
ask ownerguide check BW-27-0142
ask ownerguide --line spec/li`},
		{"zsh", "-fc", `compdef() { print -l 1 }
compadd() { for name in found folders; do [[ ${@[-1]} == $name ]] && print -l -- ${(P)name}; done; true }
eval "$(ownerguide completion zsh)"
ask() { words=("$@"); CURRENT=$#; _ownerguide; }
ask ownerguide options til
ask ownerguide check BW-27-0142
ask ownerguide --line spec/li`},
		{"fish", "-c", `ownerguide completion fish | source
complete -c ownerguide | grep -c complete
complete -C "ownerguide options til" | string replace -r '\t.*' ''
complete -C "ownerguide check BW-27-0142" | string replace -r '\t.*' ''
complete -C "ownerguide --line spec/li" | string replace -r '\t.*' ''
true`},
	} {
		t.Run(c.shell, func(t *testing.T) {
			got := strings.Join(strings.Fields(testenv.Tool(t, c.shell, c.flag, c.script)), " ")
			if want := "1 tilt-20 testdata/sheets/BW-27-0142.yaml spec/line/"; got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}
