package costmodel

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// trialCode is the code of findings of the sheet Trial values.
const trialCode = "trial"

// trialValueReader reads the sheet Trial values.
type trialValueReader struct {
	model *Model
	table *table.Table
	gauge units.Unit                // of the column Gauge
	by    map[string]*TrialQuantity // by part and quantity
	seen  map[string]table.Place
}

// readTrialValues reads the sheet Trial values into the model.
func (m *Model) readTrialValues() {
	t := m.Case.Table("Trial values")
	if t == nil || len(t.Rows) == 0 {
		return
	}
	r := &trialValueReader{model: m, table: t, by: map[string]*TrialQuantity{}, seen: map[string]table.Place{}}
	if !r.columns() {
		return
	}
	for _, row := range t.Rows {
		if !r.empty(row) {
			r.row(row)
		}
	}
}

// columns tells whether the sheet has what a row can't do without, and takes the unit of its gauges.
func (r *trialValueReader) columns() bool {
	m, ok := r.model, true
	for _, need := range []string{"part", "quantity", "unit"} {
		if _, have := r.table.Column(need); !have {
			m.Diagnostics.Add("heading", r.table.Place, fmt.Sprintf("the sheet has no column %q", table.Label(need)),
				"its columns are Part, Grade, Gauge [mm], Quantity, Unit, Direction, Target, Measured")
			ok = false
		}
	}
	r.gauge = m.lengthUnit()
	if c, have := r.table.Column("gauge"); have {
		_, text, given := table.SplitHeading(c.Heading)
		if given {
			r.gauge = m.gaugeUnit(c, text)
		} else if r.filled("gauge") {
			m.Diagnostics.Add("unit", c.Place, fmt.Sprintf("heading %q has no unit", c.Heading), "write Gauge [mm]")
			ok = false
		}
	}
	return ok
}

// filled tells whether a row has a bare number in a column.
func (r *trialValueReader) filled(column string) bool {
	for _, row := range r.table.Rows {
		if r.table.ValueAt(row, column).Kind == table.Number {
			return true
		}
	}
	return false
}

func (m *Model) lengthUnit() units.Unit {
	u, err := m.Schema.Units.Parse("mm")
	if err != nil {
		panic(err) // the system of units always has it
	}
	return u
}

// gaugeUnit is the unit of a column of gauges, mm where it is none.
func (m *Model) gaugeUnit(c table.Column, text string) units.Unit {
	mm := m.lengthUnit()
	u, err := m.Schema.Units.Parse(text)
	switch {
	case err != nil:
		m.Diagnostics.Add("unit", c.Place, fmt.Sprintf("heading %q: %v", c.Heading, err), "write it in mm")
	case !u.Fits(mm):
		m.Diagnostics.Add("dimension", c.Place, fmt.Sprintf("heading %q: the unit is %s, but a gauge is %s", c.Heading, u.Describe(), mm.Describe()),
			"write it in mm")
	default:
		return u
	}
	return mm
}

// statedGauge reads a gauge in metres, NaN for what it reported.
func (m *Model) statedGauge(code, label string, unit units.Unit, v table.Value) float64 {
	gauge := m.statedNumber(code, label, unit, v)
	in := m.Schema.Screening.possible("gauge")
	if math.IsNaN(gauge) || in.Contains(gauge) {
		return gauge
	}
	mm := m.lengthUnit()
	m.Diagnostics.Add("possible", v.Place, fmt.Sprintf("%s is %s mm, but it must be %s", label, ShownNumber(mm.Shown(gauge)),
		in.shown(mm).demand(mm.Shown(gauge), " mm")), "check the value and its unit")
	return math.NaN()
}

// empty tells whether none of the sheet's own columns has anything in the row.
func (r *trialValueReader) empty(row table.Row) bool {
	l := table.LayoutOf("Trial values")
	for _, list := range [][]string{l.Key, l.Texts, l.Columns} {
		for _, name := range list {
			if r.table.ValueAt(row, name).Kind != table.Empty {
				return false
			}
		}
	}
	return true
}

// row reads a row; what is wrong with it is reported, and it is left out.
func (r *trialValueReader) row(row table.Row) {
	before := r.model.Diagnostics.Count(table.Error)
	v := &trialValue{gauge: math.NaN(), target: math.NaN(), measured: math.NaN(), place: r.at(row, "part")}
	part := r.key(row, "part", "part", "Parts")
	v.grade = r.key(row, "grade", "material", "Materials")
	if part == "" && r.model.Diagnostics.Count(table.Error) == before {
		r.model.Diagnostics.Add("key", v.place, "the row names no part", "write a key of the sheet Parts, or clear the row")
	}
	if g := r.table.ValueAt(row, "gauge"); g.Kind != table.Empty {
		v.gauge = r.model.statedGauge(trialCode, "the gauge", r.gauge, g)
	}
	if r.model.Diagnostics.Count(table.Error) > before {
		return
	}
	q, unit := r.quantity(row, part)
	if q == nil {
		return
	}
	r.values(q, v, row, unit)
	if r.model.Diagnostics.Count(table.Error) == before && r.once(q, v) {
		r.keep(q, v)
	}
}

// keep takes a row, the first of a quantity with the quantity.
func (r *trialValueReader) keep(q *TrialQuantity, v *trialValue) {
	key := q.key()
	if r.by[key] == nil {
		r.by[key] = q
		r.model.trialValues = append(r.model.trialValues, q)
	}
	q.rows = append(q.rows, v)
}

// at is the place of a cell; that of the row's first one where the sheet has not the column.
func (r *trialValueReader) at(row table.Row, column string) table.Place {
	return r.table.ValueAt(row, column).Place
}

// key reads a word that names a row of another sheet.
func (r *trialValueReader) key(row table.Row, column, scope, sheet string) string {
	key := strings.TrimSpace(r.table.TextAt(row, column))
	if d := r.model.referenceError(key, column, scope, sheet); d != nil {
		r.model.Diagnostics.Add("reference", r.at(row, column), d.Summary, d.Help)
	} else if scope == "part" && key != "" && !r.model.isOfGrade(key) {
		r.model.Diagnostics.Add(trialCode, r.at(row, column), fmt.Sprintf("part %s has no material, so that it can't be tried in other grades", key),
			"name a part that is made of a grade of the sheet Materials")
	}
	return key
}

// isOfGrade tells whether a part is made of a material.
func (m *Model) isOfGrade(part string) bool {
	for _, r := range m.byKey["part"][part] {
		if r.Text("material") != "" {
			return true
		}
	}
	return m.unread["part"] || len(m.byKey["part"][part]) == 0
}

// quantity finds what a row is about, with its unit; nil for what is reported.
func (r *trialValueReader) quantity(row table.Row, part string) (*TrialQuantity, units.Unit) {
	m, place := r.model, r.at(row, "quantity")
	label := strings.TrimSpace(r.table.TextAt(row, "quantity"))
	if label == "" {
		m.Diagnostics.Add("key", place, "the row has no quantity", "write what is asked for or was measured, as Bending stiffness, or clear the row")
		return nil, units.Unit{}
	}
	q := &TrialQuantity{Part: part, Label: label}
	sc := m.Schema.byName["part"]
	ratio, name := m.Schema.Screening.carrying(label)
	n, computed := sc.byHeading(table.Normalise(label))
	switch {
	case ratio != "":
		q.Ratio, q.Label = ratio, name
	case computed && (sc.Quantities[n].Flag || len(sc.Quantities[n].Options) > 0 || sc.Quantities[n].Structural):
		m.Diagnostics.Add(trialCode, place, sc.Quantities[n].Label+" is a choice, not a number", "name a quantity that has a value")
		return nil, units.Unit{}
	case computed:
		q.computed, q.Label, q.Unit = sc.Quantities[n].Name, sc.Quantities[n].Label, sc.Quantities[n].Unit
	default:
		known := m.targetNames(sc)
		for _, c := range m.Schema.Screening.carried() {
			known = append(known, table.Normalise(c))
		}
		if near := formula.Nearest(table.Normalise(label), known); near != "" {
			m.Diagnostics.Add(trialCode, place, fmt.Sprintf("%q is no quantity of a part", label),
				fmt.Sprintf("did you mean %s? If the value is your own, give it a name less alike", table.Label(near)))
			return nil, units.Unit{}
		}
	}
	return r.unit(q, row)
}

// unit reads the unit of a row. Rows of one quantity may have several of a kind; one that the program does not know converts nothing.
func (r *trialValueReader) unit(q *TrialQuantity, row table.Row) (*TrialQuantity, units.Unit) {
	m, place := r.model, r.at(row, "unit")
	text := strings.TrimSpace(r.table.TextAt(row, "unit"))
	u, err := m.Schema.Units.Parse(text)
	known := err == nil
	if !known {
		u = units.Unit{Text: text, Factor: 1}
	}
	first := r.by[q.key()]
	complain := func(code, summary, help string) (*TrialQuantity, units.Unit) {
		m.Diagnostics.Add(code, place, summary, help)
		return nil, u
	}
	switch {
	case text == "" && q.Ratio != "":
		return complain("unit", q.Label+" has no unit", "write it in the column Unit, as N/mm, or 1 where its values are ratios to the base")
	case text == "":
		return complain("unit", q.Label+" has no unit", "write it in the column Unit, or 1 for a plain number")
	case q.computed != "" && (!known || !u.Fits(q.Unit)):
		return complain("dimension", fmt.Sprintf("%q is no unit of %s", text, q.Label), "write "+m.ShownUnit(q.Unit)+" in the column Unit")
	case first == nil:
		q.Unit, q.known, q.relative = u, known, known && q.Ratio != "" && u.Dim == units.None
		return q, u
	case known != first.known || known && !u.Fits(first.Unit) || !known && text != first.Unit.Text:
		return complain("dimension", fmt.Sprintf("%s is in %s here, but in %s above", q.Label, text, m.ShownUnit(first.Unit)),
			"write all its rows in units of one kind")
	}
	return first, u
}

// values reads what is asked for and what was measured.
func (r *trialValueReader) values(q *TrialQuantity, v *trialValue, row table.Row, unit units.Unit) {
	m := r.model
	target, measured, direction := r.table.ValueAt(row, "target"), r.table.ValueAt(row, "measured"), r.table.ValueAt(row, "direction")
	switch {
	case target.Kind == table.Empty && measured.Kind == table.Empty:
		m.Diagnostics.Add(trialCode, v.place, fmt.Sprintf("the row has neither a target nor a measured value of %s", q.Label), "fill Target, Measured or both")
		return
	case measured.Kind != table.Empty && (v.grade == "" || math.IsNaN(v.gauge)):
		m.Diagnostics.Add(trialCode, measured.Place, fmt.Sprintf("a measured value of %s is of one grade at one gauge, but the row names not both", q.Label),
			"fill Grade and Gauge")
		return
	case target.Kind == table.Empty && direction.Kind != table.Empty:
		m.Diagnostics.Add(trialCode, direction.Place, fmt.Sprintf("the row of %s has a direction but no target", q.Label), "fill Target or clear Direction")
		return
	}
	if target.Kind != table.Empty {
		v.atLeast = r.direction(q, row)
		v.target = m.statedNumber(trialCode, "the target of "+q.Label, unit, target)
	}
	if measured.Kind != table.Empty {
		v.measured = m.statedNumber(trialCode, "the measured "+strings.ToLower(q.Label), unit, measured)
	}
	for _, c := range []struct {
		value float64
		of    table.Value
	}{{v.target, target}, {v.measured, measured}} {
		if q.Ratio != "" && c.value <= 0 {
			m.Diagnostics.Add("possible", c.of.Place, fmt.Sprintf("%s is %s, but it must be above 0", q.Label, ShownNumber(unit.Shown(c.value))),
				"check the value and its unit")
		}
	}
}

// direction reads at most or at least.
func (r *trialValueReader) direction(q *TrialQuantity, row table.Row) (atLeast bool) {
	text := strings.ToLower(strings.TrimSpace(r.table.TextAt(row, "direction")))
	if text != "at most" && text != "at least" {
		r.model.Diagnostics.Add(trialCode, r.at(row, "direction"), fmt.Sprintf("the direction of %s is %q", q.Label, r.table.TextAt(row, "direction")),
			nearestOr(text, table.Directions, "write at most or at least"))
	}
	return text == "at least"
}

// once reports a target or a measured value that stands twice.
func (r *trialValueReader) once(q *TrialQuantity, v *trialValue) bool {
	ok := true
	for _, what := range []struct {
		there bool
		name  string
	}{{!math.IsNaN(v.target), "a target, " + TrialLimit{AtLeast: v.atLeast}.Direction()}, {!math.IsNaN(v.measured), "a measured value"}} {
		if !what.there {
			continue
		}
		key := fmt.Sprintf("%s/%s/%.6g/%s", q.key(), v.grade, v.gauge, what.name)
		if first, twice := r.seen[key]; twice {
			r.model.Diagnostics.Add("duplicate", v.place, fmt.Sprintf("%s has %s twice for the same grade and gauge", q.Name(), what.name),
				"delete one of the two", table.Related{Place: first, Note: "first at"})
			ok = false
		} else {
			r.seen[key] = v.place
		}
	}
	return ok
}
