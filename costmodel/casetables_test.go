package costmodel

import (
	"encoding/csv"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"sync"
	"testing"

	"piececost/costmodel/table"
)

// A csvCase is a case as CSV texts, by sheet: headings as in the workbook, a number in the unit of its heading.
type csvCase map[string]string

// sampleTables reads the tables of the sample case.
func sampleTables(t testing.TB) csvCase {
	t.Helper()
	out := csvCase{}
	files := os.DirFS("../templates/samples/battery-tray")
	for _, l := range table.Layouts {
		if text, err := fs.ReadFile(files, table.Normalise(l.Sheet)+".csv"); err == nil {
			out[l.Sheet] = string(text)
		}
	}
	if len(out) < 8 {
		t.Fatalf("the sample has only %d tables", len(out))
	}
	return out
}

// read makes a case of the texts, the sheets in their usual order.
func (c csvCase) read(t testing.TB) *table.Case {
	t.Helper()
	out := &table.Case{File: "tables"}
	for _, l := range table.Layouts {
		text, ok := c[l.Sheet]
		if !ok {
			continue
		}
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", l.Sheet, err)
		}
		out.Tables = append(out.Tables, csvTable(l.Sheet, rows))
	}
	return out
}

func csvTable(sheet string, rows [][]string) *table.Table {
	place := func(r, c int) table.Place { return table.Place{File: "tables", Sheet: sheet, Row: r + 1, Col: c + 1} }
	t := &table.Table{Sheet: sheet, Place: table.Place{File: "tables", Sheet: sheet}}
	for c, text := range rows[0] {
		t.Columns = append(t.Columns, table.Column{Heading: text, Place: place(0, c)})
	}
	for r, cells := range rows[1:] {
		row := table.Row{Number: r + 2}
		for c, text := range cells {
			v := csvValue(text)
			v.Place = place(r+1, c)
			row.Cells = append(row.Cells, v)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

func csvValue(text string) table.Value {
	if text == "" {
		return table.Value{}
	}
	if n, err := strconv.ParseFloat(text, 64); err == nil {
		return table.Value{Kind: table.Number, Number: n}
	}
	return table.Value{Kind: table.Text, Text: text}
}

// replace changes a text that stands in a sheet exactly once.
func (c csvCase) replace(t testing.TB, sheet, old, with string) {
	t.Helper()
	if n := strings.Count(c[sheet], old); n != 1 {
		t.Fatalf("%q stands %d times in %s", old, n, sheet)
	}
	c[sheet] = strings.Replace(c[sheet], old, with, 1)
}

// libraryOfTests is the library of templates/, read once for all tests that change nothing in it.
var libraryOfTests = sync.OnceValues(func() (*Library, error) { return LoadLibrary(os.DirFS("../templates")) })

// model reads the texts against the library of the repository.
func (c csvCase) model(t testing.TB) *Model {
	t.Helper()
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	m := New(c.read(t), lib)
	for _, d := range m.Diagnostics {
		if d.Severity == table.Error {
			t.Error(d)
		}
	}
	return m
}

// mustCompile compiles a scenario that must have no errors.
func mustCompile(t testing.TB, m *Model, s *Scenario, o CompileOptions) *Plan {
	t.Helper()
	p, ds := m.Compile(s, o)
	if p == nil {
		t.Fatal(ds)
	}
	return p
}

// changedSample is the sample with what it lacks: expressions that see the volume, whole numbers to be counted, dedicated
// and other pooled machines, changes by scenario.
func changedSample(t testing.TB) csvCase {
	t.Helper()
	c := sampleTables(t)
	c.replace(t, "Operations", "E02,,,6.5,1", "E02,,,scenario.annual_volume > 50000 ? 6.5 : 9,1")
	c.replace(t, "Operations", "E03,,,6.0,2,,,,,1.0,30,5000,335000",
		`E03,,,"min(6, 3 + setup_hours * ""0.002 s*yr/h"")",2,,,,,1.0,30,"max(2000, produced_quantity * ""0.5 yr"" / 12)",335000`)
	c.replace(t, "Operations", "400000,12000,0.04,invented", `400000,12000,"(""90 EUR/yr"" + ""0.03 EUR"" * produced_quantity) / produced_quantity",invented`)
	c.replace(t, "Operations", "TRAY_A,30,fit seal and cover and leak test,final assembly,E16,,,150,1,28,2.0,,,0.4,0,4000,47000,5000000",
		"TRAY_A,30,fit seal and cover and leak test,final assembly,E16,,,150,1,28,2.0,,,0,5,4000,47000,120000") // whole batches and tool sets at 60,000
	c.replace(t, "Scenarios", ",,Description", `Parts,"A01, A04",Gauge,base * 1.07,,,
Machines,* except E11,Equipment allocation,,dedicated,,
Machines,E02,Equipment allocation,,pooled,,
Operations,"A04/10, S01, C01/10",Batches [1/yr],"ceil(produced_quantity / batch_size + ""0.5 1/yr"")",base + 3,`+
		`"ceil(produced_quantity / batch_size + ""0.25 1/yr"")",
Plants,Direct labour rate,*,,,base + 4,
,,Description`)
	return c
}

// addColumn adds a column to a sheet, filled in the rows that begin as the keys do.
func (c csvCase) addColumn(t testing.TB, sheet, heading string, values map[string]string) {
	t.Helper()
	lines := strings.Split(strings.TrimRight(c[sheet], "\n"), "\n")
	filled := 0
	for i, line := range lines {
		value := heading
		if i > 0 {
			value = ""
			for key, v := range values {
				if strings.HasPrefix(line, key+",") {
					value, filled = v, filled+1
				}
			}
		}
		lines[i] = line + "," + value
	}
	if filled != len(values) {
		t.Fatalf("%d of %d rows of %s found", filled, len(values), sheet)
	}
	c[sheet] = strings.Join(lines, "\n") + "\n"
}

// steppedSample is the sample with start-up scrap, work beside the machine, operations of another firm and price bands.
func steppedSample(t testing.TB) csvCase {
	t.Helper()
	c := sampleTables(t)
	c.addColumn(t, "Operations", "Start-up scrap", map[string]string{"A01,10": "12", "A01,20": "7", "TRAY_A,30": "2"})
	c.addColumn(t, "Operations", "Parallel work time [s]", map[string]string{"A01,20": "8"})
	c.addColumn(t, "Operations", "Price per piece [EUR]", map[string]string{"A04,10": "1.3"})
	c.addColumn(t, "Operations", "Minimum lot charge [EUR]", map[string]string{"A04,10": "4500"})
	c.addColumn(t, "Operations", "Transport per lot [EUR]", map[string]string{"A04,10": "140"})
	at := strings.Index(c["Operations"], "\nA04,10,") + 1
	end := at + strings.Index(c["Operations"][at:], "\n")
	cells := strings.Split(c["Operations"][at:end], ",")
	cells[3], cells[4] = "outside processing", ""
	c["Operations"] = c["Operations"][:at] + strings.Join(cells, ",") + c["Operations"][end:]
	c.replace(t, "Parts", "purchased part,,,,,,,,0.11,", "purchased part,,,,,,,,,")
	c.replace(t, "Materials", "7850,0.78,", "7850,,")
	c["Price bands"] = "Sheet,Row,From quantity,Price\nParts,P02,0,0.14\nParts,P02,50000,0.12\nParts,P02,400000,0.105\n" +
		"Materials,M01,0,0.9\nMaterials,M01,120000,0.81\nMaterials,M01,410000,0.77\n"
	return c
}

// eachScenario runs a check for every scenario of the sample, as it is and changed, compiled folded and unfolded.
func eachScenario(t *testing.T, check func(t *testing.T, folded, plain *Plan)) {
	for i, name := range []string{"sample", "changed"} {
		m := []csvCase{sampleTables(t), changedSample(t)}[i].model(t)
		if len(m.Scenarios) != 3 {
			t.Fatalf("%d scenarios", len(m.Scenarios))
		}
		for _, s := range m.Scenarios {
			t.Run(name+" "+s.Name, func(t *testing.T) {
				check(t, mustCompile(t, m, s, CompileOptions{}), mustCompile(t, m, s, CompileOptions{plain: true}))
			})
		}
	}
}
