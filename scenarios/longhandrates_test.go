package scenarios

import "math"

// Facts of the case, of plants, grades and machines, and the rates that follow from them.

func (c *longhand) caseFacts() {
	r := c.facts
	life, interest := r.must("programme_life"), r.must("interest_rate")
	for _, name := range []string{"working_capital_days", "sga_share", "profit_share", "material_handling", "packaging", "freight", "duty",
		"allowable_cost_of_mass_saving"} {
		r.in(name, 0)
	}
	r.check("the programme life must be above 0", life > 0, life)
	r.check("the interest rate can't be negative", interest >= 0, interest)
}

func (c *longhand) plant(p *longRow) {
	days, shifts, paid := p.must("working_days"), p.must("shifts"), p.must("paid_hours_per_shift")
	pause, stop := p.in("paid_break_per_shift", 0), p.in("planned_downtime_per_shift", 0)
	hall, hallLife, aisles := p.in("building_price", 0), p.in("building_economic_life", 30), p.in("floor_space_factor", 1)
	p.must("fuel_gas_price")
	p.must("heat_price")
	// of an hour of the working day each: the part of it in the second shift, and what comes after two
	second, third := math.Min(shifts, 2)-1, shifts-2
	premium := p.in("second_shift_premium", 0)*math.Max(second, 0)/shifts + p.in("third_shift_premium", 0)*math.Max(third, 0)/shifts
	premium = p.is("mean_shift_premium", premium)
	p.is("mean_labour_rate", p.must("direct_labour_rate")+p.of("direct_labour_rate")*premium/100)
	for _, name := range []string{"electricity_price", "indirect_labour_share", "fixed_overhead_share", "mixed_scrap_price", "tool_maintenance_share"} {
		p.in(name, 0)
	}
	load, balance := p.in("planned_capacity_utilisation", 100), p.in("line_balance_efficiency", 100)
	interest := p.is("interest_rate", c.facts.of("interest_rate"))
	busy := p.is("planned_hours_per_shift", paid-pause-stop)
	p.is("planned_hours", days*shifts*busy)
	p.is("paid_time_factor", paid/busy)
	p.is("floor_space_cost", hall*aisles*longRecovery(interest, hallLife))
	p.is("tool_recovery", longRecovery(interest, c.facts.of("programme_life")))
	p.is("working_capital_share", interest/100*c.facts.of("working_capital_days")/365)
	p.check("breaks and planned downtime fill the whole shift", busy > 0, busy)
	length := p.is("day_length", 24)
	p.check("the shifts of a day are longer than a day", p.is("shift_time", shifts*paid) <= length)
	p.check("the planned capacity utilisation must be above 0", load > 0, load)
	p.check("the line-balance efficiency must be above 0", balance > 0, balance)
}

func (r *longRow) material() {
	density := r.must("density")
	r.in("extras", 0)
	r.in("scrap_price", 0)
	r.must("yield_strength")
	r.must("tensile_strength")
	r.in("shear_factor", 0.7)
	r.check("the density must be above 0", density > 0, density)
}

// materialPrice is what a kilogram costs, with its extras.
func (r *longRow) materialPrice(base float64) {
	r.number["base_price"] = base
	price, scrap := r.is("price", base+r.of("extras")), r.of("scrap_price")
	r.check("the price with its extras is negative", price >= 0, price)
	r.check("the scrap price is above half of the purchase price", scrap <= price/2, scrap, price)
}

// A longMachine is a machine in a plant.
type longMachine struct {
	*longRow
	plant         *longRow
	steps, pooled []*longStep
	used          bool
}

// machineIn finds a machine of the sheet in a plant; each plant that does something has all of them.
func (c *longhand) machineIn(machine, plant string) *longMachine {
	if m := c.machines[machine+" in "+plant]; m != nil {
		return m
	}
	for _, r := range c.stock {
		if r.cells["sized_by"] != "" {
			continue
		}
		m := &longMachine{longRow: newLongRow("machine", r.key, r.cells), plant: c.plants[plant]}
		c.machines[r.key+" in "+plant] = m
		m.rates()
	}
	return c.machines[machine+" in "+plant]
}

// rates are what does not depend on volume.
func (m *longMachine) rates() {
	p := m.plant
	price, installation, resale, life := m.must("price"), m.in("installation_share", 0), m.in("resale_value", 0), m.must("economic_life")
	foot, kW, drawn, crew := m.in("footprint", 0), m.in("rated_power", 0), m.in("power_load_factor", 100), m.in("crew", 0)
	upkeep, down := m.in("maintenance_share", 0), m.in("unplanned_downtime_share", 0)
	for _, rated := range []string{"rated_force", "rated_pressure", "stroke", "bed_length", "bed_width", "throat_depth"} {
		m.must(rated)
	}
	m.must("setup_time")
	m.must("batch_size")
	m.in("defect_share", 0)
	m.choose("equipment_allocation", "")
	m.choose("labour_allocation", "hours")
	i := p.of("interest_rate")
	installed := m.is("installed_price", price+price*installation/100)
	capital := m.is("annual_capital", (installed-resale)*longRecovery(i, life)+resale*i/100)
	building := m.is("annual_building", foot*p.of("floor_space_cost"))
	maintenance := m.is("annual_maintenance", installed*upkeep/100)
	sold := p.of("planned_capacity_utilisation") / 100 * p.of("planned_hours") // hours per year that a shared machine is paid by
	equipmentRate := m.is("rate_equipment", capital/sold)
	buildingRate := m.is("rate_building", building/sold)
	maintenanceRate := m.is("rate_maintenance", maintenance/sold)
	energyRate := m.energyRate(kW*drawn/100, down/100)
	labourRate := m.is("rate_labour", crew*p.of("mean_labour_rate")*p.of("paid_time_factor"))
	overheadRate := m.is("rate_overhead", labourRate*p.of("indirect_labour_share")/100+
		(equipmentRate+buildingRate+maintenanceRate)*p.of("fixed_overhead_share")/100)
	machine := m.is("machine_hour_rate", equipmentRate+buildingRate+energyRate+maintenanceRate)
	m.is("work_centre_hourly_rate", machine+labourRate+overheadRate)
	m.check("the economic life must be above 0", life > 0, life)
	m.check("the resale value is above the price", resale <= price, resale, price)
}

// energyRate is what energy costs in an hour of which a part stands still: then it draws its stand-by power and nothing else.
func (m *longMachine) energyRate(running, down float64) float64 {
	p := m.plant
	drawn := running - running*down + down*m.in("standby_power", 0)
	rate := m.is("rate_electricity", drawn*p.of("electricity_price"))
	for _, carrier := range []string{"fuel_gas", "heat"} {
		one := 0.0
		if burnt := m.in(carrier+"_power", 0); burnt > 0 {
			one = (burnt - burnt*down) * p.of(carrier+"_price")
		}
		rate += m.is("rate_"+carrier, one)
	}
	return m.is("rate_energy", rate)
}

// pool finds the whole machines and crews that pooled steps take together.
func (m *longMachine) pool() {
	hours, planned := 0.0, m.plant.of("planned_hours")
	for _, s := range m.pooled {
		hours += s.of("required_hours")
	}
	hours = m.is("pool_hours", hours)
	filled := m.is("pool_lines_needed", hours/planned)
	machines, crews := 0.0, 0.0
	if hours > 0 {
		machines = math.Max(1, longCeil(filled))
		crews = math.Max(1, longCeil(hours/(planned/m.plant.of("shifts"))))
	}
	machines, crews = m.is("pool_machines", machines), m.is("pool_crew_shifts", crews)
	perHour, crewsPerHour := 0.0, 0.0
	if hours > 0 {
		perHour, crewsPerHour = machines/hours, crews/hours
	}
	m.is("machines_per_pool_hour", perHour)
	m.is("crew_shifts_per_pool_hour", crewsPerHour)
	m.check("the whole machines of a pool do not cover its hours", machines*planned >= hours*(1-1e-9), machines, hours)
}

// own finds what is bought for the product, and how full it is.
func (m *longMachine) own() {
	bought, hours, planned := m.of("pool_machines"), 0.0, m.plant.of("planned_hours")
	for _, s := range m.steps {
		bought += s.of("dedicated_machines")
		hours += s.of("station_hours")
	}
	bought = m.is("product_specific_machines", bought)
	m.is("product_specific_investment", bought*m.of("installed_price"))
	m.is("product_specific_floor_space", bought*m.of("footprint")*m.plant.of("floor_space_factor"))
	filled := m.is("lines_filled", m.is("machine_hours_required", hours)/planned)
	load := m.is("capacity_utilisation", 100*filled/math.Max(1, bought))
	m.check("its operations need more hours than the machine has; a shared machine would have to be doubled", load <= 100.000001, load)
}
