package main

import (
	"bytes"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"ownerguide/cmd/ownerguide/internal/output"
	"ownerguide/spec/testenv"
)

// Faults of the machine, each made for real: whatever happens, every unit's
// folder holds one whole guide, and the program says what went wrong.

// mount puts a file system in place for one test. It needs root.
func mount(t *testing.T, source, target, kind string, flags uintptr, data string) {
	t.Helper()
	if err := syscall.Mount(source, target, kind, flags, data); err != nil {
		t.Fatalf("mounting %s: %v", target, err)
	}
	t.Cleanup(func() { _ = syscall.Unmount(target, syscall.MNT_DETACH) })
}

// twoSheets copies two of the project's sheets; change tells their second
// version from the first.
func twoSheets(t *testing.T, dir, change string) []string {
	t.Helper()
	var names []string
	for _, name := range []string{"BW-27-0118.yaml", "BW-27-0124.yaml"} {
		data, err := os.ReadFile(filepath.Join("../../testdata/sheets", name))
		if err != nil {
			t.Fatal(err)
		}
		var kept []string // a guide that was delivered would need a new revision letter for each change
		for line := range strings.Lines(string(data)) {
			if !strings.HasPrefix(line, "notes:") && !strings.HasPrefix(line, "delivered:") && !strings.HasPrefix(line, " ") && !strings.HasSuffix(line, ":\n") {
				kept = append(kept, line)
			}
		}
		writeTree(t, dir, map[string]string{name: strings.Join(kept, "") + "notes: " + change + "\n"})
		names = append(names, filepath.Join(dir, name))
	}
	return names
}

// wholeUnits holds every unit's files against the record among them; it gives
// the number of units.
func wholeUnits(t *testing.T, out string) (units int) {
	t.Helper()
	folders, err := filepath.Glob(filepath.Join(out, "BW-*"))
	if err != nil {
		t.Fatal(err)
	}
	for _, folder := range folders {
		h, err := output.HistoryOf(folder)
		switch {
		case err != nil:
			t.Errorf("%s: %v", folder, err)
		case h.Current == nil:
			t.Errorf("%s is empty", folder)
		case !h.Whole():
			t.Errorf("%s holds files of two guides, or a part of one", folder)
		}
	}
	return len(folders)
}

func TestDiskFull(t *testing.T) {
	testenv.Heavy(t, "mounts a file system as root")
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	if err := os.Mkdir(out, 0o755); err != nil {
		t.Fatal(err)
	}
	mount(t, "tmpfs", out, "tmpfs", 0, "size=32m")
	first := twoSheets(t, filepath.Join(dir, "first"), "one")
	wantOutcome(t, runBinary(t, ".", nil, append([]string{"write", "--out", out}, first...)...), exitClean, "2 written")
	before := writtenFiles(t, out)

	filler := filepath.Join(out, ".filler")
	f, err := os.Create(filler)
	if err != nil {
		t.Fatal(err)
	}
	block := make([]byte, 4096)
	for err == nil {
		_, err = f.Write(block)
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatalf("the disk is not full: %v", err)
	}
	if err := f.Truncate(32<<20 - 4<<20); err != nil { // room for a beginning
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	for _, room := range []int64{0, 40 << 10, 400 << 10} {
		fillTo(t, filler, out, room)
		second := twoSheets(t, filepath.Join(dir, "second"), "two")
		wantOutcome(t, runBinary(t, ".", nil, append([]string{"write", "--out", out}, second...)...), exitErrors, "no space left on device")
		if after := writtenFiles(t, out); !bytes.Equal(before, after) {
			t.Errorf("with %d bytes of room the earlier guides did not stay as they were", room)
		}
		wholeUnits(t, out)
	}
	if err := os.Remove(filler); err != nil {
		t.Fatal(err)
	}
	second := twoSheets(t, filepath.Join(dir, "second"), "two")
	wantOutcome(t, runBinary(t, ".", nil, append([]string{"write", "--out", out}, second...)...), exitClean, "2 written")
	wantOutcome(t, runBinary(t, ".", nil, "verify", out), exitClean, "0 damaged")
}

// fillTo lengthens a file until so many bytes of its file system are free.
func fillTo(t *testing.T, filler, out string, room int64) {
	t.Helper()
	if err := os.Truncate(filler, 0); err != nil {
		t.Fatal(err)
	}
	var disk syscall.Statfs_t
	if err := syscall.Statfs(out, &disk); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filler, make([]byte, int64(disk.Bfree)*disk.Bsize-room), 0o644); err != nil {
		t.Fatal(err)
	}
}

// writtenFiles is everything in the units' folders, one after the other.
func writtenFiles(t *testing.T, out string) []byte {
	t.Helper()
	var all []byte
	names, _ := filepath.Glob(filepath.Join(out, "BW-*", "*"))
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		all = append(append(all, name...), data...)
	}
	if len(all) == 0 {
		t.Fatal("no guide was written")
	}
	return all
}

func TestReadOnlyOutput(t *testing.T) {
	testenv.Heavy(t, "mounts a file system as root")
	sheets := twoSheets(t, t.TempDir(), "one")
	out := t.TempDir()
	wantOutcome(t, runBinary(t, ".", nil, append([]string{"write", "--out", out}, sheets...)...), exitClean, "2 written")
	before := writtenFiles(t, out)
	mount(t, out, out, "", syscall.MS_BIND, "")
	mount(t, out, out, "", syscall.MS_BIND|syscall.MS_REMOUNT|syscall.MS_RDONLY, "")
	wantOutcome(t, runBinary(t, ".", nil, append([]string{"write", "--force", "--out", out}, sheets...)...), exitErrors, "read-only file system")
	if !bytes.Equal(before, writtenFiles(t, out)) {
		t.Error("the earlier guides did not stay as they were")
	}
	wantOutcome(t, runBinary(t, ".", nil, "verify", out), exitClean, "0 damaged")
}

func TestOutputThatCannotBeWritten(t *testing.T) {
	sheets := twoSheets(t, t.TempDir(), "one")
	t.Run("a file in its place", func(t *testing.T) {
		out := filepath.Join(t.TempDir(), "out")
		writeTree(t, filepath.Dir(out), map[string]string{"out": "a letter"})
		wantOutcome(t, ran(t, ".", append([]string{"write", "--out", out}, sheets...)...), exitErrors, "this is a file")
	})
	t.Run("below a file", func(t *testing.T) {
		dir := t.TempDir()
		writeTree(t, dir, map[string]string{"out": "a letter"})
		wantOutcome(t, ran(t, ".", append([]string{"write", "--out", filepath.Join(dir, "out", "below")}, sheets...)...), exitErrors, "not a directory")
	})
}

func TestResultsThatCannotBeTold(t *testing.T) {
	testenv.Heavy(t, "starts processes")
	sheets := twoSheets(t, t.TempDir(), "one")
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Fatal(err)
	}
	defer full.Close()
	for _, args := range [][]string{{"check", "--format", "json", sheets[0]}, {"write", "--out", t.TempDir(), sheets[0]}, {"explain", sheets[0]}} {
		cmd := exec.Command(binary(t), args...)
		cmd.Stdout = full
		if err := cmd.Run(); cmd.ProcessState.ExitCode() != exitErrors {
			t.Errorf("%s: %v, want exit 1", args[0], err)
		}
	}
}

// startedRun starts a run that writes many guides and waits until the first is in place.
func startedRun(t *testing.T, out string, args ...string) (cmd *exec.Cmd, stderr *bytes.Buffer) {
	t.Helper()
	stderr = &bytes.Buffer{}
	cmd = exec.Command(binary(t), append([]string{"write", "--workers", "1", "--out", out}, args...)...)
	cmd.Stderr = stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = cmd.Process.Kill() })
	for deadline := time.Now().Add(timeLimit); ; time.Sleep(5 * time.Millisecond) {
		if found, _ := filepath.Glob(filepath.Join(out, "BW-*")); len(found) > 0 {
			return cmd, stderr
		}
		if time.Now().After(deadline) {
			t.Fatal("no guide in time")
		}
	}
}

func TestOutputFolderRemovedMidRun(t *testing.T) {
	testenv.Heavy(t, "removes a folder under a running process")
	out := filepath.Join(t.TempDir(), "out")
	cmd, stderr := startedRun(t, out, goodSheets(t)...)
	if err := os.Rename(out, out+"-gone"); err != nil {
		t.Fatal(err)
	}
	// The run may put another file into a folder while it is being emptied.
	for deadline := time.Now().Add(timeLimit); ; {
		err := os.RemoveAll(out + "-gone")
		if err == nil {
			break
		}
		if time.Now().After(deadline) {
			t.Fatal(err)
		}
	}
	_ = cmd.Wait()
	wantOutcome(t, outcome{code: cmd.ProcessState.ExitCode(), stderr: stderr.String()}, exitErrors, "no such file or directory")
	if _, err := os.Stat(out); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("the folder came back: %v", err)
	}
}

// Two runs at once: the second is turned away, the first is not disturbed.
func TestTwoRunsAtOnce(t *testing.T) {
	testenv.Heavy(t, "starts two processes")
	out := filepath.Join(t.TempDir(), "out")
	sheets := goodSheets(t)
	cmd, stderr := startedRun(t, out, sheets...)
	wantOutcome(t, runBinary(t, ".", nil, "write", "--out", out, sheets[0]), exitErrors, "another run is writing to this folder")
	_ = cmd.Wait()
	wantOutcome(t, outcome{code: cmd.ProcessState.ExitCode(), stderr: stderr.String()}, exitClean, "0 refused")
	if n := wholeUnits(t, out); n != len(sheets) {
		t.Errorf("%d units, want %d", n, len(sheets))
	}
}

// An interrupted run ends with its own exit code, and what it wrote is whole.
func TestInterruptedRun(t *testing.T) {
	testenv.Heavy(t, "interrupts processes")
	for _, signal := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM} {
		t.Run(signal.String(), func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out")
			cmd, stderr := startedRun(t, out, goodSheets(t)...)
			if err := cmd.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			_ = cmd.Wait()
			wantOutcome(t, outcome{code: cmd.ProcessState.ExitCode(), stderr: stderr.String()}, exitInterrupted, "interrupted; every guide on disk is whole")
			if n := wholeUnits(t, out); n == 0 || n == len(goodSheets(t)) {
				t.Errorf("%d units: the run was not stopped in its midst", n)
			}
			if left, _ := filepath.Glob(filepath.Join(out, ".ownerguide-stage-*")); len(left) > 0 {
				t.Errorf("left behind: %v", left)
			}
		})
	}
}

// A run that waits for standard input can be interrupted too.
func TestInterruptedWhileWaiting(t *testing.T) {
	testenv.Heavy(t, "interrupts a process")
	waits, pipe, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer pipe.Close()
	cmd := exec.Command(binary(t), "check", "-")
	var stderr bytes.Buffer
	cmd.Stdin, cmd.Stderr = waits, &stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	time.Sleep(500 * time.Millisecond) // until it listens for signals
	if err := cmd.Process.Signal(syscall.SIGTERM); err != nil {
		t.Fatal(err)
	}
	stopped := time.AfterFunc(timeLimit, func() { _ = cmd.Process.Kill() })
	_ = cmd.Wait()
	stopped.Stop()
	wantOutcome(t, outcome{code: cmd.ProcessState.ExitCode(), stderr: stderr.String()}, exitInterrupted, "interrupted")
}

// A run that is killed at any moment, again and again, leaves in each folder
// the earlier guide or the later one; the next run clears up.
func TestKilledAtAnyMoment(t *testing.T) {
	testenv.Heavy(t, "kills processes")
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	versions := [][]string{twoSheets(t, filepath.Join(dir, "a"), "one"), twoSheets(t, filepath.Join(dir, "b"), "two")}
	args := func(i int) []string {
		return append([]string{"write", "--force", "--out", out}, versions[i%2]...)
	}
	start := time.Now()
	wantOutcome(t, runBinary(t, ".", nil, args(0)...), exitClean, "2 written")
	took := time.Since(start)

	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d; one run takes %s", seed, took)
	random := rand.New(rand.NewPCG(seed, 0))
	killed := 0
	for i := range 25 {
		cmd := exec.Command(binary(t), args(i+1)...)
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		// Most of the time goes into making the guides; the swaps are at the end.
		time.Sleep(took/2 + time.Duration(random.Int64N(int64(took*3/4))))
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		if !cmd.ProcessState.Exited() {
			killed++
		}
		if n := wholeUnits(t, out); n != 2 {
			t.Fatalf("after kill %d there are %d units", i, n)
		}
	}
	if killed == 0 {
		t.Error("every run was over before it was killed")
	}
	wantOutcome(t, runBinary(t, ".", nil, args(0)...), exitClean, "2 written")
	wantOutcome(t, runBinary(t, ".", nil, "verify", out), exitClean, "0 damaged")
	if left, _ := filepath.Glob(filepath.Join(out, ".ownerguide-stage-*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// Time zone, language and number of processors of the machine change nothing.
func TestSameBytesOnEveryMachine(t *testing.T) {
	testenv.Heavy(t, "starts processes")
	dir := t.TempDir()
	sheets := twoSheets(t, dir, "one")
	var first []byte
	for i, env := range [][]string{
		{"TZ=UTC", "LC_ALL=C", "GOMAXPROCS=1"},
		{"TZ=Pacific/Kiritimati", "LC_ALL=tr_TR.UTF-8", "LANG=tr_TR.UTF-8", "GOMAXPROCS=2"},
		{"TZ=:no/such/zone", "LC_ALL=xx", "LANGUAGE=ar", "HOME=/nonexistent", "TMPDIR=/nonexistent", "PATH="},
	} {
		out := filepath.Join(dir, "out")
		wantOutcome(t, runBinary(t, ".", env, append([]string{"write", "--out", out}, sheets...)...), exitClean, "2 written")
		files := writtenFiles(t, out)
		if i == 0 {
			first = files
		} else if !bytes.Equal(first, files) {
			t.Errorf("other bytes with %q", env)
		}
		if err := os.RemoveAll(out); err != nil {
			t.Fatal(err)
		}
	}
}

// A clock that was set back leaves files that are younger than now, and edits
// that are older than the guides made from what stood there before. Neither the
// age of a file nor the time of day decides anything.
func TestClockSetBack(t *testing.T) {
	testenv.Heavy(t, "makes guides again and again")
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	sheets := twoSheets(t, filepath.Join(dir, "sheets"), "one")
	write := func(said string) {
		t.Helper()
		wantOutcome(t, runBinary(t, ".", nil, append([]string{"write", "--out", out}, sheets...)...), exitClean, said)
	}
	write("2 written")
	before := writtenFiles(t, out)
	setTimes := func(root string, to time.Time) {
		t.Helper()
		err := filepath.WalkDir(root, func(name string, _ fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			return os.Chtimes(name, to, to)
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	setTimes(dir, time.Now().AddDate(20, 0, 0))
	write("2 unchanged")
	if !bytes.Equal(before, writtenFiles(t, out)) {
		t.Error("guides from the future did not stay as they were")
	}
	wantOutcome(t, runBinary(t, ".", nil, "verify", out), exitClean, "0 damaged")

	sheets = twoSheets(t, filepath.Join(dir, "sheets"), "two")
	setTimes(filepath.Join(dir, "sheets"), time.Date(1990, 1, 1, 0, 0, 0, 0, time.UTC))
	write("2 written")
	if bytes.Equal(before, writtenFiles(t, out)) {
		t.Error("an edit with an old date was not seen")
	}
	wantOutcome(t, runBinary(t, ".", nil, "verify", out), exitClean, "0 damaged")
}
