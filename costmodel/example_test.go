package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"piececost/costmodel/units"
)

// exampleSheets are the sheets that an example may give a figure of, with what it has unless it says otherwise. The first is of names
// without a point.
var exampleSheets = []struct{ sheet, path, head, row string }{
	{"Operations", "", "Part,Operation,Process,Machine,Set-up time [min],Batch size", "P,10,%q,M,0,1"},
	{"Parts", "part", "Part,Form,Material", "P,sheet,S"},
	{"Materials", "material", "Material,Base price [EUR/kg]", "S,1"},
	{"Machines", "machine", "Machine,Price [EUR],Economic life [yr],Equipment allocation", "M,0,10,shared"},
}

// exampleFigures are what a sheet's row has where an example does not say it.
var exampleFigures = map[string]string{"part.gauge": "1 mm", "part.blank_length": "100 mm", "part.blank_width": "100 mm",
	"material.density": "7850 kg/m3", "material.yield_strength": "200 MPa", "material.tensile_strength": "300 MPa", "machine.rated_force": "50000 kN",
	"machine.rated_power": "1000 kW"}

// exampleCase is the example of a process as a case.
func exampleCase(t *testing.T, process *Template) csvCase {
	given := map[string]string{}
	var order []string
	for _, f := range process.Example.Given {
		if given[f.Name] != "" {
			t.Errorf("%s: the example gives %s twice", process.Name, f.Name)
		}
		given[f.Name] = f.Text
		order = append(order, f.Name)
	}
	for name, text := range exampleFigures {
		if given[name] == "" {
			given[name] = text
			order = append(order, name)
		}
	}
	out := csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"Plants": "Quantity,Unit,Works\nWorking days,1/yr,250\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,0\n" +
			"Fuel gas price,EUR/kWh,0.05\n",
		"Bill of materials": "Parent,Child,Quantity\n",
		"Scenarios":         "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n"}
	for i, s := range exampleSheets {
		head, row := s.head, s.row
		if i == 0 {
			row = fmt.Sprintf(row, process.Name)
		}
		for _, name := range order {
			path, column, found := strings.Cut(name, ".")
			if !found {
				path, column = "", name
			}
			if path != s.path {
				continue
			}
			number, unit, _ := strings.Cut(given[name], " ")
			if unit != "" {
				column += " [" + strings.ReplaceAll(unit, "currency", "EUR") + "]"
			}
			head, row = head+","+column, row+","+number
		}
		out[s.sheet] = head + "\n" + row + "\n"
	}
	return out
}

// lastDigit is half a unit of the last digit of a number as it is written.
func lastDigit(number string) float64 {
	mantissa, exponent, _ := strings.Cut(number, "e")
	half := 0.5
	if _, behind, point := strings.Cut(mantissa, "."); point {
		half *= math.Pow(10, -float64(len(behind)))
	}
	var e float64
	fmt.Sscanf(exponent, "%g", &e)
	return half * math.Pow(10, e)
}

// TestExamples: every process has an example whose results the program reckons to the last digit that is written, without a warning: the
// figures were published or reckoned by hand.
func TestExamples(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		t.Fatal(err)
	}
	published, byHand := 0, 0
	for _, process := range lib.Processes {
		e := process.Example
		if e == nil || e.What == "" || len(e.Given) == 0 || len(e.Published)+len(e.ByHand) == 0 {
			t.Errorf("%s has no example, or one without words, inputs or results", process.Name)
			continue
		}
		m := New(exampleCase(t, process).read(t), lib)
		p, ds := m.Compile(m.Scenarios[0], CompileOptions{})
		for _, d := range append(m.Diagnostics, ds...) {
			t.Errorf("%s: %v", process.Name, d)
		}
		if p == nil {
			continue
		}
		entry := p.Detail(1000).Entries("operation")[0]
		for _, f := range append(append([]Figure{}, e.Published...), e.ByHand...) {
			got, own, ok := entry.In(f.Name)
			have, err := sys.Parse(own)
			want, err2 := sys.Parse(strings.ReplaceAll(f.Unit, "currency", "EUR"))
			if !ok || err != nil || err2 != nil || !want.Fits(have) {
				t.Errorf("%s: %s = %s has no such quantity or unit (%v, %v, %s)", process.Name, f.Name, f.Text, err, err2, own)
				continue
			}
			number, _, _ := strings.Cut(f.Text, " ")
			if got = want.Shown(have.Coherent(got)); !(math.Abs(got-f.Number) <= lastDigit(number)*(1+1e-9)) {
				t.Errorf("%s: %s is %v %s, the example has %s", process.Name, f.Name, got, f.Unit, f.Text)
			}
		}
		published, byHand = published+len(e.Published), byHand+len(e.ByHand)
	}
	t.Logf("%d processes, results: %d published, %d by hand", len(lib.Processes), published, byHand)
}

// TestLastDigit: a result is held to half a unit of its last digit.
func TestLastDigit(t *testing.T) {
	for text, want := range map[string]float64{"12": 0.5, "12.0": 0.05, "0.00160": 5e-6, "2.5e3": 50} {
		if got := lastDigit(text); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: %v", text, got)
		}
	}
}
