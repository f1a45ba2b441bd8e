package study

import (
	"fmt"
	"math"

	"piececost/costmodel"
)

// A MassVerdict says what a change of design does to cost and mass, in words for its sign cases: a ratio alone is
// misleading where both fall or both rise.
type MassVerdict struct {
	Case        string  // lighter and dearer, lighter and cheaper, heavier and cheaper, heavier and dearer, ...
	CostChange  float64 // new less old, money a piece
	MassSaved   float64 // old less new, kg
	PerKilogram float64 // money by kg where it means something, else NaN
	Words       string
}

// Below these, a change of cost (a thousandth of a coin of a hundredth, in money a piece) and of mass (a gram, in kg) is none: a
// price of a kilogram would be a quotient of roundings.
const (
	leastCost = 1e-5
	leastMass = 1e-3
)

// CompareMass judges a new design against an old one: cost of mass saved = (new - old cost) / (old - new mass).
// Differences below a thousandth of a coin or a gram count as none. Source: common form of lightweight design studies.
func CompareMass(oldCost, oldMass, newCost, newMass float64, currency string) MassVerdict {
	v := MassVerdict{CostChange: newCost - oldCost, MassSaved: oldMass - newMass, PerKilogram: math.NaN()}
	cost, mass := math.Abs(v.CostChange), math.Abs(v.MassSaved)
	per := cost / mass
	digits := int(costmodel.MoneyDigits(currency, max(math.Abs(oldCost), math.Abs(newCost))))
	dearer, lighter := v.CostChange > 0, v.MassSaved > 0
	switch {
	case cost < leastCost && mass < leastMass:
		v.Case, v.Words = "no difference", "no difference in cost or mass"
	case mass < leastMass:
		v.Case, v.Words = "same mass", fmt.Sprintf("same mass, %.*f %s %s", digits, cost, currency, word(dearer, "dearer", "cheaper"))
	case cost < leastCost:
		v.Case, v.Words = "same cost", fmt.Sprintf("same cost, %.3f kg %s", mass, word(lighter, "lighter", "heavier"))
		v.PerKilogram = 0
	case lighter && dearer:
		v.Case, v.PerKilogram = "lighter and dearer", per
		v.Words = fmt.Sprintf("saves %.3f kg for %.*f %s: %.2f %s a kilogram saved", mass, digits, cost, currency, per, currency)
	case lighter:
		v.Case = "lighter and cheaper"
		v.Words = fmt.Sprintf("saves %.3f kg and %.*f %s: lighter and cheaper, no price for the kilogram", mass, digits, cost, currency)
	case !dearer:
		v.Case, v.PerKilogram = "heavier and cheaper", per
		v.Words = fmt.Sprintf("adds %.3f kg and saves %.*f %s: %.2f %s saved a kilogram added", mass, digits, cost, currency, per, currency)
	default:
		v.Case = "heavier and dearer"
		v.Words = fmt.Sprintf("adds %.3f kg and %.*f %s: heavier and dearer", mass, digits, cost, currency)
	}
	return v
}

func word(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// Parity tells whether the new design holds the old one's cost, a saved kilogram being worth value: new cost at most
// old cost + value x mass saved. margin is what is left, negative where parity is missed.
func (v MassVerdict) Parity(value float64) (holds bool, margin float64) {
	margin = value*v.MassSaved - v.CostChange
	return margin >= 0, margin
}
