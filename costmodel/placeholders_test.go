package costmodel

import (
	"io/fs"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/templates"
)

// dwellProcess has a time of which half is a placeholder, and a placeholder that bears on nothing much.
const dwellProcess = `process: dwell pressing
group: any
what: a test
inputs:
  dwell: {unit: s, default: '"10 s"', kind: placeholder}
  settle: {unit: s, default: '"0.02 s"', kind: placeholder}
quantities:
  load_and_process_time: {unit: s, is: 'dwell + settle + "9.98 s"', kind: derived}
`

// TestPlaceholders: by hand, 20 s of a worker at 36 EUR/h cost 0.20 EUR. The dwell is half of that; with 0.20 EUR of consumables it is a
// quarter of the piece cost; typed in, or where a scenario changes it, it is no placeholder any more.
func TestPlaceholders(t *testing.T) {
	files := fstest.MapFS{"processes/dwell-pressing.yaml": {Data: []byte(dwellProcess)}}
	err := fs.WalkDir(templates.Files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.HasPrefix(name, "samples") {
			return err
		}
		raw, err := fs.ReadFile(templates.Files, name)
		files[name] = &fstest.MapFile{Data: raw}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	lib, err := LoadLibrary(files)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, heading, cell string
		share               float64
		others              int
	}{
		{"labour alone", "Consumables per piece [EUR]", "0", 0.5, 1},
		{"as much again for consumables", "Consumables per piece [EUR]", "0.2", 0.25, 1},
		{"typed in", "Dwell [s]", "10", 0, 1},
	} {
		m := New(csvCase{"Case": "Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,1\nInterest rate,%/yr,0\n",
			"Plants":    "Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,1\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,36\n",
			"Parts":     "Part,Form\nP,assembly\n",
			"Machines":  "Machine,Price [EUR],Economic life [yr],Equipment allocation,Crew\nM,0,10,shared,1\n",
			"Scenarios": "Sheet,Row,Column,A\n,,Product,P\n,,Annual volume [1/yr],1000\n",
			"Operations": "Part,Operation,Process,Machine,Set-up time [min],Batch size," + c.heading + "\n" +
				"P,10,dwell pressing,M,0,100," + c.cell + "\n"}.read(t), lib)
		p, ds := m.Compile(m.Scenarios[0], CompileOptions{})
		if p == nil {
			t.Fatal(append(m.Diagnostics, ds...))
		}
		matter, others := CasePlaceholders([]*Plan{p, p})
		share := 0.0
		if len(matter) == 1 && matter[0].Says() == "Dwell of dwell pressing" && matter[0].Rows[0].Key == "P/10" {
			share = matter[0].Share
		}
		if math.Abs(share-c.share) > 1e-9 || others != c.others || (c.share > 0) != (len(matter) == 1) {
			t.Errorf("%s: %+v, %d others", c.name, matter, others)
		}
		note := PlaceholderNote([]*Plan{p})
		switch {
		case c.share == 0 && len(note) > 0:
			t.Errorf("%s: %v", c.name, note)
		case c.name == "labour alone" && (len(note) != 1 ||
			note[0].Summary != "the piece cost rests on placeholders of the library: Dwell of dwell pressing 50 %; 1 more with less than 0.5 %"):
			t.Errorf("it says %v", note)
		}
	}
}
