package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// manyAlternatives is the sample with alternatives of every kind in scenario A: a part in two gauges, a step on three
// machines, a step that may be left out, a joining step in two processes, a first step, a last step that may be added, an
// optional child, a tag that brings two rows in.
func manyAlternatives(t testing.TB) csvCase {
	t.Helper()
	c := sampleTables(t)
	tag := func(sheet, row, value string) { // puts a value into the column Alternative of a row, or of a copy of it
		t.Helper()
		lines := strings.Split(c[sheet], "\n")
		column := -1
		for i, h := range strings.Split(lines[0], ",") {
			if strings.HasPrefix(h, "Alternative") {
				column = i
			}
		}
		for i, l := range lines {
			if cells := strings.Split(l, ","); strings.HasPrefix(l, row+",") && cells[column] == "" {
				cells[column] = value
				lines[i] = strings.Join(cells, ",")
				c[sheet] = strings.Join(lines, "\n")
				return
			}
		}
		t.Fatalf("no row %s without a tag in %s", row, sheet)
	}
	again := func(sheet, row string, old, with string) { // copies a row with a change
		t.Helper()
		for _, l := range strings.Split(c[sheet], "\n") {
			if strings.HasPrefix(l, row+",") {
				if strings.Count(l, old) != 1 {
					t.Fatalf("%q in %s", old, l)
				}
				c[sheet] = strings.TrimRight(c[sheet], "\n") + "\n" + strings.Replace(l, old, with, 1) + "\n"
				return
			}
		}
		t.Fatalf("no row %s in %s", row, sheet)
	}
	again("Parts", "A01", ",0.75,", ",0.65,")
	tag("Parts", "A01", "thick")
	tag("Parts", "A01", "thin")
	again("Operations", "A01,20", ",E02,", ",E03,")
	again("Operations", "A01,20", ",E02,", ",E05,")
	tag("Operations", "A01,20", "tandem")
	tag("Operations", "A01,20", "transfer")
	tag("Operations", "A01,20", "fluid")
	tag("Operations", "TRAY_A,20", "sealed")
	again("Operations", "FRAME_A,10", ",E11,", ",E12,")
	tag("Operations", "FRAME_A,10", "spot")
	tag("Operations", "FRAME_A,10", "laser")
	again("Operations", "TRAY_A,30", "TRAY_A,30,", "TRAY_A,40,")
	tag("Operations", "TRAY_A,40", "checked")
	again("Operations", "TRAY_A,30", ",E16,", ",E11,") // bought parts join at this step
	tag("Operations", "TRAY_A,30", "spot")
	tag("Operations", "TRAY_A,30", "laser")
	again("Operations", "A04,10", ",E01,", ",E04,")
	tag("Operations", "A04,10", "laser")
	tag("Operations", "A04,10", "spot")
	return c
}

// TestCombinationsAreScenarios: every subset of the tags is valid as a combination where it is as a scenario (a step in
// several alternatives left out aside), and costs and weighs the same.
func TestCombinationsAreScenarios(t *testing.T) {
	m := manyAlternatives(t).model(t)
	s := m.Scenarios[0]
	c, ds := m.Combiner(s)
	if c == nil {
		t.Fatal(ds)
	}
	n := len(c.Tags())
	if n != 9 {
		t.Fatalf("tags %v", c.Tags())
	}
	offered := map[string]bool{}
	c.Each(make([]int, n), func(in []bool) bool { offered[fmt.Sprint(in)] = true; return true })
	valid := 0
	in := make([]bool, n)
	for bits := range 1 << n {
		for i := range in {
			in[i] = bits>>i&1 == 1
		}
		ok := c.Add(in, 60_000)
		p, found := m.Compile(c.With(in), CompileOptions{})
		if !ok {
			if p != nil && !leavesOut(in, c) {
				t.Errorf("%v is no combination, but a scenario", c.With(in).Alternatives)
			}
			continue
		}
		valid++
		if p == nil {
			t.Fatalf("%v is a combination, but: %v", c.With(in).Alternatives, found)
		}
		if !offered[fmt.Sprint(in)] {
			t.Errorf("%v is not offered", c.With(in).Alternatives)
		}
		cost, mass := c.Cost()
		d := p.Detail(60_000).Scenario()
		if want := d.Must("piece_cost"); !(math.Abs(cost[0]-want) <= 1e-9*want) {
			t.Errorf("%v: %v, as a scenario %v", c.With(in).Alternatives, cost[0], want)
		}
		if want := d.Must("net_mass"); !(math.Abs(mass[0]-want) <= 1e-9*want) {
			t.Errorf("%v: %v kg, as a scenario %v", c.With(in).Alternatives, mass[0], want)
		}
	}
	if valid != 48 {
		t.Errorf("%d valid combinations, want 2 gauges x 3 lines x 2 welds x 2 x 2", valid)
	}
	if len(offered) > 2*valid {
		t.Errorf("%d combinations are offered for %d", len(offered), valid)
	}
}

// leavesOut tells whether none of the alternatives of a step is chosen.
func leavesOut(in []bool, c *Combiner) bool {
	for _, group := range []string{"tandem transfer fluid", "laser spot"} {
		any := false
		for _, tag := range strings.Fields(group) {
			any = any || in[c.Tag(tag)]
		}
		if !any {
			return true
		}
	}
	return false
}
