package reading

import (
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
)

// Bounds on the merged ranges of a sheet that are looked at, and on the cells that they fill.
const (
	mostJoined = 1_000
	mostFilled = 12_000
)

// join notes merged ranges that reach over several rows of the table, and gives each of their cells the value of the first: a
// person means it for all of them, but a file holds it once. The model refuses the ranges where a cost rests on them.
func join(t *table.Table, merged []string, width int) {
	filled := 0
	for _, m := range merged {
		from, to, ok := strings.Cut(m, ":")
		c1, r1, err1 := excelize.CellNameToCoordinates(from)
		c2, r2, err2 := excelize.CellNameToCoordinates(to)
		if !ok || err1 != nil || err2 != nil || r1 >= r2 || c1 > width {
			continue
		}
		rows := t.Rows[sort.Search(len(t.Rows), func(i int) bool { return t.Rows[i].Number >= r1 }):]
		rows = rows[:sort.Search(len(rows), func(i int) bool { return rows[i].Number > r2 })]
		if len(rows) < 2 || rows[0].Number != r1 {
			continue
		}
		if len(t.Joined) == mostJoined || filled > mostFilled {
			return
		}
		t.Joined = append(t.Joined, table.Merge{Place: joinedAt(t, r1, c1), Range: m})
		for _, row := range rows[1:] {
			for c := c1; c <= min(c2, width); c++ {
				at := row.Cells[c-1].Place
				row.Cells[c-1] = rows[0].Cells[c1-1]
				row.Cells[c-1].Place = at
				filled++
			}
		}
	}
}

// joinedAt is the place of the first cell of a merged range, in the table's sheet.
func joinedAt(t *table.Table, row, col int) table.Place {
	at := t.Place
	at.Row, at.Col = row, col
	return at
}
