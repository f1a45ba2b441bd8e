package study_test

import (
	"flag"
	"fmt"
	"os"
	"runtime"
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
				c, _ = study.Crossovers(b.Context(), plans, study.CrossoverAsk{From: 1, To: to, Tolerance: 0.005, EveryVolume: every})
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

// BenchmarkLargeCrossovers finds the cross-overs of a case of which some step is set up once more at almost every volume:
// walking from jump to jump alone, costing every volume on one core and on all, and as the study chooses. One run is to be
// compared in itself; all are in ns a volume and three scenarios.
func BenchmarkLargeCrossovers(b *testing.B) {
	const from, walked, to = 20_001, 30_000, 69_152 // eight spans
	plans := largeVolumeTables(b, 500).plans(b, costmodel.CompileOptions{})
	per := func(b *testing.B, to int) {
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(to-from+1), "ns/volume")
	}
	b.Run("walk", func(b *testing.B) {
		for b.Loop() {
			for _, p := range plans {
				for w := p.Pieces(from, walked); w.Next(); {
				}
			}
		}
		per(b, walked)
	})
	for _, every := range []bool{true, false} {
		for _, cores := range []int{1, runtime.GOMAXPROCS(0)} {
			b.Run(fmt.Sprintf("every=%v/cores=%d", every, cores), func(b *testing.B) {
				defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
				for b.Loop() {
					if _, err := study.Crossovers(b.Context(), plans, study.CrossoverAsk{From: from, To: to, Tolerance: 0.005,
						EveryVolume: every}); err != nil {
						b.Fatal(err)
					}
				}
				per(b, to)
			})
		}
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
			fmt.Fprintf(&b, "%s, %s: %d operations a volume, %d for the piece cost alone, %d pieces in 1 to 100,000\n",
				p.Scenario.Name, words, p.Runner().Operations(), p.CostRunner(1).Operations(), pieces)
		}
		c, err := study.Crossovers(t.Context(), plans, study.CrossoverAsk{From: 1, To: 100_000, Tolerance: 0.005})
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "all cross-overs in 1 to 100,000, %s: %d volumes costed\n", words, c.Looked)
	}
	large := largeVolumeTables(t, 500).plans(t, costmodel.CompileOptions{})
	c, err := study.Crossovers(t.Context(), large, study.CrossoverAsk{From: 20_001, To: 40_000, Tolerance: 0.005})
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&b, "500 more parts in small batches: %d operations a volume for the piece cost of %s, %d of 20,000 volumes costed\n",
		large[0].CostRunner(1).Operations(), large[0].Scenario.Name, c.Looked)
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
