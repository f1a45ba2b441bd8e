package costmodel

import (
	"math"
	"os"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

const trialHead = "Part,Grade,Gauge [mm],Quantity,Unit,Direction,Target,Measured,Source\n"

// trialOf reads a sheet Trial values into the sample, errors and all, and returns what it found on that sheet.
func trialOf(t *testing.T, lib *Library, sheet string) (*Model, []string) {
	t.Helper()
	c := sampleTables(t)
	c["Trial values"] = sheet
	m := New(c.read(t), lib)
	var out []string
	for _, d := range m.Diagnostics {
		if d.Place.Sheet == "Trial values" && d.Severity == table.Error {
			out = append(out, strings.TrimPrefix(d.String(), "tables "))
		}
	}
	return m, out
}

func trialLibrary(t *testing.T) *Library {
	t.Helper()
	lib, err := LoadLibrary(os.DirFS("../templates"))
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestTrialValuesRead: the more specific row goes before, both directions hold, units are converted, a gauge in inches is one in mm.
func TestTrialValuesRead(t *testing.T) {
	m, found := trialOf(t, trialLibrary(t), trialHead+
		"A01,,,Bending stiffness,N/mm,at least,400,,\n"+
		"A01,,0.8,bending  stiffness,N/mm,at least,420,,\n"+
		"A01,M02,,Bending stiffness,kN/mm,At Least,0.44,,\n"+
		"A01,M03,,Bending stiffness,N/mm,at least,430,,\n"+
		"A01,M02,0.8,Bending stiffness,N/mm,at least,450,455,bench\n"+
		"A01,M02,0.8,Bending stiffness,N/mm,at most,500,,\n"+
		",,,,,,,,only a remark\n"+
		"A01,M01,0.03 in,Bending stiffness,N/mm,,,411,\n"+
		"A01,M01,0.75,Dent load,1,,,1.5,\n"+
		"A01,M01,0.75,Net mass of this level,g,,,11900,\n"+
		"A02,M01,1,Noise,points,at most,3,2,\n")
	if len(found) > 0 {
		t.Fatal(found)
	}
	of := m.TrialQuantities("A01")
	if len(of) != 3 || of[0].Name() != "Bending stiffness of A01" || of[1].Name() != "Dent resistance of A01" || !of[1].Relative() || of[0].Relative() ||
		of[1].Ratio != DentRatio || of[2].Ratio != "" || len(m.TrialQuantities("A02")) != 1 {
		t.Fatalf("%+v", of)
	}
	for _, c := range []struct {
		grade string
		gauge float64 // mm
		least float64 // N/mm
	}{{"M01", 0.7, 400}, {"M01", 0.8, 420}, {"M02", 0.7, 440}, {"M02", 0.8, 450}, {"M03", 0.8, 430}} {
		got := of[0].Limits(c.grade, c.gauge/1000)
		if len(got) == 0 || !got[0].AtLeast || math.Abs(got[0].Value-c.least) > 1e-9 || (len(got) == 2) != (c.least == 450) {
			t.Errorf("%s at %v: %v, want %v", c.grade, c.gauge, got, c.least)
		}
	}
	if v := of[0].Measured("M02", 0.0008); v != 455 {
		t.Errorf("measured %v", v)
	}
	if v := of[0].Measured("M01", 0.000762); v != 411 { // 0.03 in
		t.Errorf("measured at an inch's gauge: %v", v)
	}
	if v := of[0].Measured("M01", 0.00076); v == v {
		t.Errorf("measured at another gauge: %v", v)
	}
	if v := of[2].Measured("M01", 0.00075); math.Abs(v-11900) > 1e-9 {
		t.Errorf("measured mass %v g", v)
	}
	if l := (TrialLimit{AtLeast: true, Value: 400}); l.Misses(400*(1-1e-12)) || !l.Misses(400*(1-1e-6)) || l.Misses(401) || l.Direction() != "at least" {
		t.Error("a limit from below")
	}
	if l := (TrialLimit{Value: 400}); l.Misses(400*(1+1e-12)) || !l.Misses(400*(1+1e-6)) || l.Misses(399) || l.Direction() != "at most" {
		t.Error("a limit from above")
	}
}

// TestTrialValueFaults: each mistake has its cell, and says what to do.
func TestTrialValueFaults(t *testing.T) {
	lib := trialLibrary(t)
	for _, c := range []struct{ rows, want string }{
		{"A99,,,Noise,1,at most,3,,", `Trial values!A2: part "A99" is not in the sheet Parts; did you mean A09?`},
		{",M01,0.75,Noise,1,at most,3,,", `Trial values!A2: the row names no part; write a key of the sheet Parts, or clear the row`},
		{"P01,,,Noise,1,at most,3,,", `Trial values!A2: part P01 has no material, so that it can't be tried in other grades; name a part that is made of a ` +
			`grade of the sheet Materials`},
		{"A01,M91,,Noise,1,at most,3,,", `Trial values!B2: grade "M91" is not in the sheet Materials; did you mean M01?`},
		{"A01,M01,0,Noise,1,at most,3,,", `Trial values!C2: the gauge is 0 mm, but it must be above 0; check the value and its unit`},
		{"A01,M01,2 m,Noise,1,at most,3,,", `Trial values!C2: the gauge is 2000 mm, but it must be at most 1000 mm; check the value and its unit`},
		{"A01,M01,2 kg,Noise,1,at most,3,,", `Trial values!C2: the gauge: "2 kg" is mass [kg], wanted is length [m]; write it in mm`},
		{`A01,M01,"0,75",Noise,1,at most,3,,`, `Trial values!C2: the gauge: "0,75": decimal comma; write 0.75`},
		{"A01,,,,1,at most,3,,", `Trial values!D2: the row has no quantity; write what is asked for or was measured, as Bending stiffness, or clear the row`},
		{"A01,,,Bending stifness,N/mm,at least,3,,", `Trial values!D2: "Bending stifness" is no quantity of a part; did you mean Bending stiffness? If the ` +
			`value is your own, give it a name less alike`},
		{"A01,,,Noise,,at most,3,,", `Trial values!E2: Noise has no unit; write it in the column Unit, or 1 for a plain number`},
		{"A01,,,Bending stiffness,,at least,3,,", `Trial values!E2: Bending stiffness has no unit; write it in the column Unit, as N/mm, or 1 where its ` +
			`values are ratios to the base`},
		{"A01,,,Net mass of this level,mm,at most,3,,", `Trial values!E2: "mm" is no unit of Net mass of this level; write kg in the column Unit`},
		{"A01,,,Noise,points,at most,3,,\nA01,M01,0.75,Noise,1,,,2,", `Trial values!E3: Noise is in 1 here, but in points above; write all its rows in units ` +
			`of one kind`},
		{"A01,,,Sag,mm,at most,3,,\nA01,M01,0.75,Sag,kg,,,2,", `Trial values!E3: Sag is in kg here, but in mm above; write all its rows in units of one kind`},
		{"A01,,,Noise,1,at mots,3,,", `Trial values!F2: the direction of Noise is "at mots"; did you mean at most?`},
		{"A01,,,Noise,1,,3,,", `Trial values!F2: the direction of Noise is ""; write at most or at least`},
		{"A01,M01,0.75,Noise,1,at most,,3,", `Trial values!F2: the row of Noise has a direction but no target; fill Target or clear Direction`},
		{"A01,M01,0.75,Noise,1,,,,", `Trial values!A2: the row has neither a target nor a measured value of Noise; fill Target, Measured or both`},
		{"A01,M01,,Noise,1,,,3,", `Trial values!H2: a measured value of Noise is of one grade at one gauge, but the row names not both; fill Grade and Gauge`},
		{"A01,,0.75,Noise,1,,,3,", `Trial values!H2: a measured value of Noise is of one grade at one gauge, but the row names not both; fill Grade and Gauge`},
		{"A01,,,Noise,1,at most,much,,", `Trial values!G2: the target of Noise: "much" is no number; write a number, or a number with a unit`},
		{"A01,M01,0.75,Sag,mm,,,3 kg,", `Trial values!H2: the measured sag: "3 kg" is mass [kg], wanted is length [m]; write it in mm`},
		{"A01,M01,0.75,Sag,mm,,,1e30,", `Trial values!H2: the measured sag is 1e+30, beyond what can be computed with; check the value and its unit`},
		{"A01,M01,0.75,Bending stiffness,N/mm,,,-4,", `Trial values!H2: Bending stiffness is -4, but it must be above 0; check the value and its unit`},
		{"A01,,,Dent load,N,at least,0,,", `Trial values!G2: Dent resistance is 0, but it must be above 0; check the value and its unit`},
		{"A01,,,Noise,1,at most,3,,\nA01,,,noise,1,at least,1,,\nA01,,,NOISE,1,at most,4,,", `Trial values!A4: Noise of A01 has a target, at most twice for ` +
			`the same grade and gauge; delete one of the two [first at tables Trial values!A2]`},
		{"A01,M01,0.75,Noise,1,,,3,\nA01,M01,0.75,Noise,1,,,4,", `Trial values!A3: Noise of A01 has a measured value twice for the same grade and gauge; ` +
			`delete one of the two [first at tables Trial values!A2]`},
	} {
		m, got := trialOf(t, lib, trialHead+c.rows)
		if len(got) != 1 || got[0] != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.rows, strings.Join(got, "\n     "), c.want)
		}
		if n := len(m.TrialQuantities("A01")); n > 1 {
			t.Errorf("%s: %d quantities", c.rows, n)
		}
	}
}

// TestTrialValueHeadings: a heading that is nearly one of the sheet, a missing one and a unit that is none are said, own columns are left alone.
func TestTrialValueHeadings(t *testing.T) {
	lib := trialLibrary(t)
	for _, c := range []struct{ sheet, want string }{
		{"Part,Quantity,Direction,Target\nA01,Noise,at most,3", `Trial values: the sheet has no column "Unit"; its columns are Part, Grade, Gauge [mm], ` +
			`Quantity, Unit, Direction, Target, Measured`},
		{"Part,Grade,Gauge,Quantity,Unit,Measured\nA01,M01,0.75,Noise,1,3", `Trial values!C1: heading "Gauge" has no unit; write Gauge [mm]`},
		{"Part,Grade,Gauge [kg],Quantity,Unit,Direction,Target\nA01,,,Noise,1,at most,3", `Trial values!C1: heading "Gauge [kg]": the unit is mass [kg], ` +
			`but a gauge is length [m]; write it in mm`},
		{"Part,Grade,Gauge [mm],Quantity,Unit,Direction,Target,Mesured\nA01,M01,0.75,Noise,1,at most,3,2", `Trial values!H1: heading "Mesured" is not ` +
			`known; did you mean Measured? If the column is your own, give it a name less alike`},
		{"Part,Grade,Gauge [um],Quantity,Unit,Direction,Target,Rig\nA01,M01,750,Noise,1,at most,3,7", ``},
	} {
		_, got := trialOf(t, lib, c.sheet)
		if strings.Join(got, "\n") != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.sheet, strings.Join(got, "\n     "), c.want)
		}
	}
}
