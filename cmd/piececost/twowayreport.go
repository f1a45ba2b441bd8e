package main

import (
	"fmt"
	"io"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// twoWayReport is a table over two inputs to be printed.
type twoWayReport struct {
	*study.TwoWay
	measure  study.Measure
	response *study.Response
	xs, ys   []float64 // in the unit of the cells
}

// twoWayReportOf is the report of a table of a measure.
func twoWayReportOf(t *study.TwoWay, q study.Measure, r *study.Response) *twoWayReport {
	return &twoWayReport{TwoWay: t, measure: q, response: r, xs: shownAll(&t.X, t.Xs), ys: shownAll(&t.Y, t.Ys)}
}

func (r *twoWayReport) print(w io.Writer) {
	m := r.measure.Model
	currency := m.Schema.Units.ModelCurrency()
	digits := int(costmodel.MoneyDigits(currency, r.response.Magnitude()))
	printWrapped(w, "", "  ", fmt.Sprintf("%s [%s]", sentence(r.measure.Name()), currency))
	if !r.X.IsVolume() && !r.Y.IsVolume() {
		printWrapped(w, "", "  ", sentence(volumeWords(r.measure)))
	}
	fmt.Fprintf(w, "down:   %s, today %s\nacross: %s, today %s\n\n", inputLabel(m, &r.Y), figure(r.Y.Shown(r.Y.Today)), inputLabel(m, &r.X), figure(r.X.Shown(r.X.Today)))
	t := &table{}
	t.add(append([]string{""}, axisLabels(r.xs)...)...)
	t.line()
	for j, y := range r.ys {
		row := []string{figure(y)}
		for _, v := range r.Cells[j] {
			text := "-"
			if v == v {
				text = grouped(v, digits)
			}
			row = append(row, text)
		}
		t.add(row...)
	}
	t.print(w)
	for _, note := range r.Notes() {
		printWrapped(w, "", "  ", note)
	}
}

func (r *twoWayReport) csv(w io.Writer) {
	fmt.Fprintln(w, "x,y,value")
	for j, y := range r.ys {
		for i, x := range r.xs {
			fmt.Fprintf(w, "%s,%s,%s\n", csvNumber(x), csvNumber(y), csvNumber(r.Cells[j][i]))
		}
	}
}
