package study_test

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"math/rand"
	"os"
	"reflect"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
)

// volumeTables are the tables of the sample as CSV texts, by sheet, to be changed before they are read.
type volumeTables map[string]string

func sampleVolumeTables(t testing.TB) volumeTables {
	t.Helper()
	out := volumeTables{}
	for _, l := range table.Layouts {
		if text, err := fs.ReadFile(os.DirFS("../../templates/samples/battery-tray"), table.Normalise(l.Sheet)+".csv"); err == nil {
			out[l.Sheet] = string(text)
		}
	}
	return out
}

// plans reads the tables and compiles all scenarios.
func (v volumeTables) plans(t testing.TB, o costmodel.CompileOptions) []*costmodel.Plan {
	t.Helper()
	m := v.model(t)
	var out []*costmodel.Plan
	for _, s := range m.Scenarios {
		p, ds := m.Compile(s, o)
		if p == nil {
			t.Fatal(append(ds, m.Diagnostics...))
		}
		out = append(out, p)
	}
	return out
}

// model reads the tables.
func (v volumeTables) model(t testing.TB) *costmodel.Model {
	t.Helper()
	c := &table.Case{File: "tables"}
	for _, l := range table.Layouts {
		rows, err := csv.NewReader(strings.NewReader(v[l.Sheet])).ReadAll()
		if err != nil || rows == nil {
			continue
		}
		c.Tables = append(c.Tables, volumeTable(l.Sheet, rows))
	}
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	return costmodel.New(c, lib)
}

func volumeTable(sheet string, rows [][]string) *table.Table {
	place := func(r, c int) table.Place { return table.Place{Sheet: sheet, Row: r + 1, Col: c + 1} }
	t := &table.Table{Sheet: sheet, Place: table.Place{Sheet: sheet}}
	for c, text := range rows[0] {
		t.Columns = append(t.Columns, table.Column{Heading: text, Place: place(0, c)})
	}
	for r, cells := range rows[1:] {
		row := table.Row{Number: r + 2}
		for c, text := range cells {
			v := table.Value{Kind: table.Text, Text: text, Place: place(r+1, c)}
			if n, err := strconv.ParseFloat(text, 64); err == nil {
				v.Kind, v.Number, v.Text = table.Number, n, ""
			} else if text == "" {
				v.Kind = table.Empty
			}
			row.Cells = append(row.Cells, v)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// bothWays finds the cross-overs by the pieces and by every whole volume; they must be the same.
func bothWays(t *testing.T, name string, plans []*costmodel.Plan, ask study.CrossoverAsk) (*study.Crossover, int) {
	t.Helper()
	ask.EveryVolume = true
	every, err := study.Crossovers(t.Context(), plans, ask)
	if err != nil {
		t.Fatal(err)
	}
	ask.EveryVolume = false
	pieces, err := study.Crossovers(t.Context(), plans, ask)
	if err != nil {
		t.Fatal(err)
	}
	if every.Looked != ask.To-ask.From+1 {
		t.Errorf("%s: looked at %d volumes of %d", name, every.Looked, ask.To-ask.From+1)
	}
	looked := pieces.Looked
	pieces.Looked = every.Looked
	if !reflect.DeepEqual(pieces.Pairs, every.Pairs) {
		t.Errorf("%s: the two ways differ\npieces %+v\nevery  %+v", name, pieces.Pairs, every.Pairs)
	}
	if !sameEnvelope(pieces.Envelope, every.Envelope) {
		t.Errorf("%s: the two ways differ\npieces %+v\nevery  %+v", name, pieces.Envelope, every.Envelope)
	}
	return every, looked
}

// sameEnvelope compares stretches; where a lead is the least or most at several volumes but for rounding, any will do.
func sameEnvelope(a, b []study.CheapestStretch) bool {
	near := func(x, y study.Lead) bool { return math.Abs(x.More-y.More) <= 1e-9*x.Cost }
	for i := range a {
		if len(a) != len(b) || !near(a[i].Least, b[i].Least) || !near(a[i].Most, b[i].Most) {
			return false
		}
		x, y := a[i], b[i]
		x.Least, x.Most, y.Least, y.Most = study.Lead{}, study.Lead{}, study.Lead{}, study.Lead{}
		if x != y {
			return false
		}
	}
	return len(a) == len(b)
}

// TestCrossoversOfTheSample: the two ways agree at every whole volume to 300,000, with whole and continuous batches.
func TestCrossoversOfTheSample(t *testing.T) {
	tables := sampleVolumeTables(t)
	for _, continuous := range []bool{false, true} {
		plans := tables.plans(t, costmodel.CompileOptions{ContinuousBatches: continuous})
		name := fmt.Sprintf("continuous %v", continuous)
		c, looked := bothWays(t, name, plans, study.CrossoverAsk{From: 1, To: 300_000, Tolerance: 0.005})
		changes, bands := 0, 0
		for _, p := range c.Pairs {
			changes += len(p.Changes)
			bands += len(p.Bands)
		}
		t.Logf("%s: %d changes, %d bands, %d stretches; pieces looked at %d volumes", name, changes, bands, len(c.Envelope), looked)
		if looked > 60_000 || changes < 5 || bands < 4 || len(c.Envelope) < 3 {
			t.Errorf("%s: %d changes, %d bands, %d stretches; looked at %d", name, changes, bands, len(c.Envelope), looked)
		}
		checkChanges(t, plans, c)
	}
}

// checkChanges holds each change against the costs of the two volumes, costed alone, and asks for causes where a cost
// moves more than it could slide.
func checkChanges(t *testing.T, plans []*costmodel.Plan, c *study.Crossover) {
	t.Helper()
	cost := func(plan, n int) float64 { return plans[plan].Detail(float64(n)).Scenario().Must("piece_cost") }
	for _, p := range c.Pairs {
		cheaper := p.Cheaper
		for _, ch := range p.Changes {
			other := p.First + p.Second - ch.Cheaper
			if ch.Cheaper == cheaper || cost(ch.Cheaper, ch.Volume) >= cost(other, ch.Volume) || cost(ch.Cheaper, ch.Volume-1) <= cost(other, ch.Volume-1) {
				t.Errorf("pair %d, %d at %d: %d is not cheaper from here", p.First, p.Second, ch.Volume, ch.Cheaper)
			}
			cheaper = ch.Cheaper
			for _, m := range []study.CostMove{ch.First, ch.Second} {
				if slide := 20 * m.Before / float64(ch.Volume); math.Abs(m.After-m.Before) > slide && len(m.Causes) == 0 {
					t.Errorf("at %d a cost goes from %v to %v without a cause", ch.Volume, m.Before, m.After)
				}
			}
		}
	}
}

// TestCrossoversOfRandomCases changes prices, times and batches of the sample at random, so that scenarios come close to
// each other in ever new ways.
func TestCrossoversOfRandomCases(t *testing.T) {
	cases := 12
	if testing.Short() {
		cases = 3
	}
	changes := 0
	for seed := range int64(cases) {
		r := rand.New(rand.NewSource(seed))
		tables := sampleVolumeTables(t)
		spread := 0.25
		if seed%3 > 0 { // one design in three close versions
			spread = 0.002
			product := []string{"TRAY_A", "TRAY_B", "TRAY_C"}[r.Intn(3)]
			tables["Scenarios"] = strings.Replace(tables["Scenarios"], "TRAY_A,TRAY_B,TRAY_C", strings.Join([]string{product, product, product}, ","), 1)
		}
		factor := func() string { return strconv.FormatFloat(1+spread*(2*r.Float64()-1), 'f', 5, 64) }
		var rows strings.Builder
		for _, target := range []string{"Machines,*,Price", "Machines,E11,Crew", "Operations,*,Tool price", "Operations,*,Batch size",
			"Operations,*/10,Tool life", "Parts,*,Gauge"} {
			fmt.Fprintf(&rows, "%s,base * %s,base * %s,base * %s,\n", target, factor(), factor(), factor())
		}
		rules := []string{"shared", "dedicated", "pooled"}
		fmt.Fprintf(&rows, "Machines,\"E02, E12, E16\",Equipment allocation,%[1]s,%[1]s,%[1]s,\n", rules[r.Intn(3)])
		if seed%4 == 0 {
			fmt.Fprintf(&rows, "Operations,*/20,Crew,%.1f,,%.1f,\n", 3*r.Float64(), 3*r.Float64())
		}
		tables["Scenarios"] = strings.Replace(tables["Scenarios"], ",,Description", rows.String()+",,Description", 1)
		plans := tables.plans(t, costmodel.CompileOptions{ContinuousBatches: r.Intn(3) == 0})
		from := 1 + r.Intn(20_000)
		c, _ := bothWays(t, fmt.Sprintf("seed %d", seed), plans, study.CrossoverAsk{From: from, To: from + 60_000, Tolerance: 0.02 * r.Float64()})
		for _, p := range c.Pairs {
			changes += len(p.Changes)
		}
	}
	t.Logf("%d changes in %d cases", changes, cases)
	if changes < 3*cases {
		t.Errorf("only %d changes in %d cases", changes, cases)
	}
}

// TestPublishedCrossovers runs the cross-overs of textbooks (testdata/published, each with its source) through the exact
// search, both ways. Two costs equal at the published quantity itself change order one piece above it.
func TestPublishedCrossovers(t *testing.T) {
	found := 0
	for _, name := range []string{"C10", "C11", "C17", "M08", "E32"} {
		raw, err := txtar.ParseFile("../../testdata/published/" + name + ".txtar")
		if err != nil {
			t.Fatal(err)
		}
		tables := volumeTables{}
		want := ""
		for _, f := range raw.Files {
			for _, l := range table.Layouts {
				if f.Name == table.Normalise(l.Sheet)+".csv" {
					tables[l.Sheet] = string(f.Data)
				}
			}
			if f.Name == "want" {
				want = string(f.Data)
			}
		}
		plans := tables.plans(t, costmodel.CompileOptions{})
		c, _ := bothWays(t, name, plans, study.CrossoverAsk{From: 1, To: 20_000, Tolerance: 0.005})
		for _, m := range crossoverLine.FindAllStringSubmatch(want, -1) {
			lo, _ := strconv.ParseFloat(m[3], 64)
			hi, _ := strconv.ParseFloat(m[4], 64)
			if !crossesBetween(plans, c, strings.Trim(m[1], `"`), strings.Trim(m[2], `"`), lo, hi) {
				t.Errorf("%s: %s: not found: %+v", name, m[0], c.Pairs)
			}
			found++
		}
	}
	if found != 8 {
		t.Errorf("%d published cross-overs", found)
	}
}

var crossoverLine = regexp.MustCompile(`(?m)^cross-over ("[^"]+"|\S+) ("[^"]+"|\S+) between (\S+) and (\S+)$`)

// crossesBetween tells whether the first of two scenarios is cheaper up to a volume in the range and the second after it.
func crossesBetween(plans []*costmodel.Plan, c *study.Crossover, first, second string, lo, hi float64) bool {
	name := func(i int) string { return plans[i].Scenario.Name }
	for _, p := range c.Pairs {
		for _, ch := range p.Changes {
			other := p.First + p.Second - ch.Cheaper
			if name(ch.Cheaper) == second && name(other) == first && float64(ch.Volume) > lo && float64(ch.Volume) <= hi+1 {
				return true
			}
		}
	}
	return false
}

// TestEqualCosts: C10 and C11 are equal at 7,500 and 760 pieces, so the order changes one piece later; scenarios that are
// the same never change it.
func TestEqualCosts(t *testing.T) {
	for name, volume := range map[string]int{"C10": 7501, "C11": 761} {
		raw, err := txtar.ParseFile("../../testdata/published/" + name + ".txtar")
		if err != nil {
			t.Fatal(err)
		}
		tables := volumeTables{}
		for _, f := range raw.Files {
			for _, l := range table.Layouts {
				if f.Name == table.Normalise(l.Sheet)+".csv" {
					tables[l.Sheet] = string(f.Data)
				}
			}
		}
		c, _ := bothWays(t, name, tables.plans(t, costmodel.CompileOptions{}), study.CrossoverAsk{From: 2, To: 9_000})
		if ch := c.Pairs[0].Changes; len(ch) != 1 || ch[0].Volume != volume || c.Pairs[0].Equal {
			t.Errorf("%s: %+v, want one change at %d", name, ch, volume)
		}
		for _, ask := range []study.CrossoverAsk{{From: 2, To: volume - 1}, {From: volume - 1, To: 9_000}} { // equal at one end
			if c, _ := bothWays(t, name, tables.plans(t, costmodel.CompileOptions{}), ask); c.Pairs[0].Equal {
				t.Errorf("%s: equal from %d to %d", name, ask.From, ask.To)
			}
		}
	}
	tables := sampleVolumeTables(t)
	tables["Scenarios"] = strings.Replace(tables["Scenarios"], "TRAY_A,TRAY_B,TRAY_C", "TRAY_A,TRAY_A,TRAY_A", 1)
	c, looked := bothWays(t, "same", tables.plans(t, costmodel.CompileOptions{}), study.CrossoverAsk{From: 1000, To: 50_000})
	for _, p := range c.Pairs {
		if len(p.Changes) > 0 || p.Cheaper != p.First || !p.Equal || len(p.Bands) != 1 || p.Bands[0] != (study.VolumeBand{From: 1000, To: 50_000}) {
			t.Errorf("the same design: %+v", p)
		}
	}
	if looked > 10_000 {
		t.Errorf("the same design: looked at %d volumes", looked)
	}
}

// TestCrossoverEnds: the range must be one, the context ends the work, a cost that is no number is reported.
func TestCrossoverEnds(t *testing.T) {
	tables := sampleVolumeTables(t)
	plans := tables.plans(t, costmodel.CompileOptions{})
	for _, ask := range []study.CrossoverAsk{{From: 0, To: 9}, {From: 9, To: 8}, {From: 1, To: 9, Tolerance: math.NaN()}} {
		if _, err := study.Crossovers(t.Context(), plans, ask); err == nil {
			t.Errorf("%+v is accepted", ask)
		}
	}
	if _, err := study.Crossovers(t.Context(), plans[:1], study.CrossoverAsk{From: 1, To: 9}); err == nil {
		t.Error("one scenario is accepted")
	}
	ctx, stop := context.WithCancel(t.Context())
	last := 0.0
	_, err := study.Crossovers(ctx, plans, study.CrossoverAsk{From: 1, To: 100_000, Progress: func(done float64) {
		if last = done; done > 0.5 {
			stop()
		}
	}})
	if !errors.Is(err, context.Canceled) || last > 0.9 {
		t.Errorf("%v at %v", err, last)
	}
	tables["Operations"] = strings.Replace(tables["Operations"], "E02,,,6.5,1", `E02,,,"""9 s/yr"" * 5000 / (scenario.annual_volume - 5000)",1`, 1)
	_, err = study.Crossovers(t.Context(), tables.plans(t, costmodel.CompileOptions{}), study.CrossoverAsk{From: 4_000, To: 6_000})
	if err == nil || !strings.Contains(err.Error(), "at 5000 per year the piece cost is no number") {
		t.Errorf("dividing by 0: %v", err)
	}
}

// TestCrossoverMemory: the heap in use does not grow with the range.
func TestCrossoverMemory(t *testing.T) {
	plans := sampleVolumeTables(t).plans(t, costmodel.CompileOptions{})
	peak := func(to int) uint64 {
		most, calls := uint64(0), 0
		_, err := study.Crossovers(t.Context(), plans, study.CrossoverAsk{From: 1, To: to, Tolerance: 0.005, Progress: func(float64) {
			if calls++; calls%16 == 1 {
				var m runtime.MemStats
				runtime.GC()
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		return most
	}
	short, long := peak(10_000), peak(400_000)
	t.Logf("%d kB for 10,000 volumes, %d kB for 400,000", short/1000, long/1000)
	if float64(long) > 1.2*float64(short) {
		t.Errorf("the heap grows from %d to %d bytes", short, long)
	}
}
