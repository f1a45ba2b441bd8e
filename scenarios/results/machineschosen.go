package results

import (
	"fmt"
	"strconv"

	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

// choiceChecks tell that machines which were chosen at the run may no longer be those that cost least. None where no machine was chosen.
func (b *writer) choiceChecks(s *live.Sheet) []checkLine {
	if len(s.Plan.Choices()) == 0 {
		return nil
	}
	volume := scenarioRef(s, "annual_volume")
	inputs := func(col string) string {
		return fmt.Sprintf("%s!$%s$%d:$%s$%d", b.Quoted(InputsSheet), col, b.firstInput, col, b.lastInput)
	}
	return []checkLine{
		{what: "Annual volume at which machines were chosen has changed", kind: "run again",
			formula: fmt.Sprintf("IF(%s=%s,0,1)", volume.Formula, strconv.FormatFloat(volume.Num, 'g', -1, 64))},
		{what: "Inputs changed since machines were chosen; others may cost less now", kind: "warning",
			formula: fmt.Sprintf("SUMIFS(%s,%s,1)", inputs("G"), inputs("H"))},
	}
}

// machinesChosen lists the machines that were chosen at the run, below a row, and returns the last.
func (b *writer) machinesChosen(p *sheet.Page, row int) int {
	headed := false
	for _, s := range b.sheets {
		for _, c := range s.Plan.Choices() {
			if !headed {
				row += 2
				p.Heading(row, 2, "Machines chosen, at the run", "Scenario", "Cost a year ["+b.currency()+"]", "Next one")
				headed = true
			}
			row++
			text := c.Operation.Key + ": " + c.Says(b.currency())
			p.Set(row, 1, text, sheet.Look{Kind: "label", Wrap: true})
			p.Grow(row, text, checkLetters)
			p.Set(row, 2, s.Plan.Scenario.Name, sheet.Look{Kind: "label"})
			p.Set(row, 3, c.Cost, sheet.Look{Kind: "found", Format: sheet.WholeFormat})
			if c.RunnerUp != nil {
				p.Set(row, 4, c.NextCost, sheet.Look{Kind: "found", Format: sheet.WholeFormat})
			}
		}
	}
	return row
}
