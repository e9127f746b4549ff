package main

import (
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"runtime"
	"runtime/debug"
	"strings"

	"ownerguide/render/pdf/fonts"
)

type licencesCommand struct {
	Text bool `help:"Print the licences in full."`
}

// Help implements kong's help provider.
func (licencesCommand) Help() string {
	return `Lists the licence of this program, then whose work is in it and in the guides it
makes, and under which licence: the libraries it was built with and the typeface.
The texts are in the program, so that they go wherever it goes.

Example:

  ownerguide licences`
}

// licenceTexts holds one file for each module: its path with ~ for /.
//
//go:embed licences/*.txt
var licenceTexts embed.FS

// licence is that of this program, or of somebody else's work in it.
type licence struct {
	of      string // module path, or what else it is
	version string
	kind    string
	text    string
}

// licenceKinds names the licence of each module; a new one is read by a person before
// it is entered here.
var licenceKinds = map[string]string{
	"github.com/alecthomas/kong":        "MIT",
	"github.com/emersion/go-message":    "MIT",
	"github.com/fsnotify/fsnotify":      "BSD-3-Clause",
	"github.com/klauspost/compress":     "BSD-3-Clause, Apache-2.0, MIT",
	"github.com/phpdave11/gofpdi":       "MIT",
	"github.com/pkg/errors":             "BSD-2-Clause",
	"github.com/signintech/gopdf":       "MIT",
	"github.com/thedatashed/xlsxreader": "MIT",
	"github.com/yuin/goldmark":          "MIT",
	"golang.org/x/sys":                  "BSD-3-Clause",
	"golang.org/x/term":                 "BSD-3-Clause",
	"golang.org/x/text":                 "BSD-3-Clause",
	"gopkg.in/yaml.v3":                  "MIT and Apache-2.0",
}

// licences lists the program, then the work of others in it: the language's own
// libraries, the typeface, and the modules it was built with.
func licences() ([]licence, error) {
	own, err := fs.ReadFile(licenceTexts, "licences/ownerguide.txt")
	if err != nil {
		return nil, err
	}
	language, err := fs.ReadFile(licenceTexts, "licences/go.txt")
	if err != nil {
		return nil, err
	}
	name, built, _ := strings.Cut(version(), " ")
	all := []licence{
		{name, built, "MIT", string(own)},
		{"Go's standard library", runtime.Version(), "BSD-3-Clause", string(language)},
		{"Ownerguide Text, from Atkinson Hyperlegible Next", "2.001", "OFL-1.1", fonts.Licence()},
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return nil, errors.New("this program does not know what it was built with")
	}
	for _, m := range info.Deps {
		text, err := fs.ReadFile(licenceTexts, "licences/"+strings.ReplaceAll(m.Path, "/", "~")+".txt")
		if err != nil {
			continue // a module of the tests, in a test: TestLicences holds the list against the program's own
		}
		all = append(all, licence{m.Path, m.Version, licenceKinds[m.Path], string(text)})
	}
	return all, nil
}

// Run lists the licences.
func (c *licencesCommand) Run(t *terminal) error {
	all, err := licences()
	if err != nil {
		return err
	}
	for _, l := range all {
		if c.Text {
			_, err = fmt.Fprintf(t, "%s %s (%s)\n\n%s\n\n", l.of, l.version, l.kind, strings.TrimSpace(l.text))
		} else {
			err = t.line("%-50s %-42s %s", l.of, l.version, l.kind)
		}
		if err != nil {
			return err
		}
	}
	return nil
}
