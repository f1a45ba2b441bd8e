package report

import (
	"piececost/costmodel"
)

type explanationJSON struct {
	Format       string     `json:"format"`
	Version      int        `json:"version"`
	File         string     `json:"file"`
	Scenario     string     `json:"scenario"`
	AnnualVolume float64    `json:"annual_volume"`
	Number       numberJSON `json:"number"`
	Caution      string     `json:"caution"`
}

type numberJSON struct {
	Quantity string       `json:"quantity"`
	Row      string       `json:"row"`
	Value    *float64     `json:"value,omitempty"`
	Choice   string       `json:"choice,omitempty"`
	Unit     string       `json:"unit,omitempty"`
	From     string       `json:"from"`
	Equation string       `json:"equation,omitempty"`
	Numbers  string       `json:"numbers,omitempty"`
	Note     string       `json:"note,omitempty"`
	Source   string       `json:"source,omitempty"`
	Place    *placeJSON   `json:"place,omitempty"`
	Content  string       `json:"content,omitempty"`
	Provided []string     `json:"provided,omitempty"`
	Again    bool         `json:"explained_above,omitempty"`
	Parts    []numberJSON `json:"parts,omitempty"`
}

// ExplanationJSON is a number of a scenario of a file at an annual volume with what went in, down to depth levels (0 for all).
func ExplanationJSON(file, scenario string, volume float64, x *costmodel.Explanation, depth int) any {
	return explanationJSON{Format: "piececost explain", Version: 1, File: file, Scenario: scenario, AnnualVolume: volume,
		Number: numberOf(x, depth, 1), Caution: Caution}
}

func numberOf(x *costmodel.Explanation, depth, level int) numberJSON {
	out := numberJSON{Quantity: x.Quantity, Row: x.Row, Choice: x.Choice, Unit: x.Unit, From: x.From, Equation: x.Words, Numbers: x.Numbers,
		Note: x.Note, Source: x.Source, Content: x.Text, Provided: x.Provided, Again: x.Again}
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
