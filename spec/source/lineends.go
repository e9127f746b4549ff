package source

import "bytes"

// Text returns a text file as the program reads it: without the mark that some
// editors put first, and with line ends of one kind. Line numbers and columns
// stay those that an editor shows.
func Text(data []byte) []byte {
	return bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), []byte("\r\n"), []byte("\n"))
}
