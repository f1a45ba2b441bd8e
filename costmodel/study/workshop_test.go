package study_test

import (
	"encoding/csv"
	"maps"
	"math"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// The workshop is a case whose costs are worked out by hand in the tests: one plant of 100 days with one shift of 8 h, so
// 800 h a line and year, interest 0, no building. Scenario X makes the piece on M1 (10,000 EUR per line and year) in 36 s with
// one worker at 10 EUR/h, scenario Y on M2 (6,000 EUR) in 45 s with 0.8 workers. A tool set is 5,000 EUR over 5 years and
// does not wear out. Invented.
var workshop = map[string]string{
	"case.csv":      "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
	"plants.csv":    "Quantity,Unit,Works\nWorking days,1/yr,100\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,10\n",
	"materials.csv": "Material,Density [kg/m3]\n",
	"machines.csv": "Machine,Name,Price [EUR],Economic life [yr],Footprint [m2],Crew,Equipment allocation,Rated force [kN]\n" +
		"M1,fast press,100000,10,0,1,pooled,1000\nM2,slow press,60000,10,0,0.8,pooled,500\n",
	"parts.csv":             "Part,Name,Form\nP,plate,assembly\n",
	"bill_of_materials.csv": "Parent,Child,Quantity,Joined at operation\n",
	"operations.csv": "Part,Operation,Name,Process,Machine,Load and process time [s],Set-up time [min],Batch size,Tool price [EUR]," +
		"Tool life [cycles]\nP,10,press,timed operation,M1,36,0,1000,5000,100000000\n",
	"scenarios.csv": "Sheet,Row,Column,X,Y\n,,Annual volume [1/yr],80000,80000\n,,Product,P,P\nOperations,P/10,Machine,,M2\n" +
		"Operations,P/10,Load and process time [s],,45\n",
}

// read compiles every scenario of tables; changes are pairs of a table and of what replaces a text that stands in it once.
func read(t testing.TB, tables map[string]string, changes ...[3]string) []*costmodel.Plan {
	t.Helper()
	texts := maps.Clone(tables)
	for _, c := range changes {
		if n := strings.Count(texts[c[0]], c[1]); n != 1 {
			t.Fatalf("%q stands %d times in %s", c[1], n, c[0])
		}
		texts[c[0]] = strings.Replace(texts[c[0]], c[1], c[2], 1)
	}
	data := &table.Case{File: "tables"}
	for _, l := range table.Layouts {
		if text, ok := texts[table.Normalise(l.Sheet)+".csv"]; ok {
			data.Tables = append(data.Tables, tableOf(t, l.Sheet, text))
		}
	}
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	m := costmodel.New(data, lib)
	var out []*costmodel.Plan
	for _, s := range m.Scenarios {
		p, ds := m.Compile(s, costmodel.CompileOptions{})
		if p == nil {
			t.Fatal(m.Diagnostics, ds)
		}
		out = append(out, p)
	}
	return out
}

// tableOf reads a sheet; numbers are in the units of their headings.
func tableOf(t testing.TB, sheet, text string) *table.Table {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord, r.LazyQuotes = -1, true
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", sheet, err)
	}
	place := func(row, col int) table.Place {
		return table.Place{File: "tables", Sheet: sheet, Row: row + 1, Col: col + 1}
	}
	out := &table.Table{Sheet: sheet, Place: table.Place{File: "tables", Sheet: sheet}}
	for c, heading := range rows[0] {
		out.Columns = append(out.Columns, table.Column{Heading: heading, Place: place(0, c)})
	}
	for n, cells := range rows[1:] {
		row := table.Row{Number: n + 2, Cells: make([]table.Value, len(rows[0]))}
		for c := range row.Cells {
			row.Cells[c].Place = place(n+1, c)
			if c >= len(cells) || cells[c] == "" {
				continue
			}
			row.Cells[c].Kind, row.Cells[c].Text = table.Text, cells[c]
			if v, err := strconv.ParseFloat(cells[c], 64); err == nil {
				row.Cells[c].Kind, row.Cells[c].Number = table.Number, v
			}
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}

// sampleTables are the tables of the sample case.
func sampleTables(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	const folder = "../../templates/samples/battery-tray/"
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		raw, err := os.ReadFile(folder + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		out[e.Name()] = string(raw)
	}
	return out
}

// near tells whether two numbers agree to 1e-9 of the larger, or of 1.
func near(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*max(1, math.Abs(a), math.Abs(b))
}

// annual is the annual cost of a plan at a volume.
func annual(p *costmodel.Plan, volume float64) float64 {
	return p.Detail(volume).Scenario().Must("annual_cost")
}

// libraryOfTests is the library of templates/, read once for all tests, which change nothing in it.
var libraryOfTests = sync.OnceValues(func() (*costmodel.Library, error) { return costmodel.LoadLibrary(os.DirFS("../../templates")) })
