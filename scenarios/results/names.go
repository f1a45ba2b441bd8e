package results

import (
	"piececost/costmodel"
	"piececost/scenarios/sheet"
)

// The sheets that a run writes; in which order, and which of them, says results.go.
const (
	StatementSheet    = "Statement"
	SummarySheet      = "Summary"
	BreakdownSheet    = "Cost breakdown"
	BillSheet         = "Costed bill of materials"
	PartSheet         = "Part cost sheets"
	RatesSheet        = "Hourly rates"
	InvestmentSheet   = "Investment"
	CurveSheet        = "Cost over volume"
	CompareSheet      = "Scenario comparison"
	CrossoverSheet    = "Cross-over"
	stabilitySheet    = "Cross-over stability"
	MapSheet          = "Least-cost map"
	combinationSheet  = "Least-cost combination"
	SolveSheet        = "Break-even values"
	SensitivitySheet  = "Sensitivity"
	VolumeSheet       = "Capacity and investment"
	TrialSheet        = "Trial matrix"
	ToolFitSheet      = "Tool fits"
	EqualTermsSheet   = "Quotes on equal terms"
	ShouldCostSheet   = "Quotes against should-cost"
	FindingsSheet     = "Quote findings"
	ExplanationsSheet = "Quote explanations"
	InputsSheet       = "Input record"
	MethodSheet       = "Method"
)

// quoteCalculation is the calculation sheet of the quotes.
const quoteCalculation = "Calculation Quotes"

// calculationName names the calculation sheet of a scenario.
func calculationName(s *costmodel.Scenario, taken map[string]bool) string {
	return sheet.NameOf("Calculation "+s.Name, taken)
}
