package results

import (
	"math"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/live"
)

// MassCells writes what the library's comparison says of a saved mass, over the cells of a sheet: each formula with its value of
// the run. Cells that hold a change of cost, a saved mass and what a kilogram is worth; every threshold and word is the library's.
type MassCells struct{ live.ComparisonCells }

// NewMassCells writes over the cells of a change of cost, a saved mass and what a kilogram is worth.
func NewMassCells(of *costmodel.Comparison, cost, mass, worth string) MassCells {
	return MassCells{live.ComparisonCells{Of: of, Cells: map[costmodel.ComparedName]string{
		costmodel.CostChange: cost, costmodel.MassSaved: mass, costmodel.MassValue: worth,
	}}}
}

// noPrice stands where the saved mass has no price.
const noPrice = "–"

// massPriceLabel is the label of the row of prices.
func massPriceLabel(currency string) string {
	return "Cost of mass saved [" + currency + "/kg]"
}

// VerdictCell is the formula of the verdict in words, with its value of the run.
func (c MassCells) VerdictCell(v *study.MassVerdict) (string, any) { return c.Verdict(), v.Case }

// PriceCell is the formula of the cost of mass saved, model currency per kg, with its value of the run; a dash where mass has no price.
func (c MassCells) PriceCell(v *study.MassVerdict) (string, any) {
	formula := "IF(" + c.Condition(costmodel.MassHasPrice) + "," + c.Number(costmodel.CostOfMassSaved) + `,"` + noPrice + `")`
	if math.IsNaN(v.PerKilogram) {
		return formula, noPrice
	}
	return formula, v.PerKilogram
}

// MarginCell is the formula of what is left of the worth of the saved mass, model currency per good piece, with its value of the run.
func (c MassCells) MarginCell(v *study.MassVerdict) (string, any) {
	return c.Number(costmodel.ParityMargin), v.Parity.Margin
}

// ParityCell is the formula of whether parity holds, with its word of the run.
func (c MassCells) ParityCell(v *study.MassVerdict) (string, any) {
	return "IF(" + c.Condition(costmodel.ParityHolds) + `,"holds","missed")`, map[bool]string{true: "holds", false: "missed"}[v.Parity.Holds]
}

// Verdict judges cost and mass of a scenario against the first one.
func Verdict(ds []*costmodel.Detail, i int) study.MassVerdict { return study.CompareMass(ds[0], ds[i]) }

// elements are the elements of cost of the library.
func (b *writer) elements() []costmodel.Element { return b.model().Schema.Elements }
