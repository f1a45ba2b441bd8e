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
	"piececost/costmodel/table"
	"piececost/scenarios/results"
)

// massCase is a change of cost and mass with what is to be said of it, written by hand from the rule: below a gram and below a
// thousandth of a coin there is no change, and a kilogram has no price where both fall or both rise.
type massCase struct {
	cost, grams, worth float64 // EUR more expensive, g saved, EUR/kg
	verdict, price     string
	parity             string
}

var massCases = []massCase{
	{0, 0, 0, "same mass and same cost", "–", "holds"},
	{0.29, 0.15, 0, "same mass and more expensive", "–", "missed"}, // once 1952.19 EUR per kilogram when recalculated
	{-0.29, 0.15, 0, "same mass and cheaper", "–", "holds"},
	{0.29, -0.15, 0, "same mass and more expensive", "–", "missed"},
	{-0.29, -0.15, 0, "same mass and cheaper", "–", "holds"},
	{2, 0.999, 0, "same mass and more expensive", "–", "missed"},
	{2, 1, 0, "lighter and more expensive", "2000", "missed"},
	{2, 1.001, 0, "lighter and more expensive", "1998.001998", "missed"},
	{2, -0.999, 0, "same mass and more expensive", "–", "missed"},
	{2, -1.001, 0, "heavier and more expensive", "–", "missed"},
	{-2, 1.001, 0, "lighter and cheaper", "–", "holds"},
	{-2, -1.001, 0, "heavier and cheaper", "1998.001998", "holds"},
	{10, 2000, 5, "lighter and more expensive", "5", "holds"},
	{10, 2000, 4.99, "lighter and more expensive", "5", "missed"},
	{-10, -2000, 6, "heavier and cheaper", "5", "missed"},
	{0.0000099, 2000, 0, "lighter and same cost", "0", "holds"},
	{0.0000101, 2000, 0, "lighter and more expensive", "0.00000505", "missed"},
	{-0.0000099, -2000, 0, "heavier and same cost", "0", "holds"},
	{-0.0000101, -2000, 0, "heavier and cheaper", "0.00000505", "holds"},
	{0.00001, 2000, 0, "lighter and more expensive", "0.000005", "missed"}, // at the threshold itself
	{-0.00001, 2000, 0, "lighter and cheaper", "–", "holds"},
	{-2, -1, 0, "heavier and cheaper", "2000", "holds"},
	{0.0000099, 0.999, 0, "same mass and same cost", "–", "holds"},
	{0.0000101, 0.15, 0, "same mass and more expensive", "–", "missed"},
}

// said is what a comparison says of a case, as a spreadsheet would show it, the lighter scenario of a pair weighing so much and
// the base costing so much.
func (m massCase) said(c *costmodel.Comparison, cost, mass float64) (verdict, price, parity string, margin float64) {
	v := study.JudgeMass(c, "EUR", map[costmodel.ComparedName]float64{costmodel.BaseCost: cost, costmodel.OtherCost: cost + m.cost,
		costmodel.BaseMass: mass + m.grams/1000, costmodel.OtherMass: mass, costmodel.MassValue: m.worth})
	price = "–"
	if !math.IsNaN(v.PerKilogram) {
		price = strconv.FormatFloat(v.PerKilogram, 'g', -1, 64)
	}
	return v.Case, price, word(v.Parity.Holds, "holds", "missed"), v.Parity.Margin
}

func word(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// missed tries a comparison with a scenario of nothing, where thresholds are met exactly, and with one of some cost and mass.
func (m massCase) missed(c *costmodel.Comparison) string {
	if miss := m.misses(m.said(c, 0, 0)); miss != "" || m.atThreshold() {
		return miss
	}
	return m.misses(m.said(c, 100, 20))
}

// atThreshold tells whether adding the change to something would lose what is exactly at a threshold.
func (m massCase) atThreshold() bool {
	return math.Abs(m.cost) == 0.00001 || math.Abs(m.grams) == 1 || m.cost == m.worth*m.grams/1000
}

// misses compares what is said with what is to be said.
func (m massCase) misses(verdict, price, parity string, margin float64) string {
	want := m.worth*m.grams/1000 - m.cost
	if verdict != m.verdict || parity != m.parity || !samePrice(price, m.price) || math.Abs(margin-want) > 1e-11 {
		return fmt.Sprintf("%v EUR, %v g, %v EUR/kg: %s, %s, %s with %v left; want %s, %s, %s with %v", m.cost, m.grams, m.worth, verdict, price, parity,
			margin, m.verdict, m.price, m.parity, want)
	}
	return ""
}

func samePrice(a, b string) bool {
	x, err1 := strconv.ParseFloat(a, 64)
	y, err2 := strconv.ParseFloat(b, 64)
	if err1 != nil || err2 != nil {
		return a == b
	}
	return math.Abs(x-y) <= 1e-8*math.Abs(y)
}

// TestMassCases: what studies, terminal and JSON say.
func TestMassCases(t *testing.T) {
	c := sampleModel(t).Schema.Comparison
	for _, m := range massCases {
		if miss := m.missed(c); miss != "" {
			t.Error(miss)
		}
	}
}

// TestMassCasesMutated changes each equation, threshold and condition of the comparison in turn: some case must notice.
func TestMassCasesMutated(t *testing.T) {
	lib := testLibrary(t)
	m := sampleModel(t)
	file := lib.Comparison
	items := &costmodel.Library{Scopes: []*costmodel.Template{file}}
	k := newMutator(items, m.Schema.Units)
	noticed, refused := 0, 0
	try := func(what string, change func(*costmodel.Template)) {
		broken, changed := *lib, *file
		changed.Items = append([]costmodel.Item(nil), file.Items...)
		changed.Verdict = nil
		for _, part := range file.Verdict {
			changed.Verdict = append(changed.Verdict, append([]costmodel.ComparisonCase(nil), part...))
		}
		change(&changed)
		broken.Comparison = &changed
		c := costmodel.New(m.Case, &broken).Schema.Comparison
		if c == nil {
			refused++
			return
		}
		for _, x := range massCases {
			if x.missed(c) != "" {
				noticed++
				return
			}
		}
		t.Error("nothing notices " + what)
	}
	for _, u := range k.all() {
		try(u.item+": "+u.text, func(c *costmodel.Template) {
			c.Items[slices.IndexFunc(c.Items, func(it costmodel.Item) bool { return it.Name == u.item })].Is = u.text
		})
	}
	for i, part := range file.Verdict {
		for n, x := range part {
			base := mutant{file: file.File, scope: file.Scope, item: x.Name, text: x.When, condition: true}
			for _, u := range k.ofEquation(base) {
				try("verdict "+u.item+": "+u.text, func(c *costmodel.Template) { c.Verdict[i][n].When = u.text })
			}
		}
	}
	if noticed < 60 {
		t.Errorf("only %d noticed, %d refused", noticed, refused)
	}
	t.Logf("%d noticed, %d refused", noticed, refused)
}

// TestMassCasesRecalculated has an independent program compute the formulas that sheets write, over the same cases.
func TestMassCasesRecalculated(t *testing.T) {
	of := resultOfSample(t).Details[0].Plan.Model.Schema.Comparison
	f := excelize.NewFile()
	defer f.Close()
	path := filepath.Join(t.TempDir(), "mass.xlsx")
	for i, m := range massCases {
		row := i + 1
		cells := results.NewMassCells(of, fmt.Sprintf("A%d", row), fmt.Sprintf("B%d", row), fmt.Sprintf("C%d", row))
		for n, v := range []float64{m.cost, m.grams / 1000, m.worth} {
			if err := f.SetCellValue("Sheet1", fmt.Sprintf("%c%d", 'A'+n, row), v); err != nil {
				t.Fatal(err)
			}
		}
		v := &study.MassVerdict{}
		for n, write := range []func(*study.MassVerdict) (string, any){cells.VerdictCell, cells.PriceCell, cells.ParityCell, cells.MarginCell} {
			formula, _ := write(v)
			if err := f.SetCellFormula("Sheet1", fmt.Sprintf("%c%d", 'D'+n, row), formula); err != nil {
				t.Fatal(err)
			}
		}
	}
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	got := formulaCells(t, recomputed(t, path))
	for i, m := range massCases {
		text := func(col string) string { return got[fmt.Sprintf("Sheet1!%s%d", col, i+1)].Value }
		margin, err := strconv.ParseFloat(text("G"), 64)
		if err != nil {
			t.Fatal(err)
		}
		if miss := m.misses(text("D"), text("E"), text("F"), margin); miss != "" {
			t.Error(miss)
		}
	}
}

func resultOfSample(t *testing.T) *Result {
	t.Helper()
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	saveSample(t, path)
	return resultOf(t, path)
}

// TestMassSavedNearNothing writes a workbook of one design with gauges that change its mass by some tenths of a gram, by just
// less and just more than a gram: terminal, Summary, Scenario comparison and statement say the same, and do so when recalculated.
func TestMassSavedNearNothing(t *testing.T) {
	perMillimetre := massOfGauge(t, "0.76", "0.75")[1] * 100 // kg
	grams := []float64{0, 0.15, 0.999, 1.001, -0.15, -1.001}
	wanted := []string{"", "same mass and cheaper", "same mass and cheaper", "lighter and cheaper", "same mass and more expensive",
		"heavier and more expensive"}
	var gauges []string
	for _, g := range grams {
		gauges = append(gauges, strconv.FormatFloat(0.75-g/1000/perMillimetre, 'f', 12, 64))
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "near.xlsx")
	saveTables(t, gaugesOf(t, gauges), path)
	r := resultOf(t, path)
	writeLive(t, path)
	again := recomputed(t, path)
	compareFormulas(t, path, again)
	for _, file := range []string{path, again} {
		found := map[string]int{}
		for at, c := range formulaCells(t, file) {
			for i, want := range wanted {
				if i == 0 || !strings.HasPrefix(at, "Summary!"+table.ColumnName(2+i)) && !strings.HasPrefix(at, compareSheet+"!"+table.ColumnName(3+i)) {
					continue
				}
				if strings.Contains(c.Formula, `"lighter"`) {
					sheet, _, _ := strings.Cut(at, "!")
					if found[sheet]++; c.Value != want {
						t.Errorf("%s %s: %s, want %s", filepath.Base(file), at, c.Value, want)
					}
				}
			}
		}
		if found["Summary"] != 5 || found[compareSheet] != 5 {
			t.Errorf("verdicts found: %v", found)
		}
	}
	for i, want := range wanted {
		if i > 0 && (Verdict(r.Details, i).Case != want || r.Compare.Mass[i].Case != want) {
			t.Errorf("%v g: %s, %s, want %s", grams[i], Verdict(r.Details, i).Case, r.Compare.Mass[i].Case, want)
		}
	}
}

// massOfGauge returns the mass saved against the first by each gauge of the cover skin, kg.
func massOfGauge(t *testing.T, gauges ...string) []float64 {
	t.Helper()
	path := filepath.Join(t.TempDir(), "gauge.xlsx")
	saveTables(t, gaugesOf(t, gauges), path)
	var out []float64
	for _, v := range resultOf(t, path).Compare.Mass {
		out = append(out, v.MassSaved)
	}
	return out
}

// gaugesOf is the sample's first design once for each gauge of its cover skin, mm.
func gaugesOf(t *testing.T, gauges []string) fs.FS {
	t.Helper()
	var designs []string
	for range gauges {
		designs = append(designs, "A")
	}
	out := sampleOf(t, designs)
	text := string(out["scenarios.csv"].Data) + "Parts,A01,Gauge," + strings.Join(gauges, ",") + "\n"
	out["scenarios.csv"] = &fstest.MapFile{Data: []byte(text)}
	return out
}
