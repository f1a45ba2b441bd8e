package scenarios

import (
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/kernel"
)

// An opponent costs scenario A of the sample in another way than the engine, volume by volume.
type opponent struct {
	name string
	cost func(volume float64) [12]float64
	turn int // volumes that take about as long as a block of the engine
}

// opponents are plain Go that computes everything anew, plain Go with what depends on inputs only computed once, and the
// same on the expression library's virtual machine. TestEngineEqualsPlainGo and TestExpressionMachineEqualsPlainGo hold
// them to the engine's results.
func opponents(b *testing.B) []opponent {
	c := newPlainCase(b, "TRAY_A")
	h := hoist(c)
	return []opponent{{"naive", c.cost, 32}, {"hoisted", h.cost, 512}, {"expression-vm", newExprCase(b, h).cost, 4}}
}

// volumeAt is the i-th volume of the benchmarks: all sizes, none twice in a row.
func volumeAt(i int) float64 { return float64(1000 + i%100000) }

// costBlock has a runner cost the block of volumes that begins with the i-th.
func costBlock(r *costmodel.Runner, i int) {
	volumes := r.Volumes()
	for j := range volumes {
		volumes[j] = volumeAt(i + j)
	}
	columns = r.Block(kernel.Lanes)
}

// BenchmarkVolume prints ns per volume of scenario A, by the engine and by its opponents. BenchmarkRatios compares them
// side by side.
func BenchmarkVolume(b *testing.B) {
	for _, o := range opponents(b) {
		b.Run(o.name, func(b *testing.B) {
			for i := 0; b.Loop(); i++ {
				sink = o.cost(volumeAt(i))
			}
			perVolume(b, 1)
		})
	}
	r := samplePlan(b, sampleModel(b), "A").Runner()
	b.Run("engine", func(b *testing.B) {
		b.ReportAllocs()
		for i := 0; b.Loop(); i += kernel.Lanes {
			costBlock(r, i)
		}
		perVolume(b, kernel.Lanes)
		b.ReportMetric(float64(r.Operations()), "ops/block")
	})
}

var (
	sink    [12]float64
	columns [][]float64
)

func perVolume(b *testing.B, lanes int) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*lanes), "ns/volume")
}

// BenchmarkEveryVolume costs every whole volume from 1 to 300,000 for all three scenarios.
func BenchmarkEveryVolume(b *testing.B) {
	m := sampleModel(b)
	var runners []*costmodel.Runner
	for _, design := range []string{"A", "B", "C"} {
		runners = append(runners, samplePlan(b, m, design).Runner())
	}
	for b.Loop() {
		for _, r := range runners {
			costWhole(r, 300_000)
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/all-volumes")
}

// costWhole has a runner cost every whole volume from 1 to another.
func costWhole(r *costmodel.Runner, to int) {
	for from := 1; from <= to; from += kernel.Lanes {
		volumes := r.Volumes()
		n := min(kernel.Lanes, to-from+1)
		for j := 0; j < n; j++ {
			volumes[j] = float64(from + j)
		}
		columns = r.Block(n)
	}
}

// TestBlockAllocatesNothing holds the promise of Runner.
func TestBlockAllocatesNothing(t *testing.T) {
	r := samplePlan(t, sampleModel(t), "A").Runner()
	for i := range r.Volumes() {
		r.Volumes()[i] = float64(1 + i)
	}
	if n := testing.AllocsPerRun(10, func() { columns = r.Block(kernel.Lanes) }); n != 0 {
		t.Errorf("%v allocations a block", n)
	}
}
