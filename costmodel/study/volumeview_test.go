package study_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/study"
)

// TestViewVolumes: the view of a volume is what its parts say, at 20 % less and more on the capacity of the very volume.
func TestViewVolumes(t *testing.T) {
	p := read(t, workshop)[0]
	var told []float64
	v, err := study.ViewVolumes(t.Context(), p, []float64{60000, 80000, 96000}, study.VolumeOptions{Share: 0.2, Shifts: []float64{1, 2}},
		func(done float64) { told = append(told, done) })
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		cost, next, less, more, own, tooling float64
		possible                             bool
		cheapest                             int
	}{
		{6000 + 11000, 0.1, 4800 + 11000, 7200 + 11000, 100000, 5000, true, 0},
		{8000 + 11000, 11000.1, 6400 + 11000, 9600 + 11000, 100000, 5000, false, 0},
		{9600 + 22000, 0.1, 7680 + 22000, 11520 + 22000, 200000, 10000, true, 1},
	}
	if len(v.Points) != 3 || len(told) != 3 || told[2] != 1 || v.Scenario != "X" {
		t.Fatalf("%d points, told %v", len(v.Points), told)
	}
	for i, w := range want {
		g := v.Points[i]
		if !near(g.Annual, w.cost) || !near(g.Cost, w.cost/g.Volume) || math.Abs(g.Next-w.next) > 1e-9 || !near(g.Less.AnnualCost,
			w.less) || !near(g.More.AnnualCost, w.more) ||
			!near(g.Less.Volume, 0.8*g.Volume) || !near(g.More.Volume,
			1.2*g.Volume) || g.More.Possible() != w.possible || g.Own != w.own || g.Tooling != w.tooling || g.Cheapest != w.cheapest {
			t.Errorf("at %v: %+v, want %+v", g.Volume, g, w)
		}
	}
}

// twoSteps adds a second step to the workshop's part, on the same press.
func twoSteps(columns, first, second string) [3]string {
	return [3]string{"operations.csv", "Tool life [cycles]\nP,10,press,timed operation,M1,36,0,1000,5000,100000000\n",
		"Tool life [cycles],Plant" + columns + "\nP,10,press,timed operation,M1,36," + first + "\nP,20,press again,timed operation,M1,36," + second + "\n"}
}

var xAlone = [3]string{"scenarios.csv", "X,Y\n,,Annual volume [1/yr],80000,80000\n,,Product,P,P\nOperations,P/10,Machine,,M2\n" +
	"Operations,P/10,Load and process time [s],,45\n",
	"X\n,,Annual volume [1/yr],20000\n,,Product,P\n,,Plant,Works\n"}

// TestPoolAlerts takes the reasons why pooled steps can't share a station one by one, each beside a case without it.
func TestPoolAlerts(t *testing.T) {
	plants := [3]string{"plants.csv", "Works\nWorking days,1/yr,100\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,10",
		"Works,Annex\nWorking days,1/yr,100,100\nShifts,1,1,1\nPaid hours per shift,h,8,8\nDirect labour rate,EUR/h,10,10"}
	for _, c := range []struct {
		name    string
		volume  float64
		changes [][3]string
		want    []string
	}{
		{"set-up time given", 20000, [][3]string{twoSteps("", "5,1000,5000,100000000,", "5,1000,5000,100000000,")}, nil},
		{"no tools", 20000, [][3]string{twoSteps("", "0,1000,0,100000000,", "0,1000,0,100000000,")}, nil},
		{"a line for each", 100000, [][3]string{twoSteps("", "0,1000,5000,100000000,", "0,1000,5000,100000000,")}, nil},
		// 2 x 36 s x 70,000 are 1,400 h, 1.75 lines of 800 h: two, as many as steps
		{"just a line for each", 70000, [][3]string{twoSteps("", "0,1000,5000,100000000,", "0,1000,5000,100000000,")}, nil},
		{"no set-up time", 20000, [][3]string{twoSteps("", "0,1000,5000,100000000,", "0,1000,5000,100000000,")},
			[]string{"set-up: its 2 pooled operations outnumber its lines, and P/10, P/20 have tools of their own but no set-up time to change them over"}},
		{"one without", 20000, [][3]string{twoSteps("", "0,1000,5000,100000000,", "5,1000,5000,100000000,")},
			[]string{"set-up: its 2 pooled operations outnumber its lines, and P/10 has a tool of its own but no set-up time to change it over"}},
		{"another process", 20000, [][3]string{{"operations.csv", "Tool life [cycles]\nP,10,press,timed operation,M1,36,0,1000,5000,100000000\n",
			"Tool life [cycles]\nP,10,press,timed operation,M1,36,5,1000,0,1\nP,20,assemble,final assembly,M1,36,5,1000,0,1\n"}},
			[]string{"process: its pooled operations are of different processes: final assembly (P/20); timed operation (P/10)"}},
		{"another area", 20000, [][3]string{twoSteps(",Footprint [m2]", "5,1000,0,1,,20", "5,1000,0,1,,30")},
			[]string{"area: its pooled operations need stations of different size: 20 m2 (P/10); 30 m2 (P/20)"}},
		{"another power", 20000, [][3]string{twoSteps(",Power [kW]", "5,1000,0,1,,20", "5,1000,0,1,,30")},
			[]string{"power: its pooled operations draw different power: 20 kW (P/10); 30 kW (P/20)"}},
		{"too much force", 20000, [][3]string{{"operations.csv", "Load and process time [s],Set-up time [min],Batch size,Tool price [EUR]," +
			"Tool life [cycles]\nP,10,press,timed operation,M1,36,0,1000,5000,100000000\n",
			"Load and process time [s],Set-up time [min],Batch size,Largest force [kN]\n" +
				"P,10,press,tandem press forming,M1,36,5,1000,909\nP,20,press,tandem press forming,M1,36,5,1000,910\n"}},
			[]string{"force: P/20 needs more than its rated force of 1000 kN"}},
		{"another plant", 20000, [][3]string{plants, twoSteps("", "5,1000,0,1,Works", "5,1000,0,1,Annex")},
			[]string{"plant: has pools in 2 plants (Works, Annex): each has whole lines of its own"}},
	} {
		p := read(t, workshop, append([][3]string{xAlone}, c.changes...)...)[0]
		var got []string
		for _, a := range study.PoolAlerts(p.Detail(c.volume)) {
			got = append(got, a.Kind+": "+a.Words)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %s, want %s", c.name, strings.Join(got, " | "), strings.Join(c.want, " | "))
		}
	}
}

// TestPoolHours: frozen lines that more pieces overfill are an alert of the pool.
func TestPoolHours(t *testing.T) {
	frozen, err := study.Freeze(read(t, workshop)[0].Detail(80000))
	if err != nil {
		t.Fatal(err)
	}
	if got := study.PoolAlerts(frozen.Detail(80000)); len(got) != 0 {
		t.Errorf("%+v", got)
	}
	// a piece more than the 80,000 that fill the line is too many
	if got := study.PoolAlerts(frozen.Detail(80001)); len(got) != 1 || got[0].Kind != "hours" {
		t.Errorf("%+v", got)
	}
	got := study.PoolAlerts(frozen.Detail(100000))
	if len(got) != 1 || got[0].Kind != "hours" || got[0].Words != "its pooled operations need 1.25 lines, 1 there" {
		t.Errorf("%+v", got)
	}
}

// TestAlertsSaidOnce: an alert is said once, with the volumes between which it holds.
func TestAlertsSaidOnce(t *testing.T) {
	p := read(t, workshop, xAlone, twoSteps("", "0,1000,5000,100000000,", "0,1000,5000,100000000,"))[0]
	v, err := study.ViewVolumes(t.Context(), p, []float64{10000, 20000, 100000}, study.VolumeOptions{Share: 0.2, Shifts: []float64{1}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(v.Pools) != 1 || v.Pools[0].From != 10000 || v.Pools[0].To != 20000 {
		t.Errorf("%+v", v.Pools)
	}
}

// TestMachines: M1 takes 36 s a piece of 800 planned hours per year; shared, it has no line of its own and is never the
// busiest.
func TestMachines(t *testing.T) {
	view := func(changes ...[3]string) *study.VolumeView {
		v, err := study.ViewVolumes(t.Context(), read(t, workshop, changes...)[0], []float64{60000, 96000},
			study.VolumeOptions{Share: 0.2, Shifts: []float64{1}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	v := view()
	machines := v.Machines()
	if len(machines) != 1 || machines[0].Key != "M1" || len(machines[0].Uses) != 2 || !slices.Equal(v.Busiest(), []string{"M1", "M1"}) {
		t.Fatalf("%+v, busiest %q", machines, v.Busiest())
	}
	for i, want := range []struct{ own, load float64 }{{1, 0.75}, {2, 0.6}} {
		if u := machines[0].Uses[i]; u.Own != want.own || !near(u.Load, want.load) {
			t.Errorf("%+v, want %+v", u, want)
		}
	}
	two := study.Capacity{Machines: []study.MachineUse{{Key: "S", Shared: 0.9, Load: 0.9}, {Key: "A", Own: 1, Load: 0.4}, {Key: "B", Own: 2, Load: 0.7},
		{Key: "C", Own: 1, Load: 0.7}}}
	if u, ok := two.Busiest(); !ok || u.Key != "B" {
		t.Errorf("busiest %+v", u)
	}
	none := study.Capacity{Machines: two.Machines[:1]}
	if u, ok := none.Busiest(); ok {
		t.Errorf("a shared machine is the busiest: %+v", u)
	}
	if m := (study.MachineOver{Uses: two.Machines[:1]}); m.Has(func(u study.MachineUse) float64 { return u.Own }) ||
		!m.Has(func(u study.MachineUse) float64 { return u.Shared }) {
		t.Error("a shared machine has shared lines and none of its own")
	}
}
