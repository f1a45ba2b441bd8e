package results

import (
	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

// The sheets that a run writes; in which order, and which of them, says results.go.
const (
	StatementSheet   = "Statement"
	SummarySheet     = "Summary"
	BreakdownSheet   = "Breakdown"
	BillSheet        = "Bill and cumulated cost"
	PartSheet        = "Part pages"
	RatesSheet       = "Rates"
	InvestmentSheet  = "Investment"
	CurveSheet       = "Volume curve"
	CompareSheet     = "Side by side"
	CrossoverSheet   = "Cross-over"
	stabilitySheet   = "Cross-over stability"
	MapSheet         = "Cheapest map"
	combinationSheet = "Cheapest combination"
	SolveSheet       = "What must be true"
	SensitivitySheet = "Sensitivity"
	VolumeSheet      = "Volumes and capacity"
	InputsSheet      = "Inputs as run"
	MethodSheet      = "Method"
)

// calculationName names the calculation sheet of a scenario.
func calculationName(s *costmodel.Scenario, taken map[string]bool) string {
	return sheet.NameOf("Calculation "+s.Name, taken)
}
