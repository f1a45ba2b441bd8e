package scenarios

import (
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A relationPoint is a row of inputs of a process with what its relations come to, both as their texts.
type relationPoint struct {
	line   int
	inputs []relationValue
	wanted []relationValue
	broken map[string]bool // what the checks say that do not hold
}

// A relationValue is a number in a unit.
type relationValue struct {
	name  string
	value float64
	unit  string
}

// relationsFile was computed by a program of its own, which shares no code with this one, from the relations as they were first written
// down: names, units and formulas in plain text.
const relationsFile = "../testdata/physics/relations.txt"

// readRelations reads the points by process.
func readRelations(t testing.TB) map[string][]relationPoint {
	t.Helper()
	raw, err := os.ReadFile(relationsFile)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]relationPoint{}
	process := ""
	for i, line := range strings.Split(string(raw), "\n") {
		word, rest, _ := strings.Cut(strings.TrimSpace(line), ":")
		rest = strings.TrimSpace(rest)
		points := out[process]
		last := len(points) - 1
		switch {
		case word == "" || word[0] == '#':
		case word == "process":
			process = rest
		case word == "with":
			out[process] = append(points, relationPoint{line: i + 1, inputs: relationValues(t, rest), broken: map[string]bool{}})
		case word == "is" && last >= 0:
			points[last].wanted = relationValues(t, rest)
		case word == "not" && last >= 0:
			points[last].broken[rest] = true
		default:
			t.Fatalf("line %d can't be read: %s", i+1, line)
		}
	}
	return out
}

func relationValues(t testing.TB, text string) (out []relationValue) {
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' }) {
		var v relationValue
		if n, err := fmt.Sscan(item, &v.name, &v.value, &v.unit); n != 3 {
			t.Fatalf("%q: %v", item, err)
		}
		out = append(out, v)
	}
	return out
}

// relationRow are the inputs of a point that stand in the rows of the part, its grade and its machine: what they are where a point does
// not give them.
var relationRow = []relationValue{
	{"part.gauge", 1, "mm"}, {"part.blank_length", 500, "mm"}, {"part.blank_width", 200, "mm"}, {"nesting", 100, "%"},
	{"material.density", 7850, "kg/m3"}, {"material.tensile_strength", 400, "MPa"}, {"material.yield_strength", 300, "MPa"},
	{"machine.rated_force", 1000, "kN"}, {"machine.rated_power", 100, "kW"}, {"machine.fuel_gas_power", 0, "kW"},
	{"machine.rated_pressure", 1e5, "bar"}, {"machine.bed_length", 1e6, "mm"}, {"machine.bed_width", 1e6, "mm"}, {"machine.throat_depth", 1e5, "mm"},
	{"machine.stroke", math.NaN(), "mm"}, {"material.hardening_exponent", math.NaN(), "1"}, // empty cells
}

// relationCase has a part with an operation of a process for each point.
func relationCase(t testing.TB, process *costmodel.Template, points []relationPoint) *table.Case {
	t.Helper()
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		t.Fatal(err)
	}
	parts := "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm],Nesting utilisation [%],Trim loss share [%]\n"
	assembly := "P,assembly,,,,,,"
	materials := "Material,Density [kg/m3],Base price [EUR/kg],Tensile strength [MPa],Yield strength [MPa],Hardening exponent\n"
	machines := "Machine,Price [EUR],Economic life [yr],Equipment allocation,Rated force [kN],Rated power [kW],Fuel gas power [kW]," +
		"Rated pressure [bar],Bed length [mm],Bed width [mm],Throat depth [mm],Stroke [mm]\nM,100000,10,shared,1000,100,0,,,,,\n"
	bill := "Parent,Child,Quantity,Joined at operation\n"
	head := "Part,Operation,Process,Machine,Set-up time [min],Batch size,Load and process time [s]"
	var columns, ofPart []string
	place := map[string]int{}
	for _, p := range points {
		for _, v := range p.inputs {
			if isDrawn(v.name) && !slices.Contains(ofPart, v.name) {
				ofPart = append(ofPart, v.name)
				parts, assembly = fmt.Sprintf("%s,%s [%s]\n", strings.TrimSuffix(parts, "\n"), strings.TrimPrefix(v.name, "part."), v.unit), assembly+","
			}
			if _, known := place[v.name]; !known && !isRelationRow(v.name) {
				place[v.name] = len(columns)
				columns = append(columns, v.name)
				heading := fmt.Sprintf(",%s [%s]", v.name, unitOfInput(sys, process, v))
				head += heading
				if takenFromPart(process, v.name) {
					ofPart = append(ofPart, v.name)
					parts, assembly = strings.TrimSuffix(parts, "\n")+heading+"\n", assembly+","
				}
			}
		}
	}
	parts += assembly + "\n"
	steps := head + "\nP,10,timed operation,M,1,100,5" + strings.Repeat(",", len(columns)) + "\n"
	for i, p := range points {
		cells, row, drawn := make([]string, len(columns)), map[string]float64{}, map[string]string{}
		for _, v := range relationRow {
			row[v.name] = v.value
		}
		for _, v := range p.inputs {
			if isRelationRow(v.name) {
				row[v.name], drawn[v.name] = v.value, fmt.Sprint(v.value)
			} else {
				cells[place[v.name]] = fmt.Sprint(v.value)
			}
		}
		n := fmt.Sprint(i)
		parts += fmt.Sprintf("P%s,sheet,G%s,%v,%v,%v,%v,10", n, n, row["part.gauge"], row["part.blank_length"], row["part.blank_width"], row["nesting"])
		for _, name := range ofPart { // every other point has at its part what an operation finds there
			cell := drawn[name]
			if i%2 == 1 && !isDrawn(name) {
				cell, cells[place[name]] = cells[place[name]], ""
			}
			parts += "," + cell
		}
		parts += "\n"
		materials += fmt.Sprintf("G%s,%v,1,%v,%v,%s\n", n, row["material.density"], row["material.tensile_strength"], row["material.yield_strength"],
			orEmpty(row["material.hardening_exponent"]))
		machines += fmt.Sprintf("M%s,100000,10,shared,%v,%v,%v,%v,%v,%v,%v,%s\n", n, row["machine.rated_force"], row["machine.rated_power"],
			row["machine.fuel_gas_power"], row["machine.rated_pressure"], row["machine.bed_length"], row["machine.bed_width"], row["machine.throat_depth"],
			orEmpty(row["machine.stroke"]))
		bill += "P,P" + n + ",1,10\n"
		steps += fmt.Sprintf("P%s,10,\"%s\",M%s,1,100,,%s\n", n, process.Name, n, strings.Join(cells, ","))
	}
	files := fstest.MapFS{}
	for name, text := range map[string]string{
		"case.csv": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"plants.csv": "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n" +
			"Fuel gas price,EUR/kWh,0.05\n",
		"parts.csv": parts, "materials.csv": materials, "machines.csv": machines, "bill_of_materials.csv": bill, "operations.csv": steps,
		"scenarios.csv": "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n",
	} {
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	c, err := ReadTables(files, process.Name)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// orEmpty is the cell of a number that a point may leave out.
func orEmpty(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return fmt.Sprint(v)
}

// takenFromPart tells whether an operation takes an input over from its part.
func takenFromPart(process *costmodel.Template, name string) bool {
	return slices.ContainsFunc(process.Items, func(it costmodel.Item) bool { return it.Name == name && it.Is == "part."+name })
}

// isDrawn tells whether an input is a column of the part alone, as its holes.
func isDrawn(name string) bool {
	return strings.HasPrefix(name, "part.") && !slices.ContainsFunc(relationRow, func(v relationValue) bool { return v.name == name })
}

func isRelationRow(name string) bool { return strings.Contains(name, ".") || name == "nesting" }

// unitOfInput is the unit of an input's column: its own, but where the points give a temperature as a plain number.
func unitOfInput(sys *units.System, process *costmodel.Template, v relationValue) string {
	for _, it := range process.Items {
		if it.Name == v.name && !sameDimension(sys, it.Unit, v.unit) {
			return it.Unit
		}
	}
	return v.unit
}

func sameDimension(sys *units.System, a, b string) bool {
	first, err := sys.Parse(strings.Replace(a, "currency", "EUR", 1))
	second, also := sys.Parse(strings.Replace(b, "currency", "EUR", 1))
	return err == nil && also == nil && first.Dim == second.Dim
}

// differsFromRelations says the first thing that a library reckons otherwise than a process's points.
func differsFromRelations(process *costmodel.Template, c *table.Case, points []relationPoint, lib *costmodel.Library) fate {
	m := costmodel.New(c, lib)
	for _, d := range m.Diagnostics.Sorted() {
		if d.Severity == table.Error && strings.HasSuffix(d.Place.File, ".yaml") {
			return fate{"refused by the library", d.Summary}
		}
	}
	p, ds := m.Compile(m.Scenarios[0], costmodel.CompileOptions{})
	if p == nil {
		return fate{"refused by a case", append(m.Diagnostics, ds...).Error()}
	}
	for _, l := range p.Detail(1000).Entries("operation") {
		var i int
		if n, _ := fmt.Sscanf(l.Record().Key, "P%d/10", &i); n != 1 {
			continue
		}
		if what := points[i].differs(l, m.Schema, process); what != "" {
			return fate{"killed", fmt.Sprintf("%s, line %d: %s", process.Name, points[i].line, what)}
		}
	}
	return fate{what: survived}
}

// differs says what a row has otherwise than the point.
func (p relationPoint) differs(l costmodel.Entry, schema *costmodel.Schema, process *costmodel.Template) string {
	for _, w := range p.wanted {
		v, own, ok := l.In(w.name)
		if unit := strings.Replace(w.unit, "currency", "EUR", 1); ok && own != unit && sameDimension(schema.Units, own, unit) {
			v, _ = lineInUnit(l, w.name, unit, schema.Units)
		}
		if !ok || !(math.Abs(v-w.value) <= 1e-9*math.Abs(w.value)) {
			return fmt.Sprintf("%s is %.12g, not %.12g %s", w.name, v, w.value, w.unit)
		}
	}
	looked := map[string]bool{}
	for _, q := range schema.Scope("operation").Quantities {
		if v, ok := l.Value(q.Name); ok && q.Check != nil {
			looked[q.Check.Say] = v != 0
		}
	}
	for _, check := range process.Checks {
		if holds, ok := looked[check.Say]; !ok || holds == p.broken[check.Say] {
			return fmt.Sprintf("%q holds: %v, is looked at: %v", check.Say, holds, ok)
		}
	}
	return ""
}

// TestRelations: every process reckons what an independent program came to, at points that take every branch of its relations.
func TestRelations(t *testing.T) {
	lib := testLibrary(t)
	figures := 0
	for name, points := range readRelations(t) {
		process := lib.Find(name)
		if process == nil {
			t.Errorf("no process %s", name)
			continue
		}
		if f := differsFromRelations(process, relationCase(t, process, points), points, lib); f.what != survived {
			t.Errorf("%s: %s", f.what, f.by)
		}
		for _, p := range points {
			figures += len(p.wanted)
		}
	}
	t.Logf("%d figures", figures)
}
