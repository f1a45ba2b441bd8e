package costmodel

import (
	"math"
	"strings"
	"testing"

	"piececost/costmodel/table"
)

const targetHead = "Quantity,Part,Unit,Direction,Target,A baseline,C variant 2,Source\n"

// judged holds one target against the scenarios A and C of the sample, as "verdict value over".
func judged(t *testing.T, row string) []Judgement {
	t.Helper()
	c := sampleTables(t)
	c["Targets"] = targetHead + row
	m := c.model(t)
	if len(m.Targets) != 1 {
		t.Fatalf("%s: %d targets, %v", row, len(m.Targets), m.Diagnostics)
	}
	var out []Judgement
	for _, s := range []*Scenario{m.Scenarios[0], m.Scenarios[2]} {
		out = append(out, m.Targets[0].Judge(mustCompile(t, m, s, CompileOptions{}).Detail(60000)))
	}
	return out
}

// TestTargetsJudged: A costs 186.4717 EUR and weighs 74.218 kg at 60,000, C 182.6210 EUR and 66.018 kg, by the independent
// figures of the sample (testdata/battery-tray/expected_summary.csv); each bound is half of their last digit.
func TestTargetsJudged(t *testing.T) {
	none := math.NaN()
	for _, c := range []struct {
		row      string
		verdicts [2]Verdict
		over     [2]float64
		bound    float64
	}{
		{"Piece cost,,EUR,at most,185,,,", [2]Verdict{Missed, Met}, [2]float64{1.4717, -2.3790}, 5e-5},
		{"piece_cost,,EUR,At Least,185,,,", [2]Verdict{Met, Missed}, [2]float64{1.4717, -2.3790}, 5e-5},
		{"Piece cost,,EUR,at most,185,190,180,", [2]Verdict{Met, Missed}, [2]float64{-3.5283, 2.6210}, 5e-5},
		{"Piece cost,,EUR,at most,,190,,", [2]Verdict{Met, NotAsked}, [2]float64{-3.5283, none}, 5e-5},
		{"Net mass,,kg,at most,70,,,", [2]Verdict{Missed, Met}, [2]float64{4.218, -3.982}, 5e-4},
		{"Net mass,,g,at most,70000,,70 kg,", [2]Verdict{Missed, Met}, [2]float64{4218, -3982}, 0.5},
		{"Net mass,NUTBR,kg,at most,1000,,,", [2]Verdict{Met, Met}, [2]float64{none, none}, 5e-4},
		{"Net mass,FRAME_A,kg,at least,0,,,", [2]Verdict{Met, NotKnown}, [2]float64{none, none}, 5e-4},
		{"Bending stiffness,,kN/mm,at least,12,11.5,12.5,", [2]Verdict{Missed, Met}, [2]float64{-0.5, 0.5}, 1e-12},
		{"Noise,,points,at most,12,11.5,,", [2]Verdict{Met, NotKnown}, [2]float64{-0.5, none}, 1e-12},
		{"Eigenfrequency,TRAY_A,1/s,at least,40 1/s,40,2400 1/min,", [2]Verdict{Met, Met}, [2]float64{0, 0}, 1e-12},
	} {
		for i, j := range judged(t, c.row) {
			if j.Verdict != c.verdicts[i] {
				t.Errorf("%s: %s in scenario %d, want %s", c.row, j.Verdict, i, c.verdicts[i])
			}
			if want := c.over[i]; !math.IsNaN(want) && math.Abs(j.Over-want) > c.bound*(1+1e-9) {
				t.Errorf("%s: %v above in scenario %d, want %v", c.row, j.Over, i, want)
			}
			if (j.Verdict == Met || j.Verdict == Missed) == math.IsNaN(j.Over) {
				t.Errorf("%s: %s with %v above", c.row, j.Verdict, j.Over)
			}
			if !math.IsNaN(j.Share) && math.Abs(j.Share*math.Abs(j.Wanted)-j.Over) > 1e-12*math.Abs(j.Value) {
				t.Errorf("%s: share %v of %v is not %v", c.row, j.Share, j.Wanted, j.Over)
			}
		}
	}
}

// TestTargetExactlyMet: a value equal to the target but for the rounding of arithmetic is met.
func TestTargetExactlyMet(t *testing.T) {
	for _, direction := range []string{"at most", "at least"} {
		for _, c := range []struct {
			factor float64
			want   Verdict
		}{{1, Met}, {1 + 1e-12, Met}, {1 - 1e-12, Met}} {
			x := judged(t, "Piece cost,,EUR,"+direction+",185,,,")[0]
			target := *x.Target
			target.wanted = x.Value * c.factor
			m := sampleTables(t).model(t)
			if got := target.Judge(mustCompile(t, m, m.Scenarios[0], CompileOptions{}).Detail(60000)).Verdict; got != c.want {
				t.Errorf("%s, %v of the value: %s", direction, c.factor, got)
			}
		}
	}
}

// TestTargetMissedByLittle: a millionth of the value is no rounding any more.
func TestTargetMissedByLittle(t *testing.T) {
	m := sampleTables(t).model(t)
	d := mustCompile(t, m, m.Scenarios[0], CompileOptions{}).Detail(60000)
	for direction, factor := range map[string]float64{"at most": 1 - 1e-6, "at least": 1 + 1e-6} {
		x := judged(t, "Piece cost,,EUR,"+direction+",185,,,")[0]
		target := *x.Target
		target.wanted = x.Value * factor
		if got := target.Judge(d).Verdict; got != Missed {
			t.Errorf("%s %v of the value: %s", direction, factor, got)
		}
	}
}

// TestTargetFaults: each fault has its code, its cell and what to do.
func TestTargetFaults(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ table, want string }{
		{targetHead + "Pice cost,,EUR,at most,1,,,", `Targets!A2: "Pice cost" is no quantity of the scenario; did you mean Piece cost? If the value ` +
			`is your own, give it a name less alike`},
		{targetHead + "Stiffness,,kN/mm,at least,1,,,", `Targets!A2: "Stiffness" is nothing the program computes for the scenario, and no scenario's ` +
			`column holds its value; name a quantity such as Piece cost or Net mass, or write what was measured or simulated under each scenario's name`},
		{targetHead + "Net mass,FRAME_D,kg,at most,1,,,", `Targets!B2: part "FRAME_D" is not in the sheet Parts; did you mean FRAME_A?`},
		{targetHead + "Piece cost,,kg,at most,1,,,", `Targets!C2: "Piece cost": the unit is mass [kg], but piece_cost is money [currency]; write EUR ` +
			`in the column Unit`},
		{targetHead + "Piece cost,,,at most,1,,,", `Targets!C2: "Piece cost" has no unit; write EUR in the column Unit`},
		{targetHead + "Piece cost,,EUR,at mots,1,,,", `Targets!D2: the direction of Piece cost is "at mots"; did you mean at most?`},
		{targetHead + "Piece cost,,EUR,,1,,,", `Targets!D2: the direction of Piece cost is ""; write at most or at least`},
		{targetHead + "Piece cost,,EUR,at most,,,,", `Targets!E2: Piece cost has no target; write it in the column Target, or under a scenario's name ` +
			`where it differs`},
		{targetHead + "Stiffness,,kN/mm,at least,,3,,", `Targets!E2: Stiffness has no target; write it in the column Target`},
		{targetHead + "Piece cost,,EUR,at most,cheap,,,", `Targets!E2: Piece cost: "cheap" is no number; write a number, or a number with a unit`},
		{targetHead + `Piece cost,,EUR,at most,"185,5",,,`, `Targets!E2: Piece cost: "185,5": decimal comma; write 185.5`},
		{targetHead + "Piece cost,,EUR,at most,5 kg,,,", `Targets!E2: Piece cost: "5 kg" is mass [kg], wanted is money [currency]; write it in EUR`},
		{targetHead + ",,EUR,at most,5,,,", `Targets!A2: the row has no quantity; fill the cell or clear the row`},
		{targetHead + "Product,TRAY_A,1,at most,5,,,", `Targets!A2: Product is a choice, not a number; name a quantity that has a value`},
		{targetHead + "Price,,EUR,at most,5,,,\nPrice,,EUR,at least,1,,,\nPRICE,,EUR,at most,6,,,",
			`Targets!A4: Price at most stands twice; delete one of the two [first at tables Targets!A2]`},
		{"Quantity,Unit,Target\nPrice,EUR,1",
			`Targets: the sheet has no column "Direction"; its columns are Quantity, Part, Unit, Direction, Target, then one a scenario where needed`},
		{"Quantity,Unit,Direction,Target,A baselin\nPrice,EUR,at most,1,2",
			`Targets!E1: heading "A baselin" is no scenario; did you mean A baseline? If the column is your own, give it a name less alike`},
	} {
		tables := sampleTables(t)
		tables["Targets"] = c.table
		m := New(tables.read(t), lib)
		var got []string
		for _, d := range m.Diagnostics {
			if d.Severity == table.Error {
				got = append(got, strings.TrimPrefix(d.String(), "tables "))
			}
		}
		if len(got) != 1 || got[0] != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.table, strings.Join(got, "\n     "), c.want)
		}
	}
}

// TestTargetsAbsent: without the sheet, or with its heading alone, there are none.
func TestTargetsAbsent(t *testing.T) {
	c := sampleTables(t)
	if m := c.model(t); len(m.Targets) != 0 {
		t.Errorf("%v", m.Targets)
	}
	c["Targets"] = targetHead
	if m := c.model(t); len(m.Targets) != 0 {
		t.Errorf("%v", m.Targets)
	}
}
