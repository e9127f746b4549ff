package guide

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// Two builds are told apart by the head of their files; without a mark of the linker in it, by every byte.
func TestDigestOfProgram(t *testing.T) {
	digest := func(data []byte) string {
		name := filepath.Join(t.TempDir(), "program")
		if err := os.WriteFile(name, data, 0o755); err != nil {
			t.Fatal(err)
		}
		d, err := DigestOfProgram(name)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	unmarked := bytes.Repeat([]byte("code "), 20_000)
	if digest(unmarked) == digest(append(bytes.Clone(unmarked[1:]), 'x')) || digest(unmarked[:99]) == digest(unmarked[:98]) {
		t.Error("two files have one digest")
	}
	own, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program, err := os.ReadFile(own)
	if err != nil {
		t.Fatal(err)
	}
	of := digest(program)
	if digest(program[:len(program)-1]) != of {
		t.Error("this program is not told by its head, which takes a hundred times as long")
	}
	mark := bytes.Index(program, builtFrom[0])
	if mark < 0 {
		mark = bytes.Index(program, builtFrom[1])
	}
	if program[mark+20]++; digest(program) == of {
		t.Error("a program built from other files has the same digest")
	}
}
