package results

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/live"
)

const (
	mostInFormula = 8192 // characters of a formula that spreadsheet programs take (common practice, no source)

	// Below these no formula comes near that: an expression grows about fourfold as addresses take the place of names, and
	// each point of a curve takes some 130 characters.
	shortExpression = 400
	shortCurve      = 20
)

// LongFormulas finds the quantities whose live formula would be longer than spreadsheet programs take: expressions with
// many sums, curves of many points. A workbook with one could not be opened, so each is an error at its row.
func LongFormulas(plans []*costmodel.Plan) table.Diagnostics {
	var out table.Diagnostics
	for _, p := range plans {
		if !mayBeLong(p.Model.Case) {
			return nil
		}
		s := live.Build("Calculation", p.Detail(p.Scenario.Volume), live.NewInputs())
		for _, b := range s.Blocks {
			for _, c := range b.Columns {
				out = append(out, longCells(s, b, c)...)
			}
		}
	}
	return out.Sorted()
}

// mayBeLong tells whether a case has a text or a curve from which a long formula may come.
func mayBeLong(c *table.Case) bool {
	for _, t := range c.Tables {
		if t.Sheet == "Tables" && len(t.Rows) > shortCurve {
			return true
		}
		for _, row := range t.Rows {
			for i := range row.Cells {
				if len(row.Cells[i].Text) > shortExpression {
					return true
				}
			}
		}
	}
	return false
}

// longCells finds the cells of a column with too long a formula.
func longCells(s *live.Sheet, b *live.Block, c *live.Column) (out table.Diagnostics) {
	for row, e := range b.Rows {
		n := table.Characters(b.Cell(c, row).Formula)
		if n <= mostInFormula {
			continue
		}
		r := s.Plan.RowRecord(e)
		out = append(out, table.Diagnostic{
			Code: "formula", Severity: table.Error, Place: r.Place,
			Summary: fmt.Sprintf("the formula for %s of %s would have %d characters in the workbook, more than the %d that spreadsheet programs take",
				c.Heading, r.Key, n, mostInFormula),
			Help: "use a curve of fewer points, or split the expression",
		})
	}
	return out
}
