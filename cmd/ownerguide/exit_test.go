package main

import "testing"

// The exit codes are a contract with scripts that run the program.
func TestExitCodes(t *testing.T) {
	for _, c := range []struct {
		name string
		args []string
		want int
	}{
		{"clean", []string{"check", "../../testdata/sheets/BW-27-0118.yaml"}, exitClean},
		{"help", []string{"--help"}, exitClean},
		{"errors in a sheet", []string{"check", "../../testdata/sheets/bad"}, exitErrors},
		{"file that is not there", []string{"check", "nowhere.yaml"}, exitErrors},
		{"mistyped command", []string{"chekc"}, exitUsage},
		{"no command", nil, exitUsage},
		{"bad format", []string{"check", "--format", "xml", "a.yaml"}, exitUsage},
		{"negative workers", []string{"write", "--workers=-1", "a.yaml"}, exitUsage},
		{"watching standard input", []string{"write", "--watch", "-"}, exitUsage},
		{"watching a pattern of folders", []string{"write", "--watch", "*/a.yaml"}, exitUsage},
		{"watching a folder that is not there", []string{"write", "--watch", "nowhere/a.yaml"}, exitErrors},
		{"unknown code", []string{"codes", "no-such-code"}, exitUsage},
		{"no such line folder", []string{"--line", "nowhere", "check", "a.yaml"}, exitUsage},
	} {
		t.Run(c.name, func(t *testing.T) {
			if code, stdout, stderr := program(t, c.args...); code != c.want {
				t.Errorf("exit %d, want %d\n%s%s", code, c.want, stdout, stderr)
			}
		})
	}
}
