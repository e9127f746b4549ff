package main

import (
	"crypto/sha256"
	"encoding/base64"
	"go/ast"
	"go/parser"
	"go/token"
	"html"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

var (
	policyTag   = regexp.MustCompile(`<meta http-equiv="Content-Security-Policy" content="([^"]*)">`)
	ownElement  = regexp.MustCompile(`(?s)<(style|script)([^>]*)>(.*?)</`)
	handler     = regexp.MustCompile(`<[a-z][^>]*\s(?:on[a-z]+|style|srcdoc|formaction|ping)=`)
	forbidden   = regexp.MustCompile(`<(?:iframe|object|embed|base|link|form|frame|applet|audio|video|source)\b`)
	fetchedFrom = regexp.MustCompile(`\ssrc=|\ssrcset=|\sposter=|@import|url\((?:[^d]|d[^a]|da[^t]|dat[^a]|data[^:])`) // what is in the page is not fetched
)

// Each page says by its own policy that nothing is fetched and nothing runs but
// what the policy names by its hash; the hashes are reckoned here anew.
func TestPagesKeepToTheirPolicy(t *testing.T) {
	dir := writeAll(t, "../../testdata/sheets/BW-27-0142.yaml", "../../testdata/sheets/BW-27-0118.yaml")
	seen := map[string]int{}
	err := filepath.WalkDir(dir, func(name string, e fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(name) != ".html" {
			return err
		}
		page, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		seen[filepath.Base(name)]++
		checkPolicy(t, name, string(page))
		return nil
	})
	if err != nil || seen["guide.html"] != 2 || seen["calculations.html"] != 2 || seen["index.html"] != 1 {
		t.Errorf("pages looked at: %v (%v)", seen, err)
	}
}

func checkPolicy(t *testing.T, name, page string) {
	t.Helper()
	found := policyTag.FindStringSubmatchIndex(page)
	if found == nil {
		t.Fatalf("%s has no policy", name)
	}
	policy := html.UnescapeString(page[found[2]:found[3]])
	sources := map[string][]string{}
	for directive := range strings.SplitSeq(policy, ";") {
		if words := strings.Fields(directive); len(words) > 0 {
			sources[words[0]] = words[1:]
		}
	}
	if !slices.Equal(sources["default-src"], []string{"'none'"}) {
		t.Errorf("%s: the policy allows what it does not name: %s", name, policy)
	}
	for directive, allowed := range sources {
		for _, from := range allowed {
			if from != "'none'" && !strings.HasPrefix(from, "'sha256-") && (directive != "img-src" && directive != "font-src" || from != "data:") {
				t.Errorf("%s: %s allows %s", name, directive, from)
			}
		}
	}
	for _, m := range ownElement.FindAllStringSubmatchIndex(page, -1) {
		kind, attributes, text := page[m[2]:m[3]], page[m[4]:m[5]], page[m[6]:m[7]]
		sum := sha256.Sum256([]byte(text))
		if hash := "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !slices.Contains(sources[kind+"-src"], hash) {
			t.Errorf("%s: the policy does not name this %s", name, kind)
		}
		if attributes != "" || m[0] < found[0] {
			t.Errorf("%s: <%s%s> stands before the policy or has attributes", name, kind, attributes)
		}
	}
	if want := map[string]int{"guide.html": 1, "index.html": 1}[filepath.Base(name)]; strings.Count(page, "<script") != want {
		t.Errorf("%s holds %d scripts, want %d", name, strings.Count(page, "<script"), want)
	}
	for what, pattern := range map[string]*regexp.Regexp{"an attribute that runs or styles": handler, "an element that fetches": forbidden, "an address that is fetched": fetchedFrom} {
		if m := pattern.FindString(page); m != "" {
			t.Errorf("%s holds %s: %s", name, what, m)
		}
	}
}

// Nothing but the command line asks the clock, the environment or chance, so
// that a clock set back cannot change a guide.
func TestNoClockOutsideTheCommandLine(t *testing.T) {
	banned := map[string][]string{
		"time": {"Now", "Since", "Until", "Local", "LoadLocation"}, "os": {"Getenv", "LookupEnv", "Environ", "Hostname", "Getwd", "Getpid"},
		"math/rand": nil, "math/rand/v2": nil, "crypto/rand": nil, "net": nil, "net/http": nil, "os/exec": nil, "plugin": nil, "unsafe": nil, "text/template": nil,
	}
	files := 0
	for _, root := range []string{"../../spec", "../../render", "../../templates", "."} {
		err := filepath.WalkDir(root, func(name string, e fs.DirEntry, err error) error {
			if err == nil && e.IsDir() && forTests(filepath.ToSlash(name)) {
				return fs.SkipDir
			}
			if err != nil || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
				return err
			}
			files++
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				return err
			}
			imported := map[string]string{} // name in the file → path
			for _, i := range file.Imports {
				path := strings.Trim(i.Path.Value, `"`)
				names, known := banned[path]
				if known && names == nil {
					t.Errorf("%s imports %s", name, path)
				}
				imported[path[strings.LastIndex(path, "/")+1:]] = path
			}
			if root == "." {
				return nil // the command line has a clock, to wait and to show how far it is
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if s, ok := n.(*ast.SelectorExpr); ok {
					if x, ok := s.X.(*ast.Ident); ok && slices.Contains(banned[imported[x.Name]], s.Sel.Name) {
						t.Errorf("%s asks %s.%s", name, x.Name, s.Sel.Name)
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if files < 100 {
		t.Errorf("only %d files were read", files)
	}
}
