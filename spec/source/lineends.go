package source

import "bytes"

// Text returns a text file without a byte order mark and with line feeds as line ends.
// Line numbers and columns stay those that an editor shows.
func Text(data []byte) []byte {
	return bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), []byte("\r\n"), []byte("\n"))
}
