package study

import (
	"math"

	"piececost/costmodel"
)

// A MachineUse is what a scenario takes of a machine in a plant.
type MachineUse struct {
	Key, Name  string
	Own        float64 // whole lines bought for the product: pooled and dedicated
	Shared     float64 // lines of a shared machine that its hours pay for, a fraction
	Lines      float64 // both
	Needed     float64 // lines that the hours would fill, a fraction, whatever the rule
	Load       float64 // hours over those of the product-specific lines, or of one line where hours are shared
	CrewShifts float64 // whole crew shifts per day of the pool; 0 without a pool
}

// A Capacity is what a scenario takes at a volume. Counts are pure numbers, areas are m2.
type Capacity struct {
	OwnLines    float64 // whole lines bought for the product
	SharedLines float64 // of shared machines, charged
	Load        float64 // of the product-specific lines together; NaN where there are none
	People      float64 // direct workers, paid for a year of one shift each
	ToolSets    float64
	Floor       float64 // floor space charged, aisles included
	Machines    []MachineUse
}

// CapacityOf adds up machines, people, tools and area of a detail.
func CapacityOf(d *costmodel.Detail) Capacity { return capacity(d, severalPlants(d)) }

// capacity is CapacityOf; with several plants a machine's key names its plant.
func capacity(d *costmodel.Detail, several bool) Capacity {
	all := d.Scenario()
	c := Capacity{Load: math.NaN(), People: all.Must("direct_workers"), Floor: all.Must("floor_space")}
	filled := 0.0                 // lines that the hours of the steps with lines of their own fill
	shared := map[int32]float64{} // lines charged to the others, by machine
	for _, s := range d.Entries("operation") {
		if m, ok := s.Follow("machine"); ok && s.Choice("equipment_allocation") == "shared" {
			shared[m.Entity()] += s.Must("machines_charged")
		} else {
			filled += s.Must("lines_needed")
		}
		if price, _ := s.Value("tool_price"); price > 0 {
			c.ToolSets += s.Must("tool_sets")
		}
	}
	for _, m := range d.Entries("machine") {
		if v, ok := m.Value("machine_hours_required"); !ok || v <= 0 {
			continue
		}
		u := machineUse(m, shared[m.Entity()], several)
		c.OwnLines, c.SharedLines = c.OwnLines+u.Own, c.SharedLines+u.Shared
		c.Machines = append(c.Machines, u)
	}
	if c.OwnLines > 0 {
		c.Load = filled / c.OwnLines
	}
	return c
}

// Busiest returns the product-specific machine with the highest load, the first of equal ones; false where there is none of its own.
func (c *Capacity) Busiest() (MachineUse, bool) {
	best := -1
	for i, m := range c.Machines {
		if m.Own > 0 && (best < 0 || m.Load > c.Machines[best].Load) {
			best = i
		}
	}
	if best < 0 {
		return MachineUse{}, false
	}
	return c.Machines[best], true
}

func machineUse(m costmodel.Entry, shared float64, several bool) MachineUse {
	own := m.Must("product_specific_machines")
	return MachineUse{Key: machineKey(m, several), Name: m.Record().Name(), Own: own, Shared: shared, Lines: own + shared,
		Needed: m.Must("lines_filled"), Load: m.Must("capacity_utilisation"), CrewShifts: m.Must("pool_crew_shifts")}
}

// severalPlants tells whether machines stand in more than one plant, so that a key alone does not name them.
func severalPlants(d *costmodel.Detail) bool {
	plants := map[int32]bool{}
	for _, m := range d.Entries("machine") {
		if p, ok := m.Follow("plant"); ok {
			plants[p.Entity()] = true
		}
	}
	return len(plants) > 1
}

func machineKey(m costmodel.Entry, several bool) string {
	if p, ok := m.Follow("plant"); ok && several {
		return m.Record().Key + " in " + p.Record().Key
	}
	return m.Record().Key
}
