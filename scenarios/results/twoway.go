package results

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// twoWay writes a table over two inputs and returns the row below.
func (b *writer) twoWay(p *sheet.Page, row int, t *TableStudy) int {
	words := fmt.Sprintf("%s, %s per good piece", sentence(t.Measure.Name()), b.currency())
	if !t.X.IsVolume() && !t.Y.IsVolume() {
		words += ", at " + volumesOf(t.Measure)
	}
	b.band(p, row, words, 1+len(t.Xs))
	g := &valueGrid{x: &t.X, y: &t.Y, xs: t.Xs, ys: t.Ys}
	row = g.put(b, p, row+1, func(r, c, j, i int) {
		k := sheet.Look{Kind: "number", Format: b.money()}
		if t.Measure.Against != nil && t.Cells[j][i] < 0 {
			k.Kind = "best"
		}
		b.number(p, r, c, t.Cells[j][i], k)
	})
	if t.Measure.Against != nil {
		p.Set(row, 1, fmt.Sprintf("Bold on a ground, below 0: %s is the cheaper one.", t.Measure.Scenario.Name), sheet.Look{Kind: "faint"})
		row++
	}
	return b.notes(p, row, append([]string{b.asTheyStand(&t.X, &t.Y)}, t.Notes()...))
}

// mostElasticities is the number of inputs whose elasticity the sheet ranks.
const mostElasticities = 15

// elasticities writes what a percent of each input is worth, and returns the row below.
func (b *writer) elasticities(p *sheet.Page, row int, s *Sensitivity) int {
	c := b.currency()
	b.band(p, row, "Elasticity: effect of +1 % of each input, of all inputs at once: "+s.Measure.Name(), 11)
	row++
	p.MixedHeading(row, []int{1, 2, 7}, "Input", "Unit of its cell", "Base value", "effect of +1 % ["+c+"]", "by steps of 5 % ["+c+"]",
		"elasticity", "Remark", "", "", "", "")
	for i := range s.Elasticities[:min(len(s.Elasticities), mostElasticities)] {
		e := &s.Elasticities[i]
		row++
		v := &e.Input
		b.setWords(p, row, 1, v.Input.String(), 42, sheet.Look{Kind: "label", Wrap: true})
		p.Set(row, 2, b.unitWords(v), sheet.Look{Kind: "label"})
		shown := v.Shown(v.BaseValue)
		b.number(p, row, 3, shown, sheet.Look{Kind: "number", Format: sheet.ValueFormat(shown)})
		fine := sheet.Look{Kind: "number", Format: signedFormat(b.fineMoney())}
		b.number(p, row, 4, e.PerPercent, fine)
		b.number(p, row, 5, e.Wide, fine)
		b.number(p, row, 6, e.Value, sheet.Look{Kind: "number", Format: sheet.Padded("0.000")})
		for c := 8; c <= 11; c++ {
			p.Set(row, c, nil, sheet.Look{Kind: "label"})
		}
		p.Set(row, 7, elasticityRemark(e), sheet.Look{Kind: "label"})
	}
	row++
	if n := len(s.Elasticities) - mostElasticities; n > 0 {
		p.Set(row, 1, fmt.Sprintf("%d inputs more count less; piececost sensitivity --elasticities --top 0 lists all.", n), sheet.Look{Kind: "faint"})
		row++
	}
	if len(s.Elasticities) > 0 && math.IsNaN(s.Elasticities[0].Value) {
		p.Set(row, 1, "A difference of two scenarios may be near 0, so it has no elasticity in percent.", sheet.Look{Kind: "faint"})
		row++
	}
	return row
}

// elasticityRemark says what to beware of.
func elasticityRemark(e *study.Elasticity) string {
	var out []string
	if e.Uneven {
		out = append(out, "uneven: integer quantities make capacity steps, or it is non-linear")
	}
	if e.OneSided {
		out = append(out, "one side only")
	}
	return strings.Join(out, "; ")
}
