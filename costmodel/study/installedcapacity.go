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
	Load       float64 // hours over those of the own lines, or of one line where hours are shared
	CrewShifts float64 // whole crew shifts a day of the pool; 0 without a pool
}

// A Capacity is what a scenario takes at a volume. Counts are pure numbers, areas are m2.
type Capacity struct {
	OwnLines    float64 // whole lines bought for the product
	SharedLines float64 // of shared machines, charged
	Load        float64 // of the own lines together; NaN where there are none
	People      float64 // direct workers by their paid hours; NaN where the wage is 0
	ToolSets    float64
	Floor       float64 // hall area charged, aisles included
	Machines    []MachineUse
}

// CapacityOf adds up machines, people, tools and area of a detail.
func CapacityOf(d *costmodel.Detail) Capacity { return capacity(d, severalPlants(d)) }

// capacity is CapacityOf; with several plants a machine's key names its plant.
func capacity(d *costmodel.Detail, several bool) Capacity {
	c := Capacity{Load: math.NaN()}
	own := map[int32]float64{}    // hours over planned hours of the steps that have lines of their own, by machine
	shared := map[int32]float64{} // lines charged to the others
	for _, s := range d.Lines("operation") {
		plant, ok := s.Follow("plant")
		m, has := s.Follow("machine")
		if !ok || !has {
			continue
		}
		x := s.Must("machines_charged")
		if s.Choice("charging_rule") == "shared" {
			shared[m.Entity()] += x
		} else {
			own[m.Entity()] += s.Must("required_hours") / plant.Must("planned_hours")
		}
		c.Floor += x * valueOr(s, "floor_area", 0) * valueOr(plant, "aisle_factor", 1)
		c.People += workers(s, plant)
		if price, _ := s.Value("tool_price"); price > 0 {
			c.ToolSets += s.Must("tool_sets")
		}
	}
	hours := 0.0
	for _, m := range d.Lines("machine") {
		if v, ok := m.Value("hours_used"); !ok || v <= 0 {
			continue
		}
		u := machineUse(m, shared[m.Entity()], several)
		c.OwnLines, c.SharedLines = c.OwnLines+u.Own, c.SharedLines+u.Shared
		hours += own[m.Entity()]
		c.Machines = append(c.Machines, u)
	}
	if c.OwnLines > 0 {
		c.Load = hours / c.OwnLines
	}
	return c
}

func machineUse(m costmodel.Line, shared float64, several bool) MachineUse {
	u := MachineUse{Key: machineKey(m, several), Name: m.Record().Name(), Own: m.Must("own_machines"), Shared: shared, Load: m.Must("load"), CrewShifts: valueOr(m, "pool_crew_shifts", 0)}
	u.Lines = u.Own + u.Shared
	if plant, ok := m.Follow("plant"); ok {
		u.Needed = m.Must("hours_used") / plant.Must("planned_hours")
	}
	return u
}

// workers reads the paid workers of a step off its labour: the cost by what one worker is paid a year. It follows the
// labour rule, and whatever equation a case has for labour.
func workers(s, plant costmodel.Line) float64 {
	labour := s.Must("labour")
	year := valueOr(plant, "direct_labour_rate", 0) * plant.Must("working_days") * plant.Must("paid_hours_per_shift")
	if labour == 0 {
		return 0
	}
	if year <= 0 {
		return math.NaN()
	}
	return labour / year
}

func valueOr(l costmodel.Line, name string, other float64) float64 {
	if v, ok := l.Value(name); ok {
		return v
	}
	return other
}

// severalPlants tells whether machines stand in more than one plant, so that a key alone does not name them.
func severalPlants(d *costmodel.Detail) bool {
	plants := map[int32]bool{}
	for _, m := range d.Lines("machine") {
		if p, ok := m.Follow("plant"); ok {
			plants[p.Entity()] = true
		}
	}
	return len(plants) > 1
}

func machineKey(m costmodel.Line, several bool) string {
	if p, ok := m.Follow("plant"); ok && several {
		return m.Record().Key + " in " + p.Record().Key
	}
	return m.Record().Key
}
