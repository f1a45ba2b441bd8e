package scenarios

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// trialCase is the sample with designations, forces of a press and targets, for trials of B05.
func trialCase(t testing.TB) quoteSheets {
	t.Helper()
	s := openCase(t, "B05/20")
	s.addColumns("materials.csv", "Grade")
	s.setKeyed(t, "materials.csv", "M07", "Grade", "S355J2")
	s.setKeyed(t, "materials.csv", "M05", "Grade", "EN AW-6082-T6")
	s.copyMachine(t, "E06", "E06L", "Price=5200000", "Rated force=60000")
	for _, row := range s["operations.csv"] { // a force that grows with gauge and strength, so that a stronger press is chosen, or none fits
		if row[0]+"/"+row[1] == "B05/20" {
			row[len(row)-1] = `part.gauge / "1.6 mm" * material.yield_strength / "355 MPa" * "26000 kN"`
		}
	}
	s["targets.csv"] = [][]string{{"Quantity", "Part", "Unit", "Direction", "Target"}, {"Net mass", "", "kg", "at most", "66.5"}}
	return s
}

// TestTrialMatrix: each cell costs and weighs what a case with that grade and gauge typed does, on the machine chosen there; what fails, the least
// cost and the front are counted anew; ratios are by hand.
func TestTrialMatrix(t *testing.T) {
	s := trialCase(t)
	m := s.model(t)
	reportProblems(t, m.Diagnostics)
	plan := func(m *costmodel.Model) *costmodel.Plan {
		for _, sc := range m.Scenarios {
			if sc.Called("B") {
				if p, ds := m.Compile(sc, costmodel.CompileOptions{}); p != nil {
					return p
				} else {
					t.Log(ds)
				}
			}
		}
		return nil
	}
	grades, gauges := []string{"M07", "M05"}, []float64{0.0012, 0.0016, 0.0020, 0.0040}
	got, err := study.Try(t.Context(), m, plan(m), study.TrialAsk{Part: "B05", Grades: grades, Gauges: gauges})
	if err != nil {
		t.Fatal(err)
	}
	var passing []study.TrialCell
	for i, grade := range grades {
		for k, gauge := range gauges {
			c := got.Cells[i][k]
			typed := s.clone()
			typed.setKeyed(t, "parts.csv", "B05", "Material", grade)
			typed.setKeyed(t, "parts.csv", "B05", "Gauge", fmt.Sprint(gauge*1000))
			tm := typed.model(t)
			p := plan(tm)
			if p == nil || tm.Diagnostics.HasErrors() {
				if c.Passes() || !math.IsNaN(c.PieceCost) {
					t.Errorf("%s at %v costs %v, and can't be made", grade, gauge, c.PieceCost)
				}
				continue
			}
			d := p.Detail(p.Scenario.Volume)
			if !sameTo(c.PieceCost, d.Scenario().Must("piece_cost"), 1e-12) || !sameTo(c.NetMass, d.Scenario().Must("net_mass"), 1e-12) {
				t.Errorf("%s at %v: %v and %v kg, typed %v and %v kg", grade, gauge, c.PieceCost, c.NetMass, d.Scenario().Must("piece_cost"),
					d.Scenario().Must("net_mass"))
			}
			if missed := d.Scenario().Must("net_mass") > 66.5; missed != slices.Contains(c.Fails, "Net mass above 66.5 kg") {
				t.Errorf("%s at %v: fails %q", grade, gauge, c.Fails)
			}
			if c.Passes() {
				passing = append(passing, c)
			}
		}
	}
	for _, c := range passing {
		least, front := true, true
		for _, o := range passing {
			least = least && c.PieceCost <= o.PieceCost
			front = front && !(o.PieceCost < c.PieceCost && o.NetMass <= c.NetMass || o.PieceCost <= c.PieceCost && o.NetMass < c.NetMass)
		}
		if c.Least != least || c.Front != front {
			t.Errorf("%s at %v: least %v, front %v", c.Grade, c.Gauge, c.Least, c.Front)
		}
	}
	if len(passing) == 0 || len(passing) == len(grades)*len(gauges) {
		t.Errorf("%d cells pass", len(passing))
	}
	// by hand, from the two designations: moduli, and (2.0/1.6)^3, (2.0/1.6)^2, 2.0/1.6 of the same grade
	if c := got.Cells[0][2]; !sameTo(c.Stiffness, 1.953125, 1e-12) || !sameTo(c.Dent, 1.5625, 1e-12) || !sameTo(c.Section, 1.25, 1e-12) {
		t.Errorf("ratios %v, %v, %v", c.Stiffness, c.Dent, c.Section)
	}
	if e := got.Equal[0]; !sameTo(e.Stiffness, 0.0016, 1e-12) || !sameTo(e.Dent, 0.0016, 1e-12) || !sameTo(e.Section, 0.0016, 1e-12) {
		t.Errorf("the base equals itself at %v", e)
	}
	if e := got.Equal[1]; !sameTo(e.Stiffness, 0.0016*math.Cbrt(210.0/70), 2e-2) {
		t.Errorf("aluminium is as stiff at %v", e.Stiffness)
	}
	if !got.Cells[0][1].IsBase || got.BaseGrade != "M07" {
		t.Errorf("the base is %s", got.BaseGrade)
	}
}

// BenchmarkTrial tries 12 grades at 8 gauges for a part of the sample.
func BenchmarkTrial(b *testing.B) {
	s := sampleQuoteSheets(b).clone()
	head := s["materials.csv"]
	for i := range 12 {
		row := slices.Clone(head[1])
		row[0] = fmt.Sprint("T", i)
		s["materials.csv"] = append(s["materials.csv"], row)
	}
	m := s.model(b)
	p, _ := m.Compile(m.Scenarios[0], costmodel.CompileOptions{})
	var grades []string
	for i := range 12 {
		grades = append(grades, fmt.Sprint("T", i))
	}
	ask := study.TrialAsk{Part: "A01", Grades: grades, Gauges: []float64{0.0006, 0.0007, 0.0008, 0.0009, 0.001, 0.0011, 0.0012, 0.0013}}
	for b.Loop() {
		if _, err := study.Try(b.Context(), m, p, ask); err != nil {
			b.Fatal(err)
		}
	}
}

// addTrial adds what is asked of a part of the archive of tools, and a trial of it.
func addTrial(tables fstest.MapFS) {
	tables["trial_values.csv"] = &fstest.MapFile{Data: []byte("Part,Grade,Gauge [mm],Quantity,Unit,Direction,Target,Measured\n" +
		"SHEET,ST,1.5,Bending stiffness,N/mm,at least,80,90\n")}
	tables["studies.csv"] = &fstest.MapFile{Data: []byte("Study,Scenario,Part,Grades,Gauges [mm]\ntrial matrix,A,SHEET,ST,1.4; 1.5\n")}
}

// trialOfTools tries a part of the archive of tools in both its grades.
func trialOfTools(t *testing.T, r *Result) *study.Trial {
	t.Helper()
	p := r.Details[0].Plan
	out, err := study.Try(t.Context(), p.Model, p, study.TrialAsk{Part: "SHEET", Grades: []string{"ST", "HX"}, Gauges: []float64{0.0012, 0.0015}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
