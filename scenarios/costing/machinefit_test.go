package costing_test

import (
	"context"
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel/study"
	"piececost/scenarios/costing"
)

const pastMachinesHead = "Past machine,Machine,Rated force [kN],Price [EUR],Count\n"

// machineTables are a workbook with a price relation and past machines, and nothing else that a fit needs.
func machineTables(past, relations string) fstest.MapFS {
	out := fstest.MapFS{
		"case.csv": {Data: []byte("Quantity,Unit,Value\nModel currency,,EUR\n")},
		"machines.csv": {Data: []byte("Machine,Price [EUR],Economic life [yr],Sized by\nPRESS,,10,force\n" +
			"TYPED,1,10,\nDRIVE,,10,power\nOTHER,1,10,force\n")},
		"past_machines.csv": {Data: []byte(past)},
	}
	if relations != "" {
		out["machine_relations.csv"] = &fstest.MapFile{Data: []byte(relations)}
	}
	return out
}

func machineFitOf(t *testing.T, tables fstest.MapFS, o study.ToolFitOptions, file string) (*costing.Workbook, *costing.ToolFits, error) {
	t.Helper()
	w, err := costing.Tables(t.Context(), "machines", tables, costing.Options{Edits: costing.LeaveEdits, Output: file})
	if err != nil {
		t.Fatal(err)
	}
	fits, err := w.FitMachines(t.Context(), o)
	return w, fits, err
}

// TestMachineFitOfCertifiedData: NIST StRD, data set NoInt1 (as in TestFitOfCertifiedData, typed from memory): the price per size alone, no base price.
func TestMachineFitOfCertifiedData(t *testing.T) {
	past := pastMachinesHead
	for i := range 11 {
		past += fmt.Sprintf("M%d,PRESS,%d,%d,\n", i, 60+i, 130+i)
	}
	_, fits, err := machineFitOf(t, machineTables(past, ""), study.ToolFitOptions{Coefficients: []string{"Price per size"}, Absolute: true}, "")
	if err != nil {
		t.Fatal(err)
	}
	r := fits.Kinds[0].Fit
	for what, pair := range map[string][2]float64{"slope": {r.Coefficients[0].Value, 2.07438016528926}, "error": {r.Coefficients[0].Error, 0.0165289256198347},
		"residual": {r.ResidualSD, 3.56753034006338}} {
		if math.Abs(pair[0]-pair[1]) > 1e-12*pair[1] {
			t.Errorf("%s: %.15g, certified %.15g", what, pair[0], pair[1])
		}
	}
}

var fivePresses = []string{"160,125000", "250,162000", "400,218000", "630,314000", "1000,458000"}

// pastPresses are the presses, the first so many times as counts says.
func pastPresses(count string) string {
	out := pastMachinesHead
	for i, p := range fivePresses {
		out += fmt.Sprintf("P%d,PRESS,%s,%s\n", i, p, map[bool]string{true: count}[i == 0])
	}
	return out
}

// TestMachineFit: normal equations of the relative error, solved apart with plain arithmetic in another language: 61667.18535123641 EUR and
// 396.9168567015851 EUR/kN; with three of the first 61529.508833148146 and 397.15712278587984.
func TestMachineFit(t *testing.T) {
	for count, want := range map[string][2]float64{"": {61667.18535123641, 396.9168567015851}, "3": {61529.508833148146, 397.15712278587984}} {
		_, fits, err := machineFitOf(t, machineTables(pastPresses(count), ""), study.ToolFitOptions{}, "")
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range want {
			if got := fits.Kinds[0].Fit.Coefficients[i].Value; math.Abs(got-v) > 1e-9*v {
				t.Errorf("count %q: %s is %v, want %v", count, fits.Kinds[0].Chosen[i].Label, got, v)
			}
		}
	}
}

// TestMachineFitHeld: a coefficient that is not fitted keeps the value in force: with a base price of 60,000 EUR the prices less that are fitted.
func TestMachineFitHeld(t *testing.T) {
	past := pastMachinesHead
	for i, kN := range []float64{100, 300, 700} {
		past += fmt.Sprintf("P%d,PRESS,%v,%v,\n", i, kN, 60000+410*kN)
	}
	_, fits, err := machineFitOf(t, machineTables(past, "Machine,Coefficient,Value,Unit\nPRESS,Base price,60,kEUR\n"), study.ToolFitOptions{}, "")
	if err == nil {
		t.Fatal("kEUR is no unit here", fits)
	}
	_, fits, err = machineFitOf(t, machineTables(past, "Machine,Coefficient,Value,Unit\nPRESS,Base price,60000,EUR\n"),
		study.ToolFitOptions{Coefficients: []string{"Price per size"}}, "")
	if err != nil {
		t.Fatal(err)
	}
	if got := fits.Kinds[0].Fit.Coefficients[0].Value; len(fits.Kinds[0].Chosen) != 1 || math.Abs(got-410) > 1e-9 {
		t.Errorf("fitted %v", got)
	}
}

// TestMachineMistakes: what is wrong with past machines and relations is said at its cell.
func TestMachineMistakes(t *testing.T) {
	head := "Machine,Coefficient,Value,Unit,State\n"
	for _, c := range []struct{ past, relations, want string }{
		{pastMachinesHead + "A,PRES,100,5,\n", "", `Past machines!B2: machine "PRES" is not in the sheet Machines; did you mean PRESS?`},
		{pastMachinesHead + "A,TYPED,100,5,\n", "", "Past machines!B2: machine TYPED is no price relation: its Sized by is empty"},
		{pastMachinesHead + "A,PRESS,100,,\n", "", "Past machines!A2: past machine A has no price above 0"},
		{pastMachinesHead + "A,PRESS,,5,\n", "", "Past machines!A2: past machine A has no Rated force above 0"},
		{pastMachinesHead + "A,DRIVE,100,5,\n", "", "Past machines!A2: past machine A has no Rated power above 0; give it in a column Rated power [kW]"},
		{pastMachinesHead + "A,PRESS,100,5,1.5\n", "", "Count of past machine A is no whole number of 1 or more"},
		{pastMachinesHead + "A,PRESS,about 100,5,\n", "", "Past machines!C2"},
		{pastMachinesHead, "", "the workbook has no past machines"},
		{pastPresses(""), head + "PRESS,Price,5,EUR,\n", `Machine relations!B2: unknown coefficient "Price"; it is one of Base price, Price per size`},
		{pastPresses(""), head + "PRESS,Price per size,5,EUR,\n", `Machine relations!D2: the unit of Price per size of PRESS is "EUR"; write EUR/kN`},
		{pastPresses(""), head + "PRESS,Base price,-5,EUR,\n", "Machine relations!C2: Base price of PRESS must be a number of 0 or more"},
		{pastPresses(""), head + "PRESS,Base price,5,EUR,\nPRESS,Base price,6,EUR,own\n", "Machine relations!B3: Base price of PRESS stands twice"},
		{pastPresses(""), head + "PRESS,Base price,5,EUR,olde\n", `unknown state "olde"`},
		{pastPresses(""), head + "OTHER,Base price,5,EUR,\n", "Machines!B5: Price of machine OTHER is given here and in the sheet Machine relations"},
	} {
		_, _, err := machineFitOf(t, machineTables(c.past, c.relations), study.ToolFitOptions{}, "")
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want %q, got %v", c.want, err)
		}
	}
}

// TestAcceptedMachineFits: accepted values are in force in what is written, and a second time the first are kept as replaced; a price that the sheet
// Machines gives stands in the way.
func TestAcceptedMachineFits(t *testing.T) {
	file := t.TempDir() + "/a.xlsx"
	tables := machineTables(pastPresses(""), "")
	w, fits, err := machineFitOf(t, tables, study.ToolFitOptions{}, file)
	if err != nil {
		t.Fatal(err)
	}
	for i, replaced := range []int{0, 2} {
		done, err := w.AcceptFits(t.Context(), fits, "2026-01-31", false)
		if err != nil || done.Sheet != "Machine relations" || done.Replaced != replaced || done.Last-done.First != 1 {
			t.Fatalf("%d: %+v %v", i, done, err)
		}
		if w, err = costing.Open(t.Context(), file, costing.Options{Edits: costing.LeaveEdits}); err != nil {
			t.Fatal(err)
		}
		if fits, err = w.FitMachines(context.Background(), study.ToolFitOptions{}); err != nil {
			t.Fatal(err)
		}
		for j, c := range fits.Kinds[0].Chosen {
			if found := fits.Kinds[0].Fit.Coefficients[j].Value; math.Abs(c.Value-found) > 1e-5*found {
				t.Errorf("%d: %s in force is %v, fitted was %v", i, c.Name, c.Value, found)
			}
		}
	}
	given := maps.Clone(tables)
	given["machines.csv"] = &fstest.MapFile{Data: []byte("Machine,Price [EUR],Economic life [yr],Sized by\nPRESS,5,10,force\n")}
	if w, fits, err = machineFitOf(t, given, study.ToolFitOptions{}, t.TempDir()+"/b.xlsx"); err != nil {
		t.Fatal(err)
	}
	_, err = w.AcceptFits(t.Context(), fits, "2026-01-31", false)
	if err == nil || !strings.Contains(err.Error(), "Machines!B2 gives the price of machine PRESS") {
		t.Errorf("accepted: %v", err)
	}
}
