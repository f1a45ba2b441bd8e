package costmodel

import (
	"maps"
	"math"
	"slices"
	"testing"
)

// familyCase has one operation of a part of 300 x 200 x 1.5 mm (0.7065 kg) at 100,000 per year; a year has 230 days of 2 shifts of 8 h.
func familyCase(process, machine string, columns map[string]string) csvCase {
	head, row := "Part,Operation,Process,Machine,Set-up time [min],Batch size", "P,10,\""+process+"\",M,0,1000"
	for _, name := range slices.Sorted(maps.Keys(columns)) {
		head, row = head+","+name, row+","+columns[name]
	}
	return csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"Plants": "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n" +
			"Electricity price,EUR/kWh,0.2\nFuel gas price,EUR/kWh,0.05\n",
		"Materials":  "Material,Density [kg/m3],Base price [EUR/kg]\nS,7850,0.9\n",
		"Parts":      "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,sheet,S,1.5,300,200\n",
		"Operations": head + "\n" + row + "\n",
		"Machines":   "Machine,Price [EUR],Economic life [yr],Equipment allocation,Crew,Rated power [kW]\nM,200000,10," + machine + "\n",
		"Scenarios":  "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],100000\n"}
}

// TestFamilies: batch machines load by mass and by count, continuous lines by pitch and speed, a robot line has the stations of its takt;
// every figure is worked by hand.
func TestFamilies(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, process, machine string
		columns                map[string]string
		want                   map[string]float64 // in the unit that templates/ declares
	}{
		// 400 kg less 25 % of baskets: 300 kg / 0.7065 kg = 424.6 pieces; 15 + 20 + 60 min; 100,000/424 x 95/60 h.
		// A piece takes 0.7065/0.75 kg x 0.6 kJ/(kg K) x 580 K / 40 % = 819.54 kJ = 0.22765 kWh, all from gas
		{"furnace, by mass", "heat treatment", "shared,1,80", map[string]string{"Load mass [kg]": "400", "Gas-fired share [%]": "100"},
			map[string]float64{"pieces_per_cycle": 424, "cycle_time": 5700, "running_hours": 373.4277, "power": 0, "fuel_gas_used": 22765,
				"fuel_gas_cost": 1138.25, "energy": 1138.25}},
		// the same with room for 200: 200 at once; half from gas, half electric: 11,382.5 kWh x (0.05 + 0.2) EUR
		{"furnace, by count", "heat treatment", "shared,1,80", map[string]string{"Load mass [kg]": "400", "Pieces by space": "200",
			"Gas-fired share [%]": "50"}, map[string]float64{"pieces_per_cycle": 200, "running_hours": 791.6667, "energy": 2845.625}},
		// a jig of 40 stays 10 min in the bath: 100,000/40 x 10/60 h
		{"bath, by count", "hot-dip galvanizing", "shared,1,0", nil, map[string]float64{"pieces_per_cycle": 40, "running_hours": 416.6667}},
		// hangers of 3 at 1.2 m, at 3 m/min: 24 s a hanger; 100,000/3 x 24 s
		{"continuous line", "powder coating", "shared,1,0", map[string]string{"Pitch [mm]": "1200", "Conveyor speed [m/min]": "3", "Pieces per hanger": "3",
			"Coated area [m2]": "0.12"}, map[string]float64{"pieces_per_cycle": 3, "cycle_time": 24, "running_hours": 222.2222}},
		// takt 95 % x 60 s = 57 s, 48 s less the transfer: 2,400/(0.9 x 0.85 x 48) = 65.4, so 66 robots in 17 stations; 100,000/60 h of the
		// line, 17 x 1,666.667 of its stations, of 3,680 planned; 17 x 0.1 workers
		{"robot line", "robot line from takt", "shared,0.1,20", map[string]string{"Work content [s]": "2400", "Line uptime [%]": "95", "Balance [%]": "90"},
			map[string]float64{"takt": 57, "robots": 66, "stations": 17, "required_hours": 1666.6667, "machines_charged": 7.699275, "crew": 1.7, "power": 340}},
		// at the rate of the volume, 100,000 in 3,680 h: takt 95 % x 132.48 s = 125.856 s; 2,400/(0.9 x 0.85 x 116.856) = 26.8, so 27 robots
		// in 7 stations, one line of them filled by all its hours
		{"robot line of its own", "robot line from takt", "dedicated,0.1,20", map[string]string{"Work content [s]": "2400", "Line uptime [%]": "95",
			"Balance [%]": "90", "Wanted rate [1/h]": "=produced_quantity / plant.planned_hours"},
			map[string]float64{"takt": 125.856, "robots": 27, "stations": 7, "lines_needed": 1, "dedicated_machines": 7, "machines_charged": 7}},
	} {
		m := New(familyCase(c.process, c.machine, c.columns).read(t), lib)
		p, ds := m.Compile(m.Scenarios[0], CompileOptions{})
		if p == nil {
			t.Errorf("%s: %v %v", c.name, m.Diagnostics, ds)
			continue
		}
		step := p.Detail(100_000).Entries("operation")[0]
		for name, want := range c.want {
			if got, _, ok := step.In(name); !ok || math.Abs(got-want) > 2e-5*want {
				t.Errorf("%s: %s is %v (%v), by hand %v", c.name, name, got, ok, want)
			}
		}
	}
}
