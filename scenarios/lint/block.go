package lint

import (
	"cmp"
	"fmt"
	"slices"

	"piececost/costmodel/table"
)

// blockGap is how far apart, in rows, two findings of a column may lie to be told as one: a heading or a subtotal may
// stand between.
const blockGap = 3

// A block is findings of one kind and key that lie side by side.
type block struct {
	first                  found
	row1, col1, row2, col2 int
	cells                  int
}

// blocksOf joins findings of a column to runs, then runs over the same rows side by side to blocks. What stands for
// a whole sheet or workbook is left alone.
func blocksOf(list []found) []block {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b found) int {
		return cmp.Or(sameSort(a, b), cmp.Compare(a.col, b.col), cmp.Compare(a.row, b.row))
	})
	var runs []block
	for _, f := range list {
		if n := len(runs); n > 0 && runs[n-1].goesDown(f) {
			runs[n-1].row2 = f.row
			runs[n-1].cells++
			continue
		}
		runs = append(runs, block{f, f.row, f.col, f.row, f.col, 1})
	}
	slices.SortStableFunc(runs, func(a, b block) int {
		return cmp.Or(sameSort(a.first, b.first), cmp.Compare(a.row1, b.row1), cmp.Compare(a.row2, b.row2), cmp.Compare(a.col1, b.col1))
	})
	var out []block
	for _, r := range runs {
		if n := len(out); n > 0 && out[n-1].goesAcross(r) {
			out[n-1].col2 = r.col2
			out[n-1].cells += r.cells
			continue
		}
		out = append(out, r)
	}
	return out
}

// sameSort orders findings by what they must have in common to be told as one.
func sameSort(a, b found) int {
	return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.sheet, b.sheet), cmp.Compare(a.key, b.key))
}

func (b *block) goesDown(f found) bool {
	return sameSort(b.first, f) == 0 && f.col > 0 && f.col == b.col1 && f.row-b.row2 <= blockGap
}

func (b *block) goesAcross(r block) bool {
	return sameSort(b.first, r.first) == 0 && r.col1 > 0 && r.row1 == b.row1 && r.row2 == b.row2 && r.col1 == b.col2+1
}

// more says how far a block goes beyond its first cell.
func (b *block) more() string {
	to := table.Place{Row: b.row2, Col: b.col2}.Cell()
	switch {
	case b.cells == 1:
		return ""
	case b.col1 == b.col2:
		return fmt.Sprintf(", and %d more down to %s", b.cells-1, to)
	case b.row1 == b.row2:
		return fmt.Sprintf(", and %d more across to %s", b.cells-1, to)
	}
	return fmt.Sprintf(", and %d more in %s:%s", b.cells-1, table.Place{Row: b.row1, Col: b.col1}.Cell(), to)
}
