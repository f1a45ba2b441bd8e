package lint

import "piececost/scenarios/ooxml"

// errors finds broken references and error values. An error that only passes on what a cell it reads shows is not told
// again; nor is #N/A where a formula calls NA().
func (c *checker) errors() {
	origins := c.book.errorOrigins()
	c.looked(func(i int, s *sheet) {
		for k := range s.cells {
			cell := &s.cells[k]
			if cell.facts != nil && c.brokenReference(i, cell) {
				continue
			}
			meant := cell.facts != nil && cell.facts.absent && cell.Value == "#N/A"
			if origins[cell] && !meant {
				c.add("error-value", i, cell.Row, cell.Col, cell.Value, "the cell shows %s", cell.Value)
			}
		}
	})
}

// brokenReference finds #REF! in a formula or behind a name it uses.
func (c *checker) brokenReference(sheet int, cell *cell) bool {
	if cell.facts.broken {
		c.add("broken-reference", sheet, cell.Row, cell.Col, "", "#REF! in the formula %s", shown(cell.Formula))
		return true
	}
	for _, n := range cell.facts.names {
		broken := false
		if d := c.book.named(sheet, n); d != nil {
			c.book.through(sheet, d, func(f *facts) { broken = broken || f.broken })
		}
		if broken {
			c.add("broken-reference", sheet, cell.Row, cell.Col, n.Text, "the name %s in the formula %s leads to #REF!", n.Text, shown(cell.Formula))
			return true
		}
	}
	return false
}

// An errorCell is a cell that shows an error, and the place in the list of one that it reads and that shows the same.
type errorCell struct {
	sheet  int
	cell   *cell
	source int // -1 where it reads none
}

// errorOrigins are the cells in which errors begin. In a circle that is one of its cells. Where a workbook has more
// errors than can be followed, all count.
func (b *book) errorOrigins() map[*cell]bool {
	const most = 2000
	list := b.errorCells()
	budget := 20_000_000 // comparisons: a wide formula reads thousands of cells
	out := map[*cell]bool{}
	for i := range list {
		e := &list[i]
		if e.cell.facts != nil && len(list) <= most {
			e.source = b.sourceOf(e, list, &budget)
		}
		if e.source < 0 {
			out[e.cell] = true
		}
	}
	visited := make([]int, len(list))
	for i := range list {
		at := i
		for ; at >= 0 && visited[at] == 0; at = list[at].source {
			visited[at] = i + 1
		}
		if at >= 0 && visited[at] == i+1 {
			out[list[at].cell] = true // the walk came back to itself
		}
	}
	return out
}

func (b *book) errorCells() []errorCell {
	var list []errorCell
	for i, s := range b.sheets {
		for k := range s.cells {
			if s.cells[k].Type == ooxml.Error {
				list = append(list, errorCell{i, &s.cells[k], -1})
			}
		}
	}
	return list
}

func (b *book) sourceOf(e *errorCell, list []errorCell, budget *int) int {
	for _, a := range b.reads(e.sheet, e.cell.facts) {
		for k, other := range list {
			if *budget--; *budget < 0 {
				return -1
			}
			if other.sheet == a.sheet && other.cell != e.cell && other.cell.Value == e.cell.Value && a.Contains(other.cell.Row, other.cell.Col) {
				return k
			}
		}
	}
	return -1
}
