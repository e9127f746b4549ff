package guide

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"ownerguide/cmd/ownerguide/internal/terminal"
)

// Version returns the module version the program was built from.
func Version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return "ownerguide " + info.Main.Version
	}
	return "ownerguide (unknown version)"
}

// Unreleased reports whether other builds may have the same version.
func Unreleased() bool {
	return strings.Contains(Version(), "(") || strings.HasSuffix(Version(), "+dirty")
}

// ProgramDigestOrEmpty returns the digest of this program; empty if its file cannot be read.
func ProgramDigestOrEmpty() string {
	made, err := ProgramDigest()
	if err != nil {
		return ""
	}
	return made
}

// ProgramDigest returns a digest of the program: during development two programs with
// the same version may differ.
var ProgramDigest = sync.OnceValues(func() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", fmt.Errorf("finding the program's own file: %w", err)
	}
	return DigestOfProgram(name)
})

// The marks before the digest of all that a program was built from, which the Go linker writes into the head of the file: the
// name and type of the note in ELF, and the words at the beginning of the code elsewhere.
var builtFrom = [][]byte{[]byte("\x04\x00\x00\x00Go\x00\x00"), []byte("\xff Go build ID: \"")}

// DigestOfProgram returns a digest of the head of a program's file, or of all of it if that tells no two builds apart.
func DigestOfProgram(name string) (string, error) {
	file, err := os.Open(name)
	if err != nil {
		return "", fmt.Errorf("reading the program's own file: %w", terminal.PlainError(err))
	}
	defer file.Close()
	head := make([]byte, 32<<10)
	n, err := io.ReadFull(file, head)
	sum := sha256.New()
	_, _ = sum.Write(head[:n])
	if !slices.ContainsFunc(builtFrom, func(mark []byte) bool { return bytes.Contains(head[:n], mark) }) && err == nil {
		_, err = io.Copy(sum, file)
	}
	if err != nil && err != io.ErrUnexpectedEOF {
		return "", fmt.Errorf("reading the program's own file: %w", terminal.PlainError(err))
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
