package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"ownerguide/cmd/ownerguide/internal/terminal"
	"ownerguide/spec/testenv"
)

// built is the program as people get it: tests that end it, starve it or
// measure it need it as a process of its own, without the race detector. In the
// quick tier it is what scripts start: these tests, which can do what the program does.
var built = sync.OnceValues(func() (string, error) {
	if !testenv.IsHeavy() {
		return exec.LookPath("ownerguide")
	}
	var err error
	if builtIn, err = os.MkdirTemp("", "ownerguide-test-"); err != nil {
		return "", err
	}
	name := binaryName()
	cmd := exec.Command("go", "build", "-o", name, ".")
	cmd.Dir = packageFolder
	var said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &said
	if err := cmd.Run(); err != nil {
		return "", &buildError{said.String(), err}
	}
	return name, nil
})

// packageFolder is where the tests begin; a test may stand elsewhere when the program is built.
var packageFolder, _ = os.Getwd()

// builtIn is the folder of the built program, once a test asked for it.
var builtIn string

func binaryName() string {
	name := filepath.Join(builtIn, "ownerguide")
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	return name
}

type buildError struct {
	said string
	err  error
}

func (e *buildError) Error() string { return e.said + e.err.Error() }

func binary(t *testing.T) string {
	t.Helper()
	name, err := built()
	if err != nil {
		t.Fatal("building the program: ", err)
	}
	return name
}

// cleaning is a test run that clears away what it built and wrote.
type cleaning struct{ m *testing.M }

func (c cleaning) Run() int {
	var err error
	if cacheOfTests, err = os.MkdirTemp("", "ownerguide-test-"); err != nil {
		panic(err)
	}
	userCache = func() (string, error) { return cacheOfTests, nil }
	rememberReading()
	code := c.m.Run()
	for _, dir := range append(copiedFrom, builtIn, demo.dir, other.dir, cacheOfTests) {
		_ = os.RemoveAll(dir)
	}
	return code
}

// outcome is what became of one run of the built program.
type outcome struct {
	code           int
	stdout, stderr string
	peak           int64 // bytes of memory at its fullest; 0 if the system does not report it
}

// ran runs the program in a folder: in the heavy tier as it is built for people,
// with its memory measured, else in this process.
func ran(t *testing.T, dir string, args ...string) outcome {
	t.Helper()
	if testenv.IsHeavy() {
		return runBinary(t, dir, nil, args...)
	}
	stuck := time.AfterFunc(timeLimit, func() { panic(fmt.Sprintf("still running after %s: %q", timeLimit, args)) })
	defer stuck.Stop()
	return inProcess(dir, args...)
}

// inFolder is locked while the working directory of this process is changed.
var inFolder sync.Mutex

// inProcess runs the command line in this process, in a folder. Tests that run
// beside it name their files by full paths.
func inProcess(dir string, args ...string) outcome {
	var stdout, stderr bytes.Buffer
	code := -1
	err := standingIn(dir, func() error {
		return unspoken(func() { code = run(context.Background(), args, strings.NewReader(""), terminal.New(&stdout, &stderr)) })
	})
	if err != nil {
		return outcome{code: -1, stderr: err.Error()}
	}
	return outcome{code: code, stdout: stdout.String(), stderr: stderr.String()}
}

// unspoken does something and tells of what was said past the [terminal.Terminal], right
// to standard output or standard error.
func unspoken(do func()) error {
	past, err := os.CreateTemp("", "ownerguide-test-")
	if err != nil {
		return err
	}
	defer os.Remove(past.Name())
	defer past.Close()
	out, side := os.Stdout, os.Stderr
	os.Stdout, os.Stderr = past, past
	defer func() { os.Stdout, os.Stderr = out, side }()
	do()
	if info, err := past.Stat(); err != nil || info.Size() > 0 {
		return errors.Join(err, errors.New("something is said past the terminal"))
	}
	return nil
}

// standingIn calls a function with a folder as working directory.
func standingIn(dir string, do func() error) error {
	inFolder.Lock()
	defer inFolder.Unlock()
	home, err := os.Getwd()
	if err == nil {
		err = os.Chdir(dir)
	}
	if err != nil {
		return err
	}
	defer os.Chdir(home)
	return do()
}

// timeLimit is beyond what any run takes, on a machine that does much else too.
const timeLimit = 2 * time.Minute

// runBinary runs the built program in a folder, with environment variables
// beside those of the test.
func runBinary(t *testing.T, dir string, env []string, args ...string) outcome {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), timeLimit)
	defer cancel()
	cmd := exec.CommandContext(ctx, binary(t), args...)
	cmd.Dir, cmd.Env = dir, append(append(os.Environ(), "XDG_CACHE_HOME="+cacheOfTests), env...)
	cmd.WaitDelay = time.Second
	var stdout, stderr bytes.Buffer
	cmd.Stdout, cmd.Stderr = &stdout, &stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	peak := watchMemory(cmd.Process.Pid)
	_ = cmd.Wait()
	if ctx.Err() != nil {
		t.Errorf("still running after %s", timeLimit)
	}
	return outcome{cmd.ProcessState.ExitCode(), stdout.String(), stderr.String(), peak()}
}

// watchMemory asks the kernel again and again how much memory the process had
// at its fullest (VmHWM); the mark only rises, so that no more than the growth
// of the last milliseconds is missed. The resource usage that is told at the
// end would count what the test itself had in memory when it started the process.
func watchMemory(pid int) (peak func() int64) {
	stop, done := make(chan struct{}), make(chan struct{})
	var highest int64
	go func() {
		defer close(done)
		for {
			if now := highWater(pid); now > highest {
				highest = now
			}
			select {
			case <-stop:
				return
			case <-time.After(3 * time.Millisecond):
			}
		}
	}()
	return func() int64 {
		close(stop)
		<-done
		return highest
	}
}

func highWater(pid int) int64 {
	status, err := os.ReadFile("/proc/" + strconv.Itoa(pid) + "/status")
	if err != nil {
		return 0
	}
	_, rest, found := strings.Cut(string(status), "VmHWM:")
	if !found {
		return 0
	}
	kib, err := strconv.ParseInt(strings.Fields(rest)[0], 10, 64)
	if err != nil {
		return 0
	}
	return kib << 10
}

func wantOutcome(t *testing.T, o outcome, code int, said string) {
	t.Helper()
	if o.code != code || !strings.Contains(o.stderr, said) || strings.Contains(o.stderr, "internal error") {
		t.Errorf("exit %d, want %d and %q on standard error:\n%s", o.code, code, said, head(o.stderr))
	}
}
