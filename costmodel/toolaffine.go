package costmodel

import (
	"errors"
	"fmt"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// The build-up of a tool's price as a sum: what each chosen coefficient is multiplied by, and what the others come to. It is read from
// the equations themselves, those of the workbook's own sheet Processes among them, so that a relation that is not linear in the
// coefficients is found and refused.

// A Coefficient is one of a kind of tool as it stands.
type Coefficient struct {
	Name, Label string
	Unit        string // as shown: h/cm2, EUR/h
	Value       float64
	Placeholder bool        // of the library
	Place       table.Place // of its cell; without a row where no cell gives it
	Fitted      bool        // found from past data where nobody says which
	quantity    int32
	factor      float64 // of its unit
}

// ToolKinds lists the kinds of tool of the past tools, in the order of their sheet.
func (m *Model) ToolKinds() []string { return m.pastToolKinds() }

// Coefficients lists the coefficients of a kind of tool that can be fitted. One that a cell gives as an expression is not among them.
func (m *Model) Coefficients(kind string) (out []Coefficient) {
	sc := m.Schema.byName[toolKindScope]
	rec := m.toolKindNamed(kind)
	for n := range int32(len(sc.Quantities)) {
		q := sc.Quantities[n]
		d := sc.definition(sc.variant(kind), n)
		if q.Check != nil || q.Structural || d == nil || !d.Item.Input {
			continue
		}
		c := Coefficient{Name: q.Name, Label: q.Label, Unit: m.ShownUnit(q.Unit), quantity: n, factor: q.Unit.Factor, Fitted: d.Item.Fitted}
		switch v, known := coefficientValue(rec, d, n); {
		case !known && d.Equation != nil:
			continue
		case known:
			c.Value = q.Unit.Shown(v)
		}
		c.Placeholder = rec.field(n) == nil && d.Item.Kind == Placeholder
		if f := rec.field(n); f != nil {
			c.Place = f.value.Place
		}
		out = append(out, c)
	}
	return out
}

// coefficientValue is the value in force, coherent; false where there is none, or none that is a plain number.
func coefficientValue(rec *Record, d *Definition, n int32) (float64, bool) {
	if f := rec.field(n); f != nil {
		return f.def.Value, f.def.Kind == plan.Given && !f.def.failed
	}
	if d.Equation == nil || len(d.Equation.Refs) > 0 {
		return 0, false
	}
	return formula.Eval(d.Equation.Expr.Root, nil, nil), true
}

// A ToolSum is the build-up of a past tool's price: what the other coefficients come to, and the multiple of each chosen one, in model
// currency and currency per the coefficient's unit.
type ToolSum struct {
	Tool  *PastTool
	Rest  float64
	Times []float64
}

// ToolSums reads the build-up of each past tool of a kind as a sum in the chosen coefficients.
func (m *Model) ToolSums(kind string, chosen []Coefficient) ([]ToolSum, error) {
	var out []ToolSum
	for _, p := range m.ToolsOf(kind) {
		x := &toolSum{m: m, tool: p, rec: m.toolKindNamed(kind), variant: m.Schema.byName[toolKindScope].variant(kind), chosen: chosen,
			known: map[int32]formula.Affine{}, open: map[int32]bool{}}
		a, err := x.quantity(m.Schema.byName["operation"].MustQuantity("tool_price"))
		if err == nil {
			if err = a.Finite(); err != nil {
				err = fmt.Errorf("the tool price of %s %w", p.Name, err)
			}
		}
		if err != nil {
			return nil, x.inWords(err)
		}
		s := ToolSum{Tool: p, Rest: a.Const, Times: make([]float64, len(chosen))}
		for i, c := range chosen {
			s.Times[i] = a.Of[i] * c.factor
		}
		out = append(out, s)
	}
	return out, nil
}

// toolSum reads the build-up of one past tool.
type toolSum struct {
	m       *Model
	tool    *PastTool
	rec     *Record
	variant *Variant
	chosen  []Coefficient
	known   map[int32]formula.Affine
	open    map[int32]bool // being read, to find circles
}

// inWords names the coefficients of a relation that is not linear.
func (x *toolSum) inWords(err error) error {
	var not *formula.NotLinear
	if !errors.As(err, &not) {
		return err
	}
	var names []string
	for _, i := range not.Unknowns {
		names = append(names, x.chosen[i].Label)
	}
	why, do := not.Why, "leave it out, so that it keeps its value"
	if len(names) > 1 {
		why, do = strings.NewReplacer("stands", "stand", "decides", "decide").Replace(why), "leave one of them out, so that it keeps its value"
	}
	return fmt.Errorf("the tool price is not linear in %s, which %s; %s", strings.Join(names, " and "), why, do)
}

// quantity is a quantity of an operation with this tool.
func (x *toolSum) quantity(n int32) (formula.Affine, error) {
	if v, given := x.tool.fields[n]; given {
		return formula.Affine{Const: v}, nil
	}
	if a, done := x.known[n]; done {
		return a, nil
	}
	sc := x.m.Schema.byName["operation"]
	d := sc.definition(nil, n)
	if d == nil || d.Equation == nil || x.open[n] {
		return formula.Affine{}, x.lacks(sc.Quantities[n])
	}
	x.open[n] = true
	a, err := formula.AffineOf(d.Equation.Expr.Root, func(ref int) (formula.Affine, error) { return x.name(sc, n, &d.Equation.Refs[ref]) }, x.curve)
	if err == nil {
		x.known[n] = a
	}
	x.open[n] = false
	return a, err
}

func (x *toolSum) curve(name string) *formula.Curve { return &x.m.Schema.curveNamed(name).Curve }

// name is what a name in the equation of a quantity comes to. Of other rows a past tool has its kind alone.
func (x *toolSum) name(sc *Scope, of int32, ref *plan.Ref) (formula.Affine, error) {
	switch {
	case ref.Fixed:
		return formula.Affine{Const: ref.Constant}, nil
	case len(ref.Hops) == 0 && ref.Option == 0 && !ref.Base && !sc.Quantities[ref.Quantity].Structural:
		return x.quantity(ref.Quantity)
	case len(ref.Hops) == 1 && Relations[ref.Hops[0]].To == toolKindScope:
		return x.coefficient(ref.Quantity)
	}
	return formula.Affine{}, x.lacks(sc.Quantities[of])
}

func (x *toolSum) coefficient(n int32) (formula.Affine, error) {
	for i := range x.chosen {
		if x.chosen[i].quantity == n {
			return formula.Unknown(i), nil
		}
	}
	sc := x.m.Schema.byName[toolKindScope]
	if d := sc.definition(x.variant, n); d != nil {
		if v, ok := coefficientValue(x.rec, d, n); ok {
			return formula.Affine{Const: v}, nil
		}
	}
	return formula.Affine{}, fmt.Errorf("%s of tool kind %s has no number; give it one in the sheet %s", sc.Quantities[n].Label, x.rec.Key, toolRelations)
}

// lacks says which figure a past tool lacks.
func (x *toolSum) lacks(q *Quantity) error {
	unit := ""
	if q.Unit.Text != "1" {
		unit = " [" + x.m.ShownUnit(q.Unit) + "]"
	}
	return fmt.Errorf("%s: past tool %s has no %s; give it in a column %s%s of the sheet %s, 0 where it has none", x.tool.Place, x.tool.Name, q.Label,
		q.Label, unit, pastTools)
}
