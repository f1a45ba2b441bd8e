package scenarios

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// cellGraph is the formulas of a workbook as a graph: each formula cell with the cells it reads, every range taken as all
// its cells. A spreadsheet program finds some circles only; this finds all.
type cellGraph struct {
	index map[string]int // Sheet!A1 of formula cells
	names []string
	reads [][]int
}

var (
	formulaText = regexp.MustCompile(`"(?:[^"]|"")*"`)
	formulaRef  = regexp.MustCompile(`(?:('(?:[^']|'')+'|[A-Za-z_][A-Za-z0-9_.]*)!)?\$?([A-Z]{1,3})\$?([0-9]{1,7})(?::\$?([A-Z]{1,3})\$?([0-9]{1,7}))?`)
)

func newCellGraph(t testing.TB, path string) *cellGraph {
	t.Helper()
	g := &cellGraph{index: map[string]int{}}
	var formulas, sheets []string
	eachFormula(t, path, func(sheet string, c *ooxml.Cell) {
		name := fmt.Sprintf("%s!%s%d", sheet, table.ColumnName(c.Col), c.Row)
		g.index[name] = len(g.names)
		g.names = append(g.names, name)
		formulas = append(formulas, c.Formula)
		sheets = append(sheets, sheet)
	})
	for i, text := range formulas {
		g.reads = append(g.reads, g.cellsOf(text, sheets[i]))
	}
	return g
}

func (g *cellGraph) cellsOf(text, sheet string) []int {
	var out []int
	text = formulaText.ReplaceAllString(text, `""`)
	for _, m := range formulaRef.FindAllStringSubmatch(text, -1) {
		at := sheet
		if m[1] != "" {
			at = strings.ReplaceAll(strings.Trim(m[1], "'"), "''", "'")
		}
		c1, _ := excelize.ColumnNameToNumber(m[2])
		r1, _ := strconv.Atoi(m[3])
		c2, r2 := c1, r1
		if m[4] != "" {
			c2, _ = excelize.ColumnNameToNumber(m[4])
			r2, _ = strconv.Atoi(m[5])
		}
		for c := c1; c <= c2; c++ {
			for r := r1; r <= r2; r++ {
				name, _ := excelize.CoordinatesToCellName(c, r)
				if i, ok := g.index[at+"!"+name]; ok {
					out = append(out, i)
				}
			}
		}
	}
	return out
}

// circle returns the cells of a circle, or nil.
func (g *cellGraph) circle() []string {
	state := make([]uint8, len(g.names))
	var path []int
	var visit func(i int) []string
	visit = func(i int) []string {
		state[i] = 1
		path = append(path, i)
		for _, j := range g.reads[i] {
			switch state[j] {
			case 0:
				if c := visit(j); c != nil {
					return c
				}
			case 1:
				var out []string
				for k := len(path) - 1; k >= 0; k-- {
					out = append(out, g.names[path[k]])
					if path[k] == j {
						return out
					}
				}
			}
		}
		state[i] = 2
		path = path[:len(path)-1]
		return nil
	}
	for i := range g.names {
		if state[i] == 0 {
			if c := visit(i); c != nil {
				return c
			}
		}
	}
	return nil
}

// checkFormulas holds a written workbook to what formulas may be: no circle, short, only the listed functions.
func checkFormulas(t testing.TB, path string) {
	t.Helper()
	g := newCellGraph(t, path)
	if c := g.circle(); c != nil {
		t.Errorf("%s: a circle of %d cells: %s", filepath.Base(path), len(c), strings.Join(c, " - "))
	}
}

var allowedFunctions = map[string]bool{"IF": true, "AND": true, "OR": true, "NOT": true, "MIN": true, "MAX": true, "INT": true, "ABS": true, "PMT": true,
	"PV": true, "SUM": true,
	"SUMIF": true, "SUMIFS": true, "SUMPRODUCT": true, "INDEX": true, "MATCH": true, "EXACT": true, "COUNTA": true, "COUNT": true, "ROUND": true, "N": true,
	"ROW": true, "PI": true, "NA": true, "SQRT": true, "EXP": true, "LN": true,
	"SIN": true, "COS": true, "TAN": true, "ASIN": true, "ACOS": true, "ATAN": true}

var functionName = regexp.MustCompile(`([A-Z][A-Z0-9.]*)\(`)

// TestDemoFormulas looks at every formula of the sample's result workbook.
func TestDemoFormulas(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	saveSample(t, path)
	writeLive(t, path)
	checkFormulas(t, path)
	formulas, longest := 0, ""
	eachFormula(t, path, func(sheet string, c *ooxml.Cell) {
		formulas++
		if len(c.Formula) > len(longest) && sheet != checksSheet {
			longest = c.Formula
		}
		for _, m := range functionName.FindAllStringSubmatch(formulaText.ReplaceAllString(c.Formula, `""`), -1) {
			anchor := m[1] == "COLUMN" && sheet == writtenSheetName // tells where a column is now; no result rests on it
			if !allowedFunctions[m[1]] && !anchor {
				t.Errorf("%s!%s%d uses %s: %s", sheet, table.ColumnName(c.Col), c.Row, m[1], c.Formula)
			}
		}
	})
	if len(longest) > 255 {
		t.Errorf("a formula of %d characters: %s", len(longest), longest)
	}
	t.Logf("%d formulas, the longest outside Checks has %d characters: %s", formulas, len(longest), longest)
}

// TestCellGraphFindsCircles proves the search on a circle through a range that no program would compute.
func TestCellGraphFindsCircles(t *testing.T) {
	f := excelize.NewFile()
	for cell, text := range map[string]string{"A1": "1+1", "A2": "SUM(B1:B3)", "B2": "A2*2", "C1": "A1+1"} {
		if err := f.SetCellFormula("Sheet1", cell, text); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(t.TempDir(), "circle.xlsx")
	if err := f.SaveAs(path); err != nil {
		t.Fatal(err)
	}
	if c := newCellGraph(t, path).circle(); len(c) != 2 {
		t.Errorf("found %v", c)
	}
}
