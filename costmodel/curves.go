package costmodel

import (
	"cmp"
	"fmt"
	"maps"
	"slices"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// curveReader reads the sheet Tables: Curve, X, X unit, Y, Y unit; the points of a curve in rising X, all in its units.
type curveReader struct {
	m      *Model
	sys    *units.System
	t      *table.Table
	curves map[string]*curve
	order  []*curve
}

// readCurves returns the curves of interpolate by their names as expressions write them.
func (m *Model) readCurves(sys *units.System) map[string]*curve {
	t := m.Case.Table("Tables")
	r := curveReader{m: m, sys: sys, t: t, curves: map[string]*curve{}}
	if t == nil || !r.columns() {
		return r.curves
	}
	for _, row := range t.Rows {
		r.row(row)
	}
	for _, c := range r.order {
		if len(c.X) == 1 && !c.failed {
			m.Diagnostics.Add("curve", c.xAt[0], fmt.Sprintf("curve %s has one point", c.written), "give it two at least; one value for all X needs no curve")
		}
	}
	return r.curves
}

// columns tells whether the sheet has what a point needs, where it has points.
func (r *curveReader) columns() bool {
	if len(r.t.Rows) == 0 {
		return true
	}
	for _, name := range []string{"curve", "x", "y"} {
		if _, ok := r.t.Column(name); !ok {
			r.m.Diagnostics.Add("heading", r.t.Place, fmt.Sprintf("the sheet has no column %q", table.Label(name)), "add it to the heading row")
			return false
		}
	}
	return true
}

// row reads one point.
func (r *curveReader) row(row table.Row) {
	name := r.t.TextAt(row, "curve")
	x, y := r.t.ValueAt(row, "x"), r.t.ValueAt(row, "y")
	if name == "" {
		if x.Kind != table.Empty || y.Kind != table.Empty {
			r.m.Diagnostics.Add("curve", r.t.ValueAt(row, "curve").Place, "the point belongs to no curve", "write the curve's name in each of its rows")
		}
		return
	}
	c := r.curve(row, name)
	if bad := r.pointError(name, x, y); bad != nil {
		c.failed = true
		r.m.Diagnostics.Add(bad.Code, bad.Place, bad.Summary, bad.Help)
		return
	}
	xv := c.x.Coherent(x.Number)
	if n := len(c.X); n > 0 && xv <= c.X[n-1] {
		c.failed = true
		r.m.Diagnostics.Add("curve", x.Place, fmt.Sprintf("curve %s: X does not rise", name), "sort its points by X and give each X once")
		return
	}
	c.X, c.Y = append(c.X, xv), append(c.Y, c.y.Coherent(y.Number))
	c.xAt, c.yAt = append(c.xAt, x.Place), append(c.yAt, y.Place)
}

// curve finds the curve of a row, begun by its first; names that differ in capitals or blanks are one.
func (r *curveReader) curve(row table.Row, name string) *curve {
	at := r.t.ValueAt(row, "curve").Place
	key := table.Normalise(name)
	c := r.curves[key]
	if c == nil {
		c = &curve{written: name, at: at}
		r.curves[key] = c
		r.order = append(r.order, c)
		if _, err := formula.Parse("interpolate("+key+", 1)", r.sys); err != nil {
			c.failed = true
			r.m.Diagnostics.Add("curve", at, fmt.Sprintf("no expression can name the curve %q", name),
				"begin with a letter; letters, figures and underscores may follow")
		}
		c.x, c.y = r.unit(row, "x_unit"), r.unit(row, "y_unit")
		return c
	}
	if c.written != name && !c.failed {
		c.failed = true
		r.m.Diagnostics.Add("curve", at, fmt.Sprintf("curve %s: an expression could not tell it from %s", name, c.written),
			"write one of the two in another way", table.Related{Place: c.at, Note: "first at"})
	}
	r.sameUnit(row, c, "x_unit", c.x)
	r.sameUnit(row, c, "y_unit", c.y)
	return c
}

func (r *curveReader) unit(row table.Row, name string) units.Unit {
	v := r.t.ValueAt(row, name)
	u, err := r.sys.Parse(r.t.TextAt(row, name))
	if err != nil {
		r.m.Diagnostics.Add("unit", v.Place, err.Error(), "")
	}
	return u
}

// sameUnit reports a unit that is not that of the curve's first point; an empty cell means the same.
func (r *curveReader) sameUnit(row table.Row, c *curve, name string, want units.Unit) {
	text := r.t.TextAt(row, name)
	if text == "" {
		return
	}
	if u, err := r.sys.Parse(text); err == nil && u.Same(want) {
		return
	}
	r.m.Diagnostics.Add("unit", r.t.ValueAt(row, name).Place, fmt.Sprintf("curve %s: the unit is %s here and %s at its first point", c.written, text,
		cmp.Or(want.Text, "1")), "give all points of a curve in one unit", table.Related{Place: c.at, Note: "first at"})
}

// pointError says why two cells are no point, or nil.
func (r *curveReader) pointError(name string, x, y table.Value) *table.Diagnostic {
	for i, v := range []table.Value{x, y} {
		column := []string{"X", "Y"}[i]
		inUnit := "in the unit of the column " + column + " unit"
		d := &table.Diagnostic{Code: "curve", Place: v.Place}
		switch {
		case v.Kind == table.Broken:
			d.Code, d.Summary, d.Help = "cell", fmt.Sprintf("curve %s: %s", name, v.Text), v.Help
		case v.Kind == table.Empty:
			d.Summary, d.Help = fmt.Sprintf("curve %s: the point has no %s", name, column), "write it as a number, "+inUnit+", or clear the row"
		case v.Kind != table.Number:
			d.Summary, d.Help = fmt.Sprintf("curve %s: %s must be a number", name, column), "write it as a number, "+inUnit
		case v.Percent:
			d.Summary, d.Help = fmt.Sprintf("curve %s: %s is formatted as percent", name, column), "format the cell as a number, "+inUnit
		case !PossibleNumber(v.Number):
			d.Code, d.Summary, d.Help = "possible", fmt.Sprintf("curve %s: the number is %s", name, Beyond(v.Number)), "check the value and its unit"
		default:
			continue
		}
		return d
	}
	return nil
}

// curveNamed finds a curve as an expression names it, nil where there is none.
func (s *Schema) curveNamed(name string) *curve {
	if c := s.curves[name]; c != nil { // price bands, whose keys tell capitals from small letters
		return c
	}
	return s.curves[table.Normalise(name)]
}

// curveNames lists the curves as expressions name them, sorted.
func (s *Schema) curveNames() []string {
	var out []string
	for _, name := range slices.Sorted(maps.Keys(s.curves)) {
		if !s.curves[name].Steps { // price bands have no name that an expression could write
			out = append(out, name)
		}
	}
	return out
}
