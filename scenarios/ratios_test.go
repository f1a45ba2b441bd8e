package scenarios

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"piececost/costmodel"
	"piececost/costmodel/kernel"
)

// BenchmarkRatios prints how many times as long as the engine its opponents take for a volume: x-engine. Each is measured
// beside the engine in turns of about the same length, and medians are compared, so that a busy machine is no advantage to
// either.
//
// Naive, hoisted and expression-vm cost scenario A. LibreOffice computes the live workbook of the sample, all three
// scenarios at once or A alone, and is compared with the engine costing the same: x-engine is a sweep of blocks, which
// gives the elements and the piece cost; x-detail is the engine's other way, one volume with all its quantities, which is
// what the sheets show. Its time is of recalculating and reading alone. It can't take turns, so that means are compared.
func BenchmarkRatios(b *testing.B) {
	r := samplePlan(b, sampleModel(b), "A").Runner()
	for _, o := range opponents(b) {
		b.Run(o.name, func(b *testing.B) {
			var p pairs
			for i := 0; b.Loop(); i += kernel.Lanes {
				p.measure(func() {
					for j := range o.turn {
						sink = o.cost(volumeAt(i + j))
					}
				}, func() { costBlock(r, i) })
			}
			b.ReportMetric(0, "ns/op") // a turn of both says nothing
			other, engine := median(p.a)/float64(o.turn), median(p.b)/kernel.Lanes
			b.ReportMetric(other, "ns/volume")
			b.ReportMetric(engine, "engine-ns/volume")
			b.ReportMetric(other/engine, "x-engine")
		})
	}
	for _, c := range []struct{ name, scenarios string }{{"libreoffice-3-scenarios", "ABC"}, {"libreoffice-scenario-A", "A"}} {
		for _, recalculated := range []string{"all", "dependents", "read"} {
			b.Run(c.name+"/"+recalculated, func(b *testing.B) { benchmarkSpreadsheet(b, c.scenarios, recalculated) })
		}
	}
}

// pairs are times of two things done in turns.
type pairs struct{ a, b []time.Duration }

func (p *pairs) measure(a, b func()) {
	start := time.Now()
	a()
	between := time.Now()
	b()
	p.a, p.b = append(p.a, between.Sub(start)), append(p.b, time.Since(between))
}

// median is in nanoseconds.
func median(list []time.Duration) float64 {
	list = slices.Clone(list)
	slices.Sort(list)
	return float64(list[len(list)/2])
}

// mean is in nanoseconds.
func mean(list []time.Duration) float64 {
	sum := 0.0
	for _, d := range list {
		sum += float64(d)
	}
	return sum / float64(len(list))
}

// benchmarkSpreadsheet has LibreOffice recalculate and checks what it read.
func benchmarkSpreadsheet(b *testing.B, scenarios, recalculated string) {
	path := filepath.Join(b.TempDir(), "tray.xlsx")
	saveTables(b, sampleOf(b, strings.Split(scenarios, "")), path)
	plans := compileAll(b, modelOf(b, path))
	writeLive(b, path)
	sweep := spreadsheetSweep{workbook: path, recalculated: recalculated, volumes: costmodel.VolumeRange(1000, 1_000_000, 31)}
	want := make([]*costmodel.Sweep, len(plans))
	for i, p := range plans {
		var err error
		if want[i], err = p.Sweep(sweep.volumes); err != nil {
			b.Fatal(err)
		}
	}
	var engine pairs
	var office, reading []time.Duration
	for b.Loop() {
		measureEngine(&engine, plans)
		swept := sweep.run(b)
		measureEngine(&engine, plans)
		swept.compare(b, want)
		office, reading = append(office, swept.recalculating+swept.reading), append(reading, swept.reading)
	}
	block, detail := mean(engine.a)/kernel.Lanes, mean(engine.b)/detailsATurn
	b.ReportMetric(0, "ns/op") // starting and loading
	b.ReportMetric(mean(office)/1e6, "ms/volume")
	b.ReportMetric(mean(reading)/1e6, "ms-reading/volume")
	b.ReportMetric(block, "engine-ns/volume")
	b.ReportMetric(mean(office)/block, "x-engine")
	b.ReportMetric(mean(office)/detail, "x-detail")
}

// detailsATurn is the number of volumes costed in full in a turn.
const detailsATurn = 20

// measureEngine times the engine on all plans: blocks, and single volumes in full.
func measureEngine(p *pairs, plans []*costmodel.Plan) {
	var runners []*costmodel.Runner
	for _, plan := range plans {
		runners = append(runners, plan.Runner())
	}
	for i := range 100 {
		p.measure(func() {
			for _, r := range runners {
				costBlock(r, i*kernel.Lanes)
			}
		}, func() {
			for j := range detailsATurn {
				for _, plan := range plans {
					detail = plan.Detail(volumeAt(i*kernel.Lanes + j))
				}
			}
		})
	}
}

var detail *costmodel.Detail
