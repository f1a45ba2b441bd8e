package costmodel

import (
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// sweptPoints is how many values an input takes between the ends of its plausible range.
const sweptPoints = 5

// A swept input is varied over its plausible range while all others stay.
type swept struct {
	name   string
	unit   string
	lo, hi float64
	base   string // what the others have while it stands still; empty for a default
}

func (s swept) at(i int) float64 { return s.lo + (s.hi-s.lo)*float64(i)/(sweptPoints-1) }

// rowInputs are those of the part, its grade and every operation that processes read.
var rowInputs = []swept{
	{"gauge", "mm", 0.6, 3, "1.2"}, {"blank_length", "mm", 100, 2000, "900"}, {"tensile_strength", "MPa", 280, 640, "400"},
	{"joints", "1", 1, 40, "6"}, {"seam_length", "mm", 100, 4000, "800"},
}

// sweptInputs lists what a process is varied by.
func sweptInputs(t *Template) []swept {
	out := slices.Clone(rowInputs)
	for _, it := range t.Items {
		if !it.Input || it.Plausible == nil {
			continue
		}
		s := swept{name: it.Name, unit: it.Unit, lo: it.Plausible[0], hi: it.Plausible[1]}
		elsewhere := strings.HasPrefix(it.Is, "part.") && len(it.Otherwise) == 0 // of another form than this case's
		if it.Is == "" || elsewhere || strings.HasPrefix(it.Is, "mean_") {       // of the sheet Joints, which this case has not
			middle := math.Sqrt(s.lo * s.hi)
			if s.lo == 0 {
				middle = s.hi / 2
			}
			s.base = fmt.Sprintf("%.4g", middle)
		}
		out = append(out, s)
	}
	return out
}

// sweptCase has a part with an operation of the process for each value of each input.
func sweptCase(process *Template, inputs []swept) csvCase {
	head := "Part,Operation,Process,Machine,Set-up time [min],Batch size,Load and process time [s]"
	for _, s := range inputs[3:] {
		head += fmt.Sprintf(",%s [%s]", s.name, s.unit)
	}
	parts, bill := "Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,assembly,,,,\n", "Parent,Child,Quantity,Joined at operation\n"
	steps := head + "\nP,10," + `timed operation,M,1,100,5` + strings.Repeat(",", len(inputs)-3) + "\n"
	materials := "Material,Density [kg/m3],Base price [EUR/kg],Yield strength [MPa],Tensile strength [MPa]\n"
	for n, varied := range inputs {
		for i := range sweptPoints {
			values := map[string]string{}
			for _, s := range inputs {
				values[s.name] = s.base
			}
			values[varied.name] = fmt.Sprintf("%.6g", varied.at(i))
			key := fmt.Sprintf("P%d_%d", n, i)
			materials += fmt.Sprintf("M%s,7850,0.9,%s,%s\n", key, "240", values["tensile_strength"])
			parts += fmt.Sprintf("%s,sheet,M%s,%s,%s,120\n", key, key, values["gauge"], values["blank_length"])
			bill += "P," + key + ",1,10\n"
			steps += fmt.Sprintf("%s,10,\"%s\",M,1,100,", key, process.Name)
			for _, s := range inputs[3:] {
				steps += "," + values[s.name]
			}
			steps += "\n"
		}
	}
	return csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"Plants": "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,30\n" +
			"Fuel gas price,EUR/kWh,0.06\n",
		"Materials": materials, "Parts": parts, "Bill of materials": bill, "Operations": steps,
		"Machines":  "Machine,Price [EUR],Economic life [yr],Equipment allocation,Rated force [kN],Rated power [kW]\nM,100000,10,shared,1000,100\n",
		"Scenarios": "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n"}
}

// TestPhysicsOfProcesses sweeps the inputs of every process over their plausible ranges: what the process reckons is a number and
// never negative, and it rises and falls as testdata/physics/expectations.txt says.
func TestPhysicsOfProcesses(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	expected := readExpectations(t)
	held, reckoned := 0, 0
	for _, process := range lib.Processes {
		if process.Name == "timed operation" {
			continue
		}
		inputs := sweptInputs(process)
		m := New(sweptCase(process, inputs).read(t), lib)
		p, ds := m.Compile(m.Scenarios[0], CompileOptions{})
		if p == nil {
			t.Errorf("%s: %v", process.Name, ds)
			continue
		}
		found := map[string]*[sweptPoints]float64{} // by quantity and varied input
		for _, l := range p.Detail(1000).Entries("operation") {
			var n, i int
			if _, err := fmt.Sscanf(l.Record().Key, "P%d_%d/10", &n, &i); err != nil {
				continue
			}
			for _, q := range reckonedBy(process) {
				reckoned++
				v, ok := l.Value(q)
				if !ok || math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
					t.Errorf("%s: %s is %v (%v) where %s is %g %s", process.Name, q, v, ok, inputs[n].name, inputs[n].at(i), inputs[n].unit)
				}
				key := q + " with " + inputs[n].name
				if found[key] == nil {
					found[key] = &[sweptPoints]float64{}
				}
				found[key][i] = v
			}
		}
		if len(expected[process.Name]) == 0 {
			t.Errorf("%s has no expectation", process.Name)
		}
		for _, e := range expected[process.Name] {
			held++
			if values := found[e.quantity+" with "+e.input]; values == nil || !e.holds(values[:]) {
				t.Errorf("%s: %s does not %s with %s: %v", process.Name, e.quantity, e.moves, e.input, values)
			}
		}
		delete(expected, process.Name)
	}
	for name := range expected {
		t.Errorf("an expectation is of %q, which is no process", name)
	}
	t.Logf("%d expectations, %d numbers", held, reckoned)
}

// reckonedBy lists the quantities of a process that are numbers, and the inputs that it reckons where the part does not.
func reckonedBy(t *Template) (out []string) {
	for _, it := range t.Items {
		if (!it.Input || len(it.Otherwise) > 0 && !it.OnDemand) && it.Unit != "flag" && len(it.Options) == 0 {
			out = append(out, it.Name)
		}
	}
	return out
}

// An expectation is how a quantity moves with an input.
type expectation struct{ quantity, moves, input string }

func (e expectation) holds(v []float64) bool {
	first, last := v[0], v[len(v)-1]
	back := slices.Clone(v)
	slices.Reverse(back)
	switch e.moves {
	case "rise":
		return slices.IsSorted(v) && last > first
	case "fall":
		return slices.IsSorted(back) && last < first
	}
	return first == last && slices.IsSorted(v) // "stay"
}

var expectationLine = regexp.MustCompile(`^(.+): (\w+) (rise|fall|stay)s? with (\w+)$`)

func readExpectations(t *testing.T) map[string][]expectation {
	raw, err := os.ReadFile("../testdata/physics/expectations.txt")
	if err != nil {
		t.Fatal(err)
	}
	out := map[string][]expectation{}
	for i, line := range strings.Split(string(raw), "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		f := expectationLine.FindStringSubmatch(line)
		if f == nil {
			t.Fatalf("line %d can't be read: %s", i+1, line)
		}
		out[f[1]] = append(out[f[1]], expectation{f[2], f[3], f[4]})
	}
	return out
}
