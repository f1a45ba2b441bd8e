package costmodel

import (
	"fmt"
	"math"
	"sort"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// readVolumes reads the sheet Volumes: a volume a row, or from, to and points (evenly spaced by ratio).
func (m *Model) readVolumes() {
	t := m.Case.Table("Volumes")
	if t == nil {
		return
	}
	per := map[string]units.Unit{}
	for _, c := range t.Columns {
		name, unit, bracket := table.SplitHeading(c.Heading)
		if name != "annual_volume" && name != "from" && name != "to" {
			continue
		}
		q := &Quantity{Name: name, Label: table.Label(name), Unit: units.Unit{Text: "1/yr", Dim: units.PerYear, Factor: 1}}
		per[name] = m.columnUnit(q, c.Place, fmt.Sprintf("heading %q", c.Heading), unit, bracket, fmt.Sprintf("write %s [1/yr]", q.Label))
	}
	seen := map[float64]bool{}
	add := func(v float64) {
		if !seen[v] {
			seen[v] = true
			m.Volumes = append(m.Volumes, v)
		}
	}
	for _, row := range t.Rows {
		if v := t.ValueAt(row, "annual_volume"); v.Kind != table.Empty {
			if n, ok := m.volumeCell(v, per["annual_volume"]); ok {
				add(n)
			}
			continue
		}
		from, to, points := t.ValueAt(row, "from"), t.ValueAt(row, "to"), t.ValueAt(row, "points")
		if from.Kind == table.Empty && to.Kind == table.Empty && points.Kind == table.Empty {
			continue
		}
		a, okA := m.volumeCell(from, per["from"])
		b, okB := m.volumeCell(to, per["to"])
		if !okA || !okB {
			continue
		}
		if points.Kind != table.Number || points.Number < 2 || points.Number > 100000 || b <= a {
			m.Diagnostics.Add("volume", points.Place, "a range needs From below To and 2 to 100,000 Points", "correct the row")
			continue
		}
		for _, v := range VolumeRange(a, b, int(points.Number)) {
			add(v)
		}
	}
	sort.Float64s(m.Volumes)
}

func (m *Model) volumeCell(v table.Value, u units.Unit) (float64, bool) {
	if v.Kind != table.Number || !(v.Number > 0) {
		m.Diagnostics.Add("volume", v.Place, "the annual volume must be a number above 0", "correct or clear the cell")
		return 0, false
	}
	if !PossibleVolume(v.Number * u.Factor) {
		m.Diagnostics.Add("volume", v.Place, fmt.Sprintf("the annual volume is %v, but it must be at most %.0f", v.Number, HighestPossible),
			"check the value and its unit")
		return 0, false
	}
	return v.Number * u.Factor, true
}

// HighestPossible is the highest annual volume that can be costed; the library's range of the annual volume ends there.
const HighestPossible = 1e10

// PossibleVolume tells whether an annual volume can be costed.
func PossibleVolume(v float64) bool { return v > 0 && v <= HighestPossible }

// VolumeRange returns n whole volumes from a to b, evenly spaced by ratio, without repetition.
func VolumeRange(a, b float64, n int) []float64 {
	var out []float64
	for i := 0; i < n; i++ {
		v := math.Round(a * math.Pow(b/a, float64(i)/float64(n-1)))
		if i == 0 {
			v = a
		}
		if i == n-1 {
			v = b
		}
		if len(out) == 0 || v > out[len(out)-1] {
			out = append(out, v)
		}
	}
	return out
}
