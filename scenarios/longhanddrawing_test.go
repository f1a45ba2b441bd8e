package scenarios

import "math"

// Processes of sheet and tube that take from their part what its drawing says.

// folds bends in a press brake, over an opening of eight gauges, ten of thin and of heavy ones.
func (s *longStep) folds() float64 {
	gauge, strength := s.its("gauge"), s.its("tensile_strength")
	bends, long := s.orPart("bends", math.NaN()), s.in("longest_bend", math.Max(s.its("blank_width"), s.its("blank_length")))
	times := 8.0
	if gauge < 1 || gauge > 12 {
		times = 10
	}
	opening := s.in("die_opening", times*gauge)
	s.strong("the press brake is too small", s.is("bending_force", gauge*gauge*strength*long/opening*1.33/1000))
	inside, least := s.is("inside_radius", opening/6), s.is("smallest_flange_possible", opening*7/10)
	s.check("the flange falls into the die", s.in("shortest_flange", 30) >= least)
	s.check("die too narrow: marks and cracks", opening >= gauge*6)
	bound := gauge / 2
	if strength > 700 {
		bound = gauge * 2
	}
	s.check("bend radius too small for the strength", inside >= bound, strength)
	one := s.in("approach_time", 2) + opening*2/5/s.in("bending_speed", 10) + s.in("handle_time", 5)
	return one*bends + s.in("turns", 1)*4 + s.in("load_time", 8)
}

// punches hits the holes of the part one by one, or shears along the longer side of one without.
func (s *longStep) punches() float64 {
	holes, across := s.its("holes"), s.its("hole_diameter")
	usual, smallest := 1.0, 20.0
	if holes > 1 {
		usual = holes
	}
	hits := s.in("hits", usual)
	cut := math.Pi * across * holes / hits
	if math.IsNaN(cut) {
		cut = math.Max(s.its("blank_width"), s.its("blank_length"))
	}
	if !math.IsNaN(across) {
		smallest = across
	}
	cut, smallest = s.in("cut_length", cut), s.in("smallest_hole", smallest)
	gauge, shear := s.its("gauge"), s.is("shear_strength", s.its("shear_factor")*s.its("tensile_strength"))
	force := s.is("parallel_force", gauge*shear*cut/1000)
	if slope := s.in("blade_slope", 0); slope > 0 {
		force = math.Min(force, gauge*gauge*shear/slope/2000)
	}
	s.strong("the machine is too small for the cutting force", s.is("cutting_force", force))
	s.is("clearance", gauge*7/100)
	s.check("hole smaller than the gauge: punch breakage, drill or laser it", smallest >= gauge)
	return s.in("load_time", 15) + hits/s.in("hits_per_minute", 120)*60
}

// arc welds fillets; the wire on an assembly, which is of no material, is steel.
func (s *longStep) arc() float64 {
	rho, seams, seam := s.its("density"), s.seams, s.of("seam_length")
	if math.IsNaN(rho) {
		rho = 7850
	}
	if seams == 0 {
		seams = 4
	}
	rho, seams = s.in("wire_density", rho), s.in("seams", seams)
	leg, used, robots := s.in("leg", 3), s.in("wire_efficiency", 95)/100, s.in("robots", 1)
	section := s.is("weld_section", leg*leg/2*(1+s.in("overfill", 15)/100))
	across := s.in("wire_diameter", 1)
	fed := math.Pi / 4 * across * across * s.in("wire_speed", 10) * used // mm2 times m a minute
	s.is("deposition_rate", fed*60*rho/1e6)
	speed := s.is("welding_speed", fed/section)
	s.is("heat_input", 0.8*s.in("arc_power", 5)*60/speed/1000)
	arc := s.is("arc_time", seam*mm/speed*60/robots)
	wire := s.is("wire_mass", section*seam*rho/used/1e9)
	s.is("consumables_per_piece", wire*s.in("wire_price", 2)+s.in("shielding_gas", 14)/60*arc*robots*s.in("gas_price", 0.004))
	s.check("faster than usual: humping, lack of fusion", speed <= 2.5, speed)
	s.check("leg large for the gauge: burn-through, distortion", leg <= s.its("gauge")*1.6, s.its("gauge"))
	return s.in("load_time", 25) + arc*1.05 + seams*s.in("air_move_time", 2.5)/robots
}
