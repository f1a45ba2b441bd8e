package study_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TestBestRouteByHand maps the workshop over the price of M1 and the volume. At 40,000 per year X is 500 h: P/10 + 5,000 + 1,000
// and Y 400 h of wages on one line: 6,000 + 4,000 + 1,000; at 80,000 X is P/10 + 9,000 and Y 22,000.
func TestBestRouteByHand(t *testing.T) {
	plans := read(t, workshop)
	var list []*costmodel.Scenario
	for _, p := range plans {
		list = append(list, p.Scenario)
	}
	m, ds := study.BestRoute(t.Context(), plans[0].Model, list, input(t, "Machines/M1/Price"), input(t, "Annual volume"),
		[]float64{40000, 100000, 140000}, []float64{40000, 80000}, 0)
	if m == nil {
		t.Fatal(ds)
	}
	// X at 40,000: 400 h, 4,000 EUR of wages; Y: 500 h, 4,000 EUR
	x := [][]float64{{9000, 15000, 19000}, {13000, 19000, 23000}}
	y := [][]float64{{11000, 11000, 11000}, {22000, 22000, 22000}}
	want := [][]int{{0, 1, 1}, {0, 0, 1}}
	for j, volume := range []float64{40000, 80000} {
		for i := range m.Xs {
			if !near(m.Costs[0][j][i], x[j][i]/volume) || !near(m.Costs[1][j][i], y[j][i]/volume) {
				t.Errorf("%v at %v: %v and %v", m.Xs[i], volume, m.Costs[0][j][i]*volume, m.Costs[1][j][i]*volume)
			}
			gap := x[j][i] - y[j][i]
			if m.Cheapest[j][i] != want[j][i] || !near(m.Margin[j][i], max(gap, -gap)/volume) {
				t.Errorf("%v at %v: %d by %v", m.Xs[i], volume, m.Cheapest[j][i], m.Margin[j][i])
			}
		}
	}
}

// TestMapOver makes each axis as the first scenario has the input: the first scenario lacks both rows, the second has one,
// the third the other.
func TestMapOver(t *testing.T) {
	plans := read(t, lines, [3]string{"parts.csv", "B,assembly\n", "B,assembly\nC,assembly\nD,assembly\n"},
		[3]string{"operations.csv", "6.00,12000,100000000\n",
			"6.00,12000,100000000\nC,10,timed operation,M1,1,0,1,3,0,100000000\nD,10,timed operation,M1,1,0,1,2,0,100000000\n"},
		[3]string{"scenarios.csv", lines["scenarios.csv"], "Sheet,Row,Column,A,C,D\n,,Product,A,C,D\n,,Annual volume [1/yr],7500,7500,7500\n"})
	var list []*costmodel.Scenario
	for _, p := range plans {
		list = append(list, p.Scenario)
	}
	var asked []string
	axis := func(which int, v *costmodel.Varied) ([]float64, error) {
		asked = append(asked, fmt.Sprint(which, " ", v.Input, " ", v.BaseValue))
		return []float64{v.BaseValue, 2 * v.BaseValue}, nil
	}
	m, err := study.MapOver(t.Context(), plans[0].Model, list, input(t, "Operations/C/10/Consumables per piece"),
		input(t, "Operations/D/10/Consumables per piece"), 0, axis)
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(m.Xs, m.Ys, m.X.Input, m.Y.Input, m.Cheapest); got != "[3 6] [2 4] Operations/C/10/Consumables per piece "+
		"Operations/D/10/Consumables per piece [[2 2] [1 2]]" {
		t.Error(got)
	}
	if got := fmt.Sprint(asked); got != "[0 Operations/C/10/Consumables per piece 3 1 Operations/D/10/Consumables per piece 2]" {
		t.Error(got)
	}
	for text, want := range map[string]string{"Operations/D/10/Consumables per piece": "no scenario in question has the row of " +
		"Operations/D/10/Consumables per piece", "Operations/E/10/Consumables per piece": "matches no row"} {
		if _, err := study.MapOver(t.Context(), plans[0].Model, list[:2], input(t, "Operations/C/10/Consumables per piece"), input(t, text), 0,
			axis); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	if _, err := study.MapOver(t.Context(), plans[0].Model, list, input(t, "Operations/C/10/Consumables per piece"),
		input(t, "Operations/C/10/Consumables per piece"), 0, axis); err == nil || !strings.Contains(err.Error(), "varied twice") {
		t.Errorf("the same twice: %v", err)
	}
	// where the first scenario with the row has no axis, the next one is asked
	refused := false
	refuse := func(which int, v *costmodel.Varied) ([]float64, error) {
		if !refused {
			refused = true
			return nil, errors.New("not this one")
		}
		return axis(which, v)
	}
	if m, err = study.MapOver(t.Context(), plans[0].Model, list, input(t, "Annual volume"), input(t, "Operations/D/10/Consumables per piece"), 0,
		refuse); err != nil || len(m.Xs) != 2 {
		t.Error(err)
	}
}

// TestBestRouteOfThree finds the second best whatever the order, and no best where nothing can be costed.
func TestBestRouteOfThree(t *testing.T) {
	plans := read(t, sampleTables(t))
	var list []*costmodel.Scenario
	for _, p := range plans {
		list = append(list, p.Scenario)
	}
	xs, ys := []float64{5000, 30000, 42000, 60000, 200000}, []float64{0.5, 1, -1}
	m, ds := study.BestRoute(t.Context(), plans[0].Model, list, input(t, "Annual volume"), input(t, "Case/Programme life"), xs, []float64{6, 3, -1}, 0)
	if m == nil {
		t.Fatal(ds)
	}
	for j := range ys {
		for i := range xs {
			costs := []float64{m.Costs[0][j][i], m.Costs[1][j][i], m.Costs[2][j][i]}
			if j == 2 {
				if m.Cheapest[j][i] != -1 {
					t.Errorf("a programme of -1 years: %d", m.Cheapest[j][i])
				}
				continue
			}
			if best := slices.Index(costs, slices.Min(costs)); best != m.Cheapest[j][i] {
				t.Errorf("%v: %d, want %d", costs, m.Cheapest[j][i], best)
			}
			slices.Sort(costs)
			if m.Margin[j][i] != costs[1]-costs[0] {
				t.Errorf("%v: margin %v", costs, m.Margin[j][i])
			}
			if j == 0 && !near(m.Costs[0][j][i], plans[0].Detail(xs[i]).Scenario().Must("piece_cost")) {
				t.Errorf("at %v: %v", xs[i], m.Costs[0][j][i])
			}
		}
	}
}

// TestTwoWay evaluates every pair, X across.
func TestTwoWay(t *testing.T) {
	r := respond(t, read(t, workshop)[:1], 0, "Machines/M1/Price", "Plants/Works/Direct labour rate")
	table, err := r.TwoWay(t.Context(), []float64{0, 50000, 100000}, []float64{10.0 / 3600, 20.0 / 3600})
	if err != nil {
		t.Fatal(err)
	}
	for j, wages := range []float64{8000, 16000} {
		for i, machine := range []float64{0, 5000, 10000} {
			if !near(table.Cells[j][i], (machine+wages+1000)/80000) {
				t.Errorf("row %d, column %d: %v", j, i, table.Cells[j][i])
			}
		}
	}
	if now := r.Block(1)[0]; !near(now, 0.2375) {
		t.Errorf("afterwards it is %v as it stands", now)
	}
	if _, err := respond(t, read(t, workshop)[:1], 0, "Machines/M1/Price").TwoWay(t.Context(), nil, nil); err == nil {
		t.Error("one input made a table")
	}
}

// TestAxis gives numbers that can be said, the ends as they are.
func TestAxis(t *testing.T) {
	for _, c := range []struct {
		axis study.Axis
		want string
	}{
		{study.Axis{From: 0, To: 10, Points: 6}, "[0 2 4 6 8 10]"},
		{study.Axis{From: 20, To: 60, Points: 9}, "[20 25 30 35 40 45 50 55 60]"},
		{study.Axis{From: 0.43, To: 1.72, Points: 5}, "[0.43 0.75 1.1 1.4 1.72]"},
		{study.Axis{From: 5000, To: 300000, Points: 6, ByRatio: true}, "[5000 11000 26000 60000 130000 300000]"},
		{study.Axis{From: 1, To: 1000, Points: 4, ByRatio: true}, "[1 10 100 1000]"},
		{study.Axis{From: -1, To: 1, Points: 3}, "[-1 0 1]"},
		{study.Axis{From: 0, To: 10, Points: 2}, "[0 10]"},
		{study.Axis{From: 2, To: 77, Points: 4}, "[2 25 50 77]"}, // a fifth of the step of 25 is just 5
		{study.Axis{From: 2, To: 74, Points: 4}, "[2 26 50 74]"}, // of 24 it is less
	} {
		got, err := c.axis.Values()
		if err != nil || !slices.IsSorted(got) {
			t.Fatal(err, got)
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%+v: %v, want %s", c.axis, got, c.want)
		}
	}
	for _, a := range []study.Axis{{From: 0, To: 1, Points: 1}, {From: 1, To: 1, Points: 3}, {From: 0, To: 1, Points: 3, ByRatio: true},
		{From: 2, To: 1, Points: 3}, {From: 0, To: 1, Points: 1001}} {
		if got, err := a.Values(); err == nil {
			t.Errorf("%+v: %v", a, got)
		}
	}
}

// TestUsualAxisOfThree: three round values are an axis: of a load of 42.5 to 100 % (half of 85 up to all), 50, 75 and 100.
func TestUsualAxisOfThree(t *testing.T) {
	plans := read(t, sampleTables(t))
	r := respond(t, plans[:1], 0, "Plants/Van plant/Planned capacity utilisation")
	if a, ok := study.UsualAxis(plans[0].Model, &r.Inputs[0], 3); fmt.Sprint(a, ok) != "{50 100 3 false} true" {
		t.Errorf("%v %v", a, ok)
	}
}

// TestUsualAxis lies around the base value in round steps, within the plausible range; that of the volume over the case's.
func TestUsualAxis(t *testing.T) {
	plans := read(t, sampleTables(t))
	r := respond(t, plans[:1], 0, "Annual volume", "Plants/Van plant/Direct labour rate", "Plants/Van plant/Planned capacity utilisation",
		"Materials/M04/Base price",
		"Parts/A01/Target cost")
	for i, want := range []string{
		"{5000 300000 9 true} true", "{20 70 6 false} true", "{50 100 6 false} true", "{0.6 1.6 6 false} true", "{0 0 0 false} false",
	} {
		if a, ok := study.UsualAxis(plans[0].Model, &r.Inputs[i], 9); fmt.Sprint(a, ok) != want {
			t.Errorf("%s: %v %v, want %s", r.Inputs[i].Input, a, ok, want)
		}
	}
}
