package costmodel

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// benchmarkScope is the scope of the file of benchmarks; it has no rows of the model.
const benchmarkScope = "benchmark"

// A Statistic is what is taken over measured rows.
type Statistic string

// The statistics. A row without a number is passed over; what too few numbers leave unsaid is NaN.
const (
	CountStatistic     Statistic = "number of values"
	AverageStatistic   Statistic = "average"
	LowestStatistic    Statistic = "lowest"
	HighestStatistic   Statistic = "highest"
	DeviationStatistic Statistic = "standard deviation" // of a sample, by n - 1 (ISO 3534-1)
)

// Statistics lists them in the order in which tables show them.
var Statistics = []Statistic{CountStatistic, AverageStatistic, LowestStatistic, HighestStatistic, DeviationStatistic}

// Of takes a statistic of numbers; NaN is none. The deviation is taken about the mean, in a second pass, so that it keeps its digits.
func (s Statistic) Of(values []float64) float64 {
	known := slices.DeleteFunc(slices.Clone(values), math.IsNaN)
	n := float64(len(known))
	switch {
	case s == CountStatistic:
		return n
	case n == 0 || s == DeviationStatistic && n < 2:
		return math.NaN()
	case s == LowestStatistic:
		return slices.Min(known)
	case s == HighestStatistic:
		return slices.Max(known)
	}
	mean := 0.0
	for range 2 { // the second pass takes off what rounding left in the first
		rest := 0.0
		for _, v := range known {
			rest += v - mean
		}
		mean += rest / n
	}
	if s == AverageStatistic {
		return mean
	}
	squares := 0.0
	for _, v := range known {
		squares += (v - mean) * (v - mean)
	}
	return math.Sqrt(squares / (n - 1))
}

// The inputs of a benchmark's equations; all else in them is shown as it is written there.
const (
	MeasuredMass ComparedName = "measured_mass" // kg
	MeasuredCost ComparedName = "measured_cost" // model currency per piece, NaN where it is not known
	MeasuredSize ComparedName = "measured_size" // m2, m or m3
	OwnMass      ComparedName = "own_mass"      // kg
	OwnCost      ComparedName = "own_cost"      // model currency per piece
	OwnSize      ComparedName = "own_size"      // m2, m or m3
)

var (
	ofMeasured = []ComparedName{MeasuredMass, MeasuredSize, MeasuredCost}
	ofOwn      = []ComparedName{OwnMass, OwnSize, OwnCost}
)

// BenchmarkEquations are the equations of measured parts of others for one kind of size, of templates/equations: what is taken of each
// measured row, statistics over all rows, and how an own part stands to them.
type BenchmarkEquations struct {
	*Comparison
	Measured, Statistics, Own []*Definition // in the order of the file
}

// newBenchmarkEquations checks the equations against a case's currency, the size being in m2, m or m3.
func newBenchmarkEquations(t *Template, sys *units.System, size string) (*BenchmarkEquations, error) {
	if t == nil {
		return nil, errors.New("equations: no file has the scope " + benchmarkScope)
	}
	items := slices.Clone(t.Items)
	for i := range items {
		items[i].Unit = strings.ReplaceAll(items[i].Unit, "m2", size)
	}
	e := &BenchmarkEquations{Comparison: &Comparison{index: map[string]int{}}}
	if err := e.read(items, sys); err != nil {
		return nil, err
	}
	for _, name := range append(slices.Clone(ofMeasured), ofOwn...) {
		if i, ok := e.index[string(name)]; !ok || e.items[i].expr != nil {
			return nil, fmt.Errorf("%s: no input %s, which the program asks for by name", t.File, name)
		}
	}
	return e, e.sort()
}

// sort tells what is of a measured row, of all of them, or of an own part; the first and the last don't mix.
func (e *BenchmarkEquations) sort() error {
	own, measured := map[string]bool{}, map[string]bool{}
	for _, n := range ofMeasured {
		measured[string(n)] = true
	}
	for _, n := range ofOwn {
		own[string(n)] = true
	}
	for _, q := range e.items {
		if q.expr == nil {
			continue
		}
		name, d := q.item.Name, &Definition{Item: q.item, Unit: q.unit}
		reads := func(kind map[string]bool) bool {
			return slices.ContainsFunc(q.expr.Names, func(n formula.NameUse) bool { return kind[n.Path] })
		}
		switch fault := fmt.Sprintf("%s:%d: %s", q.item.place.File, q.item.place.Row, name); {
		case reads(measured) && reads(own):
			return fmt.Errorf("%s mixes a measured part and an own one", fault)
		case q.item.Statistic != "" && (q.expr.Root.Kind != formula.Name || !reads(measured)):
			return fmt.Errorf("%s is a statistic, so that its equation is the name of a quantity of measured parts", fault)
		case q.item.Statistic != "":
			e.Statistics = append(e.Statistics, d)
		case reads(measured):
			measured[name] = true
			e.Measured = append(e.Measured, d)
		default:
			own[name] = true
			e.Own = append(e.Own, d)
		}
	}
	return nil
}

// inputs lists inputs by name, in the order given.
func (e *BenchmarkEquations) inputs(names []ComparedName) (out []*Definition) {
	for _, n := range names {
		q := e.items[e.index[string(n)]]
		out = append(out, &Definition{Item: q.item, Unit: q.unit})
	}
	return out
}

// MeasuredInputs are mass, size and cost of a measured row, OwnInputs those of an own part.
func (e *BenchmarkEquations) MeasuredInputs() []*Definition { return e.inputs(ofMeasured) }

// OwnInputs are those of an own part, in the same order.
func (e *BenchmarkEquations) OwnInputs() []*Definition { return e.inputs(ofOwn) }

// Taken is the statistic of a kind over a quantity of measured parts, nil where the file has none.
func (e *BenchmarkEquations) Taken(kind Statistic, over string) *Definition {
	for _, d := range e.Statistics {
		if d.Item.Statistic == kind && d.Item.Is == over {
			return d
		}
	}
	return nil
}

// BenchmarkFigures are the equations for measured rows.
type BenchmarkFigures struct {
	Equations *BenchmarkEquations
	Rows      []Compared // in the order given
	taken     map[int]float64
}

// Over evaluates the equations over measured rows.
func (e *BenchmarkEquations) Over(rows []map[ComparedName]float64) *BenchmarkFigures {
	f := &BenchmarkFigures{Equations: e, taken: map[int]float64{}}
	for range rows {
		f.Rows = append(f.Rows, Compared{of: e.Comparison, values: make([]float64, len(e.items))})
	}
	for i, q := range e.items {
		values := make([]float64, len(rows))
		for r := range rows {
			values[r] = f.Rows[r].next(q, rows[r])
			f.Rows[r].values[i] = values[r]
		}
		if q.item.Statistic != "" {
			f.taken[i] = q.item.Statistic.Of(values)
			for r := range rows {
				f.Rows[r].values[i] = f.taken[i]
			}
		}
	}
	return f
}

// next is an item that sees those before it; an input that is not given is NaN.
func (v Compared) next(q compared, in map[ComparedName]float64) float64 {
	if q.expr != nil {
		return v.eval(q.expr)
	}
	if x, ok := in[ComparedName(q.item.Name)]; ok {
		return x
	}
	return math.NaN()
}

// Against holds an own part against the measured rows.
func (f *BenchmarkFigures) Against(own map[ComparedName]float64) Compared {
	e := f.Equations
	v := Compared{of: e.Comparison, values: make([]float64, len(e.items))}
	for i, q := range e.items {
		if q.item.Statistic != "" {
			v.values[i] = f.taken[i]
			continue
		}
		v.values[i] = v.next(q, own)
	}
	return v
}

// Taken is a statistic over the rows, in coherent units; NaN where there are too few numbers.
func (f *BenchmarkFigures) Taken(name string) float64 { return f.taken[f.Equations.index[name]] }
