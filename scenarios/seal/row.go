package seal

import (
	"sort"
	"strconv"
	"strings"
)

// Row is the prints of one row by column, as text: runs of columns next to each other share the number of the first,
// "2:aaaabbbb 7:cccc".
type Row map[int]string

// String writes the prints in the order of columns.
func (r Row) String() string {
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

// ParseRow reads what String writes; ok is false for anything else.
func ParseRow(text string) (r Row, ok bool) {
	r = Row{}
	for _, run := range strings.Fields(text) {
		from, prints, found := strings.Cut(run, ":")
		col, err := strconv.Atoi(from)
		if !found || err != nil || col < 1 || len(prints)%Size != 0 {
			return nil, false
		}
		for ; prints != ""; prints = prints[Size:] {
			r[col] = prints[:Size]
			col++
		}
	}
	return r, true
}
