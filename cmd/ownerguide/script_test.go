package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

// update rewrites golden files and the expected output inside scripts. Read
// the difference before you commit it.
var update = flag.Bool("update", false, "rewrite golden files and scripts with what the program does now")

func TestMain(m *testing.M) {
	testscript.Main(cleaning{m}, map[string]func(){"ownerguide": main})
}

// TestScripts runs the command line as a person does; each script in
// testdata/script is one story, to be read from top to bottom.
func TestScripts(t *testing.T) {
	testdata, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Setup: func(env *testscript.Env) error {
			// Scripts see the project's sheets, and another maker's line, under the name a person types.
			for _, name := range []string{"sheets", "quillmere"} {
				if err := os.CopyFS(filepath.Join(env.WorkDir, "testdata", name), os.DirFS(filepath.Join(testdata, name))); err != nil {
					return err
				}
			}
			return nil
		},
	})
}
