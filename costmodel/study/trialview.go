package study

import (
	"cmp"
	"math"
	"slices"
)

// A TrialQuestion is one quantity over all cells of a trial: what is asked for and what is known.
type TrialQuestion struct {
	Name, Direction, Unit string
	Cells                 [][]*TrialTarget // by grade, then gauge; nil where nothing is asked for or known
}

// Questions lists the quantities of the sheets Targets and Trial values, each over all cells, in the order in which they come up. What is asked for in
// some cells alone is one question; one that is asked in both directions is two.
func (t *Trial) Questions() []*TrialQuestion {
	var out []*TrialQuestion
	asked := t.directions()
	by := map[string]*TrialQuestion{}
	for i, row := range t.Cells {
		for k := range row {
			for n := range row[k].Targets {
				one := &row[k].Targets[n]
				direction := cmp.Or(one.Direction, asked[one.Name])
				q := by[one.Name+"|"+direction]
				if q == nil {
					q = &TrialQuestion{Name: one.Name, Direction: direction, Unit: one.Unit}
					for range t.Grades {
						q.Cells = append(q.Cells, make([]*TrialTarget, len(t.Gauges)))
					}
					by[one.Name+"|"+direction] = q
					out = append(out, q)
				}
				q.Cells[i][k] = one
			}
		}
	}
	return out
}

// directions is the first direction in which each quantity is asked for in some cell.
func (t *Trial) directions() map[string]string {
	out := map[string]string{}
	for _, row := range t.Cells {
		for k := range row {
			for _, one := range row[k].Targets {
				out[one.Name] = cmp.Or(out[one.Name], one.Direction)
			}
		}
	}
	return out
}

// Has tells whether a value of some source is among the cells.
func (q *TrialQuestion) Has(s TrialSource) bool {
	for _, row := range q.Cells {
		for _, c := range row {
			if c != nil && c.Source == s && !math.IsNaN(c.Value) {
				return true
			}
		}
	}
	return false
}

// Wanted is what is asked for in every cell that asks; one is false where it differs by grade or gauge.
func (q *TrialQuestion) Wanted() (wanted float64, one bool) {
	wanted = math.NaN()
	for _, row := range q.Cells {
		for _, c := range row {
			switch {
			case c == nil || math.IsNaN(c.Wanted):
			case math.IsNaN(wanted):
				wanted = c.Wanted
			case c.Wanted != wanted:
				return math.NaN(), false
			}
		}
	}
	return wanted, true
}

// A TrialReason is what speaks against cells, or is open in them.
type TrialReason struct {
	Words string
	Cells []*TrialCell
}

// Reasons lists what speaks against cells, each once, in the order of the cells.
func (t *Trial) Reasons() []*TrialReason {
	return t.reasons(func(c *TrialCell) []string { return c.Fails })
}

// OpenPoints lists the targets of which nothing is known, each once.
func (t *Trial) OpenPoints() []*TrialReason {
	return t.reasons(func(c *TrialCell) []string { return c.Open })
}

func (t *Trial) reasons(of func(*TrialCell) []string) (out []*TrialReason) {
	by := map[string]*TrialReason{}
	for i := range t.Cells {
		for k := range t.Cells[i] {
			c := &t.Cells[i][k]
			for _, words := range of(c) {
				r := by[words]
				if r == nil {
					r = &TrialReason{Words: words}
					by[words] = r
					out = append(out, r)
				}
				r.Cells = append(r.Cells, c)
			}
		}
	}
	return out
}

// FrontCells lists the front of cost against mass, the cheapest first.
func (t *Trial) FrontCells() []*TrialCell {
	return t.byCost(func(c *TrialCell) bool { return c.Front })
}

// Others lists the cells that pass and are not on the front, the cheapest first, without the base.
func (t *Trial) Others() []*TrialCell {
	return t.byCost(func(c *TrialCell) bool { return c.Passes() && c.Costed() && !c.Front && !c.IsBase })
}

// byCost lists cells by their piece cost.
func (t *Trial) byCost(is func(*TrialCell) bool) (out []*TrialCell) {
	for i := range t.Cells {
		for k := range t.Cells[i] {
			if c := &t.Cells[i][k]; is(c) {
				out = append(out, c)
			}
		}
	}
	slices.SortStableFunc(out, func(a, z *TrialCell) int { return cmp.Compare(a.PieceCost, z.PieceCost) })
	return out
}
