package formula

// lettersOfOneSlip is how many letters of a name there must be for each that differs: with fewer, short names would be
// taken for each other ("crop" for "crew"); with more, two slips in a word of seven would find nothing.
const lettersOfOneSlip = 3

// Nearest returns the candidate closest to a misspelt name: at most a third of its letters (and at least one) may differ,
// a swap of two neighbours counting as one. Empty where none is close. The first of equals wins.
func Nearest(name string, candidates []string) string {
	best, limit := "", max(1, len(name)/lettersOfOneSlip)
	for _, c := range candidates {
		if d := editDistance(name, c, limit); d <= limit && c != name {
			if best == "" || d < limit {
				best, limit = c, d
			}
		}
	}
	return best
}

// editDistance counts insertions, deletions, changes and swaps of neighbours (optimal string alignment); anything beyond
// limit may come back as limit+1.
func editDistance(a, b string, limit int) int {
	x, y := []rune(a), []rune(b)
	if len(x)-len(y) > limit || len(y)-len(x) > limit {
		return limit + 1
	}
	before, last, row := make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}
