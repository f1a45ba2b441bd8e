package costmodel

import (
	"math"
	"testing"

	"github.com/shopspring/decimal"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
)

// A reading evaluates a scenario's cells as they are documented: a cell is its definition, its names are the cells they
// lead to, and only what is needed is looked at. No forms, no columns, no folding: slow and plain, in any kind of number.
type reading[N any] struct {
	graph  *graph
	volume N
	number func(float64) N
	add    func(a, b N) N
	eval   func(n *formula.Node, values []N) N
	holds  func(N) bool
	known  map[plan.Cell]N
	open   map[plan.Cell]bool
	seen   func(plan.Cell, *formula.Node, []N) // told of every equation evaluated
}

// cell evaluates a cell once; what is not defined or needs itself is no number.
func (r *reading[N]) cell(c plan.Cell) N {
	if v, ok := r.known[c]; ok {
		return v
	}
	if r.open[c] {
		return r.number(math.NaN())
	}
	r.open[c] = true
	e, quantity := plan.Locate(r.graph, c)
	var v N
	if def, err := r.graph.Define(e, quantity); err == nil {
		v = r.definition(def, e, c)
	} else {
		v = r.number(math.NaN())
	}
	delete(r.open, c)
	r.known[c] = v
	return v
}

func (r *reading[N]) definition(def plan.Definition, e plan.Entity, c plan.Cell) N {
	switch def.Kind {
	case plan.Given:
		return r.number(def.Value)
	case plan.Varies:
		return r.volume
	}
	values := make([]N, len(def.Eq.Refs))
	root := def.Eq.Expr.Root
	r.fill(root, values, func(ref int) N { return r.name(def, def.Eq.Refs[ref], e, c) })
	if r.seen != nil {
		r.seen(c, root, values)
	}
	return r.eval(root, values)
}

// fill finds the values of the names below a node, of a conditional only those of the branch taken.
func (r *reading[N]) fill(n *formula.Node, values []N, name func(ref int) N) {
	switch n.Kind {
	case formula.Name, formula.Sum:
		values[n.Ref] = name(n.Ref)
	case formula.Cond:
		r.fill(n.Args[0], values, name)
		branch := n.Args[2]
		if r.holds(r.eval(n.Args[0], values)) {
			branch = n.Args[1]
		}
		r.fill(branch, values, name)
	default:
		for _, a := range n.Args {
			r.fill(a, values, name)
		}
	}
}

// name returns what a name means for a row.
func (r *reading[N]) name(def plan.Definition, ref plan.Ref, e plan.Entity, c plan.Cell) N {
	switch {
	case ref.Fixed:
		return r.number(ref.Constant)
	case ref.Base:
		return r.definition(*def.Base, e, c)
	}
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			total := r.number(0)
			for _, m := range r.graph.Members(e, hop) {
				total = r.add(total, r.cell(r.graph.FirstCell(m)+ref.Quantity))
			}
			return total
		}
		if e = r.graph.Follow(e, hop); e < 0 {
			return r.number(math.NaN())
		}
	}
	at := r.graph.FirstCell(e) + ref.Quantity
	if ref.Option == 0 {
		return r.cell(at)
	}
	if option, err := r.choice(at); err == nil && option == ref.Option-1 {
		return r.number(1)
	}
	return r.number(0)
}

// choice follows a choice to the row that makes it; choices never vary.
func (r *reading[N]) choice(c plan.Cell) (int, error) {
	e, quantity := plan.Locate(r.graph, c)
	def, err := r.graph.Define(e, quantity)
	if err != nil || def.Kind == plan.Given {
		return int(def.Value), err
	}
	if def.Eq.Expr.Root.Kind == formula.Number {
		return int(def.Eq.Expr.Root.Value), nil
	}
	ref := def.Eq.Refs[0]
	for _, hop := range ref.Hops {
		e = r.graph.Follow(e, hop)
	}
	return r.choice(r.graph.FirstCell(e) + ref.Quantity)
}

// binaryReading reads cells in float64 with the language's own scalar evaluation. added holds, by cell, the largest
// number in the sum that its equation is: what its value may cancel from.
func binaryReading(p *Plan, volume float64) (r *reading[float64], added map[plan.Cell]float64) {
	added = map[plan.Cell]float64{}
	g := p.graph
	return &reading[float64]{graph: g, volume: volume, known: map[plan.Cell]float64{}, open: map[plan.Cell]bool{},
		number: func(v float64) float64 { return v },
		add:    func(a, b float64) float64 { return a + b },
		eval:   func(n *formula.Node, values []float64) float64 { return formula.Eval(n, values, g.Curve) },
		holds:  func(v float64) bool { return v != 0 },
		seen: func(c plan.Cell, n *formula.Node, values []float64) {
			added[c] = max(added[c], largestAdded(n, values, g.Curve))
		}}, added
}

func largestAdded(n *formula.Node, values []float64, curve func(string) *formula.Curve) float64 {
	switch {
	case n.Kind == formula.Binary && (n.Op == formula.Add || n.Op == formula.Sub):
		return max(largestAdded(n.Args[0], values, curve), largestAdded(n.Args[1], values, curve))
	case n.Kind == formula.Cond && formula.Eval(n.Args[0], values, curve) != 0:
		return largestAdded(n.Args[1], values, curve)
	case n.Kind == formula.Cond:
		return largestAdded(n.Args[2], values, curve)
	}
	return math.Abs(formula.Eval(n, values, curve))
}

// decimalPlaces is the number of decimals that the decimal reading keeps.
const decimalPlaces = 40

// decimalReading reads cells in decimals.
func decimalReading(p *Plan, volume float64) *reading[decimal.Decimal] {
	return &reading[decimal.Decimal]{graph: p.graph, volume: decimal.NewFromFloat(volume), known: map[plan.Cell]decimal.Decimal{}, open: map[plan.Cell]bool{},
		number: decimal.NewFromFloat, // panics at what is no number: none may be needed
		add:    decimal.Decimal.Add, eval: evalDecimal,
		holds: func(v decimal.Decimal) bool { return !v.IsZero() }}
}

func evalDecimal(n *formula.Node, values []decimal.Decimal) decimal.Decimal {
	args := make([]decimal.Decimal, len(n.Args))
	if n.Kind == formula.Cond {
		if evalDecimal(n.Args[0], values).IsZero() {
			return evalDecimal(n.Args[2], values)
		}
		return evalDecimal(n.Args[1], values)
	}
	for i, a := range n.Args {
		args[i] = evalDecimal(a, values)
	}
	switch n.Kind {
	case formula.Number:
		return decimal.NewFromFloat(n.Value)
	case formula.Name, formula.Sum:
		return values[n.Ref]
	case formula.Negate:
		return args[0].Neg()
	case formula.Not:
		return decimal.NewFromInt(1).Sub(args[0])
	case formula.Convert:
		return args[0].Sub(decimal.NewFromFloat(n.Unit.Zero)).Mul(decimal.NewFromFloat(n.Value)).Round(decimalPlaces)
	case formula.Binary:
		return applyDecimal(n.Op, args[0], args[1])
	}
	return callDecimal(n.Fn.Name, args)
}

func applyDecimal(op formula.Op, a, b decimal.Decimal) decimal.Decimal {
	holds := false
	switch op {
	case formula.Add:
		return a.Add(b)
	case formula.Sub:
		return a.Sub(b)
	case formula.Mul, formula.And:
		return a.Mul(b).Round(decimalPlaces)
	case formula.Div:
		return a.DivRound(b, decimalPlaces)
	case formula.Or:
		return decimal.Max(a, b)
	case formula.Less:
		holds = a.LessThan(b)
	case formula.LessEq:
		holds = a.LessThanOrEqual(b)
	case formula.Greater:
		holds = a.GreaterThan(b)
	case formula.GreaterEq:
		holds = a.GreaterThanOrEqual(b)
	case formula.Equal:
		holds = a.Equal(b)
	case formula.NotEqual:
		holds = !a.Equal(b)
	default:
		panic("no decimal form of " + op.String())
	}
	if holds {
		return decimal.NewFromInt(1)
	}
	return decimal.Zero
}

func callDecimal(name string, a []decimal.Decimal) decimal.Decimal {
	switch name {
	case "max":
		return decimal.Max(a[0], a[1:]...)
	case "min":
		return decimal.Min(a[0], a[1:]...)
	case "abs":
		return a[0].Abs()
	case "ceil":
		return a[0].Sub(decimal.NewFromFloat(formula.WholeTolerance)).Ceil()
	case "capital_recovery":
		return recoveryDecimal(a[0], a[1])
	}
	panic("no decimal form of " + name)
}

// recoveryDecimal is i(1+i)^n/((1+i)^n-1) for whole years, the power by multiplication.
func recoveryDecimal(i, years decimal.Decimal) decimal.Decimal {
	if !years.IsInteger() || i.IsZero() {
		panic("whole years and a rate only")
	}
	growth := decimal.NewFromInt(1)
	for n := years.IntPart(); n > 0; n-- {
		growth = growth.Mul(i.Add(decimal.NewFromInt(1))).Round(decimalPlaces)
	}
	return i.Mul(growth).DivRound(growth.Sub(decimal.NewFromInt(1)), decimalPlaces)
}

// referenceVolumes go from a single piece to a million, round ones and others.
var referenceVolumes = []float64{1, 7, 100, 999, 5000, 12345, 60000, 60000.5, 123456, 250001, 499999, 1e6}

// TestDetailIsTheReference compares every computed cell with the plain reading, folded and unfolded.
func TestDetailIsTheReference(t *testing.T) {
	eachScenario(t, func(t *testing.T, folded, plain *Plan) {
		cells := 0
		for _, volume := range referenceVolumes {
			ref, added := binaryReading(folded, volume)
			got, unfolded := folded.Detail(volume), plain.Detail(volume)
			for c := plan.Cell(0); c < folded.graph.cells; c++ {
				if !folded.plan.Has(c) {
					continue
				}
				cells++
				want := ref.cell(c)
				floor := 1e-9 * max(added[c], math.Abs(want))
				for _, v := range []float64{got.values[c], unfolded.values[c]} {
					if !(math.Abs(v-want) <= floor) {
						t.Errorf("at %v per year %s: %v, want %v", volume, cellName(folded.graph, c), v, want)
					}
				}
			}
		}
		if cells < len(referenceVolumes)*2000 {
			t.Errorf("only %d cells compared", cells)
		}
	})
}

func cellName(g *graph, c plan.Cell) string {
	e, quantity := plan.Locate(g, c)
	return g.rows[e].scope.Quantities[quantity].Name + " of " + g.label(e)
}

// TestSameCellsUnfolded holds that folding decides how a cell is computed, never whether.
func TestSameCellsUnfolded(t *testing.T) {
	eachScenario(t, func(t *testing.T, folded, plain *Plan) {
		for c := plan.Cell(0); c < folded.graph.cells; c++ {
			if folded.plan.Has(c) != plain.plan.Has(c) {
				t.Errorf("%s: compiled %v folded, %v unfolded", cellName(folded.graph, c), folded.plan.Has(c), plain.plan.Has(c))
			}
		}
	})
}

// TestSweepIsTheReference compares the columns of a sweep with the plain reading, and over more volumes than a block
// holds folded with unfolded.
func TestSweepIsTheReference(t *testing.T) {
	eachScenario(t, func(t *testing.T, folded, plain *Plan) {
		volumes := append(append([]float64{}, referenceVolumes...), VolumeRange(1, 1e6, 1500)...)
		a, errA := folded.Sweep(volumes)
		b, errB := plain.Sweep(volumes)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		for n, name := range folded.Model.Schema.sweepQuantities() {
			for i, v := range volumes {
				if !within(1e-9, a.Columns[n][i], b.Columns[n][i]) {
					t.Errorf("%s at %v per year: %v folded, %v unfolded", name, v, a.Columns[n][i], b.Columns[n][i])
				}
			}
			for i, v := range referenceVolumes {
				ref, _ := binaryReading(folded, v)
				if want := ref.cell(folded.scenarioCells(folded.Model.Schema.sweepQuantities())[n]); !within(1e-9, a.Columns[n][i], want) {
					t.Errorf("%s at %v per year: %v, want %v", name, v, a.Columns[n][i], want)
				}
			}
		}
	})
}

func within(relative, got, want float64) bool { return math.Abs(got-want) <= relative*math.Abs(want) }

// TestDecimalReading bounds what binary numbers do to money: piece cost and elements against an all-decimal evaluation.
func TestDecimalReading(t *testing.T) {
	const bound = 1e-12
	largest, where := 0.0, ""
	eachScenario(t, func(t *testing.T, folded, _ *Plan) {
		for _, volume := range referenceVolumes {
			exact, d := decimalReading(folded, volume), folded.Detail(volume)
			for n, c := range folded.scenarioCells(folded.Model.Schema.sweepQuantities()) {
				want := exact.cell(c)
				if want.IsZero() { // an element that the sample has none of
					if d.values[c] != 0 {
						t.Errorf("%s at %v per year: %v, want 0", folded.Model.Schema.sweepQuantities()[n], volume, d.values[c])
					}
					continue
				}
				off, _ := decimal.NewFromFloat(d.values[c]).Sub(want).DivRound(want, decimalPlaces).Abs().Float64()
				if off > largest {
					largest, where = off, folded.Model.Schema.sweepQuantities()[n]
				}
				if off > bound {
					t.Errorf("%s at %v per year: %v, want %v", folded.Model.Schema.sweepQuantities()[n], volume, d.values[c], want.StringFixed(20))
				}
			}
		}
	})
	t.Logf("the largest difference is %.2g, of %s", largest, where)
	if largest == 0 {
		t.Error("binary and decimal agree to the last digit: nothing was compared")
	}
}
