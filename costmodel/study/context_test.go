package study_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// TestStudiesEnd: every study that takes long returns the error of a context that is done, and no answer beside it.
func TestStudiesEnd(t *testing.T) {
	plans := read(t, workshop)
	x, y := plans[0].Scenario, plans[1].Scenario
	q := study.Measure{Model: plans[0].Model, Scenario: y, Against: x}
	price, volume := input(t, "Machines/M1/Price"), input(t, "Annual volume")
	axis := func(int, *costmodel.Varied) ([]float64, error) { return []float64{50_000, 90_000}, nil }
	combiner, ds := plans[0].Model.Combiner(x)
	if combiner == nil {
		t.Fatal(ds)
	}
	for name, ask := range map[string]func(context.Context) error{
		"sweep": func(ctx context.Context) error {
			_, err := plans[0].SweepTold(ctx, []float64{1000}, func(float64) {})
			return err
		},
		"crossover": func(ctx context.Context) error {
			_, err := study.Crossovers(ctx, plans, study.CrossoverAsk{From: 1000, To: 9000})
			return err
		},
		"stability": func(ctx context.Context) error {
			_, err := study.Stabilities(ctx, plans, study.StabilityAsk{From: 1000, To: 9000, Pairs: [][2]int{{0, 1}}, Share: 0.1, Top: 2})
			return err
		},
		"volumes": func(ctx context.Context) error {
			_, err := study.ViewVolumes(ctx, plans[0], []float64{1000}, study.VolumeOptions{Share: 0.2, Shifts: []float64{1}}, nil)
			return err
		},
		"combine": func(ctx context.Context) error {
			_, err := study.Combine(ctx, combiner, study.CombinationAsk{Volume: 1000, MaxMass: math.Inf(1), Fixed: make([]int, len(combiner.Tags())),
				Keep: 1, Most: 9})
			return err
		},
		"solve each": func(ctx context.Context) error { _, err := q.SolveEachLever(ctx, 0); return err },
		"solve": func(ctx context.Context) error {
			_, err := q.SolveFor(ctx, 0, price, math.NaN(), math.NaN())
			return err
		},
		"sensitivity": func(ctx context.Context) error {
			_, _, _, err := q.Swings(ctx, []costmodel.Input{price}, nil, 0.1)
			return err
		},
		"table": func(ctx context.Context) error { _, _, err := q.TableOver(ctx, price, volume, axis); return err },
		"map": func(ctx context.Context) error {
			_, err := study.MapOver(ctx, q.Model, []*costmodel.Scenario{x, y}, price, volume, 0, axis)
			return err
		},
		"equipment allocations": func(ctx context.Context) error {
			_, _, err := study.ChargingRules(ctx, detailsAt(plans, 80_000))
			return err
		},
	} {
		done, stop := context.WithCancel(t.Context())
		if err := ask(done); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		stop()
		if err := ask(done); !errors.Is(err, context.Canceled) {
			t.Errorf("%s goes on after its context is done: %v", name, err)
		}
	}
}
