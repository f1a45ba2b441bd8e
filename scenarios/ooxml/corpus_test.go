package ooxml

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// The reader is held against an independent one, github.com/xuri/excelize/v2, over public workbooks of several
// spreadsheet libraries (Apache POI, ClosedXML, SheetJS, exceljs, excelize): every cell has the same value and formula.
// Where the two differ on purpose, the reason stands here.

// onlyHere are workbooks that this reader opens and the library does not.
var onlyHere = map[string]string{
	"closedxml__ClosedXML.Tests_Resource_TryToLoad_LO_xlsx_different-column-width-excel2010.xlsx": "its thumbnail is a deflated entry of no bytes, " +
		"which the library unpacks and this reader never does",
}

// onlyThere are workbooks that the library opens and this reader refuses: how its line begins.
var onlyThere = map[string]string{
	"apache__test-data_spreadsheet_clusterfuzz-testcase-minimized-POIXSSFFuzzer-5265527465181184.xlsx": "the part _rels/.rels is broken", // by its checksum
	"apache__test-data_spreadsheet_duplicate-filename-case-insensitive.xlsx":                           "it holds the part xl/worksheets/Sheet1.xml twice",
	"apache__test-data_spreadsheet_poc-xmlbomb.xlsx": "the part xl/sharedStrings.xml is broken: it " +
		"holds a document type",
}

// A difference of single cells, told from the cell and what the library says.
type difference struct {
	reason string
	is     func(c *Cell, value, formula string) bool
}

var differences = []difference{
	{"the library drops the blanks of a shared formula when it shifts it", func(c *Cell, value, formula string) bool {
		return value == c.Value && formula == withoutBlanks(c.Formula)
	}},
	{"the library leaves _x000D_ and the like in the text that a formula results in, though they are escapes there too",
		func(c *Cell, value, formula string) bool {
			return formula == c.Formula && formula != "" && c.Type == Text && plainString(value) == c.Value
		}},
}

// withoutBlanks drops the blanks outside quotes.
func withoutBlanks(formula string) string {
	var b strings.Builder
	for i := 0; i < len(formula); {
		end := i + 1
		if formula[i] == '"' || formula[i] == '\'' {
			end = quotedEnd(formula, i)
		}
		if formula[i] != ' ' {
			b.WriteString(formula[i:end])
		}
		i = end
	}
	return b.String()
}

// comparison counts what was compared.
type comparison struct {
	t                              *testing.T
	file                           string
	cells, formulas, merged, blank int
	shares                         int   // numbers shown with a %
	known                          []int // by difference
}

func TestCorpus(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "..", "shared", "corpus", "*.xls*"))
	if len(files) == 0 {
		t.Skip("the corpus of public workbooks is not beside the checkout; NOT compared with the library")
	}
	all := comparison{t: t, known: make([]int, len(differences))}
	opened, refused := 0, 0
	for _, path := range files {
		all.file = filepath.Base(path)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		p, err := Open(bytes.NewReader(data), int64(len(data)))
		checkLine(t, all.file, err)
		lib, libErr := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
		if err != nil {
			refused++
			if want, ok := onlyThere[all.file]; libErr == nil && (!ok || !strings.HasPrefix(err.Error(), want)) {
				t.Errorf("%s: the library opens it; here: %v", all.file, err)
			}
			continue
		}
		opened++
		if libErr != nil {
			if onlyHere[all.file] == "" {
				t.Errorf("%s: opened, but the library says: %v", all.file, libErr)
			}
			continue
		}
		all.workbook(p, lib)
		lib.Close()
	}
	t.Logf("%d workbooks: %d opened, %d refused; %d cells compared, %d of them with a formula; %d places empty in both; %d merged ranges; %d shares",
		len(files), opened, refused, all.cells, all.formulas, all.blank, all.merged, all.shares)
	for i, d := range differences {
		t.Logf("%d cells differ: %s", all.known[i], d.reason)
		if all.known[i] == 0 {
			t.Errorf("no cell differs so any more: %s", d.reason)
		}
	}
	if opened < 170 || all.cells < 20000 || all.formulas < 1000 || all.merged < 300 || all.shares < 10 {
		t.Errorf("fewer than the corpus had: %d workbooks, %d cells, %d formulas, %d merged ranges, %d shares", opened, all.cells, all.formulas, all.merged,
			all.shares)
	}
}

func (k *comparison) workbook(p *Package, lib *excelize.File) {
	k.t.Helper()
	names := []string{}
	for i := range p.Sheets {
		names = append(names, p.Sheets[i].Name)
	}
	if list := lib.GetSheetList(); !slices.Equal(list, names) {
		k.t.Errorf("%s: sheets %q, the library has %q", k.file, names, list)
	}
	for i := range p.Sheets {
		g, err := p.Read(&p.Sheets[i])
		if err != nil {
			k.t.Errorf("%s: %v", k.file, err)
			continue
		}
		if p.Sheets[i].Kind == "worksheet" {
			k.sheet(p, g, lib, p.Sheets[i].Name)
		}
	}
}

func (k *comparison) sheet(p *Package, g *Grid, lib *excelize.File, sheet string) {
	k.t.Helper()
	here := map[[2]int]*Cell{}
	last := [2]int{}
	for i := range g.Cells {
		c := &g.Cells[i]
		here[[2]int{c.Row, c.Col}] = c
		last = [2]int{max(last[0], c.Row), max(last[1], c.Col)}
		k.cell(p, c, lib, sheet)
	}
	k.rest(here, last, lib, sheet)
	ranges := []string{}
	merged, err := lib.GetMergeCells(sheet, true)
	for _, m := range merged {
		ranges = append(ranges, m[0])
	}
	if err != nil || strings.Join(ranges, " ") != strings.Join(g.Merged, " ") {
		k.t.Errorf("%s: %s has the merged ranges %q, the library has %q, %v", k.file, sheet, g.Merged, ranges, err)
	}
	k.merged += len(ranges)
}

// cell compares a cell, and by the % of its shown value whether it is a share.
func (k *comparison) cell(p *Package, c *Cell, lib *excelize.File, sheet string) {
	k.t.Helper()
	at, _ := excelize.CoordinatesToCellName(c.Col, c.Row)
	value, err1 := lib.GetCellValue(sheet, at)
	formula, err2 := lib.GetCellFormula(sheet, at)
	if formula != "" {
		k.formulas++
	}
	k.cells++
	shown, err3 := lib.GetCellValue(sheet, at, excelize.Options{RawCellValue: false})
	if err1 != nil || err2 != nil || err3 != nil {
		k.t.Errorf("%s: the library can't read %s!%s: %v, %v, %v", k.file, sheet, at, err1, err2, err3)
	}
	if percent := p.Style(c.Style).Percent; c.Type == Number && c.HasValue && percent != strings.Contains(shown, "%") {
		k.t.Errorf("%s: %s!%s is shown as %s; a share: %v", k.file, sheet, at, shown, percent)
	} else if percent && c.Type == Number {
		k.shares++
	}
	if value == c.Value && formula == c.Formula {
		return
	}
	for i, d := range differences {
		if d.is(c, value, formula) {
			k.known[i]++
			return
		}
	}
	k.t.Errorf("%s: %s!%s is %q =%s, the library has %q =%s", k.file, sheet, at, c.Value, c.Formula, value, formula)
}

// rest looks for what the library has and this reader has not: values in all rows, formulas in a bounded rectangle.
func (k *comparison) rest(here map[[2]int]*Cell, last [2]int, lib *excelize.File, sheet string) {
	k.t.Helper()
	rows, err := lib.Rows(sheet)
	if err != nil {
		k.t.Errorf("%s: %s: %v", k.file, sheet, err)
		return
	}
	for row := 1; rows.Next(); row++ {
		values, err := rows.Columns()
		if err != nil {
			k.t.Errorf("%s: %s: %v", k.file, sheet, err)
		}
		for i, v := range values {
			if v != "" && here[[2]int{row, i + 1}] == nil {
				k.t.Errorf("%s: %s row %d column %d is empty, the library has %q", k.file, sheet, row, i+1, v)
			}
		}
	}
	for n := range min(last[0]*last[1], 5000) {
		row, col := n/last[1]+1, n%last[1]+1
		if here[[2]int{row, col}] != nil {
			continue
		}
		k.blank++
		at, _ := excelize.CoordinatesToCellName(col, row)
		if formula, err := lib.GetCellFormula(sheet, at); err != nil || formula != "" {
			k.t.Errorf("%s: %s!%s is empty, the library has =%s, %v", k.file, sheet, at, formula, err)
		}
	}
}
