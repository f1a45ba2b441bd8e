package results

import (
	"strings"

	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

const cautionText = "Forces, pressures and cycle times are for estimating cost only; they defer to the machine maker, local safety codes and licensed " +
	"engineers. Results rest on the sources of the inputs."

// method lists every equation used, with symbol, unit, note and source, from the definitions that were computed.
func (b *writer) method() error {
	p, err := b.Page(MethodSheet, "Method: the equations used")
	if err != nil {
		return err
	}
	p.Set(4, 1, cautionText, sheet.Look{Kind: "faint"})
	p.Set(5, 1, "Legend: blue on a pale ground, an input; green, a link; black, a formula. Costs are positive, credits negative. Bare names are of "+
		"the same row; part., machine., plant., ... lead to another row; sum(...) adds over rows. ceil takes off 0.000000001 first.", sheet.Look{Kind: "faint"})
	p.Heading(7, 7, "For", "Quantity", "Symbol", "Unit", "Equation", "Meaning", "Source")
	row := 7
	seen := map[*costmodel.Definition]bool{}
	for _, s := range b.sheets {
		for _, block := range s.Blocks {
			for _, d := range s.Used(block) {
				if seen[d] {
					continue
				}
				seen[d] = true
				row++
				b.methodRow(p, row, blockName(block), d)
			}
		}
	}
	if b.quotes != nil {
		row = b.quoteMethods(p, row)
	}
	if len(b.sheets) > 1 {
		for _, d := range b.model().Schema.Comparison.Definitions() {
			row++
			b.methodRow(p, row, "Two scenarios", d)
		}
	}
	b.benchmarkMethods(p, row)
	for i, w := range []float64{22, 26, 9, 15, 78, 50, 40} {
		p.Widths[i+1] = w
	}
	p.Landscape, p.Titles, p.Freeze = true, 7, "C8"
	return p.Flush()
}

func (b *writer) methodRow(p *sheet.Page, row int, of string, d *costmodel.Definition) {
	words := sheet.Look{Kind: "label", Wrap: true}
	p.Set(row, 1, of, words)
	name := d.Item.Name
	if strings.HasPrefix(name, "check ") {
		name = "check: " + d.Item.Label
	}
	p.Set(row, 2, name, words)
	p.Set(row, 3, d.Item.Symbol, words)
	p.Set(row, 4, b.model().ShownUnit(d.Unit), words)
	p.Set(row, 5, strings.ReplaceAll(d.Item.Default(), "currency", b.currency()), words)
	p.Set(row, 6, d.Item.Note, words)
	p.Set(row, 7, d.Item.Source, words)
	lines := max(len(d.Item.Default())/72, len(d.Item.Note)/44, len(name)/24, len(d.Item.Source)/36) + 1
	p.Heights[row] = 13.5 * float64(lines)
}

// benchmarkMethods lists the equations of benchmarks, once for each kind of size.
func (b *writer) benchmarkMethods(p *sheet.Page, row int) {
	if b.result.Compare == nil {
		return
	}
	seen := map[string]bool{}
	for _, v := range b.result.Compare.Benchmarks {
		if seen[v.Size.Text] {
			continue
		}
		seen[v.Size.Text] = true
		for _, d := range v.Figures.Equations.Definitions() {
			row++
			b.methodRow(p, row, "Benchmarks", d)
		}
	}
}
