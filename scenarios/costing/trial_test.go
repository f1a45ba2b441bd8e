package costing_test

import (
	"fmt"
	"math"
	"path"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/costing"
)

// plateTables are the plate of testdata/script/trialmatrix.txtar, with other rows of the sheet Trial values.
func plateTables(t *testing.T, values ...string) fstest.MapFS {
	t.Helper()
	a, err := txtar.ParseFile("../../testdata/script/trialmatrix.txtar")
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, f := range a.Files {
		if dir, name := path.Split(f.Name); dir == "plate/" {
			out[name] = &fstest.MapFile{Data: f.Data}
		}
	}
	if len(out) != 10 {
		t.Fatalf("%d tables", len(out))
	}
	out["trial_values.csv"] = &fstest.MapFile{Data: []byte("Part,Grade,Gauge [mm],Quantity,Unit,Direction,Target,Measured\n" +
		strings.Join(values, "\n") + "\n")}
	return out
}

// tryPlate tries the plate in steel and aluminium at four gauges.
func tryPlate(t *testing.T, ask study.TrialAsk, tables fstest.MapFS) *study.Trial {
	t.Helper()
	r := costOf(t, tables)
	ask.Part, ask.Grades, ask.Gauges = "PLATE", []string{"ST", "AL"}, []float64{0.0008, 0.001, 0.0012, 0.0015}
	out, err := study.Try(t.Context(), r.Model(), r.Plans()[0], ask)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func costOf(t *testing.T, tables fstest.MapFS) *costing.Result {
	t.Helper()
	w, err := costing.Tables(t.Context(), "plate", tables, costing.Options{Edits: costing.LeaveEdits})
	if err != nil {
		t.Fatal(err)
	}
	r, err := w.Cost(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// plate is the plate by plain arithmetic: 0.5 m by 0.4 m without trim, a price a kilogram, 10 s at 36 EUR/h, a bolt of 0.01 kg for nothing.
var plate = map[string]struct{ density, price, modulus, yield float64 }{"ST": {7850, 1, 205, 180}, "AL": {2700, 4, 70, 120}}

// TestTrialByArithmetic: cost, mass, ratios and gauges of equality, each reckoned here. 205 and 70 GPa are the moduli of handbooks' example, in which a
// panel of aluminium as stiff as one of steel is 1.43 times as thick and has half the mass (from memory; 1.4307 and 0.4921 by hand).
func TestTrialByArithmetic(t *testing.T) {
	near := func(got, want float64) bool { return math.Abs(got-want) <= 1e-12*math.Abs(want) }
	got := tryPlate(t, study.TrialAsk{}, plateTables(t))
	st := plate["ST"]
	for i, grade := range got.Grades {
		for k, gauge := range got.Gauges {
			c, g := got.Cells[i][k], plate[grade]
			mass := 0.5 * 0.4 * gauge * g.density
			if !near(c.PartMass, mass) || !near(c.NetMass, mass+0.01) || !near(c.PieceCost, mass*g.price+10*36./3600) {
				t.Errorf("%s at %v: %v EUR, %v kg, %v kg", grade, gauge, c.PieceCost, c.PartMass, c.NetMass)
			}
			thicker := gauge / 0.001
			if !near(c.Stiffness, g.modulus/st.modulus*math.Pow(thicker, 3)) || !near(c.Dent, g.yield/st.yield*thicker*thicker) ||
				!near(c.Section, g.yield/st.yield*thicker) || c.IsBase != (grade == "ST" && k == 1) || !c.Passes() || len(c.Targets) > 0 {
				t.Errorf("%s at %v: %+v", grade, gauge, c)
			}
		}
	}
	al := got.Equal[1]
	if !near(al.Stiffness, 0.001*math.Cbrt(205./70)) || math.Abs(al.Stiffness-0.00143) > 5e-6 || !near(al.Dent, 0.001*math.Sqrt(1.5)) ||
		!near(al.Section, 0.0015) {
		t.Errorf("equal at %+v", al)
	}
	if half := al.Stiffness * 2700 / (0.001 * 7850); math.Abs(half-0.5) > 0.01 {
		t.Errorf("as stiff with %v of the mass", half)
	}
	if c := got.Cells[0][0]; !c.Least || !c.Sure || !c.Front {
		t.Errorf("the thinnest steel costs least: %+v", c)
	}
	// against 1.2 mm of aluminium each ratio is the quotient of two of the above
	other := tryPlate(t, study.TrialAsk{BaseGrade: "AL", BaseGauge: 0.0012}, plateTables(t))
	for i := range other.Cells {
		for k, c := range other.Cells[i] {
			if !near(c.Stiffness, got.Cells[i][k].Stiffness/got.Cells[1][2].Stiffness) || c.IsBase != (i == 1 && k == 2) {
				t.Errorf("against aluminium: %+v", c)
			}
		}
	}
}

// TestTrialUnknownProperties: of the base's own grade properties cancel; of another grade a ratio without them is not known.
func TestTrialUnknownProperties(t *testing.T) {
	tables := plateTables(t)
	tables["materials.csv"] = &fstest.MapFile{Data: []byte("Material,Form,Density [kg/m3],Base price [EUR/kg],Scrap price [EUR/kg]\n" +
		"ST,coil,7850,1,0\nAL,coil,2700,4,0\n")}
	got := tryPlate(t, study.TrialAsk{}, tables)
	if c := got.Cells[0][2]; !(math.Abs(c.Stiffness-1.728) <= 1e-12) || !(math.Abs(c.Section-1.2) <= 1e-12) { // none is no number
		t.Errorf("steel %+v", c)
	}
	if c := got.Cells[1][2]; !math.IsNaN(c.Stiffness) || !math.IsNaN(got.Equal[1].Dent) || got.Equal[0].Stiffness != 0.001 {
		t.Errorf("aluminium %+v, %+v", c, got.Equal)
	}
}

// TestTrialJudged: what the sheets Trial values and Targets ask for, by grade and gauge: a row a cell, as "value source verdict", and which costs
// least. Base 100 N/mm at 1 mm of steel: 51.2, 172.8 and 337.5 by the cube of the gauge, 17.483, 34.146, 59.005 and 115.244 in aluminium.
func TestTrialJudged(t *testing.T) {
	base := "PLATE,ST,1,Bending stiffness,N/mm,,,100"
	for _, c := range []struct {
		name        string
		values      []string
		targets     string
		cells       string // of each cell: the last quantity
		least, sure string // grade and gauge
	}{
		{name: "screened from the base", values: []string{base, "PLATE,,,Bending stiffness,N/mm,at least,95,"},
			cells: "51.2 screened missed|100 measured met|172.8 screened met|337.5 screened met|17.48293 screened missed|34.14634 screened missed|" +
				"59.00488 screened missed|115.2439 screened met", least: "ST 1", sure: "ST 1"},
		{name: "measured before screened", values: []string{base, "PLATE,,,Bending stiffness,N/mm,at least,105,", "PLATE,ST,1.2,Bending stiffness,N/mm,,,104",
			"PLATE,ST,1.5,Bending stiffness,N/mm,,,103", "PLATE,AL,1.2,Bending stiffness,N/mm,,,106"},
			cells: "51.2 screened missed|100 measured missed|104 measured missed|103 measured missed|17.48293 screened missed|34.14634 screened missed|" +
				"106 measured met|115.2439 screened met", least: "AL 1.2", sure: "AL 1.2"},
		{name: "nothing measured in the base", values: []string{"PLATE,,,Bending stiffness,N/mm,at least,95,", "PLATE,AL,1.2,Bending stiffness,kN/mm,,,0.097"},
			cells: "not known|not known|not known|not known|not known|not known|97 measured met|not known", least: "ST 0.8", sure: "AL 1.2"},
		{name: "ratios to the base", values: []string{"PLATE,,,Section strength,1,at least,1,"},
			cells: "0.8 screened missed|1 screened met|1.2 screened met|1.5 screened met|0.5333333 screened missed|0.6666667 screened missed|" +
				"0.8 screened missed|1 screened met", least: "ST 1", sure: "ST 1"},
		{name: "ratios in percent", values: []string{"PLATE,,,Dent load,%,at least,100,"},
			cells: "64 screened missed|100 screened met|144 screened met|225 screened met|42.66667 screened missed|66.66667 screened missed|" +
				"96 screened missed|150 screened met", least: "ST 1", sure: "ST 1"},
		{name: "a measured mass before the computed one", values: []string{"PLATE,,,Net mass of this level,g,at most,1500,",
			"PLATE,ST,1,Net mass of this level,g,,,1490", "PLATE,ST,0.8,Net mass of this level,kg,,,1.6"},
			cells: "1600 measured missed|1490 measured met|1884 computed missed|2355 computed missed|432 computed met|540 computed met|648 computed met|" +
				"810 computed met", least: "ST 1", sure: "ST 1"},
		{name: "one's own, by grade", values: []string{"PLATE,,,Corrosion,points,at most,3,", "PLATE,AL,,Corrosion,points,at most,1,",
			"PLATE,ST,0.8,Corrosion,points,,,4", "PLATE,ST,1.2,Corrosion,points,,,2", "PLATE,AL,0.8,Corrosion,points,,,2"},
			cells: "4 measured missed|not known|2 measured met|not known|2 measured missed|not known|not known|not known", least: "ST 1", sure: "ST 1.2"},
		{name: "a measured value that nobody asks for", values: []string{"PLATE,ST,1.2,Corrosion,points,,,2"},
			cells: "||2 measured no target|||||", least: "ST 0.8", sure: "ST 0.8"},
		{name: "the sheet Targets, computed", targets: "Net mass,,kg,at least,1,",
			cells: "1.266 computed met|1.58 computed met|1.894 computed met|2.365 computed met|0.442 computed missed|0.55 computed missed|" +
				"0.658 computed missed|0.82 computed missed", least: "ST 0.8", sure: "ST 0.8"},
		{name: "the sheet Targets, measured in what the part has", targets: "Sag,PLATE,mm,at most,3,4",
			cells: "not known|4 measured missed|not known|not known|not known|not known|not known|not known", least: "ST 0.8", sure: ""},
		{name: "both sheets: Trial values hold", targets: "Sag,PLATE,mm,at most,3,4", values: []string{"PLATE,,,Sag,mm,at most,5,", "PLATE,ST,1,Sag,mm,,,4.5"},
			cells: "not known|4.5 measured met|not known|not known|not known|not known|not known|not known", least: "ST 0.8", sure: "ST 1"},
		{name: "of another part", targets: "Sag,BOLT,mm,at most,3,4", cells: "|||||||", least: "ST 0.8", sure: "ST 0.8"},
	} {
		tables := plateTables(t, c.values...)
		if c.targets != "" {
			tables["targets.csv"] = &fstest.MapFile{Data: []byte("Quantity,Part,Unit,Direction,Target,A plate\n" + c.targets + "\n")}
		}
		got := tryPlate(t, study.TrialAsk{}, tables)
		var cells []string
		for _, row := range got.Cells {
			for _, cell := range row {
				cells = append(cells, judgedWords(t, c.name, cell))
			}
		}
		if all := strings.Join(cells, "|"); all != c.cells {
			t.Errorf("%s:\n got %s\nwant %s", c.name, all, c.cells)
		}
		least, sure := got.Marked(func(c study.TrialCell) bool { return c.Least }), got.Marked(func(c study.TrialCell) bool { return c.Sure })
		if where(least) != c.least || where(sure) != c.sure {
			t.Errorf("%s: least cost %s, all known %s", c.name, where(least), where(sure))
		}
	}
}

func where(c *study.TrialCell) string {
	if c == nil {
		return ""
	}
	return c.Grade + " " + costmodel.ShownNumber(c.Gauge*1000)
}

// judgedWords writes the last quantity of a cell, and holds what fails and is open against it.
func judgedWords(t *testing.T, name string, c study.TrialCell) string {
	t.Helper()
	missed, open, words := 0, 0, ""
	for _, q := range c.Targets {
		words = strings.TrimSpace(fmt.Sprintf("%s %s %s", costmodel.ShownNumber(q.Value), q.Source, q.Verdict))
		switch q.Verdict {
		case costmodel.Missed:
			missed++
		case costmodel.NotKnown:
			open++
			words = "not known"
		}
	}
	if len(c.Fails) != missed || len(c.Open) != open || c.Passes() != (missed == 0) {
		t.Errorf("%s: %s at %v fails by %q, is open by %q", name, c.Grade, c.Gauge, c.Fails, c.Open)
	}
	return words
}

// TestTrialOfARun: a run makes the matrix that the sheet Studies asks for, and only that; one that is too large for a run is said with its cell.
func TestTrialOfARun(t *testing.T) {
	tables := plateTables(t)
	operations := string(tables["operations.csv"].Data)
	for n := range 7 { // eight operations by 1,400 cells
		operations += fmt.Sprintf("PLATE,%d,drill,timed operation,BENCH,0,0,0,1000,,\n", 20+n)
	}
	var gauges []string
	for i := range 1400 {
		gauges = append(gauges, fmt.Sprintf("%.4f", 0.5001+0.001*float64(i)))
	}
	tables["operations.csv"] = &fstest.MapFile{Data: []byte(operations)}
	tables["studies.csv"] = &fstest.MapFile{Data: []byte("Study,Scenario,Part,Grades,Gauges [mm]\ntrial matrix,A,PLATE,ST,1; 1.2\n" +
		"trial matrix,A,PLATE,ST," + strings.Join(gauges, "; ") + "\n")}
	var told []string
	w, err := costing.Tables(t.Context(), "plate.xlsx", tables, costing.Options{Notice: func(words string) { told = append(told, words) }})
	if err != nil {
		t.Fatal(err)
	}
	r, err := w.Cost(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.Put(t.Context()); err != nil {
		t.Fatal(err)
	}
	if all := strings.Join(told, "\n"); !strings.Contains(all, "Studies!A3: the study trial matrix is left out: the case is too large for it within a run") ||
		strings.Contains(all, "Studies!A2") {
		t.Errorf("told %q", told)
	}
}
