package source

import "bytes"

// Text returns a text file without a byte order mark and with line feeds as line ends.
// Line numbers and columns stay those that an editor shows. The result may be a part of data.
func Text(data []byte) []byte {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if bytes.IndexByte(data, '\r') < 0 {
		return data
	}
	return bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n"))
}
