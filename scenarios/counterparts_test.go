package scenarios

import (
	"math"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
)

// TestLinesBesideShouldCost: each line stands beside what the should-cost has for it, once, and what stands there adds up to the price
// without tools; what neither side has is said, not spread. The cost of an operation is reckoned here from the case's own result.
func TestLinesBesideShouldCost(t *testing.T) {
	files := quoteTables(t)
	files["quotes.csv"] = &fstest.MapFile{Data: []byte("Quantity,Unit,Request,Q1,Q2\nPart,,B05,,\nCurrency,,,EUR,EUR\nPrice,,,15.1,9\nAnnual " +
		"volume,1/yr,120000,120000,120000\nPackaging,,0.2,included,\n")}
	files["quote_lines.csv"] = &fstest.MapFile{Data: []byte("Quote,Line,Element,Part,Operation,Amount\nQ1,1,material,,,8\nQ1,2,material,B05,,0.5\n" +
		"Q1,3,process,,10,1\n" +
		"Q1,4,process,B05,20,1.2\nQ1,5,set-up,B05,20,0.1\nQ1,6,process,,,0.9\nQ1,7,process,B05,990,0.4\nQ1,8,other,,,0.3\nQ1,9,SG&A,,,1.5\n" +
		"Q1,10,profit,,,1.2\n" +
		"Q1,11,tool,,,90000\nQ2,1,process,,,9\n")}
	c, err := ReadTables(files, "quotes")
	if err != nil {
		t.Fatal(err)
	}
	a := askModel(t, costmodel.New(c, testLibrary(t)))
	o := a.Offers[0]
	type row struct {
		label, part, operation string
		lines                  int
		none                   bool
	}
	want := []row{{"Material", "B05", "", 1, false}, {"Material, all else", "", "", 1, false}, {"Scrap credit", "", "", 0, false},
		{"Process, set-up and rejects", "B05", "10", 1, false}, {"Process, set-up and rejects", "B05", "20", 2, false},
		{"Process, set-up and rejects", "B05", "990", 1, true}, {"Process, set-up and rejects, all else", "", "", 1, false},
		{"Overhead", "", "", 0, false}, {"SG&A and profit", "", "", 2, false}, {"Packaging and freight", "", "", 0, false}, {"Other", "", "", 1, true},
		{"Tools, in total", "", "", 1, true}}
	if len(o.Beside) != len(want) {
		t.Fatalf("%d counterparts, want %d: %+v", len(o.Beside), len(want), o.Beside)
	}
	total, lines := 0.0, 0
	for i, x := range o.Beside {
		if got := (row{x.Label, x.Part, x.Operation, len(x.Lines), math.IsNaN(x.Model)}); got != want[i] {
			t.Errorf("%d is %+v, want %+v", i, got, want[i])
		}
		lines += len(x.Lines)
		if !math.IsNaN(x.Model) {
			total += x.Model
		}
	}
	if price := o.Entry.Must("model_price"); math.Abs(total-price) > 1e-9*price || lines != len(o.Lines) {
		t.Errorf("the counterparts add up to %v of %v, for %d lines of %d", total, price, lines, len(o.Lines))
	}
	for _, op := range o.Model.Detail.Entries("operation") {
		if op.Record().Text("operation") != "20" {
			continue
		}
		cost := 0.0 // consumables, energy, labour, equipment, building and maintenance, by their names
		for _, e := range []string{"outside_processing", "consumables", "energy", "labour", "equipment", "building", "maintenance"} {
			cost += op.Must(e) / 120000
		}
		if got := o.Beside[4].Model; math.Abs(got-cost) > 1e-12 || cost == 0 {
			t.Errorf("operation 20 costs %v, want %v", got, cost)
		}
	}
	if other := a.Offers[1].Beside; len(other[0].Lines) != 0 || other[0].Label != "Material" {
		t.Errorf("material without a line is %+v", other[0])
	}
}
