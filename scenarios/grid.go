package scenarios

import (
	"piececost/costmodel"
)

// A valueGrid is a table over two inputs: columns by the first, rows by the second with the highest value on top, as a
// chart has it.
type valueGrid struct {
	x, y   *costmodel.Varied
	xs, ys []float64 // coherent
}

// put writes the grid from a row on, cell by cell, and returns the row below. cell gets a row of the sheet and a column, and
// the indexes of y and x.
func (g *valueGrid) put(b *writer, p *page, row int, cell func(r, c, j, i int)) int {
	label := func(r, c int, v *costmodel.Varied, value float64) {
		shown := v.Shown(value)
		k := look{kind: "total", format: valueFormat(shown), right: true}
		p.set(r, c, shown, k)
	}
	p.set(row, 1, "up: "+b.inputWords(g.y), look{kind: "label", wrap: true})
	p.heights[row] = 13.5 * float64(max(1, len(brokenLines("up: "+b.inputWords(g.y), 20))))
	p.set(row, 2, "across: "+b.inputWords(g.x), look{kind: "faint"})
	row++
	for j := len(g.ys) - 1; j >= 0; j-- {
		label(row, 1, g.y, g.ys[j])
		for i := range g.xs {
			cell(row, 2+i, j, i)
		}
		row++
	}
	p.set(row, 1, nil, look{kind: "total"})
	for i := range g.xs {
		label(row, 2+i, g.x, g.xs[i])
	}
	return row + 1
}

// inputWords writes an input with the unit of its cells.
func (b *writer) inputWords(v *costmodel.Varied) string {
	if u := b.unitWords(v); u != "" {
		return v.Input.String() + " [" + u + "]"
	}
	return v.Input.String()
}

// unitWords is the unit of an input's cells, empty for a plain number.
func (b *writer) unitWords(v *costmodel.Varied) string { return b.model().UnitWords(v) }
