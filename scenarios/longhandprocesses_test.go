package scenarios

import "math"

// The time of a cycle without its joints, the time of a joint, and forces, by process.

// baseTime returns the seconds of a cycle without joints, and of one joint.
func (c *longhand) baseTime(s *longStep) (base, perJoint float64) {
	perJoint = s.in("time_per_joint", 0)
	reckoned := true
	switch s.cells["process"] {
	case "timed operation":
		reckoned = false
	case "adhesive application", "final assembly", "laser blank welding", "laser welding", "projection welding":
		base = s.must("load_time")
	case "spot welding":
		base = s.must("load_time")
		spot := s.in("squeeze_time", 0.3) + s.in("weld_time", 0.3) + s.in("hold_time", 0.1) + s.in("move_time", 0.8)
		perJoint = s.is("time_per_joint", spot)
	case "tandem press forming", "transfer press forming", "progressive die forming":
		base = 60 / s.must("strokes_per_minute")
		force, rated := s.must("forming_force"), s.machine.of("rated_force")
		s.check("the press is too small for the forming force", force <= rated, force, rated)
	case "coil blanking":
		base = 60 / s.must("strokes_per_minute")
		s.cutting()
	case "end cutting and washing":
		base = s.must("load_time") + s.must("cuts")*s.must("time_per_cut")
	case "laser trimming":
		base = s.must("load_time") + s.must("cut_length")*mm/s.must("cutting_speed")*60 + s.in("holes", 0)*s.in("time_per_hole", 0)
	case "press hemming":
		base = s.must("load_time") + s.must("press_time")
	case "roller hemming":
		base = s.must("load_time") + s.in("passes", 3)*s.must("hem_length")*mm/s.must("hemming_speed")*60
	case "roll forming":
		base = s.part.of("blank_length")*mm/s.must("line_speed")*60 + s.in("cut_time", 0)
	case "stretch bending":
		base = s.must("load_time") + s.must("bends")*s.must("time_per_bend")
	case "tube bending":
		base = s.in("saw_time", 0) + s.must("load_time") + s.must("bends")*s.must("time_per_bend")
	case "sheet hydroforming", "tube hydroforming":
		for _, phase := range []string{"load_time", "close_time", "fill_time", "pressure_rise_time", "hold_time", "open_time"} {
			base += s.must(phase)
		}
		s.hydroforming()
	default:
		panic("no process " + s.cells["process"])
	}
	if !reckoned {
		return s.must("load_and_process_time"), perJoint
	}
	return s.is("load_and_process_time", base), perJoint
}

// cutting finds the force in kN: shear strength in N/mm2 times the cut edge in mm2.
func (s *longStep) cutting() {
	outline := s.is("cut_length", 2*s.part.of("blank_length")+2*s.part.of("blank_width"))
	shear := s.is("shear_strength", s.part.grade.of("tensile_strength")*0.7)
	force, rated := s.is("cutting_force", outline*s.part.of("gauge")*shear/1000), s.machine.of("rated_force")
	s.check("the machine is too small for the cutting force", force <= rated, force, rated)
}

// hydroforming finds pressures in bar (1 N/mm2 is 10 bar) and closing forces in kN (1 bar on 1 cm2 is 10 N): of a thin wall,
// and, as upper bound, of a thick one that yields through and through.
func (s *longStep) hydroforming() {
	strength, gauge, radius, area := s.part.grade.of("tensile_strength"), s.part.of("gauge"), s.must("smallest_radius"), s.must("projected_area")
	thin := s.is("forming_pressure", 10*strength*gauge/radius)
	s.is("closing_force", thin*area/100)
	thick := s.is("upper_forming_pressure", 10*2/math.Sqrt(3)*strength*(math.Log(radius)-math.Log(radius-gauge)))
	force, rated := s.is("upper_closing_force", thick*area/100), s.machine.of("rated_force")
	s.check("the press is too small for the upper bound of the closing force", force <= rated, force, rated)
	s.check("the smallest outside radius must be above the gauge", radius > gauge, radius, gauge)
	s.check("the smallest radius is below 2.5 gauges; pressure and thinning rise steeply", radius >= 2.5*gauge, radius, gauge)
}
