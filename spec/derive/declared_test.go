package derive

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// What formulas and drawings ask for in code is what Reads says they ask for:
// a proof works out no figures for options that it does not name.
func TestReadsNamesWhatCodeAsksFor(t *testing.T) {
	var found []string
	for _, folder := range []string{".", "../../render/draw"} {
		err := filepath.WalkDir(folder, func(name string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
				return err
			}
			files := token.NewFileSet()
			file, err := parser.ParseFile(files, name, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				call, ok := n.(*ast.CallExpr)
				if !ok {
					return true
				}
				method, ok := call.Fun.(*ast.SelectorExpr)
				if !ok || method.Sel.Name != "Has" || len(call.Args) != 1 {
					return true
				}
				text, ok := call.Args[0].(*ast.BasicLit)
				if !ok {
					t.Errorf("%s: a feature that is not written out cannot be listed", files.Position(call.Pos()))
					return true
				}
				feature, err := strconv.Unquote(text.Value)
				if err != nil {
					t.Fatal(err)
				}
				found = append(found, feature)
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	slices.Sort(found)
	if found = slices.Compact(found); len(found) < 8 {
		t.Fatalf("only %v are asked for", found)
	}
	for _, feature := range found {
		if !slices.Contains(asked, feature) {
			t.Errorf("%s is asked for and asked does not list it", feature)
		}
	}
	for _, feature := range asked {
		if !slices.Contains(found, feature) {
			t.Errorf("asked lists %s, and nothing asks for it", feature)
		}
	}
}
