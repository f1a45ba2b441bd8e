package scenarios

import (
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// physicsTables is an invented part of two operations by an own process in which everything of physics that the language knows is
// used: levels of temperature in three units, differences, currents, angles, CO2e and fractional powers.
var physicsTables = map[string]string{
	"case":   "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,3\nInterest rate,%/yr,5\n",
	"plants": "Quantity,Unit,Works\nWorking days,1/yr,200\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n",
	"materials": `Material,Density [kg/m3],Base price [EUR/kg]
STEEL,7850,0.9
ALU,2700,3
`,
	"machines":          "Machine,Price [EUR],Economic life [yr],Crew,Equipment allocation\nM,500000,10,1,shared\nN,400000,10,1,shared\n",
	"parts":             "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,sheet,STEEL,2,400,250\n",
	"bill_of_materials": "Parent,Child,Quantity,Joined at operation\n",
	"operations": `Part,Operation,Name,Process,Machine,Start temperature [degF],` +
		`Peak temperature [degC],Heating power [kW],Weld current [kA],Bend angle [deg],Rise [mm],Batch size,Setup time [min]
P,10,first,heat and bend,M,68,900,50,9,90,50,100,10
P,20,second,heat and bend,M,-40,1652 degF,40,9000 A,1.0471975511965976 rad,=0.03 * 1000,100,10
P,30,third,heat and bend,M,=2 * 34,start_temperature + 880,30,8.5,=30 + 30,60,100,10
`,
	"tables": `Curve,X,X unit,Y,Y unit
oven,0,kW,32,degF
oven,100,,212,
strength,32,degF,400,MPa
strength,1832,,100,
`,
	"processes": `Process,Quantity,Unit,Formula or value
heat and bend,start_temperature,degC,
heat and bend,peak_temperature,degC,
heat and bend,heating_power,kW,
heat and bend,weld_current,kA,
heat and bend,bend_angle,deg,
heat and bend,rise,mm,
heat and bend,room_temperature,degF,68
heat and bend,heat_capacity,J/(kg*K),490
heat and bend,bend_radius,mm,100
heat and bend,resistance,uohm,100
heat and bend,carbon_intensity,kgCO2e/kWh,0.4
heat and bend,heat,kJ,part.blank_mass * heat_capacity * (peak_temperature - start_temperature)
heat and bend,film_coefficient,W/(m2*K),"heat / (part.blank_length * part.blank_width * (peak_temperature - start_temperature) * ""60 s"")"
heat and bend,hottest,degF,"max(start_temperature, peak_temperature, room_temperature, ""100 degC"")"
heat and bend,oven_setting,degF,"interpolate(oven, heating_power) + ""18 degR"""
heat and bend,hot_strength,MPa,"interpolate(strength, peak_temperature)"
heat and bend,pulse_heat,J,"weld_current^2 * resistance * ""200 ms"""
heat and bend,voltage,V,weld_current * resistance
heat and bend,arc,mm,bend_radius * bend_angle
heat and bend,chord,mm,2 * bend_radius * sin(bend_angle / 2)
heat and bend,sagitta,mm,bend_radius * (1 - cos(bend_angle / 2))
heat and bend,slope,deg,atan(rise / bend_radius)
heat and bend,slope_again,deg,"asin(min(1, rise / (rise^2 + bend_radius^2)^0.5))"
heat and bend,slope_left,deg,"acos(min(1, rise / sqrt(rise^2 + bend_radius^2)))"
heat and bend,leg,mm,bend_radius * tan(slope)
heat and bend,side,mm,(part.blank_length * part.blank_width)^0.5
heat and bend,edge,mm,"power(part.blank_length * part.blank_width * part.gauge, 1/3)"
heat and bend,carbon,gCO2e,heat * carbon_intensity
heat and bend,above_room,flag,peak_temperature > room_temperature
heat and bend,path,mm,chord + arc + leg + side + edge
heat and bend,load_and_process_time,s,"heat / heating_power + path / ""1 m/s"" + (above_room ? hottest - oven_setting : ""0 K"") / ""100 K/s"""
`,
	"scenarios": `Sheet,Row,Column,Base,Hotter
,,Product,P,P
,,Plant,Works,Works
,,Annual volume [1/yr],50000,50000
Operations,P/10,Peak temperature,,base + 20
Operations,P/20,Start temperature [degF],,14
Operations,P/30,Peak temperature,,"max(base, ""1600 degF"")"
`,
}

func physicsFiles() fstest.MapFS {
	files := fstest.MapFS{}
	for name, text := range physicsTables {
		files[name+".csv"] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

// physicsGiven are the inputs of a step in degC, W, A, rad and m, by hand from the tables.
type physicsGiven struct{ start, peak, power, current, angle, rise float64 }

var physicsByHand = [2][3]physicsGiven{
	{{20, 900, 50e3, 9000, math.Pi / 2, 0.05}, {-40, 900, 40e3, 9000, math.Pi / 3, 0.03}, {20, 900, 30e3, 8500, math.Pi / 3, 0.06}},
	{{20, 920, 50e3, 9000, math.Pi / 2, 0.05}, {-10, 900, 40e3, 9000, math.Pi / 3, 0.03}, {20, 900, 30e3, 8500, math.Pi / 3, 0.06}}, // 1600 degF is 871.1 degC
}

// quantities are the results in the units of the sheet Processes: heat by m c dT, film coefficient by Newton's law of cooling, pulse by
// Joule's, voltage by Ohm's law, chord and sagitta of a circle, each reckoned with plain numbers.
func (g physicsGiven) quantities() map[string]float64 {
	const length, width, gauge, radius, ohm = 0.4, 0.25, 0.002, 0.1, 100e-6
	heat := length * width * gauge * 7850 * 490 * (g.peak - g.start)
	oven := g.power / 1e5 * 100 // 0 to 100 degC over 0 to 100 kW
	out := map[string]float64{
		"start_temperature": g.start, "peak_temperature": g.peak, "heat": heat / 1e3,
		"film_coefficient": heat / (length * width * (g.peak - g.start) * 60),
		"hottest":          g.peak*1.8 + 32, "oven_setting": (oven+10)*1.8 + 32, "hot_strength": 400 - 300*g.peak/1000,
		"pulse_heat": g.current * g.current * ohm * 0.2, "voltage": g.current * ohm,
		"arc": radius * g.angle * 1e3, "chord": 2 * radius * math.Sin(g.angle/2) * 1e3, "sagitta": radius * (1 - math.Cos(g.angle/2)) * 1e3,
		"slope": math.Atan2(g.rise, radius) * 180 / math.Pi, "slope_again": math.Atan2(g.rise, radius) * 180 / math.Pi,
		"slope_left": math.Atan2(radius, g.rise) * 180 / math.Pi, "leg": g.rise * 1e3,
		"side": math.Sqrt(length*width) * 1e3, "edge": math.Cbrt(length*width*gauge) * 1e3, "carbon": heat / 3.6e6 * 0.4 * 1e3, "above_room": 1,
	}
	out["load_and_process_time"] = heat/g.power + (out["chord"]+out["arc"]+out["leg"]+out["side"]+out["edge"])/1e3 + (g.peak-oven-10)/100
	return out
}

// TestPhysicsByHand: every quantity of the own process is what plain arithmetic makes of it.
func TestPhysicsByHand(t *testing.T) {
	path := filepath.Join(t.TempDir(), "physics.xlsx")
	saveTables(t, physicsFiles(), path)
	r := resultOf(t, path)
	for s, d := range r.Details {
		steps := d.Entries("operation")
		if len(steps) != 3 {
			t.Fatalf("%d steps", len(steps))
		}
		for i, step := range steps {
			for name, want := range physicsByHand[s][i].quantities() {
				got, unit, ok := step.In(name)
				if !ok || math.Abs(got-want) > 1e-12*math.Max(1, math.Abs(want)) {
					t.Errorf("%s, step %d: %s is %v %s, by hand %v", d.Plan.Scenario.Name, i+1, name, got, unit, want)
				}
			}
		}
	}
}

// TestPhysicsRecalculated: an independent calculator comes to the same from poisoned values, and follows an edit of a cell in degF as the
// program does.
func TestPhysicsRecalculated(t *testing.T) {
	dir := t.TempDir()
	path, poisoned := filepath.Join(dir, "physics.xlsx"), filepath.Join(dir, "poisoned.xlsx")
	saveTables(t, physicsFiles(), path)
	writeLive(t, path)
	checkFormulas(t, path)
	for _, form := range []string{"SIN(", "COS(", "TAN(", "ASIN(", "ACOS(", "ATAN(", "^0.5", "-32)/1.8"} {
		found := false
		for _, c := range formulaCells(t, path) {
			found = found || strings.Contains(c.Formula, form)
		}
		if !found {
			t.Errorf("no formula has %s", form)
		}
	}
	poison(t, path, poisoned)
	edited := filepath.Join(dir, "edited.xlsx")
	editWorkbookFile(t, path, edited, inputEdit{cells: map[string]any{"Operations!F2": 50, "Operations!G2": 850}})
	if n := comparePoisoned(t, path, poisoned); n < 200 {
		t.Errorf("%d formulas", n)
	}
	want := resultOf(t, edited).Details[0].Scenario().Must("piece_cost")
	if before := resultOf(t, path).Details[0].Scenario().Must("piece_cost"); before == want {
		t.Error("the edit moves nothing")
	}
	found := false
	for _, c := range readSummary(t, recomputed(t, edited)) {
		if v, err := strconv.ParseFloat(c.Value, 64); err == nil && math.Abs(v-want) < 1e-9*want {
			found = true
		}
	}
	if !found {
		t.Errorf("after the edit no cell of the summary is the piece cost %v", want)
	}
}

// TestLevelsAreMovedByKelvins: where inputs are moved by 10 %, a level of temperature is moved by 10 K, whatever its unit.
func TestLevelsAreMovedByKelvins(t *testing.T) {
	path := filepath.Join(t.TempDir(), "physics.xlsx")
	saveTables(t, physicsFiles(), path)
	r := resultOf(t, path)
	list := r.Details[0].Plan.Inputs()
	found := 0
	for _, v := range list {
		if !v.IsLevel() || math.IsNaN(v.BaseValue) {
			continue
		}
		found++
		if low, high := v.AtShare(0.9), v.AtShare(1.1); math.Abs(v.BaseValue-low-10) > 1e-12 || math.Abs(high-v.BaseValue-10) > 1e-12 {
			t.Errorf("%s: from %v to %v", v.Input, low, high)
		}
		if back := v.ShareAt(v.AtShare(1.1)); math.Abs(back-1.1) > 1e-12 || !v.HasShares() {
			t.Errorf("%s: %v", v.Input, back)
		}
	}
	if found < 2 {
		t.Errorf("%d levels among %d inputs", found, len(list))
	}
}
