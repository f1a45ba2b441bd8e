package scenarios

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// addStudies makes the studies of all sheets over the volumes of the sweeps.
func addStudies(t testing.TB, r *Result) {
	t.Helper()
	var plans []*costmodel.Plan
	for _, d := range r.Details {
		plans = append(plans, d.Plan)
	}
	m := plans[0].Model
	if len(plans) > 1 {
		ask := study.CrossoverAsk{From: 5000, To: 300_000, Tolerance: 0.005}
		c, err := study.Crossovers(t.Context(), plans, ask)
		if err != nil {
			t.Fatal(err)
		}
		r.Crossover = &CrossoverStudy{Crossover: c, Tolerance: ask.Tolerance}
		for _, p := range plans {
			s, err := p.Sweep(costmodel.VolumeRange(5000, 300_000, 81))
			if err != nil {
				t.Fatal(err)
			}
			r.Crossover.Curves = append(r.Crossover.Curves, s)
		}
	}
	q := study.Measure{Model: m, Scenario: plans[len(plans)-1].Scenario}
	if len(plans) > 1 {
		q.Against = plans[0].Scenario
	}
	inputs, _ := q.Levers()
	responses, ds := q.RespondApart(t.Context(), inputs)
	if len(responses) == 0 {
		t.Fatal(ds)
	}
	moved := &Sensitivity{Measure: q, Share: 0.1, BaseValue: responses[0].BaseValue(), Elasticities: responses[0].Elasticities()}
	for _, x := range responses {
		bars, err := x.Tornado(t.Context(), x.ShareRanges(0.1))
		if err != nil {
			t.Fatal(err)
		}
		moved.Bars = append(moved.Bars, bars...)
	}
	study.RankBars(moved.Bars)
	r.Sensitivity = []*Sensitivity{moved}
	addQuestions(t, r, q)
	r.Volumes = &VolumeStudy{Share: 0.2}
	for i, p := range plans {
		v, err := study.ViewVolumes(t.Context(), p, r.Sweeps[i].Volumes, study.VolumeOptions{Share: 0.2, Shifts: []float64{1, 2, 3}}, nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Volumes.Views = append(r.Volumes.Views, v)
	}
}

// withStudies is the sample with all studies, costed and written once for all tests that only look at it.
var withStudies struct {
	once     sync.Once
	result   *Result
	workbook []byte
}

// studied returns the sample with all studies and opens its workbook for looking at it.
func studied(t *testing.T) (*Result, *excelize.File) {
	t.Helper()
	withStudies.once.Do(func() {
		path := filepath.Join(t.TempDir(), "tray.xlsx")
		saveSample(t, path)
		r := resultOf(t, path)
		addStudies(t, r)
		saveResults(t, path, r)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		withStudies.result, withStudies.workbook = r, data
	})
	if withStudies.result == nil {
		t.Fatal("the sample was not written with its studies; the first test that looked at it says why")
	}
	f, err := excelize.OpenReader(bytes.NewReader(withStudies.workbook))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return withStudies.result, f
}

// rawRows are the cells of a sheet as they are stored.
func rawRows(t *testing.T, f *excelize.File, sheet string) [][]string {
	t.Helper()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// rowsBelow are the rows under a heading row that begins with a text, up to the first empty one.
func rowsBelow(t *testing.T, rows [][]string, heading string) [][]string {
	t.Helper()
	for i, r := range rows {
		if !strings.HasPrefix(strings.Join(r, "|"), heading) {
			continue
		}
		end := i + 1
		for end < len(rows) && len(rows[end]) > 0 && rows[end][0] != "" {
			end++
		}
		return rows[i+1 : end]
	}
	t.Fatalf("no heading %s", heading)
	return nil
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestCrossoverSheet holds the rows of the sheet against sweeps of the scenarios: at both ends of each stretch the named
// one is the cheapest, by what the row says; and at a change of order the costs are those before and from there on.
func TestCrossoverSheet(t *testing.T) {
	r, f := studied(t)
	rows := rawRows(t, f, crossoverSheet)
	costs := func(v float64) map[string]float64 {
		out := map[string]float64{}
		for _, d := range r.Details {
			out[d.Plan.Scenario.Name] = d.Plan.Detail(v).Scenario().Must("piece_cost")
		}
		return out
	}
	stretches := rowsBelow(t, rows, "From [1/yr]|to [1/yr]|Cheapest|")
	next := 5000.0
	for _, row := range stretches {
		from, to := number(t, row[0]), number(t, row[1])
		if from != next {
			t.Errorf("a stretch begins at %v, want %v", from, next)
		}
		next = to + 1
		at := costs(from)
		if more := at[row[3]] - at[row[2]]; more < 0 || fmt.Sprintf("%.6f", more) != fmt.Sprintf("%.6f", number(t, row[4])) {
			t.Errorf("at %v %s costs %v less than %s, the sheet says %s", from, row[2], more, row[3], row[4])
		}
		at = costs(to)
		for name, c := range at {
			if c < at[row[2]]-1e-9 {
				t.Errorf("at %v %s is cheaper than %s", to, name, row[2])
			}
		}
	}
	if next != 300_001 || len(stretches) != 7 {
		t.Errorf("%d stretches up to %v", len(stretches), next-1)
	}
	text := ""
	for _, row := range rows {
		text += strings.Join(row, "|") + "\n"
	}
	for _, want := range []string{
		"A baseline and C variant 2: 5 cross-overs\n",
		"|machine E12 in Van plant: pool crew shifts 3 -> 4\n",
		"41680|41686|A baseline|A baseline|", "\n38220|41946|A baseline|C variant 2|3727\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	for _, row := range rows {
		if len(row) < 9 || row[8] != "machine E12 in Van plant: pool crew shifts 3 -> 4" {
			continue
		}
		for i, want := range []float64{costs(41_946)[row[3]], costs(41_947)[row[3]]} {
			if got := number(t, row[4+i]); !(math.Abs(got-want) <= 1e-9*want) {
				t.Errorf("%s costs %v, want %v", row[3], got, want)
			}
		}
	}
}

// TestAboveCheapest holds the percentages beside the curves against details, and the name of the cheapest.
func TestAboveCheapest(t *testing.T) {
	r, f := studied(t)
	rows := rowsBelow(t, rawRows(t, f, crossoverSheet), "Annual volume [1/yr]|A baseline [EUR]|B variant 1 [EUR]|C variant 2 [EUR]|A baseline [% more]|B "+
		"variant 1 [% more]|C variant 2 [% more]|Cheapest")
	if len(rows) != len(r.Crossover.Curves[0].Volumes) {
		t.Fatalf("%d rows", len(rows))
	}
	for _, row := range rows {
		v := number(t, row[0])
		costs, best := []float64{}, 0
		for i, d := range r.Details {
			costs = append(costs, d.Plan.Detail(v).Scenario().Must("piece_cost"))
			if costs[i] < costs[best] {
				best = i
			}
		}
		if row[7] != r.Details[best].Plan.Scenario.Name {
			t.Errorf("at %v %s is the cheapest, want %s", v, row[7], r.Details[best].Plan.Scenario.Name)
		}
		for i, c := range costs {
			if got, want := number(t, row[4+i]), 100*(c-costs[best])/costs[best]; math.Abs(got-want) > 1e-9 {
				t.Errorf("at %v %s costs %v %% more, want %v", v, r.Details[i].Plan.Scenario.Name, got, want)
			}
		}
	}
}

// TestAxisTitlesTurned: no title of a chart has two sets of text properties, of which LibreOffice takes the one without a turn;
// and the upright axes have titles that are turned.
func TestAxisTitlesTurned(t *testing.T) {
	_, f := studied(t)
	charts, turned := 0, 0
	f.Pkg.Range(func(name, content any) bool {
		part, ok := content.([]byte)
		if !ok || !strings.HasPrefix(name.(string), "xl/charts/") || !strings.HasSuffix(name.(string), ".xml") {
			return true
		}
		charts++
		for _, title := range regexp.MustCompile(`(?s)<title>.*?</title>`).FindAllString(string(part), -1) {
			if strings.Contains(title, "<rich>") && strings.Contains(title, "<txPr>") {
				t.Errorf("%s: %s", name, title)
			}
			if strings.Contains(title, `rot="-5400000"`) {
				turned++
			}
		}
		return true
	})
	if charts < 8 || turned < 8 {
		t.Errorf("%d charts, %d turned titles", charts, turned)
	}
}

// TestStaleMark: each sheet of values says so when an input cell is changed, and when one is filled that was empty.
func TestStaleMark(t *testing.T) {
	_, f := studied(t)
	marks := func(want string) {
		t.Helper()
		for _, sheet := range []string{curveSheet, crossoverSheet, sensitivitySheet, volumeSheet} {
			got, err := f.CalcCellValue(sheet, "A4")
			if err != nil || !strings.HasPrefix(got, want) {
				t.Errorf("sheet %s: %q, %v; want %q", sheet, got, err, want)
			}
		}
	}
	marks("values of the run")
	old, err := f.GetCellValue("Materials", "E2", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	if err := f.SetCellFloat("Materials", "E2", 2*number(t, old), -1, 64); err != nil {
		t.Fatal(err)
	}
	marks("STALE")
	if err := f.SetCellFloat("Materials", "E2", number(t, old), -1, 64); err != nil {
		t.Fatal(err)
	}
	marks("values of the run")
	if err := f.SetCellFloat("Materials", "E60", 1, -1, 64); err != nil {
		t.Fatal(err)
	}
	marks("STALE")
}
