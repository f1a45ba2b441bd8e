package costmodel

import (
	"fmt"
	"math"

	"piececost/costmodel/table"
)

// The number of values of an axis on a sheet.
const (
	leastPoints = 2
	mostPoints  = 100
)

func (r *questionReader) points(v table.Value, what string) int {
	if v.Kind == table.Empty {
		return 0
	}
	if v.Kind != table.Number || v.Number != math.Trunc(v.Number) || v.Number < leastPoints || v.Number > mostPoints {
		r.model.Diagnostics.Add("study", v.Place, what+" is no whole number", fmt.Sprintf("write one from %d to %d, or clear the cell", leastPoints,
			mostPoints))
		return 0
	}
	return int(v.Number)
}

// fits checks what several cells say together.
func (r *questionReader) fits(q *Question, row table.Row) {
	at := func(name string) table.Place { return r.table.ValueAt(row, name).Place }
	for _, a := range []struct {
		AskedInput
		from string
	}{{q.First, "from"}, {q.Second, "second_from"}} {
		given, to := !math.IsNaN(a.From), !math.IsNaN(a.To)
		if given != to || given && !(a.From < a.To) {
			r.model.Diagnostics.Add("study", at(a.from), table.Label(a.from)+" and its end do not make a range",
				"fill both, the lower value first, or clear both")
		}
	}
	target := !math.IsNaN(q.Target)
	volumes := q.Kind == AskCrossover || q.Kind == AskStability
	first, twice := r.once[q.Kind]
	if q.Kind == AskCrossover || q.Kind == AskCompare {
		r.once[q.Kind] = q.Place
	}
	switch {
	case twice:
		r.model.Diagnostics.Add("duplicate", q.Place, fmt.Sprintf("%s stands twice", q.Kind), "delete one of the two rows",
			table.Related{Place: first, Note: "first at"})
	case q.First.Input == nil && !volumes && r.table.ValueAt(row, "from").Kind != table.Empty:
		r.model.Diagnostics.Add("study", at("from"), "From and To say nothing without an Input", "name the input, or clear them")
	case q.Kind == AskSolve && target == (q.Against != nil):
		r.model.Diagnostics.Add("study", q.Place, "break-even values need either a scenario under Against or a piece cost under Target", "fill one of the two")
	case len(q.Scenarios) == 1 && q.Scenarios[0] == q.Against:
		r.model.Diagnostics.Add("study", at("against"), "a scenario is held against itself", "name another one")
	case volumes && !math.IsNaN(q.First.From) && !wholeVolumes(q.First):
		r.model.Diagnostics.Add("study", at("from"), "a cross-over is looked for at whole annual volumes from 1 to 10,000,000", "write whole numbers")
	}
}

// MostVolume is the highest annual volume at which cross-overs are looked for, 1/yr.
const MostVolume = 10_000_000

// wholeVolumes tells whether a range goes from one whole annual volume to another.
func wholeVolumes(a AskedInput) bool {
	return a.From >= 1 && a.To <= MostVolume && a.From == math.Trunc(a.From) && a.To == math.Trunc(a.To)
}
