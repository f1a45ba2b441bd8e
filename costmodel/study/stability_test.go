package study_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// The lines are two processes with a fixed cost of the year (the tool price, over one year without interest) and a cost a
// piece (consumables): 12,000 + 6.00 N and 48,000 + 1.20 N. They are equal at N = (48,000 - 12,000)/(6.00 - 1.20) = 7,500,
// the textbook's break-even (P. C. Sharma, A Textbook of Production Engineering, Exa 5.30, as in
// testdata/published/C10.txtar), so from 7,501 on the second is the cheaper one. The low and high values are ours.
var lines = map[string]string{
	"case.csv":       "Quantity,Unit,Value\nModel currency,,INR\nProgramme life,yr,1\nInterest,%/yr,0\n",
	"plants.csv":     "Quantity,Unit,Works\nWorking days,1/yr,250\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,INR/h,0\n",
	"machines.csv":   "Machine,Price [INR],Life [yr],Charging rule\nM1,0,10,shared\n",
	"parts.csv":      "Part,Form\nA,assembly\nB,assembly\n",
	"operations.csv": "Part,Step,Process,Machine,Load and process time [s],Set-up time [h],Batch size,Consumables per piece [INR],Tool price [INR],Tool life\nA,10,timed operation,M1,1,0,1,6.00,12000,100000000\nB,10,timed operation,M1,1,0,1,1.20,48000,100000000\n",
	"scenarios.csv":  "Sheet,Row,Column,A,B\n,,Product,A,B\n,,Annual volume [1/yr],7500,7500\n",
}

// stated makes an input with low and high as the sheet Uncertainty would, in coherent units.
func stated(t *testing.T, text string, low, high float64) costmodel.Uncertain {
	t.Helper()
	return costmodel.Uncertain{Input: input(t, text), Low: low, High: high}
}

// stable asks for the stability of one pair.
func stable(t *testing.T, plans []*costmodel.Plan, ask study.StabilityAsk) study.StabilityPair {
	t.Helper()
	if ask.Pairs == nil {
		ask.Pairs = [][2]int{{0, 1}}
	}
	s, err := study.Stabilities(plans, ask)
	if err != nil {
		t.Fatal(err)
	}
	return s.Pairs[0]
}

// endWords writes an end: "9001 (+1500)", "none, 0 cheaper", "impossible".
func endWords(e study.StabilityEnd) string {
	first, _, ok := e.Span()
	switch {
	case e.Impossible != "":
		return "impossible: " + e.Impossible
	case !ok:
		return fmt.Sprintf("none, %d cheaper", e.Cheaper)
	}
	return fmt.Sprintf("%d at %d (%+d)", len(e.Changes), first, e.FirstMoved)
}

// TestStabilityByHand moves what the lines are made of; each cross-over is (F2 - F1)/(v1 - v2).
func TestStabilityByHand(t *testing.T) {
	plans := read(t, lines)
	p := stable(t, plans, study.StabilityAsk{From: 1, To: 20_000, Stated: []costmodel.Uncertain{
		stated(t, "Machines/M1/Price", 0, 90_000),                               // both use it alike
		stated(t, "Operations/A/10/Consumables per piece", 5.2, 7.2),            // 36,000/4.0 and 36,000/6.0
		stated(t, "Operations/B/10/Tool price", 40_000, 60_000),                 // 28,000/4.8 = 5,833.3 and 48,000/4.8
		stated(t, "Operations/B/10/Reject share", 0, 1),                         // nothing can be made
		stated(t, "Operations/A/10/Tool price", 6_000, 55_000),                  // 42,000/4.8, and B below A from the first piece
		stated(t, "Operations/B/10/Consumables per piece", 0.3, 6),              // 36,000/5.7 = 6,315.8, and parallel lines
		stated(t, "Annual volume", 5_000, 9_000),                                // is the axis
		stated(t, "Operations/B/10/Seam length", 0, 1),                          // moves nothing
		{Input: costmodel.Input{Sheet: "Plants", Row: "Works", Column: "Wind"}}, // there is none
		// all prices of consumables together, 36,000/(4.8 x 0.75) and 36,000/(4.8 x 1.25)
		{Input: costmodel.Input{Sheet: "Operations", Row: "*", Column: "Consumables per piece", By: costmodel.ByFactor}, Low: 0.75, High: 1.25},
	}})
	if got := endWords(study.StabilityEnd{Orders: p.Today}); got != "1 at 7501 (+0)" || p.Today.Cheaper != 0 {
		t.Errorf("today: %s, %d cheaper", got, p.Today.Cheaper)
	}
	var got []string
	for _, in := range p.Inputs {
		got = append(got, fmt.Sprintf("%s/%s: %s; %s; moved %d, breaks %v", in.Input.Input.Row, in.Input.Input.Column, endWords(in.Low), endWords(in.High), in.Moved, in.Breaks))
	}
	want := []string{
		"A/10/Tool price: 1 at 8751 (+1250); none, 1 cheaper; moved 1250, breaks true",
		"B/10/Consumables per piece: 1 at 6316 (-1185); none, 0 cheaper; moved 1185, breaks true",
		"B/10/Tool price: 1 at 5834 (-1667); 1 at 10001 (+2500); moved 2500, breaks false",
		"*/Consumables per piece: 1 at 10001 (+2500); 1 at 6001 (-1500); moved 2500, breaks false",
		"A/10/Consumables per piece: 1 at 9001 (+1500); 1 at 6001 (-1500); moved 1500, breaks false",
		"M1/Price: 1 at 7501 (+0); 1 at 7501 (+0); moved 0, breaks false",
		"B/10/Reject share: 1 at 7501 (+0); impossible: step B/10: the reject share must lie between 0 and 100 %; moved 0, breaks false",
		"B/10/Seam length: 1 at 7501 (+0); 1 at 7501 (+0); moved 0, breaks false",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if len(p.Unmoved) != 2 || !strings.Contains(p.Unmoved[0], "over the annual volume") || !strings.Contains(p.Unmoved[1], "Wind") {
		t.Errorf("unmoved: %q", p.Unmoved)
	}
}

// TestStabilityOfRandomLines: v1 between two values at random, against the break-even formula.
func TestStabilityOfRandomLines(t *testing.T) {
	r := rand.New(rand.NewSource(3))
	moved := 0
	for range 25 {
		f1, f2 := float64(10_000+r.Intn(20_000)), float64(40_000+r.Intn(40_000))
		v2 := float64(1+r.Intn(3)) + 0.25
		plans := read(t, lines, [3]string{"operations.csv", "6.00,12000", fmt.Sprintf("6.00,%v", f1)}, [3]string{"operations.csv", "1.20,48000", fmt.Sprintf("%v,%v", v2, f2)})
		low, high := v2+1+3*r.Float64(), v2+5+3*r.Float64()
		p := stable(t, plans, study.StabilityAsk{From: 1, To: 90_000, Stated: []costmodel.Uncertain{stated(t, "Operations/A/10/Consumables per piece", low, high)}})
		today := math.Floor((f2-f1)/(6-v2)) + 1
		for _, e := range []study.StabilityEnd{p.Inputs[0].Low, p.Inputs[0].High} {
			want := math.Floor((f2-f1)/(e.Value-v2)) + 1
			if got := endWords(e); got != fmt.Sprintf("1 at %.0f (%+.0f)", want, want-today) {
				t.Errorf("%v + %v N and %v + %v N: %s, want %.0f, today %.0f", f1, e.Value, f2, v2, got, want, today)
			}
			moved++
		}
	}
	if moved != 50 {
		t.Errorf("%d ends", moved)
	}
}

// TestStabilityAsEdited: an input at its low or high gives the very cross-overs of a workbook in which the cell says so.
func TestStabilityAsEdited(t *testing.T) {
	tables := sampleVolumeTables(t)
	const from, to = 5_000, 120_000
	for i, c := range []struct {
		input      string
		factor     float64 // to coherent units
		sheet, old string  // the text that stands once in the table, with # for the value
		low, high  string
	}{
		{"Case/Interest", 0.01, "Case", "Interest,%/yr,#,", "6", "10"},
		{"Materials/M04/Base price", 1, "Materials", "M04,dual-phase 500 MPa zinc coated thin gauge,coil,7850,#,", "0.7", "1.1"},
		{"Operations/C01/20/Reject share", 0.01, "Operations", "C01,20,draw trim flange pierce in tandem line,tandem press forming,E02,,,6.8,1,,,,,#,", "0.5", "6"},
		{"Operations/A01/20/Tool price", 1, "Operations", "A01,20,draw trim flange pierce in tandem line,tandem press forming,E02,,,6.5,1,,,,,1.2,35,2500,#,", "300000", "1500000"},
	} {
		options := costmodel.CompileOptions{ContinuousBatches: i%2 == 1}
		plans := tables.plans(t, options)
		low, high := number(t, c.low), number(t, c.high)
		p := stable(t, plans, study.StabilityAsk{From: from, To: to, Pairs: [][2]int{{0, 2}}, Stated: []costmodel.Uncertain{stated(t, c.input, low*c.factor, high*c.factor)}})
		for value, end := range map[string]study.StabilityEnd{c.low: p.Inputs[0].Low, c.high: p.Inputs[0].High} {
			edited := sampleVolumeTables(t)
			edited[c.sheet] = replaceOnce(t, edited[c.sheet], c.old, value)
			again, err := study.Crossovers(edited.plans(t, options), study.CrossoverAsk{From: from, To: to, EveryVolume: true})
			if err != nil {
				t.Fatal(err)
			}
			var want []int
			for _, ch := range again.Pairs[1].Changes {
				want = append(want, ch.Volume)
			}
			if !slices.Equal(end.Changes, want) || end.Cheaper != again.Pairs[1].Cheaper {
				t.Errorf("%s at %s: %v, edited %v", c.input, value, end.Changes, want)
			}
			if slices.Equal(want, p.Today.Changes) {
				t.Errorf("%s at %s moves nothing", c.input, value)
			}
		}
	}
}

// TestStabilityByShare takes the inputs that move the difference most, each scenario's own value by the same share.
func TestStabilityByShare(t *testing.T) {
	plans := sampleVolumeTables(t).plans(t, costmodel.CompileOptions{})
	ask := study.StabilityAsk{From: 20_000, To: 80_000, Pairs: [][2]int{{0, 1}, {0, 2}}, Share: 0.1, Top: 3}
	s, err := study.Stabilities(plans, ask)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Pairs {
		if len(p.Inputs) != 3 || p.Others < 50 || p.Volume < 28_000 || p.Volume > 45_000 {
			t.Errorf("%d inputs, %d others, at %d", len(p.Inputs), p.Others, p.Volume)
		}
		for i, in := range p.Inputs {
			if v := in.Input.Today; in.Low.Value < 0.9*v*(1-1e-9) || in.High.Value > 1.1*v*(1+1e-9) || in.Low.Value >= in.High.Value {
				t.Errorf("%s from %v to %v, today %v", in.Input.Input, in.Low.Value, in.High.Value, v)
			}
			if i > 0 && !p.Inputs[i-1].Breaks && (in.Breaks || in.Moved > p.Inputs[i-1].Moved) {
				t.Errorf("%s stands too low", in.Input.Input)
			}
		}
	}
	stop, calls := errors.New("stop"), 0
	ask.Progress = func(done float64) error {
		if calls++; calls > 5 {
			return stop
		}
		return nil
	}
	if _, err := study.Stabilities(plans, ask); !errors.Is(err, stop) || calls > 7 {
		t.Errorf("stopped with %v after %d calls", err, calls)
	}
}

// TestReaches: ten percent of 6.00 and of 1.20 a piece, and of 48,000 over 1,000 and 3,000 pieces, both ways alike.
func TestReaches(t *testing.T) {
	r := respond(t, read(t, lines), 0, "Operations/A/10/Consumables per piece", "Operations/B/10/Tool price", "Operations/B/10/Consumables per piece")
	asked := 0
	got, err := r.Reaches(r.ShareRanges(0.1), []float64{1000, 3000}, func(int) error { asked++; return nil })
	if err != nil || asked != 1 || len(got) != 3 || !near(got[0], 2*0.6) || !near(got[1], 4.8+1.6) || !near(got[2], 2*0.12) {
		t.Errorf("%v %v, asked %d times", got, err, asked)
	}
	if r.Today() != r.Today() || !near(r.Today(), 12000.0/7500+6-48000.0/7500-1.2) && !near(r.Today(), -(12000.0/7500+6-48000.0/7500-1.2)) {
		t.Errorf("the response is not as it was: %v", r.Today())
	}
	many := make([]study.Range, 1000) // several blocks
	for i := range many {
		many[i] = study.Range{Input: i % 2, Low: 0.9, High: 1.1, Share: true}
	}
	got, err = r.Reaches(many, []float64{1000, 3000}, func(int) error { asked++; return nil })
	if err != nil || asked < 4 || !near(got[998], 1.2) || !near(got[999], 6.4) {
		t.Errorf("%v, asked %d times: %v", err, asked, got[998:])
	}
}

// TestFixInput: an input of InputOf, fixed, costs what it costs as a column; what can't be one input is said.
func TestFixInput(t *testing.T) {
	plans := read(t, workshop)
	for _, text := range []string{"Machines/M1/Price", "Plants/Works/Direct labour rate", "Operations/P/10/Load and process time", "Case/Interest"} {
		for _, p := range plans {
			v, d := p.InputOf(input(t, text))
			if d != nil {
				t.Fatal(d)
			}
			value := 1.3*v.Today + 0.02
			fixed, ds := p.With(p.FixInput(&v, value)...)
			if !v.Present {
				if fixed == nil || annual(fixed, 70_000) != annual(p, 70_000) {
					t.Errorf("%s of %s: the row is not there", text, p.Scenario.Name)
				}
				continue
			}
			if fixed == nil {
				t.Fatal(ds)
			}
			column, ds := p.Model.Compile(p.Scenario, costmodel.CompileOptions{Vary: []costmodel.Input{input(t, text)}})
			if column == nil {
				t.Fatal(ds)
			}
			l, err := column.Lanes("annual_cost")
			if err != nil {
				t.Fatal(err)
			}
			l.Volumes()[0], l.Input(0)[0] = 70_000, value
			if got, want := annual(fixed, 70_000), l.Block(1)[0][0]; !near(got, want) || got == annual(p, 70_000) && text != "Machines/M1/Price" {
				t.Errorf("%s of %s at %v: %v, as a column %v", text, p.Scenario.Name, value, got, want)
			}
		}
	}
	for text, want := range map[string]string{"Machines/*/Price": "hold different values", "Machines/M9/Price": "matches no row", "Machines/M1/Charging rule": "is a choice"} {
		if _, d := plans[0].InputOf(input(t, text)); d == nil || !strings.Contains(d.Summary, want) {
			t.Errorf("%s: %v, want %q", text, d, want)
		}
	}
	if v, d := plans[0].InputOf(input(t, "Annual volume")); d != nil || !v.IsVolume() {
		t.Errorf("annual volume: %v %v", v.IsVolume(), d)
	}
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// replaceOnce puts a value in place of the number where # stands in a text that the table has once.
func replaceOnce(t *testing.T, table, pattern, value string) string {
	t.Helper()
	before, after, _ := strings.Cut(pattern, "#")
	re := regexp.MustCompile(regexp.QuoteMeta(before) + `[0-9.]+` + regexp.QuoteMeta(after))
	if n := len(re.FindAllString(table, -1)); n != 1 {
		t.Fatalf("%q stands %d times", pattern, n)
	}
	return re.ReplaceAllString(table, before+value+after)
}
