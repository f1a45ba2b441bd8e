package scenarios

import (
	"fmt"
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// benchmarkRows are three invented trays of other vans and two covers: 40, 44 and 48 kg/m2, of which two have a cost, 100 and
// 4800 * 0.0398 / 2 EUR/m2. The own size of C differs from that of the others.
const benchmarkRows = `Benchmark,Part,Mass [kg],Size,Size unit,Cost [EUR],Source
van K,,80,2,m2,200,invented
van L,,66,1500000,mm2,,invented
van M,,96000 g,2,m2,4800 CZK,invented
own,,,2,m2,,invented
C variant 2,,,2.2,m2,,invented
cover K,A01,12,2,m2,,invented
own,A01,,2,m2,,invented
`

// benchmarked is what is to be said of the sample's scenarios, reckoned by hand from 74.218, 65.969 and 66.018 kg and 186.4717, 195.6186 and
// 182.6210 EUR, the independent figures of the sample (testdata/battery-tray/expected_summary.csv): average 44, deviation 4 and lightest 40 kg/m2;
// average 97.76 and least 95.52 EUR/m2, deviation 4.48 by the root of 2. Each bound is that of the last digit.
var benchmarked = []struct {
	quantity string
	want     [3]float64
	bound    float64
}{
	{"measured_masses", [3]float64{3, 3, 3}, 0},
	{"average_mass_per_size", [3]float64{44, 44, 44}, 1e-12},
	{"lightest_mass_per_size", [3]float64{40, 40, 40}, 1e-12},
	{"heaviest_mass_per_size", [3]float64{48, 48, 48}, 1e-12},
	{"deviation_of_mass_per_size", [3]float64{4, 4, 4}, 1e-12},
	{"measured_costs", [3]float64{2, 2, 2}, 0},
	{"average_cost_per_size", [3]float64{97.76, 97.76, 97.76}, 1e-12},
	{"least_cost_per_size", [3]float64{95.52, 95.52, 95.52}, 1e-12},
	{"highest_cost_per_size", [3]float64{100, 100, 100}, 1e-12},
	{"deviation_of_cost_per_size", [3]float64{3.167838, 3.167838, 3.167838}, 1e-6},
	{"own_mass_per_size", [3]float64{37.109, 32.9845, 30.00818}, 3e-4},
	{"mass_below_average", [3]float64{0.156614, 0.250352, 0.317996}, 1e-5},
	{"mass_below_lightest", [3]float64{0.072275, 0.175388, 0.249795}, 1e-5},
	{"own_cost_per_size", [3]float64{93.23585, 97.8093, 83.00955}, 5e-5},
	{"cost_below_average", [3]float64{0.046278, -0.000504, 0.150884}, 1e-6},
	{"cost_below_least", [3]float64{0.023913, -0.023967, 0.130972}, 1e-6},
}

func benchmarkTables(t testing.TB) fs.FS {
	t.Helper()
	out := sampleFiles(t)
	out["benchmarks.csv"] = &fstest.MapFile{Data: []byte(benchmarkRows)}
	return out
}

// benchmarkMisses compares what a model says of its scenarios with what is to be said; empty where it is the same.
func benchmarkMisses(details []*costmodel.Detail) string {
	views := study.Compare(details, 0).Benchmarks
	if len(views) != 2 || len(details) != 3 {
		return fmt.Sprintf("%d benchmarks of %d scenarios", len(views), len(details))
	}
	for _, c := range benchmarked {
		for i, want := range c.want {
			if v := views[0].Own[i].Number(costmodel.ComparedName(c.quantity)); !(math.Abs(v-want) <= c.bound) {
				return fmt.Sprintf("%s of scenario %d is %v, want %v", c.quantity, i, v, want)
			}
		}
	}
	return ""
}

// TestBenchmarkFigures holds the comparison against figures by hand; a part that a scenario has not is held against nothing.
func TestBenchmarkFigures(t *testing.T) {
	path := filepath.Join(t.TempDir(), "vans.xlsx")
	saveTables(t, benchmarkTables(t), path)
	r := resultOf(t, path)
	if miss := benchmarkMisses(r.Details); miss != "" {
		t.Error(miss)
	}
	cover := r.Compare.Benchmarks[1]
	mass := func(i int) float64 { return cover.Own[i].Number("mass_below_average") }
	if own := r.Details[0].Entries("part"); !(math.Abs(mass(0)-(1-massOf(own, "A01")/12)) < 1e-12) || !math.IsNaN(mass(1)) || !math.IsNaN(mass(2)) {
		t.Errorf("the cover is %v, %v and %v below the other", mass(0), mass(1), mass(2))
	}
	if v := cover.Own[0].Number("cost_below_average"); !math.IsNaN(v) {
		t.Errorf("the cover costs %v less than what has no cost", v)
	}
}

func massOf(entries []costmodel.Entry, key string) float64 {
	for _, l := range entries {
		if l.Record().Key == key {
			return l.Must("net_mass")
		}
	}
	return math.NaN()
}

// TestBenchmarkMutated changes each equation and statistic of benchmarks in turn: the figures by hand must notice.
func TestBenchmarkMutated(t *testing.T) {
	path := filepath.Join(t.TempDir(), "vans.xlsx")
	saveTables(t, benchmarkTables(t), path)
	lib, m := testLibrary(t), modelOf(t, path)
	file := lib.Benchmark
	noticed, refused := 0, 0
	try := func(what string, change func([]costmodel.Item)) {
		broken, changed := *lib, *file
		changed.Items = slices.Clone(file.Items)
		change(changed.Items)
		broken.Benchmark = &changed
		again := costmodel.New(m.Case, &broken)
		if len(again.Benchmarks) == 0 {
			refused++
			return
		}
		var details []*costmodel.Detail
		for _, p := range compileAll(t, again) {
			details = append(details, p.Detail(p.Scenario.Volume))
		}
		if benchmarkMisses(details) == "" {
			t.Error("nothing notices " + what)
		}
		noticed++
	}
	for i, it := range file.Items {
		for _, s := range costmodel.Statistics {
			if it.Statistic != "" && it.Statistic != s {
				try(it.Name+": "+string(s), func(items []costmodel.Item) { items[i].Statistic = s })
			}
		}
	}
	k := newMutator(&costmodel.Library{Scopes: []*costmodel.Template{file}}, m.Schema.Units)
	for _, u := range k.all() {
		try(u.item+": "+u.text, func(items []costmodel.Item) {
			items[slices.IndexFunc(items, func(it costmodel.Item) bool { return it.Name == u.item })].Is = u.text
		})
	}
	if noticed < 60 {
		t.Errorf("only %d noticed", noticed)
	}
	t.Logf("%d noticed, %d refused", noticed, refused)
}

// TestBenchmarksRecalculated: another program comes to the same from poisoned values, and follows an edit of a mass, a cost and an own size
// of the sheet Benchmarks as the program does; another unit asks for a run.
func TestBenchmarksRecalculated(t *testing.T) {
	dir := t.TempDir()
	path, poisoned, edited := filepath.Join(dir, "vans.xlsx"), filepath.Join(dir, "poisoned.xlsx"), filepath.Join(dir, "edited.xlsx")
	saveTables(t, benchmarkTables(t), path)
	writeLive(t, path)
	checkFormulas(t, path)
	poison(t, path, poisoned)
	again := recomputed(t, poisoned)
	compareFormulas(t, path, again)
	if got := belowAverage(t, again); !nearly(got, []float64{0.156614, 0.250352, 0.317996}, 1e-5) {
		t.Errorf("recalculated, mass is below the average by %v", got)
	}
	editWorkbookFile(t, path, edited, inputEdit{cells: map[string]any{"Benchmarks!C2": 104, "Benchmarks!F2": 260, "Benchmarks!D5": 2.5}})
	r := resultOf(t, edited)
	var want []float64
	for _, own := range r.Compare.Benchmarks[0].Own {
		want = append(want, own.Number("mass_below_average"))
	}
	by := recomputed(t, edited)
	if got := belowAverage(t, by); !nearly(got, want, 1e-9) || nearly(got, []float64{0.156614, 0.250352, 0.317996}, 1e-3) {
		t.Errorf("after the edit mass is below the average by %v, want %v", got, want)
	}
	if master := formulaCells(t, by)["Summary!A3"].Value; strings.HasPrefix(master, "RUN AGAIN") || master == "" {
		t.Errorf("after an edit that formulas follow: %q", master)
	}
	for _, e := range []map[string]any{{"Benchmarks!E2": "mm2"}, {"Benchmarks!C3": nil},
		{"Benchmarks!C4": 97}, {"Benchmarks!F3": 100}} {
		editWorkbookFile(t, path, edited, inputEdit{cells: e})
		if master := recomputedSheet(t, edited, summarySheet)["A3"]; !strings.HasPrefix(master, "RUN AGAIN") {
			t.Errorf("after %v: %q", e, master)
		}
	}
}

// belowAverage are the shares by which the scenarios are lighter than the average, of the first benchmark of the comparison sheet.
func belowAverage(t *testing.T, path string) []float64 {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows(compareSheet)
	if err != nil {
		t.Fatal(err)
	}
	at := 1 + slices.IndexFunc(rows, func(row []string) bool { return len(row) > 0 && row[0] == "Mass below average" })
	cells := formulaCells(t, path)
	var out []float64
	for _, col := range []string{"C", "D", "E"} {
		v, err := strconv.ParseFloat(cells[fmt.Sprintf("%s!%s%d", compareSheet, col, at)].Value, 64)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	return out
}

func nearly(got, want []float64, bound float64) bool {
	for i := range want {
		if len(got) != len(want) || !(math.Abs(got[i]-want[i]) <= bound) {
			return false
		}
	}
	return true
}
