package scenarios

import (
	"fmt"
	"math"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TestPublishedBreakEven solves worked examples of break-even and cross-over (testdata/published names the source of each):
// for the volume that the book finds, and from that volume back for a figure that the book starts with.
func TestPublishedBreakEven(t *testing.T) {
	lib := testLibrary(t)
	for _, c := range []struct {
		file, scenario, against string
		input                   string
		volume                  float64 // 0 where the volume is sought
		from, to                float64
		want, within            float64
	}{
		{"C09", "cost", "sales", "Annual volume", 0, 1, 1e6, 20000, 0.05},
		{"C09", "cost", "sales", "Parts/PIECE/Purchase price", 20000, 0, 1000, 200, 0.005},
		{"C09", "cost", "sales", "Operations/P/10/Tool price", 20000, 0, 1e7, 2000000, 0.5},
		{"C10", "A", "B", "Annual volume", 0, 1, 1e6, 7500, 0.5},
		{"C10", "A", "B", "Operations/B/10/Tool price", 7500, 0, 1e6, 48000, 0.5},
		{"C10", "A", "B", "Operations/A/10/Consumables per piece", 7500, 0, 100, 6, 0.005},
		{"C11", "A", "B", "Annual volume", 0, 1, 1e5, 760, 0.5},
		{"C12", "today", "sales", "Annual volume", 0, 1, 1e5, 1000, 0.5},
		{"C12", "changed", "sales", "Annual volume", 0, 1, 1e5, 1136, 0.5},
		{"C12", "target", "sales", "Annual volume", 0, 1, 1e5, 1200, 0.5},
		{"C17", "I", "II", "Annual volume", 0, 100, 6600, 2857, 0.5},
		{"C17", "II", "III", "Annual volume", 0, 100, 7000, 6666.5, 0.5}, // printed without its decimals
		{"C19", "cost", "sales", "Annual volume", 0, 1, 1e4, 400, 0.5},
		{"C19", "cost", "sales", "Parts/PIECE/Purchase price", 400, 0, 100, 10, 0.005},
		{"M08", "A", "B", "Annual volume", 0, 100, 9000, 4500, 0.5},
	} {
		p := readPublished(t, fmt.Sprintf("%s/%s.txtar", publishedDir, c.file), lib)
		first := p.plans[c.scenario]
		q := study.Measure{Model: first.Model, Scenario: first.Scenario, Against: p.plans[c.against].Scenario, Volume: c.volume}
		in, err := costmodel.ParseInput(c.input)
		if err != nil {
			t.Fatal(err)
		}
		r, ds := q.Respond([]costmodel.Input{in})
		if r == nil {
			t.Fatal(ds)
		}
		v := &r.Inputs[0]
		s := r.Solve(0, 0, v.Coherent(c.from), v.Coherent(c.to), study.RangeAsked)
		if len(s.Roots) != 1 || s.Roots[0].Jump || !(math.Abs(v.Shown(s.Roots[0].Value)-c.want) <= c.within) {
			t.Errorf("%s, %s: %+v, published %v within %v", c.file, c.input, s.Roots, c.want, c.within)
		}
	}
}

// TestSolvedValueTyped types the solved coil price of the cover into the sample: the two designs then cost the same.
func TestSolvedValueTyped(t *testing.T) {
	sheets := sampleSheets(t)
	m := sheets.model(t)
	for _, c := range []struct{ sheet, key, heading string }{
		{"Materials", "M04", "Base price [EUR/kg]"},
		{"Parts", "B01", "Gauge [mm]"},
		{"Machines", "E12", "Price [EUR]"},
		{"Parts", "B01", "Material per piece [EUR]"},
	} {
		q := study.Measure{Model: m, Scenario: m.Scenarios[1], Against: m.Scenarios[0]}
		r, ds := q.Respond([]costmodel.Input{{Sheet: c.sheet, Row: c.key, Column: c.heading}})
		if r == nil {
			t.Fatal(ds)
		}
		from, to, kind := study.SearchRange(&r.Inputs[0])
		s := r.Solve(0, 0, from, to, kind)
		if len(s.Roots) != 1 || s.Roots[0].Jump {
			t.Errorf("%s of %s: %+v", c.heading, c.key, s.Roots)
			continue
		}
		typed := sampleSheets(t)
		typed.set(t, c.sheet, c.key, c.heading, number17(r.Inputs[0].Shown(s.Roots[0].Value)))
		d := typed.costed(t)
		a, b := d[0].Scenario().Must("piece_cost"), d[1].Scenario().Must("piece_cost")
		if math.Abs(a-b) > 1e-6 {
			t.Errorf("with %s of %v: A costs %v, B %v", c.heading, r.Inputs[0].Shown(s.Roots[0].Value), a, b)
		}
	}
}

func number17(v float64) string { return fmt.Sprintf("%.17g", v) }
