package lint

import (
	"cmp"
	"slices"
	"sort"
	"strings"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/sheetformula"
)

// ownNote stands in the second row of every sheet that a run writes; such sheets are made by machine and replaced, and
// are not looked at.
const ownNote = "Written by piececost; replaced at each run."

// A sheet is the filled cells of a sheet, row by row.
type sheet struct {
	name       string
	hidden     bool
	worksheet  bool
	own        bool // written by a run
	input      bool // an input sheet of the program: it reads the cells itself, units in texts too
	cells      []cell
	columns    []line
	rows       []line
	hiddenRows map[int]bool
	closedRows map[int]bool // hidden in a closed group
	hiddenCols []columnRange
	computed   []sheetformula.Area // results of array formulas and data tables
	rules      []*facts            // conditional formats, drop-downs, input cells of data tables
}

// A line is a row or a column: its number and its cells, by index, in order.
type line struct {
	number int
	cells  []int32
}

type columnRange struct {
	first, last int
	closed      bool // hidden in a closed group
}

// A cell is a filled cell with what its formula tells.
type cell struct {
	ooxml.Cell
	facts    *facts // nil where there is no formula
	form     int32  // number of the formula's relative form, 0 without formula
	computed bool   // a result of an array formula or a data table that stands in another cell
}

// typed tells whether a cell is a number that somebody typed.
func (c *cell) typed() bool {
	return c.Type == ooxml.Number && c.HasValue && c.Formula == "" && !c.computed
}

// numeric tells whether a cell is a number, typed or computed.
func (c *cell) numeric() bool { return c.Type == ooxml.Number && (c.HasValue || c.Formula != "") }

// readSheet reads a sheet's cells and what its part says of rows, columns and rules.
func (b *book) readSheet(i int) (*sheet, error) {
	info := &b.pack.Sheets[i]
	s := &sheet{name: info.Name, hidden: info.Hidden, worksheet: info.Kind == "worksheet", hiddenRows: map[int]bool{}, closedRows: map[int]bool{}}
	g, err := b.pack.Read(info)
	if err != nil || !s.worksheet {
		return s, err
	}
	if err := s.scanPart(b.pack, b.pack.PartOf(info)); err != nil {
		return nil, err
	}
	s.take(g.Cells)
	b.readFormulas(s)
	s.own = strings.HasPrefix(s.text(2, 1), ownNote)
	s.input = s.isInput()
	return s, nil
}

// take sorts the cells, keeps the first of two in one place, and finds rows and columns.
func (s *sheet) take(cells []ooxml.Cell) {
	slices.SortStableFunc(cells, func(a, b ooxml.Cell) int {
		return cmp.Or(cmp.Compare(a.Row, b.Row), cmp.Compare(a.Col, b.Col))
	})
	cells = slices.CompactFunc(cells, func(a, b ooxml.Cell) bool { return a.Row == b.Row && a.Col == b.Col })
	s.cells = make([]cell, len(cells))
	byColumn := map[int][]int32{}
	for i, c := range cells {
		s.cells[i].Cell = c
		byColumn[c.Col] = append(byColumn[c.Col], int32(i))
		if n := len(s.rows); n == 0 || s.rows[n-1].number != c.Row {
			s.rows = append(s.rows, line{number: c.Row})
		}
		row := &s.rows[len(s.rows)-1]
		row.cells = append(row.cells, int32(i))
	}
	for n, cells := range byColumn {
		s.columns = append(s.columns, line{n, cells})
	}
	sort.Slice(s.columns, func(i, j int) bool { return s.columns[i].number < s.columns[j].number })
	s.markComputed()
}

// markComputed marks the cells that an array formula or a data table fills from its first cell.
func (s *sheet) markComputed() {
	for _, a := range s.computed {
		from := sort.Search(len(s.rows), func(i int) bool { return s.rows[i].number >= a.Row1 })
		for _, row := range s.rows[from:] {
			if row.number > a.Row2 {
				break
			}
			for _, i := range row.cells {
				c := &s.cells[i]
				c.computed = c.computed || c.Formula == "" && c.Col >= a.Col1 && c.Col <= a.Col2
			}
		}
	}
}

func (b *book) readFormulas(s *sheet) {
	for i := range s.cells {
		c := &s.cells[i]
		if c.Formula == "" {
			continue
		}
		c.facts = factsOf(c.Formula, c.Row, c.Col)
		form, ok := b.forms[c.facts.form]
		if !ok {
			form = int32(len(b.forms) + 1)
			b.forms[c.facts.form] = form
		}
		c.form, c.facts.form = form, ""
	}
}

// index finds a cell, -1 where it is empty.
func (s *sheet) index(row, col int) int {
	i := sort.Search(len(s.cells), func(i int) bool {
		c := &s.cells[i]
		return c.Row > row || c.Row == row && c.Col >= col
	})
	if i < len(s.cells) && s.cells[i].Row == row && s.cells[i].Col == col {
		return i
	}
	return -1
}

// at returns a cell, nil where it is empty.
func (s *sheet) at(row, col int) *cell {
	if i := s.index(row, col); i >= 0 {
		return &s.cells[i]
	}
	return nil
}

func (s *sheet) text(row, col int) string {
	if c := s.at(row, col); c != nil {
		return c.Value
	}
	return ""
}

// isInput tells whether a sheet is an input sheet of the program: its name, and its key headings in one row near the top.
func (s *sheet) isInput() bool {
	l := table.LayoutOf(s.name)
	if l == nil || len(l.Key) == 0 {
		return false
	}
	for _, row := range s.rows[:min(20, len(s.rows))] {
		found := 0
		for _, i := range row.cells[:min(500, len(row.cells))] {
			heading, _, _ := table.SplitHeading(s.cells[i].Value)
			if slices.Contains(l.Key, heading) {
				found++
			}
		}
		if found >= len(l.Key) {
			return true
		}
	}
	return false
}
