package lint

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// seeded are workbooks with faults put in, and every finding they must give. All data are invented.
var seeded = []struct{ name, lines, want string }{
	{"constants", `
		Costs!A1 0.78
		Costs!B1 =A1*1.19+A1*0.1
		Costs!B2 =A1*100/60+A1*12-A1*24+3600*1000-1
		Costs!B3 =A1*19%
		Costs!B4 =A1*100%
		Costs!B5 =A1^2+A1^-0.5+A1^(1/3)+POWER(A1,4)
		Costs!B6 =ROUND(A1,2)+VLOOKUP(A1,A1:C9,3)+INDEX(A1:C9,4,2)+INDEX(A1:C9,MATCH(A1,A1:A9,0)+2,IF(A1>5,2,3))
		Costs!B7 =IF(A1>50000,1,0)
		Costs!B8 =LOOKUP(A1,{0,10,20},{1,5,7})
		Costs!B9 ="12 mm"&A1
		Costs!B10 =1.5E3*A1+CEILING(A1,0.25)
		Costs!B11 =2+3
		Costs!B12 =SUM(LARGE(A1:A9,{2,3,4}))+A1*12%`, `
		Costs!B1 constant-in-formula: the constants 1.19 and 0.1 inside the formula =A1*1.19+A1*0.1
		Costs!B3 constant-in-formula: the constant 19% inside the formula =A1*19%
		Costs!B6 constant-in-formula: the constant 5 inside the formula =ROUND(A1,2)+VLOOKUP(A1,A1:C9,3)+INDEX(A1:C9,4,2)+INDEX(A...
		Costs!B7 constant-in-formula: the constant 50000 inside the formula =IF(A1>50000,1,0)
		Costs!B8 constant-in-formula: the constants 10, 20, 5 and 7 inside the formula =LOOKUP(A1,{0,10,20},{1,5,7})
		Costs!B10 constant-in-formula: the constants 1.5E3 and 0.25 inside the formula =1.5E3*A1+CEILING(A1,0.25)
		Costs!B11 constant-in-formula: the constants 2 and 3 inside the formula =2+3
		Costs!B12 constant-in-formula: the constant 12% inside the formula =SUM(LARGE(A1:A9,{2,3,4}))+A1*12%`},
	{"a block of constants is told once", rows(2, 43, "Costs!E# {0} 5\nCosts!F# =E#*1.15\nCosts!G# =F#*1.15") + "Costs!I2 =E2*1.15", `
		Costs!F2 constant-in-formula: the constant 1.15 inside the formula =E2*1.15, and 83 more in F2:G43
		Costs!I2 constant-in-formula: the constant 1.15 inside the formula =E2*1.15`},
	{"a formula breaks a column", rows(2, 5, "Costs!A# 7\nCosts!B# 8\nCosts!C# =A#*B#") + rows(7, 8, "Costs!A# 7\nCosts!B# 8\nCosts!C# =A#*B#") +
		"Costs!A6 7\nCosts!B6 8\nCosts!C6 =A6+B6", `
		Costs!C6 pattern-break: the formula =A6+B6 in a column of formulas such as =A5*B5`},
	{"a number breaks a row", `
		Plan!A1 5
		Plan!B1 =A1+$A$2
		Plan!C1 =B1+$A$2
		Plan!D1 9.25
		Plan!E1 =D1+$A$2
		Plan!F1 =E1+$A$2
		Plan!G1 =F1+$A$2
		Plan!A2 3`, `
		Plan!D1 pattern-break: the typed number 9.25 in a row of formulas such as =B1+$A$2`},
	{"two on one side and two on the other are too few", `
		Plan!A1 5
		Plan!B1 =A1+1
		Plan!C1 =B1+1
		Plan!D1 9
		Plan!E1 =D1+1
		Plan!F1 =E1+1`, ``},
	{"one on a side is too few", `
		Plan!A1 5
		Plan!B1 =A1+1
		Plan!C1 9
		Plan!D1 =C1+1
		Plan!E1 =D1+1
		Plan!F1 =E1+1
		Plan!G1 =F1+1`, ``},
	{"units in texts and formats", `
		Sizes!A1 ~12 mm
		Sizes!A2 ~14mm
		Sizes!A3 ~0.5 in
		Sizes!B1 {0.0" mm"} 3
		Sizes!B2 {0.0" in"} 4
		Sizes!B3 {0.0\ \m\m} 5
		Sizes!C1 ~Gauge [mm]
		Sizes!C2 2
		Sizes!C3 ~0.028 in
		Sizes!C4 ~3 mm
		Sizes!C5 ~5 kg
		Sizes!D1 ~Price [EUR/kg]
		Sizes!D2 {#,##0.00 [$€-407]} 2.5
		Sizes!D3 {0.00" EUR/t"} 780
		Sizes!E1 {[$$-409]#,##0.00} 12
		Sizes!E2 {#,##0.00" €"} 11
		Sizes!E3 {#,##0.00" €"} 10`, `
		Sizes!E1 mixed-units: a number shown in $ in a column in €
		Sizes!B2 mixed-units: a number shown in in in a column in mm
		Sizes!A3 mixed-units: "0.5 in" in a column in mm
		Sizes!C3 mixed-units: "0.028 in" under the heading "Gauge [mm]"
		Sizes!D3 mixed-units: a number shown in EUR/t under the heading "Price [EUR/kg]"
		Sizes!C5 mixed-units: "5 kg" under the heading "Gauge [mm]"`},
	{"an unused input of a list, of a row and of a range that is too short", `
		Plant!A1 ~Working days
		Plant!B1 230
		Plant!A2 ~Shifts
		Plant!B2 2
		Plant!A3 ~Hours
		Plant!B3 8
		Plant!A4 ~Break
		Plant!B4 0.5
		Plant!D1 =B1*B2*B3
		Plant!A10 7
		Plant!B10 9
		Plant!C10 13
		Plant!D10 20
		Plant!F12 =A10+B10+D10
		Other!A1 3.1
		Other!A2 4.2
		Other!A3 5.7
		Other!A4 6.9
		Other!C1 =SUM(A1:A3)`, `
		Plant!B4 unused-input: no formula reads the typed number 0.5, though they read its neighbours
		Plant!C10 unused-input: no formula reads the typed number 13, though they read its neighbours
		Other!A4 unused-input: no formula reads the typed number 6.9, though they read its neighbours`},
	{"numbers as text", `
		Data!A1 ~2024
		Data!A2 5
		Data!A3 ~7
		Data!A4 ~1,234.5
		Data!A5 9
		Data!B1 ~40
		Data!B3 ~50
		Data!B4 ~00123
		Data!C1 =B1*A2
		Data!D1 ~6016
		Data!D2 ~6082
		Data!E1 ~11
		Data!E2 ~12
		Data!F1 =SUM(E1:E2,A2:A5)
		Data!A9 ~Year
		Data!B9 2024
		Data!C9 ~2025
		Data!D9 2026
		Data!C10 8
		Data!B13 4711
		Data!C13 ~6016
		Data!D13 3`, `
		Data!B1 number-as-text: the number 40 is stored as text
		Data!E1 number-as-text: the number 11 is stored as text, and 1 more down to E2
		Data!A3 number-as-text: the number 7 is stored as text, and 1 more down to A4
		Data!C9 number-as-text: the number 2025 is stored as text`},
	{"volatile functions", `
		Costs!A1 =TODAY()-NOW()
		Costs!A2 =SUM(OFFSET(B1,0,0,3,1))
		Costs!A3 =INDIRECT("B"&1)+RAND()
		Costs!A4 =RANDBETWEEN(1,A2)&CELL("row",A1)&INFO("osversion")
		Costs!A5 ~TODAY()
		Costs!A6 =A5&"NOW()"`, `
		Costs!A1 volatile-function: TODAY and NOW in the formula =TODAY()-NOW()
		Costs!A2 volatile-function: OFFSET in the formula =SUM(OFFSET(B1,0,0,3,1))
		Costs!A3 volatile-function: INDIRECT and RAND in the formula =INDIRECT("B"&1)+RAND()
		Costs!A4 volatile-function: RANDBETWEEN, CELL and INFO in the formula =RANDBETWEEN(1,A2)&CELL("row",A1)&INFO("osversion")`},
	{"long and deep", `
		Costs!A1 1
		Costs!B1 =` + strings.Repeat("A1+", 99) + `A100
		Costs!B2 =` + strings.Repeat("A1+", 99) + `A10
		Costs!C1 =` + strings.Repeat("IF(A1,", 8) + "1" + strings.Repeat(")", 8) + `
		Costs!C2 =` + strings.Repeat("IF(A1,", 7) + "1" + strings.Repeat(")", 7), `
		Costs!B1 long-formula: a formula of 301 characters
		Costs!C1 deep-nesting: brackets 8 deep in the formula =IF(A1,IF(A1,IF(A1,IF(A1,IF(A1,IF(A1,IF(A1,IF(A1,1))))))))`},
	{"similar sheet names", `
		Costs!A1 1
		Plant_1!A1 1
		costs_!A1 1
		Plant1!A1 1`, `
		costs  similar-sheet-names: the sheet's name "costs " differs from "Costs" only by case or blanks
		Plant1 similar-sheet-names: the sheet's name "Plant1" differs from "Plant 1" only by case or blanks`},
	{"formulas that hold #REF!", `
		Costs!A1 =#REF!*2
		Costs!A2 =SUM(Plant!#REF!)
		Costs!A3 ~#REF!
		Costs!A4 ="#REF!"`, `
		Costs!A1 broken-reference: #REF! in the formula =#REF!*2, and 1 more down to A2
		Costs!A1 constant-in-formula: the constant 2 inside the formula =#REF!*2`},
}

func TestSeededFaults(t *testing.T) {
	for _, c := range seeded {
		t.Run(c.name, func(t *testing.T) { expect(t, built(t, c.lines), c.want) })
	}
}

// TestHidden holds hidden rows, columns and sheets with content; empty ones are nobody's matter.
func TestHidden(t *testing.T) {
	data := built(t, `
		Costs!A1 1
		Costs!A3 2
		Costs!B3 3
		Costs!A4 4
		Costs!A6 6
		Costs!E2 7
		Costs!G2 8
		Secret!A1 9
		Empty!A1 1`, func(f *excelize.File) error {
		for _, row := range []int{3, 4, 6, 9} {
			if err := f.SetRowVisible("Costs", row, false); err != nil {
				return err
			}
		}
		if err := f.SetColVisible("Costs", "D:F", false); err != nil {
			return err
		}
		if err := f.SetRowOutlineLevel("Costs", 6, 1); err != nil {
			return err
		}
		if err := f.SetCellValue("Empty", "A1", nil); err != nil {
			return err
		}
		if err := f.SetSheetVisible("Empty", false); err != nil {
			return err
		}
		return f.SetSheetVisible("Secret", false, true)
	})
	expect(t, data, `
		Costs!E2 hidden-columns: the column E is hidden and holds 1 filled cell
		Costs!A3 hidden-rows: the rows 3 to 4 are hidden and hold 3 filled cells
		Costs!A6 hidden-rows: the row 6 is hidden in a closed group and holds 1 filled cell
		Secret hidden-sheet: the sheet is hidden and holds 1 filled cell`)
}

// TestEveryKindIsSeeded holds the list of kinds against what the tests of this file and raw_test.go find.
func TestEveryKindIsSeeded(t *testing.T) {
	found := map[string]bool{"hidden-rows": true, "hidden-columns": true, "hidden-sheet": true, "error-value": true, "external-link": true}
	for _, c := range seeded {
		data := built(t, c.lines)
		r, err := Read(bytes.NewReader(data), int64(len(data)), "")
		check(t, err)
		for _, f := range r.Findings {
			found[f.Code] = true
			if f.Why == "" || f.Help == "" || f.Cells < 1 {
				t.Errorf("%s lacks words: %+v", f.Code, f)
			}
		}
	}
	for _, k := range Kinds {
		if !found[k.Code] {
			t.Errorf("no test finds %s", k.Code)
		}
	}
}
