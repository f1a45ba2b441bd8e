package scenarios

import (
	"fmt"

	"piececost/costmodel/study"
)

// mostCounted is the highest number of lines that stands in a number format: spreadsheet programs take some 200 formats of
// one's own. Above it the cell is words.
const mostCounted = 99

// busiestMachine names the own machine that runs short first.
func (b *writer) busiestMachine(p *page, row int, c *study.Capacity) {
	words := "–"
	if u, ok := c.Busiest(); ok {
		words = fmt.Sprintf("%s %.1f%%", u.Key, 100*u.Load)
	}
	p.set(row, volumeColumns, words, look{kind: "label", right: true, wrap: true})
	p.grow(row, words, 12)
}

// volumeMachines writes a row a machine and a column a volume: load of own lines, lines charged of shared machines, and crew
// shifts of pools.
func (b *writer) volumeMachines(p *page, row int, v *study.VolumeView) int {
	machines, busiest := v.Machines(), v.Busiest()
	for first := 0; first < len(v.Points); first += volumeColumns - 1 {
		s := machineSheet{b, p, v, machines, busiest, first, min(first+volumeColumns-1, len(v.Points))}
		row = s.block(row, "Load by machine, own lines in brackets; bold: the busiest", func(u study.MachineUse) float64 { return u.Own }, s.load)
		row = s.block(row, "Shared machines: lines charged", func(u study.MachineUse) float64 { return u.Shared }, func(row, col, _ int, u study.MachineUse) {
			s.b.number(p, row, col, u.Shared, look{kind: "number", format: "#,##0.00"})
		})
		row = s.block(row, "Pools: crew shifts a day", func(u study.MachineUse) float64 { return u.CrewShifts }, func(row, col, _ int, u study.MachineUse) {
			s.b.number(p, row, col, u.CrewShifts, look{kind: "number", format: "#,##0"})
		})
		row++
	}
	return row - 1
}

// machineSheet is the machines of a scenario at some of the volumes, being written.
type machineSheet struct {
	b           *writer
	p           *page
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
				s.p.set(row, col, nil, look{kind: "number"})
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
	s.p.set(row, 1, title, look{kind: "heading"})
	for i := s.first; i < s.last; i++ {
		v := s.v.Points[i].Volume
		s.p.set(row, 2+i-s.first, v, look{kind: "heading", right: true, format: volumeFormat(v)})
	}
	s.p.grow(row, title, 26)
}

func (s *machineSheet) name(row int, m study.MachineOver) {
	text := m.Key
	if m.Name != "" && m.Name != m.Key {
		text += " " + m.Name
	}
	s.p.set(row, 1, text, look{kind: "label", wrap: true})
	s.p.grow(row, text, 33)
}

// load writes the load of the own lines with their count.
func (s *machineSheet) load(row, col, volume int, u study.MachineUse) {
	k := look{kind: "number", right: true}
	if u.Key == s.busiest[volume] {
		k.kind = "best"
	}
	if u.Own > mostCounted {
		s.p.set(row, col, fmt.Sprintf("%.1f%% (%.0f)", 100*u.Load, u.Own), k)
		return
	}
	k.format = fmt.Sprintf(`0.0%%" (%.0f)"`, u.Own)
	s.b.number(s.p, row, col, u.Load, k)
}
