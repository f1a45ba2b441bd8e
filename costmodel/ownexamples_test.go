package costmodel

import (
	"math"
	"strings"
	"testing"
)

// TestExamplesNobodyNames: the example of the sheets Processes and Tables is no part of a case that does not name it, however wrong it is; once an
// operation has it, it is computed like any other.
func TestExamplesNobodyNames(t *testing.T) {
	s := sampleTables(t)
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	with := New(s.read(t), lib)
	cells, columns := with.CellsRead()
	counted := 0
	for _, c := range cells {
		if (c.Value.Place.Sheet == "Processes" || c.Value.Place.Sheet == "Tables") && c.Value.Place.Row > 1 {
			t.Errorf("%s!%s is said to be read", c.Value.Place.Sheet, c.Value.Place.Cell())
		}
	}
	for _, c := range columns {
		if c.Sheet == "Processes" && c.Heading == "Process" {
			counted = c.Counted
		}
	}
	if counted != 10 {
		t.Errorf("%d cells of the column Process are filled, want the ten of the example", counted)
	}
	quantities := len(with.Schema.Scope("operation").Quantities)
	delete(s, "Processes")
	delete(s, "Tables")
	without := New(s.read(t), lib)
	if n := len(without.Schema.Scope("operation").Quantities); n != quantities {
		t.Errorf("the example adds %d quantities to every operation", quantities-n)
	}
	if a, b := len(with.Diagnostics), len(without.Diagnostics); a != b {
		t.Errorf("%d findings with the example and %d without", a, b)
	}
	s["Processes"], s["Tables"] = "Process,Quantity,Unit,Formula or value\nExample,wall,furlong,nonsense (\n", "Curve,X,Y\nexample_1,none,\n"
	if broken := New(s.read(t), lib); len(broken.Diagnostics) != len(without.Diagnostics) {
		t.Errorf("a broken example: %v", broken.Diagnostics)
	}

	tables := sampleTables(t)
	used := ownCase("", "example gap filling", ",Pad length [mm],Pad width [mm]", ",400,300")
	used["Processes"], used["Tables"] = tables["Processes"], tables["Tables"]
	value, ds := ownResult(t, used)
	if value == nil {
		t.Fatal(ds)
	}
	// by hand: 400 x 300 x 1.2 mm of 2.9 g/cm3; 1.2 mm lies a fifth of the way from 1 mm (6 g/s) to 2 mm (9 g/s)
	grams := 40 * 30 * 0.12 * 2.9
	for of, want := range map[string]float64{"operation load_and_process_time": 12 + grams/6.6, "operation consumables_per_piece": grams / 1000 * 14} {
		if got := value(of); math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s is %v, want %v", of, got, want)
		}
	}
	used["Operations"] = strings.Replace(used["Operations"], "example gap filling", "timed operation", 1) + "P,20,example gap fillin,M,30,1000,,\n"
	if _, ds := ownResult(t, used); !strings.Contains(errorsOf(ds), `unknown process "example gap fillin"`) {
		t.Errorf("a misspelt example: %v", ds)
	}
}
