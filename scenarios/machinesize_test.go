package scenarios

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// sizedCase is an assembly (invented) of a drawn cup, whose machine is to be chosen, and a drawn box on a relation: a press of 60,000 EUR and
// 400 EUR/kN, 10 % reserve, in sizes of 160 to 1,000 kN.
func sizedCase() quoteSheets {
	return quoteSheets{
		"case.csv": {
			{"Quantity", "Unit", "Value"},
			{"Model currency", "", "EUR"},
			{"Programme life", "yr", "5"},
			{"Interest rate", "%/yr", "5"},
		},
		"plants.csv": {
			{"Quantity", "Unit", "Works"},
			{"Working days", "1/yr", "220"},
			{"Shifts", "1", "2"},
			{"Paid hours per shift", "h", "8"},
			{"Direct labour rate", "EUR/h", "30"},
			{"Electricity price", "EUR/kWh", "0.15"},
			{"Building price", "EUR/m2", "1000"},
			{"Building economic life", "yr", "20"},
		},
		"materials.csv": {
			{"Material", "Density [kg/m3]", "Base price [EUR/kg]", "Tensile strength [MPa]", "Yield strength [MPa]"},
			{"S", "7850", "1", "300", "200"},
			{"T", "7850", "1.2", "500", "400"},
		},
		"machines.csv": {
			{"Machine", "Process class", "Price [EUR]", "Economic life [yr]", "Crew", "Equipment allocation",
				"Rated force [kN]", "Footprint [m2]", "Rated power [kW]", "Sized by", "Size reserve [%]", "Size series"},
			{"PRESS", "deep drawing, press-brake bending", `"60000 EUR" + "400 EUR/kN" * rated_force`, "10", "1", "shared",
				"", `"4 m2" + "0.01 m2/kN" * rated_force`, `rated_force * "0.05 kW/kN"`, "force", "10", "160, 250, 400, 630, 1000 kN"},
			{"BIG", "deep drawing", "900000", "10", "1", "shared", "2500", "5", "5", "", "", ""},
		},
		"parts.csv": {
			{"Part", "Form", "Material", "Gauge [mm]", "Blank length [mm]", "Blank width [mm]", "Nesting utilisation [%]", "Trim loss share [%]"},
			{"CUP", "sheet", "S", "1", "200", "200", "80", "20"},
			{"BOX", "sheet", "S", "2", "300", "300", "80", "20"},
			{"A", "assembly", "", "", "", "", "", ""},
		},
		"bill_of_materials.csv": {
			{"Parent", "Child", "Quantity", "Joined at operation"},
			{"A", "CUP", "1", "10"},
			{"A", "BOX", "1", "10"},
		},
		"operations.csv": {
			{"Part", "Operation", "Process", "Machine", "Set-up time [min]",
				"Batch size", "Punch perimeter [mm]", "Blank diameter [mm]", "Punch diameter [mm]", "Draw depth [mm]", "Load and process time [s]"},
			{"CUP", "10", "deep drawing", "", "30", "1000", "345", "200", "110", "100", ""},
			{"BOX", "10", "deep drawing", "PRESS", "30", "1000", "600", "330", "200", "100", ""},
			{"A", "10", "timed operation", "BIG", "30", "1000", "", "", "", "", "10"},
		},
		"scenarios.csv": {
			{"Sheet", "Row", "Column", "A baseline"},
			{"", "", "Product", "A"},
			{"", "", "Annual volume [1/yr]", "100000"},
		},
	}
}

// detail computes the sized case at its volume.
func (s quoteSheets) detail(t *testing.T) *costmodel.Detail {
	t.Helper()
	m := s.model(t)
	reportProblems(t, m.Diagnostics)
	p, ds := m.Compile(m.Scenarios[0], costmodel.CompileOptions{})
	if p == nil {
		t.Fatal(ds)
	}
	return p.Detail(m.Scenarios[0].Volume)
}

// entryOf is a row of a scope by its key.
func entryOf(t testing.TB, d *costmodel.Detail, scope, key string) costmodel.Entry {
	t.Helper()
	for _, e := range d.Entries(scope) {
		if e.Record().Key == key {
			return e
		}
	}
	t.Fatalf("no %s %s", scope, key)
	return costmodel.Entry{}
}

// TestSizedMachines: each operation on a relation has a machine of its own size. By hand, of the cup: the wall tears at 345 x 1 x 300 = 103.5 kN,
// less than the round force of 103.5 x (200/110 - 0.7), so it is drawn with that; the holder's ring is pi/4 x (200^2 - 110^2) mm2 under
// 0.0025 x 300 x (0.818182^3 + 0.005 x 110/1) MPa, so 18.04 kN; 1.1 times their sum is 133.7 kN, with 10 % 147.06 kN: 160 kN at 124,000 EUR. Of the
// box 410.8 kN (342 + 31.4, times 1.1), with 10 % 451.86 kN: 630 kN at 312,000 EUR, 10.3 m2 and 31.5 kW.
func TestSizedMachines(t *testing.T) {
	d := sizedCase().detail(t)
	for _, c := range []struct {
		key, quantity string
		want, within  float64
	}{
		{"PRESS for CUP/10", "wanted_force", 147.06e3, 0.005e3}, {"PRESS for CUP/10", "rated_force", 160e3, 1e-6}, {"PRESS for CUP/10", "price", 124000, 1e-6},
		{"PRESS for BOX/10", "wanted_force", 451.86e3, 0.005e3}, {"PRESS for BOX/10", "rated_force", 630e3, 1e-6}, {"PRESS for BOX/10", "price", 312000, 1e-6},
		{"PRESS for BOX/10", "footprint", 10.3, 1e-9}, {"PRESS for BOX/10", "rated_power", 31.5e3, 1e-6}, {"BIG", "rated_force", 2500e3, 1e-6},
	} {
		if got := entryOf(t, d, "machine", c.key).Must(c.quantity); !sameTo(got, c.want, c.within) {
			t.Errorf("%s of %s is %v, want %v", c.quantity, c.key, got, c.want)
		}
	}
}

// TestSizedAsTyped: the case costs what it costs with a typed machine of the size for each operation, under every equipment allocation; a pool of
// a relation is one operation's.
func TestSizedAsTyped(t *testing.T) {
	for _, allocation := range []string{"shared", "dedicated", "pooled"} {
		s := sizedCase()
		s.setKeyed(t, "machines.csv", "PRESS", "Equipment allocation", allocation)
		s["operations.csv"][1][3] = "PRESS"
		typed := s.clone()
		rows := typed["machines.csv"]
		press := slices.Clone(rows[1])
		press = append(press[:9], "", "", "")
		for i, of := range [][]string{{"SMALL", "124000", "160", "5.6", "8"}, {"LARGE", "312000", "630", "10.3", "31.5"}} {
			row := slices.Clone(press)
			row[0], row[1], row[2], row[6], row[7], row[8] = of[0], "", of[1], of[2], of[3], of[4]
			typed["machines.csv"] = append(typed["machines.csv"], row)
			typed["operations.csv"][1+i][3] = of[0]
		}
		if a, b := s.detail(t).Scenario().Must("piece_cost"), typed.detail(t).Scenario().Must("piece_cost"); !sameTo(a, b, 1e-12*b) {
			t.Errorf("%s: sized costs %v, typed %v", allocation, a, b)
		}
	}
}

// TestSizedIsChosen: a relation is tried at the size that the operation needs, beside machines that are typed; where its series ends below that it
// does not fit.
func TestSizedIsChosen(t *testing.T) {
	s := sizedCase()
	for _, c := range []struct{ series, price, chosen, misfit string }{
		{"160, 1000 kN", "900000", "PRESS", ""},
		{"160, 1000 kN", "20000", "BIG", ""},
		{"100, 130 kN", "900000", "BIG", "the press is too small, needs 133.7 kN, has 130 kN"},
		{"100, 140 kN", "900000", "BIG", "larger than the price relation and its size series go, needs 147.1 kN, has 140 kN"},
		{"", "900000", "PRESS", ""},
	} {
		s.setKeyed(t, "machines.csv", "PRESS", "Size series", c.series)
		s.setKeyed(t, "machines.csv", "BIG", "Price", c.price)
		s["operations.csv"][2][3] = "BIG"
		m := s.model(t)
		reportProblems(t, m.Diagnostics)
		got := choiceOf(t, m, "A", "CUP/10")
		misfit := ""
		if len(got.Misfits) > 0 {
			misfit = got.Misfits[0].Says()
		}
		if got.Machine.Key != c.chosen || misfit != c.misfit {
			t.Errorf("%+v: %s, misfit %q", c, got.Machine.Key, misfit)
		}
	}
}

// TestSizedMistakes: what is wrong with a relation is said at its cell.
func TestSizedMistakes(t *testing.T) {
	for _, c := range []struct{ column, value, want string }{
		{"Sized by", "farce", `Machines!J2: machine PRESS is sized by "farce", which is unknown; did you mean force?`},
		{"Sized by", "", "Machines!L2: machine PRESS has a Size series, but Sized by is empty"},
		{"Rated force", "900", "Machines!G2: machine PRESS is sized by force, and its Rated force is given; clear one of the two cells"},
		{"Size series", "630, 400 kN", "Machines!L2: Size series of PRESS: its sizes do not rise at 400; write rising sizes"},
		{"Size series", "630, 800 mm", "Machines!L2: Size series of PRESS: mm is"},
		{"Size series", "630, many kN", `Machines!L2: Size series of PRESS: "many" is no size`},
		{"Size series", "0, 630 kN", `Machines!L2: Size series of PRESS: "0" is no size`},
		{"Size series", strings.TrimSuffix(strings.Repeat("1, ", 61), ", ") + " kN", "it has 61 sizes, and 60 are the most"},
		{"Size series", "160, 400 kN", "Machines!A2: machine PRESS for BOX/10 in Works needs 451.9 kN, has 400 kN: " +
			"larger than the price relation and its size series go (scenario A baseline); give the relation a longer series"},
		{"Sized by", "power", "the sheet has no column Required power [kW], which operations of deep drawing"},
		{"Size reserve", "-5", "Size reserve is -5 %"},
	} {
		s := sizedCase()
		s.setKeyed(t, "machines.csv", "PRESS", c.column, c.value)
		if c.value == "power" {
			s.setKeyed(t, "machines.csv", "PRESS", "Rated power", "")
			s.setKeyed(t, "machines.csv", "PRESS", "Rated force", "1000")
			s.setKeyed(t, "machines.csv", "PRESS", "Size series", "")
		}
		m := s.model(t)
		ds := m.Diagnostics
		if !ds.HasErrors() {
			_, more := m.Compile(m.Scenarios[0], costmodel.CompileOptions{})
			ds = append(ds, more...)
		}
		found := false
		var all []string
		for _, d := range ds {
			all = append(all, d.Error())
			found = found || d.Severity == table.Error && strings.Contains(d.Error(), c.want)
		}
		if !found {
			t.Errorf("%s %q: want %q, got\n%s", c.column, c.value, c.want, strings.Join(all, "\n"))
		}
	}
}

// TestSizedInWorkbook: an independent program computes the written workbook alike, from poisoned values; a reserve is followed to the next size of
// the series; a series or a machine that is changed asks for a run.
func TestSizedInWorkbook(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "sized.xlsx")
	s := sizedCase()
	s.copyMachine(t, "PRESS", "BRAKE", "Price=", "Process class=")
	s["machine_relations.csv"] = [][]string{{"Machine", "Coefficient", "Value", "Unit", "State"}, {"BRAKE", "Base price", "50000", "EUR", "own"},
		{"BRAKE", "Base price", "40000", "EUR", "replaced"}, {"BRAKE", "Price per size", "0.3", "EUR/N", "fitted"}}
	s["operations.csv"] = append(s["operations.csv"], slices.Clone(s["operations.csv"][2]))
	s["operations.csv"][4][1], s["operations.csv"][4][3] = "20", "BRAKE"
	if got := entryOf(t, s.detail(t), "machine", "BRAKE for BOX/20").Must("price"); !sameTo(got, 50000+300*630, 1e-6) {
		t.Errorf("BRAKE costs %v", got)
	}
	saveTables(t, s.files(t), path)
	saveResults(t, path, resultOf(t, path))
	checkFormulas(t, path)
	poison(t, path, poisonedOf(path))
	comparePoisoned(t, path, poisonedOf(path))
	again := "RUN AGAIN: something has changed that the formulas can't follow, see Checks"
	for _, c := range []struct{ key, column, value, master string }{
		{"PRESS", "Size reserve", "0.6", ""}, {"PRESS", "Size series", "200, 700 kN", again}, {"PRESS", "Price", "700000", again},
		{"BRAKE", "Value", "51000", again},
	} {
		edited := filepath.Join(dir, c.column+".xlsx")
		sheet := map[bool]string{true: "Machine relations", false: "Machines"}[c.column == "Value"]
		editQuotes(t, path, edited, [][4]string{{sheet, c.key, c.column, c.value}})
		if c.master == "" {
			sameSummaries(t, recomputedSheet(t, edited, summarySheet), edited)
		} else if got := recomputedSheet(t, edited, "Checks")["A3"]; got != c.master {
			t.Errorf("%s: the master cell says %q, want %q", c.column, got, c.master)
		}
	}
}

// TestSizedChanged: a scenario or an Override changes the relation of all operations, or the machine of one.
func TestSizedChanged(t *testing.T) {
	for _, c := range []struct {
		row, column, value string
		cup, box           float64 // prices
	}{
		{"PRESS", "Price", "base * 2", 248000, 624000}, {"PRESS", "Rated force", "1000", 460000, 460000},
		{"PRESS for BOX/10", "Price", "99000", 124000, 99000}, {"PRESS for BOX/10", "Rated force", "400", 124000, 220000},
		{"PRESS", "Size reserve", "0", 124000, 312000},
	} {
		for _, overridden := range []bool{false, true} {
			s := sizedCase()
			s["operations.csv"][1][3] = "PRESS"
			if overridden {
				s["overrides.csv"] = [][]string{{"Sheet", "Row", "Column", "Value"}, {"Machines", c.row, c.column, c.value}}
			} else {
				s["scenarios.csv"] = append(s["scenarios.csv"], []string{"Machines", c.row, c.column, c.value})
			}
			d := s.detail(t)
			for key, want := range map[string]float64{"PRESS for CUP/10": c.cup, "PRESS for BOX/10": c.box} {
				if got := entryOf(t, d, "machine", key).Must("price"); !sameTo(got, want, 1e-6) {
					t.Errorf("%+v, overridden %v: %s costs %v", c, overridden, key, got)
				}
			}
		}
	}
}

// TestSizedHandEdits: what a person writes over a sized machine in the calculation is taken over for that machine alone.
func TestSizedHandEdits(t *testing.T) {
	dir := t.TempDir()
	base, path := filepath.Join(dir, "base.xlsx"), filepath.Join(dir, "edited.xlsx")
	saveTables(t, sizedCase().files(t), base)
	saveResults(t, base, resultOf(t, base))
	applyHandEdits(t, base, path, []handEdit{
		{block: "Machines", key: "PRESS for BOX/10", heading: "Price", value: 99000},
		{block: "Machines sized by: force", key: "PRESS for CUP/10", heading: "Wanted force", value: 300},
	})
	edits, r := editedResult(t, path)
	for _, e := range edits {
		if e.Dropped != "" {
			t.Error(e)
		}
	}
	if len(edits) != 2 {
		t.Fatalf("found %v", edits)
	}
	for key, want := range map[string]float64{"PRESS for CUP/10": 220000, "PRESS for BOX/10": 99000} { // 400 kN the next to 300
		if got := entryOf(t, r.Details[0], "machine", key).Must("price"); !sameTo(got, want, 1e-6) {
			t.Errorf("%s costs %v", key, got)
		}
	}
}

// TestSizedByOwnProcess: a process of the workbook's own, or a cell, says what is needed: 30 bar on 200 cm2 are 60 kN, with 10 % 66 kN, and 150 kN with
// 10 % 165 kN.
func TestSizedByOwnProcess(t *testing.T) {
	s := sizedCase()
	s["processes.csv"] = [][]string{{"Process", "Quantity", "Unit", "Formula or value"}, {"moulding", "load_and_process_time", "s", "20"},
		{"moulding", "required_force", "kN", `"30 bar" * "200 cm2"`}}
	s.addColumns("operations.csv", "Required force [kN]")
	for _, i := range []int{1, 2} {
		s["operations.csv"][i][2], s["operations.csv"][i][3] = "moulding", "PRESS"
	}
	s["operations.csv"][2][len(s["operations.csv"][2])-1] = "150"
	d := s.detail(t)
	for key, want := range map[string]float64{"PRESS for CUP/10": 160e3, "PRESS for BOX/10": 250e3} {
		if got := entryOf(t, d, "machine", key).Must("rated_force"); !sameTo(got, want, 1e-6) {
			t.Errorf("%s has %v, want %v", key, got, want)
		}
	}
}
