package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"ownerguide/spec/testenv"
)

// update rewrites golden files and the expected output inside scripts. Read
// the difference before you commit it.
var update = flag.Bool("update", false, "rewrite golden files and scripts with what the program does now")

func TestMain(m *testing.M) {
	testscript.Main(cleaning{m}, map[string]func(){"ownerguide": main})
}

// TestScripts runs the command line as a person does; each script in
// testdata/script is one story, to be read from top to bottom. The heavy tier
// starts a process for each command, the quick one runs them all in its own.
func TestScripts(t *testing.T) {
	testdata, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	scripts, err := filepath.Glob(filepath.Join(testdata, "script", "*.txtar")) // scripts that run in this process change its folder
	if err != nil || len(scripts) == 0 {
		t.Fatalf("no scripts: %v", err)
	}
	if !testenv.IsHeavy() && !*update {
		scripts = inThisProcess(t, scripts)
	}
	testscript.Run(t, testscript.Params{
		Files:               scripts,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		UpdateScripts:       *update,
		Cmds:                map[string]func(*testscript.TestScript, bool, []string){"in-process": runInProcess, "proved": runProved},
		Condition: func(condition string) (bool, error) {
			if condition != "heavy" {
				return false, fmt.Errorf("no condition %q", condition)
			}
			return testenv.IsHeavy(), nil
		},
		Setup: func(env *testscript.Env) error {
			env.Setenv("XDG_CACHE_HOME", cacheOfTests)
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

// inThisProcess copies scripts so that their commands run in this process. What
// reads standard input stays a process of its own: the script runner gives that
// to no other.
func inThisProcess(t *testing.T, scripts []string) (copies []string) {
	dir := t.TempDir()
	for _, name := range scripts {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		fed := false
		for line := range strings.Lines(string(text)) {
			bare := strings.TrimPrefix(line, "! ")
			if rest, ok := strings.CutPrefix(bare, "exec ownerguide "); ok && !fed {
				line = line[:len(line)-len(bare)] + "in-process " + rest
			}
			fed = strings.HasPrefix(line, "stdin ")
			b.WriteString(line)
		}
		copies = append(copies, filepath.Join(dir, filepath.Base(name)))
		writeText(t, copies[len(copies)-1], b.String())
	}
	return copies
}

// runProved is the command of scripts that spares them prove.
func runProved(ts *testscript.TestScript, neg bool, args []string) {
	if neg {
		ts.Fatalf("what is proved cannot be unproved")
	}
	ts.Check(takeAsProved(ts.MkAbs("."), args...))
}

// runInProcess is the command of scripts that runs the command line in the
// script's folder.
func runInProcess(ts *testscript.TestScript, neg bool, args []string) {
	o := inProcess(ts.MkAbs("."), args...)
	_, err := ts.Stdout().Write([]byte(o.stdout))
	ts.Check(err)
	_, err = ts.Stderr().Write([]byte(o.stderr))
	ts.Check(err)
	if (o.code != exitClean) != neg {
		ts.Fatalf("exit %d", o.code)
	}
}
