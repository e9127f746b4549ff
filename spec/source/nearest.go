package source

// nearestSteps limits the letters that one call of Nearest compares, about a
// millisecond. A usual search among a thousand names takes a tenth of it; without a
// limit, thousands of searches in thousands of long names would not end.
const nearestSteps = 300_000

// Nearest returns the name in among that is nearest to name by edit distance (insert,
// delete, replace, swap of neighbors), the first of equals. It returns false if more
// than a third of the letters would have to change, or if the list is too long to
// search.
func Nearest(name string, among []string) (string, bool) {
	letters, steps := []rune(name), nearestSteps
	best, found := max(1, len(letters)/3)+1, ""
	for _, candidate := range among {
		steps -= 1 + len(candidate)
		if d := editDistance(letters, []rune(candidate), best, &steps); d < best {
			best, found = d, candidate
		}
		if steps < 0 {
			return "", false
		}
	}
	return found, found != ""
}

// editDistance returns the optimal string alignment distance, or limit if it is at
// least that. It subtracts its work from steps.
func editDistance(a, b []rune, limit int, steps *int) int {
	if len(a)-len(b) >= limit || len(b)-len(a) >= limit {
		return limit
	}
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := 1; i <= len(a); i++ {
		before, last, row = last, row, before
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if *steps -= len(b); *steps < 0 || least > limit {
			return limit // no later row can get below both this one and the previous one
		}
	}
	return min(limit, row[len(b)])
}
