package scenarios

import (
	"math/rand/v2"
	"slices"
	"strings"
)

// What few cases have is drawn last and from numbers of its own, so that it changes nothing of what the others draw.

// extras draws carriers of energy, start-up scrap, work beside the machine, shift premiums and set-ups of machines.
func (g *caseDraw) extras(seed, again uint64) {
	g.Rand = rand.New(rand.NewPCG(seed, 1000+again))
	inPlants := always(`(1 + case.interest_rate * "0.5 yr")`, `case.programme_life / "6 yr"`)
	inMachines := always(`(1 + case.interest_rate * "0.5 yr")`, `(0.8 + 0.1 * plant.shifts)`)
	if g.chance(0.5) {
		g.feature("shift premiums")
		g.quantityRows("Plants", g.plants, []spread{{"Second shift premium", 0, 20, "% 1=100", true, false},
			{"Third shift premium", 0, 40, "% 1=100", false, false}}, inPlants(nil))
	}
	if g.chance(0.5) {
		g.carriers(inPlants(nil), inMachines)
	}
	if g.chance(0.4) {
		g.feature("start-up scrap")
		g.addColumn("Operations", spread{"Start-up scrap", 0, 30, "1", false, false}, 0.5, everyRow, g.stepNames)
	}
	if g.chance(0.4) {
		g.feature("work beside the machine")
		g.addColumn("Operations", spread{"Parallel work time", 1, 90, "s min=60", false, false}, 0.5, everyRow, g.stepNames)
	}
	if g.chance(0.4) {
		g.setUps(inMachines)
	}
	if g.chance(0.3) {
		g.sendOut()
	}
	if g.chance(0.4) {
		g.priceBands()
	}
}

// carriers draws who burns gas or takes heat, and what that costs.
func (g *caseDraw) carriers(inPlants []string, inMachines func([]string) []string) {
	g.feature("carriers of energy")
	g.quantityRows("Plants", g.plants, []spread{{"Fuel gas price", 0.02, 0.12, "CUR/kWh CUR/MJ=3.6", true, false},
		{"Heat price", 0.02, 0.12, "CUR/kWh CUR/MJ=3.6", true, false}}, inPlants)
	for _, q := range []spread{{"Stand-by power", 0, 40, "kW W=0.001", false, false}, {"Fuel gas power", 0, 200, "kW MW=1000", false, false},
		{"Heat power", 0, 90, "kW", false, false}} {
		g.addColumn("Machines", q, 0.4, everyRow, inMachines)
	}
	for _, name := range []string{"Electricity consumption", "Fuel gas consumption", "Heat consumption"} {
		g.addColumn("Operations", spread{name, 0.01, 4, "kWh MJ=0.2777777777777778", false, false}, 0.3, everyRow, g.stepNames)
	}
}

// setUps gives machines a set-up time, batch size and reject rate, and clears some cells of their operations.
func (g *caseDraw) setUps(names func([]string) []string) {
	g.feature("set-ups of machines")
	g.addColumn("Machines", spread{"Set-up time", 0, 90, "min h=60", true, false}, 1, everyRow, names)
	g.addColumn("Machines", spread{"Batch size", 50, 9000, "1", true, false}, 1, everyRow, names)
	g.addColumn("Machines", spread{"Reject rate", 0, 6, "% 1=100", false, false}, 0.5, everyRow, names)
	for c, heading := range g.s["Operations"][0] {
		switch longName(heading) {
		case "setup_time", "batch_size", "defect_share":
			for _, row := range g.s["Operations"][1:] {
				if g.chance(0.4) {
					row[c] = ""
				}
			}
		}
	}
}

// sendOut lets another firm do some operations.
func (g *caseDraw) sendOut() {
	g.feature("outside processing")
	head, process := g.s["Operations"][0], g.s.column("Operations", "Process")
	chosen := map[string]bool{}
	for i, row := range g.s["Operations"][1:] {
		if i > 0 && g.chance(0.25) {
			chosen[row[0]+"/"+row[1]] = true
		}
	}
	for _, row := range g.s["Operations"][1:] {
		if !chosen[row[0]+"/"+row[1]] {
			continue
		}
		row[process] = "outside processing"
		if g.chance(0.7) {
			row[g.s.column("Operations", "Machine")] = ""
		}
		for c := range head {
			if c > 7 {
				row[c] = "" // what an operation of ours would have
			}
		}
	}
	names := func(row []string) []string {
		return slices.DeleteFunc(g.stepNames(row), func(name string) bool { return strings.Contains(name, "machine.") })
	}
	out := func(row []string) bool { return chosen[row[0]+"/"+row[1]] }
	g.addColumn("Operations", spread{"Batch size", 50, 9000, "1", true, false}, 1, out, names)
	g.addColumn("Operations", spread{"Price per piece", 0.01, 9, "CUR", true, false}, 1, out, names)
	for _, q := range []spread{{"Minimum lot charge", 10, 900, "CUR", false, false}, {"Transport per lot", 10, 300, "CUR", false, false},
		{"Transport per piece", 0.01, 0.4, "CUR", false, false}} {
		g.addColumn("Operations", q, 0.5, out, names)
	}
}

// priceBands gives some purchased parts and grades prices by annual quantity.
func (g *caseDraw) priceBands() {
	g.feature("price bands")
	head := []string{"Sheet", "Row", "From quantity", "Price"}
	units := g.chance(0.5)
	if units {
		head = append(head, "Quantity unit", "Price unit")
	}
	g.s["Price bands"] = [][]string{head}
	bands := func(sheet, key string, least, most, price float64, quantityUnit, priceUnit string) {
		for from, i := 0.0, g.IntN(4); i >= 0; i-- {
			row := []string{sheet, key, short(from), short(price * g.between(0.8, 1.2))}
			if units {
				row = append(row, quantityUnit, priceUnit)
			}
			g.s.add("Price bands", row...)
			from = from*1.5 + g.ratio(least, most)
		}
	}
	for _, c := range []struct {
		sheet, column string
		give          func(key string)
	}{
		{"Parts", "purchase_price", func(key string) { bands("Parts", key, 1, 1e6, 3, "1/yr", g.money) }},
		{"Materials", "base_price", func(key string) { bands("Materials", key, 0.01, 1e4, 1500, "t/yr", g.money+"/t") }},
	} {
		for col, heading := range g.s[c.sheet][0] {
			if longName(heading) != c.column {
				continue
			}
			given := map[string]bool{}
			for _, row := range g.s[c.sheet][1:] {
				if _, known := given[row[0]]; !known {
					if given[row[0]] = row[col] != "" && g.chance(0.6); given[row[0]] {
						if !units && c.sheet == "Materials" {
							given[row[0]] = false // a price per kilogram is drawn per ton
							continue
						}
						c.give(row[0])
					}
				}
				if given[row[0]] {
					row[col] = ""
				}
			}
		}
	}
}
