// Package usage diagnoses errors in a command line and suggests corrections.
package usage

import (
	"slices"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"ownerguide/cmd/ownerguide/internal/input"
	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/source"
)

// Diagnose returns what is wrong with a command line that the parser refused, with the
// line that was probably intended. Refused is the parser's own error, for anything that
// is not recognized here.
func Diagnose(root *kong.Node, args []string, refused error, before ...string) error {
	d := diagnosis{before: before, args: args, node: root}
	for i := 0; i < len(args); i++ {
		word := args[i]
		switch {
		case word == "--":
			d.places += len(args) - i - 1
			i = len(args)
		case strings.HasPrefix(word, "-") && word != "-":
			used, err := d.flagAt(i)
			if err != nil {
				return err
			}
			i += used
		default:
			if err := d.wordAt(i); err != nil {
				return err
			}
		}
	}
	switch {
	case d.node == root:
		return terminal.WithHint(terminal.Usagef("no command"), "ownerguide help lists the commands")
	case d.places < len(d.node.Positional) && d.node.Positional[d.places].Required:
		missing := d.node.Positional[d.places]
		name := strings.ToUpper(missing.Name)
		return terminal.WithHint(terminal.Usagef("%s needs %s: %s", d.node.Name, name, startLower(missing.Help)), "%s", Typed(append(slices.Clone(args), name)))
	}
	return terminal.AsUsage(refused)
}

// diagnosis is how far a command line has been read.
type diagnosis struct {
	before []string // correct words before the arguments
	args   []string
	node   *kong.Node // the program, then the command
	places int        // number of positional arguments
}

// instead returns the command line with one word replaced by others.
func (d *diagnosis) instead(i int, words ...string) string {
	return Typed(slices.Concat(d.before, d.args[:i], words, d.args[i+1:]))
}

// Typed returns a command line as it would be typed.
func Typed(args []string) string {
	words := []string{"ownerguide"}
	for _, a := range args {
		if a == "" || strings.ContainsAny(a, " \t\n\"'\\$&|;<>()*?[]#~`") {
			a = "'" + strings.ReplaceAll(a, "'", `'\''`) + "'"
		}
		words = append(words, a)
	}
	return strings.Join(words, " ")
}

// wordAt reads a command or a positional argument.
func (d *diagnosis) wordAt(i int) error {
	word := d.args[i]
	if len(d.node.Children) == 0 {
		d.places++
		n := len(d.node.Positional)
		switch {
		case n == 0 || d.places > n && !d.node.Positional[n-1].IsSlice():
			return terminal.WithHint(terminal.Usagef("%s: %s is one argument too many", d.node.Name, word), "%s", d.instead(i))
		case d.places <= n:
			return d.valueOf(d.node.Positional[d.places-1], strings.ToUpper(d.node.Positional[d.places-1].Name), word, func(v string) string { return d.instead(i, v) })
		}
		return nil
	}
	var names []string
	for _, c := range d.node.Children {
		if c.Name == word {
			d.node = c
			return nil
		}
		if !c.Hidden {
			names = append(names, c.Name)
		}
	}
	err := terminal.Usagef("there is no command %s", word)
	if near, ok := source.Nearest(word, names); ok {
		return terminal.WithHint(err, "%s", d.instead(i, near))
	}
	if input.IsSheetName(word) {
		return terminal.WithHint(err, "%s", d.instead(i, "write", word))
	}
	return terminal.WithHint(err, "ownerguide help lists the commands")
}

// flagAt reads a flag and returns how many more words it consumed.
func (d *diagnosis) flagAt(i int) (used int, err error) {
	name, value, given := strings.Cut(d.args[i], "=")
	if !strings.HasPrefix(name, "--") && len(name) > 2 { // -fn, -j4
		flag := FlagOf(d.node, name[:2])
		switch {
		case flag == nil:
			return 0, d.noFlag(i, name[:2])
		case flag.IsBool():
			rest := &diagnosis{args: slices.Insert(slices.Clone(d.args), i+1, "-"+name[2:]), node: d.node}
			_, err := rest.flagAt(i + 1)
			return 0, err
		}
		name, value, given = name[:2], d.args[i][2:], true
	}
	flag := FlagOf(d.node, name)
	switch {
	case flag == nil:
		return 0, d.noFlag(i, name)
	case flag.IsBool():
		if _, no := strconv.ParseBool(value); given && no != nil {
			return 0, terminal.WithHint(terminal.Usagef("%s takes no value", name), "%s", d.instead(i, name))
		}
		return 0, nil
	case given:
		return 0, d.valueOf(flag.Value, name, value, func(v string) string { return d.instead(i, name, v) })
	case i+1 == len(d.args) || strings.HasPrefix(d.args[i+1], "-") && d.args[i+1] != "-":
		return 0, terminal.WithHint(terminal.Usagef("%s needs %s behind it", name, placeholder(flag)), "%s", d.instead(i, name, placeholder(flag)))
	}
	return 1, d.valueOf(flag.Value, name, d.args[i+1], func(v string) string { return d.instead(i+1, v) })
}

// noFlag reports an unknown flag of the command.
func (d *diagnosis) noFlag(i int, name string) error {
	err := terminal.Usagef("%s has no flag %s", d.node.Name, name)
	if d.node.Parent == nil {
		err = terminal.Usagef("there is no flag %s before a command", name)
	}
	var names []string
	for _, group := range d.node.AllFlags(true) {
		for _, f := range group {
			names = append(names, "--"+f.Name)
			for _, other := range f.Aliases {
				names = append(names, "--"+other)
			}
		}
	}
	if near, ok := source.Nearest(name, names); ok {
		_, value, given := strings.Cut(d.args[i], "=")
		if given {
			near += "=" + value
		}
		return terminal.WithHint(err, "%s", d.instead(i, near))
	}
	var others []string
	root := d.node
	for root.Parent != nil {
		root = root.Parent
	}
	for _, c := range root.Children {
		if c != d.node && FlagOf(c, name) != nil {
			others = append(others, c.Name)
		}
	}
	switch {
	case len(others) > 0 && d.node == root:
		return terminal.WithHint(err, "it is a flag of %s and stands behind it", strings.Join(others, ", "))
	case d.node == root:
		return terminal.WithHint(err, "ownerguide help lists those there are")
	case len(others) > 0:
		err = terminal.WithHint(err, "it is a flag of %s", strings.Join(others, ", "))
	}
	return terminal.WithHint(err, "ownerguide help %s lists those there are", d.node.Name)
}

// valueOf checks a value against the values of its flag or argument; with returns the
// command line with another value.
func (d *diagnosis) valueOf(v *kong.Value, name, value string, with func(string) string) error {
	switch {
	case v.Enum != "":
		words := slices.DeleteFunc(v.EnumSlice(), func(word string) bool { return word == "" }) // the empty value stands for an omitted flag
		if slices.Contains(words, value) {
			return nil
		}
		near, ok := source.Nearest(strings.ToLower(value), words)
		if !ok {
			near = words[0]
		}
		return terminal.WithHint(terminal.Usagef("%s %s: expected %s", name, value, strings.Join(words[:len(words)-1], ", ")+" or "+words[len(words)-1]), "%s", with(near))
	case v.Target.CanInt():
		if _, no := strconv.Atoi(value); no != nil {
			return terminal.WithHint(terminal.Usagef("%s %s: expected a whole number", name, value), "%s", with("2"))
		}
	}
	return nil
}

// FlagOf returns the flag of a command or of the program with one of its names, including
// dashes; nil if there is none.
func FlagOf(node *kong.Node, name string) *kong.Flag {
	for _, group := range node.AllFlags(false) {
		for _, f := range group {
			if name == "--"+f.Name || f.Short != 0 && name == "-"+string(f.Short) || strings.HasPrefix(name, "--") && slices.Contains(f.Aliases, name[2:]) {
				return f
			}
		}
	}
	return nil
}

func placeholder(f *kong.Flag) string {
	if f.PlaceHolder != "" {
		return f.PlaceHolder
	}
	first, _, _ := strings.Cut(f.Enum, ",")
	return first
}

// startLower turns a sentence of a help text into the end of another.
func startLower(help string) string {
	return strings.ToLower(help[:1]) + strings.TrimSuffix(help[1:], ".")
}
