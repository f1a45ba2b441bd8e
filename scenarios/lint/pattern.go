package lint

// What is needed around an odd cell: as many copies of one formula on one side, and at least so many on the other.
const (
	longSide  = 3
	shortSide = 2
	// typedLine is how many typed numbers side by side, each amid copies, are taken for a line of inputs.
	typedLine = 3
)

// patterns finds lone cells amid copies of one formula, down a column or across a row: another formula, or a typed
// number. Copies are formulas that are the same as seen from their cells.
func (c *checker) patterns() {
	c.looked(func(i int, s *sheet) {
		down, across := s.odd(s.columns, false), s.odd(s.rows, true)
		for k := range s.cells {
			at := int32(k)
			switch {
			case down[at] > 0 && !s.excused(at, down, false):
				c.odd(i, s, at, down[at], "column")
			case across[at] > 0 && !s.excused(at, across, true):
				c.odd(i, s, at, across[at], "row")
			}
		}
	})
}

func (c *checker) odd(sheet int, s *sheet, at, neighbour int32, direction string) {
	cell, copied := &s.cells[at], shown(s.cells[neighbour-1].Formula)
	if cell.typed() {
		c.add("pattern-break", sheet, cell.Row, cell.Col, "number "+direction, "the typed number %s in a %s of formulas such as %s",
			shownNumber(cell.Value), direction, copied)
		return
	}
	c.add("pattern-break", sheet, cell.Row, cell.Col, "formula "+direction, "the formula %s in a %s of formulas such as %s", shown(cell.Formula), direction,
		copied)
}

// odd finds in each line the cells that stand alone amid copies. The result gives for each the index of a neighbour, plus 1.
func (s *sheet) odd(lines []line, across bool) map[int32]int32 {
	out := map[int32]int32{}
	place := func(i int32) int {
		if across {
			return s.cells[i].Col
		}
		return s.cells[i].Row
	}
	for _, l := range lines {
		for from := 0; from < len(l.cells); {
			to := from + 1
			for to < len(l.cells) && place(l.cells[to]) == place(l.cells[to-1])+1 {
				to++
			}
			s.oddIn(l.cells[from:to], out)
			from = to
		}
	}
	return out
}

// oddIn looks at adjacent cells.
func (s *sheet) oddIn(cells []int32, out map[int32]int32) {
	n := len(cells)
	ending, beginning := make([]int, n), make([]int, n) // copies that end and begin in a cell, itself counted
	for i := range cells {
		ending[i], beginning[n-1-i] = 1, 1
		if i > 0 && s.copies(cells[i-1], cells[i]) {
			ending[i] = ending[i-1] + 1
		}
		if i > 0 && s.copies(cells[n-1-i], cells[n-i]) {
			beginning[n-1-i] = beginning[n-i] + 1
		}
	}
	for i := 1; i < n-1; i++ {
		left, right := ending[i-1], beginning[i+1]
		if max(left, right) >= longSide && min(left, right) >= shortSide && s.standsAlone(cells[i-1], cells[i], cells[i+1]) {
			out[cells[i]] = cells[i-1] + 1
		}
	}
}

func (s *sheet) copies(a, b int32) bool {
	return s.cells[a].form > 0 && s.cells[a].form == s.cells[b].form
}

func (s *sheet) standsAlone(left, at, right int32) bool {
	cell := &s.cells[at]
	return s.copies(left, right) && cell.form != s.cells[left].form && (cell.form > 0 || cell.typed())
}

// excused tells whether an odd cell is meant: its formula is copied across the line, it sums a part of the line, or it
// is one of several typed numbers side by side.
func (s *sheet) excused(at int32, odd map[int32]int32, across bool) bool {
	cell := &s.cells[at]
	rowStep, colStep := 0, 1 // at a right angle to the line
	if across {
		rowStep, colStep = 1, 0
	}
	if cell.form > 0 {
		return s.sumsLine(cell, across) || s.sameForm(cell, rowStep, colStep) || s.sameForm(cell, -rowStep, -colStep)
	}
	return 1+s.typedBeside(cell, odd, rowStep, colStep)+s.typedBeside(cell, odd, -rowStep, -colStep) >= typedLine
}

func (s *sheet) sameForm(c *cell, rows, cols int) bool {
	n := s.at(c.Row+rows, c.Col+cols)
	return n != nil && n.form == c.form
}

// typedBeside counts typed numbers in one direction that stand amid copies too.
func (s *sheet) typedBeside(c *cell, odd map[int32]int32, rows, cols int) int {
	for n := 1; ; n++ {
		i := s.index(c.Row+n*rows, c.Col+n*cols)
		if i < 0 || odd[int32(i)] == 0 || !s.cells[i].typed() || n == typedLine {
			return n - 1
		}
	}
}

// sumsLine tells whether a formula sums a range of its own line, as a subtotal does.
func (s *sheet) sumsLine(c *cell, across bool) bool {
	for _, r := range c.facts.sums {
		if r.Sheet != "" || r.Single() {
			continue
		}
		if across && r.Row1 <= c.Row && r.Row2 >= c.Row || !across && r.Col1 <= c.Col && r.Col2 >= c.Col {
			return true
		}
	}
	return false
}
