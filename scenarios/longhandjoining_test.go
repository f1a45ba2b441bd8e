package scenarios

import (
	"math"
	"slices"
)

// Joining processes in longhand: their times, what they consume and draw.

func (s *longStep) spots() float64 {
	thin, gauge, strength, joints := s.in("governing_gauge", s.meanOf("governing_gauge")), s.its("gauge"), s.its("tensile_strength"), s.of("joints")
	zinc, more := 1.0, 1.0
	if s.in("coated", 1) > 0 {
		zinc, more = 1.2, 1.15
	}
	harder := 1.0
	if strength > 500 {
		harder = 1.35
	}
	weld := s.is("weld_time", thin/5*zinc)
	s.is("electrode_force", 2.6*thin*harder+0*strength)
	current := s.is("weld_current", 9.5*more*math.Sqrt(thin))
	each := s.is("energy_per_spot", current*s.in("spot_voltage", 4)*weld*10/7)
	dress := s.in("dress_time", 8) / s.in("spots_per_dress", 150)
	s.is("time_per_joint", s.in("squeeze_time", 0.25)+weld+s.in("hold_time", 0.15)+s.in("move_time", 1.2)+dress)
	s.is("consumables_per_piece", s.in("cap_price", 3)/s.in("spots_per_cap", 2500)*joints)
	s.drawn = func(cycle float64) float64 { return each*joints/math.Max(cycle, 1) + 2*s.in("guns", 1) }
	s.check("too thick for these rules", thin <= 4, thin)
	s.check("gauge ratio above 3 : 1 in the stack: nugget misses the thin sheet", gauge <= 3*thin, gauge, thin)
	s.fits("the gun does not reach the farthest spot", "throat_depth", s.must("farthest_joint"))
	return s.in("load_time", 12)
}

func (s *longStep) projections() float64 {
	phases := s.in("nut_feed_time", 1) + s.in("squeeze_time", 0.3) + s.in("weld_time", 0.15) + s.in("hold_time", 0.2)
	s.is("time_per_joint", phases+s.in("move_time", 3))
	s.strong("welder too small", s.is("electrode_force", s.in("projections", 3)*s.in("force_per_projection", 1.5)))
	return s.in("load_time", 6)
}

// meltSpeed is the speed in m/min at which kW melt a section in mm2 of a metal that takes J/mm3.
func meltSpeed(kW, section, energy float64) float64 { return kW * 60 / section / energy }

func (s *longStep) tailoredBlank() float64 {
	length, seams, thin, gauge := s.must("weld_length"), s.in("seams", 1), s.in("thin_gauge", s.meanOf("governing_gauge")), s.its("gauge")
	melt := meltSpeed(s.in("efficiency", 30)/100*s.in("laser_power", 6), s.in("seam_width", 1)*thin, s.in("melt_energy", 10.3))
	speed := s.is("welding_speed", math.Min(s.in("speed_limit", 8), s.is("melt_speed", melt)))
	weld, index := s.is("weld_time", length*mm/speed*60+1.5*seams), s.in("index_time", 7)
	s.check("gauge ratio above 3: forming and weld doubtful", gauge <= 3*thin, gauge, thin)
	if s.in("overlap", 0) > 0 {
		return math.Max(weld, index)
	}
	return weld + index
}

func (s *longStep) laserSeam() float64 {
	beam, arc, deep := s.in("laser_power", 4), s.in("arc_power", 0), s.must("depth")
	melting := s.in("efficiency", 30)/100*beam + s.in("arc_efficiency", 40)/100*arc
	melt := s.is("melt_speed", meltSpeed(melting, s.in("seam_width", 1)*deep, s.in("melt_energy", 10.3)))
	speed := s.is("welding_speed", math.Min(s.in("speed_limit", 6), melt))
	perLength, seam := s.is("time_per_seam_length", 60/speed/1000), s.of("seam_length")
	s.drawn = func(cycle float64) float64 { return (beam/0.35+arc/0.8)*seam*perLength/math.Max(cycle, 1) + 5 }
	s.check("too slow: more power or hybrid", speed >= 0.5, speed)
	s.check("depth beyond about 1.5 mm a kW", deep <= beam*3/2, deep)
	return s.in("load_time", 12) + s.in("jumps", 10)*s.in("jump_time", 1)
}

func (s *longStep) bead() float64 {
	across, seam := s.in("bead_diameter", 3), s.of("seam_length")
	section := s.is("bead_section", math.Pi*across*across/4)
	mass := s.is("adhesive_mass", section*seam*mm*mm*mm*s.in("adhesive_density", 1200)*(1+s.in("purge_share", 4)/100))
	s.is("consumables_per_piece", mass*s.in("adhesive_price", 9))
	fill := s.is("fill_ratio", section/s.in("joint_width", 15)/s.in("joint_gap", 0.4))
	s.check("bead too thin to fill the joint", fill >= 0.9, fill)
	s.check("squeeze-out", fill <= 1.6, fill)
	return s.in("load_time", 5) + seam/s.in("bead_speed", 250) + s.in("starts", 4)*s.in("start_time", 1)
}

func (s *longStep) clinches() float64 {
	stack, strength := s.in("total_gauge", s.meanOf("stack_gauge")), s.its("tensile_strength")
	s.is("time_per_joint", s.in("press_time", 0.9)+s.in("move_time", 1.5))
	s.is("consumables_per_piece", s.of("joints")/s.in("points_per_tool", 150000)*s.in("clinch_tool_price", 600))
	shear := math.Pi * s.in("point_diameter", 6) * stack * strength / 1000
	s.strong("clinch gun too small", s.is("clinch_force", shear*s.its("shear_factor")*s.in("force_factor", 3)))
	s.check("grades of this strength often crack in the button: clinching is doubtful", strength <= 600, strength)
	s.fits("the gun does not reach the farthest point", "throat_depth", s.must("farthest_joint"))
	return s.in("load_time", 10)
}

// listJoints reckons the rows of the sheet Joints that an operation makes, and what it takes from them.
func (s *longStep) listJoints() {
	var points, seam, count, governing, stack float64
	for _, j := range s.listed {
		n, length := j.must("count"), j.in("length", 0)
		gauges := []float64{j.must("first_gauge"), j.must("second_gauge"), j.in("third_gauge", 0)}
		all := j.is("stack_gauge", gauges[0]+gauges[1]+gauges[2])
		j.is("thickest_gauge", slices.Max(gauges))
		slices.Sort(gauges)
		second := gauges[1] + 0*gauges[0] // NaN, which is sorted first, where one is not given
		governing += j.is("gauge_points", n*j.is("governing_gauge", second))
		stack += j.is("stack_points", all*n)
		if length > 0 {
			points += j.is("joint_points", 0)
			s.seams += j.is("joint_seams", n)
		} else {
			points += j.is("joint_points", n)
			j.is("joint_seams", 0)
		}
		seam += j.is("joint_seam_length", length*n)
		count += n
	}
	if s.in("joints", points); count > 0 {
		s.is("mean_governing_gauge", governing/count)
		s.is("mean_stack_gauge", stack/count)
	}
	s.in("seam_length", seam)
}

// meanOf is what the sheet Joints gives, NaN where nothing.
func (s *longStep) meanOf(gauge string) float64 {
	if v, ok := s.number["mean_"+gauge]; ok {
		return v
	}
	return math.NaN()
}

// robotLine is a line of stations with several robots each.
func (s *longStep) robotLine() float64 {
	work, rate, uptime := s.must("work_content"), s.in("wanted_rate", 60), s.in("line_uptime", 88)
	takt := s.is("takt", uptime*36/rate)
	left := takt - s.in("transfer_time", 9)
	useful := s.in("balance", 88) / 100 * s.in("interference", 85) / 100 * math.Max(left, 1)
	robots := s.is("robots", longCeil(work/useful))
	s.stations = s.is("stations", longCeil(robots/s.in("robots_per_station", 4)))
	s.down = 100 - uptime
	s.check("the stations of a line are no pool; its equipment allocation is shared or dedicated", s.choice["equipment_allocation"] != "pooled")
	s.check("takt too short for one line: double it", left >= 5, left)
	return takt
}
