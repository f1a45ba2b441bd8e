package report

import "piececost/scenarios/costing/wire"

// JSON is the table, values by y, then x.
func (r *TwoWay) JSON() wire.Table {
	m := r.measure.Model
	return wire.Table{Answer: wire.Begin[wire.Table](), File: m.Case.File, Currency: m.Schema.Units.ModelCurrency(), Measure: r.measure.Name(),
		X: axisOfInput(m, &r.X, r.xs), Y: axisOfInput(m, &r.Y, r.ys), Values: finiteRows(r.Cells), Caution: wire.Caution}
}
