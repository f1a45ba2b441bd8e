package results

import (
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// TestManyVolumes: more volumes than columns make a second block, with the machines' names again, and a count that has no
// format of its own is words.
func TestManyVolumes(t *testing.T) {
	var points []study.VolumePoint
	for i := range 11 {
		u := study.MachineUse{Key: "M1", Name: "press", Own: float64(90 + i), Load: 0.5}
		points = append(points, study.VolumePoint{Volume: float64(i + 1), Capacity: study.Capacity{Machines: []study.MachineUse{u}}})
	}
	b := &writer{Book: sheet.NewBook(nil)}
	defer b.File.Close()
	b.Names[VolumeSheet] = "Sheet1"
	p := b.BlankPage(VolumeSheet)
	next := b.volumeMachines(p, 1, &study.VolumeView{Points: points})
	rows := flushed(t, p, b.File)
	if next != 6 || rows[1][0] != "M1 press" || rows[1][10] != "0.5" || rows[4][0] != "M1 press" || rows[4][1] != "50.0% (100)" || len(rows[4]) != 2 {
		t.Errorf("up to %d: %v", next, rows)
	}
}

// flushed are the cells of the first sheet of a workbook, as they read back.
func flushed(t *testing.T, p *sheet.Page, f *excelize.File) [][]string {
	t.Helper()
	if err := p.Flush(); err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	back, err := excelize.OpenReader(buf, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	defer back.Close()
	rows, err := back.GetRows("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// TestScenarioTitle: a name that says it is a scenario is not told so twice.
func TestScenarioTitle(t *testing.T) {
	for name, want := range map[string]string{"A baseline": "Scenario A baseline", "Scenario 1": "Scenario 1", "scenario b": "scenario b"} {
		if got := scenarioTitle(name); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
