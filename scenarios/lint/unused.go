package lint

import (
	"math"
	"strconv"

	"piececost/scenarios/sheetformula"
)

// What makes an unread number doubtful: so many read numbers in its line, and so many read for each unread one.
const (
	minRead     = 3
	readPerUnit = 2
	lineGap     = 2 // a blank or a text may stand between two numbers of a line
)

// unusedInputs finds typed numbers that nothing reads although formulas read most of their line: a column of typed numbers, or
// a row where each number stands alone in its column. A line of which little or nothing is read is a key, a note or a
// plan, and a line of 1, 2, 3 or 2025, 2026, 2027 numbers its cells.
func (c *checker) unusedInputs() {
	byFormula, byAny, ok := c.book.readAreas()
	if !ok {
		return
	}
	c.looked(func(i int, s *sheet) {
		if s.input {
			return // the program itself reads it
		}
		var inputs []int32
		for k := range s.cells {
			if s.cells[k].typed() && !c.book.pack.Style(s.cells[k].Style).Date {
				inputs = append(inputs, int32(k))
			}
		}
		read := map[int32]reading{}
		formula, any := s.covered(inputs, byFormula[i]), s.covered(inputs, byAny[i])
		for n, k := range inputs {
			read[k] = reading{formula[n], any[n]}
		}
		for _, line := range s.inputLines(read) {
			for _, k := range s.unread(line, read) {
				cell := &s.cells[k]
				c.add("unused-input", i, cell.Row, cell.Col, "", "no formula reads the typed number %s, though they read its neighbours",
					shownNumber(cell.Value))
			}
		}
	})
}

// reading is whether formulas of the user's sheets read a cell, and whether anything does.
type reading struct{ formula, any bool }

// readAreas collects by sheet what the formulas of the user's sheets read, and what anything reads: also charts, rules,
// pivot tables and the result sheets. It is not ok where that can't be told.
func (b *book) readAreas() (byFormula, byAny [][]sheetformula.Area, ok bool) {
	byFormula, byAny = make([][]sheetformula.Area, len(b.sheets)), make([][]sheetformula.Area, len(b.sheets))
	blind := b.blind
	for i, s := range b.sheets {
		for k := range s.cells {
			f := s.cells[k].facts
			if f == nil {
				continue
			}
			b.through(i, f, func(f *facts) { blind = blind || f.blind })
			for _, r := range b.reads(i, f) {
				byAny[r.sheet] = append(byAny[r.sheet], r.Area)
				if !s.own {
					byFormula[r.sheet] = append(byFormula[r.sheet], r.Area)
				}
			}
		}
		for _, f := range s.rules {
			b.through(i, f, func(f *facts) { blind = blind || f.blind })
		}
	}
	for _, r := range b.other {
		byAny[r.sheet] = append(byAny[r.sheet], r.Area)
	}
	return byFormula, byAny, !blind
}

// inputLines finds lines of typed numbers: first down the columns; then across the rows, of those that stand alone in
// their column.
func (s *sheet) inputLines(read map[int32]reading) [][]int32 {
	var out [][]int32
	alone := map[int32]bool{}
	for _, l := range s.columns {
		for _, run := range s.runsOf(l.cells, read, false) {
			if len(run) == 1 {
				alone[run[0]] = true
			}
			out = append(out, run)
		}
	}
	for _, l := range s.rows {
		for _, run := range s.runsOf(l.cells, read, true) {
			single := run[:0]
			for _, k := range run {
				if alone[k] {
					single = append(single, k)
				}
			}
			out = append(out, single)
		}
	}
	return out
}

// runsOf cuts a row or column into runs of typed numbers. A formula between two ends a run, a gap too.
func (s *sheet) runsOf(cells []int32, typed map[int32]reading, across bool) [][]int32 {
	var out [][]int32
	last := math.MinInt32
	for _, k := range cells {
		c := &s.cells[k]
		place := c.Row
		if across {
			place = c.Col
		}
		if _, ok := typed[k]; !ok {
			if c.Formula != "" {
				last = math.MinInt32
			}
			continue
		}
		if place-last > lineGap {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], k)
		last = place
	}
	return out
}

// unread returns the cells of a line that nothing reads, where formulas read enough of the line.
func (s *sheet) unread(line []int32, read map[int32]reading) []int32 {
	var out []int32
	n := 0
	for i, k := range line {
		switch {
		case read[k].formula:
			n++
		case !read[k].any && !(i == 0 && s.heads(k, read)):
			out = append(out, k)
		}
	}
	if n < minRead || n < readPerUnit*len(out) || s.counts(line) {
		return nil
	}
	return out
}

// heads tells whether the first number of a line is its heading: per year, or one of several numbers beside each other that
// nothing reads.
func (s *sheet) heads(k int32, read map[int32]reading) bool {
	c := &s.cells[k]
	if v, err := strconv.Atoi(c.Value); err == nil && v >= 1900 && v <= 2100 {
		return true
	}
	for _, col := range []int{c.Col - 1, c.Col + 1} {
		i := s.index(c.Row, col)
		if r, typed := read[int32(i)]; typed && !r.any {
			return true
		}
	}
	return false
}

// counts tells whether a line is whole numbers in equal steps.
func (s *sheet) counts(line []int32) bool {
	value := func(i int) float64 {
		v, err := strconv.ParseFloat(s.cells[line[i]].Value, 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	step := value(1) - value(0)
	for i := range line {
		if v := value(i); v != math.Trunc(v) || i > 0 && v-value(i-1) != step {
			return false
		}
	}
	return step != 0
}
