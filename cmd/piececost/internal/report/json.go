package report

import (
	"encoding/json"
	"io"
	"math"

	"piececost/costmodel/table"
)

// CheckJSON is what check found. Each JSON form has a format name and a version that changes when a field changes its meaning.
type CheckJSON struct {
	Format   string        `json:"format"`
	Version  int           `json:"version"`
	File     string        `json:"file"`
	Findings []findingJSON `json:"findings"`
}

type findingJSON struct {
	Code     string        `json:"code"`
	Severity string        `json:"severity"`
	Summary  string        `json:"summary"`
	Help     string        `json:"help,omitempty"`
	Scenario string        `json:"scenario,omitempty"`
	Place    placeJSON     `json:"place"`
	Related  []relatedJSON `json:"related,omitempty"`
}

type placeJSON struct {
	File      string `json:"file,omitempty"`
	Sheet     string `json:"sheet,omitempty"`
	Cell      string `json:"cell,omitempty"`
	Character int    `json:"character,omitempty"`
}

type relatedJSON struct {
	Note  string    `json:"note"`
	Place placeJSON `json:"place"`
}

func placeOf(p table.Place) placeJSON {
	return placeJSON{File: p.File, Sheet: p.Sheet, Cell: p.Cell(), Character: p.Char}
}

// FindingsJSON is a list of findings, empty rather than null.
func FindingsJSON(ds table.Diagnostics) []findingJSON {
	out := []findingJSON{}
	for _, d := range ds {
		f := findingJSON{Code: d.Code, Severity: string(d.Severity), Summary: d.Summary, Help: d.Help, Scenario: d.Scenario, Place: placeOf(d.Place)}
		for _, r := range d.Related {
			f.Related = append(f.Related, relatedJSON{r.Note, placeOf(r.Place)})
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
