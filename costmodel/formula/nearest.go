package formula

import "strings"

// lettersOfOneSlip is how many letters of a name there must be for each that differs: with fewer, short names would be
// taken for each other ("crop" for "crew"); with more, two slips in a word of seven would find nothing.
const lettersOfOneSlip = 3

// Nearest returns the candidate closest to a misspelt name: at most a third of its letters (and at least one) may differ,
// a swap of two neighbours counting as one. Of names of as many words each word must be near by itself (two letters, or a third): a word they
// share does not make laser cutting of laser welding. Empty where none is close. The first of equals wins.
func Nearest(name string, candidates []string) string {
	best, limit := "", max(1, len(name)/lettersOfOneSlip)
	for _, c := range candidates {
		if d := editDistance(name, c, limit); d <= limit && c != name && wordsNear(name, c) {
			if best == "" || d < limit {
				best, limit = c, d
			}
		}
	}
	return best
}

// wordsNear tells whether two names may be the same word by word; names of other numbers of words are taken as a whole.
func wordsNear(name, candidate string) bool {
	apart := func(r rune) bool { return r == ' ' || r == '_' }
	a, b := strings.FieldsFunc(name, apart), strings.FieldsFunc(candidate, apart)
	if len(a) != len(b) {
		return true
	}
	for i := range a {
		if limit := max(2, len(a[i])/lettersOfOneSlip); editDistance(strings.ToLower(a[i]), strings.ToLower(b[i]), limit) > limit {
			return false
		}
	}
	return true
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
