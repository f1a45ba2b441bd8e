package scenarios

import "math"

// The time of a cycle without its joints, the time of a joint, and forces, by process. A process whose cell is not among these has
// points of testdata/physics/relations.txt instead.

// longProcesses reckon a process and return the seconds of a cycle without joints.
var longProcesses = map[string]func(*longStep) float64{
	"adhesive application": (*longStep).bead, "laser blank welding": (*longStep).tailoredBlank, "laser welding": (*longStep).laserSeam,
	"projection welding": (*longStep).projections, "clinching": (*longStep).clinches,
	"robot line from takt": (*longStep).robotLine, "spot welding": (*longStep).spots, "coil blanking": (*longStep).blanking,
	"tandem press forming": (*longStep).pressLine, "transfer press forming": (*longStep).pressLine,
	"progressive die forming": (*longStep).progressive, "die and roller hemming": (*longStep).hem, "roller hemming": (*longStep).hem,
	"roll forming": (*longStep).rolls, "stretch bending": (*longStep).stretchBend, "tube bending": (*longStep).tubeBend,
	"tube sawing":         (*longStep).saw,
	"press-brake bending": (*longStep).folds, "shearing and punching": (*longStep).punches, "MIG/MAG welding": (*longStep).arc,
	"sheet hydroforming": (*longStep).sheetHydroforming, "tube hydroforming": (*longStep).tubeHydroforming,
	"final assembly": func(s *longStep) float64 { return s.must("load_time") },
	"press hemming":  func(s *longStep) float64 { return s.must("load_time") + s.must("press_time") },
	"end cutting and washing": func(s *longStep) float64 {
		return s.must("load_time") + s.must("cuts")*s.must("time_per_cut")
	},
	"outside processing": func(*longStep) float64 { return 0 }, "subcontracted operation": func(*longStep) float64 { return 0 },
	"laser trimming": func(s *longStep) float64 {
		return s.must("load_time") + s.in("cut_length", s.contour())*mm/s.must("cutting_speed")*60 + s.orPart("holes", 0)*s.in("time_per_hole", 0)
	},
}

// baseTime returns the seconds of a cycle without joints, and of one joint.
func (c *longhand) baseTime(s *longStep) (base, perJoint float64) {
	if s.cells["process"] == "timed operation" {
		return s.must("load_and_process_time"), s.in("time_per_joint", 0)
	}
	reckoned := longProcesses[s.cells["process"]]
	if reckoned == nil {
		panic("no process " + s.cells["process"])
	}
	base = s.is("load_and_process_time", reckoned(s))
	return base, s.kept("time_per_joint", 0)
}

// kept is what a process reckoned, else what a cell says, else the value of every operation.
func (r *longRow) kept(name string, otherwise float64) float64 {
	if v, ok := r.number[name]; ok {
		return v
	}
	return r.in(name, otherwise)
}

// its returns a number of the part or its grade, NaN where there is none.
func (s *longStep) its(name string) float64 {
	for _, r := range []*longRow{s.part.longRow, s.part.grade} {
		if r == nil {
			continue
		}
		if v, ok := r.number[name]; ok {
			return v
		}
	}
	return math.NaN()
}

// contour is the length in mm of outline and holes of the part, which counts only where the step's own cell is empty.
func (s *longStep) contour() float64 {
	if s.cells["cut_length"] != "" {
		return math.NaN()
	}
	return s.part.contour()
}

// strong checks a force in kN against the machine's.
func (s *longStep) strong(say string, force float64) {
	rated := s.machine.of("rated_force")
	s.check(say, force <= rated, force, rated)
}

// fits checks a size against the machine's, where that has one.
func (s *longStep) fits(say, size string, needed float64) {
	has := s.machine.of(size)
	s.check(say, needed <= has, needed, has)
}

func (s *longStep) blanking() float64 {
	gauge, long, wide, strength := s.its("gauge"), s.its("blank_length"), s.its("blank_width"), s.its("tensile_strength")
	share, rows, cut := s.orPart("contour_share", 100), s.orPart("rows", 1), math.NaN()
	if s.cells["cut_perimeter"] == "" {
		cut = s.part.is("outline", 2*long+2*wide)
		if holes := math.Pi * s.its("holes") * s.its("hole_diameter"); !math.IsNaN(holes) {
			cut += holes
		}
	}
	outline := s.in("cut_perimeter", cut)
	overlap, strokes, feed, stack := s.orPart("nesting_overlap", 0), s.in("press_strokes", 40), s.in("feed_speed", 60), s.in("stack_time", 0.1)
	bridge, web := math.Max(gauge, 1.5), gauge+wide*15/1000
	if s.orPart("cut_off", 0) > 0 {
		bridge, web = 0, 0
	}
	bridge, web = s.orPart("bridge", bridge), s.orPart("edge_web", web)
	pitch := s.is("pitch", math.Max(long-overlap+bridge, 1))
	strip := s.is("strip_width", rows*wide+rows*bridge-bridge+web+web)
	used := s.is("layout_utilisation", rows*long*wide*share/pitch/strip)
	s.is("strip_mass", pitch/rows*strip*gauge*s.its("density")*mm*mm*mm)
	feeding := s.is("feed_time", pitch*mm/feed*60+stack)
	cutting := s.is("cutting_force", rows*outline*gauge*strength*s.its("shear_factor")/1000)
	press := s.is("press_force", cutting*s.in("shear_share", 60)/100*6/5)
	s.is("pieces_per_cycle", rows)
	s.check("overlap too large: the layout can't use more than the strip", used <= 100, used)
	s.strong("the blanking press is too small", press)
	s.check("poor nesting; try two rows, turned blanks or another coil width", used >= 55, used)
	return math.Max(60/strokes, 30/strokes+feeding)
}

func (s *longStep) progressive() float64 {
	pitch, form := s.orPart("pitch", math.NaN()), s.in("form_force", 0)
	perPitch := s.its("pieces_per_pitch")
	if math.IsNaN(perPitch) {
		perPitch = 1
	}
	across := s.in("pieces_across", perPitch)
	cut := s.in("cut_length", across*s.contour())
	die, feed, stations := s.in("die_rate", 60), s.in("feed_speed", 30), s.in("stations", 8)
	s.fits("the bed is too short for the die", "bed_length", s.is("die_length", stations*pitch+200))
	cutting := s.is("cutting_force", cut*s.its("gauge")*s.its("tensile_strength")*s.its("shear_factor")/1000)
	s.strong("the press is too small", s.is("total_force", (cutting+form)*5/4))
	s.check("very long die: consider transfer", stations <= 30, stations)
	rate := s.is("feed_rate", feed*1000/pitch/2)
	s.is("pieces_per_cycle", across)
	return 60 / math.Min(die, rate)
}

// longMove is the shortest time in s over a way in m that begins and ends at rest.
func longMove(way, acceleration, top float64) float64 {
	if top*top/acceleration > way {
		return 2 * math.Sqrt(way/acceleration)
	}
	return top/acceleration + way/top
}

func (s *longStep) pressLine() float64 {
	acceleration, ratio, first := s.in("acceleration", 10), s.in("draw_ratio", 1), s.in("limiting_ratio", 1.9)
	draws := 1.0
	for _, most := range []float64{first, first / 0.7, first / 0.7 / 0.84} {
		if ratio > most {
			draws++
		}
	}
	hits := s.in("hits", 3+s.is("draws", draws))
	leg := s.is("leg_time", longMove(s.in("part_travel", 1500)*mm, acceleration, s.in("top_speed", 4)))
	lift := s.is("lift_time", 4*math.Sqrt(s.in("lift", 150)*mm/acceleration))
	transfer := s.is("transfer_time", leg+leg+lift)
	stroke := s.is("press_time", 60/s.in("press_rate", 20))
	s.is("pieces_per_cycle", s.in("pieces_per_stroke", 1))
	s.strong("the press is too small", s.is("total_force", (s.must("largest_force")+s.in("further_force", 0))*11/10))
	s.fits("the bed is too short for the die", "bed_length", s.is("bed_length_needed", s.its("blank_length")+400))
	s.fits("the bed is too narrow for the die", "bed_width", s.is("bed_width_needed", s.its("blank_width")+400))
	s.check("one hit: use single press", hits >= 2, hits)
	return math.Max(stroke, stroke/2+transfer-transfer*s.in("overlap_share", 40)/100)
}

func (s *longStep) hem() float64 {
	length, passes, robots := s.must("hem_length"), s.in("passes", 3), s.in("robots", 1)
	rolled := passes / robots * (length/s.in("roller_speed", 300) + s.in("corners", 4)*s.in("corner_time", 1.5))
	die, load, roller := s.in("die_cycle", 15), s.in("load_time", 14), s.in("roller", 1)
	force, yield := s.is("hem_force", s.in("line_force", 250)*length/1000), s.its("yield_strength")
	if roller > 0 {
		s.check("hemming press too small", true)
	} else {
		s.strong("hemming press too small", force)
	}
	s.check("flat hem doubtful: open (rope) hem", yield <= 350, yield)
	if roller > 0 {
		return load + rolled
	}
	return load + die
}

func (s *longStep) rolls() float64 {
	gauge, long, strength := s.its("gauge"), s.its("blank_length"), s.its("tensile_strength")
	radians := s.in("leg_angle", 90) / 180 * math.Pi
	length := s.is("forming_length", s.must("flange_height")*radians/math.Sqrt(s.in("edge_strain", 0.2)/50))
	angle, bends := s.orPart("total_bend_angle", 360), s.orPart("bends", math.NaN())
	s.check("the bends would turn by more than 180 degrees each; correct their number or the angle of all", angle/bends <= 180, angle, bends)
	passes := s.is("passes", longCeil(s.in("pass_factor", 2)*length/s.in("pass_distance", 350))+2)
	line, strokes, pitch := s.in("line_speed", 20), s.in("pierce_strokes", 0), s.in("pierce_pitch", 100)
	pierce := line
	if strokes > 0 {
		pierce = strokes * pitch / 1000
	}
	pierce = s.is("pierce_speed", pierce)
	travel := long * mm / math.Min(line, pierce) * 60
	bent := s.is("bending_energy", strength*gauge*gauge/4*angle/180*math.Pi*long/1e6)
	drive, rated := s.is("drive_power", bent/travel*100/15), s.machine.of("rated_power")
	s.check("the mill drive is too weak", drive <= rated, drive, rated)
	s.check("very long mill: split the section", passes <= 40, passes)
	s.check("heavy gauge for these coefficients", gauge <= 6, gauge)
	return travel + s.in("cut_stop_time", 0)
}

func (s *longStep) stretchBend() float64 {
	high, radius := s.must("section_height"), s.must("bend_radius")
	outer := s.is("outer_strain", s.in("stretch", 2)+50*high/radius)
	uniform := s.in("uniform_strain", 10)
	s.check("outer fibre near necking", outer <= uniform*4/5, outer)
	s.strong("too small for the tension", s.is("tension_force", s.its("yield_strength")*s.must("section_area")*0.00115))
	s.check("tight: inner flange wrinkles, fill or mandrel needed", radius >= 2*high, radius, high)
	return s.in("cycle", 45)
}

func (s *longStep) tubeBend() float64 {
	outside, wall, radius := s.orPart("outer_diameter", math.NaN()), s.its("gauge"), s.orPart("centreline_radius", math.NaN())
	bends, angle := s.orPart("bends", math.NaN()), 60.0
	if all := s.its("total_bend_angle"); !math.IsNaN(all) {
		angle = all / bends
	}
	angle, mandrel, uniform := s.in("mean_bend_angle", angle), s.in("mandrel", 1), s.in("uniform_strain", 25)
	each := s.is("time_per_bend", angle/s.in("bend_speed", 40)+s.in("clamp_time", 2)+s.in("feed_rotate_time", 2))
	strain := s.is("outer_strain", 50*outside/radius)
	s.is("thinned_wall", wall*radius/(radius+outside/2))
	inside := outside - wall - wall
	s.is("bending_moment", 1.3*s.its("tensile_strength")*(outside*outside*outside-inside*inside*inside)/6e6)
	hard := s.is("difficulty", (4+outside/wall/5+angle/180)*outside/radius)
	least := 3.0
	if mandrel > 0 {
		least = 1.5
	}
	s.check("the outer wall cracks", strain <= uniform, strain)
	s.check("radius below 1.5 D with, 3 D without mandrel", radius >= least*outside, radius, outside)
	s.check("hard bend: multi-ball mandrel, wiper, boost", hard <= 14, hard)
	return s.in("load_time", 8) + bends*each
}

// saw cuts a bundle by its wall area in cm2 a minute; a stock length gives whole pieces, each with its cut.
func (s *longStep) saw() float64 {
	outside, wall, length := s.orPart("outer_diameter", math.NaN()), s.its("gauge"), s.its("blank_length")
	area, bundle := s.is("wall_area", math.Pi*(outside-wall)*wall/100), s.in("bundle", 1)
	s.is("pieces_per_cycle", bundle)
	stock := s.orPart("stock_length", 6000)
	pieces := s.is("pieces_per_stock", math.Floor((stock-s.orPart("end_loss", 120))/(length+s.orPart("kerf", 2.5))+1e-12))
	s.is("cut_utilisation", 100*pieces*length/stock)
	s.check("stock shorter than the piece", pieces >= 1, pieces)
	return bundle*area/s.in("cutting_rate", 120)*60 + s.in("feed_time", 3.5)
}

// thickWall finds the upper bound of the pressure in bar (1 N/mm2 is 10 bar), a thick wall that yields through and through, and of
// the closing force in kN (1 bar on 1 cm2 is 10 N), and the thin wall's pressure.
func (s *longStep) thickWall(seal, most float64, beyond string) (thin float64) {
	strength, gauge, radius, area := s.its("tensile_strength"), s.its("gauge"), s.must("smallest_radius"), s.must("projected_area")
	thin = s.is("forming_pressure", 10*strength*gauge/radius)
	s.is("closing_force", thin*area/100*seal)
	thick := s.is("upper_forming_pressure", 10*2/math.Sqrt(3)*strength*(math.Log(radius)-math.Log(radius-gauge)))
	s.strong("the press is too small for the upper bound of the closing force", s.is("upper_closing_force", thick*area/100*seal))
	s.check(beyond, thick <= most, thick)
	s.fits("the upper bound of the pressure is above what the machine gives", "rated_pressure", thick)
	s.check("the smallest outside radius must be above the gauge", radius > gauge, radius, gauge)
	s.check("the smallest radius is below 2.5 gauges; pressure and thinning rise steeply", radius >= 2.5*gauge, radius, gauge)
	return thin
}

func (s *longStep) tubeHydroforming() float64 {
	pressure := s.thickWall(1.1, 4000, "the upper bound of the pressure is above usual intensifiers")
	bore, growth, allowed := s.must("inner_diameter"), s.in("largest_expansion", 5), s.in("allowed_expansion", 10)
	s.is("axial_force", pressure*math.Pi*bore*bore*1.2/4/10_000)
	swept := s.is("pressed_volume", s.in("tube_volume", 4)*(pressure/22_000+growth/50+growth*growth/10_000))
	rise := s.is("pressure_rise_time", swept/s.in("intensifier_flow", 60)*60+0.5)
	s.is("pump_energy", pressure*swept/10)
	s.check("the tube bursts: larger tube, feed or anneal", growth <= allowed, growth)
	return s.in("close_time", 4) + s.in("fill_time", 4) + rise + s.in("hold_time", 2) + s.in("open_time", 7)
}

func (s *longStep) sheetHydroforming() float64 {
	pressure := s.thickWall(1.15, 2500, "the upper bound of the pressure is beyond usual systems; take a larger radius or calibrate mechanically")
	squeezed := s.is("compression_volume", s.in("fluid_volume", 20)*pressure/22_000)
	rise := s.is("pressure_rise_time", squeezed/s.in("pump_flow", 100)*60)
	s.is("pump_energy", pressure*squeezed/12)
	return s.in("handling_time", 35) + rise + s.in("hold_time", 4)
}
