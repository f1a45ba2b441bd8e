package scenarios

import (
	"math"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/live"
)

// massCells writes what the library's comparison says of a saved mass, over the cells of a sheet: each formula with its value of
// the run. Cells that hold a change of cost, a saved mass and what a kilogram is worth; every threshold and word is the library's.
type massCells struct{ live.ComparisonCells }

func newMassCells(b *writer, cost, mass, worth string) massCells {
	return massCells{live.ComparisonCells{Of: b.model().Schema.Comparison, Cells: map[costmodel.ComparedName]string{
		costmodel.CostChange: cost, costmodel.MassSaved: mass, costmodel.MassValue: worth,
	}}}
}

// noPrice stands where the saved mass has no price.
const noPrice = "–"

// massPriceLabel is the label of the row of prices.
func massPriceLabel(currency string) string {
	return currency + " a kilogram saved, or saved by one added"
}

func (c massCells) verdict(v *study.MassVerdict) (string, any) { return c.Verdict(), v.Case }

func (c massCells) price(v *study.MassVerdict) (string, any) {
	formula := "IF(" + c.Condition(costmodel.MassHasPrice) + "," + c.Number(costmodel.CostOfMassSaved) + `,"` + noPrice + `")`
	if math.IsNaN(v.PerKilogram) {
		return formula, noPrice
	}
	return formula, v.PerKilogram
}

func (c massCells) margin(v *study.MassVerdict) (string, any) {
	return c.Number(costmodel.ParityMargin), v.Parity.Margin
}

func (c massCells) parity(v *study.MassVerdict) (string, any) {
	return "IF(" + c.Condition(costmodel.ParityHolds) + `,"holds","missed")`, map[bool]string{true: "holds", false: "missed"}[v.Parity.Holds]
}

// Verdict judges cost and mass of a scenario against the first one.
func Verdict(ds []*costmodel.Detail, i int) study.MassVerdict { return study.CompareMass(ds[0], ds[i]) }

// elements are the elements of cost of the library.
func (b *writer) elements() []costmodel.Element { return b.model().Schema.Elements }
