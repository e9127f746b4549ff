package pdf

// side is one side of a sheet of a booklet: the pages on its left and right half, 0 for a blank.
type side struct {
	left, right int
	signature   int // from 1
	sheet       int // in its signature, from 1
	front       bool
}

// maxSheets is the maximum number of sheets in a signature: more do not lie flat, and the inner pages stick out at the edge.
// Common practice, no source.
const maxSheets = 10

// signatures divides the sheets of a booklet into signatures as evenly as possible, the thicker ones first.
func signatures(pages int) []int {
	sheets := (pages + 3) / 4
	n := (sheets + maxSheets - 1) / maxSheets
	out := make([]int, n)
	for i := range out {
		out[i] = sheets / n
		if i < sheets%n {
			out[i]++
		}
	}
	return out
}

// impose orders the pages 1 to n for printing on both sides of sheets that are turned over their short edge. When the sheets are folded,
// front sides outside, and the signatures stacked, the pages are in order; blanks come last.
func impose(n int) (sides []side) {
	page := func(i int) int {
		if i > n {
			return 0
		}
		return i
	}
	first := 1
	for k, sheets := range signatures(n) {
		last := first + 4*sheets - 1
		for i := range sheets {
			low, high := first+2*i, last-2*i
			sides = append(sides,
				side{page(high), page(low), k + 1, i + 1, true},
				side{page(low + 1), page(high - 1), k + 1, i + 1, false})
		}
		first = last + 1
	}
	return sides
}
