package costmodel

import (
	"encoding/csv"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

// ownCase is a part with one operation; rows of the sheet Processes, further columns of Operations and their cells.
func ownCase(rows, process, heading, cells string) csvCase {
	c := csvCase{
		"Case":      "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,3\nInterest rate,%/yr,5\n",
		"Plants":    "Quantity,Unit,Works\nWorking days,1/yr,200\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n",
		"Materials": "Material,Density [kg/m3],Base price [EUR/kg],Scrap price [EUR/kg]\nPA,1370,3,0.5\n",
		"Machines":  "Machine,Price [EUR],Economic life [yr],Equipment allocation,Rated force [kN]\nM,200000,10,shared,1500\n",
		"Parts":     "Part,Form,Material,Gross mass [kg],Net mass of this level [kg]\nP,given masses,PA,0.05,0.04\n",
		"Operations": "Part,Operation,Process,Machine,Set-up time [min],Batch size" + heading + "\nP,10," + process + ",M,30,1000" +
			cells + "\n",
		"Scenarios": "Sheet,Row,Column,A\n,,Product,P\n,,Plant,Works\n,,Annual volume [1/yr],50000\n",
		"Processes": "Process,Quantity,Unit,Formula or value,Note\n" + rows,
	}
	return c
}

// ownResult costs a case and returns quantities of the operation and of the part by "operation name" and "part name".
func ownResult(t *testing.T, c csvCase) (value func(of string) float64, all table.Diagnostics) {
	t.Helper()
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	m := New(c.read(t), lib)
	if m.Diagnostics.HasErrors() {
		return nil, m.Diagnostics
	}
	p, ds := m.Compile(m.Scenarios[0], CompileOptions{})
	all = append(slices.Clone(m.Diagnostics), ds...)
	if p == nil {
		return nil, all
	}
	detail := p.Detail(50000)
	return func(of string) float64 {
		scope, name, _ := strings.Cut(of, " ")
		for _, e := range detail.Entries(scope) {
			if v, ok := e.Value(name); ok {
				return v
			}
		}
		t.Errorf("there is no %s", of)
		return math.NaN()
	}, all
}

// TestOwnDefinitions: what rows of the sheet Processes make of an operation or a part, against numbers by hand.
func TestOwnDefinitions(t *testing.T) {
	for name, c := range map[string]struct {
		rows, process, heading, cells string
		form                          string
		want                          map[string]float64
	}{
		"numbers, inputs, bare numbers and quantities": {
			rows: "moulding,wall,mm,,\nmoulding,opening,s,12 s,\nmoulding,load and process time,s,\"10 + opening + wall / \"\"0.5 mm/s\"\"\",\n" +
				"moulding,pieces per cycle,1,4,\n",
			process: "moulding", heading: ",Wall [mm]", cells: ",3",
			want: map[string]float64{"operation load_and_process_time": 10 + 12 + 3/0.5, "operation pieces_per_cycle": 4, "operation opening": 12}},
		"based on a process of the library": {
			rows:    "my trimming,based on,,laser trimming,\nmy trimming,load_and_process_time,s,7,\n",
			process: "my trimming", want: map[string]float64{"operation load_and_process_time": 7}},
		"a label that is no name": {
			rows: "moulding,Load and process time,s,9,\nall operations,Set-up time,min,45,\n", process: "moulding",
			want: map[string]float64{"operation load_and_process_time": 9, "operation setup_time": 1800}},
		"given masses": {rows: "", process: "timed operation", heading: ",Load and process time [s]", cells: ",9",
			want: map[string]float64{"part gross_mass": 0.05, "part blank_mass": 0.05, "part net_mass": 0.04, "part material_per_piece": 0.15,
				"part scrap_price": 0.5}},
		"an own form, which begins as given masses": {
			rows: "form: moulded with runner,runner_mass,g,10,\nform: moulded with runner,shots,1,2,\n" +
				"form: moulded with runner,gross_mass,kg,net_mass_of_this_level + runner_mass / shots,\n",
			process: "timed operation", heading: ",Load and process time [s]", cells: ",9", form: "moulded with runner",
			want: map[string]float64{"part gross_mass": 0.045, "part blank_mass": 0.045, "part material_per_piece": 0.135}},
		"an own form that is based on another": {
			rows: "form: thick sheet,based on,,sheet,\nform: thick sheet,gauge,mm,10,\nform: thick sheet,blank_length,mm,100,\n" +
				"form: thick sheet,blank_width,mm,50,\n",
			process: "timed operation", heading: ",Load and process time [s]", cells: ",9", form: "thick sheet",
			want: map[string]float64{"part blank_mass": 0.1 * 0.05 * 0.01 * 1370}},
	} {
		in := ownCase(c.rows, c.process, c.heading, c.cells)
		if c.form != "" {
			in["Parts"] = "Part,Form,Material,Net mass of this level [kg]\nP," + c.form + ",PA,0.04\n"
		}
		if c.form == "thick sheet" {
			in["Parts"] = "Part,Form,Material\nP,thick sheet,PA\n"
		}
		value, ds := ownResult(t, in)
		if value == nil {
			t.Errorf("%s: %v", name, ds)
			continue
		}
		for of, want := range c.want {
			if got := value(of); math.Abs(got-want) > 1e-9*math.Abs(want) {
				t.Errorf("%s: %s is %v, want %v", name, of, got, want)
			}
		}
	}
}

// TestOwnPercent: a cell formatted as percent holds a share, in the sheet Processes as elsewhere.
func TestOwnPercent(t *testing.T) {
	c := ownCase("all operations,defect_share,%,0.14,\n", "timed operation", ",Load and process time [s]", ",9")
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	for percent, want := range map[bool]float64{true: 0.14, false: 0.0014} {
		in := c.read(t)
		in.Table("Processes").Rows[0].Cells[3].Percent = percent
		m := New(in, lib)
		p := mustCompile(t, m, m.Scenarios[0], CompileOptions{})
		if got, _ := p.Detail(50000).Entries("operation")[0].Value("defect_share"); math.Abs(got-want) > 1e-12 {
			t.Errorf("percent %v: %v, want %v", percent, got, want)
		}
	}
}

// TestOwnChecks: a check of an own process, and those of the process that it is based on, with their ranges.
func TestOwnChecks(t *testing.T) {
	rows := "moulding,wall,mm,,\nmoulding,load_and_process_time,s,20,\nmoulding,%s,,wall > 2,wall too thin to fill\n"
	for _, c := range []struct{ check, wall, want string }{
		{"check", "3", ""}, {"check", "2", "warning wall too thin to fill"}, {"check, error", "2", "error wall too thin to fill"},
	} {
		in := ownCase(fmt.Sprintf(rows, `"`+c.check+`"`), "moulding", ",Wall [mm]", ","+c.wall)
		_, ds := ownResult(t, in)
		got := ""
		for _, d := range ds {
			if d.Severity != table.Note && strings.Contains(d.Summary, "wall too thin") {
				got = fmt.Sprintf("%v wall too thin to fill", map[bool]string{true: "error", false: "warning"}[d.Severity == table.Error])
			}
		}
		if got != c.want {
			t.Errorf("%s at wall %s: %q, want %q: %v", c.check, c.wall, got, c.want, ds)
		}
	}
	const copied = "my sawing,based on,,tube sawing,\nmy sawing,feed_time,s,5,\n"
	in := ownCase(copied, "my sawing", ",Outer diameter [mm],Stock length [mm],Feed time [s]", ",40,6000,-1")
	if _, ds := ownResult(t, in); !strings.Contains(errorsOf(ds), "Feed time is -1 s, but it must be") {
		t.Errorf("the range of the library is lost: %v", ds)
	}
}

// TestOwnMistakes: each is said at its cell, once.
func TestOwnMistakes(t *testing.T) {
	for _, c := range []struct{ rows, place, summary, help string }{
		{"timed operation,check,,joints > 2,\n", "E2", "a check says nothing where its condition does not hold", "write what is wrong then in the column Note"},
		{"timed operation,check,,,too thin\n", "D2", "a check has no condition", `write one, such as wall >= "1 mm"`},
		{"my sawing,based on,,tube sawin,\n", "D2", `"tube sawin" is not in the library, so nothing can be based on it`, "did you mean tube sawing?"},
		{"my sawing,based on,,,\n", "D2", `"" is not in the library, so nothing can be based on it`, "`piececost processes` lists what is there"},
		{"tube sawing,based on,,laser trimming,\n", "D2", `"tube sawing" is in the library already; its rows here change it wherever it is used`,
			"give what is based on another a name of its own, or clear the row"},
		{"all parts,based on,,sheet,\n", "D2", `"all parts" are the equations of all rows and based on nothing`,
			"give what is based on another a name of its own, or clear the row"},
		{"form: bar,gross_mass,kg,0.1,\n", "D2", `no part has the own form "bar"`, "use it in the sheet Parts"},
		{"form: given mases,gross_mass,kg,0.1,\n", "D2", `no part has the form "given mases"`, "did you mean given masses?"},
		{"bar,gross_mass,kg,0.1,\n", "D2", `no operation has the own process "bar"`,
			"use it in the sheet Operations; for the equations of all operations write all operations, for a form of material form: bar"},
		{"timed operation,wall,mm,gague * 2,\n", "D2", `wall: unknown name "gague"`, ""},
	} {
		_, ds := ownResult(t, ownCase(c.rows, "timed operation", ",Load and process time [s]", ",9"))
		var found []table.Diagnostic
		for _, d := range ds {
			if d.Place.Sheet == "Processes" {
				found = append(found, d)
			}
		}
		if len(found) != 1 || found[0].Place.Cell() != c.place || found[0].Summary != c.summary || c.help != "" && found[0].Help != c.help {
			t.Errorf("%s: %v", c.rows, found)
		}
	}
}

// TestUnknownWays: a process or form that nobody knows points at the ways to give it.
func TestUnknownWays(t *testing.T) {
	c := ownCase("casting,gross_mass,kg,0.1,\n", "injection moulding", "", "")
	c["Parts"] = "Part,Form,Material\nP,casting,PA\nQ,moulded part,PA\nR,foam block,PA\n"
	_, ds := ownResult(t, c)
	var got []string
	for _, d := range ds {
		if d.Severity == table.Error {
			got = append(got, d.Place.Cell()+" "+d.Summary+"; "+d.Help)
		}
	}
	want := []string{
		`B2 unknown form "casting"; in the sheet Processes a form of material is written form: casting`,
		`B4 unknown form "foam block"; the choices are `,
		"take given masses; an own form is defined in the sheet Processes, as form: foam block",
		`C2 unknown process "injection moulding"; write one that`, "timed operation where the time", "define it in the sheet Processes",
		"form given masses",
	}
	for _, w := range want {
		if !strings.Contains(strings.Join(got, "\n"), w) {
			t.Errorf("%q is not said in\n%s", w, strings.Join(got, "\n"))
		}
	}
}

// TestOwnCopies: a copy of any process or form of the library costs what that costs, with the same ranges and limits, and brings no
// finding but that nothing has it, where nothing does.
func TestOwnCopies(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for _, process := range lib.Processes {
		if process.Name == "timed operation" { // it has nothing of its own
			continue
		}
		inputs := sweptInputs(process)
		c := sweptCase(process, inputs)
		rows, err := lib.OwnCopy(process, "", nil)
		if err != nil {
			t.Fatal(err)
		}
		copied := maps.Clone(c)
		copied["Processes"] = csvOf(append([][]string{OwnHeadings}, cellsOf(rows)...))
		if ds := New(copied.read(t), lib).Diagnostics; countOf(ds, table.Note) != 1+countOf(New(c.read(t), lib).Diagnostics, table.Note) {
			t.Errorf("%s, unused: %v", process.Name, ds)
		}
		copied["Operations"] = renamedProcess(c["Operations"], process.Name, "own "+process.Name)
		if copied["Operations"] == c["Operations"] {
			t.Errorf("%s is not in its own case", process.Name)
		}
		before, after := New(c.read(t), lib), New(copied.read(t), lib)
		p, ds := before.Compile(before.Scenarios[0], CompileOptions{})
		q, dsCopy := after.Compile(after.Scenarios[0], CompileOptions{})
		if p == nil || q == nil {
			t.Errorf("%s: %v; copied %v", process.Name, ds, append(after.Diagnostics, dsCopy...))
			continue
		}
		if a, b := len(before.Diagnostics)+len(ds), len(after.Diagnostics)+len(dsCopy); a != b {
			t.Errorf("%s: %d findings, %d of the copy: %v", process.Name, a, b, append(after.Diagnostics, dsCopy...))
		}
		theirs := q.Detail(1000).Entries("operation")
		for i, e := range p.Detail(1000).Entries("operation") {
			for _, name := range append(reckonedBy(process), "annual_cost") {
				a, ok := e.Value(name)
				b, okCopy := theirs[i].Value(name)
				if compared++; ok != okCopy || a != b && !(math.IsNaN(a) && math.IsNaN(b)) {
					t.Fatalf("%s: %s of %s is %v and %v in the copy", process.Name, name, e.Record().Key, a, b)
				}
			}
		}
	}
	t.Logf("%d values", compared)
	for _, form := range lib.Forms {
		rows, err := lib.OwnCopy(form, "mine", nil)
		if err != nil || rows[0].Process != "form: mine" || rows[0].Formula != form.Name {
			t.Errorf("%s: %v, %v", form.Name, rows, err)
		}
		c := ownCase("", "timed operation", ",Load and process time [s]", ",9")
		c["Processes"] = csvOf(append([][]string{OwnHeadings}, cellsOf(rows)...))
		if ds := New(c.read(t), lib).Diagnostics; len(ds) != 1 || !strings.Contains(ds[0].Summary, `no part has the own form "mine"`) {
			t.Errorf("%s: %v", form.Name, ds)
		}
	}
}

// TestOwnCopyNames: a copy has a name that nothing else has.
func TestOwnCopyNames(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	sheet := ownCase("my sawing,kerf,mm,3,\n", "", "", "").read(t).Table("Processes")
	for _, c := range []struct{ of, name, want string }{
		{"tube sawing", "", ""}, {"tube sawing", "Sawing 2", ""}, {"sheet", "my sawing", ""},
		{"tube sawing", "My sawing", `the sheet Processes has the process "My sawing" already, in row 2`},
		{"tube sawing", "Tube  Sawing", `piececost has the process "Tube  Sawing" itself`},
		{"tube sawing", "progressive die forming", "piececost has the process"}, // an alias
		{"tube sawing", "all parts", `piececost has the process "all parts" itself`},
		{"sheet", "given masses", `piececost has the form "given masses" itself`},
		{"tube sawing", "example 3", "examples that nothing names are not read"},
		{"tube sawing", " ?", `is no name`},
		{"operation", "", "write all operations under Process"},
	} {
		rows, err := lib.OwnCopy(lib.Find(c.of), c.name, sheet)
		if c.want == "" && (err != nil || len(rows) < 2) || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s as %q: %v", c.of, c.name, err)
		}
	}
}

func countOf(ds table.Diagnostics, above table.Severity) (n int) {
	for _, d := range ds {
		if d.Severity != above {
			n++
		}
	}
	return n
}

func cellsOf(rows []OwnRow) (out [][]string) {
	for _, r := range rows {
		out = append(out, r.Cells())
	}
	return out
}

func csvOf(rows [][]string) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	if err := w.WriteAll(rows); err != nil {
		panic(err)
	}
	return b.String()
}

// renamedProcess writes another name in the cells that hold that of a process.
func renamedProcess(text, from, to string) string {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		panic(err)
	}
	for _, row := range rows {
		for i := range row {
			if row[i] == from {
				row[i] = to
			}
		}
	}
	return csvOf(rows)
}

// TestOwnNames: a process of the workbook may call a quantity as a process does that the case does not use, in another unit; of one
// that it uses it is said, at the cell.
func TestOwnNames(t *testing.T) {
	const rows = "oven,heat_capacity,mm,600,\noven,load_and_process_time,s,9,\n"
	value, ds := ownResult(t, ownCase(rows, "oven", "", ""))
	if value == nil || value("operation heat_capacity") != 0.6 {
		t.Errorf("unused: %v", ds)
	}
	c := ownCase(rows, "oven", "", "")
	c["Operations"] += "P,20,heat treatment,M,30,1000\n"
	_, ds = ownResult(t, c)
	if !slices.ContainsFunc(ds, func(d table.Diagnostic) bool {
		return d.Place.Sheet == "Processes" && d.Place.Cell() == "D2" && strings.Contains(d.Summary, "heat_capacity is") && d.Help == "give it another name"
	}) {
		t.Errorf("used: %v", ds)
	}
}
