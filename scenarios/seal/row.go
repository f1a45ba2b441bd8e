package seal

import (
	"sort"
	"strconv"
	"strings"
)

// Fingerprints are those of one row by column, as text: runs of columns next to each other share the number of the first,
// "2:aaaabbbb 7:cccc".
type Fingerprints map[int]string

// String writes the fingerprints in the order of columns.
func (r Fingerprints) String() string {
	cols := make([]int, 0, len(r))
	for c := range r {
		cols = append(cols, c)
	}
	sort.Ints(cols)
	var b strings.Builder
	for i, c := range cols {
		if i == 0 || c != cols[i-1]+1 {
			if i > 0 {
				b.WriteByte(' ')
			}
			b.WriteString(strconv.Itoa(c) + ":")
		}
		b.WriteString(r[c])
	}
	return b.String()
}

// Parse reads what String writes; ok is false for anything else.
func Parse(text string) (r Fingerprints, ok bool) {
	r = Fingerprints{}
	for _, run := range strings.Fields(text) {
		from, fingerprints, found := strings.Cut(run, ":")
		col, err := strconv.Atoi(from)
		if !found || err != nil || col < 1 || len(fingerprints)%Size != 0 {
			return nil, false
		}
		for ; fingerprints != ""; fingerprints = fingerprints[Size:] {
			r[col] = fingerprints[:Size]
			col++
		}
	}
	return r, true
}
