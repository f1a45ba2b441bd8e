package results

import (
	"fmt"
	"math"

	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// mostCounted is the highest number of lines that stands in a number format: spreadsheet programs take some 200 formats of
// one's own. Above it the cell is words.
const mostCounted = 99

// busiestMachine names the product-specific machine that runs short first.
func (b *writer) busiestMachine(p *sheet.Page, row int, c *study.Capacity) {
	words := "–"
	if u, ok := c.Busiest(); ok {
		words = fmt.Sprintf("%s %.1f%%", u.Key, 100*u.Load)
	}
	p.Set(row, volumeColumns, words, sheet.Look{Kind: "label", Right: true, Wrap: true})
	p.Grow(row, words, 12)
}

// volumeMachines writes a row a machine and a column a volume: load of product-specific lines, lines charged of shared machines, and crew
// shifts of pools.
func (b *writer) volumeMachines(p *sheet.Page, row int, v *study.VolumeView) int {
	machines, busiest := v.Machines(), v.Busiest()
	for first := 0; first < len(v.Points); first += volumeColumns - 1 {
		s := machineSheet{b, p, v, machines, busiest, first, min(first+volumeColumns-1, len(v.Points))}
		row = s.block(row, "Capacity utilisation by machine, product-specific lines in brackets; bold: the busiest",
			func(u study.MachineUse) float64 { return u.Own }, s.load)
		row = s.block(row, "Shared machines: lines charged", func(u study.MachineUse) float64 { return u.Shared }, func(row, col, _ int, u study.MachineUse) {
			s.b.number(p, row, col, u.Shared, sheet.Look{Kind: "number", Format: "#,##0.00"})
		})
		row = s.block(row, "Pools: crew shifts per day", func(u study.MachineUse) float64 { return u.CrewShifts }, func(row, col, _ int, u study.MachineUse) {
			s.b.number(p, row, col, u.CrewShifts, sheet.Look{Kind: "number", Format: "#,##0"})
		})
		row++
	}
	return row - 1
}

// machineSheet is the machines of a scenario at some of the volumes, being written.
type machineSheet struct {
	b           *writer
	p           *sheet.Page
	v           *study.VolumeView
	machines    []study.MachineOver
	busiest     []string
	first, last int // of the volumes
}

// block writes the machines that have a quantity at some volume, cell by cell; it returns the row below.
func (s *machineSheet) block(row int, title string, of func(study.MachineUse) float64, cell func(row, col, volume int, u study.MachineUse)) int {
	start := row
	for _, m := range s.machines {
		if !m.Has(of) {
			continue
		}
		if row == start {
			s.heading(row, title)
		}
		row++
		s.name(row, m)
		for i := s.first; i < s.last; i++ {
			col := 2 + i - s.first
			if of(m.Uses[i]) > 0 {
				cell(row, col, i, m.Uses[i])
			} else {
				s.p.Set(row, col, nil, sheet.Look{Kind: "number"})
			}
		}
	}
	if row == start {
		return row
	}
	return row + 1
}

// heading writes a title and the volumes as numbers.
func (s *machineSheet) heading(row int, title string) {
	s.p.Set(row, 1, title, sheet.Look{Kind: "heading"})
	for i := s.first; i < s.last; i++ {
		v := s.v.Points[i].Volume
		s.p.Set(row, 2+i-s.first, v, sheet.Look{Kind: "heading", Right: true, Format: volumeFormat(v)})
	}
	s.p.Grow(row, title, 26)
}

func (s *machineSheet) name(row int, m study.MachineOver) {
	text := m.Key
	if m.Name != "" && m.Name != m.Key {
		text += " " + m.Name
	}
	s.p.Set(row, 1, text, sheet.Look{Kind: "label", Wrap: true})
	s.p.Grow(row, text, 33)
}

// load writes the load of the product-specific lines with their count.
func (s *machineSheet) load(row, col, volume int, u study.MachineUse) {
	k := sheet.Look{Kind: "number", Right: true}
	if u.Key == s.busiest[volume] {
		k.Kind = "best"
	}
	if u.Own > mostCounted {
		s.p.Set(row, col, fmt.Sprintf("%.1f%% (%.0f)", 100*u.Load, u.Own), k)
		return
	}
	k.Format = fmt.Sprintf(`0.0%%" (%.0f)"`, u.Own)
	s.b.number(s.p, row, col, u.Load, k)
}

// volumeColumns are a column of words or of the annual volume, and ten more.
const volumeColumns = 11

// volumeFormat shows a volume that is no whole number with its decimals.
func volumeFormat(v float64) string {
	if v == math.Trunc(v) {
		return "#,##0"
	}
	return "#,##0.####"
}
