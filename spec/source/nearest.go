package source

// Nearest returns the name in among that a person most likely meant by name:
// the one with the smallest edit distance (insert, delete, replace, swap of
// neighbours), the first of equals. It reports false when nothing is close,
// that is when more than a third of the letters would have to change.
func Nearest(name string, among []string) (string, bool) {
	best, found := max(1, len([]rune(name))/3)+1, ""
	for _, candidate := range among {
		if d := editDistance([]rune(name), []rune(candidate)); d < best {
			best, found = d, candidate
		}
	}
	return found, found != ""
}

// editDistance is the optimal string alignment distance.
func editDistance(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
