package results

import (
	"fmt"

	"piececost/costmodel/table"
	"piececost/scenarios/live"
)

// The rows of Summary that its check compares: the elements from the first on, below them the total, the rounding and the
// rounded piece cost.
const summaryFirst = 7

// summaryCheck compares what Summary shows for a scenario, by index, with itself and with the calculation, so that a
// figure typed over in the sheet is seen there and then: elements against total, total against the calculation, and the
// total with its rounding against the piece cost. Words over a figure count as nothing or break the check; both fail it.
func (b *writer) summaryCheck(i int, s *live.Sheet) checkLine {
	col := table.ColumnName(2 + i)
	total := summaryFirst + len(b.elements())
	cell := func(row int) string { return fmt.Sprintf("%s!$%s$%d", b.Quoted(SummarySheet), col, row) }
	elements := fmt.Sprintf("%s:$%s$%d", cell(summaryFirst), col, total-1)
	return checkLine{
		what: "Summary as shown: elements against total, total against calculation",
		formula: fmt.Sprintf("ABS(SUM(%s)-%s)+ABS(%s-%s)+ABS(%s+%s-%s)", elements, cell(total), cell(total), scenarioRef(s, "piece_cost").Formula,
			cell(total), cell(total+1), cell(total+2)),
		value: b.elementGap(s), allowed: 1e-6, kind: "error",
	}
}

// A checkLine is a row of Checks: what is counted, how much is allowed, and what it means where there is more.
type checkLine struct {
	what, scenario, formula string
	value                   float64
	allowed                 float64
	kind                    string // error, warning, run again, not checked, note
}

func (b *writer) elementGap(s *live.Sheet) float64 {
	gap := scenarioRef(s, "piece_cost").Num
	sum := 0.0
	for _, e := range b.elements() {
		sum += scenarioRef(s, e.PieceName()).Num
	}
	if gap -= sum; gap < 0 {
		return -gap
	}
	return gap
}
