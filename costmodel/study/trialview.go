package study

import (
	"cmp"
	"math"
	"slices"
)

// A TrialQuestion is one quantity over all cells of a trial: what is asked for and what is known.
type TrialQuestion struct {
	Name, Direction, Unit string
	Cells                 [][]*TrialTarget // by grade, then gauge; nil where the cell could not be costed
}

// Questions lists the quantities of the sheets Targets and Trial values, each over all cells, in the order in which they come up.
func (t *Trial) Questions() []*TrialQuestion {
	var out []*TrialQuestion
	by := map[string]*TrialQuestion{}
	for i, row := range t.Cells {
		for k := range row {
			for n := range row[k].Targets {
				one := &row[k].Targets[n]
				q := by[one.Name+"|"+one.Direction]
				if q == nil {
					q = &TrialQuestion{Name: one.Name, Direction: one.Direction, Unit: one.Unit}
					for range t.Grades {
						q.Cells = append(q.Cells, make([]*TrialTarget, len(t.Gauges)))
					}
					by[one.Name+"|"+one.Direction] = q
					out = append(out, q)
				}
				q.Cells[i][k] = one
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

// Wanted is what is asked for in every cell; one is false where it differs by grade or gauge.
func (q *TrialQuestion) Wanted() (wanted float64, one bool) {
	wanted, seen := math.NaN(), false
	for _, row := range q.Cells {
		for _, c := range row {
			if c == nil {
				continue
			}
			if seen && c.Wanted != wanted && !(math.IsNaN(wanted) && math.IsNaN(c.Wanted)) {
				return math.NaN(), false
			}
			wanted, seen = c.Wanted, true
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
