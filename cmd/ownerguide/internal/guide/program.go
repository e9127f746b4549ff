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

// Version is the module version the program was built from.
func Version() string {
	if info, ok := debug.ReadBuildInfo(); ok && info.Main.Version != "" {
		return "ownerguide " + info.Main.Version
	}
	return "ownerguide (unknown version)"
}

// Unreleased reports whether other programs may bear the version of this one.
func Unreleased() bool {
	return strings.Contains(Version(), "(") || strings.HasSuffix(Version(), "+dirty")
}

// MadeHere is the mark of this program; empty when it cannot read itself.
func MadeHere() string {
	made, err := MadeWith()
	if err != nil {
		return ""
	}
	return made
}

// MadeWith names the program itself, byte for byte: two programs of one
// version may still differ while somebody works on them.
var MadeWith = sync.OnceValues(func() (string, error) {
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
