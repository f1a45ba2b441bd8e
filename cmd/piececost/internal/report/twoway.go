package report

import (
	"fmt"
	"io"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TwoWay is a table over two inputs to be printed.
type TwoWay struct {
	*study.TwoWay
	measure  study.Measure
	response *study.Response
	xs, ys   []float64 // in the unit of the cells
}

// NewTwoWay is the report of a table of a measure.
func NewTwoWay(t *study.TwoWay, q study.Measure, r *study.Response) *TwoWay {
	return &TwoWay{TwoWay: t, measure: q, response: r, xs: shownAll(&t.X, t.Xs), ys: shownAll(&t.Y, t.Ys)}
}

// Print prints the table, one input across and one down.
func (r *TwoWay) Print(w io.Writer) {
	m := r.measure.Model
	currency := m.Schema.Units.ModelCurrency()
	digits := int(costmodel.MoneyDigits(currency, r.response.Magnitude()))
	term.Wrap(w, "", "  ", fmt.Sprintf("%s [%s]", term.Sentence(r.measure.Name()), currency))
	if !r.X.IsVolume() && !r.Y.IsVolume() {
		term.Wrap(w, "", "  ", term.Sentence(volumeWords(r.measure)))
	}
	fmt.Fprintf(w, "down:   %s, base value %s\nacross: %s, base value %s\n\n", inputLabel(m, &r.Y), term.Figure(r.Y.Shown(r.Y.BaseValue)), inputLabel(m, &r.X),
		term.Figure(r.X.Shown(r.X.BaseValue)))
	if said := innerPoints(r.Xs, r.Ys); said != "" {
		fmt.Fprintln(w, said)
	}
	t := &term.Table{}
	t.Add(append([]string{""}, AxisLabels(r.xs)...)...)
	t.Line()
	for j, y := range r.ys {
		row := []string{term.Figure(y)}
		for _, v := range r.Cells[j] {
			text := "-"
			if v == v {
				text = term.Grouped(v, digits)
			}
			row = append(row, text)
		}
		t.Add(row...)
	}
	t.Print(w)
	for _, note := range r.Notes() {
		term.Wrap(w, "", "  ", note)
	}
}

// CSV prints a line for each pair of values.
func (r *TwoWay) CSV(w io.Writer) {
	t := newCSV(w, "x", "y", "value")
	defer t.flush()
	for j, y := range r.ys {
		for i, x := range r.xs {
			t.row(x, y, r.Cells[j][i])
		}
	}
}
