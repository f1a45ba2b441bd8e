package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
)

// addQuestions makes the studies that the sheet Studies may ask for: side by side, a map, a table, break-even values.
func addQuestions(t testing.TB, r *Result, q study.Measure) {
	t.Helper()
	c := study.Compare(r.Details, 0)
	rules, reversals, err := study.ChargingRules(t.Context(), r.Details)
	if err != nil {
		t.Fatal(err)
	}
	r.Compare = &CompareStudy{Comparison: c, Rules: rules, Reversals: reversals}
	volume, price := costmodel.Input{Sheet: "Scenarios", Column: "Annual volume"}, costmodel.Input{Sheet: "Case", Column: "Interest rate"}
	axis := study.AskedAxes(costmodel.NewQuestion(), q.Model, [2]int{6, 5})
	var list []*costmodel.Scenario
	for _, d := range r.Details {
		list = append(list, d.Plan.Scenario)
	}
	m, err := study.MapOver(t.Context(), q.Model, list, volume, price, 0, axis)
	if err != nil {
		t.Fatal(err)
	}
	r.Maps = []*MapStudy{{Map: m}}
	table, _, err := q.TableOver(t.Context(), volume, price, axis)
	if err != nil {
		t.Fatal(err)
	}
	r.Tables = []*TableStudy{{TwoWay: table, Measure: q}}
	target := 0.0
	if q.Against == nil {
		target = 0.9 * r.Details[0].Scenario().Must("piece_cost")
	}
	a, err := q.SolveEachLever(t.Context(), target)
	if err != nil {
		t.Fatal(err)
	}
	r.Solves = []*study.SolveAnswer{a}
}

// TestSideBySideSheet holds the live rows against the study's comparison: every cost by element, part and step, and the
// changes to the base.
func TestSideBySideSheet(t *testing.T) {
	r, f := studied(t)
	rows := rawRows(t, f, compareSheet)
	c := r.Compare
	for heading, of := range map[string]struct {
		table *study.CostTable
		label func(study.Row) string
	}{
		"EUR per good piece||A baseline":                     {c.Table("element"), func(r study.Row) string { return r.Name }},
		"EUR per good piece|by part, this level|":            {c.Table("part"), func(r study.Row) string { return r.Key }},
		"EUR per good piece|by operation|":                   {c.Table("operation"), func(r study.Row) string { return r.Key }},
		"Price, mass, investment, counts||A baseline|B vari": {&study.CostTable{Rows: c.Measures[:1]}, func(r study.Row) string { return r.Name }},
	} {
		below := rowsBelow(t, rows, heading)
		at := map[string][]string{}
		for _, row := range below {
			at[row[0]] = row
		}
		for _, want := range of.table.Rows {
			row := at[of.label(want)]
			if row == nil {
				t.Errorf("%s: no row %s", heading, of.label(want))
				continue
			}
			for i := range want.Values {
				if want.Absent(i) {
					if row[2+i] != "" {
						t.Errorf("%s %s: %q where there is none", heading, row[0], row[2+i])
					}
				} else if got := number(t, row[2+i]); !near(got, want.Values[i]) {
					t.Errorf("%s %s: %v, want %v", heading, row[0], got, want.Values[i])
				}
			}
			for n, i := range []int{1, 2} {
				if want.Absent(i) && want.Absent(0) {
					if len(row) > 5+n && row[5+n] != "" {
						t.Errorf("%s %s: change %q where neither has it", heading, row[0], row[5+n])
					}
					continue
				}
				change := want.Change(i, 0)
				if math.Abs(change) < 0.005 {
					change = 0 // at the two decimals of all these tables
				}
				if got := number(t, row[5+n]); math.Abs(got-change) > 1e-9*math.Max(1, math.Abs(got)) {
					t.Errorf("%s %s: change %v, want %v", heading, row[0], got, change)
				}
			}
		}
	}
	// the equipment allocation reverses A and B, and says so
	found := false
	for _, row := range rows {
		found = found || len(row) > 0 && strings.HasPrefix(row[0], "The ranking reverses under another equipment allocation: A baseline is cheaper as given")
	}
	if !found {
		t.Error("the reversal is not said")
	}
}

// TestMassSavedSheet holds the formulas of mass saved and parity against the study, and as a spreadsheet computes them.
func TestMassSavedSheet(t *testing.T) {
	r, f := studied(t)
	rows := rawRows(t, f, compareSheet)
	start := 0
	for i, row := range rows {
		if len(row) > 1 && row[0] == "Cost of mass saved" && row[1] == "against A baseline" {
			start = i
		}
	}
	for i, verdict := range map[int][2]string{1: {"lighter and more expensive", "missed"}, 2: {"lighter and cheaper", "holds"}} {
		m, p := r.Compare.Mass[i], r.Compare.Mass[i].Parity
		per := any(m.CostChange / m.MassSaved)
		if i == 2 {
			per = "–"
		}
		for n, want := range []any{m.CostChange, m.MassSaved, verdict[0], per, nil, p.Margin, verdict[1]} {
			if want == nil {
				continue
			}
			row := start + 1 + n
			at := fmt.Sprintf("%s%d", table.ColumnName(3+i), row+1)
			formula, err := f.GetCellFormula(compareSheet, at)
			if err != nil || formula == "" {
				t.Fatalf("%s has no formula: %v", at, err)
			}
			live, err := f.CalcCellValue(compareSheet, at, excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatalf("%s =%s: %v", at, formula, err)
			}
			for _, got := range []string{rows[row][2+i], live} {
				if v, ok := want.(float64); ok && !near(number(t, got), v) || !ok && got != want {
					t.Errorf("%s %s: %s, want %v", rows[row][0], at, got, want)
				}
			}
		}
	}
}

// TestChangesTooSmallToShow: a change that is nothing at the decimals shown is 0, which shows as a dash; a row that neither has
// has no change.
func TestChangesTooSmallToShow(t *testing.T) {
	r, f := studied(t)
	empty := 0
	for _, row := range rowsBelow(t, rawRows(t, f, compareSheet), "Capacity|shared machines") {
		for i := range r.Details[1:] {
			cell := ""
			if len(row) > 5+i {
				cell = row[5+i]
			}
			neither := row[2] == "" && (len(row) <= 3+i || row[3+i] == "")
			if neither {
				empty++
			}
			if neither != (cell == "") {
				t.Errorf("%q: change %q", row, cell)
			}
		}
	}
	if empty == 0 {
		t.Error("no machine that two scenarios lack")
	}
	at := 0
	for i, row := range rawRows(t, f, compareSheet) {
		if at == 0 && len(row) > 0 && row[0] == "Purchased parts" {
			at = i + 1
		}
	}
	raw, err := f.GetCellValue(compareSheet, fmt.Sprintf("F%d", at), excelize.Options{RawCellValue: true})
	if change := r.Compare.Table("element").Rows[2].Change(1, 0); err != nil || raw != "0" || change == 0 {
		t.Errorf("purchased parts change by %q, %v; by %v before", raw, err, change)
	}
}

// TestMapSheet: the letters are those of the cheapest scenario costed at the pair of values, the grounds are the
// scenarios' own, and the margins are the distance to the second.
func TestMapSheet(t *testing.T) {
	r, f := studied(t)
	m := r.Maps[0]
	rows := rawRows(t, f, mapSheet)
	grid := gridRows(t, rows, "Cheapest scenario by annual volume", len(m.Ys))
	margins := gridRows(t, rows, "Cost difference of the second best", len(m.Ys))
	for j := range m.Ys {
		line, more := grid[len(m.Ys)-1-j], margins[len(m.Ys)-1-j]
		if y := number(t, line[0]); !near(y, m.Y.Shown(m.Ys[j])) {
			t.Errorf("row %d is at %v", j, y)
		}
		for i, x := range m.Xs {
			costs := make([]float64, len(r.Details))
			for s := range r.Details {
				costs[s] = m.Costs[s][j][i]
			}
			best := 0
			for s, c := range costs {
				if c < costs[best] {
					best = s
				}
			}
			if got := strings.ToUpper(line[1+i]); got != []string{"A", "B", "C"}[best] {
				t.Errorf("at %v, %v: %s, costs %v", x, m.Ys[j], line[1+i], costs)
			}
			slices.Sort(costs)
			if got := number(t, more[1+i]); !near(got, costs[1]-costs[0]) {
				t.Errorf("margin at %v, %v: %v, want %v", x, m.Ys[j], got, costs[1]-costs[0])
			}
			if small := line[1+i] == strings.ToLower(line[1+i]); small != (costs[1]-costs[0] < 0.01*costs[0]) {
				t.Errorf("at %v, %v: %s with a margin of %v", x, m.Ys[j], line[1+i], costs[1]-costs[0])
			}
		}
	}
}

// gridRows are the rows of a grid below its band.
func gridRows(t *testing.T, rows [][]string, band string, n int) [][]string {
	t.Helper()
	for i, r := range rows {
		if len(r) > 0 && strings.HasPrefix(r[0], band) {
			return rows[i+2 : i+2+n]
		}
	}
	t.Fatalf("no band %s", band)
	return nil
}

// TestMustBeTrueSheet: what is needed, given to the input, makes the scenario cost what the other one does.
func TestMustBeTrueSheet(t *testing.T) {
	r, f := studied(t)
	rows := rowsBelow(t, rawRows(t, f, solveSheet), "Input|Unit of its cell|Base value|Required value")
	if len(rows) < listedLevers {
		t.Fatalf("%d rows", len(rows))
	}
	q := r.Solves[0].Measure
	for _, row := range rows[:listedLevers] {
		in, err := costmodel.ParseInput(row[0])
		if err != nil {
			t.Fatal(err)
		}
		if in.Column == "Annual volume" { // between two whole volumes; the search's own tests hold it
			continue
		}
		p, ds := q.Respond([]costmodel.Input{in})
		if p == nil {
			t.Fatal(ds)
		}
		v := &p.Inputs[0]
		if baseValue := number(t, row[2]); !near(baseValue, v.Shown(v.BaseValue)) {
			t.Errorf("%s stands at %v, said to be %v", row[0], v.Shown(v.BaseValue), baseValue)
		}
		needed := number(t, row[3])
		if miss := p.At(0, []float64{v.Coherent(needed)})[0]; !(math.Abs(miss) < 1e-6) {
			t.Errorf("%s at %v leaves %v", row[0], needed, miss)
		}
		if change := number(t, row[4]); !near(change, needed/v.Shown(v.BaseValue)-1) {
			t.Errorf("%s: a change of %v", row[0], change)
		}
		if strings.Contains(row[0], "Density") || strings.Contains(row[0], "Bill of materials") {
			t.Errorf("%s is no lever", row[0])
		}
	}
}

// TestTwoWaySheet holds the cells of a table against the measure costed anew with both inputs.
func TestTwoWaySheet(t *testing.T) {
	r, f := studied(t)
	x := r.Tables[0]
	grid := gridRows(t, rawRows(t, f, sensitivitySheet), "Piece cost of C variant 2 less that of A baseline, EUR per good piece", len(x.Ys))
	for j := range x.Ys {
		for i := range x.Xs {
			got := number(t, grid[len(x.Ys)-1-j][1+i])
			p, ds := study.Measure{Model: x.Measure.Model, Scenario: x.Measure.Scenario, Against: x.Measure.Against,
				Volume: x.Xs[i]}.Respond([]costmodel.Input{x.Y.Input})
			if p == nil {
				t.Fatal(ds)
			}
			if want := p.At(0, []float64{x.Ys[j]})[0]; math.Abs(got-want) > 1e-9*p.Magnitude() {
				t.Errorf("at %v, %v: %v, want %v", x.Xs[i], x.Ys[j], got, want)
			}
		}
	}
}
