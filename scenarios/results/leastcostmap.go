package results

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// tints are the grounds of a map's cells by scenario, told apart by the letters where colours fail.
var tints = []string{"BFD8DF", "F6DDB0", "D5E4BC", "E6C4CC", "CCD7EA", "EFE6C3", "BFE0DA", "EBD3BF", "D3CCDF", "D9DBDD"}

// maps writes for each map the letters of the cheapest scenarios on their colours, and how much the second best costs more.
func (b *writer) maps() error {
	if len(b.result.Maps) == 0 {
		return nil
	}
	p, err := b.Page(MapSheet, "Least-cost map: which scenario is the cheapest over two inputs")
	if err != nil {
		return err
	}
	b.staleMark(p)
	row, widest := 6, 0
	for n, m := range b.result.Maps {
		if n > 0 {
			p.Breaks = append(p.Breaks, row)
		}
		row = b.cheapestMap(p, row, m) + 1
		widest = max(widest, len(m.Xs))
	}
	p.Widths[1] = 24
	for i := range widest {
		p.Widths[2+i] = 9.5
	}
	p.Landscape, p.Titles = true, 4
	return p.Flush()
}

// cheapestMap writes one map and returns the row below.
func (b *writer) cheapestMap(p *sheet.Page, row int, m *MapStudy) int {
	letters := m.Letters()
	b.band(p, row, "Cheapest scenario "+b.mapVolume(m), 1+len(m.Xs))
	g := &valueGrid{x: &m.X, y: &m.Y, xs: m.Xs, ys: m.Ys}
	row = g.put(b, p, row+1, func(r, c, j, i int) {
		k := sheet.Look{Kind: "tint", Centre: true}
		if best := m.Cheapest[j][i]; best >= 0 {
			k.Fill = tints[best%len(tints)]
		}
		p.Set(r, c, m.Letter(letters, j, i), k)
	})
	for s, sc := range m.Scenarios {
		p.Set(row, 1, letters[s], sheet.Look{Kind: "tint", Centre: true, Fill: tints[s%len(tints)]})
		p.Set(row, 2, sc.Name, sheet.Look{Kind: "text"})
		row++
	}
	p.Set(row, 1, fmt.Sprintf("A small letter: the second best costs less than %s %% more. A dash: no scenario can be costed there.",
		costmodel.ShownNumber(100*study.CloseShare)), sheet.Look{Kind: "faint"})
	row = b.notes(p, row+1, append([]string{b.asTheyStand(&m.X, &m.Y)}, m.Notes()...)) + 1
	p.Breaks = append(p.Breaks, row)
	b.band(p, row, fmt.Sprintf("Cost difference of the second best, %s per good piece", b.currency()), 1+len(m.Xs))
	return g.put(b, p, row+1, func(r, c, j, i int) {
		b.number(p, r, c, m.Margin[j][i], sheet.Look{Kind: "number", Format: b.money()})
	})
}

// mapVolume says at which volume a map holds.
func (b *writer) mapVolume(m *MapStudy) string {
	switch {
	case m.X.IsVolume() || m.Y.IsVolume():
		return "by annual volume"
	case m.Volume > 0:
		return "at " + volumeText(m.Volume) + " per year"
	}
	return "at each one's own annual volume"
}
