package report

import (
	"piececost/costmodel"
	"piececost/scenarios/costing/wire"
)

// ExplanationJSON is a number of a scenario of a file at an annual volume with what went in, down to depth levels (0 for all).
func ExplanationJSON(file, scenario string, volume float64, x *costmodel.Explanation, depth int) any {
	return wire.Explain{Answer: wire.Begin[wire.Explain](), File: file, Scenario: scenario, AnnualVolume: volume,
		Number: numberOf(x, depth, 1), Caution: wire.Caution}
}

func numberOf(x *costmodel.Explanation, depth, level int) wire.Number {
	out := wire.Number{Quantity: x.Quantity, Row: x.Row, Choice: x.Choice, Unit: x.Unit, From: x.From, Equation: x.Words, Numbers: x.Numbers,
		Note: x.Note, Source: x.Source, Content: x.Text, Provided: x.Provided, Again: x.Again, Machine: x.Machine}
	if x.Choice == "" {
		out.Value = &x.Value
	}
	if x.Place.Row > 0 {
		p := placeOf(x.Place)
		out.Place = &p
	}
	if depth > 0 && level >= depth {
		return out
	}
	for _, part := range x.Parts {
		out.Parts = append(out.Parts, numberOf(part, depth, level+1))
	}
	return out
}
