package study

import (
	"math"

	"piececost/costmodel"
)

// measures lists what is compared beside the cost.
func measures(details []*costmodel.Detail) []Row {
	var out []Row
	for _, q := range []struct{ name, label string }{
		{"price", "Price"}, {"setup_cost", "Of which set-up"}, {"net_mass", "Net mass"}, {"gross_mass", "Gross mass"}, {"scrap_mass", "Scrap mass"},
		{"tooling_investment", "Tooling investment"}, {"product_specific_equipment_investment", "Product-specific equipment investment"},
		{"part_count", "Parts, distinct"}, {"piece_count", "Pieces in a product"}, {"joint_count", "Joints in a product"},
		{"operation_count", "Operations"}, {"tool_count", "Operations with a tool"},
	} {
		r := Row{Key: q.name, Name: q.label}
		for _, d := range details {
			v, unit, ok := d.Scenario().In(q.name)
			if !ok {
				v = math.NaN()
			}
			r.Unit = unit
			r.Values = append(r.Values, v)
		}
		out = append(out, r)
	}
	counts := []Row{{Key: "tool_sets", Name: "Tool sets"}, {Key: "product_specific_lines", Name: "Product-specific lines, whole"},
		{Key: "shared_lines", Name: "Shared lines, charged"},
		{Key: "people", Name: "Direct workers, paid"}, {Key: "product_specific_floor_space", Name: "Floor space of product-specific lines",
			Unit: "m2"}, {Key: "floor_space", Name: "Floor space charged", Unit: "m2"}}
	for _, d := range details {
		c := CapacityOf(d)
		own := d.Scenario().Must("product_specific_floor_space")
		for i, v := range []float64{c.ToolSets, c.OwnLines, c.SharedLines, c.People, own, c.Floor} {
			counts[i].Values = append(counts[i].Values, v)
		}
	}
	return append(out, counts...)
}

// lines lists the machines that the scenarios charge, matched by key and plant.
func lines(details []*costmodel.Detail) []Row {
	m := merger{scenarios: len(details), at: map[string]int{}}
	several := false
	for _, d := range details {
		several = several || severalPlants(d)
	}
	for i, d := range details {
		for _, u := range capacity(d, several).Machines {
			m.put(u.Key, u.Name, "", i, u.Lines)
		}
	}
	return m.rows
}
