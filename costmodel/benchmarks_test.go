package costmodel

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

const benchmarkHead = "Benchmark,Part,Mass [kg],Size,Size unit,Cost [EUR],Source\n"

// TestStatistics holds statistics against certified and other published values.
func TestStatistics(t *testing.T) {
	many := func(a, b float64) (out []float64) { // a mean between two values that alternate
		out = append(out, (a+b)/2)
		for range 500 {
			out = append(out, a, b)
		}
		return out
	}
	for _, c := range []struct {
		name            string
		values          []float64
		mean, deviation float64
		digits          float64
	}{
		// NIST Statistical Reference Datasets, univariate summary statistics; data and certified values from memory, the first four can
		// be checked by hand
		{"NumAcc1", []float64{10000001, 10000003, 10000002}, 10000002, 1, 1e-15},
		{"NumAcc2", many(1.1, 1.3), 1.2, 0.1, 1e-14},
		{"NumAcc3", many(1000000.1, 1000000.3), 1000000.2, 0.1, 1e-9},
		{"NumAcc4", many(10000000.1, 10000000.3), 10000000.2, 0.1, 1e-8},
		// by hand: deviations -2, -1, 0, 1, 2; 10 / 4
		{"one to five", []float64{1, 2, math.NaN(), 3, 4, 5}, 3, math.Sqrt(2.5), 1e-15},
	} {
		if v := AverageStatistic.Of(c.values); math.Abs(v-c.mean) > 1e-15*c.mean {
			t.Errorf("%s: average %v, want %v", c.name, v, c.mean)
		}
		if v := DeviationStatistic.Of(c.values); math.Abs(v-c.deviation) > c.digits*c.deviation {
			t.Errorf("%s: standard deviation %v, want %v", c.name, v, c.deviation)
		}
	}
	none := []float64{math.NaN()}
	for _, s := range Statistics[1:] {
		if !math.IsNaN(s.Of(none)) || !math.IsNaN(s.Of(nil)) {
			t.Errorf("the %s of nothing is a number", s)
		}
	}
	if CountStatistic.Of(none) != 0 || CountStatistic.Of([]float64{2, math.NaN(), 0}) != 2 || !math.IsNaN(DeviationStatistic.Of([]float64{2})) {
		t.Error("numbers are not counted")
	}
	if v := []float64{math.NaN(), 3, -1, 7}; LowestStatistic.Of(v) != -1 || HighestStatistic.Of(v) != 7 {
		t.Error("lowest or highest is another")
	}
}

// benchmarkFindings are the findings of a sheet Benchmarks in the sample, each at its cell.
func benchmarkFindings(t *testing.T, rows string) (string, *Model) {
	t.Helper()
	c := sampleTables(t)
	c["Benchmarks"] = rows
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	m := New(c.read(t), lib)
	var out []string
	for _, d := range m.Diagnostics.Sorted() {
		if d.Place.Sheet == "Benchmarks" {
			out = append(out, fmt.Sprintf("%s %v: %s", d.Place.Cell(), d.Severity, d.Summary))
		}
	}
	return strings.Join(out, "\n"), m
}

// TestBenchmarkUnits: masses, sizes and money in other units and forms of writing come to 40 kg/m2 and 100 EUR/m2, by the definitions of
// units (pound 0.45359237 kg, foot 0.3048 m) and the sample's exchange rate, 0.0398 EUR for a crown.
func TestBenchmarkUnits(t *testing.T) {
	const perPound, perFoot = 0.45359237, 0.3048
	for _, c := range []struct {
		text       string
		kind       string
		mass, cost float64 // per size
	}{
		{benchmarkHead + "x,,80,2,m2,200,\nown,,,2,m2,,", "m2", 40, 100},
		{benchmarkHead + "x,,80 kg,2 m2,,200 EUR,\nown,,,2,m2,,", "m2", 40, 100},
		{benchmarkHead + "x,,80000 g,2000000,mm2,5000 CZK,\nown,,,2,m2,,", "m2", 40, 5000 * 0.0398 / 2},
		{"Benchmark,Mass [lb],Size [ft2]\nx,100,10\nown,,10\n", "m2", 100 * perPound / (10 * perFoot * perFoot), math.NaN()},
		{"Benchmark,Mass [kg],Size [mm],Cost [CZK]\nx,3,1500,1000\nown,,1500,\n", "m", 2, 1000 * 0.0398 / 1.5},
		{"Benchmark,Mass [kg],Size [m3],Size unit\nx,3,1500,l\nown,,1500 l,\n", "m3", 2, math.NaN()},
	} {
		found, m := benchmarkFindings(t, c.text)
		if found != "" || len(m.Benchmarks) != 1 {
			t.Errorf("%s: %d benchmarks, %s", c.text, len(m.Benchmarks), found)
			continue
		}
		b := m.Benchmarks[0]
		mass, cost := b.Figures.Taken("average_mass_per_size"), b.Figures.Taken("average_cost_per_size")
		if b.Size.Text != c.kind || math.Abs(mass-c.mass) > 1e-12*c.mass || math.Abs(cost-c.cost) > 1e-12*c.cost || math.IsNaN(cost) != math.IsNaN(c.cost) {
			t.Errorf("%s: %v kg and %v EUR per %s, want %v and %v per %s", c.text, mass, cost, b.Size.Text, c.mass, c.cost, c.kind)
		}
	}
}

// TestBenchmarkMistakes: each is said at its cell.
func TestBenchmarkMistakes(t *testing.T) {
	const own = "own,,,2,m2,,\n"
	for _, c := range []struct{ rows, want string }{
		{"x,,80,2,m2,,\n" + own, ""},
		{"x,,,2,m2,,\n" + own, "C2 error: the mass of x is missing"},
		{"x,,0,2,m2,,\n" + own, "C2 error: the mass of x is 0, but it must be above 0"},
		{"x,,-3,2,m2,,\n" + own, "C2 error: the mass of x is -3, but it must be above 0"},
		{"x,,heavy,2,m2,,\n" + own, `C2 error: the mass of x: "heavy" is no number`},
		{"x,,80 EUR,2,m2,,\n" + own, `C2 error: the mass of x: "80 EUR" is money [currency], wanted is mass [kg]`},
		{"x,,1e300,2,m2,,\n" + own, "C2 error: the mass of x is 1e+300, beyond what can be computed with"},
		{"x,,80,,m2,,\n" + own, "D2 error: the size of x is missing"},
		{"x,,80,0,m2,,\n" + own, "D2 error: the size of x is 0, but it must be above 0"},
		{"x,,80,2,,,\n" + own, "D2 error: the size of x has no unit"},
		{"x,,80,2,kg,,\n" + own, "E2 error: the size of x is mass [kg], wanted is an area, a length or a volume"},
		{"x,,80,2,m22,,\n" + own, "E2 error: "},
		{"x,,80,2,m2,0,\n" + own, "F2 error: the cost of x is 0, but it must be above 0"},
		{"x,,80,2,m2,,\ny,,80,2,m,,\n" + own, "E3 error: the size of y is length [m], but that of the first row is area [m2]"},
		{"x,,80,2,m2,,\nown,,,2,m,,\n", "E3 error: the size of own is length [m], but that of the first row is area [m2]"},
		{"x,A99,80,2,m2,,\n", `B2 error: part "A99" is not in the sheet Parts`},
		{"x,,80,2,m2,,\nX,,81,2,m2,,\n" + own, "A3 error: X stands twice"},
		{",,80,2,m2,,\n" + own, "A2 error: the row has no name"},
		{"x,,80,2,m2,,\nown,,70,2,m2,,\n", "C3 error: the mass of the own part is computed, but own gives one"},
		{"x,,80,2,m2,,\na BASELINE,,,2,m2,9,\n", "F3 error: the cost of the own part is computed, but a BASELINE gives one"},
		{"x,,80,2,m2,,\n", "A2 warning: the own size of the product is missing in A baseline, B variant 1, C variant 2: not held against the benchmarks"},
		{"x,A01,80,2,m2,,\nB variant 1,A01,,2,m2,,\n",
			"A2 warning: the own size of the part A01 is missing in A baseline, C variant 2: not held against the benchmarks"},
		{own, "A2 warning: the own size of the product is held against nothing"},
		{",,,,,,\n", ""},
	} {
		found, _ := benchmarkFindings(t, benchmarkHead+c.rows)
		if !strings.HasPrefix(found, c.want) || c.want == "" && found != "" || strings.Count(found, "\n") > 0 {
			t.Errorf("%s: %s, want %s", c.rows, found, c.want)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"Benchmark,Mass,Size\nx,80,2 m2\n", "B2 error: the mass of x has no unit"},
		{"Benchmark,Mass [EUR],Size\nx,80,2 m2\n", "B1 error: EUR is money [currency], wanted is mass [kg]"},
		{"Benchmark,Mas [kg],Size\nx,80,2 m2\n", `B1 error: heading "Mas [kg]" is not known`},
		{"Benchmark,Size\nx,2 m2\n", ` error: the sheet has no column "Mass"`},
	} {
		if found, _ := benchmarkFindings(t, c.text); !strings.HasPrefix(found, c.want) {
			t.Errorf("%s: %s, want %s", c.text, found, c.want)
		}
	}
}

// FuzzBenchmarks: no sheet makes the reading panic, and what is read without an error has numbers.
func FuzzBenchmarks(f *testing.F) {
	f.Add(benchmarkHead + "x,,80,2,m2,200,\nown,,,2,m2,,")
	f.Add("Benchmark,Mass [lb],Size [ft2]\nx,100,10\nown,,10\n")
	f.Add("Benchmark,Mass,Size,Size unit,Cost\n,,,,\nx,%,=,,\n")
	lib, err := libraryOfTests()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(rows) == 0 {
			return
		}
		m := New(&table.Case{File: "tables", Tables: []*table.Table{csvTable("Benchmarks", rows)}}, lib)
		for _, b := range m.Benchmarks {
			if b.Figures == nil || !(b.Figures.Taken("average_mass_per_size") > 0) {
				t.Errorf("%q is read without a figure", text)
			}
		}
	})
}

// TestBenchmarkLibrary: a file whose equations mix what is measured and what is own, or whose statistic is no name, is an error when the
// library is loaded.
func TestBenchmarkLibrary(t *testing.T) {
	raw, err := os.ReadFile("../templates/equations/9b-benchmark.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ from, to, want string }{
		{"is: own_mass / own_size", "is: own_mass / measured_size", "mixes a measured part and an own one"},
		{"is: mass_per_size, statistic: average", "is: 2 * mass_per_size, statistic: average", "is a statistic"},
		{"statistic: lowest", "statistic: median", "statistic is one of"},
		{"  own_cost:", "  own_price:", "no own_cost"},
		{"unit: kg/m2, is: measured_mass / measured_size", "unit: kg/m, is: measured_mass / measured_size", "mass_per_size"},
	} {
		files := templatesInMemory(t)
		text := strings.Replace(string(raw), c.from, c.to, 1)
		if text == string(raw) {
			t.Fatalf("no %q", c.from)
		}
		files["equations/9b-benchmark.yaml"].Data = []byte(text)
		if _, err := LoadLibrary(files); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %s", c.to, err, c.want)
		}
	}
}
