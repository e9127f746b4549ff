package deliver

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"io"
	"os"
	"strings"
)

// Seal prepends a line with a digest to a text, by which [Sealed] detects changes; before
// and after make the line a comment in the text's language.
func Seal(text []byte, before, after string) []byte {
	sum := newTextSum()
	_, _ = sum.Write(text) // a hash never returns an error
	return append([]byte(before+sealWords+sum.digest()+after+"\n"), text...)
}

const sealWords = "ownerguide digest "

// SealOf returns the line that [Seal] prepends, for a text too long to keep in memory.
func SealOf(text func(io.Writer) error, before, after string) (string, error) {
	sum := newTextSum()
	err := text(sum)
	return before + sealWords + sum.digest() + after + "\n", err
}

// Sealed reports whether a text is as [Seal] returned it. Line ends are ignored: they
// change when a text moves from one system to another.
func Sealed(r io.Reader) bool {
	in := bufio.NewReader(r)
	first, err := in.ReadSlice('\n')
	if err != nil {
		return false
	}
	_, digest, found := strings.Cut(string(first), sealWords)
	sum := newTextSum()
	_, err = io.Copy(sum, in)
	return err == nil && found && strings.HasPrefix(digest, sum.digest())
}

// Sealing returns a function that writes a text with its seal, which is known only at the end; see [Seal].
func Sealing(text func(io.Writer) error, before, after string) func(*os.File) error {
	return func(file *os.File) error {
		sum := newTextSum()
		if _, err := file.WriteString(before + sealWords + sum.digest() + after + "\n"); err != nil {
			return err
		}
		if err := text(io.MultiWriter(file, sum)); err != nil {
			return err
		}
		_, err := file.WriteAt([]byte(sum.digest()), int64(len(before+sealWords)))
		return err
	}
}

// textSum is a hash of a text that ignores the kind of line ends.
type textSum struct {
	hash.Hash
	open bool // the last byte written may be the first half of a line end
}

func newTextSum() *textSum { return &textSum{Hash: sha256.New()} }

func (s *textSum) Write(data []byte) (int, error) {
	if len(data) == 0 {
		return 0, nil
	}
	n := len(data)
	if s.open && data[0] != '\n' {
		_, _ = s.Hash.Write([]byte{'\r'})
	}
	if s.open = data[n-1] == '\r'; s.open {
		data = data[:n-1]
	}
	if bytes.Contains(data, []byte("\r\n")) { // no copy otherwise
		data = bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
	}
	_, _ = s.Hash.Write(data)
	return n, nil
}

func (s *textSum) digest() string {
	if s.open {
		_, _ = s.Hash.Write([]byte{'\r'})
		s.open = false
	}
	return hex.EncodeToString(s.Sum(nil)[:16])
}
