package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// openCase is the sample with more machines, each with the processes that it can do, and operations whose machine is to be chosen.
func openCase(t testing.TB, open ...string) quoteSheets {
	t.Helper()
	s := sampleQuoteSheets(t).clone()
	for _, name := range []string{"quotes.csv", "quote_lines.csv", "price_months.csv", "freight_lanes.csv", "negotiation_record.csv", "studies.csv"} {
		delete(s, name)
	}
	s.addColumns("machines.csv", "Process class", "Plant", "Rated force [kN]")
	s.addColumns("operations.csv", "Upper closing force [kN]")
	for _, row := range s["operations.csv"][1:] {
		if slices.Contains(open, row[0]+"/"+row[1]) {
			row[4] = ""
		}
	}
	for key, class := range map[string]string{"E02": "tandem press forming, transfer press forming", "E03": "transfer press forming",
		"E06": "tube hydroforming",
		"E04": "progressive die forming", "E07": "tube bending"} {
		s.setKeyed(t, "machines.csv", key, "Process class", class)
	}
	s.setKeyed(t, "machines.csv", "E06", "Rated force", "30000")
	return s
}

func (s quoteSheets) addColumns(file string, headings ...string) {
	for i, row := range s[file] {
		for _, h := range headings {
			if i > 0 {
				h = ""
			}
			row = append(row, h)
		}
		s[file][i] = row
	}
}

// copyMachine adds a machine that is another but for some cells.
func (s quoteSheets) copyMachine(t testing.TB, key, as string, cells ...string) {
	t.Helper()
	rows := s["machines.csv"]
	i := slices.IndexFunc(rows, func(row []string) bool { return row[0] == key })
	row := slices.Clone(rows[i])
	row[0] = as
	s["machines.csv"] = append(rows, row)
	for _, c := range cells {
		name, value, _ := strings.Cut(c, "=")
		s.setKeyed(t, "machines.csv", as, name, value)
	}
}

func (s quoteSheets) model(t testing.TB) *costmodel.Model {
	t.Helper()
	c, err := ReadTables(s.files(t), "choice")
	if err != nil {
		t.Fatal(err)
	}
	return costmodel.New(c, testLibrary(t))
}

// standAloneCost is what an operation costs a year on a copy of a machine that no other operation uses, by a case of its own.
func (s quoteSheets) standAloneCost(t testing.TB, scenario, operation, machine string) float64 {
	t.Helper()
	alone := s.clone()
	alone.copyMachine(t, machine, "ALONE")
	for _, row := range alone["operations.csv"][1:] {
		if row[0]+"/"+row[1] == operation {
			row[4] = "ALONE"
		}
	}
	m := alone.model(t)
	for _, sc := range m.Scenarios {
		if !sc.Called(scenario) {
			continue
		}
		p, ds := m.Compile(sc, costmodel.CompileOptions{})
		if p == nil {
			t.Fatal(ds)
		}
		for _, e := range p.Detail(sc.Volume).Entries("operation") {
			if e.Record().Key == operation {
				total := 0.0
				for _, name := range []string{"consumables", "energy", "labour", "equipment", "building", "maintenance", "tooling", "overhead",
					"outside_processing"} {
					total += e.Must(name)
				}
				return total
			}
		}
	}
	t.Fatal(operation, " is not in scenario ", scenario)
	return 0
}

func choiceOf(t testing.TB, m *costmodel.Model, scenario, operation string) *costmodel.Choice {
	t.Helper()
	for _, s := range m.Scenarios {
		if !s.Called(scenario) {
			continue
		}
		for _, c := range s.Choices(m) {
			if c.Operation.Key == operation {
				return c
			}
		}
	}
	t.Fatal("nothing was chosen for ", operation)
	return nil
}

// TestMachineChosen: of the machines of a class the one on which an operation costs least alone, as a case of its own for each says; the next one
// beside it. The piece cost is that of the case with the machine typed.
func TestMachineChosen(t *testing.T) {
	s := openCase(t, "B05/20", "B06/20", "A05/10", "A06/10", "B05/10")
	s.copyMachine(t, "E06", "E06S", "Price=2100000", "Rated force=18000")
	s.copyMachine(t, "E06", "E06L", "Price=5200000", "Rated force=60000", "Rated power=500")
	s.copyMachine(t, "E06", "E06D", "Price=1500000", "Equipment allocation=dedicated")
	s.copyMachine(t, "E06", "E06P", "Price=1400000", "Equipment allocation=pooled", "Labour allocation=whole shifts")
	s.copyMachine(t, "E07", "E07B", "Crew=0.5", "Price=900000", "Unplanned downtime share=9")
	m := s.model(t)
	reportProblems(t, m.Diagnostics)
	for _, c := range []struct {
		scenario, operation string
		candidates          []string
	}{
		{"B", "B05/20", []string{"E06", "E06S", "E06L", "E06D", "E06P"}}, {"B", "B06/20", []string{"E06", "E06S", "E06L", "E06D", "E06P"}},
		{"B", "B05/10", []string{"E07", "E07B"}}, {"A", "A05/10", []string{"E02", "E03"}}, {"A", "A06/10", []string{"E02", "E03"}},
	} {
		got := choiceOf(t, m, c.scenario, c.operation)
		costs := map[string]float64{}
		order := slices.Clone(c.candidates)
		typed := s.clone()
		for _, row := range typed["operations.csv"] { // each operation alone is costed with the others on the first of their class
			if row[4] == "" {
				row[4] = map[string]string{"tube hydroforming": "E06", "transfer press forming": "E02", "tube bending": "E07"}[row[3]]
			}
		}
		for _, machine := range order {
			costs[machine] = typed.standAloneCost(t, c.scenario, c.operation, machine)
		}
		slices.SortStableFunc(order, func(a, b string) int { return int(math.Copysign(1, costs[a]-costs[b])) })
		if got.Machine.Key != order[0] || !sameTo(got.Cost, costs[order[0]], 1e-12*math.Abs(costs[order[0]])) {
			t.Errorf("%s of %s: %s at %v, want %s at %v; %v", c.operation, c.scenario, got.Machine.Key, got.Cost, order[0], costs[order[0]], costs)
		}
		if got.RunnerUp == nil || got.RunnerUp.Key != order[1] || !sameTo(got.NextCost, costs[order[1]], 1e-12*math.Abs(costs[order[1]])) {
			t.Errorf("%s of %s: next is %v at %v, want %s at %v", c.operation, c.scenario, got.RunnerUp, got.NextCost, order[1], costs[order[1]])
		}
		if len(got.Misfits) > 0 {
			t.Errorf("%s: misfits %v", c.operation, got.Misfits)
		}
	}
	typed := s.clone()
	for _, row := range typed["operations.csv"][1:] {
		if row[4] == "" {
			row[4] = choiceOf(t, m, map[byte]string{'A': "A", 'B': "B"}[row[0][0]], row[0]+"/"+row[1]).Machine.Key
		}
	}
	costOf := func(m *costmodel.Model) (out []float64) {
		for _, sc := range m.Scenarios {
			p, ds := m.Compile(sc, costmodel.CompileOptions{})
			if p == nil {
				t.Fatal(ds)
			}
			out = append(out, p.Detail(sc.Volume).Scenario().Must("piece_cost"))
		}
		return out
	}
	if a, b := fmt.Sprint(costOf(m)), fmt.Sprint(costOf(typed.model(t))); a != b {
		t.Errorf("chosen costs %s, typed %s", a, b)
	}
}

// TestMachineMisfits: a machine that is too small, or whose figure is not given, does not fit; where none does, the nearest is named.
func TestMachineMisfits(t *testing.T) {
	s := openCase(t, "B05/20")
	s.copyMachine(t, "E06", "E06S", "Price=2100000", "Rated force=18000")
	s.copyMachine(t, "E06", "E06T", "Price=2000000", "Rated force=")
	for _, row := range s["operations.csv"] {
		if row[0]+"/"+row[1] == "B05/20" {
			row[len(row)-1] = "25000"
		}
	}
	m := s.model(t)
	reportProblems(t, m.Diagnostics)
	c := choiceOf(t, m, "B", "B05/20")
	if c.Machine.Key != "E06" || c.RunnerUp != nil || len(c.Misfits) != 2 {
		t.Fatalf("chosen %s, misfits %v", c.Machine.Key, c.Misfits)
	}
	if got := c.Misfits[0]; got.Machine.Key != "E06S" || got.Shown() != "needs 25000 kN, has 18000 kN" {
		t.Errorf("first misfit %s: %s, %s", got.Machine.Key, got.Lacks, got.Shown())
	}
	if got := c.Misfits[1]; got.Machine.Key != "E06T" || got.Lacks != "Rated force is not given" {
		t.Errorf("second misfit %s: %s", got.Machine.Key, got.Lacks)
	}
	if near, _ := c.Nearest(); near.Machine.Key != "E06S" {
		t.Errorf("the nearest is %s", near.Machine.Key)
	}
	s.setKeyed(t, "machines.csv", "E06", "Rated force", "24000")
	var found []string
	for _, d := range s.model(t).Diagnostics.Sorted() {
		if d.Severity == table.Error {
			found = append(found, d.Summary)
		}
	}
	want := "no machine of its class fits operation B05/20; the nearest is E06: the press is too small for the upper bound of the closing force, " +
		"needs 25000 kN, has 24000 kN"
	if len(found) == 0 || found[0] != want {
		t.Errorf("found %q, want %q", found, want)
	}
}

// TestMachineTooShort: bed and throat, and a stroke that the operation takes over from its machine, keep a machine from being chosen where they
// are given; an empty cell does not.
func TestMachineTooShort(t *testing.T) {
	s := quoteSheets{
		"case.csv": {{"Quantity", "Unit", "Value"}, {"Model currency", "", "EUR"}, {"Programme life", "yr", "5"}, {"Interest rate", "%/yr", "5"}},
		"plants.csv": {{"Quantity", "Unit", "Works"}, {"Working days", "1/yr", "220"}, {"Shifts", "1", "2"}, {"Paid hours per shift", "h", "8"},
			{"Direct labour rate", "EUR/h", "30"}},
		"materials.csv": {{"Material", "Density [kg/m3]", "Base price [EUR/kg]", "Tensile strength [MPa]"}, {"S", "7850", "1", "300"}},
		"machines.csv": {{"Machine", "Process class", "Price [EUR]", "Economic life [yr]", "Crew", "Equipment allocation", "Rated force [kN]", "Stroke [mm]",
			"Bed width [mm]", "Throat depth [mm]"},
			{"SHALLOW", "deep drawing", "100000", "10", "1", "shared", "1000", "199.9", "900", ""},
			{"NARROW", "deep drawing", "200000", "10", "1", "shared", "1000", "400", "499.9", ""},
			{"FITS", "deep drawing", "400000", "10", "1", "shared", "1000", "200", "500", ""},
			{"UNKNOWN", "deep drawing", "500000", "10", "1", "shared", "1000", "", "", ""},
			{"SMALLGUN", "spot welding", "10000", "10", "1", "shared", "", "", "", "249.9"},
			{"GUN", "spot welding", "20000", "10", "1", "shared", "", "", "", "250"}},
		"parts.csv": {{"Part", "Form", "Material", "Gauge [mm]", "Blank length [mm]", "Blank width [mm]", "Nesting utilisation [%]", "Trim loss share [%]"},
			{"CUP", "sheet", "S", "1", "200", "200", "80", "20"}},
		"operations.csv": {{"Part", "Operation", "Process", "Machine", "Set-up time [min]", "Batch size", "Punch perimeter [mm]", "Blank diameter [mm]",
			"Punch diameter [mm]", "Draw depth [mm]", "Joints", "Governing gauge [mm]", "Farthest joint [mm]"},
			{"CUP", "10", "deep drawing", "", "30", "1000", "345", "200", "110", "100", "", "", ""},
			{"CUP", "20", "spot welding", "", "30", "1000", "", "", "", "", "4", "1", "250"}},
		"scenarios.csv": {{"Sheet", "Row", "Column", "A"}, {"", "", "Product", "CUP"}, {"", "", "Annual volume [1/yr]", "10000"}},
	}
	m := s.model(t)
	reportProblems(t, m.Diagnostics)
	var got []string
	for _, operation := range []string{"CUP/10", "CUP/20"} {
		c := choiceOf(t, m, "A", operation)
		got = append(got, c.Machine.Key)
		if c.RunnerUp != nil {
			got = append(got, "then "+c.RunnerUp.Key)
		}
		for _, x := range c.Misfits {
			got = append(got, x.Machine.Key+": "+x.Says())
		}
	}
	want := []string{"FITS", "then UNKNOWN", "SHALLOW: the stroke is too short to take the part out, needs 200 mm, has 199.9 mm",
		"NARROW: the bed is too narrow for the die, needs 500 mm, has 499.9 mm",
		"GUN", "SMALLGUN: the gun does not reach the farthest spot, needs 250 mm, has 249.9 mm"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
