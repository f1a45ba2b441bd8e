package study_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// input reads an input as a person writes it.
func input(t testing.TB, text string) costmodel.Input {
	t.Helper()
	in, err := costmodel.ParseInput(text)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// respond measures plans: the first alone, or less the second.
func respond(t testing.TB, plans []*costmodel.Plan, volume float64, inputs ...string) *study.Response {
	t.Helper()
	q := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario, Volume: volume}
	if len(plans) > 1 {
		q.Against = plans[1].Scenario
	}
	var list []costmodel.Input
	for _, text := range inputs {
		list = append(list, input(t, text))
	}
	r, ds := q.Respond(list)
	if r == nil || len(r.Dropped) > 0 {
		t.Fatal(ds)
	}
	return r
}

// found writes the roots of a solution in the unit of the cell, to six digits.
func found(s study.Solution) string {
	var out []string
	for _, r := range s.Roots {
		text := fmt.Sprintf("%.6g", s.Input.Shown(r.Value))
		switch {
		case r.Jump:
			text = "jump " + text
		case r.Until > r.Value:
			text += fmt.Sprintf("..%.6g", s.Input.Shown(r.Until))
		}
		out = append(out, text)
	}
	if s.Idle {
		return "idle"
	}
	return strings.Join(out, ", ")
}

// TestSolveByHand solves the workshop, whose costs are simple sums. At N = 80,000 per year X needs n = ceil(N t/3600/800) lines
// and as many tool sets: its annual cost is 11,000 n + N t/3600 x wage, a wage of 10 EUR/h and t = 36 s as it stands.
func TestSolveByHand(t *testing.T) {
	x := read(t, workshop)[:1]
	dearTool := read(t, workshop, [3]string{"operations.csv", "5000,100000000", "5000,400000"})[:1]
	for _, c := range []struct {
		name     string
		plans    []*costmodel.Plan
		input    string
		target   float64 // EUR per piece
		from, to float64 // in the unit of the cell
		want     string
	}{
		{"wage: 11,000 + 800 w = 20,000", x, "Plants/Works/Direct labour rate", 0.25, 0, 100, "11.25"},
		{"base value", x, "Plants/Works/Direct labour rate", 0.2375, 0, 100, "10"},
		{"time: 11,000 + 222.2 t = 16,000", x, "Operations/P/10/Load and process time", 0.2, 1, 200, "22.5"},
		{"a second line at 36 s jumps over 20,000", x, "Operations/P/10/Load and process time", 0.25, 1, 200, "jump 36"},
		{"volume: 11,000 n / N = 0.2", x, "Annual volume", 0.3, 1000, 1e6, "55000, jump 80000, 110000, jump 160000, 165000"},
		{"the same within a narrower range", x, "Annual volume", 0.3, 90000, 150000, "110000"},
		{"two tool sets of 400,000 cycles", dearTool, "Operations/P/10/Tool life", 0.25, 50000, 1e6, "200000..400000"},
		{"an input of another operation", x, "Machines/M2/Price", 0.25, 0, 1e6, "idle"},
		{"out of reach", x, "Machines/M1/Price", 0.05, 0, 1e6, ""},
		{"machine: P/10 + 9,000 = 24,000", x, "Machines/M1/Price", 0.3, 0, 1e6, "150000"},
		{"machine life: 100,000/n + 9,000 = 24,000", x, "Machines/M1/Economic life", 0.3, 1, 40, "6.66667"},
		{"a quantity that is computed", x, "Operations/P/10/Cycle time", 0.2, 1, 36, "22.5"},
	} {
		r := respond(t, c.plans, 0, c.input)
		v := r.Inputs[0]
		s := r.Solve(0, c.target, v.Coherent(c.from), v.Coherent(c.to), study.RangeAsked)
		if got := found(s); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		for _, root := range s.Roots {
			if f := r.At(0, []float64{root.Value})[0]; !root.Jump && math.Abs(f-c.target) > 1e-9 {
				t.Errorf("%s: costs %v at its root", c.name, f)
			}
		}
	}
}

// TestSolveJump says how far a jump leads past the target on either side: 1,000 EUR of 80,000 pieces below, 10,000 above;
// the measure is taken a hundred-thousandth of the load time beside it, which moves it in the sixth decimal.
func TestSolveJump(t *testing.T) {
	r := respond(t, read(t, workshop)[:1], 0, "Operations/P/10/Load and process time")
	s := r.Solve(0, 0.25, 1, 200, study.RangeAsked)
	if len(s.Roots) != 1 || math.Abs(s.Roots[0].Below+0.0125) > 2e-6 || math.Abs(s.Roots[0].Above-0.125) > 2e-6 || math.Abs(s.Roots[0].Value-36) > 1e-6 {
		t.Errorf("%+v", s.Roots)
	}
	if _, ok := s.Closest(); !ok || s.BaseValue != 0.2375 {
		t.Errorf("today %v", s.BaseValue)
	}
}

// TestSolveNearest gives the nearest miss where nothing meets the target: with a machine for nothing X costs 9,000 EUR.
func TestSolveNearest(t *testing.T) {
	r := respond(t, read(t, workshop)[:1], 0, "Machines/M1/Price")
	if s := r.Solve(0, 0.05, 0, 1e6, study.RangeAsked); len(s.Roots) > 0 || s.Nearest != 0 || !near(s.Miss, 9000.0/80000-0.05) {
		t.Errorf("%+v", s)
	}
}

// TestSolveParity makes one scenario cost what another costs. X less Y is 19,000 - 22,000 EUR at 80,000 per year.
func TestSolveParity(t *testing.T) {
	plans := read(t, workshop)
	for _, c := range []struct {
		input string
		want  string
	}{
		{"Machines/M1/Price", "130000"},             // 3,000 EUR per year over ten years
		{"Machines/M2/Price", "45000"},              // two lines
		{"Plants/Works/Direct labour rate", "idle"}, // both pay 800 hours
		{"Machines/M1/Crew", "1.375"},               // 800 h x 10 EUR/h for a worker
	} {
		r := respond(t, plans, 0, c.input)
		from, to, _ := study.SearchRange(&r.Inputs[0])
		if s := r.Solve(0, 0, from, to, study.RangePlausible); found(s) != c.want {
			t.Errorf("%s: %s, want %s", c.input, found(s), c.want)
		}
	}
}

// TestSolvePaidMass counts a saved kilogram at the value of the case: a part of 1 mm and 0.785 kg at 2 EUR/kg, against one of
// 0.5 mm whose process costs more.
func TestSolvePaidMass(t *testing.T) {
	tables := map[string]string{}
	for name, text := range workshop {
		tables[name] = text
	}
	tables["case.csv"] += "Allowable cost of mass saving,EUR/kg,3\n"
	tables["materials.csv"] = "Material,Density [kg/m3],Base price [EUR/kg]\nS,7850,2\n"
	tables["parts.csv"] = "Part,Name,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm]\nP,plate,sheet,S,1,1000,100\n"
	tables["scenarios.csv"] = "Sheet,Row,Column,new,old\n,,Annual volume [1/yr],80000,80000\n,,Product,P,P\n" +
		"Parts,P,Gauge [mm],0.5,\nOperations,P/10,Consumables per piece [EUR],1.5,\n"
	plans := read(t, tables)
	q := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario, Against: plans[1].Scenario, PayMass: true}
	r, ds := q.Respond([]costmodel.Input{input(t, "Case/Allowable cost of mass saving"), input(t, "Materials/S/Base price")})
	if r == nil {
		t.Fatal(ds)
	}
	const saved = 0.3925 // kg
	if baseValue := r.BaseValue(); !near(baseValue, 1.5-2*saved-3*saved) {
		t.Errorf("today %v", baseValue)
	}
	if s := r.Solve(0, 0, 0, 10, study.RangeAsked); len(s.Roots) != 1 || !near(s.Roots[0].Value, 1.5/saved-2) {
		t.Errorf("value of a kilogram: %s", found(s))
	}
	if s := r.Solve(1, 0, 0, 10, study.RangeAsked); len(s.Roots) != 1 || !near(s.Roots[0].Value, 1.5/saved-3) {
		t.Errorf("price of the grade: %s", found(s))
	}
}

// TestSolveWholeVolumes: a jump over the annual volume is told by the whole volumes around it, though several counts jump one
// after the other between the two; B and A of the sample differ by -3.8853 EUR at 28,941 and by 9.2455 at 28,942, as each
// volume costed alone says (the piece costs of 212.3639, 208.4785, 212.3612 and 221.6067 EUR in the crossover's script).
func TestSolveWholeVolumes(t *testing.T) {
	plans := sampleVolumeTables(t).plans(t, costmodel.CompileOptions{})
	q := study.Measure{Model: plans[0].Model, Scenario: plans[1].Scenario, Against: plans[0].Scenario}
	a, err := q.SolveFor(t.Context(), 0, input(t, "Annual volume"), 20_000, 60_000)
	if err != nil {
		t.Fatal(err)
	}
	roots := a.Solutions[0].Roots
	if len(roots) != 1 || !roots[0].Jump || math.Floor(roots[0].Value) != 28_941 {
		t.Fatalf("%+v", roots)
	}
	at := func(n float64) float64 {
		return plans[1].Detail(n).Scenario().Must("piece_cost") - plans[0].Detail(n).Scenario().Must("piece_cost")
	}
	if !near(roots[0].Below, at(28_941)) || !near(roots[0].Above, at(28_942)) || math.Abs(roots[0].Below+3.8853) > 1e-4 {
		t.Errorf("%+v, costed alone %v and %v", roots[0], at(28_941), at(28_942))
	}
}

// TestSolveEach ranks the inputs by the change they need, leaves out what moves nothing, and puts those that can't do it last.
func TestSolveEach(t *testing.T) {
	plans := read(t, workshop)
	q := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario}
	inputs, ds := q.Levers()
	if len(ds) > 0 {
		t.Fatal(ds)
	}
	r, ds := q.Respond(inputs)
	if r == nil {
		t.Fatal(ds)
	}
	var got []string
	solutions, err := r.SolveEach(t.Context(), 0.25)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range solutions {
		got = append(got, fmt.Sprintf("%s: %s", s.Input.Input.Column, found(s)))
	}
	// 1,000 EUR more: the second line at 36 s, 800 h or 80,000 per year costs 11,000 and more
	want := []string{
		// they jump at what stands today: in the order of the sheets
		"Paid hours per shift: jump 8", "Load and process time: jump 36", "Pieces per cycle: jump 1",
		"Annual volume: 73333.3, jump 80000, ", "Economic life: 9.09091", "Price: 110000", "Direct labour rate: 11.25", "Crew: 1.125", "Programme life: 2.5",
		"Tool life: 200000..400000", "Tool price: 10000", "Interest rate: 1.68322",
	}
	for i, text := range want {
		if i >= len(got) || !strings.HasPrefix(got[i], text) {
			t.Fatalf("place %d: %q, want %s", i+1, got, text)
		}
	}
	for _, text := range got[len(want):] {
		if strings.Contains(text, "M2") || strings.Contains(text, "idle") || !strings.Contains(text, ": jump") && !strings.HasSuffix(text, ": ") {
			t.Errorf("after the jump: %s", text)
		}
	}
}

// TestSearchRange takes the plausible range where one is known, stretched to the base value.
func TestSearchRange(t *testing.T) {
	none := math.NaN()
	r := respond(t, read(t, workshop)[:1], 0, "Annual volume", "Machines/M1/Economic life", "Machines/M1/Price", "Machines/M1/Installation share",
		"Operations/P/10/Batch size", "Parts/P/Target cost", "Operations/P/10/Reworked share")
	for i, want := range []struct {
		from, to float64
		kind     study.RangeKind
	}{
		{4000, 1.6e6, study.RangeVolume},
		{1, 40, study.RangePlausible},
		{0, 1e6, study.RangeTimes},
		{0, 1, study.RangePlausible},
		{1, 1e7, study.RangePlausible},
		{none, none, study.RangeUnknown},
		{0, 1, study.RangeShare},
	} {
		from, to, kind := study.SearchRange(&r.Inputs[i])
		same := func(a, b float64) bool { return near(a, b) || math.IsNaN(a) && math.IsNaN(b) }
		if !same(from, want.from) || !same(to, want.to) || kind != want.kind {
			t.Errorf("%s: %v to %v (%s), want %v to %v (%s)", r.Inputs[i].Input, from, to, kind, want.from, want.to, want.kind)
		}
	}
}

// TestRespondDrops varies what can be varied and says what can't and why.
func TestRespondDrops(t *testing.T) {
	plans := read(t, workshop)
	q := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario}
	r, _ := q.Respond([]costmodel.Input{input(t, "Machines/M1, M2/Price"), input(t, "Machines/M1/Economic life"), input(t, "Machines/M1/Colour"),
		input(t, "Case/Interest rate")})
	if r == nil || len(r.Inputs) != 2 || len(r.Dropped) != 2 || !strings.Contains(r.Dropped[0], "hold different values") ||
		!strings.Contains(r.Dropped[1], "no quantity") {
		t.Fatalf("%+v", r)
	}
	if r, ds := q.Respond([]costmodel.Input{input(t, "Machines/M1/Colour")}); r != nil || !strings.Contains(fmt.Sprint(ds), "no quantity") {
		t.Errorf("%v", ds)
	}
}

// TestRespondApart keeps a computed quantity from hiding what moves it: the cycle time follows the load and process time.
func TestRespondApart(t *testing.T) {
	plans := read(t, workshop)
	q := study.Measure{Model: plans[0].Model, Scenario: plans[0].Scenario}
	inputs := []costmodel.Input{input(t, "Operations/P/10/Cycle time"), input(t, "Operations/P/10/Load and process time"),
		input(t, "Machines/M1/Price"), input(t, "Machines/M1/Colour")}
	list, ds := q.RespondApart(t.Context(), inputs)
	if len(list) != 2 || len(list[0].Inputs) != 2 || list[1].Inputs[0].Input.Column != "Cycle time" || len(list[0].Dropped) != 1 ||
		!strings.Contains(fmt.Sprint(ds), "Colour") {
		t.Fatalf("%+v %v", list, ds)
	}
	for i, want := range []float64{0.2, 0.2} { // 18 s either way: 400 h, 11,000 and 4,000 EUR
		if got := list[i].At(0, []float64{18})[0]; !near(got, want-0.0125) {
			t.Errorf("%s of 18 s: %v", list[i].Inputs[0].Input, got)
		}
	}
	if together := respond(t, plans[:1], 0, "Operations/P/10/Load and process time", "Operations/P/10/Cycle time").At(0, []float64{18})[0]; together != 0.2375 {
		t.Errorf("with the cycle time held: %v", together)
	}
	for _, v := range list[0].Inputs {
		if v.Computed {
			t.Errorf("%s is computed", v.Input)
		}
	}
}

// TestMeasureVolume holds both scenarios at the volume asked for: at 40,000 per year X costs 15,000 EUR and Y 11,000.
func TestMeasureVolume(t *testing.T) {
	plans := read(t, workshop)
	if got := respond(t, plans, 40000, "Machines/M1/Price").BaseValue(); !near(got, 4000.0/40000) {
		t.Errorf("X less Y: %v", got)
	}
	r := respond(t, plans[:1], 40000, "Machines/M1/Price", "Annual volume")
	if got := r.At(0, []float64{50000, 100000}); !near(got[0], 10000.0/40000) || !near(got[1], 15000.0/40000) {
		t.Errorf("by price: %v", got)
	}
	if r.Inputs[1].BaseValue != 40000 {
		t.Errorf("the base volume is %v", r.Inputs[1].BaseValue)
	}
}
