// Command door is a user of the packages costing and wire, and of nothing else of this module: it costs a workbook, prints
// what each scenario costs over two volumes and its dearest part, writes the results, and holds them against the answer of
// `piececost run --json` on standard input.
package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"

	"piececost/scenarios/costing"
	"piececost/scenarios/costing/wire"
)

func main() {
	if err := run(context.Background(), os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func run(ctx context.Context, file, output string) error {
	w, err := costing.Open(ctx, file, costing.Options{Output: output, Program: "door 1"})
	if err != nil {
		return err
	}
	r, err := w.Cost(ctx)
	var found costing.Diagnostics
	if errors.As(err, &found) {
		for _, d := range found.Errors() {
			fmt.Println("wrong:", d.Place.Sheet, d.Place.Cell())
		}
	}
	if err != nil {
		return err
	}
	for _, s := range r.Scenarios {
		if err := tell(ctx, r, s); err != nil {
			return err
		}
	}
	written, err := r.Write(ctx)
	if err != nil {
		return err
	}
	fmt.Println(written.Summary, "in", written.File)
	return compare(r)
}

// tell prints a scenario.
func tell(ctx context.Context, r *costing.Result, s *costing.Scenario) error {
	curve, err := r.Sweep(ctx, s.Name, 20_000, 60_000)
	if err != nil {
		return err
	}
	dearest, most := "", 0.0
	for _, p := range s.Parts() {
		if cost, _, ok := p.Cost(); ok && cost > most {
			dearest, most = p.Key(), cost
		}
	}
	fmt.Printf("%s: %.2f, %.2f; %s %.2f\n", s.Name, curve.PieceCost[0], curve.PieceCost[1], dearest, most)
	return nil
}

// compare holds the costs against the answer of the command.
func compare(r *costing.Result) error {
	var answer wire.Run
	if err := json.NewDecoder(os.Stdin).Decode(&answer); err != nil {
		return err
	}
	if want := wire.Begin[wire.Run](); answer.Answer != want {
		return fmt.Errorf("the answer is %+v, wanted is %+v", answer.Answer, want)
	}
	for i, s := range answer.Scenarios {
		if r.Scenarios[i].Name != s.Name || r.Scenarios[i].PieceCost != s.PieceCostExact {
			return fmt.Errorf("%s costs %v here and %v there", s.Name, r.Scenarios[i].PieceCost, s.PieceCostExact)
		}
	}
	fmt.Println(len(answer.Scenarios), "scenarios cost the same as by the command")
	return nil
}
