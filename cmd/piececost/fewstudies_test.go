package main

import (
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"

	"piececost/costmodel/table"
)

// fewStudies is `fewstudies FILE`: the sheet Studies asks for one break-even value alone, for what does not depend on studies.
// With no row at all a run would try every input, which takes longer than the studies of the sample.
func fewStudies(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: fewstudies FILE")
	}
	f, err := excelize.OpenFile(ts.MkAbs(args[0]))
	ts.Check(err)
	ts.Check(askForLittle(f))
	ts.Check(lightly(f).Save())
}

// withFewStudies is fewStudies for the tests of this package.
func withFewStudies(t *testing.T, path string) {
	t.Helper()
	editBook(t, path, func(f *excelize.File) {
		if err := askForLittle(f); err != nil {
			t.Fatal(err)
		}
	})
}

func askForLittle(f *excelize.File) error {
	rows, err := f.GetRows("Studies")
	if err != nil {
		return err
	}
	asked := map[string]string{"A2": "break-even values", "B2": "B", "C2": "A", "D2": "Case/Interest rate"}
	for row := range rows[1:] {
		for col := range rows[0] {
			cell := table.ColumnName(col+1) + strconv.Itoa(row+2)
			var v any
			if text := asked[cell]; text != "" {
				v = text
			}
			if err := f.SetCellValue("Studies", cell, v); err != nil {
				return err
			}
		}
	}
	return nil
}
