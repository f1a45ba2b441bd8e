package scenarios

import (
	"math"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// Tools whose price is built up: what a kind of tool takes, and what follows for a tool of an operation.

// longCoefficients are the quantities of a kind of tool, in the order of longKinds.
var longCoefficients = []string{"base_hours", "hours_per_area", "hours_per_stage", "hours_per_feature", "toolroom_rate", "steel_per_area", "steel_price",
	"standard_parts_per_stage", "standard_parts_per_feature", "tryout_hours_per_stage", "tryout_rate", "features_per_child", "tool_life"}

// longKinds are the placeholders of each kind of tool, typed once more.
var longKinds = map[string][]float64{
	"press die":                 {60, 0.06, 40, 3, 70, 0.5, 4, 2500, 90, 16, 140, 0, 400000},
	"transfer die set":          {120, 0.07, 60, 3, 72, 0.55, 4, 4000, 90, 20, 260, 0, 500000},
	"progressive die":           {80, 0.25, 18, 5, 74, 0.6, 4.5, 550, 70, 4, 120, 0, 1000000},
	"trimming and piercing die": {50, 0.04, 30, 5, 70, 0.45, 4, 1800, 110, 8, 130, 0, 300000},
	"hot-stamping die":          {140, 0.13, 70, 4, 78, 0.7, 7, 6000, 120, 30, 320, 0, 150000},
	"hydroforming die":          {150, 0.12, 60, 6, 75, 0.9, 4, 9000, 150, 24, 300, 0, 350000},
	"bending tool":              {16, 0.05, 8, 2, 68, 0.2, 6, 400, 0, 3, 90, 0, 250000},
	"roll set":                  {60, 0.012, 7, 0, 68, 0.1, 6, 150, 0, 2.5, 110, 0, 3000000},
	"welding fixture":           {40, 0.004, 12, 4.5, 65, 0.012, 2.5, 900, 260, 6, 95, 4, 1500000},
	"hemming tool":              {90, 0.05, 50, 3, 72, 0.3, 4, 5000, 120, 16, 110, 0, 600000},
}

// longByProcess is the kind of tool of the processes of the archives.
var longByProcess = map[string]string{"tandem press forming": "transfer die set", "sheet hydroforming": "hydroforming die",
	"progressive die forming": "progressive die", "tube hydroforming": "hydroforming die", "roll forming": "roll set",
	"coil blanking": "trimming and piercing die", "shearing and punching": "trimming and piercing die", "press-brake bending": "bending tool",
	"tube bending": "bending tool", "MIG/MAG welding": "welding fixture"}

// toolRelations reads what the sheet Tool relations says of each kind, rows that were replaced left out.
func (c *longhand) toolRelations(t testing.TB, a *txtar.Archive) {
	c.kinds = map[string]*longRow{}
	rows := longTable(t, a, "tool_relations")
	for i, r := range rows {
		if i == 0 || r[4] == "replaced" {
			continue
		}
		k := c.kind(r[0])
		k.cells[longName(r[1])] = r[2]
	}
	for _, k := range c.kinds {
		k.coefficients()
	}
}

// kind is the row of a kind of tool, made where it is first asked for.
func (c *longhand) kind(name string) *longRow {
	name = strings.ToLower(name)
	if c.kinds[name] == nil {
		c.kinds[name] = newLongRow("tool kind", name, map[string]string{})
		c.kinds[name].coefficients()
	}
	return c.kinds[name]
}

func (k *longRow) coefficients() {
	for i, name := range longCoefficients {
		switch usual := longKinds[k.key]; {
		case usual != nil:
			k.in(name, usual[i])
		case name == "toolroom_rate":
			k.must(name)
		default:
			k.in(name, 0)
		}
	}
}

// toolKind is the row of the kind of tool of a step, or nil.
func (c *longhand) toolKind(s *longStep) *longRow {
	switch name := strings.ToLower(s.cells["tool_kind"]); name {
	case "":
		return nil
	case "by process":
		return c.kind(longByProcess[s.cells["process"]])
	default:
		return c.kind(name)
	}
}

// toolPrice is what a tool costs in EUR: hours, steel, standard parts, try-out.
func (c *longhand) toolPrice(s *longStep, k *longRow) float64 {
	if k == nil || s.cells["tool_price"] != "" {
		return 0
	}
	stages, one := s.toolSize()
	area := s.is("tool_working_area", one*stages)
	features := s.cells["tool_features"]
	joining := 0.0
	if features == "" {
		for _, l := range s.part.children {
			if l.step == s {
				joining += l.of("quantity")
			}
		}
		joining *= k.of("features_per_child")
		switch s.cells["process"] {
		case "coil blanking", "shearing and punching": // what a cutting tool cuts
			joining = s.counted("holes")
		case "press-brake bending", "tube bending":
			joining = s.of("bends")
		default:
			joining += s.counted("holes") + s.counted("bends")
		}
	}
	places := s.in("tool_features", joining)
	hours := s.is("tool_hours", places*k.of("hours_per_feature")+stages*k.of("hours_per_stage")+area*k.of("hours_per_area")+k.of("base_hours"))
	steel := s.is("tool_steel_cost", s.is("tool_steel_mass", area*k.of("steel_per_area"))*k.of("steel_price"))
	bought := s.is("tool_standard_parts_cost", places*k.of("standard_parts_per_feature")+stages*k.of("standard_parts_per_stage"))
	trying := s.is("tool_tryout_cost", stages*k.of("tryout_rate")*k.of("tryout_hours_per_stage"))
	return trying + bought + steel + hours*k.of("toolroom_rate")
}

// counted is what the drawing of the part says, 0 where it says nothing.
func (s *longStep) counted(name string) float64 {
	v := s.its(name)
	if math.IsNaN(v) {
		v = 0
	}
	return s.part.is("counted_"+name, v)
}

// toolSize is how many stages a tool has, and the face area of one in cm2.
func (s *longStep) toolSize() (stages, area float64) {
	stages = 1
	process := s.cells["process"]
	long, wide := s.its("blank_length"), s.its("blank_width")
	if outside := s.its("outer_diameter"); !math.IsNaN(outside) {
		wide = outside
	}
	if s.part.cells["form"] == "assembly" {
		long, wide = s.its("overall_length"), s.its("overall_width")
	}
	if s.part.cells["form"] == "strip" {
		long, wide = s.its("pitch"), s.its("strip_width")
	}
	switch process {
	case "tandem press forming":
		stages = s.of("hits")
	case "progressive die forming":
		stages = s.of("stations")
		long = s.of("pitch")
	case "roll forming":
		stages = s.of("passes")
		long = 600
	}
	area = long * wide / 100
	if strings.HasSuffix(process, "hydroforming") {
		area = s.of("projected_area")
	}
	return s.in("tool_stages", stages), s.in("tool_face_area", area)
}
