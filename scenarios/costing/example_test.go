package costing_test

import (
	"context"
	"fmt"
	"io/fs"
	"log"
	"os"
	"path/filepath"

	"piececost/scenarios"
	"piececost/scenarios/costing"
	"piececost/templates"
)

// A workbook is opened and costed: what the scenarios cost, where the money goes, and a quantity with its cell.
func ExampleWorkbook_Cost() {
	file := sampleFile() // as `piececost new --sample battery-tray tray.xlsx` makes it
	defer os.RemoveAll(filepath.Dir(file))
	ctx := context.Background()
	w, err := costing.Open(ctx, file, costing.Options{})
	if err != nil {
		log.Fatal(err)
	}
	r, err := w.Cost(ctx) // costing.Diagnostics where the case has errors
	if err != nil {
		log.Fatal(err)
	}
	for _, s := range r.Scenarios {
		fmt.Printf("%s: %.2f %s\n", s.Name, s.PieceCost, r.Currency)
	}
	a, err := r.Scenario("A")
	if err != nil {
		log.Fatal(err)
	}
	for _, e := range a.Elements[:3] {
		fmt.Printf("  %-15s %6.2f\n", e.Label, e.Amount)
	}
	step := a.Operations()[0]
	cost, _, _ := step.Cost()
	time, err := step.Quantity("Load and process time")
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s %.2f %s, %.4g %s from cell %s\n", step.Key(), cost, r.Currency, time.Value, time.Unit, time.Place.Cell())
	// Output:
	// A baseline: 186.47 EUR
	// B variant 1: 195.62 EUR
	// C variant 2: 182.62 EUR
	//   Material         89.81
	//   Scrap credit     -6.03
	//   Purchased parts  16.23
	// TRAY_A/10 4.05 EUR, 24 s from cell H57
}

// A scenario is costed over annual volumes.
func ExampleResult_Sweep() {
	r := sample()
	curve, err := r.Sweep(context.Background(), "C variant 2", 20_000, 60_000, 200_000)
	if err != nil {
		log.Fatal(err)
	}
	for i, v := range curve.Volumes {
		fmt.Printf("%.0f per year: %.2f %s, tooling %.2f\n", v, curve.PieceCost[i], r.Currency, curve.Elements["tooling"][i])
	}
	// Output:
	// 20000 per year: 249.87 EUR, tooling 43.70
	// 60000 per year: 182.62 EUR, tooling 16.05
	// 200000 per year: 161.29 EUR, tooling 9.39
}

// A number is explained down to the input cells.
func ExampleResult_Explain() {
	r := sample()
	x, err := r.Explain(costing.Number{Scenario: "A", Scope: "operation", Key: "FRAME_A/10", Quantity: "labour"})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%s of %s: %.0f %s\n", x.Quantity, x.Row, x.Value, x.Unit)
	fmt.Println(x.Words)
	fmt.Println(x.Numbers)
	for _, part := range x.Parts {
		fmt.Printf("  %s of %s, %s\n", part.Quantity, part.Row, part.From)
	}
	// Output:
	// labour of operation FRAME_A/10: 75410 EUR/yr
	// direct_workers * plant.working_days * plant.paid_hours_per_shift * plant.mean_labour_rate
	// 1.033578 * 240 1/yr * 8 h * 38 EUR/h
	//   direct_workers of operation FRAME_A/10, equation
	//   working_days of plant Van plant, input
	//   paid_hours_per_shift of plant Van plant, input
	//   mean_labour_rate of plant Van plant, equation
}

// sample costs the sample case, from its CSV tables.
func sample() *costing.Result {
	ctx := context.Background()
	w, err := costing.Tables(ctx, "battery-tray.xlsx", sampleTables(), costing.Options{})
	if err != nil {
		log.Fatal(err)
	}
	r, err := w.Cost(ctx)
	if err != nil {
		log.Fatal(err)
	}
	return r
}

func sampleTables() fs.FS {
	tables, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		log.Fatal(err)
	}
	return tables
}

// sampleFile makes the workbook of the sample case.
func sampleFile() string {
	lib, err := costing.Library()
	if err != nil {
		log.Fatal(err)
	}
	w, err := scenarios.Starter(sampleTables(), lib)
	if err != nil {
		log.Fatal(err)
	}
	dir, err := os.MkdirTemp("", "piececost-example")
	if err != nil {
		log.Fatal(err)
	}
	file := filepath.Join(dir, "tray.xlsx")
	if err := w.Save(context.Background(), file, scenarios.SaveOptions{}); err != nil {
		log.Fatal(err)
	}
	return file
}
