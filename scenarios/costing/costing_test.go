package costing_test

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/scenarios"
	"piececost/scenarios/costing"
)

// TestCostsAddUp: of every scenario the elements, the operations, and the parts with operations each add up to the piece cost, and so
// do the elements of each of them to its cost.
func TestCostsAddUp(t *testing.T) {
	r := sample()
	for _, s := range r.Scenarios {
		same := func(what string, got, want float64) {
			if math.Abs(got-want) > 1e-9*math.Abs(want) {
				t.Errorf("%s: %s are %v, not %v", s.Name, what, got, want)
			}
		}
		same("elements", sum(s.Elements), s.PieceCost)
		for what, rows := range map[string][]costing.Row{"operations": s.Operations(), "parts": s.Parts()} {
			total := 0.0
			for _, row := range rows {
				cost, elements, ok := row.Cost()
				if ok {
					same("elements of "+row.Key(), sum(elements), cost)
				}
				total += cost
			}
			same(what, total, s.PieceCost)
		}
		if _, _, ok := s.Machines()[0].Cost(); ok {
			t.Error("a machine adds something of its own to the product")
		}
	}
}

func sum(elements []costing.Element) float64 {
	out := 0.0
	for _, e := range elements {
		out += e.Amount
	}
	return out
}

// TestQuantities: the figures of README, with units, and the cells of the sample's tables that give them.
func TestQuantities(t *testing.T) {
	r := sample()
	a, err := r.Scenario("a b")
	if err != nil {
		t.Fatal(err)
	}
	if plants := a.Plants(); len(plants) != 1 || plants[0].Key() != "Van plant" {
		t.Errorf("%d plants", len(plants))
	}
	if got := rowOf(t, a.Materials(), "M01").Label(); got != "bake-hardening steel 180 zinc coated" {
		t.Errorf("M01 is called %q", got)
	}
	for _, c := range []struct {
		row   costing.Row
		name  string
		value float64 // as README shows it
		unit  string
		word  string
		sheet string
	}{
		{a.Row, "Net mass", 74.218, "kg", "", ""},
		{a.Row, "price", 210.59, "EUR", "", ""},
		{rowOf(t, a.Operations(), "A01/10"), "load_and_process_time", 3.2, "s", "", "Operations"},
		{rowOf(t, a.Operations(), "A01/10"), "equipment_allocation", 0, "", "shared", "Machines"},
	} {
		q, err := c.row.Quantity(c.name)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if c.unit != "" && math.Abs(q.Value-c.value) > 5e-3 || q.Unit != c.unit || q.Choice != c.word && c.word != "" {
			t.Errorf("%s is %+v, wanted %v %s %s", c.name, q, c.value, c.unit, c.word)
		}
		if c.word == "" && q.Place.Sheet != c.sheet {
			t.Errorf("%s is from %s, not from %q", c.name, q.Place, c.sheet)
		}
	}
	if _, err := a.Row.Quantity("net mas"); err == nil || !strings.Contains(err.Error(), "net_mass") {
		t.Errorf("a misspelt quantity: %v", err)
	}
	if _, err := r.Scenario("D"); err == nil || !strings.Contains(err.Error(), "there are A baseline, B variant 1, C variant 2") {
		t.Errorf("no such scenario: %v", err)
	}
	many := a.Row.Quantities()
	if len(many) < 30 {
		t.Errorf("a scenario has %d quantities", len(many))
	}
}

func rowOf(t *testing.T, rows []costing.Row, key string) costing.Row {
	t.Helper()
	for _, r := range rows {
		if r.Key() == key {
			return r
		}
	}
	t.Fatalf("there is no row %s", key)
	return costing.Row{}
}

// TestSweepAgainstScenario: a curve, a scenario at that volume and the cross-overs say the same.
func TestSweepAgainstScenario(t *testing.T) {
	r := sample()
	found, err := r.Crossovers(t.Context(), costing.Range{From: 20_000, To: 60_000})
	if err != nil {
		t.Fatal(err)
	}
	changes := found.Pairs[0].Changes // 28,942 in README
	if len(changes) != 1 || changes[0].Volume != 28_942 || changes[0].Cheaper != "A baseline" || len(changes[0].Second.Jumped) == 0 {
		t.Errorf("A and B change order at %+v", changes)
	}
	for i, name := range []string{found.Pairs[0].First, found.Pairs[0].Second} {
		curve, err := r.Sweep(t.Context(), name, 28_941, 28_942)
		if err != nil {
			t.Fatal(err)
		}
		move := []costing.Move{changes[0].First, changes[0].Second}[i]
		s, err := r.Scenario(name)
		if err != nil {
			t.Fatal(err)
		}
		if s, err = s.At(28_942); err != nil {
			t.Fatal(err)
		}
		for _, v := range []float64{curve.PieceCost[1], s.PieceCost} {
			if math.Abs(v-move.After) > 1e-9*v || math.Abs(curve.PieceCost[0]-move.Before) > 1e-9*v {
				t.Errorf("%s costs %v and %v, %v; the cross-over says %+v", name, curve.PieceCost[0], curve.PieceCost[1], s.PieceCost, move)
			}
		}
	}
	if _, err := r.Sweep(t.Context(), "A", -1); err == nil {
		t.Error("a negative volume is costed")
	}
	if _, err := r.Explain(costing.Number{Scenario: "A", Scope: "part", Key: "FRAME", Quantity: "net_mass"}); err == nil {
		t.Error("a part that is not there is explained")
	}
}

// TestDiagnosticsAreTheError: a case with an error is no panic and no result, but all of its findings at once; a cell changed
// in the program counts.
func TestDiagnosticsAreTheError(t *testing.T) {
	w, err := costing.Tables(t.Context(), "tray.xlsx", sampleTables(), costing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if ds := w.Check(t.Context()); ds.HasErrors() || len(w.ScenarioNames()) != 3 {
		t.Errorf("the sample: %v", ds)
	}
	parts := w.Case().Table("Parts")
	for i := range parts.Rows[0].Cells {
		if parts.Columns[i].Heading == "Form" {
			parts.Rows[0].Cells[i].Text = "casting"
		}
	}
	r, err := w.Cost(t.Context())
	var ds costing.Diagnostics
	if r != nil || !errors.As(err, &ds) || !ds.HasErrors() || !strings.Contains(err.Error(), "casting") || ds[0].Place.Sheet != "Parts" {
		t.Errorf("a form that is not there: %v", err)
	}
	if got := w.Check(t.Context()); !got.HasErrors() {
		t.Errorf("check passes: %v", got)
	}
}

// TestWriteAndRead: tables are written as a workbook only where Output names one; what is written reads back from bytes and
// from its file with the same costs. Progress begins and ends.
func TestWriteAndRead(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out.xlsx")
	begun, ended := map[string]int{}, 0
	options := costing.Options{Output: out, Program: "test 1", Progress: func(work string) (func(float64), func()) {
		begun[work]++
		return func(float64) {}, func() { ended++ }
	}}
	w, err := costing.Tables(t.Context(), "tray.xlsx", sampleTables(), options)
	if err != nil {
		t.Fatal(err)
	}
	r, err := w.Cost(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	written, err := r.Write(t.Context())
	if err != nil || written.File != out || written.Summary != "Summary" {
		t.Fatalf("%+v, %v", written, err)
	}
	all := 0
	for _, n := range begun {
		all += n
	}
	if begun["cross-overs"] != 1 || ended != all {
		t.Errorf("%v begun, %d ended", begun, ended)
	}
	raw, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	read, err := costing.Read(t.Context(), "bytes.xlsx", bytes.NewReader(raw), costing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	again, err := read.Cost(t.Context())
	if err != nil || again.Scenarios[2].PieceCost != r.Scenarios[2].PieceCost {
		t.Errorf("read back it costs something else: %v", err)
	}
	if _, err := again.Write(t.Context()); err == nil || !strings.Contains(err.Error(), "name one in Output") {
		t.Errorf("bytes are written in place: %v", err)
	}
	var place *costing.OutputError
	if _, err := costing.Open(t.Context(), out, costing.Options{Output: out}); !errors.As(err, &place) || !errors.Is(err, scenarios.ErrThere) {
		t.Errorf("an output that is there: %v", err)
	}
	if _, err := costing.Open(t.Context(), filepath.Join(t.TempDir(), "none.xlsx"), costing.Options{}); err == nil ||
		!strings.Contains(err.Error(), "there is no such file") {
		t.Errorf("no file: %v", err)
	}
}

// TestContextEnds: a context that is done ends every call with its error, and a run that is stopped at any of its studies
// writes nothing.
func TestContextEnds(t *testing.T) {
	r := sample()
	done, stop := context.WithCancel(t.Context())
	stop()
	_, opened := costing.Tables(done, "tray.xlsx", sampleTables(), costing.Options{})
	_, swept := r.Sweep(done, "A")
	_, crossed := r.Crossovers(done, costing.Range{})
	_, put := r.Put(done)
	for i, err := range []error{opened, swept, crossed, put} {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("call %d goes on: %v", i, err)
		}
	}
	for _, work := range []string{"cross-overs", "sensitivity", "break-even values", "volumes"} {
		out := filepath.Join(t.TempDir(), "out.xlsx")
		ctx, stop := context.WithCancel(t.Context())
		met := false
		notice := func(words string) { t.Errorf("stopped at %s it says: %s", work, words) }
		w, err := costing.Tables(ctx, "tray.xlsx", sampleTables(), costing.Options{Output: out, Notice: notice,
			Progress: func(of string) (func(float64), func()) {
				return func(float64) {
					if of == work {
						met = true
						stop()
					}
				}, func() {}
			}})
		if err != nil {
			t.Fatal(err)
		}
		r, err := w.Cost(ctx)
		if err != nil {
			t.Fatal(err)
		}
		_, err = r.Write(ctx)
		if _, there := os.Stat(out); !met || !errors.Is(err, context.Canceled) || there == nil {
			t.Errorf("stopped at %s (%v): %v", work, met, err)
		}
		stop()
	}
}

// TestNotices: what a run leaves out is said once, to Notice and in the list.
func TestNotices(t *testing.T) {
	tables := fstest.MapFS{}
	names, err := fs.Glob(sampleTables(), "*.csv")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		raw, err := fs.ReadFile(sampleTables(), name)
		if err != nil {
			t.Fatal(err)
		}
		tables[name] = &fstest.MapFile{Data: raw}
	}
	tables["studies.csv"] = &fstest.MapFile{Data: []byte("Study,Scenario\nleast-cost combination,A baseline\n")}
	var told []string
	w, err := costing.Tables(t.Context(), "tray.xlsx", tables, costing.Options{Notice: func(words string) { told = append(told, words) }})
	if err != nil {
		t.Fatal(err)
	}
	r, err := w.Cost(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	written, err := r.Put(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if len(told) == 0 || len(written.Notices) != len(told) || !strings.Contains(strings.Join(told, "\n"),
		"Studies!A2: the study least-cost combination is left out: no row that the scenario reaches has an Alternative") {
		t.Errorf("told %q, listed %q", told, written.Notices)
	}
}
