package study

import (
	"math"

	"piececost/costmodel"
)

// A MassVerdict says what a change of design does to cost and mass, in words for its sign cases: a ratio alone is
// misleading where both fall or both rise. Every number and word comes from the comparison of the library.
type MassVerdict struct {
	Case        string  // lighter and more expensive, lighter and cheaper, heavier and cheaper, heavier and more expensive, same mass and ...
	CostChange  float64 // new less old, money per piece
	MassSaved   float64 // old less new, kg
	PerKilogram float64 // money by kg where it means something, else NaN
	Words       string
	Parity      Parity
}

// Parity tells whether the new design holds the cost of the old one, a saved kilogram being worth something.
type Parity struct {
	Value  float64 // money a kilogram
	Holds  bool
	Margin float64 // money per piece that is left; negative where parity is missed
}

// CompareMass judges a scenario's detail against another's, at what a saved kilogram is worth in the case.
func CompareMass(base, other *costmodel.Detail) MassVerdict {
	old, now := base.Scenario(), other.Scenario()
	schema := base.Plan.Model.Schema
	return JudgeMass(schema.Comparison, schema.Units.ModelCurrency(), map[costmodel.ComparedName]float64{
		costmodel.BaseCost: old.Must("piece_cost"), costmodel.BaseMass: old.Must("net_mass"),
		costmodel.OtherCost: now.Must("piece_cost"), costmodel.OtherMass: now.Must("net_mass"),
		costmodel.MassValue: base.CaseValue("allowable_cost_of_mass_saving"),
	})
}

// JudgeMass judges costs in the currency named and masses in kg.
func JudgeMass(c *costmodel.Comparison, currency string, in map[costmodel.ComparedName]float64) MassVerdict {
	v := c.Of(in)
	digits := costmodel.MoneyDigits(currency, max(math.Abs(in[costmodel.BaseCost]), math.Abs(in[costmodel.OtherCost])))
	out := MassVerdict{Case: v.Verdict(), CostChange: v.Number(costmodel.CostChange), MassSaved: v.Number(costmodel.MassSaved), PerKilogram: math.NaN(),
		Words: v.Words(int(digits), currency), Parity: Parity{in[costmodel.MassValue], v.Holds(costmodel.ParityHolds), v.Number(costmodel.ParityMargin)}}
	if v.Holds(costmodel.MassHasPrice) {
		out.PerKilogram = v.Number(costmodel.CostOfMassSaved)
	}
	return out
}

func word(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}
