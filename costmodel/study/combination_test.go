package study_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/plan"
	"piececost/costmodel/study"
)

// gauges gives so many parts of scenario A alternatives in two gauges each, and with presses each tandem step two presses.
func gauges(t testing.TB, parts []string, presses bool) volumeTables {
	t.Helper()
	tables := sampleVolumeTables(t)
	alternative := func(sheet, row string, change func(cells []string, again bool)) {
		lines := strings.Split(strings.TrimRight(tables[sheet], "\n"), "\n")
		for i, l := range lines {
			if strings.HasPrefix(l, row+",") {
				first, second := strings.Split(l, ","), strings.Split(l, ",")
				change(first, false)
				change(second, true)
				lines[i] = strings.Join(first, ",")
				lines = append(lines, strings.Join(second, ","))
				tables[sheet] = strings.Join(lines, "\n") + "\n"
				return
			}
		}
		t.Fatalf("no row %s in %s", row, sheet)
	}
	column := func(sheet, heading string) int {
		head, _, _ := strings.Cut(tables[sheet], "\n")
		for i, h := range strings.Split(head, ",") {
			if strings.HasPrefix(h, heading) {
				return i
			}
		}
		t.Fatalf("no column %s in %s", heading, sheet)
		return -1
	}
	gauge, tag := column("Parts", "Gauge"), column("Parts", "Alternative")
	for _, key := range parts {
		alternative("Parts", key, func(cells []string, again bool) {
			cells[tag] = key + " as drawn"
			if again {
				cells[tag], cells[gauge] = key+" other", "1.1"
			}
		})
	}
	if presses {
		machine, tag := column("Operations", "Machine"), column("Operations", "Alternative")
		alternative("Operations", "A01,20", func(cells []string, again bool) {
			cells[tag] = "tandem"
			if again {
				cells[tag], cells[machine] = "transfer", "E03"
			}
		})
	}
	return tables
}

// TestCombine finds the cheapest of 32 combinations by costing each as a scenario, with and without a limit on mass.
func TestCombine(t *testing.T) {
	m := gauges(t, []string{"A01", "A04", "A05", "A06"}, true).model(t)
	c, ds := m.Combiner(m.Scenarios[0])
	if c == nil {
		t.Fatal(ds)
	}
	type figure struct{ cost, mass float64 }
	all := map[string]figure{}
	c.Each(make([]int, len(c.Tags())), func(in []bool) bool {
		s := c.With(in)
		if p, _ := m.Compile(s, costmodel.CompileOptions{}); p != nil {
			d := p.Detail(60_000).Scenario()
			all[strings.Join(s.Alternatives, ", ")] = figure{d.Must("piece_cost"), d.Must("net_mass")}
		}
		return true
	})
	if len(all) != 32 {
		t.Fatalf("%d combinations", len(all))
	}
	lightest := math.Inf(1)
	for _, f := range all {
		lightest = min(lightest, f.mass)
	}
	// a milligram below the lightest one there is none, a milligram above it some
	for _, limit := range []float64{math.Inf(1), 62, 20, lightest - 1e-6, lightest + 1e-6} {
		got, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: limit, Fixed: make([]int, len(c.Tags())), Keep: 5, Most: 1000})
		if err != nil {
			t.Fatal(err)
		}
		light := 0
		for _, f := range all {
			if f.mass <= limit {
				light++
			}
		}
		if got.Valid != 32 || got.TooHeavy != 32-light || len(got.Best) != min(5, light) {
			t.Errorf("at most %v kg: %d valid, %d too heavy, %d listed; want 32, %d, %d", limit, got.Valid, got.TooHeavy, len(got.Best), 32-light,
				min(5, light))
		}
		for i, b := range got.Best {
			better, notWorse := 0, 0 // equal costs may stand in any order
			for _, f := range all {
				if f.mass <= limit && f.cost < b.Cost-1e-9 {
					better++
				}
				if f.mass <= limit && f.cost < b.Cost+1e-9 {
					notWorse++
				}
			}
			if f := all[strings.Join(b.Tags, ", ")]; better > i || notWorse <= i || f != (figure{b.Cost, b.Mass}) {
				t.Errorf("at most %v kg: %d. %v costs %v; %d cost less", limit, i+1, b.Tags, b.Cost, better)
			}
		}
	}
	fixed := make([]int, len(c.Tags()))
	fixed[c.Tag("Transfer")], fixed[c.Tag("A05 as drawn")] = 1, -1
	got, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Fixed: fixed, Keep: 99, Most: 8})
	if err != nil || got.Valid != 8 || len(got.Best) != 8 {
		t.Errorf("two fixed: %+v, %v", got, err)
	}
	if _, err = study.Combine(t.Context(), c, study.CombinationAsk{Volume: 60_000, Fixed: fixed, Keep: 99, Most: 7}); err == nil {
		t.Error("more than 7 combinations are accepted")
	}
	ctx, stop := context.WithCancel(t.Context())
	_, err = study.Combine(ctx, c, study.CombinationAsk{Volume: 60_000, Fixed: fixed, Keep: 9, Most: 8, Progress: func(float64) { stop() }})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
}

// TestCombineSameRows counts combinations that differ in tags without effect once: two words on the same rows, and a word
// whose rows another brings in as well.
func TestCombineSameRows(t *testing.T) {
	tables := sampleVolumeTables(t)
	tables["Parts"] = strings.Replace(tables["Parts"], "cover skin stamped BH 0.75,,", "cover skin stamped BH 0.75,thick,", 1) +
		`A01,thinner,"thin, trial",sheet,M01,0.65,1760,1340,,97,14,,,invented` + "\n"
	tables["Operations"] = strings.Replace(tables["Operations"], "adhesive application,E13,,,10,1,,,5600",
		`adhesive application,E13,,"sealed, wet",10,1,,,5600`, 1)
	tables["Bill of materials"] = strings.Replace(tables["Bill of materials"], "TRAY_A,P05,1,30,,", "TRAY_A,P05,1,30,wet,", 1)
	tables["Scenarios"] = strings.Replace(tables["Scenarios"], ",,Alternatives,,", ",,Alternatives,thick,", 1)
	m := tables.model(t)
	c, ds := m.Combiner(m.Scenarios[0])
	if c == nil {
		t.Fatal(ds)
	}
	if want := [][]string{{"thin", "trial"}}; !reflect.DeepEqual(c.SameRows(), want) {
		t.Errorf("on the same rows stand %v, want %v", c.SameRows(), want)
	}
	fewest, sizes := map[string]int{}, map[string][]string{} // by rows: the fewest tags, all valid sets of tags
	in := make([]bool, len(c.Tags()))
	for bits := range 1 << len(in) {
		n := 0
		for i := range in {
			in[i] = bits>>i&1 == 1
			n += bits >> i & 1
		}
		c.Reset()
		if !c.Add(in, 60_000) {
			continue
		}
		p, found := m.Compile(c.With(in), costmodel.CompileOptions{})
		if p == nil {
			t.Fatal(found)
		}
		rows := ""
		for e := range p.Entities() {
			if s := p.RowScope(plan.Entity(e)).Name; s == "part" || s == "link" || s == "operation" {
				r := p.RowRecord(plan.Entity(e))
				rows += fmt.Sprint(r.Sheet, r.Row, " ")
			}
		}
		if _, ok := fewest[rows]; !ok || n < fewest[rows] {
			fewest[rows] = n
		}
		sizes[rows] = append(sizes[rows], strings.Join(c.With(in).Alternatives, ", "))
	}
	for _, of := range []struct {
		fixed           map[string]int
		valid, repeated int
	}{{nil, 6, 2}, {map[string]int{"thin": -1}, 6, 2}, {map[string]int{"thin": -1, "trial": -1}, 3, 1}, {map[string]int{"trial": 1}, 3, 1},
		{map[string]int{"thin": 1, "trial": 1}, 3, 1}, {map[string]int{"sealed": 1}, 4, 0}, {map[string]int{"wet": -1}, 4, 0}} {
		fixed := make([]int, len(c.Tags()))
		for name, v := range of.fixed {
			fixed[c.Tag(name)] = v
		}
		got, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Fixed: fixed, Keep: 20, Most: 100})
		if err != nil {
			t.Fatal(err)
		}
		if got.Valid != of.valid || got.Repeated != of.repeated || len(got.Best) != of.valid {
			t.Errorf("%v: %d valid, %d repeated, %d listed; want %d, %d", of.fixed, got.Valid, got.Repeated, len(got.Best), of.valid, of.repeated)
		}
		if of.fixed != nil {
			continue
		}
		if len(fewest) != of.valid {
			t.Errorf("%d sets of rows, %d combinations", len(fewest), of.valid)
		}
		for rows, names := range sizes {
			listed := 0
			for _, b := range got.Best {
				if slices.Contains(names, strings.Join(b.Tags, ", ")) {
					listed++
					if len(b.Tags) != fewest[rows] {
						t.Errorf("%v is listed, though %d of %v do", b.Tags, fewest[rows], names)
					}
				}
			}
			if listed != 1 {
				t.Errorf("of %v %d are listed", names, listed)
			}
		}
	}
	if _, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Fixed: make([]int, len(in)), Keep: 1,
		Most: 7}); err == nil {
		t.Error("more than 7 combinations are accepted")
	}
}

// overlapping gives so many parts of scenario A two gauges each, and tags that bring one step in alike: without any, with
// the one or with the other.
func overlapping(t testing.TB, parts []string) *costmodel.Model {
	t.Helper()
	tables := gauges(t, parts, false)
	for _, r := range [][3]string{
		{"Operations", "adhesive application,E13,,,10,1,,,5600", `adhesive application,E13,,"sealed, wet",10,1,,,5600`},
		{"Bill of materials", "TRAY_A,P05,1,30,,", "TRAY_A,P05,1,30,wet,"},
	} {
		if !strings.Contains(tables[r[0]], r[1]) { // the first one is of scenario A
			t.Fatalf("no %q in %s", r[1], r[0])
		}
		tables[r[0]] = strings.Replace(tables[r[0]], r[1], r[2], 1)
	}
	return tables.model(t)
}

// TestCombineRemembersLittle: what is remembered to find repeated combinations is at most 60 bytes each, so that five
// million, the most that combine costs, need 300 MB at most.
func TestCombineRemembersLittle(t *testing.T) {
	m := overlapping(t, manyParts[:13])
	c, ds := m.Combiner(m.Scenarios[0])
	if c == nil {
		t.Fatal(ds)
	}
	// what a combiner compiles at its first question is the same for any number of combinations
	if _, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 50_000, MaxMass: math.Inf(1), Fixed: make([]int, len(c.Tags())), Keep: 1,
		Most: 1 << 20}); err != nil {
		t.Fatal(err)
	}
	before := heap()
	got, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Fixed: make([]int, len(c.Tags())), Keep: 1,
		Most: 1 << 20})
	if err != nil || got.Valid != 3<<13 || got.Repeated != 1<<13 {
		t.Fatal(got, err)
	}
	each := float64(heap()-before) / float64(got.Valid)
	runtime.KeepAlive(c)
	t.Logf("%.0f bytes a combination", each)
	if each > 60 || each < 16 {
		t.Errorf("%.0f bytes a combination", each)
	}
}

// heap is how many bytes are in use.
func heap() int64 {
	var s runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&s)
	return int64(s.HeapAlloc)
}

// TestCombineTagOfScenario: a scenario's change gives a step a tag that no sheet has, and another step one of the sheet;
// each then brings its step in, and costs of combinations are those of scenarios.
func TestCombineTagOfScenario(t *testing.T) {
	const heading = "Part,Operation,Process,Machine,Alternative,Load and process time [s],Set-up time [h],Batch size,Consumables per piece [INR],Tool " +
		"price [INR],Tool life [cycles]\n"
	plans := read(t, lines, [3]string{"operations.csv", lines["operations.csv"], heading +
		"A,10,timed operation,M1,,1,0,1,6.00,12000,100000000\nA,20,timed operation,M1,extra,1,0,1,1,0,100000000\n" +
		"A,30,timed operation,M1,more,1,0,1,2,0,100000000\nB,10,timed operation,M1,,1,0,1,1.20,48000,100000000\n"},
		[3]string{"scenarios.csv", "7500,7500\n", "7500,7500\n,,Alternatives,Fast,\nOperations,A/30,Alternative,\"fast, extra\",\n"})
	c, ds := plans[0].Model.Combiner(plans[0].Scenario)
	if c == nil {
		t.Fatal(ds)
	}
	if got := fmt.Sprint(c.Tags()); got != "[extra fast]" || c.Tag("FAST") != 1 {
		t.Errorf("tags %s", got)
	}
	got, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 7500, MaxMass: math.Inf(1), Fixed: make([]int, len(c.Tags())), Keep: 5, Most: 100})
	if err != nil {
		t.Fatal(err)
	}
	var best []string
	for _, b := range got.Best {
		best = append(best, fmt.Sprintf("%v %.4f", b.Tags, b.Cost))
	}
	// 6.00 and 12,000/7,500 a piece; with fast 2.00 more, with extra 1.00 + 2.00, and fast is then without effect
	if want := "[[] 7.6000 [fast] 9.6000 [extra] 10.6000]"; fmt.Sprint(best) != want || got.Valid != 3 {
		t.Errorf("%d valid: %v, want %s", got.Valid, best, want)
	}
}

// TestCombineWithTargets finds those of 32 combinations that meet the sheet Targets by judging each as a scenario: of the
// scenario with a value of its own, of a part that stands in two rows, of one in no combination, and a stated value.
func TestCombineWithTargets(t *testing.T) {
	tables := gauges(t, []string{"A01", "A04", "A05", "A06"}, true)
	tables["Targets"] = "Quantity,Part,Unit,Direction,Target,A baseline\n" +
		"Piece cost,,EUR,at most,100,185\n" + "Net mass,A04,kg,at most,17,\n" + "Net mass,TRAY_B,kg,at most,1,\n" + "Bending stiffness,,kN/mm,at least,12,3\n"
	m := tables.model(t)
	c, ds := m.Combiner(m.Scenarios[0])
	if c == nil {
		t.Fatal(ds)
	}
	best, met := math.Inf(1), 0
	c.Each(make([]int, len(c.Tags())), func(in []bool) bool {
		p, _ := m.Compile(c.With(in), costmodel.CompileOptions{})
		if p == nil {
			return true
		}
		d := p.Detail(60_000)
		for _, target := range m.Targets {
			if !target.Stated && target.Judge(d).Verdict == costmodel.Missed {
				return true
			}
		}
		met++
		best = min(best, d.Scenario().Must("piece_cost"))
		return true
	})
	if met == 0 || met == 32 {
		t.Fatalf("%d of 32 meet the targets; they should tell combinations apart", met)
	}
	shares := []float64{}
	ask := study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Targets: true, Fixed: make([]int, len(c.Tags())), Keep: 99, Most: 1000,
		Progress: func(done float64) { shares = append(shares, done) }}
	got, err := study.Combine(t.Context(), c, ask)
	if err != nil {
		t.Fatal(err)
	}
	if got.Valid != 32 || got.Missing != 32-met || len(got.Best) != met {
		t.Fatalf("%d valid, %d miss a target, %d listed; want 32, %d, %d", got.Valid, got.Missing, len(got.Best), 32-met, met)
	}
	if got.Best[0].Cost != best {
		t.Errorf("the cheapest costs %v, want %v", got.Best[0].Cost, best)
	}
	for i, s := range shares {
		if s < 0 || s > 1 || i > 0 && s < shares[i-1] {
			t.Errorf("shares done %v", shares)
		}
	}
	ask.Targets = false
	if got, err = study.Combine(t.Context(), c, ask); err != nil || got.Missing != 0 || len(got.Best) != 32 {
		t.Fatal(got, err)
	}
	missed := 0
	for _, b := range got.Best {
		if len(b.Missed) > 0 {
			missed++
		}
	}
	if missed != 32-met {
		t.Errorf("%d are listed as missing a target, want %d", missed, 32-met)
	}
}

// manyParts are parts of scenario A of which each is bought in one gauge.
var manyParts = []string{"A01", "A02", "A03", "A04", "A05", "A06", "A07", "A08", "A09", "A10", "A11", "A12", "A13", "A14", "TRAY_A", "FLOOR_A"}

// BenchmarkCombineOverlap costs 196,608 combinations and finds 65,536 more to be repeated.
func BenchmarkCombineOverlap(b *testing.B) {
	m := overlapping(b, manyParts)
	for b.Loop() {
		c, ds := m.Combiner(m.Scenarios[0])
		if c == nil {
			b.Fatal(ds)
		}
		got, err := study.Combine(b.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Fixed: make([]int, len(c.Tags())),
			Keep: 10, Most: 1 << 20})
		if err != nil || got.Repeated != 1<<16 {
			b.Fatal(got, err)
		}
	}
}

// BenchmarkCombine costs 131,072 combinations at one volume.
func BenchmarkCombine(b *testing.B) {
	m := gauges(b, manyParts, true).model(b)
	for b.Loop() {
		c, ds := m.Combiner(m.Scenarios[0])
		if c == nil {
			b.Fatal(ds)
		}
		got, err := study.Combine(b.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Fixed: make([]int, len(c.Tags())),
			Keep: 10, Most: 1 << 20})
		if err != nil || got.Valid != 1<<17 {
			b.Fatal(got, err)
		}
		b.ReportMetric(float64(c.Operations()), "ops/block")
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N), "s/131072-combinations")
}

// TestCombineCovers: of one sub-assembly for another, with an extra beside them, the cheapest has one of the two; the costs are
// those of the four scenarios that list them.
func TestCombineCovers(t *testing.T) {
	tables := sampleVolumeTables(t)
	tables["Bill of materials"] = strings.NewReplacer("TRAY_A,COVER_A,1,30,,", "TRAY_A,COVER_A,1,30,old cover,", "TRAY_A,P05,1,30,,",
		"TRAY_A,P05,1,30,drain,").Replace(tables["Bill of materials"]) + "TRAY_A,COVER_C,1,30,thin cover,invented\n"
	tables["Scenarios"] = strings.Replace(tables["Scenarios"], ",,Alternatives,,", `,,Alternatives,"old cover, drain",`, 1)
	m := tables.model(t)
	c, ds := m.Combiner(m.Scenarios[0])
	if c == nil {
		t.Fatal(ds)
	}
	want := []float64{}
	for _, list := range [][]string{{"old cover"}, {"old cover", "drain"}, {"thin cover"}, {"thin cover", "drain"}} {
		s := *m.Scenarios[0]
		s.Alternatives = list
		p, found := m.Compile(&s, costmodel.CompileOptions{})
		if p == nil {
			t.Fatal(found)
		}
		want = append(want, p.Detail(60_000).Scenario().Must("piece_cost"))
	}
	slices.Sort(want)
	got, err := study.Combine(t.Context(), c, study.CombinationAsk{Volume: 60_000, MaxMass: math.Inf(1), Fixed: make([]int, len(c.Tags())), Keep: 10,
		Most: 100})
	if err != nil || got.Valid != 4 {
		t.Fatalf("%+v, %v", got, err)
	}
	for i, b := range got.Best {
		if math.Abs(b.Cost-want[i]) > 1e-9*want[i] {
			t.Errorf("%d. %v costs %v, want %v", i+1, b.Tags, b.Cost, want[i])
		}
	}
}
