package study_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand"
	"regexp"
	"runtime"
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
	"case.csv":     "Quantity,Unit,Value\nModel currency,,INR\nProgramme life,yr,1\nInterest rate,%/yr,0\n",
	"plants.csv":   "Quantity,Unit,Works\nWorking days,1/yr,250\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,INR/h,0\n",
	"machines.csv": "Machine,Price [INR],Economic life [yr],Equipment allocation\nM1,0,10,shared\n",
	"parts.csv":    "Part,Form\nA,assembly\nB,assembly\n",
	"operations.csv": "Part,Operation,Process,Machine,Load and process time [s],Set-up time [h],Batch size,Consumables per piece [INR],Tool price " +
		"[INR],Tool life [cycles]\nA,10,timed operation,M1,1,0,1,6.00,12000,100000000\nB,10,timed operation,M1,1,0,1,1.20,48000,100000000\n",
	"scenarios.csv": "Sheet,Row,Column,A,B\n,,Product,A,B\n,,Annual volume [1/yr],7500,7500\n",
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
	s, err := study.Stabilities(t.Context(), plans, ask)
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
		stated(t, "Operations/B/10/Reject rate", 0, 1),                          // nothing can be made
		stated(t, "Operations/A/10/Tool price", 6_000, 55_000),                  // 42,000/4.8, and B below A from the first piece
		stated(t, "Operations/B/10/Consumables per piece", 0.3, 6),              // 36,000/5.7 = 6,315.8, and parallel lines
		stated(t, "Annual volume", 5_000, 9_000),                                // is the axis
		stated(t, "Operations/B/10/Seam length", 0, 1),                          // moves nothing
		{Input: costmodel.Input{Sheet: "Plants", Row: "Works", Column: "Wind"}}, // there is none
		// all prices of consumables together, 36,000/(4.8 x 0.75) and 36,000/(4.8 x 1.25)
		{Input: costmodel.Input{Sheet: "Operations", Row: "*", Column: "Consumables per piece", By: costmodel.ByFactor}, Low: 0.75, High: 1.25},
	}})
	if got := endWords(study.StabilityEnd{Orders: p.BaseValue}); got != "1 at 7501 (+0)" || p.BaseValue.Cheaper != 0 {
		t.Errorf("today: %s, %d cheaper", got, p.BaseValue.Cheaper)
	}
	var got []string
	for _, in := range p.Inputs {
		got = append(got, fmt.Sprintf("%s/%s: %s; %s; moved %d, breaks %v", in.Input.Input.Row, in.Input.Input.Column, endWords(in.Low), endWords(in.High),
			in.Moved, in.Breaks))
	}
	want := []string{
		"A/10/Tool price: 1 at 8751 (+1250); none, 1 cheaper; moved 1250, breaks true",
		"B/10/Consumables per piece: 1 at 6316 (-1185); none, 0 cheaper; moved 1185, breaks true",
		"B/10/Tool price: 1 at 5834 (-1667); 1 at 10001 (+2500); moved 2500, breaks false",
		"*/Consumables per piece: 1 at 10001 (+2500); 1 at 6001 (-1500); moved 2500, breaks false",
		"A/10/Consumables per piece: 1 at 9001 (+1500); 1 at 6001 (-1500); moved 1500, breaks false",
		"M1/Price: 1 at 7501 (+0); 1 at 7501 (+0); moved 0, breaks false",
		"B/10/Reject rate: 1 at 7501 (+0); impossible: operation B/10: the reject rate must lie between 0 and 100 %; moved 0, breaks false",
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
		plans := read(t, lines, [3]string{"operations.csv", "6.00,12000", fmt.Sprintf("6.00,%v", f1)}, [3]string{"operations.csv", "1.20,48000",
			fmt.Sprintf("%v,%v", v2, f2)})
		low, high := v2+1+3*r.Float64(), v2+5+3*r.Float64()
		p := stable(t, plans, study.StabilityAsk{From: 1, To: 90_000, Stated: []costmodel.Uncertain{stated(t, "Operations/A/10/Consumables per piece", low,
			high)}})
		baseValue := math.Floor((f2-f1)/(6-v2)) + 1
		for _, e := range []study.StabilityEnd{p.Inputs[0].Low, p.Inputs[0].High} {
			want := math.Floor((f2-f1)/(e.Value-v2)) + 1
			if got := endWords(e); got != fmt.Sprintf("1 at %.0f (%+.0f)", want, want-baseValue) {
				t.Errorf("%v + %v N and %v + %v N: %s, want %.0f, today %.0f", f1, e.Value, f2, v2, got, want, baseValue)
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
		{"Case/Interest rate", 0.01, "Case", "Interest rate,%/yr,#,", "6", "10"},
		{"Materials/M04/Base price", 1, "Materials", "M04,dual-phase 500 MPa zinc coated thin gauge,coil,7850,#,", "0.7", "1.1"},
		{"Operations/C01/20/Reject rate", 0.01, "Operations", "C01,20,draw trim flange pierce in tandem line,tandem press forming,E02,,,6.8,1,,,,,#,",
			"0.5", "6"},
		{"Operations/A01/20/Tool price", 1, "Operations",
			"A01,20,draw trim flange pierce in tandem line,tandem press forming,E02,,,6.5,1,,,,,1.2,35,2500,#,", "300000", "1500000"},
	} {
		options := costmodel.CompileOptions{ContinuousBatches: i%2 == 1}
		plans := tables.plans(t, options)
		low, high := number(t, c.low), number(t, c.high)
		p := stable(t, plans, study.StabilityAsk{From: from, To: to, Pairs: [][2]int{{0, 2}}, Stated: []costmodel.Uncertain{
			stated(t, c.input, low*c.factor, high*c.factor)}})
		for value, end := range map[string]study.StabilityEnd{c.low: p.Inputs[0].Low, c.high: p.Inputs[0].High} {
			edited := sampleVolumeTables(t)
			edited[c.sheet] = replaceOnce(t, edited[c.sheet], c.old, value)
			again, err := study.Crossovers(t.Context(), edited.plans(t, options), study.CrossoverAsk{From: from, To: to, EveryVolume: true})
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
			if slices.Equal(want, p.BaseValue.Changes) {
				t.Errorf("%s at %s moves nothing", c.input, value)
			}
		}
	}
}

// TestStabilityByShare takes the inputs that move the difference most, each scenario's own value by the same share.
func TestStabilityByShare(t *testing.T) {
	plans := sampleVolumeTables(t).plans(t, costmodel.CompileOptions{})
	ask := study.StabilityAsk{From: 20_000, To: 80_000, Pairs: [][2]int{{0, 1}, {0, 2}}, Share: 0.1, Top: 3}
	s, err := study.Stabilities(t.Context(), plans, ask)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range s.Pairs {
		if len(p.Inputs) != 3 || p.Others < 50 || p.Volume < 28_000 || p.Volume > 45_000 {
			t.Errorf("%d inputs, %d others, at %d", len(p.Inputs), p.Others, p.Volume)
		}
		for i, in := range p.Inputs {
			if v := in.Input.BaseValue; in.Low.Value < 0.9*v*(1-1e-9) || in.High.Value > 1.1*v*(1+1e-9) || in.Low.Value >= in.High.Value {
				t.Errorf("%s from %v to %v, today %v", in.Input.Input, in.Low.Value, in.High.Value, v)
			}
			if i > 0 && !p.Inputs[i-1].Breaks && (in.Breaks || in.Moved > p.Inputs[i-1].Moved) {
				t.Errorf("%s stands too low", in.Input.Input)
			}
		}
	}
	ctx, stop := context.WithCancel(t.Context())
	calls := 0
	ask.Progress = func(done float64) {
		if calls++; calls > 5 {
			stop()
		}
	}
	if _, err := study.Stabilities(ctx, plans, ask); !errors.Is(err, context.Canceled) || calls > 7+runtime.GOMAXPROCS(0) {
		t.Errorf("stopped with %v after %d calls", err, calls)
	}
}

// TestReaches: ten percent of 6.00 and of 1.20 a piece, and of 48,000 over 1,000 and 3,000 pieces, both ways alike.
func TestReaches(t *testing.T) {
	r := respond(t, read(t, lines), 0, "Operations/A/10/Consumables per piece", "Operations/B/10/Tool price", "Operations/B/10/Consumables per piece")
	asked := 0
	got, err := r.Reaches(t.Context(), r.ShareRanges(0.1), []float64{1000, 3000}, func(int) { asked++ })
	if err != nil || asked != 1 || len(got) != 3 || !near(got[0].Far, 2*0.6) || !near(got[1].Far, 4.8+1.6) || !near(got[2].Far, 2*0.12) {
		t.Errorf("%v %v, asked %d times", got, err, asked)
	}
	if r.BaseValue() != r.BaseValue() || !near(r.BaseValue(), 12000.0/7500+6-48000.0/7500-1.2) && !near(r.BaseValue(), -(12000.0/7500+6-48000.0/7500-1.2)) {
		t.Errorf("the response is not as it was: %v", r.BaseValue())
	}
	many := make([]study.Range, 1000) // several blocks
	for i := range many {
		many[i] = study.Range{Input: i % 2, Low: 0.9, High: 1.1, Share: true}
	}
	got, err = r.Reaches(t.Context(), many, []float64{1000, 3000}, func(int) { asked++ })
	if err != nil || asked < 4 || !near(got[998].Far, 1.2) || !near(got[999].Far, 6.4) {
		t.Errorf("%v, asked %d times: %v", err, asked, got[998:])
	}
}

// TestReachesOfImpossibleEnds: of an input of which one end can't be, the other end counts, and that is said; too many
// volumes for a block are refused.
func TestReachesOfImpossibleEnds(t *testing.T) {
	plans := read(t, lines, [3]string{"operations.csv", "Tool life [cycles]\n", "Tool life [cycles],Reject rate [%]\n"},
		[3]string{"operations.csv", "6.00,12000,100000000",
			"6.00,12000,100000000,95"})
	r := respond(t, plans, 0, "Operations/A/10/Reject rate", "Operations/A/10/Consumables per piece")
	ends := []study.Range{{Input: 0, Low: 0.9, High: 1.1, Share: true}, {Input: 1, Low: 0.9, High: 1.1, Share: true},
		{Input: 0, Low: 1.1, High: 1.2, Share: true}}
	got, err := r.Reaches(t.Context(), ends, []float64{1000, 3000}, func(int) {})
	if err != nil || len(got) != 3 {
		t.Fatal(got, err)
	}
	// 6.00 a piece that is tried, 1/(1 - 95 %) = 20 and 1/(1 - 85.5 %) = 6.8966 of them a good one; tools last
	if want := 2 * 6 * (20 - 1/0.145); !near(got[0].Far, want) || !got[0].Impossible {
		t.Errorf("the reject rate: %+v, want %v and impossible", got[0], want)
	}
	if !near(got[1].Far, 2*0.6*20) || got[1].Impossible {
		t.Errorf("consumables: %+v", got[1])
	}
	if got[2].Far != 0 || !got[2].Impossible {
		t.Errorf("neither end can be: %+v", got[2])
	}
	half := make([]float64, r.Size()/2+1)
	for i := range half {
		half[i] = float64(1000 + i)
	}
	if got, err := r.Reaches(t.Context(), ends[1:2], half[1:], func(int) {}); err != nil || !near(got[0].Far, float64(len(half)-1)*12) {
		t.Errorf("half a block of volumes: %v, %v", got, err)
	}
	if got, err := r.Reaches(t.Context(), ends, half, func(int) {}); err == nil {
		t.Errorf("more than half a block of volumes: %v", got)
	}
}

// TestStabilityOfImpossibleEnds: an input of which an end can't be is among those looked at, before those that move more.
func TestStabilityOfImpossibleEnds(t *testing.T) {
	plans := read(t, lines, [3]string{"plants.csv", "Paid hours per shift,h,8\n", "Paid hours per shift,h,8\nPlanned downtime per shift,h,7.5\n"})
	p := stable(t, plans, study.StabilityAsk{From: 7_000, To: 8_000, Share: 0.1, Top: 1})
	// an hour costs nothing here, but of 7.2 paid ones none is left after the stops
	if len(p.Inputs) != 1 || p.Inputs[0].Input.Input.Column != "Paid hours per shift" || !strings.HasPrefix(endWords(p.Inputs[0].Low),
		"impossible: plant Works: breaks and planned downtime") || p.Inputs[0].High.Impossible != "" {
		t.Errorf("%+v", p.Inputs)
	}
	if p.Others < 4 {
		t.Errorf("%d others: stops, consumables and tool prices move the difference", p.Others)
	}
}

// TestStabilityOfContinuousBatches: with batches as fractions the size of one that holds more than per year's pieces moves the
// difference, with whole ones it does not.
func TestStabilityOfContinuousBatches(t *testing.T) {
	tables := volumeTables{}
	for k, v := range lines {
		sheet := strings.ToUpper(k[:1]) + strings.TrimSuffix(k[1:], ".csv")
		tables[sheet] = v
	}
	tables["Machines"] = strings.Replace(tables["Machines"], "M1,0,10", "M1,9000000,10", 1)
	tables["Operations"] = strings.Replace(tables["Operations"], "M1,1,0,1,6.00", "M1,1,10,100000,6.00", 1)
	for _, continuous := range []bool{false, true} {
		p := stable(t, tables.plans(t, costmodel.CompileOptions{ContinuousBatches: continuous}), study.StabilityAsk{From: 7_000, To: 8_000, Share: 0.1})
		found := slices.ContainsFunc(p.Inputs, func(in study.StabilityInput) bool { return in.Input.Input.String() == "Operations/A/10/Batch size" })
		if found != continuous || len(p.Inputs) < 4 {
			t.Errorf("batches as fractions %v: the batch size is among %d inputs: %v", continuous, len(p.Inputs), found)
		}
	}
}

// TestStabilityFollowsVolume: an input whose cell follows the volume in one scenario goes on following it when it is moved by
// a share, and is shown in the unit of its cells.
func TestStabilityFollowsVolume(t *testing.T) {
	// 72,000,000 over 10 years: M1 costs 7,200,000 per year in A; in B the price is that times N/10,000, so 720 a piece and
	// 7.20 more with a hundredth
	const price = "Machines,M1,Price,,\"base * (scenario.annual_volume * \"\"1 yr\"\" / 10000)\"\n"
	plans := read(t, lines, [3]string{"machines.csv", "M1,0,10", "M1,72000000,10"}, [3]string{"scenarios.csv", "7500,7500\n", "7500,7500\n" + price})
	for _, share := range []float64{1e-9, 0.01} {
		p := stable(t, plans, study.StabilityAsk{From: 1, To: 20_000, Share: share})
		n := slices.IndexFunc(p.Inputs, func(in study.StabilityInput) bool { return in.Input.Input.String() == "Machines/M1/Price" })
		if n < 0 {
			t.Fatalf("the price is not moved: %v", p.Unmoved)
		}
		in := &p.Inputs[n]
		for factor, end := range map[float64]study.StabilityEnd{1 - share: in.Low, 1 + share: in.High} {
			typed := read(t, lines, [3]string{"machines.csv", "M1,0,10", fmt.Sprintf("M1,%v,10", 72000000*factor)},
				[3]string{"scenarios.csv", "7500,7500\n", "7500,7500\n" + price})
			want := stable(t, typed, study.StabilityAsk{From: 1, To: 20_000, Share: 0.01, Top: 1}).BaseValue
			if fmt.Sprint(end.Changes, end.Cheaper) != fmt.Sprint(want.Changes, want.Cheaper) {
				t.Errorf("times %v: %v, typed %v; today %v", factor, end.Orders, want, p.BaseValue)
			}
			if !near(end.Value, 0.75*72_000_000*factor) || in.Input.Input.By != costmodel.ByValue {
				t.Errorf("times %v is shown as %v of %s", factor, end.Value, in.Input.Input)
			}
		}
		if share == 1e-9 && in.Moved > 0 {
			t.Errorf("a billionth of the price moves the cross-over by %d pieces", in.Moved)
		}
	}
}

// TestFixInput: an input of InputOf, fixed, costs what it costs as a column; what can't be one input is said.
func TestFixInput(t *testing.T) {
	plans := read(t, workshop)
	for _, text := range []string{"Machines/M1/Price", "Plants/Works/Direct labour rate", "Operations/P/10/Load and process time", "Case/Interest rate"} {
		for _, p := range plans {
			v, d := p.InputOf(input(t, text))
			if d != nil {
				t.Fatal(d)
			}
			value := 1.3*v.BaseValue + 0.02
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
	for text, want := range map[string]string{"Machines/*/Price": "hold different values", "Machines/M9/Price": "matches no row",
		"Machines/M1/Equipment allocation": "is a choice"} {
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
