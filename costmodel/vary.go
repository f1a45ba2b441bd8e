package costmodel

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/units"
)

// An Input names a number that can be varied: one quantity of a row of an input sheet, given or computed.
type Input struct {
	Sheet  string // "Materials"
	Row    string // a key ("A01/20") or a selector as in Scenarios; empty for Case and Scenarios
	Column string // a heading, with or without its unit, or the name of the quantity
}

// String writes the input as ParseInput reads it: "Materials/M04/Base price".
func (in Input) String() string {
	if in.Row == "" {
		return in.Sheet + "/" + in.Column
	}
	return in.Sheet + "/" + in.Row + "/" + in.Column
}

// ParseInput reads "Sheet/row/column"; a key may have slashes of its own, and so may the unit in a heading's brackets. The
// sheets Case and Scenarios have no row: "Case/Interest". "Annual volume" alone is that of the sheet Scenarios.
func ParseInput(text string) (Input, error) {
	parts := splitInput(strings.TrimSpace(text))
	if len(parts) == 1 && Normalise(beforeBracket(parts[0])) == "annual_volume" {
		return Input{Sheet: "Scenarios", Column: parts[0]}, nil
	}
	n := len(parts)
	if n < 2 || parts[0] == "" || parts[n-1] == "" {
		return Input{}, fmt.Errorf("%q names no input; write sheet/row/column, such as Materials/M04/Base price, or Annual volume", text)
	}
	return Input{Sheet: parts[0], Row: strings.Join(parts[1:n-1], "/"), Column: parts[n-1]}, nil
}

func beforeBracket(text string) string { text, _, _ = strings.Cut(text, "["); return text }

// splitInput cuts at slashes that stand in no brackets.
func splitInput(text string) []string {
	var out []string
	from, depth := 0, 0
	for i, r := range text {
		switch r {
		case '[':
			depth++
		case ']':
			depth--
		case '/':
			if depth <= 0 {
				out = append(out, strings.TrimSpace(text[from:i]))
				from = i + 1
			}
		}
	}
	return append(out, strings.TrimSpace(text[from:]))
}

// A Varied is an input as a scenario has it. Its values are coherent; Unit is that in which its cell is read.
type Varied struct {
	Input     Input // as the sheets write it
	Scope     string
	Quantity  int32
	Unit      units.Unit
	Today     float64 // at the scenario's own volume; NaN where it is not defined today
	Low, High float64 // plausible; NaN where no range is known
	From      OriginKind
	Place     Place    // of the cell that gives it, or of its row
	ChangedBy []string // the scenarios that change it
	Present   bool     // the scenario has the row
	Computed  bool     // today's value rests on other quantities, which move nothing through it once it is varied

	column int // of the compiled plan
	cells  []plan.Cell
}

// Shown turns a coherent value into the unit in which the cell is read, rounded to 14 digits, since a factor leaves crumbs
// behind; Coherent turns it back.
func (v *Varied) Shown(value float64) float64 {
	shown, err := strconv.ParseFloat(strconv.FormatFloat(value/v.Unit.Factor, 'g', 14, 64), 64)
	if err != nil {
		return value / v.Unit.Factor
	}
	return shown
}

// Coherent turns a value in the unit of the cell into a coherent one.
func (v *Varied) Coherent(value float64) float64 { return value * v.Unit.Factor }

// HasRange tells whether a plausible range is known.
func (v *Varied) HasRange() bool { return !math.IsNaN(v.Low) }

// IsVolume tells whether the input is the annual volume.
func (v *Varied) IsVolume() bool { return v.column == 0 }

// vary makes columns of the inputs: their cells are no longer defined as before. Faults go into ds.
func (g *graph) vary(inputs []Input, ds *Diagnostics) []Varied {
	g.columns = 1
	if len(inputs) == 0 {
		return nil
	}
	var out []Varied
	for _, in := range inputs {
		f, d := g.model.findInput(in)
		if d != nil {
			*ds = append(*ds, *d)
			continue
		}
		out = append(out, g.varied(f))
	}
	if len(out) < len(inputs) {
		return nil
	}
	g.todays(out)
	cells := map[plan.Cell]int32{}
	for i := range out {
		g.assign(&out[i], cells, ds)
	}
	g.inputs = cells
	return out
}

// varied describes an input that was found.
func (g *graph) varied(f foundInput) Varied {
	v := Varied{Input: f.input, Scope: f.scope.Name, Quantity: f.quantity, Unit: f.unit, Today: math.NaN(), Low: math.NaN(), High: math.NaN(), column: -1}
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
		if d := r.scope.definition(r.variant, f.quantity); d != nil && d.Item.Plausible != nil {
			v.Low, v.High = d.Item.Plausible[0]*d.Unit.Factor, d.Item.Plausible[1]*d.Unit.Factor
		}
	}
	v.ChangedBy = g.model.changedBy(f)
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
	var out []plan.Entity
	for e := range g.rows {
		for _, r := range f.records {
			if g.rows[e].rec == r {
				out = append(out, plan.Entity(e))
			}
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

// todays fills in today's values; of several rows that of the first.
func (g *graph) todays(list []Varied) {
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
	g.today = make(map[plan.Cell]float64, len(cells))
	for _, c := range cells {
		if p.Has(c) {
			g.today[c] = values[c]
		}
	}
	for i := range list {
		if v := &list[i]; v.Present && p.Has(v.cells[0]) {
			v.Today = values[v.cells[0]]
		}
	}
}

// assign gives an input its column. Rows that are varied alike must hold the same value today, and no cell may be varied
// twice.
func (g *graph) assign(v *Varied, cells map[plan.Cell]int32, ds *Diagnostics) {
	volume := v.Scope == "scenario" && g.rows[1].scope.Quantities[v.Quantity].Name == "annual_volume"
	column := int32(0)
	if !volume {
		column = int32(g.columns)
		g.columns++
	}
	v.column = int(column)
	for _, c := range v.cells {
		if _, twice := cells[c]; twice {
			*ds = append(*ds, Diagnostic{Code: "vary", Severity: Error, Summary: v.Input.String() + " is varied twice", Help: "name each input once", Place: v.Place, Scenario: g.st.scenario.Name})
			return
		}
		a, okA := g.today[v.cells[0]]
		b, okB := g.today[c]
		if okA != okB || okA && math.Abs(a-b) > 1e-12*math.Abs(a) {
			*ds = append(*ds, differentRows(v, g.st.scenario.Name))
			return
		}
		cells[c] = column
	}
}

func differentRows(v *Varied, scenario string) Diagnostic {
	return Diagnostic{Code: "vary", Severity: Error, Summary: fmt.Sprintf("the rows of %s hold different values", v.Input),
		Help: "name one row", Place: v.Place, Scenario: scenario}
}

// inputsAt lists the values of all columns at a volume: every varied input has today's value.
func (p *Plan) inputsAt(volume float64) []float64 {
	out := make([]float64, p.graph.columns)
	out[0] = volume
	for i := range p.varied {
		if v := &p.varied[i]; v.column > 0 {
			out[v.column] = v.Today
		}
	}
	return out
}

// Varied lists the inputs that are columns of the plan, in the order of CompileOptions.Vary.
func (p *Plan) Varied() []Varied { return p.varied }

// VariedAt is Varied with today's values at another volume, where a cell's expression asks for it.
func (p *Plan) VariedAt(volume float64) []Varied {
	out := append([]Varied(nil), p.varied...)
	if len(out) == 0 {
		return out
	}
	values := p.graph.before.Values([]float64{volume})
	for i := range out {
		if v := &out[i]; v.Present && p.graph.before.Has(v.cells[0]) {
			v.Today = values[v.cells[0]]
		}
	}
	return out
}
