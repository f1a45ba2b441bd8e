package lint

import (
	"slices"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/scenarios/ooxml"
)

// tableGap is how many rows apart two cells of a column may lie and still belong to one table.
const tableGap = 3

// A measured cell is one that shows a unit, in its text or by its number format.
type measured struct {
	cell   *cell
	unit   units.Unit
	format bool
}

// A column is a piece of a column below one heading.
type column struct {
	heading string
	unit    units.Unit
	hasUnit bool // of the heading
	cells   []measured
}

// mixedUnits finds cells in another unit than their heading or than most of their column. The input sheets of the program
// are left out: there a text such as 0.028 in is converted.
func (c *checker) mixedUnits() {
	c.looked(func(i int, s *sheet) {
		if s.input {
			return
		}
		for _, l := range s.columns {
			for _, col := range c.book.cut(s, l) {
				c.headed(i, col)
				c.prevailing(i, col)
			}
		}
	})
}

// cut parts a column at headings in brackets and at gaps, and keeps the cells that show a unit.
func (b *book) cut(s *sheet, l line) []column {
	var out []column
	last := 0
	for _, k := range l.cells {
		cell := &s.cells[k]
		if len(out) == 0 || cell.Row-last > tableGap {
			out = append(out, column{})
		}
		last = cell.Row
		if cell.Type == ooxml.Text && cell.Formula == "" {
			if _, unit, ok := table.SplitHeading(cell.Value); ok {
				u, known := unitOf(unit)
				out = append(out, column{heading: cell.Value, unit: u, hasUnit: known})
				continue
			}
		}
		if m, ok := b.measure(cell); ok {
			out[len(out)-1].cells = append(out[len(out)-1].cells, m)
		}
	}
	return out
}

func (b *book) measure(c *cell) (measured, bool) {
	switch {
	case c.Type == ooxml.Text && c.Formula == "":
		u, ok := unitOfText(c.Value)
		return measured{c, u, false}, ok
	case c.numeric() && c.Style >= 0 && c.Style < len(b.formats):
		f := b.formats[c.Style]
		return measured{c, f.unit, true}, f.shown
	}
	return measured{}, false
}

// headed compares cells with the unit of their heading. Of a number format only another unit of the same dimension
// counts: an amount shown with € under [EUR/kg] is loose but meant.
func (c *checker) headed(sheet int, col column) {
	if !col.hasUnit {
		return
	}
	for _, m := range col.cells {
		if !sameUnit(m.unit, col.unit) && (!m.format || m.unit.Dim == col.unit.Dim) {
			c.add("mixed-units", sheet, m.cell.Row, m.cell.Col, m.unit.Text, "%s under the heading %q", m.shown(), col.heading)
		}
	}
}

// prevailing compares the cells below a heading without unit with the unit that most of them have, the first of two with
// as many. A column of several quantities, lengths and times, is a list and not compared.
func (c *checker) prevailing(sheet int, col column) {
	if col.hasUnit || len(col.cells) == 0 {
		return
	}
	best, ok := prevailingUnit(col.cells)
	if !ok {
		return
	}
	for _, m := range col.cells {
		if !sameUnit(m.unit, best) {
			c.add("mixed-units", sheet, m.cell.Row, m.cell.Col, m.unit.Text, "%s in a column in %s", m.shown(), best.Text)
		}
	}
}

// prevailingUnit is the most frequent unit; it is not ok where there are several dimensions, or more units than a column of
// one quantity can have.
func prevailingUnit(cells []measured) (units.Unit, bool) {
	const most = 10
	var list []units.Unit
	var count []int
	best := 0
	for _, m := range cells {
		i := slices.IndexFunc(list, func(u units.Unit) bool { return sameUnit(u, m.unit) })
		if i < 0 {
			i = len(list)
			list, count = append(list, m.unit), append(count, 0)
		}
		if m.unit.Dim != list[0].Dim || len(list) > most {
			return units.Unit{}, false
		}
		if count[i]++; count[i] > count[best] {
			best = i
		}
	}
	return list[best], true
}

func (m measured) shown() string {
	if m.format {
		return "a number shown in " + m.unit.Text
	}
	return `"` + m.cell.Value + `"`
}
