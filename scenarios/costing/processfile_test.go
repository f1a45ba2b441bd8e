package costing_test

import (
	"context"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/costing"
	"piececost/templates"
)

// gasketProcess is a process as a file of templates/processes, ten lines of it; nothing in Go knows of it.
const gasketProcess = `process: gasket foaming
what: "a bead of foam laid into the groove of a lid, where it hardens"
inputs:
  bead_length: {unit: mm, possible: "(0, 1e6]", plausible: [100, 8000]}
  bead_speed: {unit: mm/s, possible: "(0, 1e5]", default: '"150 mm/s"'}
quantities:
  load_and_process_time: {unit: s, is: 'bead_length / bead_speed + "8 s"', note: "lay the bead, change the lid"}
  consumables_per_piece: {unit: currency, is: 'bead_length * "0.6 currency/m"', note: foam}
checks:
  - {holds: bead_speed <= "400 mm/s", say: the bead tears}
`

// gasketTables are a case with an operation of that process; its file is beside those of the program.
func gasketTables(speed string) fstest.MapFS {
	out := fstest.MapFS{}
	for name, text := range map[string]string{
		"case":      "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,0\n",
		"plants":    "Quantity,Unit,Works\nWorking days,1/yr,200\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,36\n",
		"materials": "Material,Density [kg/m3],Base price [EUR/kg]\nPC,1200,4\n",
		"machines":  "Machine,Price [EUR],Economic life [yr],Equipment allocation,Crew\nROBOT,0,10,shared,0.5\n",
		"parts":     "Part,Form,Material,Gross mass [kg],Net mass of this level [kg]\nLID,given masses,PC,0.5,0.5\n",
		"operations": "Part,Operation,Process,Machine,Set-up time [min],Batch size,Bead length [mm],Bead speed [mm/s]\n" +
			"LID,10,gasket foaming,ROBOT,0,1,3000," + speed + "\n",
		"scenarios": "Sheet,Row,Column,A\n,,Product,LID\n,,Annual volume [1/yr],10000\n",
	} {
		out[name+".csv"] = &fstest.MapFile{Data: []byte(text)}
	}
	return out
}

// libraryWith is the program's library with one more file among the processes.
func libraryWith(t *testing.T, name, text string) *costmodel.Library {
	t.Helper()
	files := fstest.MapFS{"processes/" + name: {Data: []byte(text)}}
	for _, folder := range []string{"equations", "forms", "processes"} {
		names, err := fs.Glob(templates.Files, folder+"/*.yaml")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			data, err := templates.Files.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			files[name] = &fstest.MapFile{Data: data}
		}
	}
	lib, err := costmodel.LoadLibrary(files)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestProcessIsAFile: a process is added by a file of ten lines alone: its inputs are columns, its default, range and check count, a
// part is costed with it, and the results are written.
func TestProcessIsAFile(t *testing.T) {
	if n := strings.Count(gasketProcess, "\n"); n != 10 {
		t.Errorf("the file has %d lines", n)
	}
	ctx, lib := context.Background(), libraryWith(t, "gasket-foaming.yaml", gasketProcess)
	for speed, seconds := range map[string]float64{"": 3000.0/150 + 8, "300": 3000.0/300 + 8} {
		w, err := costing.Tables(ctx, "lid.xlsx", gasketTables(speed), costing.Options{Library: lib})
		if err != nil {
			t.Fatal(err)
		}
		r, err := w.Cost(ctx)
		if err != nil {
			t.Fatal(err)
		}
		// by hand: half a worker at 36 EUR/h for the time, 3 m of foam, half a kilogram of material
		want := 0.5*36*seconds/3600 + 3*0.6 + 0.5*4
		if got := r.Scenarios[0].PieceCost; math.Abs(got-want) > 1e-12*want {
			t.Errorf("at a speed of %q a lid costs %v, want %v", speed, got, want)
		}
		if _, err := r.Put(ctx); err != nil {
			t.Error(err)
		}
	}
	for speed, want := range map[string]string{"500": "the bead tears", "-1": "Bead speed is -1 mm/s, but it must be"} {
		w, err := costing.Tables(ctx, "lid.xlsx", gasketTables(speed), costing.Options{Library: lib})
		if err != nil {
			t.Fatal(err)
		}
		ds := w.Check(ctx)
		if !slices.ContainsFunc(ds, func(d table.Diagnostic) bool { return strings.Contains(d.Summary, want) }) {
			t.Errorf("a speed of %s: %v", speed, ds)
		}
	}
	w, err := costing.Tables(ctx, "lid.xlsx", gasketTables(""), costing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if ds := w.Check(ctx); !strings.Contains(ds.Error(), `unknown process "gasket foaming"`) {
		t.Errorf("without the file: %v", ds)
	}
}
