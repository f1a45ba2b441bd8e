package scenarios

import "math"

// Steps: quantities, hours, machines, tools and what per year of it costs.

// A longStep is a row of Operations.
type longStep struct {
	*longRow
	part    *longPart
	machine *longMachine
	plant   *longRow
	listed  []*longRow // joints

	seams          float64                     // that the sheet Joints lists
	stations, down float64                     // machines in a line, and the percent that it stands
	drawn          func(cycle float64) float64 // mean power in kW that a process reckons from the time of a cycle
}

// produced is how many pieces per year are put into a step.
func (c *longhand) produced(s *longStep) float64 {
	if v, ok := s.number["produced_quantity"]; ok {
		return v
	}
	defects, reworked, success := s.in("defect_share", s.machine.of("defect_share")), s.in("reworked_share", 0), s.in("rework_success", 100)
	saved := defects * reworked / 100 * success / 100
	reject := s.is("reject_rate", defects-saved)
	quality := s.is("quality_ratio", 100-reject)
	s.check("the reject rate must lie between 0 and 100 %", reject >= 0 && reject < 100, reject)
	good := 0.0
	if steps := s.part.steps; s.flag("last_operation", s == steps[len(steps)-1]) {
		good = c.demand(s.part)
	} else {
		for i := range steps {
			if steps[i] == s {
				good = c.produced(steps[i+1])
			}
		}
	}
	s.flag("first_operation", s == s.part.steps[0])
	series := s.is("series_quantity", s.is("good_quantity", good)/(quality/100))
	batch, lost := s.in("batch_size", s.machine.of("batch_size")), s.in("startup_scrap", 0)
	s.check("the start-up scrap must be below the batch size", lost < batch, batch)
	// as many set-ups as it takes, each of which costs its pieces
	setups := s.is("batches", longCeil(series/(batch-lost)))
	if lost == 0 {
		return s.is("produced_quantity", series)
	}
	return s.is("produced_quantity", series+setups*lost)
}

// hours that a step takes per year, and the machines of its own.
func (c *longhand) hours(s *longStep) {
	rule, n := s.choice["equipment_allocation"], c.produced(s)
	s.choose("labour_allocation", s.machine.choice["labour_allocation"])
	s.stations, s.down = 1, s.machine.of("unplanned_downtime_share")
	s.listJoints()
	base, perJoint := c.baseTime(s)
	s.is("crew", s.machine.of("crew")*s.stations)
	s.is("footprint", s.machine.of("footprint"))
	down := s.is("unplanned_downtime_share", s.down)
	balance := 1.0
	if rule != "shared" {
		balance = s.plant.of("line_balance_efficiency") / 100
	}
	balance = s.is("line_balance_efficiency_applied", balance)
	guns, pieces := s.in("guns", 1), s.kept("pieces_per_cycle", 1)
	perLength := 0.0
	if speed := s.in("seam_speed", 0); speed > 0 {
		perLength = 1 / speed
	}
	perLength = s.kept("time_per_seam_length", perLength)
	joining := s.is("joint_time", (s.of("joints")*perJoint+s.of("seam_length")*perLength)/guns/balance)
	own, beside := s.is("machine_time", base+joining), s.in("parallel_work_time", 0)
	longer := own
	if beside > own {
		longer = beside
	}
	cycle := s.is("cycle_time", longer)
	mean := s.machine.of("rated_power") * s.machine.of("power_load_factor") / 100 * s.stations
	if s.drawn != nil {
		mean = s.drawn(cycle)
	}
	s.is("power", mean)
	rework := s.of("defect_share") / 100 * s.of("reworked_share") / 100 * s.of("series_quantity") * s.in("rework_time", 0)
	running := s.is("running_hours", (n/pieces*cycle+rework)/3600)
	batch := s.of("batch_size")
	setup := s.is("setup_hours", s.of("batches")*s.in("setup_time", s.machine.of("setup_time"))/60)
	required := s.is("required_hours", running/(1-down/100)+setup)
	s.is("station_hours", required*s.stations)
	lines := s.is("lines_needed", required/s.plant.of("planned_hours"))
	whole := math.Max(1, longCeil(lines))
	if rule == "dedicated" {
		s.is("dedicated_machines", whole*s.stations)
	} else {
		s.is("dedicated_machines", 0)
	}
	s.check("the whole machines of the operation do not cover its hours", rule != "dedicated" ||
		s.of("dedicated_machines")*s.plant.of("planned_hours") >= required*(1-1e-9))
	s.is("parallel_tool_sets", whole)
	s.check("a time can't be negative", base >= 0, base)
	s.check("the number of guns must be above 0", guns > 0, guns)
	s.check("the pieces per cycle must be above 0", pieces > 0, pieces)
	s.check("the batch size must be above 0", batch > 0, batch)
	s.check("the unplanned downtime must lie between 0 and 100 %", down >= 0 && down < 100, down)
}

// tools finds sets and refurbishments over the programme.
func (c *longhand) tools(s *longStep) {
	usual, kind := 0.0, c.toolKind(s)
	if kind != nil {
		usual = kind.of("tool_life")
	}
	price, life, refurbishing := s.in("tool_price", c.toolPrice(s, kind)), s.in("tool_life", usual), s.in("refurbishment_cost", 0)
	parallel := s.of("parallel_tool_sets")
	cycles := s.is("programme_cycles", c.facts.of("programme_life")*s.of("produced_quantity")/s.of("pieces_per_cycle"))
	worn := 0.0
	if life > 0 { // whoever pays for the tool
		worn = cycles / life
	}
	forLife := s.is("sets_for_life", longCeil(s.is("sets_worn", worn)))
	sets := s.is("tool_sets", math.Max(parallel, forLife))
	interval := s.is("refurbishment_interval", life)
	times := 0.0
	if refurbishing > 0 && interval > 0 {
		times = math.Max(0, longCeil(cycles/interval)-sets)
	}
	s.is("refurbishments", times)
	s.is("tool_investment", sets*price)
	early := interval > 0 && (life <= 0 || interval < life)
	s.check("the refurbishment cost has no effect, since its interval is not given or not below the tool life", refurbishing <= 0 || early)
	s.check("a tool with a price needs a tool life above 0", price <= 0 || life > 0)
	s.check("the whole tool sets do not last for the programme", sets >= worn*(1-1e-9))
	s.check("more than ten tool sets at once; the cycle time or the volume may be wrong", price <= 0 || parallel <= 10)
	required := s.of("required_hours")
	s.check("the tool sets at work at once do not cover the hours", price <= 0 || sets*s.plant.of("planned_hours") >= required*(1-1e-9), sets, required)
}

// masses that a step loses and what has joined.
func (s *longStep) scrap() {
	joined := 0.0
	for _, l := range s.part.children {
		if s.joinedBy(l) {
			joined += l.of("joined_mass")
		}
	}
	joined = s.is("joined_mass", joined)
	own := 0.0
	if s.of("last_operation") == 1 {
		own = s.part.of("input_quantity")*s.part.of("gross_mass") - s.part.of("good_quantity")*s.part.of("net_mass_of_this_level")
	}
	s.is("scrap_mass_of_this_level", own)
	s.is("assembly_scrap_mass", (s.of("produced_quantity")-s.of("good_quantity"))*joined)
}

// elements of a year's cost of a step.
func (c *longhand) elements(s *longStep) {
	p, m, n := s.plant, s.machine, s.of("produced_quantity")
	required, crew := s.of("required_hours"), s.of("crew")
	charged := s.of("dedicated_machines")
	switch s.choice["equipment_allocation"] {
	case "shared":
		charged = s.of("station_hours") / (p.of("planned_capacity_utilisation") / 100 * p.of("planned_hours"))
	case "pooled":
		charged = required * m.of("machines_per_pool_hour")
	}
	charged = s.is("machines_charged", charged)
	material, purchased := 0.0, 0.0
	if s.of("first_operation") == 1 {
		material = n * s.part.of("material_per_piece")
	}
	for _, l := range s.part.children {
		if l.step == s {
			purchased += l.of("purchase_cost")
		}
	}
	material = s.is("material", material)
	credit := s.is("scrap_credit", -s.of("scrap_mass_of_this_level")*s.part.of("scrap_price")-s.of("assembly_scrap_mass")*p.of("mixed_scrap_price"))
	purchased = s.is("purchased_parts", purchased)
	outside := s.is("outside_processing", s.paidOutside())
	consumables := s.is("consumables", n*s.kept("consumables_per_piece", 0))
	energy := c.energy(s)
	shiftYear := p.of("working_days") * p.of("paid_hours_per_shift") // paid hours of one worker per year
	workers := required * p.of("paid_time_factor") * crew / shiftYear
	crews := s.choice["equipment_allocation"] == "pooled" && s.choice["labour_allocation"] == "whole shifts"
	if crews {
		workers = required * m.of("crew_shifts_per_pool_hour") * crew
	}
	labour := s.is("labour", s.is("direct_workers", workers)*shiftYear*p.of("mean_labour_rate"))
	equipment := s.is("equipment", charged*m.of("annual_capital"))
	building := s.is("building", charged*s.of("footprint")*p.of("floor_space_cost"))
	s.is("floor_space", charged*s.of("footprint")*p.of("floor_space_factor"))
	upkeep := charged * m.of("annual_maintenance")
	toolUpkeep := s.of("tool_investment") * p.of("tool_maintenance_share") / 100
	maintenance := s.is("maintenance", upkeep+toolUpkeep)
	refurbishing := s.of("refurbishments") * s.of("refurbishment_cost") / c.facts.of("programme_life")
	tooling := s.is("tooling", s.of("tool_investment")*p.of("tool_recovery")+refurbishing)
	indirect, fixed := p.of("indirect_labour_share")/100, p.of("fixed_overhead_share")/100
	overhead := s.is("overhead", labour*indirect+(equipment+building+maintenance+tooling)*fixed)
	tied := p.of("working_capital_share")
	capital := s.is("working_capital", (material+credit+purchased+outside+consumables+energy+labour)*tied)
	s.is("cost_on_machine", outside+consumables+energy+labour+equipment+building+maintenance+tooling+overhead)
	year := s.is("annual_cost", material+credit+purchased+outside+consumables+energy+labour+equipment+building+maintenance+tooling+overhead+capital)
	s.is("piece_cost", year/c.scenario.of("annual_volume"))
	setup := 0.0
	if required > 0 {
		setup = s.of("setup_hours") / required * (labour + equipment + building + upkeep)
	}
	s.is("setup_cost", setup)
	c.behaviour(s, charged, crews, refurbishing, year)
}

// energy of a year by carrier: while running, while standing in a required hour, and by the piece.
func (c *longhand) energy(s *longStep) float64 {
	p, m, n, running := s.plant, s.machine, s.of("produced_quantity"), s.of("running_hours")
	standing := s.is("hours_not_running", s.of("required_hours")-running)
	used := running*s.of("power") + standing*s.is("standby_power", m.of("standby_power")*s.stations) + n*s.in("electricity_consumption", 0)
	cost := s.is("electricity_cost", s.is("electricity_used", used)*p.of("electricity_price"))
	for _, carrier := range []string{"fuel_gas", "heat"} {
		used := running*s.kept(carrier+"_power", m.of(carrier+"_power")) + n*s.in(carrier+"_consumption", 0)
		paid := 0.0
		if used = s.is(carrier+"_used", used); used > 0 { // nothing is paid, and no price needed, where nothing is used
			paid = used * p.of(carrier+"_price")
		}
		cost += s.is(carrier+"_cost", paid)
	}
	return s.is("energy", cost)
}

// behaviour splits per year's cost: the first tool set is fixed; whole machines and crews, more sets and refurbishments grow in
// steps; what is left grows with each piece.
func (c *longhand) behaviour(s *longStep, charged float64, crews bool, refurbishing, year float64) {
	p := s.plant
	surcharged := 1 + p.of("fixed_overhead_share")/100
	set := s.of("tool_price") * (p.of("tool_recovery") + p.of("tool_maintenance_share")/100) * surcharged
	set = s.is("tool_set_cost", set)
	fixed := s.is("fixed_cost", set)
	machines, people := 0.0, 0.0
	if s.choice["equipment_allocation"] != "shared" {
		machines = (s.of("equipment") + s.of("building") + charged*s.machine.of("annual_maintenance")) * surcharged
	}
	if crews {
		labour := s.of("labour")
		people = labour + labour*p.of("indirect_labour_share")/100 + labour*p.of("working_capital_share")
	}
	machines, people = s.is("machine_step_cost", machines), s.is("crew_step_cost", people)
	tools := s.is("tool_step_cost", (s.of("tool_sets")-1)*set+refurbishing*surcharged)
	steps := s.is("step_fixed_cost", machines+people+tools)
	s.is("variable_cost", year-fixed-steps)
}
