package costmodel

import (
	"math"
	"strings"
	"testing"
)

// TestCurveMistakes: each is found at its cell.
func TestCurveMistakes(t *testing.T) {
	const head = "Curve,X,X unit,Y,Y unit\n"
	for _, c := range []struct{ points, want string }{
		{"wear,1,mm,5,s\nwear,2,mm,6,s\n", ""},
		{"wear,1,mm,5,s\nwear,2,,6,\n", ""}, // the unit of the first point
		{"wear,1,mm,5,s\n", "B2 curve wear has one point"},
		{"wear,1,mm,5,s\nwear,,mm,6,s\n", "B3 curve wear: the point has no X"},
		{"wear,1,mm,,s\nwear,2,mm,6,s\n", "D2 curve wear: the point has no Y"},
		{"wear,1,mm,5,s\nwear,2,mm,much,s\n", "D3 curve wear: Y must be a number"},
		{"wear,1,mm,5,s\nwear,2,in,6,s\n", "C3 curve wear: the unit is in here and mm at its first point"},
		{"wear,1,mm,5,s\nwear,2,mm,6,min\n", "E3 curve wear: the unit is min here and s at its first point"},
		{"wear,1,mm,5,furlong\nwear,2,mm,6,\n",
			"E2 unknown unit \"furlong\"; units are such as mm, kg, s, h, kWh, EUR, 1 and what is made of them, such as EUR/kg"},
		{"wear,1,mm,5,s\nWear,2,mm,6,s\n", "A3 curve Wear: an expression could not tell it from wear"},
		{"2nd wear,1,mm,5,s\n2nd wear,2,mm,6,s\n", "A2 no expression can name the curve \"2nd wear\""},
		{",1,mm,5,s\n", "A2 the point belongs to no curve"},
		{"wear,2,mm,5,s\nwear,1,mm,6,s\n", "B3 curve wear: X does not rise"},
	} {
		s := sampleTables(t)
		s["Tables"] = head + c.points
		if _, got := findings(t, s, "Tables"); strings.Join(got, "; ") != c.want {
			t.Errorf("%q: %q, want %q", c.points, got, c.want)
		}
	}
	s := sampleTables(t)
	s["Tables"] = "Curve,X,X unit\nwear,1,mm\n"
	if _, got := findings(t, s, "Tables"); strings.Join(got, "; ") != ` the sheet has no column "Y"` {
		t.Errorf("without Y: %q", got)
	}
	s["Tables"] = head + "wear,1,mm,5,s\nwear,2,mm,6,s\n"
	in := s.read(t)
	in.Table("Tables").Rows[1].Cells[1].Percent = true
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	if m := New(in, lib); !strings.Contains(errorsOf(m.Diagnostics), "curve wear: X is formatted as percent") {
		t.Errorf("percent: %v", m.Diagnostics)
	}
}

// TestCurveNames: a curve is found however an expression writes its name, with x and the result in its units.
func TestCurveNames(t *testing.T) {
	for name, use := range map[string]string{"Cooling time": "cooling_time", "cooling_time": "cooling_time", "Wear": "Wear"} {
		c := ownCase("moulding,wall,mm,,\nmoulding,load_and_process_time,s,\"interpolate("+use+", wall)\",\n", "moulding", ",Wall [mm]", ",2.5")
		c["Tables"] = "Curve,X,X unit,Y,Y unit\n" + name + ",0.1,in,0.5,min\n" + name + ",0.2,in,1.5,min\n"
		value, ds := ownResult(t, c)
		if value == nil {
			t.Fatalf("%s: %v", name, ds)
		}
		if got := value("operation load_and_process_time"); math.Abs(got-30) > 1e-9 { // below the first point: level
			t.Errorf("%s: %v", name, got)
		}
	}
	c := ownCase("moulding,heat,degC,100,\nmoulding,load_and_process_time,s,\"interpolate(cooling, heat)\",\n", "moulding", "", "")
	c["Tables"] = "Curve,X,X unit,Y,Y unit\ncooling,32,degF,10,s\ncooling,392,degF,20,s\n" // 0 and 200 degC
	value, ds := ownResult(t, c)
	if value == nil {
		t.Fatal(ds)
	}
	if got := value("operation load_and_process_time"); math.Abs(got-15) > 1e-9 {
		t.Errorf("over a level of temperature: %v", got)
	}
	for formula, want := range map[string]string{
		"interpolate(cooling, wall)": "curve cooling goes over a level of temperature [degC], but x is length [m]",
		"interpolate(coling, wall)":  "did you mean cooling?",
		"interpolate(flow, wall)":    `unknown curve "flow"; add its points to the sheet Tables`,
	} {
		c["Processes"] = "Process,Quantity,Unit,Formula or value\nmoulding,wall,mm,3\n" +
			"moulding,load_and_process_time,s,\"" + formula + "\"\n"
		_, ds := ownResult(t, c)
		d := ds.Sorted()[0]
		if len(ds) == 0 || d.Place.Cell() != "D3" || !strings.Contains(d.Summary+d.Help, want) {
			t.Errorf("%s: %v", formula, ds)
		}
	}
}
