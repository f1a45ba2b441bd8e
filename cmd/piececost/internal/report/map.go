package report

import (
	"fmt"
	"io"
	"slices"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// mapReport is a map to be printed.
type mapReport struct {
	*study.Map
	model  *costmodel.Model
	volume float64
	xs, ys []float64 // in the unit of the cells
}

// NewMap is the report of a map at an annual volume, 0 where that is an axis or each scenario's own.
func NewMap(m *study.Map, model *costmodel.Model, volume float64) *mapReport {
	return &mapReport{Map: m, model: model, volume: volume, xs: shownAll(&m.X, m.Xs), ys: shownAll(&m.Y, m.Ys)}
}

// Print prints the map as letters.
func (r *mapReport) Print(w io.Writer) {
	names := r.Letters()
	fmt.Fprintf(w, "Cheapest scenario%s\nup: %s\n\n", r.volumeWords(), inputLabel(r.model, &r.Y))
	g := term.Grid{Xs: AxisLabels(r.xs), Ys: AxisLabels(r.ys)}
	for j := range r.ys {
		row := make([]string, len(r.xs))
		for i := range r.xs {
			row[i] = r.Letter(names, j, i)
		}
		g.Cells = append(g.Cells, row)
	}
	g.Print(w)
	fmt.Fprintf(w, "across: %s\n%s\n", inputLabel(r.model, &r.X), innerPoints(r.Xs, r.Ys))
	for s, name := range names {
		term.Wrap(w, "", "  ", name+" "+r.Scenarios[s].Name)
	}
	fmt.Fprintf(w, "a small letter: the second best costs less than %s %% more\n", term.Figure(study.CloseShare*100))
	for _, cheapest := range slices.Concat(r.Cheapest...) {
		if cheapest < 0 {
			fmt.Fprintln(w, "-: no scenario can be costed there")
			break
		}
	}
	for _, note := range r.Notes() {
		term.Wrap(w, "", "  ", note)
	}
}

func (r *mapReport) volumeWords() string {
	switch {
	case r.X.IsVolume() || r.Y.IsVolume():
		return ""
	case r.volume > 0:
		return " at " + term.Volume(r.volume) + " per year"
	}
	return " at each one's own annual volume"
}

// CSV prints a line for each pair of values.
func (r *mapReport) CSV(w io.Writer) {
	head := []string{"x", "y", "cheapest", "margin"}
	for _, s := range r.Scenarios {
		head = append(head, s.Name)
	}
	t := newCSV(w, head...)
	defer t.flush()
	for j, y := range r.ys {
		for i, x := range r.xs {
			row := []any{x, y, r.cheapestName(j, i), r.Margin[j][i]}
			for s := range r.Scenarios {
				row = append(row, r.Costs[s][j][i])
			}
			t.row(row...)
		}
	}
}

func (r *mapReport) cheapestName(j, i int) string {
	if best := r.Cheapest[j][i]; best >= 0 {
		return r.Scenarios[best].Name
	}
	return ""
}
