// Package testenv says which tests run where. There are two tiers: the quick one
// needs Go and nothing else, and is what go test ./... runs; the heavy one, with
// OWNERGUIDE_HEAVY=1, runs on top of it whatever takes minutes, needs root, or asks
// programs from outside. In the heavy tier nothing is left out: what is missing
// is a failure.
package testenv

import (
	"bytes"
	"os"
	"os/exec"
	"runtime/debug"
	"strings"
	"testing"
)

// The heap of a test is small, and there is room: collecting it less often saves a
// good part of the time. Beyond the limit it is collected as ever.
func init() {
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(1 << 30)
}

// Variable is the environment variable that asks for the heavy tier.
const Variable = "OWNERGUIDE_HEAVY"

// IsHeavy reports whether the heavy tier runs, for tests that try a part in the
// quick tier and all in the heavy one.
func IsHeavy() bool { return os.Getenv(Variable) == "1" }

// Heavy leaves the calling test to the heavy tier; because says what it does
// that is too much for the quick one. It is called first of all, by the test
// itself: were a subtest left out, what its parent counts would depend on it.
func Heavy(tb testing.TB, because string) {
	tb.Helper()
	if strings.Contains(tb.Name(), "/") {
		tb.Fatal("a subtest cannot be left to the heavy tier: its parent goes on without it; make it a test of its own")
	}
	if !IsHeavy() {
		tb.Skipf("heavy tier (%s=1): %s", Variable, because)
	}
}

// Outside leaves the calling test to the heavy tier and requires the programs
// from outside that it asks.
func Outside(tb testing.TB, names ...string) {
	tb.Helper()
	Heavy(tb, "asks "+strings.Join(names, ", "))
	for _, name := range names {
		if _, err := exec.LookPath(name); err != nil {
			tb.Fatalf("the heavy tier needs %s: %v", name, err)
		}
	}
}

// Tool runs a program from outside and returns what it prints. The test has to
// have called [Outside]. Anything on standard error is a failure.
func Tool(tb testing.TB, name string, args ...string) string {
	tb.Helper()
	return ToolReading(tb, "", name, args...)
}

// ToolReading is [Tool] with a text for standard input.
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
	// What mutool says of itself is not about the file.
	said := strings.ReplaceAll(stderr.String(), "warning: ICC support is not available\n", "")
	if err != nil || said != "" {
		tb.Fatalf("%s %s: %v\n%s%s", name, strings.Join(args, " "), err, out, said)
	}
	return string(out)
}

// Lines puts questions to a program from outside and returns its answers, line by line.
func Lines(tb testing.TB, input, name string, args ...string) []string {
	tb.Helper()
	return strings.Split(strings.TrimSpace(ToolReading(tb, input, name, args...)), "\n")
}

// Sample returns all cases in the heavy tier, and in the quick one at most n of
// them, always the same, from the first to the last.
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
