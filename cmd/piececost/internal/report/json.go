package report

import (
	"encoding/json"
	"io"
	"math"

	"piececost/scenarios/costing/wire"

	"piececost/costmodel/table"
)

func placeOf(p table.Place) wire.Place {
	return wire.Place{File: p.File, Sheet: p.Sheet, Cell: p.Cell(), Character: p.Char}
}

// FindingsJSON is a list of findings, empty rather than null.
func FindingsJSON(ds table.Diagnostics) []wire.Finding {
	out := []wire.Finding{}
	for _, d := range ds {
		f := wire.Finding{Code: d.Code, Severity: string(d.Severity), Summary: d.Summary, Help: d.Help, Scenario: d.Scenario, Place: placeOf(d.Place)}
		for _, r := range d.Related {
			f.Related = append(f.Related, wire.Related{Note: r.Note, Place: placeOf(r.Place)})
		}
		out = append(out, f)
	}
	return out
}

// WriteJSON writes a value indented, as JSON.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// finite returns a number for JSON, nil where there is none.
func finite(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}
