package report

type twoWayJSON struct {
	Format   string       `json:"format"`
	Version  int          `json:"version"`
	File     string       `json:"file"`
	Currency string       `json:"currency"`
	Measure  string       `json:"measure"`
	X        axisJSON     `json:"x"`
	Y        axisJSON     `json:"y"`
	Values   [][]*float64 `json:"values"` // by y, then x
	Caution  string       `json:"caution"`
}

// JSON is the table, values by y, then x.
func (r *TwoWay) JSON() twoWayJSON {
	m := r.measure.Model
	return twoWayJSON{Format: "piececost sensitivity table", Version: 1, File: m.Case.File, Currency: m.Schema.Units.ModelCurrency(), Measure: r.measure.Name(),
		X: axisOfInput(m, &r.X, r.xs), Y: axisOfInput(m, &r.Y, r.ys), Values: finiteRows(r.Cells), Caution: Caution}
}
