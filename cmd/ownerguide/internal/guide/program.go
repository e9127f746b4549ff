package guide

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"runtime/debug"
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

// ProgramDigest returns a digest of the program's bytes: during development two programs with
// the same version may differ.
var ProgramDigest = sync.OnceValues(func() (string, error) {
	name, err := os.Executable()
	if err != nil {
		return "", fmt.Errorf("finding the program's own file: %w", err)
	}
	file, err := os.Open(name)
	if err != nil {
		return "", fmt.Errorf("reading the program's own file: %w", terminal.PlainError(err))
	}
	defer file.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, file); err != nil {
		return "", fmt.Errorf("reading the program's own file: %w", terminal.PlainError(err))
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
})
