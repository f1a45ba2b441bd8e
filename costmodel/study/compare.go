package study

import (
	"math"

	"piececost/costmodel"
)

// A Row is a number that several scenarios have: a cost element, a part, a step, a count. Values are by scenario, NaN
// where a scenario has no such row.
type Row struct {
	Key, Name string
	Unit      string // as shown; empty for a count
	Values    []float64
}

// Change returns what the row adds to the difference of a scenario to the base: a row that is absent counts as 0.
func (r Row) Change(i, base int) float64 { return orZero(r.Values[i]) - orZero(r.Values[base]) }

// Absent tells whether a scenario has no such row.
func (r Row) Absent(i int) bool { return math.IsNaN(r.Values[i]) }

func orZero(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// A CostTable is the piece cost of each scenario by rows that add up to it.
type CostTable struct {
	By    string // element, part or step
	Rows  []Row
	Total Row
}

// A Comparison puts scenario comparison:.
type Comparison struct {
	Details  []*costmodel.Detail
	Base     int
	Currency string
	Costs    []CostTable // by element, by part, by step
	Measures []Row       // mass, investment, lines, people, floor, price
	Lines    []Row       // by machine: whole lines, or the share of shared ones that is charged
	Mass     []MassVerdict
	Targets  [][]costmodel.Judgement // by target, then by scenario

	Benchmarks []BenchmarkView // by part that others were measured for
}

// Compare puts details of scenarios of one model side by side; base is the index of the one that the others are held
// against.
func Compare(details []*costmodel.Detail, base int) *Comparison {
	model := details[0].Plan.Model
	c := &Comparison{Details: details, Base: base, Currency: model.Schema.Units.ModelCurrency()}
	c.Costs = []CostTable{c.elements(), c.byRow("part", partCost), c.byRow("operation", stepCost)}
	c.Measures, c.Lines = measures(details), lines(details)
	c.Benchmarks = benchmarks(details)
	for _, d := range details {
		c.Mass = append(c.Mass, CompareMass(details[base], d))
	}
	for _, t := range model.Targets {
		var row []costmodel.Judgement
		for _, d := range details {
			row = append(row, t.Judge(d))
		}
		c.Targets = append(c.Targets, row)
	}
	return c
}

// Table returns the cost table by element, part or step.
func (c *Comparison) Table(by string) *CostTable {
	for i := range c.Costs {
		if c.Costs[i].By == by {
			return &c.Costs[i]
		}
	}
	return nil
}

func (c *Comparison) total() Row {
	return scenarioRow(c.Details, "piece_cost", "Piece cost", c.Currency, func(l costmodel.Entry) float64 { return l.Must("piece_cost") })
}

func (c *Comparison) elements() CostTable {
	t := CostTable{By: "element", Total: c.total()}
	for _, e := range c.Details[0].Plan.Model.Schema.Elements {
		t.Rows = append(t.Rows, scenarioRow(c.Details, e.Name, e.Label, c.Currency, func(l costmodel.Entry) float64 { return l.Must(e.PieceName()) }))
	}
	return t
}

func scenarioRow(details []*costmodel.Detail, key, name, unit string, value func(costmodel.Entry) float64) Row {
	r := Row{Key: key, Name: name, Unit: unit}
	for _, d := range details {
		r.Values = append(r.Values, value(d.Scenario()))
	}
	return r
}

// partCost is what the steps of a part cost a good product; ok is false for what has no steps, whose price is in the step
// that it joins at.
func partCost(d *costmodel.Detail, l costmodel.Entry) (float64, bool) {
	if _, ok := l.Follow("first"); !ok {
		return 0, false
	}
	v, ok := l.Value("annual_cost")
	return v / d.Volume, ok
}

func stepCost(_ *costmodel.Detail, l costmodel.Entry) (float64, bool) { return l.Value("piece_cost") }

// byRow makes a cost table of the rows of any of the scenarios, matched by key, in the order of the first that has them.
func (c *Comparison) byRow(by string, cost func(*costmodel.Detail, costmodel.Entry) (float64, bool)) CostTable {
	scope := by
	if by == "operation" {
		scope = "operation"
	}
	t := CostTable{By: by, Total: c.total()}
	m := merger{scenarios: len(c.Details), at: map[string]int{}}
	for i, d := range c.Details {
		for _, l := range d.Entries(scope) {
			if v, ok := cost(d, l); ok {
				m.put(l.Record().Key, l.Record().Name(), c.Currency, i, v)
			}
		}
	}
	t.Rows = m.rows
	return t
}

// merger collects rows by key.
type merger struct {
	scenarios int
	at        map[string]int
	rows      []Row
}

func (m *merger) put(key, name, unit string, scenario int, value float64) {
	n, ok := m.at[key]
	if !ok {
		n = len(m.rows)
		m.at[key] = n
		r := Row{Key: key, Name: name, Unit: unit, Values: make([]float64, m.scenarios)}
		for i := range r.Values {
			r.Values[i] = math.NaN()
		}
		m.rows = append(m.rows, r)
	}
	m.rows[n].Values[scenario] = orZero(m.rows[n].Values[scenario]) + value
}
