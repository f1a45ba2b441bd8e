package costmodel

import (
	"piececost/costmodel/plan"
)

// A Piece is a stretch of whole annual volumes in which the piece cost is one smooth function of the volume, and Smooth
// that function, in model currency per good product.
type (
	Piece  = plan.Piece
	Smooth = plan.Smooth
)

// Pieces walks over the piece cost of the scenario from one whole annual volume (good products per year, above 0) to
// another, both included, from one jump or bend to the next. What is varied beside the volume stands at the base values.
func (p *Plan) Pieces(from, to int) *plan.Walker {
	cell := p.scenarioCells([]string{"piece_cost"})[0]
	return p.plan.Pieces(cell, p.inputsAt(p.Scenario.Volume), from, to)
}
