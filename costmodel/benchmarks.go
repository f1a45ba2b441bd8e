package costmodel

import (
	"math"
	"strings"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A Benchmark is what the sheet Benchmarks says about one part: what others weigh and cost per area, length or volume, and how large the own
// part is. Part is empty for the scenario's product.
type Benchmark struct {
	Part      string
	Size      units.Unit // m2, m or m3: in which sizes are shown
	Rows      []*MeasuredPart
	Figures   *BenchmarkFigures // of Rows; nil where there are none
	own       map[string]BenchmarkCell
	place     table.Place // of its first row
	firstSize units.Unit  // as it is written there
}

// A MeasuredPart is a row: a part or assembly of another maker.
type MeasuredPart struct {
	Name   string
	Source string
	Place  table.Place
	Mass   BenchmarkCell
	Size   BenchmarkCell
	Cost   BenchmarkCell // of a NaN where it is not known
}

// A BenchmarkCell is a number of the sheet.
type BenchmarkCell struct {
	Value float64 // coherent
	Cell  table.Value
	// Times is by how much a plain number of the cell is multiplied; 0 where the cell holds none that a formula could follow.
	Times float64
}

// ownRow is the name of the row that gives the size of the own part in every scenario that has no row of its own name.
const ownRow = "own"

// Name says what the benchmark is about.
func (b *Benchmark) Name() string {
	if b.Part == "" {
		return "product"
	}
	return "part " + b.Part
}

// OwnSizeIn is the size of the own part in a scenario; ok is false where the sheet gives none.
func (b *Benchmark) OwnSizeIn(scenario string) (c BenchmarkCell, ok bool) {
	if c, ok = b.own[strings.ToLower(scenario)]; !ok {
		c, ok = b.own[ownRow]
	}
	return c, ok
}

// Quantities are the quantities of a scenario, or of a part, that are held against the measured mass and cost.
func (b *Benchmark) Quantities() (mass, cost string) {
	if b.Part == "" {
		return "net_mass", "piece_cost"
	}
	return "net_mass", "piece_cost_including_components"
}

// RowIn is the row of a scenario that the benchmark is about: the scenario itself, or the part; ok is false where it has no such part.
func (b *Benchmark) RowIn(d *Detail) (Entry, bool) {
	if b.Part == "" {
		return d.Scenario(), true
	}
	for _, l := range d.Entries("part") {
		if l.Record().Key == b.Part {
			return l, true
		}
	}
	return Entry{}, false
}

// costed tells whether the cost of a row stands there: that of a purchased part is in the operation at which it joins.
func (b *Benchmark) costed(l Entry) bool { return b.Part == "" || l.Must("has_route") == 1 }

// OwnIn are mass, cost and size of the own part in a scenario, coherent; NaN what it has not.
func (b *Benchmark) OwnIn(d *Detail) map[ComparedName]float64 {
	none := math.NaN()
	own := map[ComparedName]float64{OwnMass: none, OwnCost: none, OwnSize: none}
	l, ok := b.RowIn(d)
	if !ok {
		return own
	}
	if size, ok := b.OwnSizeIn(d.Plan.Scenario.Name); ok {
		own[OwnSize] = size.Value
	}
	mass, cost := b.Quantities()
	if v, ok := l.Value(mass); ok {
		own[OwnMass] = v
	}
	if v, ok := l.Value(cost); ok && b.costed(l) {
		own[OwnCost] = v
	}
	return own
}

// evaluate takes the figures of the measured rows.
func (b *Benchmark) evaluate(e *BenchmarkEquations) {
	var rows []map[ComparedName]float64
	for _, r := range b.Rows {
		rows = append(rows, map[ComparedName]float64{MeasuredMass: r.Mass.Value, MeasuredSize: r.Size.Value, MeasuredCost: r.Cost.Value})
	}
	b.Figures = e.Over(rows)
}
