// Package licences contains the licences of the program and of the work of others in it.
package licences

import (
	"embed"
	"errors"
	"io/fs"
	"runtime"
	"runtime/debug"
	"strings"

	"ownerguide/cmd/ownerguide/internal/guide"
	"ownerguide/render/pdf/fonts"
)

// Texts contains one file for each module, named after its path with ~ for /.
//
//go:embed *.txt
var Texts embed.FS

// licence is that of this program, or of the work of others in it.
type licence struct {
	Of      string // module path, or another name
	Version string
	Kind    string
	Text    string
}

// Kinds is the licence of each module; a person reads a new licence before it is entered
// here.
var Kinds = map[string]string{
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

// All returns the licences of the program, Go's own libraries, the typeface, and the
// modules the program was built with.
func All() ([]licence, error) {
	own, err := fs.ReadFile(Texts, "ownerguide.txt")
	if err != nil {
		return nil, err
	}
	language, err := fs.ReadFile(Texts, "go.txt")
	if err != nil {
		return nil, err
	}
	name, built, _ := strings.Cut(guide.Version(), " ")
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
		text, err := fs.ReadFile(Texts, strings.ReplaceAll(m.Path, "/", "~")+".txt")
		if err != nil {
			continue // a module of the tests, when run in a test: TestLicences compares the list with the program's own
		}
		all = append(all, licence{m.Path, m.Version, Kinds[m.Path], string(text)})
	}
	return all, nil
}
