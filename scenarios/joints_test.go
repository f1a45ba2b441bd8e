package scenarios

import (
	"io/fs"
	"math"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/costmodel"
)

// jointTables are the tables of the second case, whose operations take joints, seams and gauges from the sheet Joints.
func jointTables(t *testing.T) fstest.MapFS {
	t.Helper()
	a, err := txtar.ParseFile(filepath.Join(secondCaseDir, "module.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	out := fstest.MapFS{}
	for _, f := range a.Files {
		out[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return out
}

// TestJointsRecalculated: another program comes to the same from poisoned values, and follows an edit of a count and of a gauge in the
// sheet Joints as the program does.
func TestJointsRecalculated(t *testing.T) {
	dir := t.TempDir()
	path, poisoned, edited := filepath.Join(dir, "joints.xlsx"), filepath.Join(dir, "poisoned.xlsx"), filepath.Join(dir, "edited.xlsx")
	saveTables(t, jointTables(t), path)
	writeLive(t, path)
	checkFormulas(t, path)
	poison(t, path, poisoned)
	if n := comparePoisoned(t, path, poisoned); n < 1000 {
		t.Errorf("%d formulas", n)
	}
	editWorkbookFile(t, path, edited, inputEdit{cells: map[string]any{"Joints!D2": 30, "Joints!F5": 1.6}})
	want := resultOf(t, edited).Details[0].Scenario().Must("piece_cost")
	if before := resultOf(t, path).Details[0].Scenario().Must("piece_cost"); before == want {
		t.Error("the edit moves nothing")
	}
	for _, c := range readSummary(t, recomputed(t, edited)) {
		if v, err := strconv.ParseFloat(c.Value, 64); err == nil && math.Abs(v-want) < 1e-9*want {
			return
		}
	}
	t.Errorf("after the edit no cell of the summary is the piece cost %v", want)
}

// TestJointsRefused: joints at an operation or of a part that is not there are told at the cell, and one kind listed twice.
func TestJointsRefused(t *testing.T) {
	for _, c := range []struct{ row, want string }{
		{"FRAME,25,spots,4,,1,1,", "case Joints!B10: joints are made at operation 25, which FRAME does not have; its operations are 10, 20"},
		{"FRAMES,20,spots,4,,1,1,", "FRAMES"},
		{"FRAME,20,spots of two sheets,4,,1,1,", "FRAME/20/spots of two sheets stands twice"},
		{"FRAME,20,spots,0,,1,1,", "Count is 0, but it must be above 0"},
		{",20,spots,4,,1,1,", "the row has no part"},
	} {
		tables := jointTables(t)
		tables["joints.csv"] = &fstest.MapFile{Data: append(append([]byte{}, tables["joints.csv"].Data...), c.row+"\n"...)}
		read, err := ReadTables(fs.FS(tables), "case")
		if err != nil {
			t.Fatal(err)
		}
		var said []string
		for _, d := range costmodel.New(read, testLibrary(t)).Diagnostics.Sorted() {
			said = append(said, d.Error())
		}
		if !strings.Contains(strings.Join(said, "\n"), c.want) {
			t.Errorf("%s: it says %q, want %q", c.row, said, c.want)
		}
	}
}
