package costmodel

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A Varied is an input as a scenario has it. Its values are coherent; Unit is that in which its cell is read.
type Varied struct {
	Input     Input // as the sheets write it
	scope     string
	quantity  int32
	Unit      units.Unit
	BaseValue float64  // at the scenario's own volume; NaN where it is not defined at the base values
	Low, High float64  // plausible; NaN where no range is known
	Possible  Interval // coherent; unknown where the library states none, or where it is moved and not set
	From      OriginKind
	Place     table.Place // of the cell that gives it, or of its row
	ChangedBy []string    // the scenarios that change it
	Present   bool        // the scenario has the row
	Lever     bool        // neither nature nor the design fixes it
	Computed  bool        // the base value rests on other quantities, which move nothing through it once it is varied

	column int // of the compiled plan
	cells  []plan.Cell
}

// Shown turns a coherent value into the unit in which the cell is read, rounded to 14 digits, since a factor leaves crumbs
// behind; Coherent turns it back.
func (v *Varied) Shown(value float64) float64 {
	shown, err := strconv.ParseFloat(strconv.FormatFloat(v.Unit.Shown(value), 'g', 14, 64), 64)
	if err != nil {
		return v.Unit.Shown(value)
	}
	return shown
}

// Coherent turns a value in the unit of the cell into a coherent one.
func (v *Varied) Coherent(value float64) float64 { return v.Unit.Coherent(value) }

// HasRange tells whether a plausible range is known.
func (v *Varied) HasRange() bool { return !math.IsNaN(v.Low) }

// UnitWords says in which unit the values of the input are, "" for plain numbers: with Move, what they do to its cells.
func (m *Model) UnitWords(v *Varied) string {
	unit := m.ShownUnit(v.Unit)
	if unit == "1" {
		unit = ""
	}
	switch v.Input.By {
	case ByFactor:
		return "times the base value"
	case ByDifference:
		return strings.TrimSpace(unit + " on the base value")
	}
	return unit
}

// IsVolume tells whether the input is the annual volume.
func (v *Varied) IsVolume() bool { return v.column == 0 }

// vary makes columns of the inputs: their cells are no longer defined as before. Faults go into ds.
func (g *graph) vary(inputs []Input, ds *table.Diagnostics) []Varied {
	g.columns = 1
	if len(inputs) == 0 {
		return nil
	}
	var out []Varied
	for _, in := range inputs {
		f, d := g.model.findInput(in)
		if d != nil {
			*ds = append(*ds, d.Diagnostic)
			continue
		}
		out = append(out, g.varied(f))
	}
	if len(out) < len(inputs) {
		return nil
	}
	g.baseValues(out)
	cells := map[plan.Cell]moved{}
	for i := range out {
		g.assign(&out[i], cells, ds)
	}
	g.inputs = cells
	return out
}

// varied describes an input that was found.
func (g *graph) varied(f foundInput) Varied {
	v := Varied{Input: f.input, scope: f.scope.Name, quantity: f.quantity, Unit: f.unit, BaseValue: math.NaN(), Low: math.NaN(), High: math.NaN(),
		Lever: !f.scope.Quantities[f.quantity].noLever, column: -1}
	for _, e := range g.rowsOf(f) {
		r := &g.rows[e]
		v.cells = append(v.cells, r.first+f.quantity)
		if v.Present {
			continue
		}
		v.Present = true
		v.Place = g.placeOf(e, f.quantity)
		o := (&Plan{graph: g}).Origin(e, f.quantity)
		v.From, v.Computed = o.Kind, restsOnOthers(o.Active)
		if d := r.scope.ranged(r.variant, f.quantity, hasPlausible); d != nil {
			v.Low, v.High = d.Unit.Coherent(d.Item.Plausible[0]), d.Unit.Coherent(d.Item.Plausible[1])
		}
		v.Possible = r.scope.possible(r.variant, f.quantity)
	}
	v.ChangedBy = g.model.changedBy(f)
	switch f.input.By {
	case ByFactor:
		v.Unit = units.One
	case ByDifference:
		v.Unit = v.Unit.Difference()
	}
	if f.input.By != ByValue {
		v.Possible = Interval{}
		v.Low, v.High, v.Computed = math.NaN(), math.NaN(), false // what the cells rest on goes on moving them
	}
	return v
}

// restsOnOthers tells whether a definition names quantities other than the base of a change.
func restsOnOthers(d plan.Definition) bool {
	if d.Kind != plan.Computed {
		return false
	}
	for _, r := range d.Eq.Refs {
		if !r.Fixed && !r.Base {
			return true
		}
	}
	return d.Base != nil && restsOnOthers(*d.Base)
}

// rowsOf lists the scenario's rows of an input: a machine stands in every plant that uses it.
func (g *graph) rowsOf(f foundInput) []plan.Entity {
	switch f.scope.Name {
	case "case":
		return []plan.Entity{0}
	case "scenario":
		return []plan.Entity{1}
	}
	wanted := make(map[*Record]bool, len(f.records))
	for _, r := range f.records {
		wanted[r] = true
	}
	var out []plan.Entity
	for e := range g.rows {
		if rec := g.rows[e].rec; wanted[rec] || wanted[rec.Source()] {
			out = append(out, plan.Entity(e))
		}
	}
	return out
}

// changedBy names the scenarios that change an input.
func (m *Model) changedBy(f foundInput) []string {
	var out []string
	for _, s := range m.Scenarios {
		for _, r := range f.records {
			if c := s.changes[r]; c != nil {
				if _, ok := c.fields[f.quantity]; ok {
					out = append(out, s.Name)
					break
				}
			}
		}
	}
	return out
}

// todays fills in the base values; of several rows that of the first.
func (g *graph) baseValues(list []Varied) {
	var cells []plan.Cell
	for i := range list {
		cells = append(cells, list[i].cells...)
	}
	quiet := g.quiet
	g.quiet = true
	p, _ := plan.Compile(g, nil, plan.Options{Inputs: 1, Optional: cells})
	g.quiet = quiet
	values := p.Values([]float64{g.st.scenario.Volume})
	g.before = p
	g.baseValue = make(map[plan.Cell]float64, len(cells))
	for _, c := range cells {
		if p.Has(c) {
			g.baseValue[c] = values[c]
		}
	}
	for i := range list {
		list[i].setBaseValue(p, values)
	}
}

// setToday takes the base value of the first row; of a move it is what leaves all rows as they are.
func (v *Varied) setBaseValue(p *plan.Compiled, values []float64) {
	switch {
	case v.Input.By != ByValue:
		v.BaseValue = v.Input.By.baseValue()
	case v.Present && p.Has(v.cells[0]):
		v.BaseValue = values[v.cells[0]]
	}
}

// moved is a cell whose value is a column, or is moved by one.
type moved struct {
	column int32
	by     Move
}

// assign gives an input its column. Rows that are varied alike must hold the same value at the base values, and no cell may be varied
// twice.
func (g *graph) assign(v *Varied, cells map[plan.Cell]moved, ds *table.Diagnostics) {
	volume := v.scope == "scenario" && g.rows[1].scope.Quantities[v.quantity].Name == "annual_volume"
	column := int32(0)
	if !volume || v.Input.By != ByValue {
		column = int32(g.columns)
		g.columns++
	}
	v.column = int(column)
	for _, c := range v.cells {
		if _, twice := cells[c]; twice {
			*ds = append(*ds, table.Diagnostic{Code: "vary", Severity: table.Error, Summary: v.Input.String() + " is varied twice",
				Help: "name each input once", Place: v.Place, Scenario: g.st.scenario.Name})
			return
		}
		if v.Input.By != ByValue {
			if _, defined := g.baseValue[c]; defined {
				cells[c] = moved{column, v.Input.By}
			}
			continue
		}
		a, okA := g.baseValue[v.cells[0]]
		b, okB := g.baseValue[c]
		if okA != okB || okA && math.Abs(a-b) > 1e-12*math.Abs(a) {
			*ds = append(*ds, differentRows(v, g.st.scenario.Name))
			return
		}
		cells[c] = moved{column: column}
	}
}

func differentRows(v *Varied, scenario string) table.Diagnostic {
	return table.Diagnostic{Code: "vary", Severity: table.Error, Summary: fmt.Sprintf("the rows of %s hold different values", v.Input),
		Help: "name one row; the sheet Uncertainty moves several by base * a factor", Place: v.Place, Scenario: scenario}
}

// inputsAt lists the values of all columns at a volume: every varied input has the base value.
func (p *Plan) inputsAt(volume float64) []float64 {
	out := make([]float64, p.graph.columns)
	out[0] = volume
	for i := range p.varied {
		if v := &p.varied[i]; v.column > 0 {
			out[v.column] = v.BaseValue
		}
	}
	return out
}

// VariedAt lists the inputs that are columns of the plan, in the order of CompileOptions.Vary, with the base values at a
// volume, which a cell's expression may ask for.
func (p *Plan) VariedAt(volume float64) []Varied {
	out := append([]Varied(nil), p.varied...)
	if len(out) == 0 {
		return out
	}
	values := p.graph.before.Values([]float64{volume})
	for i := range out {
		out[i].setBaseValue(p.graph.before, values)
	}
	return out
}
