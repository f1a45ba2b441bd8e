package results

import (
	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

// A valueGrid is a table over two inputs: columns by the first, rows by the second with the highest value on top, as a
// chart has it.
type valueGrid struct {
	x, y   *costmodel.Varied
	xs, ys []float64 // coherent
}

// put writes the grid from a row on, cell by cell, and returns the row below. cell gets a row of the sheet and a column, and
// the indexes of y and x.
func (g *valueGrid) put(b *writer, p *sheet.Page, row int, cell func(r, c, j, i int)) int {
	label := func(r, c int, v *costmodel.Varied, value float64) {
		shown := v.Shown(value)
		k := sheet.Look{Kind: "total", Format: sheet.ValueFormat(shown), Right: true}
		p.Set(r, c, shown, k)
	}
	p.Set(row, 1, "up: "+b.inputWords(g.y), sheet.Look{Kind: "label", Wrap: true})
	p.Heights[row] = 13.5 * float64(max(1, len(sheet.BrokenLines("up: "+b.inputWords(g.y), 20))))
	p.Set(row, 2, "across: "+b.inputWords(g.x), sheet.Look{Kind: "faint"})
	row++
	for j := len(g.ys) - 1; j >= 0; j-- {
		label(row, 1, g.y, g.ys[j])
		for i := range g.xs {
			cell(row, 2+i, j, i)
		}
		row++
	}
	p.Set(row, 1, nil, sheet.Look{Kind: "total"})
	for i := range g.xs {
		label(row, 2+i, g.x, g.xs[i])
	}
	return row + 1
}
