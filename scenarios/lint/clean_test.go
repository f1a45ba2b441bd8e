package lint_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/scenarios"
	"piececost/scenarios/lint"
	"piececost/templates"
)

// TestSampleIsClean: the sample, and the workbook that a run makes of it, have no finding; the sheets of the run are known by
// their second row and left out.
func TestSampleIsClean(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	lib, err := costmodel.LoadLibrary(templates.Files)
	must(t, err)
	for _, of := range []struct { // the sample last: a run is made of it
		sample string
		sheets int
	}{{"empty", 30}, {"battery-tray", 19}} {
		sample, sheets := of.sample, of.sheets
		tables, err := fs.Sub(templates.Files, "samples/"+sample)
		must(t, err)
		w, err := scenarios.Starter(tables, lib)
		must(t, err)
		must(t, w.Save(t.Context(), path, scenarios.SaveOptions{Replace: true}))
		r, err := lint.File(path)
		must(t, err)
		if len(r.Findings) > 0 || len(r.Skipped) > 0 || r.Sheets != sheets {
			t.Errorf("%s: %+v", sample, r)
		}
	}
	inputs := sheetsOf(t, path)
	run(t, path, lib)
	r, err := lint.File(path)
	must(t, err)
	if len(r.Findings) > 0 {
		t.Errorf("result workbook: %+v", r.Findings)
	}
	if want := sheetsOf(t, path) - inputs; len(r.Skipped) != want || want < 10 || r.Sheets != inputs {
		t.Errorf("%d sheets looked at, %d left out (%v); the run wrote %d", r.Sheets, len(r.Skipped), r.Skipped, want)
	}
}

// run costs a workbook and writes the result sheets into it.
func run(t *testing.T, path string, lib *costmodel.Library) {
	t.Helper()
	c, err := scenarios.Read(path)
	must(t, err)
	m := costmodel.New(c, lib)
	result := &scenarios.Result{}
	for _, s := range m.Scenarios {
		p, ds := m.Compile(s, costmodel.CompileOptions{})
		if ds.HasErrors() {
			t.Fatal(ds)
		}
		sweep, err := p.Sweep([]float64{s.Volume / 2, s.Volume})
		must(t, err)
		result.Details, result.Sweeps = append(result.Details, p.Detail(s.Volume)), append(result.Sweeps, sweep)
	}
	w, err := scenarios.Open(path)
	must(t, err)
	must(t, w.Write(t.Context(), result))
	must(t, w.Save(t.Context(), path, scenarios.SaveOptions{Replace: true}))
}

func sheetsOf(t *testing.T, path string) int {
	t.Helper()
	f, err := excelize.OpenFile(path)
	must(t, err)
	defer f.Close()
	return len(f.GetSheetList())
}

// TestCleanModelIsClean: a model as a careful estimator builds it, in what most easily looks like a fault: keys that are
// numbers or texts, headings that are years, subtotals amid copies, a row of inputs amid formulas, a price list of which a
// part is looked up, units in formats, amounts in euros under [EUR/kg]. All data are invented.
func TestCleanModelIsClean(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	m := model{t, f}
	m.assumptions()
	m.prices()
	m.operations()
	m.years()
	buf, err := f.WriteToBuffer()
	must(t, err)
	r, err := lint.Read(bytes.NewReader(buf.Bytes()), int64(buf.Len()), "clean.xlsx")
	must(t, err)
	for _, found := range r.Findings {
		t.Errorf("%s %s: %s", found.Place, found.Code, found.Summary)
	}
}

type model struct {
	t *testing.T
	f *excelize.File
}

// put enters cells from a place to the right; a text that begins with = is a formula.
func (m model) put(sheet string, row, col int, values ...any) {
	m.t.Helper()
	for i, v := range values {
		cell, err := excelize.CoordinatesToCellName(col+i, row)
		must(m.t, err)
		if s, ok := v.(string); ok && len(s) > 1 && s[0] == '=' {
			must(m.t, m.f.SetCellFormula(sheet, cell, s[1:]))
		} else if v != nil {
			must(m.t, m.f.SetCellValue(sheet, cell, v))
		}
	}
}

func (m model) format(sheet, from, to, format string) {
	m.t.Helper()
	id, err := m.f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	must(m.t, err)
	must(m.t, m.f.SetCellStyle(sheet, from, to, id))
}

func (m model) assumptions() {
	must(m.t, m.f.SetSheetName("Sheet1", "Assumptions"))
	for i, row := range [][]any{
		{"Quantity", "Value", "Unit", "Source"},
		{"Working days", 230, "1/yr", "invented"},
		{"Shifts", 2, "1", "invented"},
		{"Paid hours", 7.5, "h", "invented"},
		{"Planned capacity utilisation", 0.8, "%", "invented"},
		{"Wage", 35, "EUR/h", "invented"},
		nil,
		{"Machine", nil, nil, nil},
		{"Price", 900000, "EUR", "invented"},
		{"Economic life", 12, "yr", "invented"},
		{"Tool length", 1.2, "m", "invented"},
		nil,
		{"Hours per year", "=B2*B3*B4*B5", "h", "computed"},
		{"Machine rate", "=B9/B10/B13+B11*0", "EUR/h", "computed"},
	} {
		m.put("Assumptions", i+1, 1, row...)
	}
	m.format("Assumptions", "B4", "B4", `0.0" h"`)
	m.format("Assumptions", "B6", "B6", `#,##0.00" €"`)
	m.format("Assumptions", "B11", "B11", `0.0" m"`)
}

func (m model) prices() {
	_, err := m.f.NewSheet("Prices")
	must(m.t, err)
	m.put("Prices", 1, 1, "Number", "Grade", "Price [EUR/kg]", "Density [kg/m3]", "Drawing")
	for i, grade := range []string{"6016", "6082", "mild steel", "1.4301"} {
		m.put("Prices", i+2, 1, 4711+13*i, grade, 0.8+0.3*float64(i), 7850-5000*(i%2), fmt.Sprintf("00%d", 81+i*7))
	}
	m.format("Prices", "C2", "C5", `0.00" €"`)
}

func (m model) operations() {
	_, err := m.f.NewSheet("Operations")
	must(m.t, err)
	m.put("Operations", 1, 1, "Operation", "Grade", "Mass [kg]", "Time [s]", "Material", "Labour", "Total")
	row := 2
	for part := range 3 {
		from := row
		for step := range 4 {
			m.put("Operations", row, 1, 10*(step+1), "6016", 0.7+0.11*float64(row), 6.5+float64(part))
			m.put("Operations", row, 5, fmt.Sprintf("=ROUND(INDEX(Prices!$C$2:$C$5,MATCH(B%d,Prices!$B$2:$B$5,0)),4)*C%d", row, row),
				fmt.Sprintf("=D%d/3600*Assumptions!$B$6+D%d/3600*Assumptions!$B$14", row, row), fmt.Sprintf("=E%d+F%d", row, row))
			row++
		}
		m.put("Operations", row, 1, "Subtotal")
		m.put("Operations", row, 7, fmt.Sprintf("=SUM(G%d:G%d)", from, row-1))
		row++
	}
}

// years have the year in their headings, typed volumes amid formulas, and a sum at the end of each row.
func (m model) years() {
	_, err := m.f.NewSheet("Years")
	must(m.t, err)
	m.put("Years", 1, 1, "Year", 2026, 2027, 2028, 2029, 2030, 2031, "Sum")
	m.put("Years", 2, 1, "Growth", 0.02, 0.03, 0.01, 0.02, 0.025, 0.015)
	m.put("Years", 3, 1, "Volume [1/yr]", 60000)
	for c := 2; c <= 7; c++ {
		name, err := excelize.ColumnNumberToName(c)
		must(m.t, err)
		before, err := excelize.ColumnNumberToName(c - 1)
		must(m.t, err)
		if c > 2 {
			m.put("Years", 3, c, fmt.Sprintf("=%s3*(1+%s2)", before, name))
		}
		for row := 4; row <= 12; row++ {
			m.put("Years", row, c, fmt.Sprintf("=%s%d*(1+$B$2)", name, row-1))
		}
		m.put("Years", 8, c, 51000.5+900.25*float64(c*c)) // a row of quotes amid copies
	}
	for row := 3; row <= 12; row++ {
		m.put("Years", row, 8, fmt.Sprintf("=SUM(B%d:G%d)", row, row))
	}
	m.put("Years", 14, 1, "Discounted")
	m.put("Years", 14, 2, "=SUMPRODUCT(B12:G12,(1+B2:G2)^-1)")
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
