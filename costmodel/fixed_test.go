package costmodel

import (
	"fmt"
	"strings"
	"testing"
)

// longRoute is the sample with a part of so many more steps.
func longRoute(t testing.TB, steps int) csvCase {
	t.Helper()
	c := sampleTables(t)
	var row string
	for _, l := range strings.Split(c["Operations"], "\n") {
		if strings.HasPrefix(l, "A01,20,") {
			row = l
		}
	}
	var b strings.Builder
	for i := range steps {
		fmt.Fprintln(&b, strings.Replace(row, "A01,20,", fmt.Sprintf("A01,%d,", 1000+i), 1))
	}
	c["Operations"] = strings.TrimRight(c["Operations"], "\n") + "\n" + b.String()
	return c
}

// TestFixRows fixes an input of many rows: each row has its value, rows of other scopes and other inputs have what they had.
func TestFixRows(t *testing.T) {
	m := longRoute(t, 40).model(t)
	p := mustCompile(t, m, m.Scenarios[0], CompileOptions{})
	v, d := p.InputOf(Input{Sheet: "Operations", Row: "A01/*", Column: "Load and process time", By: ByFactor})
	if d != nil {
		t.Fatal(d)
	}
	list := p.FixInput(&v, 3)
	fixed, ds := p.With(append(list, Fixed{Scope: "machine", Quantity: "price", Row: list[0].Row, Value: 1})...)
	if fixed == nil {
		t.Fatal(ds)
	}
	before, after := p.Detail(60_000), fixed.Detail(60_000)
	moved := 0
	for e := range p.graph.rows {
		r := &p.graph.rows[e]
		if n, ok := r.scope.index["load_and_process_time"]; ok && r.scope.Name == "operation" {
			want := before.values[r.first+n]
			if r.rec.Text("part") == "A01" {
				want *= 3
				moved++
			}
			near(t, p.RowLabel(int32(e)), after.values[r.first+n], want, 1e-15)
		}
		if n, ok := r.scope.index["price"]; ok && r.scope.Name == "machine" {
			near(t, p.RowLabel(int32(e)), after.values[r.first+n], before.values[r.first+n], 0)
		}
	}
	if moved != len(list) || moved < 42 {
		t.Errorf("%d operations moved, %d fixed", moved, len(list))
	}
}

// BenchmarkFixRows finds an input of a route's every step and fixes it; the time a step should not grow with their number.
func BenchmarkFixRows(b *testing.B) {
	for _, steps := range []int{1000, 10_000} {
		m := longRoute(b, steps).model(b)
		p := mustCompile(b, m, m.Scenarios[0], CompileOptions{})
		b.Run(fmt.Sprintf("operations=%d", steps), func(b *testing.B) {
			for b.Loop() {
				v, d := p.InputOf(Input{Sheet: "Operations", Row: "A01/*", Column: "Load and process time", By: ByFactor})
				if d != nil {
					b.Fatal(d)
				}
				g := &graph{model: m, rows: p.graph.rows}
				if g.fix(p.FixInput(&v, 1.1)); len(g.fixed) < steps {
					b.Fatal(len(g.fixed))
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(steps), "ns/step")
		})
	}
}
