package costmodel

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// names lists the inputs of a scenario.
func names(list []Varied) []Input {
	var out []Input
	for _, v := range list {
		out = append(out, v.Input)
	}
	return out
}

// near fails where two numbers differ by more than a share of the larger.
func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*max(math.Abs(got), math.Abs(want))) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// TestVariedAsItStands holds that a plan whose every input is a column, fed the base values, costs what the ordinary plan
// costs, in every cell and at other volumes.
func TestVariedAsItStands(t *testing.T) {
	eachScenario(t, func(t *testing.T, folded, _ *Plan) {
		inputs := names(folded.Inputs())
		if len(inputs) < 400 {
			t.Fatalf("only %d inputs", len(inputs))
		}
		p := mustCompile(t, folded.Model, folded.Scenario, CompileOptions{Vary: inputs})
		quantities := append([]string{"net_mass", "price", "tooling_investment"}, p.Model.Schema.sweepQuantities()...)
		l, err := p.Lanes(quantities...)
		if err != nil {
			t.Fatal(err)
		}
		volumes := []float64{folded.Scenario.Volume, 1, 41234, 987654}
		copy(l.Volumes(), volumes)
		for q, col := range l.Block(len(volumes)) {
			for i, v := range volumes {
				near(t, fmt.Sprintf("%s at %v", quantities[q], v), col[i], folded.Detail(v).Scenario().Must(quantities[q]), 1e-12)
			}
		}
		got, want := p.Detail(folded.Scenario.Volume), folded.Detail(folded.Scenario.Volume)
		for c := plan.Cell(0); c < p.graph.cells; c++ {
			if e, n := plan.Locate(p.graph, c); p.plan.Has(c) && folded.plan.Has(c) {
				q := p.graph.rows[e].scope.Quantities[n].Name
				if q != "mass_imbalance" && q != "variable_cost" { // small differences of large numbers
					near(t, q+" of "+p.RowLabel(e), got.values[c], want.values[c], 1e-12)
				}
			}
		}
	})
}

// setNumber writes a number into a cell of a case, in the unit of its column.
func setNumber(t *testing.T, c *table.Case, at table.Place, v float64) {
	t.Helper()
	for _, sheet := range c.Tables {
		for r := range sheet.Rows {
			for i := range sheet.Rows[r].Cells {
				if cell := &sheet.Rows[r].Cells[i]; sheet.Sheet == at.Sheet && cell.Place == at {
					*cell = table.Value{Kind: table.Number, Number: v, Place: at}
					return
				}
			}
		}
	}
	t.Fatalf("no cell %v", at)
}

// costAt is what one scenario costs where one input has a value.
func costAt(t *testing.T, m *Model, s *Scenario, in Input, coherent float64) float64 {
	t.Helper()
	l, err := mustCompile(t, m, s, CompileOptions{Vary: []Input{in}}).Lanes("piece_cost")
	if err != nil {
		t.Fatal(err)
	}
	l.Input(0)[0] = coherent
	return l.Block(1)[0][0]
}

// TestVariedAsTyped holds that a varied value costs what the same number typed into the cell costs.
func TestVariedAsTyped(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 1))
	tables := sampleTables(t)
	m := tables.model(t)
	for i, s := range m.Scenarios {
		inputs := mustCompile(t, m, s, CompileOptions{}).Inputs()
		for range 25 {
			v := inputs[random.IntN(len(inputs))]
			if v.From != FromCell || v.BaseValue == 0 {
				continue
			}
			shown := v.Shown(v.BaseValue) * (0.93 + 0.1*random.Float64())
			c := tables.read(t)
			setNumber(t, c, v.Place, shown)
			typed := New(c, m.library)
			d := mustCompile(t, typed, typed.Scenarios[i], CompileOptions{}).Detail(typed.Scenarios[i].Volume)
			near(t, fmt.Sprintf("%s of %v in %s", v.Input, shown, s.Name), costAt(t, m, s, v.Input, v.Coherent(shown)), d.Scenario().Must("piece_cost"), 1e-12)
		}
	}
}

// addCell gives a computed quantity of a row a cell: under a new heading, or of Plants in a new row.
func (c csvCase) addCell(t *testing.T, sheet, key, heading, text string) {
	t.Helper()
	lines := strings.Split(strings.TrimRight(c[sheet], "\n"), "\n")
	if sheet == "Plants" {
		name, unit, _ := strings.Cut(strings.TrimSuffix(heading, "]"), " [")
		c[sheet] = strings.Join(append(lines, name+","+unit+","+text+",,,"), "\n") + "\n"
		return
	}
	found := false
	for i := range lines {
		cell := ""
		if i == 0 {
			cell = heading
		} else if strings.HasPrefix(lines[i], key+",") {
			cell, found = text, true
		}
		lines[i] += "," + cell
	}
	if !found {
		t.Fatalf("%s has no row %s", sheet, key)
	}
	c[sheet] = strings.Join(lines, "\n") + "\n"
}

// TestVariedInsteadOfEquation varies quantities that the library computes; a cell of that name overrides them alike.
func TestVariedInsteadOfEquation(t *testing.T) {
	tables := sampleTables(t)
	m := tables.model(t)
	for _, c := range []struct{ sheet, key, row, heading, value string }{
		{"Parts", "B01", "B01", "Material per piece [EUR]", "9.5"},
		{"Parts", "B01", "B01", "Gross mass [kg]", "11"},
		{"Operations", "B01,20", "B01/20", "Cycle time [s]", "41.5"},
		{"Operations", "FRAME_B,10", "FRAME_B/10", "Produced quantity [1/yr]", "61000"},
		{"Operations", "B05,20", "B05/20", "Required hours [h/yr]", "1500"},
		{"Machines", "E05", "E05", "Annual capital [EUR/yr]", "700000"},
		{"Machines", "E12", "E12", "Work-centre hourly rate [EUR/h]", "100"}, // nothing is computed from it
		{"Plants", "Planned hours", "Van plant", "Planned hours [h/yr]", "3300"},
	} {
		in := Input{Sheet: c.sheet, Row: c.row, Column: c.heading}
		s := m.Scenarios[1]
		v := mustCompile(t, m, s, CompileOptions{Vary: []Input{in}}).varied[0]
		number, _ := strconv.ParseFloat(c.value, 64)
		typed := sampleTables(t)
		typed.addCell(t, c.sheet, c.key, c.heading, c.value)
		tm := typed.model(t)
		want := mustCompile(t, tm, tm.Scenarios[1], CompileOptions{}).Detail(s.Volume).Scenario().Must("piece_cost")
		got := costAt(t, m, s, in, v.Coherent(number))
		near(t, in.String(), got, want, 1e-12)
		baseValue := mustCompile(t, m, s, CompileOptions{}).Detail(s.Volume).Scenario().Must("piece_cost")
		if moved := math.Abs(got-baseValue) > 1e-6; moved != (c.row != "E12") {
			t.Errorf("%s: %v, as it stands %v", in, got, baseValue)
		}
		if v.From != FromEquation || !(v.BaseValue > 0) {
			t.Errorf("%s: from %v, today %v", in, v.From, v.BaseValue)
		}
	}
}

// TestVariedInsteadOfChange holds that a varied value takes the place of a scenario's own change of the cell.
func TestVariedInsteadOfChange(t *testing.T) {
	m := changedSample(t).model(t)
	in := Input{Sheet: "Parts", Row: "A01", Column: "Gauge"}
	v := mustCompile(t, m, m.Scenarios[0], CompileOptions{Vary: []Input{in}}).varied[0]
	near(t, "today's gauge", v.Shown(v.BaseValue), 0.75*1.07, 1e-12)
	if v.From != FromChange || len(v.ChangedBy) != 1 || v.ChangedBy[0] != "A baseline" || v.Place.Sheet != "Scenarios" {
		t.Errorf("%+v", v)
	}
	typed := changedSample(t)
	typed.replace(t, "Scenarios", `"A01, A04",Gauge,base * 1.07`, "A04,Gauge,base * 1.07,,,\nParts,A01,Gauge,0.9")
	tm := typed.model(t)
	want := mustCompile(t, tm, tm.Scenarios[0], CompileOptions{}).Detail(60000).Scenario().Must("piece_cost")
	near(t, "gauge of 0.9 mm", costAt(t, m, m.Scenarios[0], in, 0.0009), want, 1e-12)
}

// TestVariedVolume holds that the annual volume is an input like any other.
func TestVariedVolume(t *testing.T) {
	m := sampleTables(t).model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{})
	q := mustCompile(t, m, m.Scenarios[0], CompileOptions{Vary: []Input{{Sheet: "Scenarios", Column: "Annual volume [1/yr]"}}})
	if v := q.varied[0]; !v.IsVolume() || v.BaseValue != 60000 {
		t.Errorf("%+v", v)
	}
	near(t, "at 12,345", costAt(t, m, m.Scenarios[0], Input{Sheet: "scenarios", Column: "annual_volume"}, 12345),
		p.Detail(12345).Scenario().Must("piece_cost"), 0)
}

// TestVariedTodayByVolume gives the base value of an input whose cell asks for the volume.
func TestBaseValuesByVolume(t *testing.T) {
	m := changedSample(t).model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{Vary: []Input{{Sheet: "Operations", Row: "A01/20", Column: "load_and_process_time"}}})
	if now, less := p.varied[0].BaseValue, p.VariedAt(40000)[0].BaseValue; now != 6.5 || less != 9 {
		t.Errorf("%v s at 60,000 and %v s at 40,000, want 6.5 and 9", now, less)
	}
}

// TestLanesThatCannotBe blanks lanes that fail a check marked as an error, and those alone.
func TestLanesThatCannotBe(t *testing.T) {
	m := sampleTables(t).model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{Vary: []Input{{Sheet: "Operations", Row: "A01/20", Column: "Reject rate"}}})
	l, err := p.Lanes("piece_cost", "net_mass")
	if err != nil {
		t.Fatal(err)
	}
	copy(l.Input(0), []float64{0, 0.5, 1, 1.5, -0.1, 0.012})
	cols := l.Block(6)
	for i, ok := range []bool{true, true, false, false, false, true} {
		if isNumber := cols[0][i] == cols[0][i]; isNumber != ok {
			t.Errorf("lane %d with a reject rate of %v costs %v", i, l.Input(0)[i], cols[0][i])
		}
		if cols[1][i] != cols[1][i] {
			t.Errorf("lane %d: no mass", i)
		}
	}
	near(t, "base value", cols[0][5], mustCompile(t, m, m.Scenarios[0], CompileOptions{}).Detail(60000).Scenario().Must("piece_cost"), 1e-12)
	if n := testing.AllocsPerRun(5, func() { l.Block(l.Size()) }); n != 0 {
		t.Errorf("%v allocations a block", n)
	}
}

// TestNarrowLanes holds a narrow evaluator against the wide one it comes of: untouched and filled, with the other inputs and
// the volume as the wide one's first lane has them.
func TestNarrowLanes(t *testing.T) {
	m := sampleTables(t).model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{Vary: []Input{{Sheet: "Operations", Row: "A01/20", Column: "Reject rate"},
		{Sheet: "Case", Column: "Interest rate"}}})
	l, err := p.Lanes("piece_cost", "net_mass")
	if err != nil {
		t.Fatal(err)
	}
	l.Volumes()[0], l.Input(0)[0], l.Input(1)[0] = 41_000, 0.07, 0.11
	n := l.Narrow(0)
	values := []float64{0, 0.07, 0.5, 1, 0.012}
	fill(l.Volumes(), 41_000)
	fill(l.Input(1), 0.11)
	copy(l.Input(0), values)
	wide := l.Block(len(values))
	near(t, "as it is made", n.Block(n.Size())[0][n.Size()-1], wide[0][1], 1e-12)
	copy(n.Column(), values)
	for q, col := range n.Block(len(values)) {
		for i := range values {
			if q == 0 && values[i] == 1 {
				if col[i] == col[i] || wide[q][i] == wide[q][i] {
					t.Errorf("a reject rate of 100 %% costs %v, wide %v", col[i], wide[q][i])
				}
				continue
			}
			near(t, fmt.Sprintf("quantity %d at %v", q, values[i]), col[i], wide[q][i], 1e-12)
		}
	}
	if a := testing.AllocsPerRun(5, func() { n.Block(n.Size()) }); a != 0 {
		t.Errorf("%v allocations a block", a)
	}
}

// TestLanesWithCheckThatIsNoNumber: a check that is no number fails, be it a column or the same in all lanes.
func TestLanesWithCheckThatIsNoNumber(t *testing.T) {
	m := sampleTables(t).model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{})
	cost := p.scenarioCells([]string{"piece_cost"})[0]
	for value, fails := range map[float64]bool{0: true, 1: false, math.NaN(): true} {
		prog := p.plan.Program([]plan.Cell{cost, cost})
		prog.Outputs[1] = plan.Output{Column: -1, Const: value}
		constant := newLaneBlock(prog, 1, 1)
		column := newLaneBlock(p.plan.Program([]plan.Cell{cost, cost}), 1, 1)
		column.checks = [][]float64{{value}}
		for what, b := range map[string]*laneBlock{"constant": &constant, "column": &column} {
			b.scratch.Column(0)[0] = 60_000
			if got := b.Block(1)[0][0]; (got != got) != fails {
				t.Errorf("a %s of %v: the lane costs %v", what, value, got)
			}
		}
	}
}

// TestParseInput reads what a person writes for an input.
func TestParseInput(t *testing.T) {
	for text, want := range map[string]Input{
		"Materials/M04/Base price":             {Sheet: "Materials", Row: "M04", Column: "Base price"},
		" Materials / M04 / Base price ":       {Sheet: "Materials", Row: "M04", Column: "Base price"},
		"Materials/M04/Base price [EUR/kg]":    {Sheet: "Materials", Row: "M04", Column: "Base price [EUR/kg]"},
		"Operations/A01/20/Reject rate":        {Sheet: "Operations", Row: "A01/20", Column: "Reject rate"},
		"Bill of materials/TRAY/P02/Quantity":  {Sheet: "Bill of materials", Row: "TRAY/P02", Column: "Quantity"},
		"Case/Interest rate [%/yr]":            {Sheet: "Case", Row: "", Column: "Interest rate [%/yr]"},
		"annual volume":                        {Sheet: "Scenarios", Row: "", Column: "annual volume"},
		"Annual volume [1/yr]":                 {Sheet: "Scenarios", Row: "", Column: "Annual volume [1/yr]"},
		"Plants/Van plant/Direct labour rate":  {Sheet: "Plants", Row: "Van plant", Column: "Direct labour rate"},
		"Machines/* except E01, E02/Footprint": {Sheet: "Machines", Row: "* except E01, E02", Column: "Footprint"},
	} {
		if got, err := ParseInput(text); err != nil || got != want {
			t.Errorf("%q: %+v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "Gauge", "/A01/Gauge", "Parts/A01/", "Parts/"} {
		if got, err := ParseInput(text); err == nil {
			t.Errorf("%q: read as %+v", text, got)
		}
	}
}

// TestInputsNotFound says what is wrong with an input, and what was probably meant.
func TestInputsNotFound(t *testing.T) {
	m := changedSample(t).model(t)
	for text, want := range map[string]string{
		"Material/M04/Base price":               `tables: there is no input sheet "Material"; did you mean Materials?`,
		"Volumes/1/From":                        `there is no input sheet "Volumes"`,
		"Materials/M4/Base price":               `"M4" matches no row of the sheet Materials; did you mean M0`,
		"Materials/M04/Base prize":              `"Base prize" is no quantity of the sheet Materials; did you mean Base price?`,
		"Materials/M04/Colour of the coil":      "`piececost processes material` lists",
		"Materials/Base price":                  "names no row",
		"Case/A01/Interest rate":                "has no rows to choose from",
		"Machines/E01/Equipment allocation":     "Equipment allocation is a choice and can't be varied as a number",
		"Parts/A01/Product":                     "follows from the structure",
		"Parts/A01/Gauge [kg]":                  "the unit is mass [kg], but Gauge is length [m]",
		"Parts/A01/Gauge [furlong]":             "furlong",
		"Parts/A01, A04/Gauge":                  "the rows of Parts/A01, A04/Gauge hold different values (scenario A baseline); name one row",
		"Operations/A01/20/Check 1 of anything": "is no quantity of the sheet Operations",
	} {
		in, err := ParseInput(text)
		if err != nil {
			t.Fatal(err)
		}
		p, ds := m.Compile(m.Scenarios[0], CompileOptions{Vary: []Input{in}})
		if p != nil || !strings.Contains(fmt.Sprint(ds), want) {
			t.Errorf("%s: %v, want %s", text, ds, want)
		}
	}
	twice := []Input{{Sheet: "Case", Column: "Interest rate"}, {Sheet: "case", Column: "interest rate [%/yr]"}}
	if p, ds := m.Compile(m.Scenarios[0], CompileOptions{Vary: twice}); p != nil || !strings.Contains(fmt.Sprint(ds), "Case/Interest rate is varied twice") {
		t.Errorf("%v", ds)
	}
}

// TestInputsOfSeveralRows varies rows alike that hold the same value today; a row that the scenario lacks moves nothing.
func TestInputsOfSeveralRows(t *testing.T) {
	m := sampleTables(t).model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{Vary: []Input{{Sheet: "Plants", Row: "Direct labour rate", Column: "Van plant"},
		{Sheet: "Machines", Row: "E11, E12", Column: "Installation share"}, {Sheet: "Parts", Row: "B01", Column: "Gauge"}}})
	v := p.varied
	if v[0].Input != (Input{Sheet: "Plants", Row: "Van plant", Column: "Direct labour rate"}) || len(v[1].cells) != 2 || v[2].Present ||
		!math.IsNaN(v[2].BaseValue) {
		t.Errorf("%+v", v)
	}
	one := costAt(t, m, m.Scenarios[0], Input{Sheet: "Machines", Row: "E11", Column: "Installation share"}, 0.3)
	both := costAt(t, m, m.Scenarios[0], Input{Sheet: "Machines", Row: "E11, E12", Column: "Installation share"}, 0.3)
	if one != both { // E12 is not in A
		t.Errorf("%v with one row, %v with both", one, both)
	}
	baseValue := mustCompile(t, m, m.Scenarios[1], CompileOptions{}).Detail(60000).Scenario().Must("piece_cost")
	more := func(row string) float64 {
		return costAt(t, m, m.Scenarios[1], Input{Sheet: "Machines", Row: row, Column: "Installation share"}, 0.3) - baseValue
	}
	if a, b := more("E12"), more("E13"); !(a > 0.01 && b > 0.01) || math.Abs(more("E12, E13")-a-b) > 1e-9 {
		t.Errorf("E12 %v, E13 %v, both %v", a, b, more("E12, E13"))
	}
}

// TestMachineInTwoPlants varies a machine in every plant that uses it.
func TestMachineInTwoPlants(t *testing.T) {
	tables := func() csvCase {
		c := sampleTables(t)
		c.replace(t, "Operations", "tandem press forming,E02,,,6.5,1", "tandem press forming,E02,North,,6.5,1")
		rows, err := csv.NewReader(strings.NewReader(c["Plants"])).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		var b strings.Builder
		w := csv.NewWriter(&b)
		for i, row := range rows {
			value := row[2]
			if i == 0 {
				value = "North"
			}
			if err := w.Write(append(row, value)); err != nil {
				t.Fatal(err)
			}
		}
		w.Flush()
		c["Plants"] = b.String()
		return c
	}
	m := tables().model(t)
	in := Input{Sheet: "Machines", Row: "E02", Column: "Price"}
	if v := mustCompile(t, m, m.Scenarios[0], CompileOptions{Vary: []Input{in}}).varied[0]; len(v.cells) != 2 {
		t.Errorf("%d rows of E02", len(v.cells))
	}
	c := tables()
	c.replace(t, "Machines", "tandem press line large,2 forming,14000000", "tandem press line large,2 forming,15000000")
	dearer := c.model(t)
	want := mustCompile(t, dearer, dearer.Scenarios[0], CompileOptions{}).Detail(60000).Scenario().Must("piece_cost")
	near(t, "with E02 more expensive", costAt(t, m, m.Scenarios[0], in, 15e6), want, 1e-12)
}
