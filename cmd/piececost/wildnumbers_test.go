package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"path/filepath"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel/table"
	"piececost/scenarios"
	"piececost/scenarios/costing"
)

var wildCases = flag.Int("wild", 120, "random cases with one wild value each; 500 in make check")

// wildValues are what a cell may hold that nobody meant.
var wildValues = []struct {
	name  string
	value table.Value
}{
	{"0", table.Value{Kind: table.Number}},
	{"negative", table.Value{Kind: table.Number, Number: -7}},
	{"1e308", table.Value{Kind: table.Number, Number: 1e308}},
	{"-1e308", table.Value{Kind: table.Number, Number: -1e308}},
	{"1e-308", table.Value{Kind: table.Number, Number: 1e-308}},
	{"large", table.Value{Kind: table.Number, Number: 1e9}},
	{"million", table.Value{Kind: table.Number, Number: 1e6}},
	{"half", table.Value{Kind: table.Number, Number: 0.5}},
	{"small", table.Value{Kind: table.Number, Number: 1e-6}},
	{"percent", table.Value{Kind: table.Number, Number: 3, Percent: true}},
	{"text", table.Value{Kind: table.Text, Text: "about five"}},
	{"expression", table.Value{Kind: table.Text, Text: "1 / 0"}},
	{"overflow", table.Value{Kind: table.Text, Text: "exp(900)"}},
	{"empty", table.Value{}},
	{"date", table.Value{Kind: table.Date, Text: "2026-11-28"}},
	{"flag", table.Value{Kind: table.Flag, Number: 1, Text: "TRUE"}},
	{"error value", table.Value{Kind: table.Broken, Text: "the cell shows #DIV/0!", Help: "correct its formula or type a value"}},
}

// TestWildNumbers holds that whatever check passes, run costs and writes: in random cells of the published examples and of
// the case of README stands one wild value each. What check refuses it says at a cell or a sheet.
func TestWildNumbers(t *testing.T) {
	bases := wildBases(t)
	r := rand.New(rand.NewPCG(2026, 11))
	counts := map[string]int{}
	for i := range *wildCases {
		w := wildValues[i%len(wildValues)]
		path := bases[r.IntN(len(bases))]
		cell, refused, err := wildCase(path, w.value, r)
		what := fmt.Sprintf("case %d: %s with %s at %s", i, filepath.Base(path), w.name, cell)
		switch {
		case err != nil:
			t.Errorf("%s: check passes it, but: %v", what, err)
		case refused:
			counts["refused"]++
		default:
			counts["costed"]++
		}
	}
	t.Logf("%d cases: %v", *wildCases, counts)
	if *wildCases >= 100 && (counts["refused"] < *wildCases/10 || counts["costed"] < *wildCases/10) {
		t.Errorf("%v: nearly all of one kind shows nothing", counts)
	}
}

// wildCase puts a value into a random cell of a workbook, checks the case and costs it where nothing is wrong.
func wildCase(path string, value table.Value, r *rand.Rand) (cell string, refused bool, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	w, err := costing.Open(context.Background(), path, costing.Options{Edits: costing.LeaveEdits})
	if err != nil {
		return "", false, err
	}
	at := wildCell(w.Case(), r)
	value.Place = at.Place
	cell = fmt.Sprintf("%s!%s (was %q %v)", at.Place.Sheet, at.Place.Cell(), at.Text, at.Number)
	*at = value
	costed, err := w.Cost(context.Background())
	var ds table.Diagnostics
	if errors.As(err, &ds) {
		for _, d := range ds.Errors() {
			if d.Place.Sheet == "" && d.Code != "sheet" {
				return cell, true, fmt.Errorf("an error without a place: %s", d)
			}
		}
		return cell, true, nil
	}
	if err != nil {
		return cell, false, err
	}
	written, err := costed.Put(context.Background())
	if errors.As(err, &ds) {
		return cell, true, nil
	}
	if err != nil {
		return cell, false, err
	}
	report.PrintRun(io.Discard, written.Results)
	return cell, false, nil
}

// wildCell picks a cell of a row that says something, evenly over sheets, three times in four one that holds a number.
func wildCell(c *table.Case, r *rand.Rand) *table.Value {
	number := r.IntN(4) > 0
	for {
		t := c.Tables[r.IntN(len(c.Tables))]
		if len(t.Rows) == 0 {
			continue
		}
		row := &t.Rows[r.IntN(len(t.Rows))]
		if v := &row.Cells[r.IntN(len(row.Cells))]; v.Place.Row > 0 && v.Place.Col > 0 && (!number || v.Kind == table.Number) {
			return v
		}
	}
}

// wildBases are the workbooks to be disturbed.
func wildBases(t *testing.T) []string {
	lib, err := library()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	names, err := filepath.Glob("../../testdata/published/*.txtar")
	if err != nil || len(names) < 20 {
		t.Fatalf("%d published examples, %v", len(names), err)
	}
	plate := filepath.Join(dir, "plate.xlsx")
	wordsCommand(t, 0, "new", plate)
	setCells(t, plate, plate, plateFacts)
	out := []string{plate}
	for _, name := range names {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		tables := fstest.MapFS{}
		for _, f := range a.Files {
			tables[f.Name] = &fstest.MapFile{Data: f.Data}
		}
		w, err := scenarios.Starter(tables, lib)
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, filepath.Base(name)+".xlsx")
		if err := w.Save(t.Context(), path, scenarios.SaveOptions{}); err != nil {
			t.Fatal(err)
		}
		out = append(out, path)
	}
	return out
}
