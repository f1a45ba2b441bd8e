package scenarios

import (
	"math"
	"strconv"
	"strings"
)

// Machines that are rows of a price relation: each operation has one of its own, as large as it needs.

// longSize is what a machine of a size has of its own: what is sized, and the word that stands in the names of what leads to it.
var longSize = map[string]struct{ rated, of string }{"force": {"rated_force", "force"}, "power": {"rated_power", "power"},
	"bed length": {"bed_length", "bed_length"}}

// longSizedPrices are the price relations of the archive, over the size.
var longSizedPrices = map[string]func(size float64) float64{
	"GE": func(kN float64) float64 { return 30000 * math.Sqrt(kN/100) }, "VE": func(kW float64) float64 { return 9000 + 2500*kW },
	"GN": func(kN float64) float64 { return 30000 * math.Sqrt(kN/100) },
	"CE": func(mm float64) float64 { return 8000 + 12*mm },
	"F":  func(kN float64) float64 { return 20000 + 100*kN }, "G": func(kN float64) float64 { return 30000 * math.Sqrt(kN/100) },
	"W": func(kW float64) float64 { return 4000 * kW }, "V": func(kW float64) float64 { return 9000 + 2500*kW },
	"B": func(mm float64) float64 { return 15 * mm }, "C": func(mm float64) float64 { return 8000 + 12*mm },
}

// machineOf is the machine of a step: that of its row, or one of the step's own size.
func (c *longhand) machineOf(s *longStep, plant string) *longMachine {
	for _, r := range c.stock {
		if size, sized := longSize[r.cells["sized_by"]]; sized && r.key == s.cells["machine"] {
			m := &longMachine{longRow: newLongRow("machine", r.key+" for "+s.key, map[string]string{}), plant: c.plants[plant]}
			for name, cell := range r.cells {
				m.cells[name] = cell
			}
			m.takeSize(s.must("required_"+size.of), size.rated, size.of, longSizedPrices[r.key])
			m.rates()
			c.machines[m.key+" in "+plant] = m
			return m
		}
	}
	return c.machineIn(s.cells["machine"], plant)
}

// takeSize finds the size that is enough for what a step needs, with the reserve, in the series, and its price.
func (m *longMachine) takeSize(needed float64, rated, of string, price func(float64) float64) {
	wanted := m.is("wanted_"+of, needed+needed*m.in("size_reserve", 0)/100)
	least := m.is("least_"+of, wanted*(1-1e-9))
	size, largest := wanted, wanted
	if series := m.cells["size_series"]; series != "" {
		words := strings.FieldsFunc(series, func(r rune) bool { return strings.ContainsRune(", ", r) })
		for i := len(words) - 2; i >= 0; i-- { // the last word is the unit
			one, err := strconv.ParseFloat(words[i], 64)
			if err != nil {
				panic(err)
			}
			if i == len(words)-2 {
				size, largest = one, one
			} else if one >= least {
				size = one
			}
		}
	}
	m.check("larger than the price relation and its size series go", least <= m.in("largest_"+of, largest), least)
	m.cells[rated] = strconv.FormatFloat(size, 'g', -1, 64)
	m.cells["price"] = strconv.FormatFloat(price(size), 'g', -1, 64)
}
