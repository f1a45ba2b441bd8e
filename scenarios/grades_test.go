package scenarios

import (
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// gradeTables is an invented bracket: its sheet is known by the column Grade, its tube by the key, its rivets' sheet by typed values.
var gradeTables = map[string]string{
	"case":   "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,3\nInterest rate,%/yr,5\n",
	"plants": "Quantity,Unit,Works\nWorking days,1/yr,200\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n",
	"materials": `Material,Grade,Density [kg/m3],Base price [EUR/kg],Tensile strength [MPa]
SHEET,EN 10346 DX54D+Z100,,0.9,
E235+N,,,1.4,
OTHER,,2700,3,250
FIRM,DC04,,0.8,330
`,
	"machines": "Machine,Price [EUR],Economic life [yr],Crew,Equipment allocation,Rated force [kN]\nM,500000,10,1,shared,900\nN,40000,10,1,shared,\n",
	"parts": `Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm],Outer diameter [mm]
TOP,assembly,,,,,
PLATE,sheet,SHEET,2,400,250,
TUBE,tube,E235+N,2,300,,40
COVER,sheet,FIRM,1,200,200,
`,
	"bill_of_materials": "Parent,Child,Quantity,Joined at operation\nTOP,PLATE,1,10\nTOP,TUBE,2,10\nTOP,COVER,1,10\n",
	"operations": `Part,Operation,Process,Machine,Cut length [mm],Ends,Load and process time [s],Batch size,Setup time [min]
PLATE,10,shearing and punching,M,1300,,,100,10
TUBE,10,end forming,M,,2,4,100,10
COVER,10,shearing and punching,M,800,,,100,10
TOP,10,timed operation,N,,,30,100,10
`,
	"scenarios": "Sheet,Row,Column,Base,Other\n,,Product,TOP,TOP\n,,Plant,Works,Works\n,,Annual volume [1/yr],50000,50000\nMaterials,SHEET,Grade,,HX340LAD\n" +
		"Materials,FIRM,Density [kg/m3],,base * 1.02\n",
}

func gradeWorkbook(t *testing.T, changed map[string]string) string {
	t.Helper()
	files := fstest.MapFS{}
	for name, text := range gradeTables {
		if other, ok := changed[name]; ok {
			text = other
		}
		files[name+".csv"] = &fstest.MapFile{Data: []byte(text)}
	}
	path := filepath.Join(t.TempDir(), "bracket.xlsx")
	saveTables(t, files, path)
	return path
}

// TestGradesCostAsTyped: a workbook with designations costs what the same costs with the grades' values typed, which are written here from
// the standards' ranges and not read from the files of the program.
func TestGradesCostAsTyped(t *testing.T) {
	typed := gradeWorkbook(t, map[string]string{"materials": `Material,Density [kg/m3],Base price [EUR/kg],Tensile strength [MPa],Shear factor
SHEET,7850,0.9,305,0.75
E235+N,7850,1.4,410,0.7
OTHER,2700,3,250,
FIRM,7850,0.8,330,0.75
`, "scenarios": "Sheet,Row,Column,Base,Other\n,,Product,TOP,TOP\n,,Plant,Works,Works\n,,Annual volume [1/yr],50000,50000\n" +
		"Materials,SHEET,Tensile strength,,460\nMaterials,SHEET,Shear factor,,0.7\nMaterials,FIRM,Density,,base * 1.02\n"})
	want, got := resultOf(t, typed), resultOf(t, gradeWorkbook(t, nil))
	if len(got.Details) != 2 {
		t.Fatalf("%d scenarios", len(got.Details))
	}
	for i, d := range got.Details {
		if a, b := d.Scenario().Must("piece_cost"), want.Details[i].Scenario().Must("piece_cost"); math.Abs(a-b) > 1e-12*b {
			t.Errorf("%s costs %v, with typed values %v", d.Plan.Scenario.Name, a, b)
		}
		for j, step := range d.Entries("operation") {
			a, _ := step.Value("cutting_force")
			if b, _ := want.Details[i].Entries("operation")[j].Value("cutting_force"); math.Abs(a-b) > 1e-9*b {
				t.Errorf("%s, %s: %v N, with typed values %v", d.Plan.Scenario.Name, step.Record().Key, a, b)
			}
		}
	}
}

// TestGradesInTheWorkbook: the values of a grade stand marked in the calculation with where they come from, every formula is as another
// calculator has it, and a designation that is edited, typed or cleared asks for a run; a value typed into an empty cell as well.
func TestGradesInTheWorkbook(t *testing.T) {
	path := gradeWorkbook(t, nil)
	writeLive(t, path)
	checkFormulas(t, path)
	cells := allCells(t, path, "Calculation Base")
	for _, text := range []string{"DX54D", "E235+N", "DC04"} {
		if !slices.Contains(slices.Collect(maps.Values(cells)), text) {
			t.Errorf("the calculation does not name the grade %s", text)
		}
	}
	told := strings.Join(slices.Sorted(maps.Values(cells)), "\n")
	for _, text := range []string{"templates/grades/steel-sheet-soft-hot-dip.yaml, DX54D: EN 10346, table of mechanical properties, " +
		"middle of 260 to 350 MPa; from memory, within about 8 %", "templates/grades/steel-tube.yaml, E235+N: "} {
		if !strings.Contains(told, text) {
			t.Errorf("the calculation does not say %s", text)
		}
	}
	poisoned := filepath.Join(filepath.Dir(path), "poisoned.xlsx")
	poison(t, path, poisoned)
	if n := comparePoisoned(t, path, poisoned); n < 200 {
		t.Errorf("%d formulas", n)
	}
	for _, e := range []struct {
		inputEdit
		asks bool
	}{
		{inputEdit{name: "nothing"}, false},
		{inputEdit{name: "a price", cells: map[string]any{"Materials!D2": 1.1}}, false},
		{inputEdit{name: "a strength that was typed", cells: map[string]any{"Materials!E5": 350}}, false},
		{inputEdit{name: "another material of the part", cells: map[string]any{"Parts!C3": "FIRM"}}, false},
		{inputEdit{name: "another grade", cells: map[string]any{"Materials!B2": "DX56D"}}, true},
		{inputEdit{name: "a grade cleared", cells: map[string]any{"Materials!B2": nil}}, true},
		{inputEdit{name: "a grade typed", cells: map[string]any{"Materials!B4": "EN AW-5754-H111"}}, true},
		{inputEdit{name: "a grade that was the key", cells: map[string]any{"Materials!A3": "E355+N", "Parts!C4": "E355+N"}}, true},
		{inputEdit{name: "a value typed for that of the grade", cells: map[string]any{"Materials!C2": 7900}}, true},
		{inputEdit{name: "the grade of a scenario", cells: map[string]any{"Scenarios!E5": "HX300LAD"}}, true},
	} {
		edited := filepath.Join(t.TempDir(), "edited.xlsx")
		editWorkbookFile(t, path, edited, e.inputEdit)
		shown := recomputedSheet(t, edited, summarySheet)
		if got := strings.HasPrefix(shown["A3"], "RUN AGAIN"); got != e.asks {
			t.Errorf("%s: the master cell says %q", e.name, shown["A3"])
		}
		if e.asks || e.name == "nothing" {
			continue
		}
		plain := gradeWorkbook(t, nil)
		editWorkbookFile(t, plain, plain, e.inputEdit)
		for i, d := range resultOf(t, plain).Details {
			want, found := d.Scenario().Must("piece_cost"), false
			for _, text := range shown {
				v, err := strconv.ParseFloat(text, 64)
				found = found || err == nil && math.Abs(v-want) < 1e-9*want
			}
			if !found {
				t.Errorf("%s: no cell of the summary is the piece cost %v of scenario %d", e.name, want, i+1)
			}
		}
	}
}

// TestGradesAreNoEquations: a default of the library that a grade's value takes the place of in every row stands neither above its column nor
// among the equations used.
func TestGradesAreNoEquations(t *testing.T) {
	for _, c := range []struct {
		materials string
		used      bool
	}{
		{gradeTables["materials"], true}, // OTHER has no grade
		{strings.Replace(gradeTables["materials"], "OTHER,,2700,3,250\n", "", 1), false},
	} {
		path := gradeWorkbook(t, map[string]string{"materials": c.materials})
		writeLive(t, path)
		listed := false
		for _, text := range allCells(t, path, methodSheet) {
			listed = listed || text == "shear_factor"
		}
		if listed != c.used {
			t.Errorf("the default of the shear factor is among the equations used: %v, want %v", listed, c.used)
		}
	}
}
