package study_test

import (
	"math"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// judged compares an old design with a new one by the equations of the library.
func judged(t *testing.T, oldCost, oldMass, newCost, newMass, value float64) study.MassVerdict {
	t.Helper()
	return study.JudgeMass(comparison(t), "EUR", map[costmodel.ComparedName]float64{costmodel.BaseCost: oldCost, costmodel.BaseMass: oldMass,
		costmodel.OtherCost: newCost, costmodel.OtherMass: newMass, costmodel.MassValue: value})
}

func comparison(t *testing.T) *costmodel.Comparison {
	t.Helper()
	return read(t, sampleTables(t))[0].Model.Schema.Comparison
}

// TestCompareMass takes every sign of the two changes, and differences so small that they count as none. The old design
// costs 100 and weighs 20 kg.
func TestCompareMass(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		cost, mass float64
		verdict    string
		per        float64
		words      string
	}{
		{110, 18, "lighter and more expensive", 5, "saves 2.000 kg for 10.00 EUR: 5.00 EUR per kilogram saved"},
		{90, 18, "lighter and cheaper", none, "saves 2.000 kg and 10.00 EUR: lighter and cheaper, no price for the kilogram"},
		{90, 22, "heavier and cheaper", 5, "adds 2.000 kg and saves 10.00 EUR: 5.00 EUR saved per kilogram added"},
		{110, 22, "heavier and more expensive", none, "adds 2.000 kg and 10.00 EUR: heavier and more expensive"},
		{100, 20, "same mass and same cost", none, "no difference in cost or mass"},
		{100.000009, 20.0009, "same mass and same cost", none, "no difference in cost or mass"},
		{110, 20, "same mass and more expensive", none, "same mass, 10.00 EUR more expensive"},
		{100.000011, 20, "same mass and more expensive", none, "same mass, 0.00 EUR more expensive"},
		{100, 19.9989, "lighter and same cost", 0, "same cost, 0.001 kg lighter"},
		{90, 20.0009, "same mass and cheaper", none, "same mass, 10.00 EUR cheaper"},
		{100, 18, "lighter and same cost", 0, "same cost, 2.000 kg lighter"},
		{100.000009, 22, "heavier and same cost", 0, "same cost, 2.000 kg heavier"},
		{100.5, 19.998, "lighter and more expensive", 250, "saves 0.002 kg for 0.50 EUR: 250.00 EUR per kilogram saved"},
		{98, 19.99985, "same mass and cheaper", none, "same mass, 2.00 EUR cheaper"}, // 0.15 g
		{102, 19.99985, "same mass and more expensive", none, "same mass, 2.00 EUR more expensive"},
		{102, 19.999, "lighter and more expensive", 2000, "saves 0.001 kg for 2.00 EUR: 2000.00 EUR per kilogram saved"},
		{100.00002, 18, "lighter and more expensive", 0.00001, "saves 2.000 kg for 0.00 EUR: 0.00 EUR per kilogram saved"},
	} {
		v := judged(t, 100, 20, c.cost, c.mass, 0)
		if v.Case != c.verdict || v.Words != c.words {
			t.Errorf("%v at %v kg: %s: %s, want %s: %s", c.cost, c.mass, v.Case, v.Words, c.verdict, c.words)
		}
		if !(math.Abs(v.PerKilogram-c.per) < 1e-8 || math.IsNaN(v.PerKilogram) && math.IsNaN(c.per)) {
			t.Errorf("%v at %v kg: %v a kilogram, want %v", c.cost, c.mass, v.PerKilogram, c.per)
		}
		if math.Abs(v.CostChange-(c.cost-100)) > 1e-12 || math.Abs(v.MassSaved-(20-c.mass)) > 1e-12 {
			t.Errorf("%v at %v kg: cost change %v, mass saved %v", c.cost, c.mass, v.CostChange, v.MassSaved)
		}
	}
}

// TestCompareMassTurned holds that the two designs changed round give the opposite verdict and the same price.
func TestCompareMassTurned(t *testing.T) {
	opposite := map[string]string{"lighter and more expensive": "heavier and cheaper", "lighter and cheaper": "heavier and more expensive",
		"heavier and cheaper": "lighter and more expensive", "heavier and more expensive": "lighter and cheaper",
		"lighter and same cost": "heavier and same cost", "heavier and same cost": "lighter and same cost",
		"same mass and more expensive": "same mass and cheaper", "same mass and cheaper": "same mass and more expensive",
		"same mass and same cost": "same mass and same cost"}
	for cost := 95.0; cost <= 105; cost += 2.5 {
		for mass := 18.0; mass <= 22; mass++ {
			a, b := judged(t, 100, 20, cost, mass, 0), judged(t, cost, mass, 100, 20, 0)
			if b.Case != opposite[a.Case] {
				t.Errorf("%v at %v kg: %s, turned %s", cost, mass, a.Case, b.Case)
			}
			if a.PerKilogram != b.PerKilogram && !(math.IsNaN(a.PerKilogram) && math.IsNaN(b.PerKilogram)) {
				t.Errorf("%v at %v kg: %v a kilogram, turned %v", cost, mass, a.PerKilogram, b.PerKilogram)
			}
		}
	}
}

// TestParity weighs the change of cost against what the customer pays for the mass.
func TestParity(t *testing.T) {
	for _, c := range []struct {
		cost, mass, value float64
		holds             bool
		margin            float64
	}{
		{110, 18, 5, true, 0},
		{110, 18, 4.99, false, -0.02},
		{110, 18, 6, true, 2},
		{100, 20, 0, true, 0},
		{100.01, 18, 0, false, -0.01},
		{90, 22, 5, true, 0},
		{90, 22, 6, false, -2},
		{90, 18, 0, true, 10},
		{110, 22, 5, false, -20},
		{100 + 1e-12, 20, 0, true, 0}, // rounding of arithmetic is no cost
		{100.000009, 20, 0, true, -0.000009},
		{100.000011, 20, 0, false, -0.000011},
	} {
		p := judged(t, 100, 20, c.cost, c.mass, c.value).Parity
		holds, margin := p.Holds, p.Margin
		if holds != c.holds || math.Abs(margin-c.margin) > 1e-9 {
			t.Errorf("%v at %v kg, %v a kilogram: %v with %v left, want %v with %v", c.cost, c.mass, c.value, holds, margin, c.holds, c.margin)
		}
	}
}
