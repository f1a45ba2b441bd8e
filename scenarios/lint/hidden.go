package lint

import (
	"fmt"

	"piececost/costmodel/table"
)

// hidden finds hidden sheets, rows and columns that hold something.
func (c *checker) hidden() {
	c.looked(func(i int, s *sheet) {
		if s.hidden {
			if n := len(s.cells); n > 0 || !s.worksheet {
				c.add("hidden-sheet", i, 0, 0, "", "the sheet is hidden and holds %s", filled(n))
			}
			return
		}
		c.hiddenRows(i, s)
		c.hiddenColumns(i, s)
	})
}

func filled(n int) string {
	if n == 1 {
		return "1 filled cell"
	}
	return fmt.Sprintf("%d filled cells", n)
}

// hiddenRows tells hidden rows that follow each other as one.
func (c *checker) hiddenRows(i int, s *sheet) {
	for from := 0; from < len(s.rows); from++ {
		first := s.rows[from]
		if !s.hiddenRows[first.number] {
			continue
		}
		last, cells := first.number, len(first.cells)
		for from+1 < len(s.rows) && s.hiddenBetween(last, s.rows[from+1].number) {
			from++
			last = s.rows[from].number
			cells += len(s.rows[from].cells)
		}
		what := fmt.Sprintf("the row %d is hidden", first.number)
		if last > first.number {
			what = fmt.Sprintf("the rows %d to %d are hidden", first.number, last)
		}
		if s.closedRows[first.number] {
			what += " in a closed group"
		}
		c.add("hidden-rows", i, first.number, s.cells[first.cells[0]].Col, what, "%s and hold%s %s", what, third(last == first.number), filled(cells))
	}
}

// hiddenBetween tells whether all rows behind one up to another are hidden.
func (s *sheet) hiddenBetween(row, to int) bool {
	for row++; row <= to; row++ {
		if !s.hiddenRows[row] {
			return false
		}
	}
	return true
}

func (c *checker) hiddenColumns(i int, s *sheet) {
	for _, h := range s.hiddenCols {
		var used []line
		cells := 0
		for _, l := range s.columns {
			if l.number >= h.first && l.number <= h.last {
				used = append(used, l)
				cells += len(l.cells)
			}
		}
		if len(used) == 0 {
			continue
		}
		first, last := used[0].number, used[len(used)-1].number
		what := fmt.Sprintf("the column %s is hidden", table.ColumnName(first))
		if last > first {
			what = fmt.Sprintf("the columns %s to %s are hidden", table.ColumnName(first), table.ColumnName(last))
		}
		if h.closed {
			what += " in a closed group"
		}
		c.add("hidden-columns", i, s.cells[used[0].cells[0]].Row, first, what, "%s and hold%s %s", what, third(last == first), filled(cells))
	}
}

// third is the ending of a verb for one.
func third(one bool) string {
	if one {
		return "s"
	}
	return ""
}
