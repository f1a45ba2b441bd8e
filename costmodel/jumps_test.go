package costmodel

import (
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/plan"
)

// TestCauses words what jumps from one volume to the next: machines, crews, tool sets, batches, a condition; not what
// something larger hides.
func TestCauses(t *testing.T) {
	sample := sampleTables(t)
	// the sets of this tool that wear out are fewer than those at work at once
	sample.replace(t, "Operations", "E16,,,150,1,28,2.0,,,0.4,0,4000,47000,5000000", "E16,,,150,1,28,2.0,,,0.4,10,4000,47000,700000")
	sample.replace(t, "Operations", "E02,,,6.5,1", "E02,,,scenario.annual_volume > 50000 ? 6.5 : 9,1")
	sample.replace(t, "Operations", "E03,,,6.0,2,,,,,1.0,30,5000,335000",
		`E03,,,"max(""6 s"" + ""0.00001 s*yr"" * scenario.annual_volume, ""1 s"" * ceil(scenario.annual_volume * ""0.0001 yr""))",2,,,,,1.0,30,5000,335000`)
	m := sample.model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{})
	at := func(n float64) string {
		var out []string
		for _, c := range p.Causes(n-1, n) {
			out = append(out, c.String())
		}
		return strings.Join(out, "; ")
	}
	d := p.Detail(50_000)
	step := func(key string) Entry {
		e, err := p.FindRow("operation", key)
		if err != nil {
			t.Fatal(err)
		}
		return d.Entry(e)
	}
	if got := at(50_001); !strings.Contains(got, "load and process time 9 -> 6.5 s") {
		t.Errorf("the condition at 50,001: %q", got)
	}
	// one set-up more where a piece does not go into the eighth batch
	first := step("A01/10")
	batch := first.Must("batch_size")
	n := math.Floor(8*batch*50_000/first.Must("produced_quantity")) + 1
	if got, want := at(n), "operation A01/10: batches 8 -> 9 per year"; !strings.Contains(got, want) {
		t.Errorf("at %v: %q, want %q", n, got, want)
	}
	if got := at(10_001); strings.Contains(got, "a count") {
		t.Errorf("hidden by a larger time, at 10,001: %q", got)
	}
	last := step("TRAY_A/30")
	n = math.Floor(700_000/d.CaseValue("programme_life")*50_000/last.Must("produced_quantity")) + 1
	d = p.Detail(n)
	if last = step("TRAY_A/30"); last.Must("sets_for_life") != 2 || last.Must("tool_sets") < 3 {
		t.Fatalf("at %v %v sets wear out, %v are at work", n, last.Must("sets_for_life"), last.Must("tool_sets"))
	}
	if got := at(n); strings.Contains(got, "TRAY_A/30") {
		t.Errorf("hidden, at %v: %q", n, got)
	}
	if causes := p.Causes(20_000, 40_000); !slices.ContainsFunc(causes, func(c Cause) bool { return c.Quantity == "pool machines" && c.Before < c.After }) {
		t.Errorf("from 20,000 to 40,000: %v", causes)
	}
}

// TestCausesLeaveOutNothing: looking only where a jump went finds the same causes as looking everywhere, at jumps of the
// sample and between distant volumes.
func TestCausesLeaveOutNothing(t *testing.T) {
	m := sampleTables(t).model(t)
	compared := 0
	for _, s := range m.Scenarios {
		p := mustCompile(t, m, s, CompileOptions{})
		pairs := [][2]float64{{5000, 80_000}, {30_000, 31_000}, {100, 300_000}}
		for w := p.Pieces(20_000, 24_000); w.Next(); {
			pairs = append(pairs, [2]float64{float64(w.Piece().From - 1), float64(w.Piece().From)})
		}
		for _, v := range pairs {
			everywhere := p.tracer(&plan.Move{}, v[0], v[1])
			for c := range everywhere.jumped {
				everywhere.jumped[c] = true
			}
			got, want := p.Causes(v[0], v[1]), everywhere.causes()
			if !slices.Equal(got, want) {
				t.Errorf("%s from %v to %v: %v, want %v", s.Name, v[0], v[1], got, want)
			}
			compared += len(want)
		}
	}
	if compared < 100 {
		t.Errorf("only %d causes", compared)
	}
}
