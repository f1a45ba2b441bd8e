package lint

import (
	"cmp"
	"slices"

	"piececost/scenarios/sheetformula"
)

// covered tells for cells of a sheet, given by index in order, which of them lie in at least one of the areas. The areas
// are opened and closed row by row, so that thousands of long ranges cost little.
func (s *sheet) covered(cells []int32, areas []sheetformula.Area) []bool {
	closing := slices.Clone(areas)
	opening := slices.Clone(areas)
	slices.SortFunc(opening, func(a, b sheetformula.Area) int { return cmp.Compare(a.Row1, b.Row1) })
	slices.SortFunc(closing, func(a, b sheetformula.Area) int { return cmp.Compare(a.Row2, b.Row2) })
	var open columnCounts
	out := make([]bool, len(cells))
	for i, k := range cells {
		c := &s.cells[k]
		for len(opening) > 0 && opening[0].Row1 <= c.Row {
			open.add(opening[0], 1)
			opening = opening[1:]
		}
		for len(closing) > 0 && closing[0].Row2 < c.Row {
			open.add(closing[0], -1)
			closing = closing[1:]
		}
		out[i] = open.at(c.Col) > 0
	}
	return out
}

// columnCounts counts how many areas lie over each column: a binary indexed tree of differences.
type columnCounts [sheetformula.LastCol + 2]int32

func (t *columnCounts) add(a sheetformula.Area, n int32) {
	t.step(a.Col1, n)
	t.step(a.Col2+1, -n)
}

func (t *columnCounts) step(col int, n int32) {
	for ; col < len(t); col += col & -col {
		t[col] += n
	}
}

func (t *columnCounts) at(col int) int32 {
	sum := int32(0)
	for ; col > 0; col -= col & -col {
		sum += t[col]
	}
	return sum
}
