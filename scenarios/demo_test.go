package scenarios

import (
	"encoding/csv"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/templates"
)

// sampleModel writes the sample workbook, reads it back and returns its model.
func sampleModel(t testing.TB) *costmodel.Model {
	t.Helper()
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	tables, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	w, err := Starter(tables, lib)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	if err := w.Save(t.Context(), path, SaveOptions{}); err != nil {
		t.Fatal(err)
	}
	c, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	m := costmodel.New(c, lib)
	for _, d := range m.Diagnostics.Sorted() {
		if d.Severity == table.Error {
			t.Error(d)
		}
	}
	return m
}

func samplePlan(t testing.TB, m *costmodel.Model, design string) *costmodel.Plan {
	t.Helper()
	for _, s := range m.Scenarios {
		if strings.HasPrefix(s.Name, design) {
			p, ds := m.Compile(s, costmodel.CompileOptions{})
			for _, d := range ds {
				t.Log(d)
			}
			if p == nil {
				t.Fatal("the scenario is not costed")
			}
			return p
		}
	}
	t.Fatalf("no scenario %s", design)
	return nil
}

func readTable(t testing.TB, path string) []map[string]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = row[i]
		}
		out = append(out, m)
	}
	return out
}

// samePrinted compares a value with a printed figure: half a unit of its last digit, and no less than the file's decimals.
func samePrinted(got float64, printed string, decimals int) bool {
	want, _ := strconv.ParseFloat(printed, 64)
	return math.Abs(got-want) <= 0.5*math.Pow(10, float64(-decimals))*(1+1e-6)
}

// TestDemoSteps compares every figure of every step with those of an independent program written from the equations.
func TestDemoSteps(t *testing.T) {
	m := sampleModel(t)
	plans := map[string]*costmodel.Plan{}
	seen := 0
	for _, want := range readTable(t, "../testdata/battery-tray/expected_steps.csv") {
		design, key := want["design_id"], want["item_id"]+"/"+want["step_no"]
		if plans[design] == nil {
			plans[design] = samplePlan(t, m, design)
		}
		volume, _ := strconv.ParseFloat(want["annual_volume_per_a"], 64)
		d := plans[design].Detail(volume)
		for _, l := range d.Entries("operation") {
			if l.Record().Key != key {
				continue
			}
			seen++
			check := func(column string, got float64, decimals int) {
				if !samePrinted(got, want[column], decimals) {
					t.Errorf("%s %v %s %s: %v, want %s", design, volume, key, column, got, want[column])
				}
			}
			check("pieces_in_per_a", l.Must("produced_quantity"), 1)
			check("pieces_out_per_a", l.Must("good_quantity"), 1)
			check("cycle_time_s", l.Must("cycle_time"), 2)
			check("hours_required_per_a", l.Must("required_hours")/3600, 2)
			check("machines_charged", l.Must("machines_charged"), 4)
			check("tool_sets", l.Must("tool_sets"), 0)
			check("cost_EUR_per_tray", l.Must("piece_cost"), 5)
			for _, e := range libraryElements() {
				column := strings.Replace(e, "purchased_parts", "purchased", 1) + "_EUR_per_tray"
				check(column, l.Must(e)/volume, 5)
			}
			if got := l.Choice("equipment_allocation"); got != want["charge_mode"] {
				t.Errorf("%s: equipment allocation %s", key, got)
			}
		}
	}
	if seen != 162 {
		t.Errorf("%d operations compared, want 162", seen)
	}
}

// TestDemoSummary compares the totals of each design.
func TestDemoSummary(t *testing.T) {
	m := sampleModel(t)
	for _, want := range readTable(t, "../testdata/battery-tray/expected_summary.csv") {
		volume, _ := strconv.ParseFloat(want["annual_volume_per_a"], 64)
		s := samplePlan(t, m, want["design_id"]).Detail(volume).Scenario()
		check := func(column, name string, decimals int) {
			if got := s.Must(name); !samePrinted(got, want[column], decimals) {
				t.Errorf("%s %v %s: %v, want %s", want["design_id"], volume, column, got, want[column])
			}
		}
		check("cost_EUR_per_tray", "piece_cost", 4)
		for _, e := range libraryElements() {
			check(strings.Replace(e, "purchased_parts", "purchased", 1)+"_EUR_per_tray", "piece_"+e, 4)
		}
		check("net_mass_kg", "net_mass", 3)
		check("gross_mass_kg", "gross_mass", 3)
		check("tooling_investment_EUR", "tooling_investment", 0)
		check("own_equipment_investment_EUR", "product_specific_equipment_investment", 0)
	}
}
