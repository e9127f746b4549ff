package typeset

// ColumnWidths returns the widths of a table's columns, in points. If the columns need it, they add up to the available width.
// Longest is each column's longest word, whole its longest cell on one line. Surplus width goes to column roomiest. If not all
// cells fit on one line, width is redistributed as long as that makes the table shorter; lineCount returns the height of the table in lines.
func ColumnWidths(longest, whole []float64, available float64, roomiest int, lineCount func(widths []float64) int) []float64 {
	widths := make([]float64, len(longest))
	low, high := Sum(longest), Sum(whole)
	for i := range widths {
		switch {
		case high <= available:
			widths[i] = whole[i]
			if i == roomiest {
				widths[i] += available - high
			}
		case low <= available:
			widths[i] = longest[i] + (whole[i]-longest[i])*(available-low)/(high-low)
		default:
			widths[i] = longest[i] * available / low
		}
	}
	if high > available && low < available {
		balanceColumns(widths, longest, lineCount)
	}
	return widths
}

// balanceColumns moves width from one column to another as long as that makes the table shorter, in ever smaller steps.
func balanceColumns(widths, longest []float64, lineCount func([]float64) int) {
	for step := 32.0; step >= 4; step /= 2 {
		for range 12 {
			best, from, to := lineCount(widths), -1, -1
			for i := range widths {
				if widths[i]-step < longest[i] {
					continue
				}
				for k := range widths {
					if k == i {
						continue
					}
					widths[i], widths[k] = widths[i]-step, widths[k]+step
					if n := lineCount(widths); n < best {
						best, from, to = n, i, k
					}
					widths[i], widths[k] = widths[i]+step, widths[k]-step
				}
			}
			if from < 0 {
				break
			}
			widths[from], widths[to] = widths[from]-step, widths[to]+step
		}
	}
}

// Sum returns the sum of lengths.
func Sum(xs []float64) float64 {
	total := 0.0
	for _, x := range xs {
		total += x
	}
	return total
}
