package finish

import "errors"

// Finish turns the bytes of an uncompressed gopdf document and the marks made while painting it into the PDF that is delivered.
// It is an error when the bytes are not in the dialect described in the package comment, when marks are missing or out of order,
// when content lies outside every mark, or when the structure tree is not well formed.
func Finish(raw []byte, marks *Marks, doc Document) ([]byte, error) {
	return nil, errors.New("finish: not written yet")
}
