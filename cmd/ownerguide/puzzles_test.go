package main

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ownerguide/spec/testenv"
)

// puzzle is a line whose first model offers options that only tie each other up.
type puzzle struct {
	options []string
	needs   map[string]string   // option → the one it needs
	against map[string][]string // option → those it does not go with
	one     [][]string          // groups of which exactly one is ordered
}

func optionsNamed(n int) (names []string) {
	for i := range n {
		names = append(names, fmt.Sprintf("tie-%d", i))
	}
	return names
}

// pigeonhole cannot be ordered at all, and no search through choices finds out.
func pigeonhole(holes int) (p puzzle) {
	p.options = optionsNamed(holes * (holes + 1))
	p.against = map[string][]string{}
	for i, o := range p.options {
		for j := i + holes; j < len(p.options); j += holes {
			p.against[o] = append(p.against[o], p.options[j])
		}
	}
	for group := range slices.Chunk(p.options, holes) {
		p.one = append(p.one, group)
	}
	return p
}

// tangled has pairs of options that do not go together, in no order.
func tangled(options, pairs int) puzzle {
	p := puzzle{options: optionsNamed(options), against: map[string][]string{}}
	random := rand.New(rand.NewPCG(3, 4))
	for range pairs {
		a, b := p.options[random.IntN(options)], p.options[random.IntN(options)]
		if a != b && !slices.Contains(p.against[a], b) {
			p.against[a] = append(p.against[a], b)
		}
	}
	return p
}

// ring is options that need each other all round.
func ring(n int) puzzle {
	p := puzzle{options: optionsNamed(n), needs: map[string]string{}}
	for i, o := range p.options {
		p.needs[o] = p.options[(i+1)%n]
	}
	return p
}

// write adds the puzzle to a copy of the embedded line, and makes a sheet that
// orders the first two of the options.
func (p puzzle) write(t *testing.T, dir string) (sheet string) {
	t.Helper()
	folder := ownLine(t, dir)
	change := func(name string, edit func(text string) string) {
		name = filepath.Join(folder, filepath.FromSlash(name))
		data, err := os.ReadFile(name)
		if err == nil {
			err = os.WriteFile(name, []byte(edit(string(data))), 0o644)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	change("models/utility-12.yaml", func(text string) string {
		head, rules, _ := strings.Cut(text, "\nrules:\n")
		var b strings.Builder
		b.WriteString(strings.TrimRight(head, "\n") + "\n")
		for _, o := range p.options {
			fmt.Fprintf(&b, "  %s:\n    weighs: 1 lb\n    center: 100 in\n", o)
			if need := p.needs[o]; need != "" {
				fmt.Fprintf(&b, "    requires: [{ option: %s, because: tied }]\n", need)
			}
			if len(p.against[o]) > 0 {
				fmt.Fprintf(&b, "    excludes: [{ any_of: [%s], because: tied }]\n", strings.Join(p.against[o], ", "))
			}
		}
		b.WriteString("rules:\n" + rules)
		for _, group := range p.one {
			fmt.Fprintf(&b, "  - { exactly_one: [%s], because: tied }\n", strings.Join(group, ", "))
		}
		return b.String()
	})
	change("text/en.yaml", func(text string) string {
		var names strings.Builder
		for _, o := range p.options {
			fmt.Fprintf(&names, "  %s: { name: Tie, describe: \"Ties others up.\" }\n", o)
		}
		text = strings.Replace(text, "\noptions:\n", "\noptions:\n"+names.String(), 1)
		return strings.Replace(text, "\nbecause:\n", "\nbecause:\n  tied: they are tied up\n", 1)
	})
	data, err := os.ReadFile("../../testdata/sheets/BW-27-0118.yaml")
	if err != nil {
		t.Fatal(err)
	}
	sheet = filepath.Join(dir, "sheet.yaml")
	if err := os.WriteFile(sheet, fmt.Appendf(data, "options: [%s]\n", strings.Join(p.options[:2], ", ")), 0o644); err != nil {
		t.Fatal(err)
	}
	return sheet
}

// Lines that are puzzles for a search keep no command busy: it ends at its steps,
// and says what it did not settle. The quick tier tries smaller ones, and the
// commands that have something to say of them.
func TestPuzzlesForLines(t *testing.T) {
	many, holes, pairs := 60, 10, map[string]string{"options": "not all were counted"}
	if testenv.IsHeavy() {
		many, holes, pairs["prove"] = 600, 12, "builds not counted"
	}
	for _, c := range []struct {
		name string
		p    puzzle
		want map[string]string // command → what it says
	}{
		{"one of many", puzzle{options: optionsNamed(many), one: [][]string{optionsNamed(many)}},
			map[string]string{"check": "only one of tie-0", "options": "different units can be ordered"}},
		{"a ring", ring(many), map[string]string{"check": "tie-1 needs tie-2", "options": "different units can be ordered"}},
		{"pairs", tangled(120, 300), pairs},
		{"pigeonhole", pigeonhole(holes), map[string]string{"check": "not every way out was tried", "prove": "proof-unsettled", "cover": "proof-unsettled"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			sheet := c.p.write(t, dir)
			for name, args := range map[string][]string{
				"check":   {"check", sheet},
				"explain": {"explain", sheet, "weights"},
				"write":   {"write", "--out", "out", sheet},
				"options": {"options", "utility-12"},
				"models":  {"options", "--format", "json"},
				"begin":   {"begin", "--out", "begun.yaml", "utility-12"},
				"schema":  {"schema", "sheet"},
				"prove":   {"prove", "--limit", "1"},
				"cover":   {"prove", "--sheets", "cover"},
			} {
				if c.want[name] == "" && !testenv.IsHeavy() {
					continue
				}
				o := tame(t, dir, append([]string{"--line", "line"}, args...)...)
				if said := o.stdout + o.stderr; !strings.Contains(said, c.want[name]) {
					t.Errorf("%s: exit %d, want %q\n%s", name, o.code, c.want[name], head(said))
				}
			}
		})
	}
}
