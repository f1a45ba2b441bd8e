package costmodel

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A PlaceholderShare is a default or a relation of the library that is a placeholder, and how much of a piece cost hangs on it.
type PlaceholderShare struct {
	Of    string    // the form or process, or the title of the scope
	Item  Item      // the default or relation
	Rows  []*Record // that take it
	In    string    // the scenario
	Share float64   // of the piece cost: by how many percent it moves for a percent of the placeholder, here from 5 % below to 5 % above it
}

// placeholderStep is how far a placeholder is moved to either side.
const placeholderStep = 0.05

// placeholderMatters is the share of the piece cost from which a placeholder is told by name.
const placeholderMatters = 0.005

// mostPlaceholders is how many a note names.
const mostPlaceholders = 12

// Placeholders lists the placeholders that the piece cost of a scenario takes at an annual volume, those with the largest share first.
// What a cell gives instead is none. A share is NaN where the scenario can't be costed with the placeholder moved.
func (p *Plan) Placeholders(volume float64) []PlaceholderShare {
	out, cells := p.takenPlaceholders()
	if len(out) == 0 {
		return nil
	}
	base := p.Detail(volume).Scenario().Must("piece_cost")
	for i := range out {
		below, above := p.movedBy(cells[i], 1-placeholderStep, volume), p.movedBy(cells[i], 1+placeholderStep, volume)
		out[i].In = p.Scenario.Name
		out[i].Share = (above - below) / (2 * placeholderStep) / base
	}
	slices.SortStableFunc(out, func(a, b PlaceholderShare) int { return compareShares(b, a) })
	return out
}

// takenPlaceholders finds the placeholders of a plan, and the cells of each.
func (p *Plan) takenPlaceholders() (out []PlaceholderShare, cells [][]Fixed) {
	at := map[string]int{}
	bears := p.bearsOnPieceCost()
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		for n := range int32(len(r.scope.Quantities)) {
			if !bears[r.first+n] {
				continue
			}
			o := p.Origin(plan.Entity(e), n)
			if o.Kind != FromEquation || o.Definition.Item.Kind != Placeholder {
				continue
			}
			s := PlaceholderShare{Of: checkOwner(r, n), Item: o.Definition.Item}
			key := s.Of + "/" + s.Item.Name
			if _, known := at[key]; !known {
				at[key] = len(out)
				out, cells = append(out, s), append(cells, nil)
			}
			i := at[key]
			out[i].Rows = append(out[i].Rows, r.rec)
			cells[i] = append(cells[i], Fixed{Scope: r.scope.Name, Quantity: s.Item.Name, Row: plan.Entity(e), by: ByFactor})
		}
	}
	return out, cells
}

// bearsOnPieceCost finds the cells that the scenario's piece cost is made of, by walking from it through all that its equations name, so
// that what serves checks alone is not moved.
func (p *Plan) bearsOnPieceCost() map[plan.Cell]bool {
	g := p.graph
	seen := map[plan.Cell]bool{}
	var walk func(c plan.Cell)
	walk = func(c plan.Cell) {
		if seen[c] || !p.plan.Has(c) {
			return
		}
		seen[c] = true
		e, n := plan.Locate(g, c)
		def, err := g.Define(e, n)
		for at := &def; err == nil && at != nil; at = at.Base {
			if at.Kind != plan.Computed {
				continue
			}
			for _, ref := range at.Eq.Refs {
				if to, ok := g.ends(e, ref); ok {
					for _, t := range to {
						walk(g.rows[t].first + ref.Quantity)
					}
				}
			}
		}
	}
	walk(p.scenarioCells([]string{"piece_cost"})[0])
	return seen
}

// toolHelp says where coefficients of tools go, where some are among the placeholders.
func toolHelp(list []PlaceholderShare) string {
	for _, s := range list {
		if s.Rows[0].Scope == toolKindScope {
			return ", those of tools into rows of the sheet " + toolRelations
		}
	}
	return ""
}

// movedBy is the piece cost with cells multiplied by a factor, NaN where it can't be costed.
func (p *Plan) movedBy(cells []Fixed, factor, volume float64) float64 {
	moved := slices.Clone(cells)
	for i := range moved {
		moved[i].Value = factor
	}
	q, _ := p.With(moved...)
	if q == nil {
		return math.NaN()
	}
	return q.Detail(volume).Scenario().Must("piece_cost")
}

// CasePlaceholders lists the placeholders that matter to the piece cost of any scenario, each at the scenario's own volume, where its
// share is largest, and counts the others that are taken.
func CasePlaceholders(plans []*Plan) (matter []PlaceholderShare, others int) {
	var list []PlaceholderShare
	for _, p := range plans {
		list = append(list, p.Placeholders(p.Scenario.Volume)...)
	}
	slices.SortStableFunc(list, func(a, b PlaceholderShare) int { return compareShares(b, a) })
	seen := map[string]bool{}
	for _, s := range list {
		switch key := s.Of + "/" + s.Item.Name; {
		case seen[key]:
		case math.Abs(s.Share) < placeholderMatters:
			others++
			seen[key] = true
		default:
			matter = append(matter, s)
			seen[key] = true
		}
	}
	return matter, others
}

// PlaceholderNote says once for a case which placeholders matter; it is empty where none does.
func PlaceholderNote(plans []*Plan) table.Diagnostics {
	matter, others := CasePlaceholders(plans)
	if len(matter) == 0 {
		return nil
	}
	var told []string
	for _, s := range matter {
		told = append(told, s.Says()+" "+shareText(s.Share))
	}
	rest, least := "", placeholderMatters
	if more := len(matter) - mostPlaceholders; more > 0 {
		least = math.Abs(matter[mostPlaceholders-1].Share)
		told, others = told[:mostPlaceholders], others+more
	}
	if others > 0 {
		rest = fmt.Sprintf("; %d more with less than %s", others, shareText(least))
	}
	return table.Diagnostics{{Code: "placeholder", Severity: table.Note, Place: matter[0].Rows[0].Place,
		Summary: "the piece cost rests on placeholders of the library: " + strings.Join(told, ", ") + rest,
		Help:    "that share of it moves with each; type own figures into columns of these names" + toolHelp(matter)}}
}

func compareShares(a, b PlaceholderShare) int {
	x, y := math.Abs(a.Share), math.Abs(b.Share)
	switch {
	case x < y || math.IsNaN(y) && !math.IsNaN(x):
		return -1
	case y < x || math.IsNaN(x) && !math.IsNaN(y):
		return 1
	}
	return 0
}

// Says names a placeholder for a person.
func (s *PlaceholderShare) Says() string { return s.Item.Label + " of " + s.Of }

func shareText(share float64) string {
	if math.IsNaN(share) {
		return "(share not known)"
	}
	return fmt.Sprintf("%.2g %%", share*100)
}
