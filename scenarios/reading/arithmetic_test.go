package reading

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// arithmeticBook has numbers, a text, an error and formulas without stored values in two sheets.
func arithmeticBook(t testing.TB) *Book { return bookOf(t, arithmeticFile(t)) }

// bookOf reads a workbook of the library as the program does.
func bookOf(t testing.TB, f *excelize.File) *Book {
	t.Helper()
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	p, err := ooxml.Open(bytes.NewReader(buf.Bytes()), int64(buf.Len()))
	if err != nil {
		t.Fatal(err)
	}
	return NewBook(p)
}

func arithmeticFile(t testing.TB) *excelize.File {
	t.Helper()
	f := excelize.NewFile()
	t.Cleanup(func() { f.Close() })
	set := func(sheet, cell string, value any) {
		if err := f.SetCellValue(sheet, cell, value); err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range []string{"Other", "My sheet", "It's", "Größe"} {
		if _, err := f.NewSheet(s); err != nil {
			t.Fatal(err)
		}
		set(s, "B2", 7)
	}
	set("Sheet1", "A1", 10)
	set("Sheet1", "A2", 2.5)
	set("Sheet1", "A3", "words")
	set("Sheet1", "A4", "12") // a text that looks like a number
	set("Sheet1", "A5", true)
	set("Sheet1", "XFD12", 3)
	for cell, formula := range map[string]string{"C1": "A1*2", "C2": "C1+Other!C1", "C3": "C4", "C4": "C5+1", "C5": "C3", "C6": "A3", "C7": "C7",
		"C8": "MAX(1,2)", "C9": "C8+1"} {
		if err := f.SetCellFormula("Sheet1", cell, formula); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.SetCellFormula("Other", "C1", "B2+A9"); err != nil { // B2 and A9 of its own sheet
		t.Fatal(err)
	}
	return f
}

// TestArithmetic computes formulas as spreadsheet programs do. Precedence: a sign binds tighter than ^, ^ goes from the
// left, per cent binds tightest. Source: LibreOffice Calc 7.4 gave these results for these formulas.
func TestArithmetic(t *testing.T) {
	b := arithmeticBook(t)
	for formula, want := range map[string]float64{
		"1": 1, "=1": 1, " 1 + 2 ": 3, "1.5e3": 1500, "2E-3": 0.002, ".5": 0.5, "5.": 5, "007": 7,
		"1+2*3": 7, "(1+2)*3": 9, "7-2-1": 4, "8/4/2": 1, "2*3/4": 1.5, "2-3+4": 3,
		"-2^2": 4, "0-2^2": -4, "2^3^2": 64, "2^-1": 0.5, "-2^-2": 0.25, "2^3*2": 16, "--2": 2, "-+-2": 2, "2^-2^2": 0.0625, "-2%^2": 0.0004, "2*-3": -6,
		"2--3": 5,
		"50%":  0.5, "-50%": -0.5, "4^50%": 2, "200*5%": 10, "10%%": 0.001, "(1+1)%": 0.02, "A1%": 0.1,
		"A1": 10, "a1": 10, "$A$1": 10, "A$1+$A2": 12.5, "-A1^2": 100, "A1/A2": 4, "A1 / A2": 4, "XFD12": 3,
		"B9": 0, "B9+A1": 10, // an empty cell counts 0
		"Other!B2": 7, "other!b2": 7, "Other!$B$2*2": 14, "'My sheet'!B2": 7, "'It''s'!B2": 7, "Größe!B2": 7, "'Other'!B2-A1": -3,
		"C1": 20, "C2": 27, "C1%": 0.2, "\n1\t+\n2": 3,
	} {
		got, err := b.arithmetic("Sheet1", formula)
		if err != nil || math.Abs(got-want) > 1e-15*math.Abs(want) {
			t.Errorf("%q: %v, %v, want %v", formula, got, err, want)
		}
	}
}

// TestArithmeticRefused holds what is not computed, and how it is said.
func TestArithmeticRefused(t *testing.T) {
	b := arithmeticBook(t)
	for formula, say := range map[string]string{
		"SUM(A1:A2)": "more than plain", "MAX(1,2)": "more than plain", "A1:A2": "more than plain", "PI()": "more than plain", "LOG10(5)": "more than plain",
		"LOG10 (5)": "more than plain", "Price*2": "more than plain", "TRUE": "more than plain", "A1&A2": "more than plain",
		"A1=A2": "more than plain", "A1<A2": "more than plain",
		`"a"`: "more than plain", "A1 A2": "more than plain", "A1,A2": "more than plain", "A1;A2": "more than plain", "{1,2}": "more than plain",
		"[1]Other!B2": "more than plain", "Other:Größe!B2": "more than plain", "Table1[Price]": "more than plain", "A1#": "more than plain",
		"@A1": "more than plain", "R[1]C": "more than plain",
		"": "more than plain", "1+": "more than plain", "*2": "more than plain", "(1": "more than plain", "1)": "more than plain",
		"()": "more than plain", "1 2": "more than plain",
		"1,5": "more than plain", "1e": "more than plain", "1.2.3": "more than plain", "#REF!": "more than plain", "#REF!+1": "more than plain",
		"Other!#REF!": "more than plain", "ABCD1": "more than plain", "A12345678": "", "A1_x": "more than plain",
		"1/0": "no number", "0/0": "no number", "(-8)^(1/3)": "no number", "10^400": "", "A1/B9": "no number",
		"A3": "Sheet1!A3, which holds no number", "A4": "Sheet1!A4, which holds no number", "A5+1": "Sheet1!A5, which holds no number",
		"C6+1": "Sheet1!A3, which holds no number",
		"C3":   "circle through Sheet1!C3", "C7": "circle through Sheet1!C7", "C8": "more than plain", "C9*2": "more than plain",
		"Missing!A1": `a sheet "Missing" that is not there`, "XFE1": "", "A0": "", "A1048577": "",
	} {
		if got, err := b.arithmetic("Sheet1", formula); err == nil || !strings.Contains(err.Error(), say) {
			t.Errorf("%q: %v, %v, want an error with %q", formula, got, err, say)
		}
	}
}

// TestArithmeticDepth bounds brackets in brackets and cells behind cells.
func TestArithmeticDepth(t *testing.T) {
	f := arithmeticFile(t)
	nested := func(n int) string { return strings.Repeat("(", n) + "1" + strings.Repeat(")", n) }
	for n := 1; n <= 70; n++ {
		if err := f.SetCellFormula("Sheet1", fmt.Sprintf("D%d", n), fmt.Sprintf("D%d+1", n+1)); err != nil {
			t.Fatal(err)
		}
	}
	b := bookOf(t, f)
	for formula, want := range map[string]float64{nested(60): 1, "D60": 11, "D12": 59} {
		if got, err := b.arithmetic("Sheet1", formula); err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", formula, got, err, want)
		}
	}
	for _, formula := range []string{nested(62), nested(100000), "D1", strings.Repeat("(", 1000)} {
		if got, err := bookOf(t, f).arithmetic("Sheet1", formula); err == nil { // a book remembers what it has computed
			t.Errorf("%.10q ...: %v, want an error", formula, got)
		}
	}
	long := strings.Repeat("1+", 50000) + "1"
	if got, err := b.arithmetic("Sheet1", long); err != nil || got != 50001 {
		t.Errorf("a long sum: %v, %v", got, err)
	}
}

// TestCalculatedCell reads formulas as cells: a stored value is taken as it stands, without one arithmetic is computed,
// and a percent format is kept.
func TestCalculatedCell(t *testing.T) {
	f := arithmeticFile(t)
	percent, err := f.NewStyle(&excelize.Style{NumFmt: 9})
	if err != nil {
		t.Fatal(err)
	}
	check := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	check(f.SetCellFormula("Sheet1", "E1", "A1/20"))
	check(f.SetCellStyle("Sheet1", "E1", "E1", percent))
	check(f.SetCellValue("Sheet1", "E2", 42))
	check(f.SetCellFormula("Sheet1", "E2", "SUM(A1:A2)"))
	check(f.SetCellFormula("Sheet1", "E3", "SUM(A1:A2)"))
	ref, kind := "E4:E6", excelize.STCellFormulaTypeShared
	check(f.SetCellFormula("Sheet1", "E4", "A1*2", excelize.FormulaOpts{Ref: &ref, Type: &kind}))
	b := bookOf(t, f)
	g, err := b.Grid(b.Pack.Sheet("Sheet1"))
	check(err)
	for _, c := range []struct {
		row     int
		kind    table.ValueKind
		number  float64
		percent bool
	}{{1, table.Number, 0.5, true}, {2, table.Number, 42, false}, {3, table.Broken, 0, false}, {4, table.Number, 20, false},
		{5, table.Number, 5, false}} {
		v := b.value("Sheet1", g, c.row, 5)
		if v.Kind != c.kind || v.Number != c.number || v.Percent != c.percent {
			t.Errorf("E%d: %+v", c.row, v)
		}
		if v.Kind == table.Broken && (v.Help != saveOnce || !strings.HasPrefix(v.Text, notCalculated)) {
			t.Errorf("E%d: %q, %q", c.row, v.Text, v.Help)
		}
	}
}
