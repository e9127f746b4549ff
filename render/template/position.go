package template

import (
	"unicode/utf8"

	"ownerguide/spec/source"
)

// lineIndex converts byte offsets to positions.
type lineIndex struct {
	file   string
	src    []byte
	starts []int
}

func newLineIndex(file string, src []byte) *lineIndex {
	ix := &lineIndex{file: file, src: src, starts: []int{0}}
	for i, b := range src {
		if b == '\n' {
			ix.starts = append(ix.starts, i+1)
		}
	}
	return ix
}

func (ix *lineIndex) pos(offset int) source.Pos {
	offset = min(max(offset, 0), len(ix.src))
	low, high := 0, len(ix.starts)
	for high-low > 1 {
		if mid := (low + high) / 2; ix.starts[mid] <= offset {
			low = mid
		} else {
			high = mid
		}
	}
	column := utf8.RuneCount(ix.src[ix.starts[low]:offset]) + 1
	return source.Pos{File: ix.file, Line: low + 1, Column: column}
}
