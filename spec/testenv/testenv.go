// Package testenv defines two tiers of tests. The quick tier needs only Go and is what
// go test ./... runs. The heavy tier, with OWNERGUIDE_HEAVY=1, adds tests that take
// minutes, need root, or run external programs. Nothing is skipped in the heavy tier: a
// missing program is a failure.
package testenv

import (
	"bytes"
	"os"
	"os/exec"
	"runtime/debug"
	"strings"
	"testing"
)

// The heap of a test is small and memory is available, so less frequent garbage
// collection saves a good part of the time. The limit restores the usual frequency.
func init() {
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(1 << 30)
}

// Variable is the environment variable that enables the heavy tier.
const Variable = "OWNERGUIDE_HEAVY"

// IsHeavy reports whether the heavy tier runs, for tests that try only a part of their
// cases in the quick tier.
func IsHeavy() bool { return os.Getenv(Variable) == "1" }

// Heavy skips the calling test in the quick tier; because is the reason. It must be called
// first, by a top-level test: a skipped subtest could change what its parent counts.
func Heavy(tb testing.TB, because string) {
	tb.Helper()
	if strings.Contains(tb.Name(), "/") {
		tb.Fatal("a subtest cannot be left to the heavy tier: its parent goes on without it; make it a test of its own")
	}
	if !IsHeavy() {
		tb.Skipf("heavy tier (%s=1): %s", Variable, because)
	}
}

// Outside skips the calling test in the quick tier and requires external programs in the
// heavy one.
func Outside(tb testing.TB, names ...string) {
	tb.Helper()
	Heavy(tb, "asks "+strings.Join(names, ", "))
	for _, name := range names {
		if _, err := exec.LookPath(name); err != nil {
			tb.Fatalf("the heavy tier needs %s: %v", name, err)
		}
	}
}

// Tool runs an external program and returns its output. The test must have called
// [Outside]. Any output on standard error is a failure.
func Tool(tb testing.TB, name string, args ...string) string {
	tb.Helper()
	return ToolReading(tb, "", name, args...)
}

// ToolReading is [Tool] with text for standard input.
func ToolReading(tb testing.TB, input, name string, args ...string) string {
	tb.Helper()
	if !IsHeavy() {
		tb.Fatalf("%s is asked in the quick tier, which needs nothing but Go: call testenv.Outside first", name)
	}
	var stderr bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stdin, cmd.Stderr = strings.NewReader(input), &stderr
	cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8", "UNITS_ENGLISH=US")
	out, err := cmd.Output()
	// Warnings of mutool about itself do not concern the file.
	said := strings.ReplaceAll(stderr.String(), "warning: ICC support is not available\n", "")
	if err != nil || said != "" {
		tb.Fatalf("%s %s: %v\n%s%s", name, strings.Join(args, " "), err, out, said)
	}
	return string(out)
}

// Lines passes input to an external program and returns the lines of its output.
func Lines(tb testing.TB, input, name string, args ...string) []string {
	tb.Helper()
	return strings.Split(strings.TrimSpace(ToolReading(tb, input, name, args...)), "\n")
}

// Sample returns all cases in the heavy tier. In the quick tier it returns at most n of
// them, always the same, evenly spaced from the first to the last.
func Sample[T any](tb testing.TB, cases []T, n int) []T {
	tb.Helper()
	if IsHeavy() || len(cases) <= n {
		return cases
	}
	some := make([]T, n)
	for i := range some {
		some[i] = cases[i*(len(cases)-1)/max(1, n-1)]
	}
	tb.Logf("%d of %d cases; the heavy tier (%s=1) tries all", n, len(cases), Variable)
	return some
}
