package costmodel

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel/table"
)

// heatProcess is an invented process whose inputs are levels of temperature with ranges and a default, and an angle.
const heatProcess = `process: heat
inputs:
  bath_temperature: {unit: degC, possible: [-50, 1500], plausible: [100, 950], default: '"200 degC"'}
  room_temperature: {unit: degF, possible: [-58, 212], default: '"68 degF"'}
  lean: {unit: deg, default: '"30 deg"'}
  warmth: {unit: K, default: '"10 K"'}
quantities:
  load_and_process_time: {unit: s, is: '(bath_temperature - room_temperature + warmth) / "10 K/s" * cos(lean)'}
`

// heatCase is a part with steps of that process; heading and cell are those of a column of the sheet Operations.
func heatCase(heading string, cells ...string) csvCase {
	c := csvCase{
		"Case":      "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,3\nInterest rate,%/yr,5\n",
		"Plants":    "Quantity,Unit,Works\nWorking days,1/yr,200\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n",
		"Materials": "Material,Density [kg/m3],Base price [EUR/kg]\nSTEEL,7850,0.9\n", "Machines": "Machine,Price [EUR],Economic life [yr]\nM,500000,10\n",
		"Parts":             "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,sheet,STEEL,2,400,250\n",
		"Bill of materials": "Parent,Child,Quantity,Joined at operation\n", "Operations": "Part,Operation,Process,Machine,Batch size," + heading + "\n",
		"Scenarios": "Sheet,Row,Column,A\n,,Product,P\n,,Plant,Works\n,,Annual volume [1/yr],50000\n",
	}
	for i, cell := range cells {
		c["Operations"] += "P," + string(rune('1'+i)) + "0,heat,M,100," + cell + "\n"
	}
	return c
}

func heatModel(t *testing.T, c csvCase) *Model {
	t.Helper()
	files := templatesInMemory(t)
	files["processes/heat.yaml"] = &fstest.MapFile{Data: []byte(heatProcess)}
	lib, err := LoadLibrary(files)
	if err != nil {
		t.Fatal(err)
	}
	return New(c.read(t), lib)
}

// TestLevelsInCells: what fits a column of levels or angles gives its value, what does not is said with what to do.
func TestLevelsInCells(t *testing.T) {
	for _, c := range []struct{ heading, cell, message string }{
		{"Bath temperature [degC]", "900", ""},
		{"Bath temperature [degF]", "1652", ""},
		{"Bath temperature [degF]", "900 degC", ""},
		{"Bath temperature [degC]", "base", `unknown name "base"`},
		{"Bath temperature [degC]", "1173 K", `Bath temperature "1173 K" is a difference of temperatures [K], wanted is a level of temperature [degC]; ` +
			"K is for differences of temperatures; write the temperature itself in degC or degF"},
		{"Bath temperature [K]", "900", `heading "Bath temperature [K]": the unit is a difference of temperatures [K], but bath_temperature is a level of ` +
			"temperature [degC]; write Bath temperature [degC]: K is for differences of temperatures; write the temperature itself in degC or degF"},
		{"Bath temperature", "900", `heading "Bath temperature" has no unit; write Bath temperature [degC]`},
		{"Bath temperature [degC]", "2 * room_temperature", "a level of temperature can't be part of a product"},
		{"Bath temperature [degF]", "2800", "Bath temperature is 2800 degF, but it must be at most 2732 degF; check the value and its unit"},
		{"Bath temperature [degC]", "-60", "Bath temperature is -60 degC, but it must be at least -50 degC; check the value and its unit"},
		{"Bath temperature [degF]", "140", "Bath temperature is 140 degF, outside the plausible 212 to 1742 degF"}, // 60 degC
		{"Bath temperature [degF]", "212", ""}, // an end of the plausible range
		{"Room temperature [degC]", "100", ""}, // an end of the possible range, 212 degF
		{"Room temperature [degC]", "101", "Room temperature is 101 degC, but it must be at most 100 degC"},
		{"Warmth [degF]", "18", "write Warmth [K]: degC and degF are levels of temperature; write a difference in K, of 18 degF it is 10 K"},
		{"Warmth [K]", "20 degC", "degC and degF are levels of temperature; write a difference in K"},
		{"Warmth [degR]", "18", ""},
		{"Lean [deg]", "30", ""},
		{"Lean [rad]", "0.5", ""},
		{"Lean [%]", "50", `the unit is a plain number, but lean is an angle [deg]; write Lean [deg]: write an angle in deg or rad`},
		{"Lean [deg]", "50 %", `Lean "50 %" is a plain number, wanted is an angle [deg]; write an angle in deg or rad`},
		{"Reject rate [%]", "5 deg", `Reject rate "5 deg" is an angle [deg], wanted is a plain number; an angle does not belong here`},
	} {
		m := heatModel(t, heatCase(c.heading, c.cell))
		found := slices.ContainsFunc(m.Diagnostics, func(d table.Diagnostic) bool {
			return c.message != "" && strings.Contains(d.Summary+"; "+d.Help, c.message)
		})
		said := slices.ContainsFunc(m.Diagnostics, func(d table.Diagnostic) bool { return d.Severity != table.Note })
		if c.message == "" && said || c.message != "" && !found {
			t.Errorf("%s, %s: %v\nwanted is %q", c.heading, c.cell, m.Diagnostics, c.message)
		}
	}
}

// TestLevelsInChanges: a scenario moves a level by a difference, and can't multiply it; a range of the sheet Uncertainty neither.
func TestLevelsInChanges(t *testing.T) {
	for cell, want := range map[string]string{
		"base + 18": "", `base - ""10 K""`: "", "base - 18": "", "1000": "",
		"base * 1.1":  "a level of temperature can't be part of a product",
		"base + base": "two levels of temperature can't be added",
	} {
		c := heatCase("Bath temperature [degF]", "1652")
		c["Scenarios"] = strings.Replace(c["Scenarios"], "\n,,Product", "\nOperations,P/10,Bath temperature,\""+cell+"\"\n,,Product", 1)
		m := heatModel(t, c)
		if got := errorsOf(m.Diagnostics); (want == "") != (got == "") || !strings.Contains(got, want) {
			t.Errorf("change %s: %s\nwanted is %q", cell, got, want)
		}
	}
	for row, want := range map[string]string{
		"base - 18,base + 18": "", "1600,1700": "", "base * 0.9,base * 1.1": "a level of temperature can't be part of a product",
	} {
		c := heatCase("Bath temperature [degF]", "1652")
		c["Uncertainty"] = "Sheet,Row,Column,Distribution,Low,High\nOperations,P/10,Bath temperature,uniform," + row + "\n"
		m := heatModel(t, c)
		list, ds := m.Uncertainty()
		if got := errorsOf(append(m.Diagnostics, ds...)); (want == "") != (got == "") || !strings.Contains(got, want) || want == "" && len(list) != 1 {
			t.Errorf("uncertain %s: %s, %d rows\nwanted is %q", row, got, len(list), want)
		}
	}
}

func errorsOf(ds table.Diagnostics) string {
	var out []string
	for _, d := range ds {
		if d.Severity == table.Error {
			out = append(out, d.Summary)
		}
	}
	return strings.Join(out, "\n")
}
