package study_test

import (
	"flag"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// BenchmarkCrossovers finds every cross-over of the sample's three scenarios, by the pieces and by costing every whole
// volume; then how the time grows with the range and with the number of scenarios. One run is to be compared in itself.
func BenchmarkCrossovers(b *testing.B) {
	tables := sampleVolumeTables(b)
	whole := tables.plans(b, costmodel.CompileOptions{})
	continuous := tables.plans(b, costmodel.CompileOptions{ContinuousBatches: true})
	find := func(name string, plans []*costmodel.Plan, to int, every bool) {
		b.Run(name, func(b *testing.B) {
			var c *study.Crossover
			for b.Loop() {
				c, _ = study.Crossovers(plans, study.CrossoverAsk{From: 1, To: to, Tolerance: 0.005, EveryVolume: every})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(to), "ns/volume")
			b.ReportMetric(float64(c.Looked), "volumes-costed")
		})
	}
	find("every/1000000", whole, 1_000_000, true)
	find("pieces/1000000", whole, 1_000_000, false)
	find("pieces/continuous/1000000", continuous, 1_000_000, false)
	for _, to := range []int{10_000, 100_000, 3_000_000} {
		find("pieces/"+strconv.Itoa(to), whole, to, false)
	}
	for _, n := range []int{2, 6, 12} {
		var plans []*costmodel.Plan
		for i := range n {
			plans = append(plans, whole[i%3])
		}
		find(fmt.Sprintf("scenarios/%d", n), plans, 100_000, false)
	}
}

var updateWork = flag.Bool("update-work", false, "rewrite testdata/counts")

// TestWork counts work instead of time: kernel operations a volume, and volumes costed for all cross-overs. A change of
// these numbers is a change of speed; say why when the file is rewritten (-update-work).
func TestWork(t *testing.T) {
	const file = "../../testdata/counts/crossover.txt"
	var b strings.Builder
	tables := sampleVolumeTables(t)
	for _, continuous := range []bool{false, true} {
		plans := tables.plans(t, costmodel.CompileOptions{ContinuousBatches: continuous})
		words := map[bool]string{false: "whole batches", true: "continuous batches"}[continuous]
		for _, p := range plans {
			pieces := 0
			for w := p.Pieces(1, 100_000); w.Next(); pieces++ {
			}
			fmt.Fprintf(&b, "%s, %s: %d operations a volume, %d pieces in 1 to 100,000\n", p.Scenario.Name, words, p.Runner().Operations(), pieces)
		}
		c, err := study.Crossovers(plans, study.CrossoverAsk{From: 1, To: 100_000, Tolerance: 0.005})
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "all cross-overs in 1 to 100,000, %s: %d volumes costed\n", words, c.Looked)
	}
	if *updateWork {
		if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the work has changed:\n%swant\n%s", b.String(), want)
	}
}
