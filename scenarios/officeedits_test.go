package scenarios

import (
	"flag"
	"fmt"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
)

// officeFiles has LibreOffice open a file for each edit and each random case, where else one process makes all edits and
// gnumeric computes most cases.
var officeFiles = flag.Bool("office-files", false, "LibreOffice opens an edited file for every edit, and computes every random case (make check)")

// officeEdits makes the edits of both tests in one process of LibreOffice, the first time that a test asks.
var officeEdits struct {
	sync.Once
	shown map[string]shownSummary // by the edit's name
}

// shownAfter is what the costed sample shows after each edit in LibreOffice, which recalculates what the edit changes.
func shownAfter(t *testing.T, edits []inputEdit) []shownSummary {
	t.Helper()
	if *officeFiles {
		return shownInFiles(t, edits)
	}
	officeEdits.Do(func() {
		all := append([]inputEdit{{name: "nothing"}}, followed...)
		officeEdits.shown = editInOffice(t, editableSample(t), append(all, runAgain...))
	})
	if officeEdits.shown == nil {
		t.Skip("LibreOffice made no edits (see the test before); that they are followed is NOT checked by an independent program")
	}
	var out []shownSummary
	for _, e := range edits {
		s, ok := officeEdits.shown[e.name]
		if !ok {
			t.Fatalf("LibreOffice did not make the edit %s", e.name)
		}
		out = append(out, s)
	}
	return out
}

// editableSample is the sample's result workbook, one gauge typed as a text with its unit.
func editableSample(t testing.TB) string {
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	editableStarter(t, path)
	writeLive(t, path)
	return path
}

// shownInFiles edits copies of the workbook and has LibreOffice open each.
func shownInFiles(t *testing.T, edits []inputEdit) (shown []shownSummary) {
	t.Helper()
	base, dir := editableSample(t), t.TempDir()
	var paths []string
	for i, e := range edits {
		paths = append(paths, filepath.Join(dir, "edit"+strconv.Itoa(i)+".xlsx"))
		editWorkbookFile(t, base, paths[i], e)
	}
	out := recalculate(t, paths...)
	for _, path := range paths {
		var rows [][]string
		for _, c := range readSummary(t, filepath.Join(out, filepath.Base(path))) {
			for len(rows) < c.Row {
				rows = append(rows, nil)
			}
			rows[c.Row-1] = append(rows[c.Row-1], c.Value)
		}
		shown = append(shown, summaryShown(t, rows))
	}
	return shown
}

// editInOffice makes edits in a workbook one after another, each taken back before the next, and returns what it shows after
// each. In the end the workbook must show what it showed at first.
func editInOffice(t *testing.T, base string, edits []inputEdit) map[string]shownSummary {
	t.Helper()
	f, err := excelize.OpenFile(base)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	_, last, scenarios := summaryBlock(t, base)
	answer := runMacro(t, "edits.bas", "PIECECOST_EDITS", func(answer string) string {
		lines := []string{base, answer, summarySheet, fmt.Sprintf("A1:%s%d", table.ColumnName(1+scenarios), last)}
		for _, e := range append(edits, inputEdit{}) {
			lines = append(append(lines, e.jobLines(t, f)...), "read")
		}
		return strings.Join(lines, "\n") + "\n"
	})
	blocks := strings.Split(strings.TrimSuffix(strings.ReplaceAll(answer, "\r", ""), "\n\n"), "\n\n")
	if len(blocks) != len(edits)+1 {
		t.Fatalf("%d edits, %d answers, the last %q", len(edits), len(blocks), blocks[len(blocks)-1])
	}
	if blocks[0] != blocks[len(edits)] {
		t.Errorf("the workbook shows %q at first and %q after all edits are taken back", blocks[0], blocks[len(edits)])
	}
	shown := map[string]shownSummary{}
	for i, e := range edits {
		var rows [][]string
		for _, line := range strings.Split(blocks[i], "\n") {
			rows = append(rows, strings.Split(line, "\t"))
		}
		shown[e.name] = summaryShown(t, rows)
	}
	return shown
}

// jobLines are the lines of the macro's job for an edit.
func (e inputEdit) jobLines(t testing.TB, f *excelize.File) (lines []string) {
	t.Helper()
	cells, values := e.editedCells(t, f)
	for i, at := range cells {
		kind, text := "number", ""
		switch v := values[i].(type) {
		case nil:
			kind = "empty"
		case string:
			kind, text = "text", v
		case float64:
			text = strconv.FormatFloat(v, 'f', -1, 64)
		default:
			text = fmt.Sprint(v)
		}
		sheet, cell, _ := strings.Cut(at, "!")
		lines = append(lines, strings.Join([]string{kind, sheet, cell, text}, "\t"))
	}
	if sheet, row, ok := strings.Cut(e.rows, "!"); ok {
		lines = append(lines, strings.Join([]string{"row", sheet, row}, "\t"))
	}
	return lines
}

// summaryShown finds the master cell and the piece costs in the rows of the summary.
func summaryShown(t testing.TB, rows [][]string) (s shownSummary) {
	t.Helper()
	s.master = rows[2][0]
	for _, row := range rows {
		if len(row) == 0 || row[0] != "Piece cost, unrounded" {
			continue
		}
		for _, text := range row[1:] {
			v, err := strconv.ParseFloat(text, 64)
			if err != nil {
				v = math.NaN() // an error value, where a run is asked for
			}
			s.costs = append(s.costs, v)
		}
	}
	return s
}
