package costmodel

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestPiecesOfTheSample holds the pieces of the sample and of the changed sample, with whole and with continuous batches,
// against the block kernel at every volume to 30,000 and from 1,000,000 on, and the causes against the pieces.
func TestPiecesOfTheSample(t *testing.T) {
	for i, name := range []string{"sample", "changed"} {
		m := []csvCase{sampleTables(t), changedSample(t)}[i].model(t)
		for _, s := range m.Scenarios {
			for _, continuous := range []bool{false, true} {
				p := mustCompile(t, m, s, CompileOptions{ContinuousBatches: continuous})
				pieces, open := comparePieces(t, name+" "+s.Name, p, 1, 30_000)
				comparePieces(t, name+" "+s.Name, p, 1_000_000, 1_003_000)
				t.Logf("%s %s, continuous %v: %d pieces, %d open", name, s.Name, continuous, pieces, open)
				// one changed step has a cycle time that grows with its set-up hours: hours with the square of the volume
				if square := name == "changed" && continuous && s.Name == m.Scenarios[0].Name; (open > 0) != square {
					t.Errorf("%s %s, continuous %v: %d of %d pieces have no form", name, s.Name, continuous, open, pieces)
				}
			}
		}
	}
}

// TestPiecesWithSteps: quantities that jump with set-ups upstream, lots of another firm and price bands have their pieces and causes too.
func TestPiecesWithSteps(t *testing.T) {
	m := steppedSample(t).model(t)
	bands := 0
	for _, s := range m.Scenarios {
		p := mustCompile(t, m, s, CompileOptions{})
		pieces, open := comparePieces(t, s.Name, p, 1, 30_000)
		t.Logf("%s: %d pieces, %d open", s.Name, pieces, open)
		if open > 0 {
			t.Errorf("%s: %d of %d pieces have no form", s.Name, open, pieces)
		}
		for _, n := range []float64{1, 777, 60_000, 1_234_567} {
			if lost := p.Detail(n).Scenario().Must("mass_imbalance"); math.Abs(lost) > 1e-6 {
				t.Errorf("%s at %v: %v kg are neither shipped nor scrap", s.Name, n, lost)
			}
		}
		for _, n := range bandJumps(p, 30_000) {
			bands++
			if said := fmt.Sprint(p.Causes(n, n+1)); !strings.Contains(said, "part P02: purchase price") {
				t.Errorf("%s from %v to %v: %s", s.Name, n, n+1, said)
			}
		}
	}
	if bands < 3 {
		t.Errorf("%d bands were reached", bands)
	}
}

// bandJumps finds the volumes after which the price of P02 is another, by halving.
func bandJumps(p *Plan, to float64) (out []float64) {
	price := func(n float64) float64 {
		for _, part := range p.Detail(n).Entries("part") {
			if part.Record().Key == "P02" {
				return part.Must("purchase_price")
			}
		}
		return 0
	}
	const stride = 2000
	for from := 1.0; from < to; from += stride {
		lo, hi := from, from+stride
		for hi-lo > 1 && price(lo) != price(hi) {
			if middle := math.Floor((lo + hi) / 2); price(middle) == price(lo) {
				lo = middle
			} else {
				hi = middle
			}
		}
		if price(lo) != price(hi) {
			out = append(out, lo)
		}
	}
	return out
}

func comparePieces(t *testing.T, name string, p *Plan, from, to int) (pieces, open int) {
	t.Helper()
	costs := everyCost(p, from, to)
	var last Smooth
	at := from
	for w := p.Pieces(from, to); w.Next(); pieces++ {
		pc := w.Piece()
		if pc.From != at || pc.To < pc.From {
			t.Fatalf("%s: piece %d..%d, not from %d", name, pc.From, pc.To, at)
		}
		for n := pc.From; n <= pc.To && !pc.Cell.Open; n++ {
			if got, want := pc.Cell.At(float64(n)), costs[n-from]; !(math.Abs(got-want) <= pc.Cell.Slack) || pc.Cell.Slack > 1e-9*want {
				t.Fatalf("%s: piece %d..%d at %d: %v, the kernel says %v; slack %v", name, pc.From, pc.To, n, got, want, pc.Cell.Slack)
			}
		}
		if pc.Cell.Open {
			open++
		}
		if pieces > 0 && pieces%40 == 0 && !pc.Cell.Open {
			compareCauses(t, name, p, pc, last)
		}
		last, at = pc.Cell, pc.To+1
	}
	if at != to+1 {
		t.Errorf("%s: pieces end at %d", name, at-1)
	}
	return pieces, open
}

// compareCauses: where the cost jumps there is a cause, and inside a piece there is none.
func compareCauses(t *testing.T, name string, p *Plan, pc *Piece, last Smooth) {
	t.Helper()
	n := float64(pc.From)
	causes := p.Causes(n-1, n)
	if math.Abs(pc.Cell.At(n)-last.At(n)) > 1e-7 && len(causes) == 0 {
		t.Errorf("%s: at %v the cost jumps from %v to %v without a cause", name, n, last.At(n), pc.Cell.At(n))
	}
	if pc.To > pc.From {
		if inside := p.Causes(n, n+1); len(inside) > 0 {
			t.Errorf("%s: at %v, inside a piece: %v", name, n+1, inside)
		}
	}
}

func everyCost(p *Plan, from, to int) []float64 {
	out := make([]float64, 0, to-from+1)
	r := p.Runner()
	for n := from; n <= to; {
		count := min(len(r.Volumes()), to-n+1)
		for i := range count {
			r.Volumes()[i] = float64(n + i)
		}
		out = append(out, r.Block(count)[0][:count]...)
		n += count
	}
	return out
}

// TestContinuousBatches: without rounding, the batches are the pieces over the batch size, and no other count is touched.
func TestContinuousBatches(t *testing.T) {
	m := sampleTables(t).model(t)
	for _, s := range m.Scenarios {
		whole := mustCompile(t, m, s, CompileOptions{}).Detail(41_234).Entries("operation")
		broken := mustCompile(t, m, s, CompileOptions{ContinuousBatches: true}).Detail(41_234).Entries("operation")
		for i := range whole {
			exact := whole[i].Must("produced_quantity") / whole[i].Must("batch_size")
			if b := broken[i].Must("batches"); math.Abs(b-exact) > 1e-9*exact {
				t.Errorf("%s: %v batches, want %v", whole[i].Record().Key, b, exact)
			}
			if b := whole[i].Must("batches"); b != math.Ceil(exact-1e-9) {
				t.Errorf("%s: %v whole batches of %v", whole[i].Record().Key, b, exact)
			}
			if sets := broken[i].Must("sets_for_life"); sets != math.Ceil(sets) {
				t.Errorf("%s: %v tool sets", whole[i].Record().Key, sets)
			}
		}
	}
}

// BenchmarkPieces walks over 1 to 300,000 for the three scenarios of the sample.
func BenchmarkPieces(b *testing.B) {
	m := sampleTables(b).model(b)
	for _, continuous := range []bool{false, true} {
		b.Run(map[bool]string{false: "whole-batches", true: "continuous-batches"}[continuous], func(b *testing.B) {
			pieces := 0
			for b.Loop() {
				for _, s := range m.Scenarios {
					p := mustCompile(b, m, s, CompileOptions{ContinuousBatches: continuous})
					for w := p.Pieces(1, 300_000); w.Next(); pieces++ {
					}
				}
			}
			b.ReportMetric(float64(pieces)/float64(b.N), "pieces")
		})
	}
}
